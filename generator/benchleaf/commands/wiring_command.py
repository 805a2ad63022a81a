"""``benchleaf wiring``: the wire list, what a conversion changed, the bypass register, what the owner is told."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from benchleaf.commands.configuration_options import chosen_built, configuration_options
from benchleaf.commands.options import content_option, json_option
from benchleaf.commands.read_machine import read_machine
from benchleaf.derived import Derived
from benchleaf.wiring.bypass import BypassRow, bypass_register, disclosure
from benchleaf.wiring.configurations import unmodified, wiring_of
from benchleaf.wiring.contacts import shown
from benchleaf.wiring.difference import Difference, difference
from benchleaf.wiring.wire_list import NOT_SAID, wire_list
from benchleaf.wiring.wiring import Wiring

NO_DIFFERENCE = "no difference in the recorded wiring"


@click.command("wiring", short_help="Wire list, conversions, bypassed signals.")
@click.argument("machine")
@configuration_options
@click.option("--difference", "changed", is_flag=True, help="What differs from the machine as the maker built it.")
@click.option("--bypass", is_flag=True, help="Signals supplied by something else than their sensor or guard.")
@click.option("--disclosure", "told", is_flag=True, help="What the owner of a modified machine has to be told.")
@content_option
@json_option
def command(
    machine: str, variant: str | None, fitted: tuple[str, ...], changed: bool, bypass: bool, told: bool,
    content: Path, as_json: bool,
) -> None:  # fmt: skip
    """Print the wire list of MACHINE, or what a conversion changed, for each configuration."""
    derived, model = read_machine(content, machine)
    found: list[dict[str, Any]] = []
    for built in chosen_built(derived, model, variant, fitted):
        now, before = wiring_of(derived, built), unmodified(derived, built)
        head = f"{machine}, {built.configuration.label}"
        if changed:
            data, lines = _of_difference(difference(before, now))
        elif bypass:
            data, lines = _of_bypass(bypass_register(now, before))
        elif told:
            data, lines = _of_disclosure(derived, now, before)
        else:
            data, lines = _of_wires(now)
        found.append({"configuration": built.configuration.label, **data})
        if not as_json:
            click.echo("\n".join([head, *(f"  {line}" for line in lines)]))
    if as_json:
        click.echo(json.dumps(found, indent=2, ensure_ascii=False))


def _of_wires(wiring: Wiring) -> tuple[dict[str, Any], list[str]]:
    rows = wire_list(wiring)
    lines = [
        f"{r.cable} {r.number}: {shown(r.a)} – {shown(r.b)}, {r.colour_words}, {r.gauge or 'gauge not recorded'}"
        for r in rows
    ]
    bare = sorted(name for name, cable in wiring.built.cables.items() if cable.wires is None or cable.wires.map is None)
    lines += [f"{name}: wires not recorded, any contact may reach any" for name in bare]
    data = [
        {
            "cable": r.cable, "number": r.number, "from": shown(r.a), "to": shown(r.b),
            "colour": r.colour.written if r.colour else None, "words": r.colour.words if r.colour else NOT_SAID,
            "gauge": r.gauge or None, "rated": r.rated or None,
        }
        for r in rows
    ]  # fmt: skip
    return {"wires": data, "wires_not_recorded": bare}, lines or ["no wire is recorded: any contact may reach any"]


def _of_difference(found: Difference) -> tuple[dict[str, Any], list[str]]:
    lines = [change.words for change in found.cables]
    lines += [f"+ item {name}" for name in found.items_added] + [f"- item {name}" for name in found.items_removed]
    lines += [f"+ {one.words}" for one in found.added] + [f"- {one.words}" for one in found.removed]
    lines += [f"> {old.words} → {new.words}" for old, new in found.rerouted]
    data = dataclasses.asdict(found)
    return {"difference": data}, lines or [NO_DIFFERENCE]


def _of_bypass(rows: tuple[BypassRow, ...]) -> tuple[dict[str, Any], list[str]]:
    lines = [line for row in rows for line in _bypass_lines(row)]
    data = [
        {
            "signal": row.signal, "protects": row.protects, "source_before": shown(row.source),
            "supplied_by": shown(row.by), "tied_to": list(row.tied_to), "asserts": row.asserts,
            "passed_on": row.passed_on, "masked_codes": list(row.masked), "compensation": row.compensation,
            "restore": row.restore, "recorded": row.recorded, "lost": row.is_lost,
            "acknowledged": row.acknowledged is not None, "open": row.is_open,
        }
        for row in rows
    ]  # fmt: skip
    return {"bypass": data}, lines or ["no signal is recorded as supplied by something else"]


def _bypass_lines(row: BypassRow) -> Iterator[str]:
    yield f"{row.name} ({row.signal}): {row.source_item or 'source not recorded'} at {shown(row.source)}"
    yield f"  protects: {row.protects}"
    by = f"{row.by_item} at {shown(row.by)}" if row.by else "NOT RECORDED"
    yield f"  supplied now by: {by}, which says: {row.asserts}"
    if row.passed_on:
        yield "  its own source still leads to its reader by recorded copper"
    elif row.tied_to:
        yield f"  its reader hangs on: {', '.join(row.tied_to)}"
    if row.masked:
        yield f"  can no longer appear: {', '.join(row.masked)}"
    yield f"  compensated by: {row.compensation}"
    if row.is_open:
        yield "  LOST, and nobody acknowledged it"
    elif row.acknowledged is not None:
        yield f"  acknowledged on {row.acknowledged.date}: {row.acknowledged.reason}"
    yield f"  restore: {row.restore or 'not recorded'}"


def _of_disclosure(derived: Derived, now: Wiring, before: Wiring) -> tuple[dict[str, Any], list[str]]:
    made = disclosure(now, before, names_are_published=bool(derived.library.shop.publish_names))
    lines = [line for title, told in made.parts for line in (title, *(f"  {one}" for one in told))]
    return {"disclosure": [{"title": title, "lines": list(told)} for title, told in made.parts]}, lines
