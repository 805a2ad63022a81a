"""A drawing of the drawings package as pages show it: the picture, and the same facts as a table."""

from __future__ import annotations

from collections.abc import Callable

from benchleaf.drawings.diagram_values import Diagram
from benchleaf.drawings.drawing import Drawing
from benchleaf.pages.shown import Art, Row, Table
from benchleaf.records.items import Item

Drawer = Callable[[Diagram], Drawing | str]
"""Has a diagram drawn: the drawing, or why there is none, in words. Pages know no program; who makes the site does."""


def no_drawer(diagram: Diagram) -> str:
    """For a book that is read and not printed."""
    return f"'{diagram.title}' was not drawn"


def art_of(drawing: Drawing, *, narrow: bool = False) -> Art:
    table = Table(
        caption=drawing.table.caption,
        heads=drawing.table.headers,
        rows=tuple(Row(cells=row) for row in drawing.table.rows),
        nothing="Nothing is recorded to draw.",
    )
    return Art(svg=drawing.svg, title=drawing.title, table=table, narrow=narrow)


def box_of(item: Item) -> tuple[float, float, float, float, float, float] | None:
    """The box of an item as the arrangement view takes it: x, y, z, width, depth, height in mm."""
    if item.box is None:
        return None
    x, y, z, width, depth, height = item.box
    return (x, y, z, width, depth, height)
