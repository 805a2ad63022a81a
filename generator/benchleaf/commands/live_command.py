"""``benchleaf live``: what can still be live in each isolation state, and the energy-control sheet."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

import click

from benchleaf.commands.configuration_options import chosen_built, configuration_options, refuse
from benchleaf.commands.options import content_option, json_option
from benchleaf.commands.read_machine import read_machine
from benchleaf.suggest import closest
from benchleaf.wiring.conduction import How
from benchleaf.wiring.configurations import wiring_of
from benchleaf.wiring.contacts import cable_of, contact_of, shown
from benchleaf.wiring.control_sheet import STANDARD, ControlSheet, control_sheet
from benchleaf.wiring.isolation_states import IsolationState, isolation_states, state_of
from benchleaf.wiring.live_nets import UnionNet, union_of, words_of_source
from benchleaf.wiring.wiring import Wiring

NOT_SAID = "Which machine it is was not said: this is the union of {count} configurations. Live on one counts as live."
UNKNOWN = "Wiring not recorded: every contact counts as live."
MEASURE = "A net that is not listed was not proved dead by that. Measure."


@click.command("live", short_help="Say what can still be live.")
@click.argument("machine")
@configuration_options
@click.option("--isolated", multiple=True, help="A device that was operated (XP1, Q1); may be said several times.")
@click.option("--sheet", is_flag=True, help=f"Print the energy-control sheet in the order of {STANDARD}.")
@click.option("--all", "everything", is_flag=True, help="List the nets that live only through loads one by one.")
@content_option
@json_option
def command(
    machine: str, variant: str | None, fitted: tuple[str, ...], isolated: tuple[str, ...], sheet: bool,
    everything: bool, content: Path, as_json: bool,
) -> None:  # fmt: skip
    """Say what can still be live on MACHINE: for each isolating device alone, in sequence and all together.

    Without --variant and --with it answers for every configuration at once. What is not recorded counts as live.
    """
    derived, model = read_machine(content, machine)
    wirings = {b.configuration.label: wiring_of(derived, b) for b in chosen_built(derived, model, variant, fitted)}
    if sheet:
        sheets = [control_sheet(wiring, derived.library.shop) for wiring in wirings.values()]
        click.echo(json.dumps([_sheet_json(one) for one in sheets], indent=2, ensure_ascii=False) if as_json
                   else "\n\n".join("\n".join(_sheet_lines(one)) for one in sheets))  # fmt: skip
        return
    states = _states(wirings, isolated)
    if as_json:
        click.echo(json.dumps(_json(machine, wirings, states), indent=2, ensure_ascii=False))
        return
    click.echo("\n".join(_lines(machine, wirings, states, everything)))


States = Mapping[str, Mapping[str, IsolationState]]
"""Title of the state → label of the configuration → the state there."""


def _states(wirings: Mapping[str, Wiring], isolated: tuple[str, ...]) -> States:
    if isolated:
        known = {name for wiring in wirings.values() for d in wiring.devices for name in (d.key, d.words, d.item)}
        for name in isolated:
            if name not in known:
                near = closest(name, tuple(known))
                help = f" Did you mean '{near[0]}'?" if near else f" Recorded are: {', '.join(sorted(known))}."
                refuse(f"'{name}' is no recorded isolating device.{help}")
        title = " and ".join(isolated)
        return {title: {label: state_of(w, "asked", title, isolated) for label, w in wirings.items()}}
    found: dict[str, dict[str, IsolationState]] = {}
    for label, wiring in wirings.items():
        for state in isolation_states(wiring):
            found.setdefault(state.title, {})[label] = state
    order = {"nothing": 0, "single": 1, "sequence": 2, "all": 3}
    return dict(sorted(found.items(), key=lambda one: order[next(iter(one[1].values())).kind]))


def _lines(machine: str, wirings: Mapping[str, Wiring], states: States, everything: bool) -> Iterator[str]:
    yield f"{machine}: {', '.join(wirings) or 'no such configuration'}"
    if len(wirings) > 1:
        yield NOT_SAID.format(count=len(wirings))
    for label, wiring in wirings.items():
        yield from (f"  {line}" for line in _problems(label, wiring))
    for title, by_label in states.items():
        yield ""
        kind = next(iter(by_label.values())).kind
        yield {"nothing": "Nothing isolated", "all": "All devices operated"}.get(kind, f"After {title}") + ":"
        if len(by_label) < len(wirings):
            yield f"  only on {', '.join(by_label)}"
        if any(state.live.nothing_recorded for state in by_label.values()):
            yield f"  {UNKNOWN}"
            continue
        wiring = next(iter(wirings.values()))
        fed = union_of({label: state.fed_nets for label, state in by_label.items()})
        both = union_of({label: state.nets for label, state in by_label.items()})
        names = {net.name for net in fed}
        yield from _nets(wirings, fed, by_label, everything)
        stored = [net for net in both if net.name not in names]
        if stored:
            by = sorted({words_of_source(_knowing(wirings, b), b) for net in stored for b in net.behind})
            yield f"  until proved gone, {len(stored)} more nets from {'; '.join(by)}"
            yield f"    {_names(stored, everything)}"
        for label, state in by_label.items():
            loose = [f"{cable_of(node)} at {shown(contact_of(node))}" for node in state.live.loose]
            if loose:
                yield f"  hangs free and live{f' on {label}' if len(wirings) > 1 else ''}: {', '.join(loose)}"
        if not both:
            yield f"  no recorded source reaches anything any more. {MEASURE}"


def _problems(label: str, wiring: Wiring) -> Iterator[str]:
    for device in wiring.devices:
        why = device.refused or (device.problem if not device.isolates else "")
        if why:
            yield f"{label}: '{device.words}' isolates nothing as recorded: {why}"
    for name, source in wiring.supplies.items():
        if source.earth is None:
            yield f"{label}: the earth of {name} is not recorded: nothing stops what it reaches"
    for owner in wiring.unknown_ends:
        yield f"{label}: what is plugged in or landed at {owner} is not recorded: it counts as live"


def _knowing(wirings: Mapping[str, Wiring], source: str) -> Wiring:
    """A configuration in which the source, or the energy it is stored under, is known."""
    name = source.removeprefix("stored:").partition(":")[0]
    return next(
        (w for w in wirings.values() if name in w.built.sources or name in w.built.energy), next(iter(wirings.values()))
    )


def _nets(
    wirings: Mapping[str, Wiring], nets: Iterable[UnionNet], on: Mapping[str, IsolationState], everything: bool
) -> Iterator[str]:
    """The nets grouped by what feeds them and how surely; those only through loads or not recorded are counted."""
    groups: dict[tuple[How, tuple[str, ...]], list[UnionNet]] = {}
    for net in nets:
        groups.setdefault((net.how, net.surely_from), []).append(net)
    for (how, behind), many in groups.items():
        by = ", ".join(words_of_source(_knowing(wirings, one), one) for one in behind)
        yield f"  {how.words}, from {by}: {len(many)} net{'s' * (len(many) != 1)}"
        if how is not How.DIRECT and not everything:
            yield f"    {_names(many, everything)}"
            continue
        for net in many:
            only = f" [only {', '.join(net.on)}]" if len(net.on) < len(on) else ""
            carried = f", {net.label}" if net.label else ""
            yield f"    {shown(net.name)}{carried}: {len(net.contacts)} contacts{only}"
            for point in net.proofs:
                yield f"      prove dead {point.words}"
            if net.gaps_on:
                where = f" on {', '.join(net.gaps_on)}" if net.proofs else ""
                yield f"      GAP{where}: no point to prove it dead is recorded; it counts as live"


def _names(nets: list[UnionNet], everything: bool) -> str:
    most = len(nets) if everything else 10
    more = f" and {len(nets) - most} more (--all lists them)" if len(nets) > most else ""
    return ", ".join(shown(net.name) for net in nets[:most]) + more


def _json(machine: str, wirings: Mapping[str, Wiring], states: States) -> dict[str, Any]:
    return {
        "machine": machine,
        "configurations": list(wirings),
        "union": len(wirings) > 1,
        "problems": [line for label, wiring in wirings.items() for line in _problems(label, wiring)],
        "states": [_state_json(title, by_label) for title, by_label in states.items()],
    }


def _state_json(title: str, by_label: Mapping[str, IsolationState]) -> dict[str, Any]:
    first = next(iter(by_label.values()))
    fed = {net.name for net in union_of({label: state.fed_nets for label, state in by_label.items()})}
    contacts: dict[str, dict[str, Any]] = {}
    for label, state in by_label.items():
        for contact, ways in state.live.contacts.items():
            row = contacts.setdefault(contact, {"how": ways[0].how, "sources": {}, "on": []})
            row["how"] = min(row["how"], ways[0].how)
            row["on"].append(label)
            for way in ways:
                row["sources"][way.source] = min(row["sources"].get(way.source, way.how), way.how)
    return {
        "state": title,
        "kind": first.kind,
        "isolated": list(first.devices),
        "on": list(by_label),
        "nothing_recorded": any(state.live.nothing_recorded for state in by_label.values()),
        "nets": [_net_json(net, fed) for net in union_of({label: s.nets for label, s in by_label.items()})],
        "contacts": {
            shown(contact): {
                "how": row["how"].words,
                "sources": {name: how.words for name, how in sorted(row["sources"].items())},
                "on": row["on"],
            }
            for contact, row in sorted(contacts.items())
        },
        "loose": sorted({node for state in by_label.values() for node in state.live.loose}),
    }


def _net_json(net: UnionNet, fed: set[str]) -> dict[str, Any]:
    return {
        "net": shown(net.name),
        "carries": net.label,
        "how": net.how.words,
        "behind": list(net.behind),
        "still_fed": net.name in fed,
        "contacts": [shown(one) for one in net.contacts],
        "prove_dead": [
            {"energy": p.energy, "between": [shown(one) for one in p.between], "expect": p.expect, "meter": p.meter}
            for p in net.proofs
        ],
        "gap_on": list(net.gaps_on),
        "on": list(net.on),
    }


def _sheet_lines(sheet: ControlSheet) -> Iterator[str]:
    yield f"Energy-control sheet: {sheet.name} ({sheet.machine}), {sheet.configuration}"
    yield f"In the order of {STANDARD}. Lines marked ! say what is missing or still live."
    for part in sheet.parts:
        yield f"\n{part.clause} {part.title}"
        for line in part.lines:
            yield f"  {'!' if line.gap else ' '} {line.words}"


def _sheet_json(sheet: ControlSheet) -> dict[str, Any]:
    return {
        "machine": sheet.machine,
        "configuration": sheet.configuration,
        "parts": [
            {
                "clause": part.clause,
                "title": part.title,
                "lines": [{"energy": one.energy, "words": one.words, "gap": one.gap} for one in part.lines],
            }
            for part in sheet.parts
        ],
    }
