"""What conducts in one state of isolation and open ends: the graph drawn together into pieces, pieces into groups.

A piece is what wires and copper inside items join for good; whole pieces are earthed or not, live or not. Everything
that joins pieces can be cut by a state, or is no copper. Groups come on three levels, each holding the one before:
``0`` joined without anything between that could drop a voltage, ``1`` also through loads, drivers and conversions,
``2`` also by what nobody recorded. Earthed pieces belong to no group but their own: earth stops every walk.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import IntEnum
from functools import lru_cache

from benchleaf.frozen import dataclass
from benchleaf.wiring.graph import COPPER, NOT_RECORDED, THROUGH, Graph, Kind

FOR_GOOD = frozenset({Kind.WIRE, Kind.COPPER})
BY_HAND = frozenset({Kind.MATED, Kind.LANDED})


class How(IntEnum):
    """How sure it is that a contact can be live, surest first."""

    DIRECT = 0
    THROUGH = 1
    NOT_RECORDED = 2

    @property
    def words(self) -> str:
        return ("directly", "through a load", "not recorded")[self]


def level_of(kind: Kind) -> int:
    return 2 if kind in NOT_RECORDED else 1 if kind in THROUGH else 0


@dataclass(frozen=True, eq=False)
class Pieces:
    """``of``: node → number of its piece. ``joints``: (edge number, piece, piece) by level; hubs are pieces too, in
    ``hubs`` with the pieces of the contacts of which nobody recorded where they go."""

    of: dict[str, int]
    members: tuple[tuple[str, ...], ...]
    joints: tuple[tuple[tuple[int, int, int], ...], ...]
    hubs: tuple[tuple[int, tuple[int, ...]], ...]
    copper: tuple[tuple[tuple[int, int], ...], ...]
    """For each piece the (edge number, other piece) of the connectors and leads that join it to others."""

    def of_all(self, nodes: Iterable[str]) -> list[int]:
        """The pieces of the nodes that are there, each once, in order."""
        return list(dict.fromkeys(self.of[node] for node in nodes if node in self.of))


def draw_together(graph: Graph) -> Pieces:
    """The pieces of a graph."""
    number = {node: n for n, node in enumerate(graph.nodes)}
    above = list(range(len(graph.nodes)))
    for edge in graph.edges:
        if edge.kind in FOR_GOOD:
            _join(above, number[edge.a], number[edge.b])
    renumbered: dict[int, int] = {}
    of: dict[str, int] = {}
    members: list[list[str]] = []
    for node, n in number.items():
        top = _top(above, n)
        if top not in renumbered:
            renumbered[top] = len(members)
            members.append([])
        of[node] = renumbered[top]
        members[of[node]].append(node)
    joints: tuple[list[tuple[int, int, int]], ...] = ([], [], [])
    copper: list[list[tuple[int, int]]] = [[] for _ in members]
    untold: dict[int, list[int]] = {}
    for n, edge in enumerate(graph.edges):
        one, two = of[edge.a], of[edge.b]
        if edge.kind in NOT_RECORDED:
            untold.setdefault(one, [])
            if edge.untold:
                untold[one].append(two)
        if edge.kind in FOR_GOOD or one == two:
            continue
        joints[level_of(edge.kind)].append((n, one, two))
        if edge.kind in COPPER:
            copper[one].append((n, two))
            copper[two].append((n, one))
    return Pieces(
        of,
        tuple(tuple(many) for many in members),
        tuple(tuple(many) for many in joints),
        tuple((hub, tuple(dict.fromkeys(many))) for hub, many in sorted(untold.items())),
        tuple(tuple(many) for many in copper),
    )


def earthed(pieces: Pieces, roots: Iterable[int], cut: frozenset[int]) -> frozenset[int]:
    """The pieces that recorded copper alone, not cut, joins to ``roots``."""
    seen = set(roots)
    waiting = list(seen)
    while waiting:
        for edge, other in pieces.copper[waiting.pop()]:
            if other not in seen and edge not in cut:
                seen.add(other)
                waiting.append(other)
    return frozenset(seen)


def groups(
    pieces: Pieces, cut: frozenset[int], bonded: frozenset[int], by_devices: frozenset[int] = frozenset()
) -> tuple[list[int], ...]:
    """For each level, the group of every piece. A hub leads nowhere when all contacts that open it are earthed.

    ``by_devices`` are edges that isolating devices may cut: what does not depend on them is worked out once and kept.
    """
    closed, kept = _groups_but(pieces, cut - by_devices, bonded, by_devices)
    left = [
        (one, two)
        for edge, one, two in pieces.joints[0]
        if edge in by_devices and edge not in cut and one not in closed and two not in closed
    ]
    return tuple(_joined(labels, left) for labels in kept)


def _joined(labels: list[int], joints: list[tuple[int, int]]) -> list[int]:
    """The groups with some more pieces joined; the list itself where they were together before."""
    above: dict[int, int] = {}

    def top(label: int) -> int:
        while label in above:
            label = above[label]
        return label

    for one, two in joints:
        low, high = sorted((top(labels[one]), top(labels[two])))
        if low != high:
            above[high] = low
    if not above:
        return labels
    final = {label: top(label) for label in above}
    return [final.get(label, label) for label in labels]


@lru_cache(maxsize=64)
def _groups_but(
    pieces: Pieces, cut: frozenset[int], bonded: frozenset[int], but: frozenset[int]
) -> tuple[frozenset[int], tuple[list[int], ...]]:
    """The pieces that conduct to nothing, and the groups with the edges ``but`` taken as open."""
    closed = set(bonded)
    for hub, untold in pieces.hubs:
        if all(piece in bonded for piece in untold):
            closed.add(hub)
    above = list(range(len(pieces.members)))
    made: list[list[int]] = []
    for joints in pieces.joints:
        for edge, one, two in joints:
            if edge not in cut and edge not in but and one not in closed and two not in closed:
                while above[one] != one:
                    above[one] = above[above[one]]
                    one = above[one]
                while above[two] != two:
                    above[two] = above[above[two]]
                    two = above[two]
                above[max(one, two)] = min(one, two)
        made.append([_top(above, n) for n in range(len(above))])
    return frozenset(closed), tuple(made)


def without_loads(pieces: Pieces) -> Pieces:
    """The same pieces with no load, driver or conversion between them: what is left drops no voltage as recorded."""
    return Pieces(pieces.of, pieces.members, (pieces.joints[0], (), pieces.joints[2]), pieces.hubs, pieces.copper)


def _top(above: list[int], n: int) -> int:
    while above[n] != n:
        above[n] = above[above[n]]
        n = above[n]
    return n


def _join(above: list[int], one: int, two: int) -> None:
    one, two = _top(above, one), _top(above, two)
    if one != two:
        above[max(one, two)] = min(one, two)
