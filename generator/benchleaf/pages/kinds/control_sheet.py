"""The energy-control sheet: what to do about every kind of energy, in the order of 29 CFR 1910.147(d)."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import MachineBook
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.shown import ListedState, Section, States
from benchleaf.pages.wiring_tables import wiring_of
from benchleaf.search.documents import Document
from benchleaf.wiring.control_sheet import TITLES, control_sheet
from benchleaf.wiring.sheet_of_many import ToldLine, common_first

TITLE = "Energy-control sheet"
LEAD = (
    "Know, shut down, isolate, lock, relieve, verify, in this order, after 29 CFR 1910.147(d). "
    "Local codes and licensed practice come first. What is so on every machine stands first, what differs below it."
)


_MARKS = {"electrical": "live", "thermal": "hot"}


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    yield page(mbook)


def page(mbook: MachineBook) -> Page:
    path = mbook.at.list("energy-control")
    sheets = [
        (built.configuration, control_sheet(wiring_of(mbook, built), mbook.book.shop).parts) for built in mbook.builts
    ]
    sections = []
    for number, (_, title) in enumerate(TITLES, 1):
        told = common_first([(on, parts[number - 1].lines) for on, parts in sheets])
        rows = tuple(_state(mbook, one) for one in told)
        block = States(rows=rows, nothing="Nothing is recorded. That counts as energised.")
        sections.append(Section(title=f"{number}. {title}", anchor=f"part-{number}", blocks=(block,)))
    found = Document(
        url=path, title=TITLE, kind="sheet", machine=str(mbook.record.name), headings=("lockout", "make dead")
    )
    return list_page(
        mbook.book, path=path, title=TITLE, kind="control_sheet", lead=LEAD, sections=sections, mbook=mbook,
        place=mbook.record.place, crumbs=(("Energies", mbook.at.list("energy")),), documents=(found,),
    )  # fmt: skip


def _state(mbook: MachineBook, told: ToldLine) -> ListedState:
    energy = mbook.record.energy.get(told.energy)
    name = str(energy.name or told.energy.replace("-", " ")) if energy is not None else "The machine"
    words = told.words
    for start in (f"{name}: ", f"{name} "):
        words = words.removeprefix(start)
    return ListedState(
        mark="unknown" if told.gap else _MARKS.get(energy.kind if energy is not None else "", "hold"),
        name=name[:1].upper() + name[1:],
        words=words,
        applies=mbook.words_for(told.on),
    )
