"""What nobody recorded, sorted by how deep it lies: what to look at the next time a machine is open anyway."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.gaps import Gap, gaps_of, with_depth
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.shown import Line, Row, Section, Table
from benchleaf.pages.time_words import time_words


def pages(book: Book) -> Iterator[Page]:
    yield overview(book)


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    yield page(mbook)


def page(mbook: MachineBook) -> Page:
    by_depth: dict[tuple[float, str], list[Gap]] = {}
    for gap, depth, way in with_depth(mbook, gaps_of(mbook)):
        by_depth.setdefault((depth, way), []).append(gap)
    sections = []
    for (depth, way), gaps in sorted(by_depth.items(), key=lambda pair: pair[0]):
        rows = tuple(_row(mbook, name, many) for name, many in _by_thing(gaps))
        title = way if depth <= 0 or depth == inf else f"{way}, {time_words(depth)} in"
        table = Table(
            caption="Not recorded",
            heads=("Of", "Not recorded", "Looked, could not tell"),
            rows=rows,
            nothing="",
            quiet=True,
        )
        sections.append(Section(title=title, blocks=(table,)))
    lead = "From what is seen at once to what lies deepest. Time is the shortest way in that the record gives."
    return list_page(
        mbook.book,
        path=mbook.at.list("next-opening"),
        title="Next opening",
        kind="next_opening",
        sections=sections,
        lead=lead,
        mbook=mbook,
        place=mbook.record.place,
    )


def _by_thing(gaps: list[Gap]) -> list[tuple[str, list[Gap]]]:
    found: dict[str, list[Gap]] = {}
    for gap in gaps:
        found.setdefault(gap.of, []).append(gap)
    return list(found.items())


def _row(mbook: MachineBook, name: str, gaps: list[Gap]) -> Row:
    missing = [gap.what for gap in gaps if not gap.unsure]
    unsure = [gap.what for gap in gaps if gap.unsure]
    return Row(cells=(Line(words=name, path=gaps[0].path), ", ".join(missing) or "–", ", ".join(unsure) or "–"))


def overview(book: Book) -> Page:
    rows = []
    for mbook in book.machines():
        gaps = gaps_of(mbook)
        rows.append(Row(cells=(Line(words=str(mbook.record.name), path=mbook.at.list("next-opening")), str(len(gaps)))))
    table = Table(
        caption="Machines",
        heads=("Machine", "Facts not recorded"),
        rows=tuple(rows),
        nothing="No machine is recorded.",
        quiet=True,
    )
    return list_page(
        book,
        path="next-opening.html",
        title="Next opening",
        kind="next_opening",
        opening=(table,),
        lead="Before you close a machine, look here for what nobody has written down yet.",
    )
