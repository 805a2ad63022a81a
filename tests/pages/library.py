"""Libraries made of short records for the tests of pages, and the demo compiled once."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

import html5lib

from benchleaf.pages.book import Book
from benchleaf.pages.page import Manual, Page
from benchleaf.pipeline import Checked, check_sources, load
from benchleaf.render import make_environment, render_page
from benchleaf.site import manual_of
from benchleaf.source import AssetInfo, Source

CONTENT = Path(__file__).parents[2] / "content"


@cache
def demo() -> Checked:
    """The demo records, checked."""
    return load(CONTENT)


def checked(files: Mapping[str, str], pictures: tuple[str, ...] = ()) -> Checked:
    """Records given as path → text."""
    assets = [AssetInfo(path, 100, "svg", 640, 400) for path in pictures]
    return check_sources([Source(path, text) for path, text in sorted(files.items())], assets)


def book(files: Mapping[str, str]) -> Book:
    return Book(checked(files).derived)


@cache
def demo_manual() -> Manual:
    return manual_of(demo(), CONTENT)


@cache
def demo_pages() -> Mapping[str, Page]:
    """Every page of the demo by its path; two pages on one path is a mistake of ours."""
    pages = list(demo_manual().pages)
    by_path = {page.path: page for page in pages}
    assert len(by_path) == len(pages)
    return by_path


@cache
def demo_html() -> Mapping[str, bytes]:
    """Every page of the demo as it is written."""
    env = make_environment(demo_manual().frame)
    return {path: render_page(page, env) for path, page in demo_pages().items()}


def drawn(page: Page, book: Book | None = None) -> str:
    """One page as text."""
    from benchleaf.site import frame_of

    frame = frame_of(book) if book is not None else demo_manual().frame
    return render_page(page, make_environment(frame)).decode()


@cache
def tree(path: str):  # type: ignore[no-untyped-def]
    """One page of the demo as a tree."""
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(demo_html()[path])


def words(element) -> str:  # type: ignore[no-untyped-def]
    """All text below an element, single-spaced."""
    return " ".join("".join(element.itertext()).split())
