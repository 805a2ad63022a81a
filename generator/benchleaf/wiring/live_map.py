"""The answer to what can still be live in one state: which contacts, from what, how surely, and by what way.

Everything is looked up in the groups of conducting pieces, so asking is cheap and listing everything is done once.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping
from functools import cached_property

from benchleaf.frozen import dataclass
from benchleaf.wiring.conduction import How, level_of
from benchleaf.wiring.contacts import owner_of
from benchleaf.wiring.graph import Edge, is_hub
from benchleaf.wiring.wiring import STORED, UNRECORDED, Start, Wiring

End = tuple[str, str]
"""(cable, place) of an opened end: the place is a connector, an item, or one contact of either."""


@dataclass(frozen=True, slots=True)
class Live:
    """That something can put a voltage on a contact: what, and how sure that is."""

    source: str
    how: How


@dataclass(frozen=True, slots=True, kw_only=True)
class Feed:
    """Something that puts a voltage on contacts in this state.

    ``name``: a source; ``stored:mains:0`` = the first charge recorded under an energy; ``stored:mains:?`` = nobody
    recorded whether charge stays; ``not recorded:A1-J4`` = nobody recorded what is plugged there. ``fed_by``: what
    keeps a conversion alive, by name. ``groups``: at each level the groups of conducting pieces it reaches.
    """

    name: str
    starts: tuple[Start, ...]
    groups: tuple[frozenset[int], ...]
    fed_by: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """What was done: recorded isolating devices operated, ends opened, energies proved dead."""

    isolated: frozenset[str] = frozenset()
    open_ends: frozenset[End] = frozenset()
    proved_dead: frozenset[str] = frozenset()


@dataclass(frozen=True, eq=False)
class LiveMap:
    """What can be live in one state. Ask ``is_live`` and ``ways``; ``contacts`` lists everything.

    ``nothing_recorded`` is true where there is no wiring or no source at all: then every contact counts as live, and
    ``contacts`` is empty only because nobody wrote any down.
    """

    wiring: Wiring
    state: State
    cut: frozenset[int]
    bonded: frozenset[int]
    levels: tuple[list[int], ...]
    feeds: tuple[Feed, ...]

    @property
    def nothing_recorded(self) -> bool:
        return not self.wiring.supplies or not self.wiring.graph.nodes

    def is_live(self, contact: str) -> bool:
        """Whether a contact, on either half, can be live. One that no record knows counts as live."""
        if self.nothing_recorded:
            return True
        owner = owner_of(contact)
        own = contact.partition(".")[2]
        known = contact in self.wiring.pieces.of or own in self.wiring.graph.contacts.get(owner, ())
        return not known or contact in self.contacts

    def ways(self, node: str) -> tuple[Live, ...]:
        """What can put a voltage on a node of the graph (one half of a contact), surest first; empty = nothing can."""
        piece = self.wiring.pieces.of.get(node)
        return () if piece is None else self._ways[piece]

    def how(self, node: str) -> How | None:
        """How sure it is that a node can be live; ``None`` = nothing can make it live."""
        ways = self.ways(node)
        return ways[0].how if ways else None

    @cached_property
    def _ways(self) -> tuple[tuple[Live, ...], ...]:
        known: dict[tuple[int, int, int], tuple[Live, ...]] = {}
        made: list[tuple[Live, ...]] = []
        if not self.levels:
            return ((),) * len(self.wiring.pieces.members)
        for piece, key in enumerate(zip(*self.levels, strict=True)):
            if piece in self.bonded:
                made.append(())
                continue
            if key not in known:
                known[key] = self._by_groups(key)
            made.append(known[key])
        return tuple(made)

    def _by_groups(self, key: tuple[int, int, int]) -> tuple[Live, ...]:
        """The ways into a group of pieces, surest first. Pieces of the same groups share the very tuple."""
        sure: list[Live] = []
        behind: list[Live] = []
        perhaps: list[Live] = []
        one, two, three = key
        for (direct, through, unknown), lives in self._told:
            if one in direct:
                sure.append(lives[0])
            elif two in through:
                behind.append(lives[1])
            elif three in unknown:
                perhaps.append(lives[2])
        return (*sure, *behind, *perhaps)

    @cached_property
    def _told(self) -> tuple[tuple[tuple[frozenset[int], ...], tuple[Live, ...]], ...]:
        """For each feed its groups, and what is said of a contact it reaches at each level."""
        return tuple((feed.groups, tuple(Live(feed.name, how) for how in How)) for feed in self.feeds)

    @cached_property
    def nodes(self) -> Mapping[str, tuple[Live, ...]]:
        """Every node that can be live, in the order of the graph, hubs left out."""
        of = self.wiring.pieces.of
        return {node: ways for node in self.wiring.graph.nodes if (ways := self._ways[of[node]]) and not is_hub(node)}

    @cached_property
    def contacts(self) -> Mapping[str, tuple[Live, ...]]:
        """Every contact that can be live, both halves together: the surest way of each source."""
        found: dict[str, tuple[Live, ...]] = {}
        for contact, pieces in self.wiring.pieces_of_contact.items():
            ways = self._ways[pieces[0]]
            for piece in pieces[1:]:
                if self._ways[piece] is not ways:
                    ways = _surest(ways, self._ways[piece])
            if ways:
                found[contact] = ways
        return found

    def way_to(self, node: str, source: str) -> tuple[Edge, ...]:
        """The edges from where ``source`` stands to ``node``, fewest first found, in the surest way; empty where it
        stands there itself or does not reach it."""
        feed = next((one for one in self.feeds if one.name == source), None)
        how = next((way.how for way in self.ways(node) if way.source == source), None)
        if feed is None or how is None:
            return ()
        goals = {start for start, sure in feed.starts if sure <= how}
        before: dict[str, tuple[str, Edge] | None] = {node: None}
        waiting = deque([node])
        while waiting:
            here = waiting.popleft()
            if here in goals:
                return self._back(before, here)
            for number in self.wiring.graph.at[here]:
                edge = self.wiring.graph.edges[number]
                there = edge.other(here)
                open_ = number in self.cut or level_of(edge.kind) > how
                if not open_ and there not in before and self.wiring.pieces.of[there] not in self.bonded:
                    before[there] = (here, edge)
                    waiting.append(there)
        return ()

    @staticmethod
    def _back(before: Mapping[str, tuple[str, Edge] | None], node: str) -> tuple[Edge, ...]:
        made: list[Edge] = []
        step = before[node]
        while step is not None:
            node, edge = step
            made.append(edge)
            step = before[node]
        return tuple(made)

    def behind(self, source: str) -> tuple[str, ...]:
        """What keeps a conversion alive in the end: sources from outside, stored charge, what nobody recorded.

        Anything that is no conversion stands for itself.
        """
        fed_by = {feed.name: feed.fed_by for feed in self.feeds}
        found: dict[str, None] = {}
        seen = {source}
        waiting = [source]
        while waiting:
            name = waiting.pop(0)
            if name not in self.wiring.conversions:
                found[name] = None
                continue
            for one in fed_by.get(name, ()):
                if one not in seen:
                    seen.add(one)
                    waiting.append(one)
        return tuple(sorted(found, key=rank)) or (source,)

    @cached_property
    def loose(self) -> Mapping[str, tuple[Live, ...]]:
        """The live contacts of plugs and leads that hang free: of opened ends and of parked ones."""
        opened = {self.wiring.graph.edges[number].a for number in self.cut}
        return {n: ways for n, ways in self.nodes.items() if n in opened or owner_of(n).startswith("parked")}

    @cached_property
    def earth_not_recorded(self) -> tuple[str, ...]:
        """The sources from outside of which nobody recorded the earth: nothing stops their walk."""
        return tuple(name for name, source in self.wiring.supplies.items() if source.earth is None)


def _surest(one: tuple[Live, ...], other: tuple[Live, ...]) -> tuple[Live, ...]:
    """The ways of two halves together, the surest of each source, surest first."""
    found: dict[str, Live] = {}
    for way in (*one, *other):
        if way.source not in found or way.how < found[way.source].how:
            found[way.source] = way
    return tuple(sorted(found.values(), key=lambda way: (way.how, way.source)))


def rank(source: str) -> tuple[int, str]:
    """Sort key of what keeps something live: what still comes in, then what stays stored, then what is not recorded."""
    return (2 if source.startswith(UNRECORDED) else 1 if source.startswith(STORED) else 0, source)
