"""The edges of cables: each wire between its own ends, each end to where it is plugged or landed, and what is unknown.

A wire stays an edge between its own ends whatever is open. A contact of a cable that no recorded wire names may reach
any contact of that cable, unless its place is recorded as empty. A terminal that no lead of any cable accounts for may
hold a lead of each cable that ends at its item.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from benchleaf.built import Built
from benchleaf.frozen import dataclass
from benchleaf.records.wiring import Cable, CableEnd
from benchleaf.wiring.contacts import EMPTY, UNKNOWN_CONTACT, named_by_end, role_of, wire_pairs
from benchleaf.wiring.graph import Edge, Kind, end_node, hub_node

Contacts = Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Half:
    """One end of a cable: its contacts by name with their nodes. ``empty`` are places without a contact."""

    end: CableEnd
    nodes: Mapping[str, str]
    empty: frozenset[str]
    hangs: bool
    """The end is a connector that hangs on this very cable: its wires go into the fixed half itself."""


def cable_edges(built: Built, contacts: Contacts) -> Iterator[Edge]:
    """Every edge of every cable."""
    accounted = _accounted(built, contacts)
    for name, cable in built.cables.items():
        yield from _edges_of(built, name, cable, contacts, accounted)


def _edges_of(built: Built, name: str, cable: Cable, contacts: Contacts, accounted: frozenset[str]) -> Iterator[Edge]:
    halves = _halves(built, name, cable, contacts, whole=False)
    wires = list(_wires(name, cable, halves))
    untold = _untold(cable, halves, wires)
    loose = _unaccounted(built, cable, contacts, accounted)
    if untold or loose:
        wired = {node for edge in wires for node in (edge.a, edge.b)}
        bare = [number for number, half in enumerate(halves) if set(half.nodes) == {UNKNOWN_CONTACT}]
        halves = _halves(built, name, cable, contacts, whole=True)
        untold |= _at_terminals(halves, loose) - wired
        untold |= {node for number in bare for node in halves[number].nodes.values()}
    yield from _joints(built, halves, contacts)
    yield from wires
    everything = sorted({node for half in halves for own, node in half.nodes.items() if own not in half.empty})
    if untold and len(everything) > 1:
        for node in everything:
            yield Edge(hub_node(name), node, Kind.WIRES_NOT_RECORDED, name, cable.place, untold=node in untold)


def _at_terminals(halves: list[Half], loose: frozenset[str]) -> frozenset[str]:
    """The nodes that a lead at one of these terminals would be."""
    return frozenset(
        node for half in halves for own, node in half.nodes.items() if f"{half.end.at.partition('.')[0]}.{own}" in loose
    )


def _accounted(built: Built, contacts: Contacts) -> frozenset[str]:
    """The terminals of items of which some cable says that its lead lands there."""
    found: set[str] = set()
    for name, cable in built.cables.items():
        for half, named in zip(_halves(built, name, cable, contacts, whole=False), named_by_end(cable), strict=True):
            at = half.end.at
            if "." in at:
                found.add(str(at))
            elif at in built.items:
                straight = cable.wires is not None and isinstance(cable.wires.map, str)
                found |= {f"{at}.{own}" for own in (half.nodes if straight else named)}
    return frozenset(found)


def _unaccounted(built: Built, cable: Cable, contacts: Contacts, accounted: frozenset[str]) -> frozenset[str]:
    """The terminals of the items this cable ends at that no lead accounts for."""
    return frozenset(
        f"{end.at}.{own}"
        for end in cable.ends
        if end.at in built.items
        for own in contacts.get(str(end.at), ())
        if f"{end.at}.{own}" not in accounted
    )


def _halves(built: Built, name: str, cable: Cable, contacts: Contacts, whole: bool) -> list[Half]:
    """The ends of a cable. ``whole``: a lead end takes in every terminal of its item, not only those named."""
    named = named_by_end(cable)
    straight = cable.wires is not None and isinstance(cable.wires.map, str)
    mapped = cable.wires is not None and isinstance(cable.wires.map, tuple)
    made: list[Half] = []
    parked = 0
    for number, end in enumerate(cable.ends):
        told = end.plug.contacts if end.plug is not None else None
        elsewhere = [own for own in _of_other_ends(built, cable, number, contacts) if straight]
        at = str(end.at)
        if end.at.is_parked:
            parked += 1
            at = "parked" if parked == 1 else f"parked-{parked}"
            names: Iterable[str] = (*(told or elsewhere), *named[number])
        elif "." in at:
            own = at.partition(".")[2]
            node = end_node(name, *at.split(".", 1))
            made.append(Half(end, dict.fromkeys((own, *named[number]), node), frozenset(), False))
            continue
        elif at in built.items:
            here = contacts.get(at, ())
            if whole or not (straight or mapped):
                names = (*here, *named[number])
            elif straight:
                names = [own for own in here if own in set(elsewhere)]
            else:
                names = named[number]
        else:
            names = (*(contacts.get(at, ()) if told is None else told), *named[number])
        names = dict.fromkeys(names) or (UNKNOWN_CONTACT,)
        hangs = at.rpartition("-")[0] == name
        nodes = {own: f"{at}.{own}" if hangs else end_node(name, at, own) for own in names}
        empty = frozenset(own for own in nodes if _is_empty(built, end, own))
        made.append(Half(end, nodes, empty, hangs))
    return made


def _of_other_ends(built: Built, cable: Cable, number: int, contacts: Contacts) -> Iterator[str]:
    for other, end in enumerate(cable.ends):
        if other == number:
            continue
        if end.plug is not None and end.plug.contacts is not None:
            yield from end.plug.contacts
        elif "." in end.at:
            yield end.at.partition(".")[2]
        else:
            yield from contacts.get(str(end.at), ())


def _is_empty(built: Built, end: CableEnd, own: str) -> bool:
    """Whether a place is recorded as empty on the cable's half, or, where that is not described, on the fixed half."""
    told = end.plug.contacts if end.plug is not None else None
    if told is not None:
        return told.get(own) == EMPTY
    return role_of(built, f"{end.at}.{own}") == EMPTY


def _joints(built: Built, halves: list[Half], contacts: Contacts) -> Iterator[Edge]:
    """Where the cable's own contacts meet what is fixed."""
    for half in halves:
        at = str(half.end.at)
        owner = at.partition(".")[0]
        if half.end.at.is_parked or half.hangs or not (owner in built.connectors or owner in built.items):
            continue
        kind = Kind.MATED if at in built.connectors else Kind.LANDED
        here = contacts.get(owner, ())
        for own, node in half.nodes.items():
            fixed = at if "." in at else f"{at}.{own}"
            if own in half.empty or role_of(built, fixed) == EMPTY:
                continue
            if fixed.partition(".")[2] in here:
                yield Edge(node, fixed, kind, at, half.end.place)


def _wires(name: str, cable: Cable, halves: list[Half]) -> Iterator[Edge]:
    """The recorded wires. ``straight`` joins the same contact of every end, ``reversed`` the first two end to end."""
    if cable.wires is None or cable.wires.map is None:
        return
    place = cable.wires.place
    if isinstance(cable.wires.map, tuple):
        for number, pair in enumerate(wire_pairs(cable)):
            if pair is not None:
                (one, a), (two, b) = pair
                yield Edge(halves[one].nodes[a], halves[two].nodes[b], Kind.WIRE, name, place, wire=number)
        return
    number = 0
    if cable.wires.map == "straight":
        for own in _order(halves):
            there = [half.nodes[own] for half in halves if own in half.nodes and own not in half.empty]
            for other in there[1:]:
                yield Edge(there[0], other, Kind.WIRE, name, place, wire=number)
            number += len(there) > 1
    elif len(halves) > 1:
        for a, b in zip(halves[0].nodes, reversed(list(halves[1].nodes)), strict=False):
            if UNKNOWN_CONTACT not in (a, b) and a not in halves[0].empty and b not in halves[1].empty:
                yield Edge(halves[0].nodes[a], halves[1].nodes[b], Kind.WIRE, name, place, wire=number)
                number += 1


def _order(halves: list[Half]) -> list[str]:
    return [own for own in dict.fromkeys(own for half in halves for own in half.nodes) if own != UNKNOWN_CONTACT]


def _untold(cable: Cable, halves: list[Half], wires: list[Edge]) -> frozenset[str]:
    """The nodes of a cable of which no record says where their wire goes; all of them where the map cannot be whole."""
    if _is_short(cable, wires):
        return frozenset(node for half in halves for own, node in half.nodes.items() if own not in half.empty)
    wired = {node for edge in wires for node in (edge.a, edge.b)}
    straight = cable.wires is not None and cable.wires.map == "straight"
    empty = {own for half in halves for own in half.empty} if straight else set()
    return frozenset(
        node
        for half in halves
        for own, node in half.nodes.items()
        if node not in wired and own not in half.empty and own not in empty
    )


def _is_short(cable: Cable, wires: list[Edge]) -> bool:
    """Whether colours, gauges or ratings are listed for more wires than the map has."""
    if cable.wires is None or not isinstance(cable.wires.map, tuple):
        return False
    lists = (cable.wires.colours, cable.wires.gauge, cable.wires.rated)
    return any(one is not None and len(one) > max(1, len(cable.wires.map)) for one in lists)
