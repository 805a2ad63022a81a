"""``benchleaf face``: what one looks at on either half of a connector, as a table and as a drawing."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import click

from benchleaf.built import Built
from benchleaf.commands.machine_ref import alike, builts_on, machine_of, near, svg_option, table_lines, write_drawing
from benchleaf.commands.options import content_option, json_option
from benchleaf.commands.procedure_ref import on_option, refuse
from benchleaf.connectors.book import connector_book
from benchleaf.connectors.faces import both_faces, face_of
from benchleaf.derived import Derived
from benchleaf.drawings.drawing import Drawing
from benchleaf.drawings.face import face_view, mating_pair
from benchleaf.drawings.face_values import Half, Side
from benchleaf.pipeline import read


@click.command("face", short_help="The face of a connector.")
@click.argument("ref", metavar="MACHINE/CONNECTOR")
@click.option("--half", type=click.Choice(["plug", "receptacle", "both"]), default="both", show_default=True)
@click.option("--side", type=click.Choice(["mating", "wire"]), default="mating", show_default=True)
@on_option
@svg_option
@content_option
@json_option
def command(ref: str, half: str, side: Side, on: str | None, svg: Path | None, content: Path, as_json: bool) -> None:
    """Show the contacts of a connector such as `fp420/A1-J3` as they are seen, and where contact 1 is.

    Both halves are shown on their mating side, as they face the reader before they are plugged.
    """
    derived = read(content)
    name, _, connector = ref.partition("/")
    machine = machine_of(derived, name)
    builts = builts_on(derived, machine, on)
    known = dict.fromkeys(one for built in builts for one in built.connectors)
    if connector not in known:
        refuse(f"{name} has no connector '{connector}'.{near(connector, known)}")
    there = [built for built in builts if connector in built.connectors]
    found = alike(there, lambda built: drawing_of(derived, built, connector, half, side))
    if as_json:
        click.echo(json.dumps([_data(drawing, labels) for drawing, labels in found], indent=2, ensure_ascii=False))
    for drawing, labels in found if not as_json else ():
        click.echo(f"{name} on {'; '.join(labels)}\n{drawing.title}\n{drawing.description}\n")
        click.echo("\n".join(table_lines(drawing.table.headers, drawing.table.rows)) + "\n")
    if svg is not None:
        write_drawing(svg, found[0][0].svg)


def drawing_of(derived: Derived, built: Built, connector: str, half: str, side: Side) -> Drawing:
    """The drawing asked for: one half from one side, or both halves on their mating sides."""
    book = connector_book(derived, built)
    if half == "both" and side == "mating":
        return mating_pair(*both_faces(built, connector, graph=book.graph))
    one: Half = "receptacle" if half == "receptacle" else "plug"
    return face_view(face_of(built, connector, one, side, graph=book.graph))


def _data(drawing: Drawing, labels: list[str]) -> dict[str, Any]:
    return {
        "on": labels,
        "title": drawing.title,
        "description": drawing.description,
        "contacts": [dict(zip(drawing.table.headers, row, strict=True)) for row in drawing.table.rows],
    }
