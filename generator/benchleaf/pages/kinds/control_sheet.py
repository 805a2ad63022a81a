"""The energy-control sheet: what to do about every kind of energy, in the order of 29 CFR 1910.147(d)."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.applicability import Configuration
from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.shown import ListedState, Section, States
from benchleaf.pages.wiring_tables import wiring_of
from benchleaf.search.documents import Document
from benchleaf.wiring.control_sheet import SheetLine, control_sheet

TITLE = "Energy-control sheet"
LEAD = (
    "Know, shut down, isolate, lock, relieve, verify, in this order, after 29 CFR 1910.147(d). "
    "Local codes and licensed practice come first."
)


_MARKS = {"electrical": "live", "thermal": "hot"}


def pages(book: Book) -> Iterator[Page]:
    for mbook in book.machines():
        yield page(mbook)


def page(mbook: MachineBook) -> Page:
    path = mbook.at.list("energy-control")
    parts: dict[tuple[str, str], dict[SheetLine, set[Configuration]]] = {}
    for built in mbook.builts:
        sheet = control_sheet(wiring_of(mbook, built), mbook.book.shop)
        for part in sheet.parts:
            lines = parts.setdefault((part.clause, part.title), {})
            for line in part.lines:
                lines.setdefault(line, set()).add(built.configuration)
    sections = tuple(
        Section(title=f"{number}. {title}", anchor=f"part-{number}", blocks=(States(
            rows=tuple(_state(mbook, line, on) for line, on in lines.items()),
            nothing="Nothing is recorded. That counts as energised.",
        ),))
        for number, ((_, title), lines) in enumerate(parts.items(), 1)
    )  # fmt: skip
    found = Document(
        url=path, title=TITLE, kind="sheet", machine=str(mbook.record.name), headings=("lockout", "make dead")
    )
    return list_page(
        mbook.book, path=path, title=TITLE, kind="control_sheet", lead=LEAD, sections=sections, mbook=mbook,
        place=mbook.record.place, crumbs=(("Energies", mbook.at.list("energy")),), documents=(found,),
    )  # fmt: skip


def _state(mbook: MachineBook, line: SheetLine, on: set[Configuration]) -> ListedState:
    energy = mbook.record.energy.get(line.energy)
    name = str(energy.name or line.energy.replace("-", " ")) if energy is not None else "The machine"
    words = line.words
    for start in (f"{name}: ", f"{name} "):
        words = words.removeprefix(start)
    return ListedState(
        mark="unknown" if line.gap else _MARKS.get(energy.kind if energy is not None else "", "hold"),
        name=name[:1].upper() + name[1:],
        words=words,
        applies=mbook.words_for(on),
    )
