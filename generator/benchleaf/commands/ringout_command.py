"""``benchleaf ringout``: the contacts that must conduct with the power off, and what the meter should show."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import click

from benchleaf.built import Built
from benchleaf.commands.machine_ref import alike, builts_on, machine_of, near, table_lines
from benchleaf.commands.options import content_option, json_option
from benchleaf.commands.procedure_ref import on_option, refuse
from benchleaf.connectors.book import connector_book
from benchleaf.connectors.ring_out import RingOutTable, head_of_sheet, sheet_of
from benchleaf.derived import Derived
from benchleaf.pipeline import read
from benchleaf.values.origin import tell


@click.command("ringout", short_help="What must conduct with the power off.")
@click.argument("machine")
@click.argument("cable", required=False)
@click.option("--nets", is_flag=True, help="The nets of the machine with everything plugged in.")
@click.option("--sheet", is_flag=True, help="A sheet with room for the readings.")
@on_option
@content_option
@json_option
def command(
    machine: str, cable: str | None, nets: bool, sheet: bool, on: str | None, content: Path, as_json: bool
) -> None:
    """Print the ring-out table of a CABLE of MACHINE, of all its cables, or of its nets.

    Every other pair is open, unless the table says that nothing can be said. A beep is not a value.
    """
    derived = read(content)
    record = machine_of(derived, machine)
    builts = builts_on(derived, record, on)
    if cable is not None:
        known = dict.fromkeys(name for built in builts for name in built.cables)
        if cable not in known:
            refuse(f"{machine} has no cable '{cable}'.{near(cable, known)}")
        builts = tuple(built for built in builts if cable in built.cables)
    found = alike(builts, lambda built: tables_of(derived, built, cable, nets))
    if as_json:
        rows = [{"machine": machine, "on": labels, "tables": [_data(t) for t in made]} for made, labels in found]
        click.echo(json.dumps({"head": list(head_of_sheet()), "machines": rows}, indent=2, ensure_ascii=False))
        return
    click.echo("\n".join([*head_of_sheet(), ""]))
    for made, labels in found:
        click.echo(f"{machine} on {'; '.join(labels)}\n")
        for table in made:
            click.echo("\n".join(lines_of(table, sheet)) + "\n")


def tables_of(derived: Derived, built: Built, cable: str | None, nets: bool) -> tuple[RingOutTable, ...]:
    """The tables asked for, of a machine as built."""
    book = connector_book(derived, built)
    if nets:
        return book.nets
    return tuple(book.ring_out(name) for name in ([cable] if cable is not None else sorted(built.cables)))


def lines_of(table: RingOutTable, sheet: bool) -> list[str]:
    """A table for a terminal."""
    lines = [table.title, *(f"  {words}" for words in table.how)]
    if sheet:
        made = sheet_of(table)
        lines += [f"  {line}" for line in table_lines(made.headers, made.rows)]
    else:
        rows = [(row.start, row.end, row.reading, row.by, row.expected.words) for row in table.rows]
        lines += [f"  {line}" for line in table_lines(("From", "To", "Must", "By", "Expected"), rows)] if rows else []
        lines.append(f"  {table.others}")
    return [*lines, *(f"  {words}" for words in table.remarks)]


def _data(table: RingOutTable) -> dict[str, Any]:
    return {
        "subject": table.subject,
        "how": list(table.how),
        "contacts": list(table.contacts),
        "pairs": [
            {
                "from": row.start,
                "to": row.end,
                "must": row.reading,
                "by": row.by,
                "expected": row.expected.words,
                "ohm": None if row.expected.band is None else [row.expected.band.low, row.expected.band.high],
                "arithmetic": list(row.expected.arithmetic),
                "origin": [] if row.expected.origin is None else list(tell(row.expected.origin)),
            }
            for row in table.rows
        ],
        "others": table.others,
        "remarks": list(table.remarks),
    }
