"""A page of sections: the plain form of most lists, tables and drawings."""

from __future__ import annotations

from collections.abc import Iterable

from benchleaf.diagnostics import Place
from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.documents import list_document
from benchleaf.pages.page import Page
from benchleaf.pages.record_notes import note_of
from benchleaf.pages.shown import Applies, Block, Section
from benchleaf.search.documents import Document


def list_page(
    book: Book,
    *,
    path: str,
    title: str,
    kind: str,
    sections: Iterable[Section] = (),
    opening: Iterable[Block] = (),
    lead: str = "",
    place: Place | None = None,
    mbook: MachineBook | None = None,
    inputs: tuple[str, ...] = (),
    applies: Applies | None = None,
    crumbs: tuple[tuple[str, str | None], ...] = (),
    documents: tuple[Document, ...] = (),
) -> Page:
    """A page of the whole manual, or, with ``mbook``, one of a machine. It is found by its title at the least."""
    way = (*crumbs, (title, None))
    context = {
        "crumbs": mbook.crumbs(*way) if mbook is not None else book.crumbs(*way),
        "choice": mbook.choice if mbook is not None else None,
        "record": note_of(place) if place is not None and place.file else None,
        "lead": lead,
        "applies": applies,
        "opening": tuple(opening),
        "sections": tuple(sections),
    }
    if not any(one.url == path for one in documents):
        machine = str(mbook.record.name) if mbook is not None else ""
        documents += (list_document(path, title, machine, lead),)
    read = inputs or ((mbook.machine.file,) if mbook is not None else ())
    return Page(
        path=path, template="pages/list.html", title=title, kind=kind, context=context, inputs=read, documents=documents
    )
