"""Supplies: what is used up, its data sheet and disposal, and the procedures and steps that use it."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import Book
from benchleaf.pages.kinds.tools import stock_rows
from benchleaf.pages.links import procedure_line, step_lines
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.shown import Facts, Line, Links, Note, Row, Section
from benchleaf.pages.uses import uses_of
from benchleaf.pages.values_shown import plain_value


def pages(book: Book) -> Iterator[Page]:
    sections = []
    for id, supply in sorted(book.library.supplies.items(), key=lambda pair: str(pair[1].name).casefold()):
        wait = plain_value(supply.wait, supply.place_of("wait"), book.style)
        rows = (
            Row(cells=("Safety data sheet", supply.sds)),
            Row(cells=("Disposal", supply.disposal)),
            Row(cells=("Wait before the next step", wait if wait is not None else "none recorded")),
            *stock_rows(supply),
        )
        blocks = (Facts(rows=rows), Links(lines=tuple(_used(book, id)), nothing="No recorded procedure uses it."))
        sections.append(Section(title=str(supply.name), anchor=f"supply-{id}", blocks=blocks))
    opening = () if sections else (Note(words="No supply is recorded."),)
    yield list_page(
        book,
        path="supplies.html",
        title="Supplies",
        kind="supplies",
        sections=sections,
        opening=opening,
        inputs=("supplies.yaml",),
    )


def _used(book: Book, id: str) -> Iterator[Line]:
    for mbook in book.machines():
        for procedure in mbook.machine.procedures.values():
            for use in procedure.supplies or ():
                if use.id == id:
                    yield procedure_line(mbook, procedure, str(use.amount) if use.amount else "amount not recorded")
        yield from step_lines(mbook, uses_of(mbook).supplies[id])
