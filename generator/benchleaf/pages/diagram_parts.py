"""Interconnection diagrams for a page: one for each kind of machine that looks different, drawn or said why not."""

from __future__ import annotations

from benchleaf.applicability import Configuration
from benchleaf.connectors.book import connector_book
from benchleaf.drawings.drawing import Drawing
from benchleaf.drawings.interconnection import Diagram, Net
from benchleaf.frozen import dataclass
from benchleaf.pages.book import MachineBook
from benchleaf.pages.shown import Applies, Row, Table
from benchleaf.records.teardown import TeardownRecord


@dataclass(frozen=True, slots=True, kw_only=True)
class DiagramPart:
    """One diagram with the machines it is for; ``problem`` says why there is no drawing. ``table`` is its equal."""

    anchor: str
    title: str
    applies: Applies | None
    drawing: Drawing | None
    problem: str
    nets: tuple[Net, ...]
    table: Table


def diagram_parts(mbook: MachineBook, procedure: TeardownRecord | None = None) -> tuple[DiagramPart, ...]:
    """The diagrams of a machine with its nets, or of what a procedure opens; those that say the same are one."""
    narrow = mbook if procedure is None else mbook.narrowed(procedure.applies)
    groups: dict[tuple[object, ...], tuple[Diagram, set[Configuration]]] = {}
    for built in narrow.builts:
        diagram = connector_book(mbook.book.derived, built).diagram(procedure)
        nets = tuple((net.name, net.contacts) for net in diagram.nets) if procedure is None else ()
        key = (diagram.table.rows, nets)
        groups.setdefault(key, (diagram, set()))[1].add(built.configuration)
    parts = []
    for number, (diagram, on) in enumerate(groups.values(), 1):
        applies = narrow.words_for(on)
        drawn = mbook.book.draw(diagram)
        parts.append(
            DiagramPart(
                anchor=f"diagram-{number}",
                title=f"For {applies.words if applies is not None else 'every machine'}",
                applies=applies,
                drawing=drawn if isinstance(drawn, Drawing) else None,
                problem=drawn if isinstance(drawn, str) else "",
                nets=diagram.nets if procedure is None else (),
                table=Table(
                    caption=diagram.table.caption,
                    heads=diagram.table.headers,
                    rows=tuple(Row(cells=row) for row in diagram.table.rows),
                    nothing="Nothing is recorded to draw.",
                ),
            )
        )
    return tuple(parts)
