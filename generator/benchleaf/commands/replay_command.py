"""``benchleaf replay``: one procedure, replayed step by step on every machine it is for."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import click

from benchleaf.commands.options import content_option, json_option
from benchleaf.commands.procedure_ref import chosen, on_option, procedure_of, ref_argument
from benchleaf.diagnostics import Severity
from benchleaf.physical.findings import replays_of
from benchleaf.physical.ledger import ledger
from benchleaf.physical.replay import Replay
from benchleaf.physical.state_sheet import sheets
from benchleaf.pipeline import load


@click.command("replay", short_help="Replay a procedure step by step.")
@ref_argument
@content_option
@on_option
@json_option
def command(ref: str, content: Path, on: str | None, as_json: bool) -> None:
    """Replay the procedure REF (machine/procedure), its conditions first, on every machine it is for.

    After each step: what the ledger holds and whether the work may stop. Leaves with 1 when a rule was broken.
    """
    derived = load(content).derived
    machine, procedure = procedure_of(derived.library, ref)
    replays = chosen(replays_of(derived, machine, procedure), on)
    rows = [replay_row(one) for one in replays]
    if as_json:
        click.echo(json.dumps(rows, indent=2, ensure_ascii=False))
    else:
        for row in rows:
            click.echo("\n".join(_lines(row)))
    broken = any(one.severity is Severity.ERROR for replay in replays for one in replay.all_problems())
    sys.exit(1 if broken else 0)


def replay_row(replay: Replay) -> dict[str, Any]:
    """A replay as plain values: ``machine``, ``steps`` with ``open``, ``stop``, ``problems``, and the ledger."""
    made = sheets(replay)
    after = {(sheet.of.procedure, sheet.of.number): sheet for sheet in made if sheet.of is not None}
    steps = []
    for one in replay.steps:
        sheet = after.get((one.of.procedure, one.of.number))
        steps.append(
            {
                "procedure": one.of.procedure,
                "number": one.of.number,
                "title": one.of.title,
                "condition": one.is_condition,
                "checked": not one.is_unchecked,
                "acts": [done.act.words for done in one.done],
                "open": len(ledger(replay.ground, one.after).open),
                "stop": sheet.stop.words if sheet is not None else "",
                "problems": [
                    {"code": p.code, "severity": p.severity.value, "message": p.message, "at": str(p.place)}
                    for p in one.problems
                ],
            }
        )
    end = ledger(replay.ground, replay.end)
    return {
        "machine": replay.ground.built.machine.id,
        "on": replay.ground.built.configuration.label,
        "procedure": str(replay.procedure.id),
        "steps": steps,
        "problems": [
            {"code": p.code, "severity": p.severity.value, "message": p.message, "at": str(p.place)}
            for p in replay.problems
        ],
        "ledger": {"words": end.words, "open": [entry.words for entry in end.open]},
    }


def _lines(row: dict[str, Any]) -> list[str]:
    lines = [f"{row['machine']}/{row['procedure']} on {row['on']}"]
    for step in row["steps"]:
        where = f"{step['procedure']} " if step["condition"] else ""
        said = [f"{step['open']} open", *([step["stop"]] if step["stop"] else [])]
        if not step["checked"]:
            said.insert(0, "not checked")
        lines.append(f"  {where}{step['number']}. {step['title']}  [{'; '.join(said)}]")
        lines += [f"       {p['severity']}[{p['code']}] {p['at']}: {p['message']}" for p in step["problems"]]
    lines += [f"  {p['severity']}[{p['code']}] {p['at']}: {p['message']}" for p in row["problems"]]
    lines.append(f"  ledger {row['ledger']['words']}")
    return lines
