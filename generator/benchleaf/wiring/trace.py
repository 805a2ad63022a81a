"""Where a contact leads: to every end its wires reach, by what way, through what, with some ends open.

Copper and fuses are followed to their ends. A switch or relay contact is followed and said ("when closed"). A load, a
driver and what nobody recorded are crossed once, and what lies behind is said to be through it.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator, Mapping

from benchleaf.frozen import dataclass
from benchleaf.wiring.conduction import BY_HAND
from benchleaf.wiring.contacts import cable_of, contact_of, natural, role_of, shown
from benchleaf.wiring.graph import COPPER, NOT_RECORDED, THROUGH, Edge, Kind
from benchleaf.wiring.still_live import End
from benchleaf.wiring.wiring import Wiring

BY_COPPER, BEYOND_FUSE, WHEN_CLOSED, THROUGH_SOMETHING, MAY_REACH = range(5)
SORTS = ("copper", "beyond a fuse", "when closed", "through", "not recorded: may reach")


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a way: what is passed and the contact it comes out at."""

    kind: str
    by: str
    to: str

    @property
    def words(self) -> str:
        """``W3 to A1-J3:1``; ``through fuse F1 to F1:2``."""
        if self.kind == Kind.WIRE.value:
            return f"{self.by} to {shown(self.to)}"
        if self.kind == Kind.MATED.value:
            return f"plug of {self.by} at {shown(self.to)}"
        if self.kind == Kind.COPPER.value:
            return f"inside {self.by} to {shown(self.to)}"
        if self.kind in (Kind.WIRES_NOT_RECORDED.value, Kind.INSIDE_NOT_RECORDED.value):
            return f"{self.by}, {self.kind}, perhaps to {shown(self.to)}"
        return f"through {self.kind} {self.by} to {shown(self.to)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reached:
    """A contact that is reached. ``through`` names what lies between that is no copper; ``is_end``: something other
    than copper is there, or nothing at all. ``loose``: it is the plug or lead of an opened or parked end."""

    contact: str
    role: str
    sort: int
    through: tuple[str, ...]
    way: tuple[Step, ...]
    is_end: bool
    loose: bool

    @property
    def how(self) -> str:
        return SORTS[self.sort]


@dataclass(frozen=True, slots=True, kw_only=True)
class Trace:
    """Where one contact leads, nearest by copper first. ``sources`` are those that stand on something reached without a
    load between, with the contact they stand at."""

    contact: str
    net: str
    open_ends: tuple[End, ...]
    reached: tuple[Reached, ...]
    sources: tuple[tuple[str, str], ...]

    @property
    def ends(self) -> tuple[Reached, ...]:
        return tuple(one for one in self.reached if one.is_end)

    @property
    def same(self) -> tuple[object, ...]:
        """What two configurations must share for their traces to be told as one."""
        return (self.net, self.reached, self.sources)


def trace(wiring: Wiring, contact: str, open_ends: Iterable[End] = ()) -> Trace | None:
    """Where ``contact`` leads; ``None`` when no record names it. ``W3@A1-J3.7`` is the half on the cable."""
    if contact not in wiring.net_of:
        return None
    ends = tuple(sorted(set(open_ends)))
    cut = {edge for end in ends for edge in wiring.by_end.get(end, ())}
    found = _walk(wiring, contact, cut)
    opened = {wiring.graph.edges[number].a for number in cut}
    merged: dict[tuple[str, bool], Reached] = {}
    for node, (sort, way) in sorted(found.items(), key=lambda one: (one[1][0], len(one[1][1]), natural(one[0]))):
        if node == contact:
            continue
        loose = node in opened or contact_of(node).startswith("parked")
        name = contact_of(node)
        if (name, loose) not in merged and not (name == contact_of(contact) and not loose):
            merged[name, loose] = _reached(wiring, node, sort, way, loose, cut)
    here = {contact_of(node): sort for node, (sort, _) in found.items() if sort <= WHEN_CLOSED}
    sources = [(n, str(c)) for n, s in sorted(wiring.built.sources.items()) for c in s.at if str(c) in here]
    order = sorted(merged.values(), key=lambda one: (one.sort, len(one.through), natural(one.contact)))
    return Trace(
        contact=contact, net=wiring.net_of[contact].name, open_ends=ends, reached=tuple(order), sources=tuple(sources)
    )  # fmt: skip


Way = tuple[tuple[Edge, str], ...]
"""The edges passed, each with the node it comes out at."""


def _walk(wiring: Wiring, start: str, cut: set[int]) -> dict[str, tuple[int, Way]]:
    """Node → the worst that had to be passed and the way: the mildest and shortest one."""
    graph = wiring.graph
    first = start if start in graph.at else next(n for n in wiring.net_of[start].nodes if contact_of(n) == start)
    done: dict[str, tuple[int, Way]] = {}
    count = 0
    waiting: list[tuple[int, int, int, str, Way]] = [(BY_COPPER, 0, count, first, ())]
    while waiting:
        sort, length, _, node, way = heapq.heappop(waiting)
        if node in done:
            continue
        done[node] = (sort, way)
        for edge, there in _beyond(wiring, node, cut):
            passed = sort_of(edge.kind)
            if there in done or (sort >= THROUGH_SOMETHING and passed > BY_COPPER):
                continue  # crossed once: behind it only copper is followed
            count += 1
            heapq.heappush(waiting, (max(sort, passed), length + 1, count, there, (*way, (edge, there))))
    return done


def _beyond(wiring: Wiring, node: str, cut: set[int]) -> Iterator[tuple[Edge, str]]:
    """What a node is joined to, hubs passed over: a contact nobody told about may reach all, the others only those."""
    graph = wiring.graph
    for number in graph.at[node]:
        edge = graph.edges[number]
        if number in cut or edge.kind is Kind.CONVERSION:
            continue  # a conversion is a source of its own, no way of a wire
        if edge.kind not in NOT_RECORDED:
            yield edge, edge.other(node)
            continue
        for other in graph.at[edge.a]:
            further = graph.edges[other]
            if further.b != node and (edge.untold or further.untold):
                yield further, further.b


def sort_of(kind: Kind) -> int:
    if kind in COPPER:
        return BY_COPPER
    if kind is Kind.FUSE:
        return BEYOND_FUSE
    if kind in (Kind.SWITCH, Kind.RELAY):
        return WHEN_CLOSED
    return THROUGH_SOMETHING if kind in THROUGH else MAY_REACH


def _reached(wiring: Wiring, node: str, sort: int, way: Way, loose: bool, cut: set[int]) -> Reached:
    contact = contact_of(node)
    return Reached(
        contact=contact,
        role=role_of(wiring.built, contact),
        sort=sort,
        through=tuple(dict.fromkeys(words_of_edge(edge) for edge, _ in way if edge.kind not in COPPER)),
        way=tuple(_steps(way)),
        is_end=loose or _is_end(wiring, node, cut),
        loose=loose,
    )


def words_of_edge(edge: Edge) -> str:
    """What is passed, in words: ``switch S1 (open at rest)``, ``driver A1 (motor drivers)``."""
    if edge.kind is Kind.WIRES_NOT_RECORDED:
        return f"wires of {edge.by} not recorded"
    if edge.kind is Kind.INSIDE_NOT_RECORDED:
        return f"inside of {edge.by} not recorded"
    join = edge.join
    more = ""
    if edge.kind in (Kind.SWITCH, Kind.RELAY):
        more = f" ({join.rest} at rest)" if join is not None and join.rest else " (rest not recorded)"
    elif join is not None and join.label:
        more = f" ({join.label})"
    return f"{edge.kind.value} {edge.by}{more}"


def _steps(way: Way) -> Iterator[Step]:
    """The way in steps a reader takes: a wire with the plugs at its ends is one, and so is each thing passed."""
    for n, (edge, node) in enumerate(way):
        if edge.kind in BY_HAND:
            if len(way) == 1 or (n == len(way) - 1 and cable_of(node)):
                yield Step(Kind.MATED.value, cable_of(edge.a), contact_of(node))
            continue
        yield Step(edge.kind.value, edge.by, contact_of(node))


def _is_end(wiring: Wiring, node: str, cut: set[int]) -> bool:
    """Whether something other than copper is at a contact, or nothing leads on from it."""
    graph = wiring.graph
    contact = contact_of(node)
    nodes = {n for n in wiring.net_of[node].nodes if contact_of(n) == contact}
    beyond: set[str] = set()
    for one in nodes:
        for number in graph.at[one]:
            edge = graph.edges[number]
            if number in cut:
                continue
            if edge.kind not in COPPER and edge.kind is not Kind.CONVERSION:
                return True
            beyond.add(contact_of(edge.other(one)))
    return len(beyond - {contact}) < 2


def traces(
    wirings: Mapping[str, Wiring], contact: str, open_ends: Iterable[End] = ()
) -> tuple[tuple[tuple[str, ...], Trace | None], ...]:
    """The traces on several configurations (label → wiring), equal ones told once: (labels, trace or ``None``)."""
    ends = tuple(open_ends)
    found: dict[object, tuple[list[str], Trace | None]] = {}
    for label, wiring in wirings.items():
        made = trace(wiring, contact, ends)
        found.setdefault(made.same if made is not None else None, ([], made))[0].append(label)
    return tuple((tuple(labels), made) for labels, made in found.values())
