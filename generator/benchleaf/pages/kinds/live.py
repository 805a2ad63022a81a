"""What is still live: for nothing isolated, for each device alone, for the recorded sequence and for all together.

Machines that may be meant are put together: a net that lives on one of them is listed, with the machines it lives on.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchleaf.pages.book import MachineBook
from benchleaf.pages.kinds.net import net_line
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.shown import Applies, Block, Cell, Line, Links, Note, Row, Section, Table
from benchleaf.pages.wiring_tables import Rows, wiring_of
from benchleaf.search.documents import Document
from benchleaf.wiring.contacts import shown
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


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    yield page(mbook)


def page(mbook: MachineBook) -> Page:
    path = mbook.at.list("live")
    states = sections(mbook) if mbook.machine.has_wiring else ()
    opening: tuple[Block, ...] = (jumps(path, states),) if states else ()
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
        sections=states,
        mbook=mbook,
        place=mbook.machine.wiring.place if mbook.machine.has_wiring else mbook.record.place,
        crumbs=(("Wiring", mbook.at.list("wiring")),),
        documents=(found,),
    )


def sections(mbook: MachineBook) -> tuple[Section, ...]:
    """One section a state, by its title: the same state of several machines is one."""
    kinds: dict[str, str] = {}
    found: dict[str, Rows] = {}
    for built in mbook.builts:
        wiring = wiring_of(mbook, built)
        for state in isolation_states(wiring):
            kinds.setdefault(state.title, state.kind)
            rows = found.setdefault(state.title, Rows(mbook))
            fed = {net.net.name: net for net in state.fed_nets}
            for net in state.nets:
                rows.add(_cells(mbook, wiring, net, fed.pop(net.net.name, None)), built.configuration)
            for net in fed.values():
                rows.add(_cells(mbook, wiring, net, net), built.configuration)
    order = sorted(kinds, key=lambda title: (_RANK.get(kinds[title], 3), title))
    tables = {title: _table(title, merged(found[title].rows())) for title in order}
    return tuple(
        Section(title=_capital(title), anchor=f"state-{number}", blocks=(table,))
        for number, (title, table) in enumerate(tables.items(), 1)
    )


def jumps(path: str, states: Iterable[Section]) -> Links:
    """The states with how many lines each has: where a reader goes first."""
    lines = []
    for one in states:
        (table,) = one.blocks
        nets = {net for row in table.rows for net in _nets(row)} if isinstance(table, Table) else set()
        told = f"{len(nets)} net{'s' * (len(nets) != 1)}" if nets else "nothing recorded: measure"
        lines.append(Line(words=one.title, path=f"{path}#{one.anchor}", note=told))
    return Links(lines=tuple(lines), nothing="")


def _nets(row: Row) -> Iterator[str]:
    assert isinstance(row.cells[0], tuple)
    yield from (one.words for one in row.cells[0] if isinstance(one, Line))


def _table(title: str, rows: tuple[Row, ...]) -> Table:
    return Table(
        caption=f"Still live: {title}",
        heads=("Net and its contacts", "Live from", "Prove it dead"),
        rows=rows,
        nothing="Nothing recorded keeps anything live here. That is what is recorded, not what is so: measure.",
        careful=True,
        quiet=True,
        name="live",
    )


def _cells(mbook: MachineBook, wiring: Wiring, net: LiveNet, fed: LiveNet | None) -> tuple[Cell, ...]:
    """One live net: its page, how sure, from what, what then stays, its point to prove it dead or the gap."""
    proofs: Cell = tuple(Line(words=point.words) for point in net.proofs) or Line(words=net.gap)
    return (
        net_line(mbook, net.net.name, "; ".join(_reached(net))),
        (f"{_capital(net.how.words)}: {_from(wiring, net)}", _once_gone(wiring, net, fed)),
        proofs,
    )


def _from(wiring: Wiring, net: LiveNet) -> str:
    return ", ".join(words_of_source(wiring, name) for name in net.surely_from)


def _once_gone(wiring: Wiring, net: LiveNet, fed: LiveNet | None) -> Line:
    """What stays when the charge is proved gone, in words that stand behind ``once stored charge is proved gone``."""
    if fed is None:
        told = "no source recorded: measure"
    elif (fed.surely_from, fed.how) == (net.surely_from, net.how):
        told = "the same"
    else:
        told = f"{fed.how.words}, {_from(wiring, fed)}"
    return Line(words="Once stored charge is proved gone:", note=told)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _reached(net: LiveNet) -> Iterator[str]:
    """What the net carries, its contacts but the one it is named by, and the loose ends it reaches."""
    if net.label:
        yield net.label
    others = [shown(one) for one in net.contacts if one != net.net.name]
    if others:
        more = len(others) - MOST_CONTACTS
        yield f"{', '.join(others[:MOST_CONTACTS])}{f' and {more} more' if more > 0 else ''}"
    yield from (f"loose end {one}" for one in net.loose)


def merged(rows: Iterable[Row]) -> tuple[Row, ...]:
    """Nets that live from the same, on the same machines, and are proved dead at the same points, in one row."""
    found: dict[tuple[Cell, Applies | None], list[Cell]] = {}
    for row in rows:
        found.setdefault((row.cells[1:], row.applies), []).append(row.cells[0])
    return tuple(
        Row(cells=(tuple(nets), *rest), applies=applies)  # type: ignore[misc]
        for (rest, applies), nets in found.items()
    )
