"""What a procedure does with plugs: the diagram of what it opens, swaps, labels, pictures to take."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import MachineBook
from benchleaf.pages.diagram_parts import DiagramPart, diagram_parts
from benchleaf.pages.page import Page
from benchleaf.pages.plugs_shown import books_of, label_table, shot_table
from benchleaf.pages.record_notes import procedure_note
from benchleaf.pages.swaps_shown import NOTHING, swap_groups
from benchleaf.records.teardown import TeardownRecord


def procedure_pages(mbook: MachineBook, procedure: TeardownRecord) -> Iterator[Page]:
    if opens_any(mbook, procedure):
        yield page(mbook, procedure)


def opens_any(mbook: MachineBook, procedure: TeardownRecord) -> bool:
    """Whether the procedure, or what it begins with, opens anything that has a label, on any machine."""
    narrow = mbook.narrowed(procedure.applies)
    return mbook.remember(
        ("opens any", procedure.id),
        lambda: any(book.of_procedure(procedure).labels for _, book in books_of(narrow)),
    )


def remarks(mbook: MachineBook, procedure: TeardownRecord) -> tuple[str, ...]:
    """What makes the swap table less than certain, on any machine: not recorded is never mild."""
    narrow = mbook.narrowed(procedure.applies)
    told = (words for _, book in books_of(narrow) for words in book.of_procedure(procedure).swaps.remarks)
    return tuple(dict.fromkeys(told))


def page(mbook: MachineBook, procedure: TeardownRecord) -> Page:
    title = f"Plugs and labels: {procedure.title}"
    parts: tuple[DiagramPart, ...] = diagram_parts(mbook, procedure)
    context = {
        "crumbs": mbook.crumbs((str(procedure.title), mbook.at.procedure(procedure.id)), ("Plugs and labels", None)),
        "choice": mbook.choice,
        "record": procedure_note(procedure),
        "applies": mbook.applies(procedure.applies),
        "groups": swap_groups(mbook, procedure),
        "nothing": NOTHING,
        "remarks": remarks(mbook, procedure),
        "labels": label_table(mbook, procedure),
        "shots": shot_table(mbook, procedure),
        "parts": parts,
    }
    return Page(
        path=mbook.at.plugs(procedure.id),
        template="pages/plugs.html",
        title=title,
        kind="plugs",
        context=context,
        inputs=(procedure.place.file, mbook.machine.file),
    )
