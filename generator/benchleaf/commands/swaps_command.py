"""``benchleaf swaps``: which plugs take each other's places, with labels and pictures for a procedure."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import click

from benchleaf.built import Built
from benchleaf.commands.machine_ref import alike, builts_on, machine_and_procedure
from benchleaf.commands.options import content_option, json_option
from benchleaf.commands.procedure_ref import on_option
from benchleaf.connectors.book import connector_book
from benchleaf.connectors.labels import CableLabel
from benchleaf.connectors.shots import Shot
from benchleaf.connectors.swaps import Pair, SwapTable
from benchleaf.derived import Derived
from benchleaf.pipeline import read
from benchleaf.records.teardown import TeardownRecord


@click.command("swaps", short_help="Which plugs take each other's places.")
@click.argument("ref")
@on_option
@content_option
@json_option
def command(ref: str, on: str | None, content: Path, as_json: bool) -> None:
    """List the ends that can be mistaken for each other, worst first.

    REF is a machine, `fp420`, where any ends may be open, or a procedure, `fp420/draw-tray`, with its labels in order
    of opening and the pictures to take. Machines on which the answer is the same stand together.
    """
    derived = read(content)
    machine, procedure = machine_and_procedure(derived, ref)
    found = alike(builts_on(derived, machine, on), lambda built: data_of(derived, built, procedure))
    if as_json:
        rows = [{"machine": str(machine.id), "on": labels, **data} for data, labels in found]
        click.echo(json.dumps(rows, indent=2, ensure_ascii=False))
        return
    for data, labels in found:
        click.echo("\n".join([f"{ref} on {'; '.join(labels)}", *lines_of(data), ""]))


def data_of(derived: Derived, built: Built, procedure: TeardownRecord | None) -> dict[str, Any]:
    """The swap table of a machine as built as plain data; of a procedure also ``labels`` and ``pictures``."""
    book = connector_book(derived, built)
    if procedure is None:
        return {"procedure": "", **_table(book.swaps)}
    work = book.of_procedure(procedure)
    return {
        "procedure": str(procedure.id),
        **_table(work.swaps),
        "labels": [_label(one) for one in work.labels.values()],
        "pictures": [_shot(one) for one in work.shots],
    }


def _table(table: SwapTable) -> dict[str, Any]:
    return {"remarks": list(table.remarks), "pairs": [_pair(one) for one in table.pairs]}


def _pair(pair: Pair) -> dict[str, Any]:
    return {
        "ends": [pair.one, pair.two],
        "turned": pair.is_turned,
        "cables": list(pair.cables),
        "certain": pair.certain,
        "worst": pair.worst.consequence.value,
        "warning": pair.warning,
        "opened in": [f"{step.procedure}:{step.number}" for step in pair.steps],
        "removed by": pair.removed_by,
        "ways": [
            {
                "plug": way.cable,
                "in": way.place,
                "turned": way.turned,
                "contacts": [
                    {"contact": e.contact, "meets": e.meets, "as": e.meeting.words, "so": e.meeting.consequence.value}
                    for e in way.effects
                ],
            }
            for way in pair.ways
        ],
    }


def _label(label: CableLabel) -> dict[str, Any]:
    ends = [end.words for end in label.ends]
    return {"number": label.number, "mark": label.mark.words, "cable": label.cable, "ends": ends}


def _shot(shot: Shot) -> dict[str, Any]:
    before = f"{shot.step.procedure}:{shot.step.number}"
    return {"connector": shot.connector, "before": before, "risk": shot.risk, "must show": list(shot.must_show)}


def lines_of(data: dict[str, Any]) -> list[str]:
    """The same for a terminal."""
    lines = [f"  {remark}" for remark in data["remarks"]]
    for pair in data["pairs"]:
        maybe = "" if pair["certain"] else " (only if an unchecked step opens them)"
        lines.append(f"  {pair['warning']}{maybe}")
        lines += [f"      {pair['removed by']}"] if pair["removed by"] else []
        for way in pair["ways"]:
            turned = ", turned round" if way["turned"] else ""
            lines.append(f"      {way['plug']} in {way['in']}{turned}")
            lines += [f"        {c['contact']} on {c['meets']}: {c['so']} ({c['as']})" for c in way["contacts"]]
    if data.get("labels"):
        lines += ["", "  labels"]
        lines += [
            f"  {label['number']:>3}  {label['mark']:<12} {label['cable']:<6} {';  '.join(label['ends'])}"
            for label in data["labels"]
        ]
    if data.get("pictures"):
        lines += ["", "  pictures to take before opening"]
        for number, shot in enumerate(data["pictures"], 1):
            lines.append(f"  {number:>3}  {shot['connector']} before {shot['before']}: {shot['risk']}")
            lines += [f"         {words}" for words in shot["must show"]]
    return lines
