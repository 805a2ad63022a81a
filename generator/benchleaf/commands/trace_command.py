"""``benchleaf trace``: where a contact leads."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import click

from benchleaf.commands.configuration_options import (
    chosen_built,
    configuration_options,
    named,
    refuse,
)
from benchleaf.commands.options import content_option, json_option
from benchleaf.commands.read_machine import read_machine
from benchleaf.wiring.configurations import wiring_of
from benchleaf.wiring.contacts import shown
from benchleaf.wiring.nets import label_of
from benchleaf.wiring.still_live import End
from benchleaf.wiring.trace import SORTS, Reached, Trace, traces
from benchleaf.wiring.wiring import Wiring


@click.command("trace", short_help="Say where a contact leads.")
@click.argument("machine")
@click.argument("contact")
@configuration_options
@click.option(
    "--open", "opened", multiple=True, help="An open end, such as W5@A1-J5 or A1-J5; may be said several times."
)
@click.option("--all", "everything", is_flag=True, help="List the contacts passed on the way too.")
@content_option
@json_option
def command(
    machine: str, contact: str, variant: str | None, fitted: tuple[str, ...], opened: tuple[str, ...],
    everything: bool, content: Path, as_json: bool,
) -> None:  # fmt: skip
    """Say where CONTACT (A1-J3:7, or A1-J3.7) of MACHINE leads: every end its wires reach, and through what.

    W3@A1-J3.7 starts at the plug of the cable instead of the contact it is plugged into.
    """
    derived, model = read_machine(content, machine)
    wirings = {b.configuration.label: wiring_of(derived, b) for b in chosen_built(derived, model, variant, fitted)}
    start = contact.replace(":", ".", 1)
    named("contact", start, {name for wiring in wirings.values() for name in wiring.net_of})
    ends = [end for one in opened for end in _ends(wirings, one)]
    found = traces(wirings, start, ends)
    if as_json:
        click.echo(json.dumps([_json(labels, one) for labels, one in found], indent=2, ensure_ascii=False))
        return
    for n, (labels, one) in enumerate(found):
        where = "in every configuration" if len(found) == 1 else ", ".join(labels)
        click.echo(("\n" if n else "") + f"{shown(start)}, {where}")
        click.echo(
            "\n".join(_lines(one, wirings[labels[0]], everything)) if one is not None else "  not on this machine"
        )


def _ends(wirings: Mapping[str, Wiring], written: str) -> list[End]:
    """``W5@A1-J5`` is one end, ``A1-J5`` every plug and lead there."""
    cable, at, place = written.replace(":", ".", 1).rpartition("@")
    known = sorted({end for wiring in wirings.values() for end in wiring.by_end})
    found = [end for end in known if end[1] == place and (not at or end[0] == cable)]
    if not found:
        refuse(
            f"No cable has an end at '{written}' that opens. Write it as W5@A1-J5, or as A1-J5 for every cable there."
        )
    return found


def _lines(one: Trace, wiring: Wiring, everything: bool) -> Iterator[str]:
    net = wiring.net_of[one.contact]
    label = label_of(wiring.built, net)
    yield f"  net {shown(net.name)}{f' ({label})' if label else ''}: {len(net.contacts)} contacts joined by copper"
    for cable, place in one.open_ends:
        yield f"  open: {cable} at {shown(place)}"
    for name, at in one.sources:
        yield f"  source {name} at {shown(at)}"
    told = one.reached if everything else one.ends
    if not told:
        yield "  it leads nowhere that is recorded. Not recorded is not none."
    sort = None
    for reached in told:
        if reached.sort != sort:
            sort = reached.sort
            yield f"  {SORTS[sort]}:"
        yield f"    {_reached(reached)}"
    if not everything and len(one.reached) > len(told):
        yield f"  {len(one.reached) - len(told)} more contacts are passed on the way (--all lists them)"


def _reached(one: Reached) -> str:
    role = f" ({one.role})" if one.role else ""
    through = f" through {', '.join(one.through)}" if one.through else ""
    loose = ", hangs free" if one.loose else ""
    way = "; ".join(step.words for step in one.way)
    return f"{shown(one.contact)}{role}{through}{loose}: {way}"


def _json(labels: tuple[str, ...], one: Trace | None) -> dict[str, Any]:
    if one is None:
        return {"on": list(labels), "reached": None}
    return {
        "on": list(labels),
        "contact": shown(one.contact),
        "net": shown(one.net),
        "open": [list(end) for end in one.open_ends],
        "sources": [{"source": name, "at": shown(at)} for name, at in one.sources],
        "reached": [
            {
                "contact": shown(r.contact), "role": r.role, "how": r.how, "through": list(r.through), "end": r.is_end,
                "loose": r.loose, "way": [step.words for step in r.way],
            }
            for r in one.reached
        ],
    }  # fmt: skip
