"""``benchleaf diagram``: which board is joined to which part by which cable, as a table and as a drawing."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import click

from benchleaf.commands.machine_ref import (
    alike,
    builts_on,
    machine_and_procedure,
    svg_option,
    table_lines,
    write_drawing,
)
from benchleaf.commands.options import content_option, json_option
from benchleaf.commands.procedure_ref import on_option, refuse
from benchleaf.connectors.book import connector_book
from benchleaf.drawings.interconnection import Diagram
from benchleaf.edges.graphviz_edge import draw
from benchleaf.pipeline import read


@click.command("diagram", short_help="The interconnection diagram.")
@click.argument("ref")
@on_option
@svg_option
@content_option
@json_option
def command(ref: str, on: str | None, svg: Path | None, content: Path, as_json: bool) -> None:
    """Print the interconnection of a machine, `fp420`, or of what a procedure opens, `fp420/draw-tray`.

    With --svg the drawing is written too; it is drawn for the first machine shown, so say which with --on.
    """
    derived = read(content)
    machine, procedure = machine_and_procedure(derived, ref)
    found = alike(builts_on(derived, machine, on), lambda built: connector_book(derived, built).diagram(procedure))
    if as_json:
        click.echo(json.dumps([_data(diagram, labels) for diagram, labels in found], indent=2, ensure_ascii=False))
    for diagram, _ in found if not as_json else ():
        click.echo("\n".join([diagram.title, *table_lines(diagram.table.headers, diagram.table.rows), ""]))
    if svg is not None:
        drawn = draw(found[0][0])
        if drawn.drawing is None:
            refuse(drawn.problem)
        write_drawing(svg, drawn.drawing.svg)


def _data(diagram: Diagram, labels: list[str]) -> dict[str, Any]:
    return {
        "on": labels,
        "title": diagram.title,
        "description": diagram.description,
        "rows": [dict(zip(diagram.table.headers, row, strict=True)) for row in diagram.table.rows],
        "nets": [{"net": net.name, "cables": list(net.cables), "contacts": list(net.contacts)} for net in diagram.nets],
    }
