"""``benchleaf reassembly``: the way back of one procedure, derived and replayed."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import click

from benchleaf.commands.options import content_option, json_option
from benchleaf.commands.procedure_ref import chosen, on_option, procedure_of, ref_argument
from benchleaf.physical.findings import reassemblies_of, replays_of
from benchleaf.physical.instructions import Instruction
from benchleaf.physical.owed_checks import owed_checks
from benchleaf.physical.reassembly import Reassembly
from benchleaf.pipeline import load


@click.command("reassembly", short_help="Derive the way back of a procedure.")
@ref_argument
@content_option
@on_option
@json_option
def command(ref: str, content: Path, on: str | None, as_json: bool) -> None:
    """Derive the way back of the procedure REF (machine/procedure) on every machine it is for.

    Every step says its tool, count, direction and torque, or that they are not recorded, and where it comes from.
    Leaves with 1 when the ledger does not close or a rule was broken.
    """
    derived = load(content).derived
    machine, procedure = procedure_of(derived.library, ref)
    kept = {id(one) for one in chosen(replays_of(derived, machine, procedure), on)}
    backs = [one for one in reassemblies_of(derived, machine, procedure) if id(one.replay) in kept]
    if as_json:
        click.echo(json.dumps([reassembly_row(one) for one in backs], indent=2, ensure_ascii=False))
    else:
        for one in backs:
            click.echo("\n".join(_lines(reassembly_row(one))))
    broken = any(any(True for _ in one.all_problems()) or not one.ledger.is_closed for one in backs)
    sys.exit(1 if broken else 0)


def reassembly_row(back: Reassembly) -> dict[str, Any]:
    """The way back as plain values: ``steps`` with ``from`` and instructions, the ledger, the checks owed."""
    ground = back.replay.ground
    return {
        "machine": ground.built.machine.id,
        "on": ground.built.configuration.label,
        "procedure": str(back.replay.procedure.id),
        "steps": [
            {
                "title": step.title,
                "why": step.why,
                "from": f"{step.of.procedure} {step.of.number}" if step.of is not None else None,
                "persons": step.persons,
                "instructions": [_instruction_row(one) for one in step.instructions],
                "notes": list(step.notes),
                "problems": [{"code": p.code, "message": p.message} for p in step.problems],
            }
            for step in back.steps
        ],
        "stopped_at": f"{back.stopped_at.procedure} {back.stopped_at.number}" if back.stopped_at is not None else None,
        "words": back.words,
        "ledger": {
            "words": back.ledger.words,
            "open": [entry.words for entry in back.ledger.open],
            "exceptions": [entry.words for entry in back.ledger.exceptions],
            "as_found": [entry.words for entry in back.ledger.as_found],
        },
        "owed": list(owed_checks(ground, back.end).words),
    }


def _instruction_row(one: Instruction) -> dict[str, Any]:
    return {
        "words": one.words,
        "tool": one.tool,
        "count": one.count,
        "direction": one.direction,
        "torque": one.torque,
        "notes": list(one.notes),
    }


def _lines(row: dict[str, Any]) -> list[str]:
    lines = [f"{row['machine']}/{row['procedure']} on {row['on']}: the way back"]
    for number, step in enumerate(row["steps"], 1):
        origin = f"from {step['from']}" if step["from"] else step["why"]
        lines.append(f"  {number}. {step['title']}  [{origin}]")
        for one in step["instructions"]:
            facts = [f"tool: {one['tool']}"] if one["tool"] else []
            facts += [f"direction: {one['direction']}"] if one["direction"] else []
            facts += [f"torque: {one['torque']}"] if one["torque"] else []
            lines.append(f"     - {'; '.join([one['words'], *facts, *one['notes']])}")
        lines += [f"     ! {problem['code']}: {problem['message']}" for problem in step["problems"]]
        lines += [f"     {note}" for note in step["notes"]]
    lines.append(f"  {row['words']}")
    for kind in ("open", "exceptions", "as_found"):
        lines += [f"    {kind.replace('_', ' ')}: {words}" for words in row["ledger"][kind]]
    lines += [f"  owed: {words}" for words in row["owed"]]
    return lines
