"""The page that searches. Without script it leads to the lists instead."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import Book
from benchleaf.pages.kinds.home import lists
from benchleaf.pages.page import Page


def pages(book: Book) -> Iterator[Page]:
    context = {"crumbs": book.crumbs(("Find", None)), "choice": None, "record": None, "lists": lists(book)}
    yield Page(path=book.at.find, template="pages/find.html", title="Find", kind="find", context=context)
