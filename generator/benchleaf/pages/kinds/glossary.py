"""The words of the shop, each with its place, so that a text can point at it."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.addresses import anchor
from benchleaf.pages.book import Book
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.shown import Fact, Facts, Note, Row
from benchleaf.text import Text


def pages(book: Book) -> Iterator[Page]:
    words = sorted(book.library.glossary.items(), key=lambda pair: pair[0].casefold())
    place = next((one.place for one, _ in words if isinstance(one, Text)), None)
    rows = tuple(Row(cells=(str(word), Fact(str(meaning), prose=True)), anchor=anchor(word)) for word, meaning in words)
    opening = (Facts(rows=rows),) if rows else (Note(words="No word is explained yet."),)
    yield list_page(
        book,
        path="glossary.html",
        title="Glossary",
        kind="glossary",
        opening=opening,
        place=place,
        inputs=("glossary.yaml",),
    )


def terms(book: Book) -> tuple[tuple[str, str], ...]:
    """The words of the glossary and the place each is explained at, longest first."""
    found = [(str(word), f"glossary.html#{anchor(word)}") for word in book.library.glossary]
    return tuple(sorted(found, key=lambda pair: (-len(pair[0]), pair[0])))
