"""The interconnection diagram of a machine: boards and parts, the cables between them, what a conversion added."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import MachineBook
from benchleaf.pages.diagram_parts import diagram_parts
from benchleaf.pages.page import Page
from benchleaf.pages.record_notes import note_of
from benchleaf.search.documents import Document


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    yield page(mbook)


def page(mbook: MachineBook) -> Page:
    path, title = mbook.at.list("interconnection"), f"Interconnection: {mbook.record.name}"
    place = mbook.machine.wiring.place if mbook.machine.has_wiring else mbook.record.place
    context = {
        "crumbs": mbook.crumbs(("Wiring", mbook.at.list("wiring")), ("Interconnection", None)),
        "choice": mbook.choice,
        "record": note_of(place),
        "has_wiring": mbook.machine.has_wiring,
        "parts": diagram_parts(mbook) if mbook.machine.has_wiring else (),
    }
    found = Document(
        url=path, title=title, kind="drawing", machine=str(mbook.record.name), headings=("wiring diagram",)
    )
    return Page(
        path=path,
        template="pages/interconnection.html",
        title=title,
        kind="interconnection",
        context=context,
        inputs=(mbook.machine.file, place.file),
        documents=(found,),
    )
