"""What is still live: for nothing isolated, for each device alone, for the recorded sequence and for all together.

Machines that may be meant are put together: a net that lives on one of them is listed, with the machines it lives on.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.kinds.net import net_line
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.shown import Block, Cell, Line, Note, Section, Table
from benchleaf.pages.wiring_tables import Rows, contact_cell, wiring_of
from benchleaf.search.documents import Document
from benchleaf.wiring.isolation_states import ALL, NOTHING, SEQUENCE, isolation_states
from benchleaf.wiring.live_nets import LiveNet, words_of_source
from benchleaf.wiring.wiring import Wiring

TITLE = "Still-live map"
LEAD = (
    "Every contact that something recorded, or something nobody recorded, can put a voltage on. Surest first. "
    "A net that is not listed is not thereby dead: measure where you touch."
)
NOT_WIRED = "The wiring is not recorded. Everything counts as live until it was proved dead where you touch."
MOST_CONTACTS = 8
_RANK = {NOTHING: 0, SEQUENCE: 1, ALL: 2}


def pages(book: Book) -> Iterator[Page]:
    for mbook in book.machines():
        yield page(mbook)


def page(mbook: MachineBook) -> Page:
    path = mbook.at.list("live")
    opening: tuple[Block, ...] = ()
    if not mbook.machine.has_wiring:
        opening = (Note(words=NOT_WIRED, grave=True),)
    found = Document(
        url=path, title=TITLE, kind="sheet", machine=str(mbook.record.name), headings=("what is still live",)
    )
    return list_page(
        mbook.book,
        path=path,
        title=TITLE,
        kind="live",
        lead=LEAD,
        opening=opening,
        sections=sections(mbook) if mbook.machine.has_wiring else (),
        mbook=mbook,
        place=mbook.machine.wiring.place if mbook.machine.has_wiring else mbook.record.place,
        crumbs=(("Wiring", mbook.at.list("wiring")),),
        documents=(found,),
    )


def sections(mbook: MachineBook) -> tuple[Section, ...]:
    """One section a state, by its title: the same state of several machines is one."""
    kinds: dict[str, str] = {}
    just_after: dict[str, Rows] = {}
    once_gone: dict[str, Rows] = {}
    for built in mbook.builts:
        wiring = wiring_of(mbook, built)
        for state in isolation_states(wiring):
            kinds.setdefault(state.title, state.kind)
            after = just_after.setdefault(state.title, Rows(mbook))
            gone = once_gone.setdefault(state.title, Rows(mbook))
            for net in state.nets:
                after.add(_cells(mbook, wiring, net), built.configuration)
            for net in state.fed_nets:
                gone.add(_cells(mbook, wiring, net), built.configuration)
    order = sorted(kinds, key=lambda title: (_RANK.get(kinds[title], 3), title))
    return tuple(
        Section(
            title=title[:1].upper() + title[1:],
            anchor=f"state-{number}",
            blocks=(
                _table("Just after", just_after[title]),
                _table("Once stored charge is proved gone", once_gone[title]),
            ),
        )
        for number, title in enumerate(order, 1)
    )


def _table(caption: str, rows: Rows) -> Table:
    return Table(
        caption=caption,
        heads=("Net", "How sure", "From", "Contacts", "Prove it dead"),
        rows=rows.rows(),
        nothing="Nothing recorded keeps anything live here. That is what is recorded, not what is so: measure.",
        careful=True,
    )


def _cells(mbook: MachineBook, wiring: Wiring, net: LiveNet) -> tuple[Cell, ...]:
    """One live net: its page, how sure, from what, where, and the point to prove it dead or that there is none."""
    proofs: Cell = tuple(Line(words=point.words) for point in net.proofs) or Line(words=net.gap)
    return (
        net_line(mbook, net.net.name, net.label),
        net.how.words,
        tuple(Line(words=words_of_source(wiring, name)) for name in net.surely_from),
        (*contacts(mbook, net.contacts), *(Line(words=f"loose end {one}") for one in net.loose)),
        proofs,
    )


def contacts(mbook: MachineBook, names: Iterable[str]) -> tuple[Line, ...]:
    """The first contacts with their pages, and how many more there are."""
    every = tuple(names)
    shown = tuple(contact_cell(mbook, one) for one in every[:MOST_CONTACTS])
    more = len(every) - len(shown)
    return (*shown, Line(words=f"and {more} more")) if more > 0 else shown
