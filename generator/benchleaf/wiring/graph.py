"""The wiring of one machine as built, as nodes and edges.

A node is a contact. The two halves of a connector are two nodes: the half fixed on its host bears the contact's name
(``A1-J3.7``), the half on a cable is ``W3@A1-J3.7``. The end of a fixed lead is a node of its own too, landed on its
contact, so that a loose plug and a lifted lead stay on the map. What was not recorded is an edge of its own kind: it may
conduct, and it never protects.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import Enum

from benchleaf.built import Built
from benchleaf.diagnostics import Place
from benchleaf.records.wiring import Cable, CableEnd, Connector, Join
from benchleaf.text import NOWHERE

UNKNOWN_CONTACT = "?"
EMPTY = "-"


class Kind(Enum):
    """What an edge is. The words are what pages and messages say."""

    WIRE = "wire"
    MATED = "connector"
    LANDED = "lead"
    COPPER = "copper"
    FUSE = "fuse"
    SWITCH = "switch"
    RELAY = "relay contact"
    LOAD = "load"
    DRIVER = "driver"
    CONVERSION = "conversion"
    WIRES_NOT_RECORDED = "wires not recorded"
    INSIDE_NOT_RECORDED = "inside not recorded"


COPPER = frozenset({Kind.WIRE, Kind.MATED, Kind.LANDED, Kind.COPPER})
"""What conducts and protects: recorded copper."""
THROUGH = frozenset({Kind.LOAD, Kind.DRIVER, Kind.CONVERSION})
"""What can carry a voltage on, without being a joint of copper."""
NOT_RECORDED = frozenset({Kind.WIRES_NOT_RECORDED, Kind.INSIDE_NOT_RECORDED})
_JOINS = {
    "copper": Kind.COPPER, "fuse": Kind.FUSE, "switch": Kind.SWITCH, "relay": Kind.RELAY, "load": Kind.LOAD,
    "driver": Kind.DRIVER,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Edge:
    """What joins two nodes. ``by`` is the cable, item or connector; ``join`` the record of a join inside an item."""

    a: str
    b: str
    kind: Kind
    by: str
    place: Place = NOWHERE
    join: Join | None = field(default=None, compare=False)
    wire: int | None = None
    """The number of the wire in the cable's map, from 0."""

    def other(self, node: str) -> str:
        return self.b if node == self.a else self.a


@dataclass(frozen=True)
class Graph:
    """Nodes and edges in a fixed order. ``at`` gives the numbers of the edges at a node."""

    nodes: tuple[str, ...]
    edges: tuple[Edge, ...]
    at: Mapping[str, tuple[int, ...]]


def end_node(cable: str, at: str, contact: str) -> str:
    """The node of a cable's own half of a contact: ``W3@A1-J3.7``."""
    return f"{cable}@{at}.{contact}"


def contact_of(node: str) -> str:
    """The contact a node is at, without the cable whose half it is: ``A1-J3.7``."""
    return node.rpartition("@")[2]


def cable_of(node: str) -> str:
    """The cable whose half a node is; empty for the fixed half."""
    return node.rpartition("@")[0]


def owner_of(node: str) -> str:
    """The connector or item a node is a contact of."""
    return contact_of(node).partition(".")[0]


def make_graph(built: Built) -> Graph:
    """The graph of a machine as built. Nodes and edges come sorted: same machine, same graph."""
    contacts = contacts_of_owners(built)
    edges = [*_cable_edges(built, contacts), *_join_edges(built, contacts), *_conversions(built, contacts)]
    nodes = {f"{owner}.{contact}" for owner, names in contacts.items() for contact in names}
    nodes |= {node for edge in edges for node in (edge.a, edge.b)}
    edges.sort(key=lambda e: (e.a, e.b, e.kind.value, e.by, e.wire or 0))
    at: dict[str, list[int]] = {node: [] for node in nodes}
    for number, edge in enumerate(edges):
        at[edge.a].append(number)
        at[edge.b].append(number)
    return Graph(tuple(sorted(nodes)), tuple(edges), {node: tuple(found) for node, found in at.items()})


def contacts_of_owners(built: Built) -> dict[str, tuple[str, ...]]:
    """Connector or item → its contacts: those recorded, and those any wiring record names, in that order.

    A connector of which no contact is recorded has the contact ``?``: something is there that nobody wrote down.
    """
    found: dict[str, dict[str, None]] = {}
    for name, connector in built.connectors.items():
        found[name] = dict.fromkeys(connector.contacts or ())
    for contact in _named_contacts(built):
        owner, _, own = contact.partition(".")
        if owner in built.connectors or owner in built.items:
            found.setdefault(owner, {})[own] = None
    for cable in built.cables.values():
        for number, pairs in enumerate(_pairs_by_end(cable)):
            at = str(cable.ends[number].at)
            if at in built.connectors or at in built.items:
                found.setdefault(at, {}).update(dict.fromkeys(pairs))
    for cable in built.cables.values():
        if cable.wires is not None and isinstance(cable.wires.map, str):
            known = next((found[str(end.at)] for end in cable.ends if found.get(str(end.at))), {})
            for end in cable.ends:
                if not found.get(str(end.at)) and (end.at in built.connectors or end.at in built.items):
                    found.setdefault(str(end.at), {}).update(known)
    for name in built.connectors:
        if not found[name]:
            found[name][UNKNOWN_CONTACT] = None
    return {owner: tuple(names) for owner, names in sorted(found.items())}


def _named_contacts(built: Built) -> Iterator[str]:
    for joins in built.joins.values():
        for join in joins:
            yield from join.between
            yield from join.coil or ()
    for source in built.sources.values():
        for group in (source.at, source.return_, source.earth):
            yield from group or ()
    for signal in built.signals.values():
        yield from (*((signal.from_,) if signal.from_ else ()), *(signal.to or ()))
    for energy in built.energy.values():
        for proof in energy.prove_dead or ():
            yield from proof.between or ()
        for store in energy.stored or ():
            yield from store.between or ()
    for cable in built.cables.values():
        yield from (str(end.at) for end in cable.ends if "." in end.at)


def _pairs_by_end(cable: Cable) -> tuple[tuple[str, ...], ...]:
    """For each end, the contact names that the cable's map names there."""
    made: list[dict[str, None]] = [{} for _ in cable.ends]
    for pair in wire_pairs(cable):
        for number, contact in pair:
            made[number][contact] = None
    return tuple(tuple(names) for names in made)


def wire_pairs(cable: Cable) -> tuple[tuple[tuple[int, str], tuple[int, str]], ...]:
    """The wires of a map written as pairs: ``((end number, contact), (end number, contact))`` each, in map order."""
    if cable.wires is None or not isinstance(cable.wires.map, tuple):
        return ()
    made = []
    for one, two in cable.wires.map:
        first, second = _end_of(cable, one, 0), _end_of(cable, two, 1)
        if first is not None and second is not None:
            made.append((first, second))
    return tuple(made)


def _end_of(cable: Cable, contact: str, otherwise: int) -> tuple[int, str] | None:
    """``A1-J3.1`` stands at the end of that name; a bare contact at the first or second end, by its place in the pair."""
    owner, dot, own = contact.rpartition(".")
    if not dot:
        return (otherwise, contact) if otherwise < len(cable.ends) else None
    for number, end in enumerate(cable.ends):
        if end.at == owner or end.at == contact:
            return number, own
    return None


def _cable_edges(built: Built, contacts: Mapping[str, tuple[str, ...]]) -> Iterator[Edge]:
    for name, cable in built.cables.items():
        halves = [_half(name, end, contacts, _pairs_by_end(cable)[n], built) for n, end in enumerate(cable.ends)]
        for end, half in zip(cable.ends, halves, strict=True):
            if end.at.is_parked or _is_own(name, end):
                continue
            kind = Kind.MATED if end.at in built.connectors else Kind.LANDED
            for contact, node in half.items():
                fixed = str(end.at) if "." in end.at else f"{end.at}.{contact}"
                yield Edge(node, fixed, kind, str(end.at), end.place)
        wired: set[str] = set()
        for edge in _wires(name, cable, halves):
            wired |= {edge.a, edge.b}
            yield edge
        yield from _loose_ends(name, cable, halves, wired, built)


def _is_own(cable: str, end: CableEnd) -> bool:
    """Whether the end is a connector that hangs on this very cable: its wires go into the fixed half itself."""
    return str(end.at).rpartition("-")[0] == cable


def _half(
    cable: str, end: CableEnd, contacts: Mapping[str, tuple[str, ...]], named: tuple[str, ...], built: Built
) -> dict[str, str]:
    """Contact → node of the cable's half at this end."""
    if end.at.is_parked:
        told = tuple(end.plug.contacts or ()) if end.plug is not None else ()
        names: Iterable[str] = dict.fromkeys((*told, *named)) or (UNKNOWN_CONTACT,)
    elif "." in end.at:
        names = dict.fromkeys((str(end.at).partition(".")[2], *named))
        return dict.fromkeys(names, end_node(cable, *str(end.at).split(".", 1)))
    else:
        told = tuple(end.plug.contacts or ()) if end.plug is not None else ()
        names = dict.fromkeys((*told, *contacts.get(str(end.at), ()), *named)) or (UNKNOWN_CONTACT,)
    if _is_own(cable, end):
        return {name: f"{end.at}.{name}" for name in names}
    return {name: end_node(cable, str(end.at), name) for name in names}


def _wires(name: str, cable: Cable, halves: list[dict[str, str]]) -> Iterator[Edge]:
    """The recorded wires. ``straight`` joins the same contact of every end, ``reversed`` the first two end to end."""
    if cable.wires is None or cable.wires.map is None:
        return
    place = cable.wires.place
    if isinstance(cable.wires.map, tuple):
        for number, ((one, a), (two, b)) in enumerate(wire_pairs(cable)):
            if a in halves[one] and b in halves[two]:
                yield Edge(halves[one][a], halves[two][b], Kind.WIRE, name, place, wire=number)
    elif cable.wires.map == "straight":
        for other in halves[1:]:
            for number, contact in enumerate(halves[0]):
                if contact in other and contact != UNKNOWN_CONTACT:
                    yield Edge(halves[0][contact], other[contact], Kind.WIRE, name, place, wire=number)
    elif len(halves) > 1:
        for number, (a, b) in enumerate(zip(halves[0].values(), reversed(halves[1].values()), strict=False)):
            yield Edge(a, b, Kind.WIRE, name, place, wire=number)


def _loose_ends(name: str, cable: Cable, halves: list[dict[str, str]], wired: set[str], built: Built) -> Iterator[Edge]:
    """Contacts of a cable that no recorded wire names may reach any contact of it, unless recorded as empty."""
    unwired = [
        node
        for number, half in enumerate(halves)
        for contact, node in half.items()
        if node not in wired and not _is_empty(cable.ends[number], contact, built)
    ]
    if not unwired:
        return
    hub = f"{name}@?"
    everything = sorted({node for half in halves for node in half.values()})
    if len(everything) > 1:
        reached = everything if len(unwired) > 0 else []
        for node in reached:
            yield Edge(hub, node, Kind.WIRES_NOT_RECORDED, name, cable.place)


def _is_empty(end: CableEnd, contact: str, built: Built) -> bool:
    """Whether a contact is recorded as empty (role ``-``) on the cable's half or where it is plugged."""
    told = end.plug.contacts if end.plug is not None else None
    if told is not None:
        return told.get(contact) == EMPTY
    return role_of(built, f"{end.at}.{contact}") == EMPTY


def role_of(built: Built, contact: str) -> str:
    """The recorded role of a contact; empty when not recorded."""
    owner, _, own = contact.partition(".")
    connector: Connector | None = built.connectors.get(owner)
    return str((connector.contacts or {}).get(own, "")) if connector is not None else ""


def _join_edges(built: Built, contacts: Mapping[str, tuple[str, ...]]) -> Iterator[Edge]:
    for item in built.items:
        mine = [f"{item}.{name}" for name in contacts.get(item, ())]
        for connector in built.connectors_of.get(item, ()):
            mine += [f"{connector}.{name}" for name in contacts[connector]]
        joins = built.joins.get(item, ())
        told: set[str] = set()
        for join in joins:
            kind = _JOINS[join.kind or "copper"]
            told.update(join.between)
            told.update(join.coil or ())
            first, *rest = join.between
            for other in rest:
                yield Edge(str(first), str(other), kind, item, join.place, join)
            if join.coil is not None:
                yield Edge(str(join.coil[0]), str(join.coil[1]), Kind.LOAD, item, join.place, join)
        untold = [node for node in mine if node not in told and role_of(built, node) != EMPTY]
        if untold and len(mine) > 1:
            place = built.items[item].place
            for node in mine if len(untold) else ():
                if role_of(built, node) != EMPTY:
                    yield Edge(f"{item}@?", node, Kind.INSIDE_NOT_RECORDED, item, place)


def _conversions(built: Built, contacts: Mapping[str, tuple[str, ...]]) -> Iterator[Edge]:
    """A conversion conducts backward, unless it is recorded as one-way: its outputs to the rest of its host."""
    for name, source in built.sources.items():
        if source.from_ is None or source.one_way:
            continue
        outputs = {str(one) for group in (source.at, source.return_, source.earth) for one in group or ()}
        hosts = {item for one in source.at if (item := built.item_of_contact(str(one))) is not None}
        for host in sorted(hosts):
            owners = (host, *built.connectors_of.get(host, ()))
            inputs = [f"{owner}.{own}" for owner in owners for own in contacts.get(owner, ())]
            for one in source.at:
                for node in inputs:
                    if node not in outputs and role_of(built, node) not in (EMPTY, "PE"):
                        yield Edge(str(one), node, Kind.CONVERSION, name, source.place)
