"""The disassembly map of a machine: what must go before what, drawn to look around in and as a table."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from benchleaf.access.disassembly_drawing import disassembly_diagram
from benchleaf.access.disassembly_map import DisassemblyMap, disassembly_map
from benchleaf.access.paths import Goal
from benchleaf.access.ways import all_ways
from benchleaf.applicability import Configuration
from benchleaf.drawings.drawing import Drawing
from benchleaf.frozen import dataclass
from benchleaf.pages.book import MachineBook
from benchleaf.pages.item_access import BY_FACTS, derived_path, time_value
from benchleaf.pages.page import Page
from benchleaf.pages.record_notes import note_of
from benchleaf.pages.shown import Applies, Cell, Line, Row, Table
from benchleaf.search.documents import Document

TITLE = "What goes before what"
LEAD = (
    "Every item of the machine and what has to be out of the way before it comes off. Cables and lines to open are in "
    "the table. An arrow is what is recorded, not leave to touch."
)


_GOALS: tuple[Goal, ...] = ("reach", "remove")


@dataclass(frozen=True, slots=True, kw_only=True)
class MapPart:
    """The map on machines where it is the same; ``problem`` says why there is no drawing."""

    anchor: str
    title: str
    applies: Applies | None
    drawing: Drawing | None
    problem: str
    legend: tuple[str, ...]
    table: Table


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    yield page(mbook)


def page(mbook: MachineBook) -> Page:
    path, title = mbook.at.list("disassembly"), f"{TITLE}: {mbook.record.name}"
    context = {
        "crumbs": mbook.crumbs((TITLE, None)),
        "choice": mbook.choice,
        "record": note_of(mbook.record.place),
        "lead": LEAD,
        "parts": tuple(parts(mbook)),
    }
    machine = str(mbook.record.name)
    found = Document(url=path, title=title, kind="drawing", machine=machine, headings=("disassembly map",))
    return Page(
        path=path,
        template="pages/disassembly.html",
        title=title,
        kind="disassembly",
        context=context,
        inputs=(mbook.machine.file,),
        documents=(found,),
    )


def parts(mbook: MachineBook) -> Iterator[MapPart]:
    """The maps of a machine, machines with the same rows together."""
    groups: dict[DisassemblyMap, set[Configuration]] = {}
    for configuration, ways in all_ways(mbook.book.derived, mbook.machine).items():
        groups.setdefault(replace(disassembly_map(ways), configuration=""), set()).add(configuration)
    for number, (made, on) in enumerate(groups.items(), 1):
        applies = mbook.words_for(on)
        where = applies.words if applies is not None else "every machine"
        diagram = disassembly_diagram(replace(made, configuration=where))
        drawn = mbook.book.draw(diagram)
        yield MapPart(
            anchor=f"map-{number}",
            title=f"For {where}",
            applies=applies,
            drawing=drawn if isinstance(drawn, Drawing) else None,
            problem=drawn if isinstance(drawn, str) else "",
            legend=diagram.legend,
            table=_table(mbook, made, diagram.table.caption, diagram.table.headers, diagram.table.rows),
        )


def _table(
    mbook: MachineBook, made: DisassemblyMap, caption: str, heads: tuple[str, ...], cells: tuple[tuple[str, ...], ...]
) -> Table:
    """The map in rows: items lead to their page, times to the procedure that follows from them."""
    rows = []
    for row, texts in zip(made.rows, cells, strict=True):
        told: list[Cell] = [Line(words=mbook.item_words(row.item), path=mbook.at.item(row.item))]
        told += [None if text == "not recorded" else text for text in texts[1:-2]]
        told += [
            (time_value(time, BY_FACTS), Line(words="the derived procedure", path=derived_path(mbook, row.item, goal)))
            if time is not None
            else text
            for time, text, goal in zip((row.reach_time, row.remove_time), texts[-2:], _GOALS, strict=True)
        ]
        rows.append(Row(cells=tuple(told)))
    return Table(caption=caption, heads=heads, rows=tuple(rows), nothing="No item is recorded.")
