"""From checked records to a manual ready to be written: pages, pictures, signs. The MkDocs plugin writes it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from benchleaf.drawings.safety_sign import safety_sign
from benchleaf.pages.book import Book
from benchleaf.pages.page import Asset, Frame, Manual
from benchleaf.pages.page_kinds import all_pages
from benchleaf.pages.pictures import picture_assets
from benchleaf.pipeline import Checked


def manual_of(checked: Checked, content: Path) -> Manual:
    """The whole manual. With an error among the findings nothing is made but the findings themselves."""
    if checked.has_errors:
        frame = Frame(name="Workshop manual")
        return Manual(frame=frame, pages=(), findings=checked.findings, sources=checked.sources)
    book = Book(checked.derived)
    return Manual(
        frame=frame_of(book),
        pages=all_pages(book),
        assets=assets(book, content),
        findings=checked.findings,
        sources=checked.sources,
    )


def frame_of(book: Book) -> Frame:
    """What stands around every page."""
    return Frame(
        name=book.name,
        language=str(book.shop.language or "en"),
        menu=(),
    )


def assets(book: Book, content: Path) -> Iterator[Asset]:
    """Pictures and safety signs."""
    yield from picture_assets(book, content.as_posix())
    symbols = {str(one.symbol) for one in book.library.safety.values() if one.symbol is not None}
    made = {book.at.sign(symbol): symbol for symbol in sorted(symbols)}
    for path, symbol in sorted(made.items()):
        yield Asset(path=path, data=safety_sign(symbol, captioned=False).svg.encode(), inputs=("safety.yaml",))
