"""Every symptom of every machine, in the words of whoever has the trouble."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import Book
from benchleaf.pages.links import symptom_title
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.shown import Line, Row, Section, Table


def pages(book: Book) -> Iterator[Page]:
    sections = []
    for mbook in book.machines():
        rows = tuple(
            Row(
                cells=(
                    Line(words=symptom_title(one), path=mbook.at.symptom(one.id)),
                    tuple(Line(words=f"“{heard}”") for heard in one.heard_as) or None,
                ),
                applies=mbook.applies(one.applies),
            )
            for one in mbook.machine.symptoms.values()
        )
        table = Table(
            caption="Symptoms", heads=("Symptom", "Heard as"), rows=rows, nothing="No symptom is recorded.", quiet=True
        )
        sections.append(Section(title=str(mbook.record.name), blocks=(table,)))
    yield list_page(book, path="symptoms.html", title="Symptoms", kind="symptoms", sections=sections)
