"""``benchleaf state``: how the machine stands after step N of a procedure, and whether to stop there."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import click

from benchleaf.commands.options import content_option, json_option
from benchleaf.commands.procedure_ref import chosen, on_option, procedure_of, ref_argument, refuse
from benchleaf.physical.findings import replays_of
from benchleaf.physical.ledger import ledger
from benchleaf.physical.replay import Replay
from benchleaf.physical.state_sheet import StateSheet, sheets
from benchleaf.pipeline import load

LISTS = (
    "reasons", "before going on", "hold until", "off", "moved", "loose", "unplugged", "lifted", "wet", "hot", "trays",
)  # fmt: skip
"""The parts of a sheet that are lists, in the order shown."""


@click.command("state", short_help="Show the machine after a step.")
@ref_argument
@content_option
@click.option("--after", type=click.IntRange(min=0), required=True, help="After which step; 0 = before step 1.")
@on_option
@json_option
def command(ref: str, content: Path, after: int, on: str | None, as_json: bool) -> None:
    """Show how the machine stands after a step of the procedure REF (machine/procedure).

    Steps are counted as they are written; one that is not for a machine leaves it as the step before did.
    """
    derived = load(content).derived
    machine, procedure = procedure_of(derived.library, ref)
    if after > len(procedure.steps):
        refuse(f"'{ref}' has {len(procedure.steps)} steps.")
    rows = [sheet_row(one, after) for one in chosen(replays_of(derived, machine, procedure), on)]
    if as_json:
        click.echo(json.dumps(rows, indent=2, ensure_ascii=False))
        return
    for row in rows:
        click.echo("\n".join(_lines(row)))


def sheet_row(replay: Replay, after: int) -> dict[str, Any]:
    """The sheet after step ``after`` as plain values."""
    made = sheets(replay)
    sheet: StateSheet = made[0]
    for one in made[1:]:
        if one.of is not None and one.of.number <= after:
            sheet = one
    own = [step for step in replay.own_steps if step.of.number <= after]
    state = own[-1].after if own else replay.after(0)
    return {
        "machine": replay.ground.built.machine.id,
        "on": replay.ground.built.configuration.label,
        "procedure": str(replay.procedure.id),
        "after": after,
        "title": sheet.of.title if sheet.of is not None else "",
        "stop": sheet.stop.words,
        "reasons": list(sheet.stop.reasons),
        "before going on": list(sheet.stop.before_going_on),
        "hold until": list(sheet.holds),
        "off": list(sheet.off),
        "moved": list(sheet.moved),
        "loose": list(sheet.loose),
        "unplugged": list(sheet.unplugged),
        "lifted": list(sheet.lifted),
        "wet": list(sheet.wet),
        "hot": list(sheet.hot),
        "energies": [{"energy": one.energy, "state": one.state, "open": list(one.is_open)} for one in sheet.energies],
        "trays": [f"tray {one.tray}: {one.words}" for one in sheet.trays],
        "ledger": [entry.words for entry in ledger(replay.ground, state).open],
    }


def _lines(row: dict[str, Any]) -> list[str]:
    title = f" '{row['title']}'" if row["title"] else ""
    lines = [f"{row['machine']}/{row['procedure']} on {row['on']}, after step {row['after']}{title}: {row['stop']}"]
    lines += [f"  {key}: {'; '.join(row[key])}" for key in LISTS if row[key]]
    lines += [f"  {one['energy']}: {one['state']}" for one in row["energies"]]
    if not row["energies"]:
        lines.append("  no energy is recorded: everything counts as energised")
    return lines
