"""The wires of a recorded cable, and the joins of an item, as a meter should read them.

Which wire is which follows the cable's map; gauge and rating are one for all wires, or one each in map order. What was
not recorded gives no value, only the words that say so.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeVar

from benchleaf.built import Built
from benchleaf.records.wiring import Cable, Join
from benchleaf.values.conductors import Conductor, Expected, expected_resistance, fuse_words
from benchleaf.values.origin import Origin, Recorded
from benchleaf.values.quantity import Quantity
from benchleaf.values.recorded import highest, origin_in
from benchleaf.wiring.graph import Graph, Kind, contact_of, make_graph

T = TypeVar("T")
_JOINTS = (Kind.MATED, Kind.LANDED)


@dataclass(frozen=True, slots=True, kw_only=True)
class WireValue:
    """One recorded wire of a cable: ``name`` is ``W3 from PS1-J2:1 to A1-J1:1``, ``expected`` what a meter reads."""

    cable: str
    number: int
    ends: tuple[str, str]
    conductor: Conductor
    expected: Expected
    rated: Quantity | None = None

    @property
    def name(self) -> str:
        one, other = (end.replace(".", ":") for end in self.ends)
        return f"{self.cable} from {one} to {other}"


def conductor_of(cable: Cable, number: int, *, contacts: int = 2, leads_zeroed: bool = False) -> Conductor:
    """Wire ``number`` (from 0, in map order) of a cable, with where each fact is written.

    ``contacts`` are those between the probes: 2 when both ends are mated, 0 when probing the bare wire.
    """
    wires = cable.wires
    gauge = one_of(wires.gauge, number) if wires is not None else None
    length = highest(cable.length)
    origins: dict[str, Origin | None] = {
        "length": origin_in(length),
        "gauge": Recorded(gauge.tidy, wires.place_of("gauge")) if wires is not None and gauge is not None else None,
    }
    return Conductor(
        gauge=gauge,
        length=length.quantity if length is not None else None,
        contacts=contacts,
        leads_zeroed=leads_zeroed,
        origins={key: origin for key, origin in origins.items() if origin is not None},
    )


def one_of(given: tuple[T, ...] | None, number: int) -> T | None:
    """One for all, or the one of this wire; ``None`` when not recorded or the list is too short."""
    if not given:
        return None
    return given[0] if len(given) == 1 else given[number] if number < len(given) else None


def rated_of(cable: Cable, number: int) -> Quantity | None:
    """The current wire ``number`` is rated for; ``None`` = not recorded."""
    return one_of(cable.wires.rated, number) if cable.wires is not None else None


def wires_of(built: Built, graph: Graph | None = None) -> Iterator[WireValue]:
    """Every recorded wire of a machine as built with what it should read, everything plugged, power off."""
    graph = graph if graph is not None else make_graph(built)
    for edge in graph.edges:
        if edge.kind is not Kind.WIRE or edge.by not in built.cables or edge.wire is None:
            continue
        cable = built.cables[edge.by]
        joints = sum(graph.edges[n].kind in _JOINTS for node in (edge.a, edge.b) for n in graph.at[node])
        conductor = conductor_of(cable, edge.wire, contacts=joints)
        yield WireValue(
            cable=edge.by,
            number=edge.wire,
            ends=(contact_of(edge.a), contact_of(edge.b)),
            conductor=conductor,
            expected=expected_resistance(conductor),
            rated=rated_of(cable, edge.wire),
        )


def join_words(join: Join) -> str:
    """What a meter should read across a join inside an item, power off, as recorded."""
    if join.kind in (None, "copper"):
        return "conducts, as copper does"
    if join.kind == "fuse":
        cold = highest(join.cold)
        return fuse_words(cold.quantity if cold is not None else None, join.rating)
    if join.kind == "driver":
        return "not tested: what is inside is not recorded"
    if join.kind in ("switch", "relay"):
        at_rest = {"open": "open when not operated", "closed": "conducts when not operated"}
        return at_rest.get(join.rest or "", "its state when not operated is not recorded: operate it and read both")
    read = highest(join.resistance)
    if read is None:
        return "resistance not recorded: compare with one known to be good"
    return f"{read.quantity}"
