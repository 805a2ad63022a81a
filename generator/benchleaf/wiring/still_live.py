"""What can still be live: every contact that some source may reach, in one state of isolation and of open ends.

Unknown is never mild. Everything conducts unless it is recorded and proved open: the poles of an operated isolating
device, a plug that was pulled, a lead that was lifted. Only earth with recorded bonding stops the walk. A conversion lives
while any of its inputs can live; stored charge lives until it is proved dead.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from benchleaf.built import Built
from benchleaf.records.wiring import Source
from benchleaf.wiring.graph import (
    COPPER,
    EMPTY,
    NOT_RECORDED,
    Edge,
    Graph,
    Kind,
    contact_of,
    make_graph,
    owner_of,
    role_of,
)

STORED = "stored:"


@dataclass(frozen=True, slots=True)
class Live:
    """How a node can be live: from which source, by which edge from which node, and how sure that is.

    ``how`` is ``copper`` (recorded copper all the way), ``through`` (a load, winding or board lies between) or ``not
    recorded`` (something nobody wrote down lies between).
    """

    source: str
    edge: int | None
    before: str | None
    how: str


@dataclass(frozen=True)
class LiveMap:
    """The live nodes of one state: node → the ways it can be live, one a source, by source."""

    nodes: Mapping[str, tuple[Live, ...]]
    earth_not_recorded: tuple[str, ...]
    """Sources whose earth nobody recorded, or whose earth is bonded to nothing."""

    @cached_property
    def contacts(self) -> Mapping[str, tuple[Live, ...]]:
        """The same by contact, both halves together."""
        found: dict[str, dict[str, Live]] = {}
        for node, ways in self.nodes.items():
            if node.endswith("@?"):
                continue
            for way in ways:
                found.setdefault(contact_of(node), {}).setdefault(way.source, way)
        return {name: tuple(ways.values()) for name, ways in sorted(found.items())}


@dataclass(frozen=True)
class Wiring:
    """A machine as built with its graph, and what the walks need of it, worked out once."""

    built: Built
    graph: Graph
    parts: Mapping[str, frozenset[str]] = field(default_factory=dict)

    @staticmethod
    def of(built: Built) -> Wiring:
        return Wiring(built, make_graph(built))

    @cached_property
    def bonded(self) -> frozenset[str]:
        """The nodes on recorded earth: reached by recorded copper alone from the earth contact of a source."""
        roots = [str(one) for source in self.built.sources.values() for one in source.earth or ()]
        return frozenset(walk(self.graph, roots, lambda edge: edge.kind in COPPER))

    @cached_property
    def stored(self) -> Mapping[str, tuple[str, ...]]:
        """Stored charge → the nodes it stands at: where it can be measured, else every contact of its item."""
        found: dict[str, tuple[str, ...]] = {}
        for name, energy in self.built.energy.items():
            for number, store in enumerate(energy.stored or ()):
                item = str(store.in_.item) if store.in_ is not None else ""
                if item not in self.built.items:
                    continue
                nodes = [str(one) for one in store.between or ()] or self.contacts_of_item(item)
                found[f"{STORED}{name}:{number}"] = tuple(nodes)
        return found

    def contacts_of_item(self, item: str) -> list[str]:
        """Every node fixed on an item: its own contacts and those of its connectors."""
        owners = {item, *self.built.connectors_of.get(item, ())}
        return [node for node in self.graph.nodes if "@" not in node and owner_of(node) in owners]

    def roots(self, source: Source) -> list[str]:
        """The contacts at which a source is live: with a plug not recorded as polarised, every one but its earth."""
        named = [str(one) for one in source.at]
        if source.from_ is not None or source.plug == "polarised":
            return named
        if source.return_ is not None:
            return named + [str(one) for one in source.return_]
        earth = {str(one) for one in source.earth or ()}
        hosts = {one.partition(".")[0] for one in named}
        others = [n for n in self.graph.nodes if "@" not in n and owner_of(n) in hosts and n not in earth]
        return list(dict.fromkeys([*named, *others]))

    @cached_property
    def everything_closed(self) -> LiveMap:
        """The map with nothing isolated and every end mated."""
        return _live(self, frozenset(), frozenset(), frozenset())

    def hosts_of(self, source: Source) -> frozenset[str]:
        """The items a source stands at."""
        return frozenset(i for one in source.at if (i := self.built.item_of_contact(str(one))) is not None)


def walk(graph: Graph, roots: Iterable[str], conducts: object) -> set[str]:
    """Every node reached from ``roots`` over edges for which ``conducts(edge)`` holds."""
    assert callable(conducts)
    seen = {root for root in roots if root in graph.at}
    waiting = deque(sorted(seen))
    while waiting:
        node = waiting.popleft()
        for number in graph.at[node]:
            edge = graph.edges[number]
            other = edge.other(node)
            if other not in seen and conducts(edge):
                seen.add(other)
                waiting.append(other)
    return seen


def live_map(
    wiring: Wiring,
    isolated: Iterable[str] = (),
    open_ends: Iterable[tuple[str, str]] = (),
    proved_dead: Iterable[str] = (),
) -> LiveMap:
    """What can be live with the devices ``isolated`` operated and the ends ``open_ends`` (cable, place) opened.

    ``proved_dead`` names energies whose stored charge was proved dead. A device that is no item of the machine, or of
    which no pole is recorded, isolates nothing.
    """
    return _live(wiring, frozenset(isolated), frozenset(open_ends), frozenset(proved_dead))


def _live(
    wiring: Wiring, isolated: frozenset[str], open_ends: frozenset[tuple[str, str]], proved: frozenset[str]
) -> LiveMap:
    built = wiring.built
    cut = _cut(wiring, isolated, open_ends)
    found: dict[str, dict[str, Live]] = {}
    lives: set[str] = set()
    while True:
        fresh = [
            n
            for n, s in sorted(built.sources.items())
            if n not in lives and _lives(wiring, n, s, lives, found, isolated)
        ]
        if not lives and not fresh and not wiring.stored:
            break
        for name in fresh:
            lives.add(name)
            _spread(wiring, name, wiring.roots(built.sources[name]), cut, found)
        if not fresh:
            break
    for name, nodes in wiring.stored.items():
        if name.split(":")[1] not in proved:
            _spread(wiring, name, list(nodes), cut, found)
    live = {node: tuple(ways[s] for s in sorted(ways)) for node, ways in sorted(found.items())}
    return LiveMap(live, _earthless(wiring))


def _lives(
    wiring: Wiring,
    name: str,
    source: Source,
    lives: set[str],
    found: Mapping[str, Mapping[str, Live]],
    isolated: frozenset[str],
) -> bool:
    """Whether a source can live in this state. A conversion is dead only where recorded wiring proves it."""
    if source.from_ is None:
        return not _unplugged(wiring, source, isolated)
    inputs = [str(one) for one in source.from_]
    fed = [_is_fed(wiring, one, source, lives, found) for one in inputs]
    return all(fed) if source.needs == "all" else any(fed)


def _is_fed(
    wiring: Wiring, name: str, source: Source, lives: set[str], found: Mapping[str, Mapping[str, Live]]
) -> bool:
    """Whether an input feeds a conversion: it lives, and no recorded opening parts it from the conversion's host.

    Where the recorded wiring does not lead from the input to the host at all, nothing proves them parted.
    """
    if name not in wiring.built.sources:
        return True
    if name not in lives:
        return False
    own = [node for host in wiring.hosts_of(source) for node in wiring.contacts_of_item(host)]
    reaches = any(name in found.get(node, {}) for node in own)
    if reaches or name == _name_of(wiring, source):
        return True
    closed = _closed_reach(wiring, name)
    return not any(node in closed for node in own)


def _name_of(wiring: Wiring, source: Source) -> str:
    return next((name for name, one in wiring.built.sources.items() if one is source), "")


def _closed_reach(wiring: Wiring, name: str) -> frozenset[str]:
    """Everything a source reaches with every device closed and every end mated."""
    source = wiring.built.sources[name]
    key = f"closed:{name}"
    if key not in wiring.parts:
        found: dict[str, dict[str, Live]] = {}
        _spread(wiring, name, wiring.roots(source), frozenset(), found)
        wiring.parts[key] = frozenset(found)  # type: ignore[index]
    return wiring.parts[key]


def _unplugged(wiring: Wiring, source: Source, isolated: frozenset[str]) -> bool:
    """Whether every contact of a source is on a device that was pulled out of its supply."""
    energies = wiring.built.energy.values()
    pulled = {str(one.device.item) for e in energies for one in e.isolate or () if one.verb == "unplug"} & isolated
    owners = {wiring.built.item_of_contact(str(one)) or str(one).partition(".")[0] for one in source.at}
    return bool(owners) and owners <= pulled


def _cut(wiring: Wiring, isolated: frozenset[str], open_ends: frozenset[tuple[str, str]]) -> frozenset[int]:
    """The numbers of the edges that are recorded and proved open."""
    return frozenset(n for n, edge in enumerate(wiring.graph.edges) if _is_open(wiring, edge, isolated, open_ends))


def _is_open(wiring: Wiring, edge: Edge, isolated: frozenset[str], open_ends: frozenset[tuple[str, str]]) -> bool:
    if edge.kind is Kind.SWITCH:
        return edge.by in isolated
    if edge.kind in (Kind.MATED, Kind.LANDED):
        cable = edge.a.partition("@")[0]
        return (cable, edge.by) in open_ends
    return False


def _spread(
    wiring: Wiring, source: str, roots: list[str], cut: frozenset[int], found: dict[str, dict[str, Live]]
) -> None:
    """Mark every node that ``source`` may reach. Surest ways first: copper, then through loads, then not recorded."""
    graph, built = wiring.graph, wiring.built
    bonded = wiring.bonded
    reached: set[str] = set()
    levels: list[deque[tuple[str, Live]]] = [deque(), deque(), deque()]
    for root in roots:
        if root in graph.at and root not in bonded:
            levels[0].append((root, Live(source, None, None, _HOW[0])))
    for level, waiting in enumerate(levels):
        while waiting:
            node, way = waiting.popleft()
            if node in reached:
                continue
            reached.add(node)
            found.setdefault(node, {})[source] = way
            for number in graph.at[node]:
                edge = graph.edges[number]
                other = edge.other(node)
                if number in cut or other in reached or other in bonded or _stops(built, edge, other):
                    continue
                worse = max(level, _LEVEL.get(edge.kind, 0))
                levels[worse].append((other, Live(source, number, node, _HOW[worse])))


_HOW = ("copper", "through", "not recorded")
_LEVEL = {Kind.LOAD: 1, Kind.DRIVER: 1, Kind.CONVERSION: 1, **dict.fromkeys(NOT_RECORDED, 2)}


def _stops(built: Built, edge: Edge, node: str) -> bool:
    """Nothing not recorded leads into a contact recorded as empty."""
    return edge.kind in NOT_RECORDED and "@" not in node and role_of(built, node) == EMPTY


def _earthless(wiring: Wiring) -> tuple[str, ...]:
    """Sources of power whose earth nobody recorded. A conversion stands on its own input's earth."""
    return tuple(n for n, s in sorted(wiring.built.sources.items()) if s.from_ is None and s.earth is None)
