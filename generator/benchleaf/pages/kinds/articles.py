"""The articles of the manual: pages MkDocs makes of free Markdown, listed here so that they are found."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import Book
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.shown import Line, Links


def pages(book: Book) -> Iterator[Page]:
    articles = sorted(book.library.articles.items(), key=lambda pair: str(pair[1].title).casefold())
    lines = tuple(Line(words=str(one.title), path=book.at.article(path)) for path, one in articles)
    yield list_page(
        book,
        path="articles.html",
        title="Articles",
        kind="articles",
        opening=(Links(lines=lines, nothing="No article is written yet."),),
        inputs=tuple(path for path, _ in articles),
    )
