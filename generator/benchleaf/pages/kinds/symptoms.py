"""Every symptom of every machine, in the words of whoever has the trouble."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import Book
from benchleaf.pages.isolation_shown import take_along_line
from benchleaf.pages.kinds.finder import entry_line
from benchleaf.pages.links import symptom_title
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.shown import Line, Links, Row, Section, Table


def pages(book: Book) -> Iterator[Page]:
    sections = []
    for mbook in book.machines():
        rows = tuple(
            Row(
                cells=(
                    Line(words=symptom_title(one), path=mbook.at.symptom(one.id)),
                    tuple(Line(words=f"“{heard}”") for heard in one.heard_as) or None,
                    take_along_line(mbook, one) or "–",
                ),
                applies=mbook.applies(one.applies),
            )
            for one in mbook.machine.symptoms.values()
        )
        table = Table(
            caption="Symptoms",
            heads=("Symptom", "Heard as", "Then"),
            rows=rows,
            nothing="No symptom is recorded.",
            quiet=True,
        )
        entry = Links(lines=(entry_line(mbook),), nothing="")
        sections.append(Section(title=str(mbook.record.name), blocks=(entry, table)))
    yield list_page(book, path="symptoms.html", title="Symptoms", kind="symptoms", sections=sections)
