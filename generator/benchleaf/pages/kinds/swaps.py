"""The swap table of a machine: every plug that goes into a place it does not belong in, and what happens then."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import MachineBook
from benchleaf.pages.page import Page
from benchleaf.pages.plugs_shown import books_of
from benchleaf.pages.record_notes import note_of
from benchleaf.pages.swaps_shown import NO_PROCEDURE, NOTHING, swap_groups
from benchleaf.search.documents import Document


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    yield page(mbook)


def page(mbook: MachineBook) -> Page:
    place = mbook.machine.wiring.place if mbook.machine.has_wiring else mbook.record.place
    path, title = mbook.at.list("swaps"), "Swap table"
    told = dict.fromkeys(words for _, book in books_of(mbook) for words in book.swaps.remarks)
    groups = swap_groups(mbook)
    context = {
        "crumbs": mbook.crumbs(("Wiring", mbook.at.list("wiring")), (title, None)),
        "choice": mbook.choice,
        "record": note_of(place),
        "remarks": (*told, NO_PROCEDURE) if groups else tuple(told),
        "groups": groups,
        "nothing": NOTHING,
    }
    found = Document(
        url=path, title=title, kind="sheet", machine=str(mbook.record.name), headings=("plugs that look alike",)
    )
    return Page(
        path=path,
        template="pages/swaps.html",
        title=title,
        kind="swaps",
        context=context,
        inputs=(mbook.machine.file, place.file),
        documents=(found,),
    )
