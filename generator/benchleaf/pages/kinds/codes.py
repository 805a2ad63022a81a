"""Every code of every machine, in the order a display would count."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import Book
from benchleaf.pages.isolation_shown import masked_lines, take_along_line
from benchleaf.pages.kinds.finder import entry_line
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.shown import CodeRef, Links, Row, Section, Table


def pages(book: Book) -> Iterator[Page]:
    sections = []
    for mbook in book.machines():
        rows = tuple(
            Row(
                cells=(
                    CodeRef(code=str(one.shown or one.code), path=mbook.at.code(one.code)),
                    one.means,
                    f"{len(one.causes)}",
                    f"{len(one.tests)}",
                    (*filter(None, (take_along_line(mbook, one),)), *masked_lines(mbook, one)) or "–",
                ),
                applies=mbook.applies(one.applies),
            )
            for one in mbook.machine.codes.values()
        )
        table = Table(
            caption="Codes",
            heads=("Shown", "Means", "Causes", "Tests", "Then"),
            rows=rows,
            nothing="No code is recorded.",
            quiet=True,
        )
        entry = Links(lines=(entry_line(mbook),), nothing="")
        sections.append(Section(title=str(mbook.record.name), blocks=(entry, table)))
    yield list_page(book, path="codes.html", title="Codes", kind="codes", sections=sections)
