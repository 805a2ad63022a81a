"""How much voltage is lost along the wires to a load at the current it is recorded to draw, and whether they bear it.

Only the wires that end at the load itself are reckoned. The limit is 5 % of the supply's recorded voltage (IEC 60204-1
12.5, from memory); where no contact of the wire says its voltage, there is nothing to compare with.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from benchleaf.built import Built
from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass
from benchleaf.records.wiring import Join
from benchleaf.text import Text
from benchleaf.values.conductor_of_cable import conductor_of, rated_of
from benchleaf.values.conductors import Drop, supply_drop
from benchleaf.values.origin import Recorded
from benchleaf.values.quantity import Dimension, Quantity, make_quantity, read_quantity
from benchleaf.values.recorded import highest, origin_in
from benchleaf.wiring.graph import Edge, Graph, Kind, contact_of, make_graph

ALLOWED = 0.05
ALLOWED_SOURCE = "IEC 60204-1 12.5, from memory"
_JOINTS = (Kind.MATED, Kind.LANDED)


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadWire:
    """One wire that ends at a load: what it loses and what it is rated for.

    ``nominal`` is the voltage a contact at either end is recorded to carry, with where it says so.
    """

    load: str
    cable: str
    number: int
    contacts: tuple[str, str]
    current: Quantity
    place: Place
    drop: Drop
    nominal: Quantity | None = None
    nominal_at: Recorded | None = None
    rated: Quantity | None = None

    @property
    def is_overloaded(self) -> bool:
        """Whether the load draws more than the wire is rated for; a rating not recorded is no answer."""
        if self.rated is None or self.rated.high is None or self.current.high is None:
            return False
        return self.current.high > self.rated.high

    @property
    def words(self) -> str:
        """One line for a page: ``W13 to M3: up to 0.022 V at 0.1 A, within the limit of 1.2 V``."""
        return f"{self.cable} to {self.load}: {self.drop.words}"


def loads_of(built: Built, graph: Graph | None = None) -> Iterator[LoadWire]:
    """Every wire that ends at a load with a recorded current, on a machine as built."""
    loads = [(i, join) for i, joins in built.joins.items() for join in joins if join.kind == "load" and join.draws]
    if not loads:
        return
    graph = graph if graph is not None else make_graph(built)
    for item, join in loads:
        seen: dict[tuple[str, int], list[Edge]] = {}
        for contact in join.between:
            for edge in _wires_at(graph, str(contact)):
                seen.setdefault((edge.by, edge.wire or 0), []).append(edge)
        for (cable, number), edges in sorted(seen.items()):
            made = _load_wire(built, graph, item, join, cable, number, edges[0])
            if made is not None:
                yield made


def _wires_at(graph: Graph, contact: str) -> Iterator[Edge]:
    """The recorded wires that land on a contact, or on copper inside the same item that is joined to it."""
    if contact not in graph.at:
        return
    seen, waiting = {contact}, [contact]
    while waiting:
        node = waiting.pop(0)
        for number in graph.at[node]:
            edge = graph.edges[number]
            other = edge.other(node)
            if edge.kind is Kind.WIRE:
                yield edge
            elif other not in seen and (edge.kind is Kind.COPPER or (edge.kind in _JOINTS and "@" not in node)):
                seen.add(other)
                waiting.append(other)


def _load_wire(
    built: Built, graph: Graph, item: str, join: Join, cable: str, number: int, edge: Edge
) -> LoadWire | None:
    draws = highest(join.draws)
    if draws is None or draws.quantity is None or cable not in built.cables:
        return None
    ends = (contact_of(edge.a), contact_of(edge.b))
    joints = sum(graph.edges[n].kind in _JOINTS for node in (edge.a, edge.b) for n in graph.at[node])
    conductor = conductor_of(built.cables[cable], number, contacts=joints)
    origin = origin_in(draws)
    if origin is not None:
        conductor = replace(conductor, origins={**conductor.origins, "current": origin})
    nominal, at = _nominal(built, ends)
    limit = None
    if nominal is not None and nominal.nominal is not None:
        limit = make_quantity(unit="V", nominal=ALLOWED * abs(nominal.nominal), kind=nominal.kind)
    return LoadWire(
        load=item,
        cable=cable,
        number=number,
        contacts=ends,
        current=draws.quantity,
        place=draws.place or join.place,
        drop=supply_drop(conductor, draws.quantity, limit, both_ways=True),
        nominal=nominal,
        nominal_at=at,
        rated=rated_of(built.cables[cable], number),
    )


def _nominal(built: Built, ends: tuple[str, str]) -> tuple[Quantity | None, Recorded | None]:
    """The voltage one of the wire's contacts is recorded to carry: ``24 V DC``; 0 V is the return, not a supply."""
    for end in ends:
        owner, _, own = end.partition(".")
        connector = built.connectors.get(owner)
        role = (connector.contacts or {}).get(own) if connector is not None else None
        read = read_quantity(str(role), expected=Dimension.VOLTAGE) if role else None
        if isinstance(read, Quantity) and read.nominal:
            place = role.place if isinstance(role, Text) else built.connectors[owner].place
            return read, Recorded(str(role), place)
    return None, None
