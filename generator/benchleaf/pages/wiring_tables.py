"""Contacts and wires as tables, put together over the machines that differ: the form a meter is read beside."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TypeVar

from benchleaf.applicability import Configuration
from benchleaf.built import Built
from benchleaf.drawings.colours import read_colour
from benchleaf.pages.book import MachineBook
from benchleaf.pages.shown import Cell, Line, Row, Table
from benchleaf.pages.values_shown import plain_value
from benchleaf.records.wiring import Cable, Connector
from benchleaf.wiring import configurations
from benchleaf.wiring.contacts import cable_of, contact_of, natural, owner_of, shown
from benchleaf.wiring.graph import Edge, Kind, is_hub
from benchleaf.wiring.wiring import Wiring

T = TypeVar("T")


def connectors_of(built: Built) -> Mapping[str, Connector]:
    return built.connectors


def cables_of(built: Built) -> Mapping[str, Cable]:
    return built.cables


def wiring_of(mbook: MachineBook, built: Built) -> Wiring:
    """The wiring of one configuration, remembered for the whole manual."""
    return configurations.wiring_of(mbook.book.derived, built)


def keyed_cell(one: Connector) -> Cell:
    if one.keyed is None:
        return None
    return ("yes" if one.keyed else "no") if isinstance(one.keyed, bool) else str(one.keyed)


def contact_cell(mbook: MachineBook, contact: str) -> Line:
    """``A1-J3:7`` with the page of its connector or item."""
    plain = contact_of(contact)
    return Line(words=shown(plain), path=mbook.owner_path(owner_of(plain)))


class Rows:
    """Rows gathered machine by machine; the same row on several machines is one."""

    def __init__(self, mbook: MachineBook) -> None:
        self.mbook = mbook
        self.on: dict[tuple[Cell, ...], set[Configuration]] = {}

    def add(self, cells: tuple[Cell, ...], configuration: Configuration) -> None:
        self.on.setdefault(cells, set()).add(configuration)

    def rows(self, everyone: set[Configuration] | None = None) -> tuple[Row, ...]:
        """The rows; ``everyone`` are the machines that have the thing at all: a row on all of them is for all."""
        return tuple(
            Row(cells=cells, applies=None if everyone is not None and on >= everyone else self.mbook.words_for(on))
            for cells, on in self.on.items()
        )


def wire_rows(mbook: MachineBook, cable: str) -> tuple[Row, ...]:
    """The wires of a cable: contact to contact, colour, gauge, rating."""
    gathered = Rows(mbook)
    having: set[Configuration] = set()
    for built in mbook.builts:
        record = built.cables.get(cable)
        if record is None:
            continue
        having.add(built.configuration)
        for edge in wires_of(mbook, built, cable):
            gathered.add((*_ends(mbook, edge), *_wire_cells(mbook, record, edge.wire)), built.configuration)
    return gathered.rows(having)


def wires_of(mbook: MachineBook, built: Built, cable: str) -> list[Edge]:
    """The recorded wires of a cable, in the order of its map."""
    graph = wiring_of(mbook, built).graph
    found = [edge for edge in graph.edges if edge.kind is Kind.WIRE and edge.by == cable]
    return sorted(found, key=lambda edge: (edge.wire if edge.wire is not None else 0, natural(edge.a)))


def _ends(mbook: MachineBook, edge: Edge) -> tuple[Cell, Cell]:
    return contact_cell(mbook, edge.a), contact_cell(mbook, edge.b)


def _wire_cells(mbook: MachineBook, cable: Cable, number: int | None) -> tuple[Cell, ...]:
    wires, style = cable.wires, mbook.book.style
    if wires is None:
        return (None, None, None)
    colour = _one_of(wires.colours, number)
    gauge = _one_of(wires.gauge, number)
    rated = _one_of(wires.rated, number)
    return (
        colour_words(str(colour)) if colour is not None else None,
        plain_value(gauge, wires.place_of("gauge"), style),
        plain_value(rated, wires.place_of("rated"), style),
    )


def _one_of(some: tuple[T, ...] | None, number: int | None) -> T | None:
    """One for all, or the one of a wire."""
    if not some:
        return None
    if len(some) == 1:
        return some[0]
    return some[number] if number is not None and number < len(some) else None


def colour_words(written: str) -> str:
    """``GNYE green-and-yellow``."""
    reading = read_colour(written)
    return f"{reading.code} {reading.words}" if reading.understood else reading.words


WIRE_HEADS = ("From", "To", "Colour", "Cross-section", "Rated")


def wire_table(mbook: MachineBook, cable: str) -> Table:
    record = mbook.machine.wiring.cables[cable]
    nothing = "Its wires are not recorded: any contact may reach any."
    if record.wires is not None and record.wires.map is None:
        nothing = "Which contact goes to which is not recorded: any contact may reach any."
    return Table(
        caption=f"Wires of {cable}", heads=WIRE_HEADS, rows=wire_rows(mbook, cable), nothing=nothing, quiet=True
    )


def contact_rows(mbook: MachineBook, owner: str) -> tuple[Row, ...]:
    """The contacts of a connector or item: role, what leads there through the cable, what joins it inside."""
    gathered = Rows(mbook)
    having: set[Configuration] = set()
    for built in mbook.builts:
        if owner not in built.connectors and owner not in built.items:
            continue
        having.add(built.configuration)
        wiring = wiring_of(mbook, built)
        for own in sorted(wiring.graph.contacts.get(owner, ()), key=natural):
            gathered.add(_contact_cells(mbook, built, wiring, owner, own), built.configuration)
    return gathered.rows(having)


def _contact_cells(mbook: MachineBook, built: Built, wiring: Wiring, owner: str, own: str) -> tuple[Cell, ...]:
    connector = built.connectors.get(owner)
    role: Cell = "–"
    if connector is not None:
        role = str((connector.contacts or {}).get(own, "")) or None
    node = f"{owner}.{own}"
    away = tuple(dict.fromkeys(_led_to(mbook, wiring, node)))
    inside = tuple(dict.fromkeys(_joined(mbook, wiring, node)))
    return (own, role, away or "–", inside or "–")


def _led_to(mbook: MachineBook, wiring: Wiring, node: str) -> Iterator[Line]:
    """Through its cable: the contacts at the other ends."""
    graph = wiring.graph
    halves = [
        node,
        *(
            graph.edges[n].other(node)
            for n in graph.at.get(node, ())
            if graph.edges[n].kind in (Kind.MATED, Kind.LANDED)
        ),
    ]
    for half in halves:
        for number in graph.at.get(half, ()):
            edge = graph.edges[number]
            if edge.kind is Kind.WIRE:
                line = contact_cell(mbook, edge.other(half))
                yield Line(words=line.words, path=line.path, note=edge.by)
            elif edge.kind is Kind.WIRES_NOT_RECORDED and cable_of(half):
                yield Line(words="any contact", note=f"{cable_of(half)}: wires not recorded")


def _joined(mbook: MachineBook, wiring: Wiring, node: str) -> Iterator[Line]:
    """Inside its item: what it is joined to, and by what."""
    graph = wiring.graph
    for number in graph.at.get(node, ()):
        edge = graph.edges[number]
        if edge.kind in (Kind.WIRE, Kind.MATED, Kind.LANDED):
            continue
        other = edge.other(node)
        if is_hub(other):
            yield Line(words="anything in it", note="not recorded")
            continue
        line = contact_cell(mbook, other)
        label = f" ({edge.join.label})" if edge.join is not None and edge.join.label else ""
        yield Line(words=line.words, path=line.path, note=f"{edge.kind.value}{label}")


CONTACT_HEADS = ("Contact", "Role", "Leads to", "Joined inside to")


def contact_table(mbook: MachineBook, owner: str) -> Table:
    rows = contact_rows(mbook, owner)
    return Table(
        caption=f"Contacts of {owner}",
        heads=CONTACT_HEADS,
        rows=rows,
        nothing="No contact is recorded.",
        quiet=True,
        name="contacts",
    )
