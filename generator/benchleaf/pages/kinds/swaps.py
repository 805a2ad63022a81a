"""The swap table of a machine: every plug that goes into a place it does not belong in, and what happens then."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.plugs_shown import books_of, swap_table
from benchleaf.pages.shown import Block, Note


def pages(book: Book) -> Iterator[Page]:
    for mbook in book.machines():
        yield page(mbook)


def page(mbook: MachineBook) -> Page:
    remarks = dict.fromkeys(words for _, book in books_of(mbook) for words in book.swaps.remarks)
    opening: tuple[Block, ...] = (*(Note(words=words) for words in remarks), swap_table(mbook))
    place = mbook.machine.wiring.place if mbook.machine.has_wiring else mbook.record.place
    return list_page(
        mbook.book,
        path=mbook.at.list("swaps"),
        title="Swap table",
        kind="swaps",
        opening=opening,
        lead="Worst first. Not recorded counts as fitting, and as the worst that can meet.",
        mbook=mbook,
        place=place,
        crumbs=(("Wiring", mbook.at.list("wiring")),),
    )
