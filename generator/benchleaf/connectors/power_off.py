"""What a meter finds joined, power off: which contacts conduct, which read a load, of which nothing can be said.

Only recorded copper, fuses and contacts closed at rest conduct. A load reads its resistance. What is inside a chip or
board is not tested, and what nobody recorded may read anything: it is never counted as open.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping, Sequence
from enum import Enum
from functools import cached_property

from benchleaf.frozen import dataclass
from benchleaf.wiring.graph import COPPER, NOT_RECORDED, Edge, Graph, Kind, is_hub


class Reading(Enum):
    """What an edge of the wiring graph reads with the power off."""

    CONDUCTS = "conducts"
    LOAD = "through a load"
    NOT_TESTED = "not tested"
    NOT_RECORDED = "not recorded"
    OPEN = "open"


def reading_of(edge: Edge) -> Reading:
    """What an edge reads with the power off and nothing operated."""
    if edge.kind in COPPER or edge.kind is Kind.FUSE:
        return Reading.CONDUCTS
    if edge.kind in (Kind.SWITCH, Kind.RELAY):
        rest = edge.join.rest if edge.join is not None else None
        return {"closed": Reading.CONDUCTS, "open": Reading.OPEN}.get(rest or "", Reading.NOT_RECORDED)
    if edge.kind is Kind.LOAD:
        return Reading.LOAD
    return Reading.NOT_RECORDED if edge.kind in NOT_RECORDED else Reading.NOT_TESTED


@dataclass(frozen=True)
class PowerOff:
    """Part of a wiring graph, power off: the edges that are joined while something is measured."""

    edges: tuple[Edge, ...]

    @cached_property
    def read(self) -> Mapping[Reading, tuple[Edge, ...]]:
        found: dict[Reading, list[Edge]] = {one: [] for one in Reading}
        for edge in self.edges:
            found[reading_of(edge)].append(edge)
        return {one: tuple(many) for one, many in found.items()}

    @cached_property
    def net(self) -> Mapping[str, str]:
        """Node → one node for all that conducts to it; a node that is in no edge is its own net."""
        nodes = {node for edge in self.edges for node in (edge.a, edge.b)}
        return joined(nodes, ((edge.a, edge.b) for edge in self.read[Reading.CONDUCTS]))

    def net_of(self, node: str) -> str:
        return self.net.get(node, node)

    @cached_property
    def _conducting(self) -> Mapping[str, tuple[Edge, ...]]:
        return by_node(self.read[Reading.CONDUCTS])

    @cached_property
    def _tree(self) -> Mapping[str, bool]:
        """Net → whether there is one path only between any two of its nodes."""
        nodes: dict[str, set[str]] = {}
        edges: dict[str, int] = {}
        for edge in self.read[Reading.CONDUCTS]:
            net = self.net[edge.a]
            nodes.setdefault(net, set()).update((edge.a, edge.b))
            edges[net] = edges.get(net, 0) + 1
        return {net: edges[net] == len(nodes[net]) - 1 for net in nodes}

    def path(self, start: str, end: str) -> tuple[Edge, ...]:
        """The conducting edges from a node to another on its net, as few as can be."""
        return shortest(self._conducting, start, end) or ()

    def is_only_path(self, node: str) -> bool:
        """Whether the net of a node has one path between any two nodes, so that a sum along it is exact."""
        return self._tree.get(self.net_of(node), True)

    @cached_property
    def between_nets(self) -> tuple[Edge, ...]:
        """Loads, and what is not tested or not recorded, between two nets."""
        some = (*self.read[Reading.LOAD], *self.read[Reading.NOT_TESTED], *self.read[Reading.NOT_RECORDED])
        return tuple(edge for edge in some if self.net_of(edge.a) != self.net_of(edge.b))

    @cached_property
    def through(self) -> Mapping[str, str]:
        """Net → one net for all that loads join to it."""
        loads = [edge for edge in self.between_nets if reading_of(edge) is Reading.LOAD]
        nets = {self.net_of(node) for edge in self.edges for node in (edge.a, edge.b)}
        return joined(nets, ((self.net_of(edge.a), self.net_of(edge.b)) for edge in loads))

    @cached_property
    def perhaps(self) -> Mapping[str, str]:
        """Net → one net for all that may be joined to it by anything."""
        nets = {self.net_of(node) for edge in self.edges for node in (edge.a, edge.b)}
        return joined(nets, ((self.net_of(edge.a), self.net_of(edge.b)) for edge in self.between_nets))

    def load_path(self, start: str, end: str) -> tuple[tuple[Edge, ...], bool]:
        """The loads from one net to another, as few as can be, and whether nothing lies beside them."""
        loads = [edge for edge in self.between_nets if reading_of(edge) is Reading.LOAD]
        path = shortest(by_node(loads, self.net), start, end, self.net) or ()
        alone = all(self.is_alone(edge) for edge in path)
        return path, alone

    def is_alone(self, edge: Edge) -> bool:
        """Whether nothing else may join the two nets of a load, so that its own value is what is read."""
        rest = by_node((one for one in self.between_nets if one is not edge), self.net)
        return shortest(rest, self.net_of(edge.a), self.net_of(edge.b), self.net) is None


def by_node(edges: Iterable[Edge], net: Mapping[str, str] | None = None) -> dict[str, tuple[Edge, ...]]:
    """Node (or its net) → the edges there."""
    found: dict[str, list[Edge]] = {}
    for edge in edges:
        for node in dict.fromkeys((edge.a, edge.b)):
            found.setdefault(node if net is None else net.get(node, node), []).append(edge)
    return {node: tuple(many) for node, many in found.items()}


def shortest(
    at: Mapping[str, Sequence[Edge]], start: str, end: str, net: Mapping[str, str] | None = None
) -> tuple[Edge, ...] | None:
    """The edges of a path with as few as can be; ``None`` when there is none."""
    came: dict[str, tuple[str, Edge] | None] = {start: None}
    waiting = deque([start])
    while waiting and end not in came:
        here = waiting.popleft()
        for edge in at.get(here, ()):
            ends = (edge.a, edge.b) if net is None else (net.get(edge.a, edge.a), net.get(edge.b, edge.b))
            other = ends[1] if ends[0] == here else ends[0]
            if other not in came:
                came[other] = (here, edge)
                waiting.append(other)
    if end not in came:
        return None
    path: list[Edge] = []
    step = came[end]
    while step is not None:
        path.append(step[1])
        step = came[step[0]]
    return tuple(reversed(path))


def joined(nodes: Iterable[str], pairs: Iterable[tuple[str, str]]) -> dict[str, str]:
    """Node → the least node of all that pairs join to it."""
    above = {node: node for node in nodes}

    def top(node: str) -> str:
        while above[node] != node:
            above[node] = above[above[node]]
            node = above[node]
        return node

    for a, b in pairs:
        one, two = top(a), top(b)
        if one != two:
            above[max(one, two)] = min(one, two)
    return {node: top(node) for node in above}


def cable_nodes(graph: Graph, cable: str) -> tuple[str, ...]:
    """Every contact of a cable: those of its plugs and leads, and of connectors that hang on it, each once."""
    own = {node for node in graph.nodes if node.startswith(f"{cable}@") and not is_hub(node)}
    for edge in graph.edges:
        if edge.kind is Kind.WIRE and edge.by == cable:
            own |= {edge.a, edge.b}
    return tuple(sorted(own))


def around_cable(graph: Graph, nodes: Sequence[str]) -> PowerOff:
    """What is joined to a cable with all its plugs pulled: its wires, and what its fixed leads are joined to."""
    mine = set(nodes)
    numbers: set[int] = set()
    seen, waiting = set(nodes), deque(nodes)
    while waiting:
        for number in graph.at.get(waiting.popleft(), ()):
            edge = graph.edges[number]
            if number in numbers or (edge.kind is Kind.MATED and mine & {edge.a, edge.b}):
                continue
            numbers.add(number)
            for other in (edge.a, edge.b):
                if other not in seen:
                    seen.add(other)
                    waiting.append(other)
    return PowerOff(tuple(graph.edges[number] for number in sorted(numbers)))
