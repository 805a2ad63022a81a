"""The wire list of a machine and the connection table of a connector or item: the two lists people work from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypeVar

from benchleaf.drawings.colours import Reading, read_colour
from benchleaf.frozen import dataclass
from benchleaf.records.wiring import Wires
from benchleaf.wiring.contacts import cable_of, contact_of, natural, role_of, shown
from benchleaf.wiring.graph import NOT_RECORDED, Kind
from benchleaf.wiring.trace import words_of_edge
from benchleaf.wiring.wiring import Wiring

T = TypeVar("T")
NOT_SAID = "not recorded"


@dataclass(frozen=True, slots=True, kw_only=True)
class WireRow:
    """One wire: ``number`` from 1 in map order, contacts at both ends (``parked.1`` of a plug left free).

    ``colour`` reads the code by IEC 60757; ``None``, and empty ``gauge`` and ``rated``, are not recorded.
    """

    cable: str
    number: int
    a: str
    b: str
    colour: Reading | None
    gauge: str
    rated: str

    @property
    def colour_words(self) -> str:
        """``red (RD)``; ``not recorded``."""
        return f"{self.colour.words} ({self.colour.written})" if self.colour is not None else NOT_SAID


def wire_list(wiring: Wiring, cable: str | None = None) -> tuple[WireRow, ...]:
    """Every recorded wire, by cable and map order; of one cable where it is named."""
    rows = [
        _row(wiring, edge.by, edge.wire, edge.a, edge.b)
        for edge in wiring.graph.edges
        if edge.kind is Kind.WIRE and edge.wire is not None and cable in (None, edge.by)
    ]
    return tuple(sorted(rows, key=lambda row: (natural(row.cable), row.number, natural(row.a), natural(row.b))))


def _row(wiring: Wiring, cable: str, number: int, a: str, b: str) -> WireRow:
    wires = wiring.built.cables[cable].wires
    assert wires is not None
    first, second = _in_map_order(wiring, cable, contact_of(a), contact_of(b))
    colour = of_wire(wires.colours, number)
    gauge, rated = of_wire(wires.gauge, number), of_wire(wires.rated, number)
    return WireRow(
        cable=cable,
        number=number + 1,
        a=first,
        b=second,
        colour=read_colour(str(colour)) if colour is not None else None,
        gauge=gauge.tidy if gauge is not None else "",
        rated=rated.tidy if rated is not None else "",
    )


def _in_map_order(wiring: Wiring, cable: str, one: str, two: str) -> tuple[str, str]:
    """The end written first in the cable's ends first."""
    ends = [str(end.at) for end in wiring.built.cables[cable].ends]

    def place(contact: str) -> int:
        owner = contact.partition(".")[0]
        owner = "parked" if owner.startswith("parked") else owner
        return next((n for n, at in enumerate(ends) if at in (owner, contact)), len(ends))

    return (one, two) if place(one) <= place(two) else (two, one)


def of_wire(values: Sequence[T] | None, number: int) -> T | None:
    """What a list in map order says of one wire; a list of one holds for all."""
    if not values:
        return None
    return values[0] if len(values) == 1 else values[number] if number < len(values) else None


def rated_of(wires: Wires, number: int) -> float | None:
    """The least rated current of a wire in A; ``None`` = not recorded."""
    rated = of_wire(wires.rated, number)
    return rated.low if rated is not None else None


@dataclass(frozen=True, slots=True, kw_only=True)
class ConnectionRow:
    """One contact of a connector or item: what it is, the wire on it, where that goes, what it is joined to inside.

    ``to`` are contacts at the far ends of its wires, ``inside`` says in words what it is joined to in its item. What is
    not recorded is in ``gaps``, with what it counts as.
    """

    contact: str
    role: str
    wires: tuple[WireRow, ...]
    to: tuple[str, ...]
    inside: tuple[str, ...]
    net: str
    signals: tuple[str, ...]
    gaps: tuple[str, ...]


def connection_table(wiring: Wiring, owner: str) -> tuple[ConnectionRow, ...]:
    """The contacts of a connector or item in natural order; empty when it has none recorded."""
    by_end: dict[str, list[WireRow]] = {}
    for row in wire_list(wiring):
        for end in (row.a, row.b):
            by_end.setdefault(end, []).append(row)
    names = sorted(wiring.graph.contacts.get(owner, ()), key=natural)
    return tuple(_connection(wiring, f"{owner}.{name}", by_end) for name in names)


def _connection(wiring: Wiring, contact: str, by_end: dict[str, list[WireRow]]) -> ConnectionRow:
    rows = by_end.get(contact, [])
    signals = [
        str(signal.name or name)
        for name, signal in wiring.built.signals.items()
        if contact in {str(one) for one in (signal.from_, *(signal.to or ())) if one is not None}
    ]
    return ConnectionRow(
        contact=contact,
        role=role_of(wiring.built, contact),
        wires=tuple(rows),
        to=tuple(dict.fromkeys(row.b if row.a == contact else row.a for row in rows)),
        inside=tuple(dict.fromkeys(_inside(wiring, contact))),
        net=wiring.net_of[contact].name if contact in wiring.net_of else "",
        signals=tuple(signals),
        gaps=tuple(dict.fromkeys(_gaps(wiring, contact))),
    )


def _inside(wiring: Wiring, contact: str) -> Iterator[str]:
    for number in wiring.graph.at.get(contact, ()):
        edge = wiring.graph.edges[number]
        if edge.kind is Kind.COPPER:
            yield f"joined to {shown(edge.other(contact))}"
        elif edge.join is not None:
            yield f"{words_of_edge(edge)} to {shown(edge.other(contact))}"


def _gaps(wiring: Wiring, contact: str) -> Iterator[str]:
    graph = wiring.graph
    for node in wiring.net_of[contact].nodes if contact in wiring.net_of else ():
        if contact_of(node) != contact:
            continue
        for number in graph.at[node]:
            edge = graph.edges[number]
            if edge.kind in NOT_RECORDED and edge.untold:
                where = f"any contact of {edge.by}"
                yield f"{edge.kind.value if cable_of(node) else 'inside not recorded'}: it may reach {where}"
    owner = contact.partition(".")[0]
    if owner in wiring.unknown_ends:
        yield f"what is plugged in or landed at {owner} is not recorded: it counts as live"
