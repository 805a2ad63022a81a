"""What can still be live: every contact that something may put a voltage on, in one state of isolation and open ends.

Unknown is never mild. Everything conducts unless it is recorded and proved open: the poles of an operated isolating
device, a plug that was pulled, a lead that was lifted. Only earth with recorded bonding stops the walk, and only while
its plug is in. A conversion lives while any of its inputs can live; stored charge lives until it is proved dead.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from benchleaf.records.wiring import Source
from benchleaf.wiring.conduction import How, earthed, groups, groups_without_loads, level_of
from benchleaf.wiring.contacts import contact_of, owner_of
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
        known: dict[tuple[int, ...], tuple[Live, ...]] = {}
        made: list[tuple[Live, ...]] = []
        for piece in range(len(self.wiring.pieces.members)):
            if piece in self.bonded or not self.levels:
                made.append(())
                continue
            key = tuple(level[piece] for level in self.levels)
            if key not in known:
                known[key] = tuple(sorted(self._by_groups(key), key=lambda live: live.how))
            made.append(known[key])
        return tuple(made)

    def _by_groups(self, key: tuple[int, ...]) -> Iterable[Live]:
        for feed in self.feeds:
            for how in How:
                if key[how] in feed.groups[how]:
                    yield Live(feed.name, how)
                    break

    @cached_property
    def nodes(self) -> Mapping[str, tuple[Live, ...]]:
        """Every node that can be live, in the order of the graph, hubs left out."""
        of = self.wiring.pieces.of
        return {node: ways for node in self.wiring.graph.nodes if (ways := self._ways[of[node]]) and not is_hub(node)}

    @cached_property
    def contacts(self) -> Mapping[str, tuple[Live, ...]]:
        """Every contact that can be live, both halves together: the surest way of each source."""
        found: dict[str, dict[str, Live]] = {}
        for node, ways in self.nodes.items():
            mine = found.setdefault(contact_of(node), {})
            for way in ways:
                if way.source not in mine or way.how < mine[way.source].how:
                    mine[way.source] = way
        return {name: tuple(sorted(ways.values(), key=lambda w: w.how)) for name, ways in sorted(found.items())}

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


def live_map(
    wiring: Wiring,
    isolated: Iterable[str] = (),
    open_ends: Iterable[End] = (),
    proved_dead: Iterable[str] = (),
) -> LiveMap:
    """What can be live with the devices ``isolated`` operated and the ends ``open_ends`` opened.

    ``isolated`` as in `Wiring.operated`; ``proved_dead`` names energies whose stored charge was proved gone. A name
    that is no recorded isolating device, end or energy changes nothing.
    """
    state = State(isolated=frozenset(isolated), open_ends=frozenset(open_ends), proved_dead=frozenset(proved_dead))
    return _Walk(wiring, state).map()


def rank(source: str) -> tuple[int, str]:
    """Sort key of what keeps something live: what still comes in, then what stays stored, then what is not recorded."""
    return (2 if source.startswith(UNRECORDED) else 1 if source.startswith(STORED) else 0, source)


class _Walk:
    """One state, worked out in order: what is cut, what is earthed, what conducts, what lives."""

    def __init__(self, wiring: Wiring, state: State) -> None:
        self.wiring, self.state = wiring, state
        operated = wiring.operated(state.isolated)
        self.pulled = frozenset(owner for device in operated for owner in device.pulls)
        self.blocking = frozenset(device.words for device in operated)
        cut = {edge for device in operated for edge in device.opens}
        for end in state.open_ends:
            cut.update(wiring.by_end.get(end, ()))
        self.cut = frozenset(cut)
        earths = [one for one in wiring.earth_contacts if owner_of(one) not in self.pulled]
        self.bonded = earthed(wiring.pieces, wiring.pieces.of_all(earths), self.cut)
        self.levels: tuple[list[int], ...] = ()
        self.alive: dict[str, Feed] = {}
        self.sure: dict[str, How] = {}

    def map(self) -> LiveMap:
        first = [
            *((n, self.wiring.starts_of(s)) for n, s in self.wiring.supplies.items() if not self.is_dead(n, s)),
            *((n, s) for n, s in self.wiring.stores.items() if n.split(":")[1] not in self.state.proved_dead),
            *(
                (f"{UNRECORDED}{owner}", tuple((node, How.NOT_RECORDED) for node in nodes))
                for owner, nodes in self.wiring.unknown_ends.items()
            ),
            *(
                (f"{UNRECORDED}energy {energy}", tuple((node, How.NOT_RECORDED) for node in nodes))
                for energy, nodes in self.wiring.unknown_energies.items()
            ),
        ]
        if first or self._may_live_unfed():
            self.levels = groups(self.wiring.pieces, self.cut, self.bonded)
            for name, starts in first:
                self.alive[name] = self.feed(name, starts)
            self._wake_conversions()
        feeds = tuple(self.alive[name] for name in sorted(self.alive))
        return LiveMap(self.wiring, self.state, self.cut, self.bonded, self.levels, feeds)

    def is_dead(self, name: str, source: Source) -> bool:
        """Whether every plug a source comes in by is pulled, or everything that blocks what makes it is in place."""
        contacts = [*source.at, *((source.return_ or ()) if source.plug != "polarised" else ())]
        owners = {owner_of(str(one)) for one in contacts}
        if owners and owners <= self.pulled:
            return True
        blocks = [device.words for device in self.wiring.devices if name in device.blocks]
        return bool(blocks) and all(words in self.blocking for words in blocks)

    def feed(self, name: str, starts: tuple[Start, ...], fed_by: tuple[str, ...] = ()) -> Feed:
        of = self.wiring.pieces.of
        roots = [(of[node], how) for node, how in starts if node in of and of[node] not in self.bonded]
        levels = enumerate(self.levels)
        reached = tuple(frozenset(level[piece] for piece, sure in roots if sure <= how) for how, level in levels)
        return Feed(name=name, starts=starts, groups=reached, fed_by=fed_by)

    def reach(self, feed: Feed, pieces: Iterable[int]) -> How | None:
        """How surely something reaches one of ``pieces``; ``None`` = not at all."""
        free = [piece for piece in pieces if piece not in self.bonded]
        for how in How:
            if any(self.levels[how][piece] in feed.groups[how] for piece in free):
                return how
        return None

    def _may_live_unfed(self) -> bool:
        """Whether a conversion is made from a source that no record declares: it may live with nothing else alive."""
        declared = self.wiring.built.machine.wiring.sources
        return any(one not in declared for s in self.wiring.conversions.values() for one in s.from_ or ())

    def _wake_conversions(self) -> None:
        """Conversions live while something feeds them, no surer than that; one that lives may feed the next."""
        woken = True
        while woken:
            woken = False
            for name, source in self.wiring.conversions.items():
                how = self._fed(name, source)
                if how is not None and (name not in self.sure or how < self.sure[name]):
                    self.sure[name] = how
                    self.alive[name] = self.feed(name, self._starts(name, source))
                    woken = True
        for name in self.sure:  # who feeds it is known only when all that live are known
            source = self.wiring.conversions[name]
            self.alive[name] = self.feed(name, self._starts(name, source), tuple(self._feeders(name, source)))

    def _starts(self, name: str, source: Source) -> tuple[Start, ...]:
        return tuple((node, max(how, self.sure[name])) for node, how in self.wiring.starts_of(source))

    def _fed(self, name: str, source: Source) -> How | None:
        """How surely a conversion is fed in this state; ``None`` where it is proved dead."""
        feeders = self._feeders(name, source)
        if source.needs == "all":
            foreign = [one for one in feeders if one not in (source.from_ or ())]
            for one in dict.fromkeys(source.from_ or ()):
                if one not in feeders and not foreign and not self._is_joined(str(one), source):
                    return None
        return min(feeders.values(), default=How.DIRECT if source.needs == "all" else None)

    def _feeders(self, name: str, source: Source) -> dict[str, How]:
        """What feeds a conversion in this state, and how surely: its inputs, and whatever else reaches its host."""
        host = self.wiring.pieces.of_all(n for item in self.wiring.hosts_of(source) for n in self.wiring.fixed_on(item))
        found: dict[str, How] = {}
        for one in dict.fromkeys(str(one) for one in source.from_ or ()):
            how = self._by_input(one, host)
            if how is not None:
                found[one] = how
        inputs = self._inputs(name, source, host)
        for other in sorted(self.alive):
            if other != name and other not in (source.from_ or ()):
                how = self.reach(self.alive[other], inputs)
                if how is not None:
                    found[other] = how
        return found

    def _by_input(self, name: str, host: list[int]) -> How | None:
        """How surely a recorded input feeds a conversion; ``None`` where a recorded opening parts it from the host."""
        built = self.wiring.built
        if name not in built.sources:  # declared, but not on this machine: not there
            return None if name in built.machine.wiring.sources else How.NOT_RECORDED
        if name not in self.alive:
            return None
        own = min((how for _, how in self.alive[name].starts), default=How.DIRECT)
        how = self.reach(self.alive[name], host)
        if (how is None or how is How.NOT_RECORDED) and not self.wiring.leads_to(name, host):
            return own  # nothing recorded leads there, so nothing proves it parted
        return None if how is None else max(how, own) if how is How.NOT_RECORDED else own

    def _inputs(self, name: str, source: Source, host: list[int]) -> list[int]:
        """Where a conversion may be fed: every contact of its host that is no output of a conversion there, but those
        it is itself made from."""
        hosts = set(self.wiring.hosts_of(source))
        own: set[int] = set()
        for other, one in self.wiring.conversions.items():
            if other == name or (other not in (source.from_ or ()) and hosts & set(self.wiring.hosts_of(one))):
                own |= set(self.wiring.pieces.of_all(str(c) for c in (*one.at, *(one.return_ or ()))))
        return [piece for piece in host if piece not in own]

    def _is_joined(self, name: str, source: Source) -> bool:
        """Whether another input's voltage stands where this one comes from, without a load between."""
        if name not in self.wiring.built.sources:
            return False
        bare = groups_without_loads(self.wiring.pieces, self.cut, self.bonded)
        of = self.wiring.pieces.of
        here = {bare[of[str(c)]] for c in self.wiring.built.sources[name].at if str(c) in of}
        return any(
            bare[of[node]] in here
            for other in source.from_ or ()
            if other != name and other in self.alive
            for node, _ in self.alive[other].starts
            if node in of and of[node] not in self.bonded
        )
