"""What can still be live: every contact that something may put a voltage on, in one state of isolation and open ends.

Unknown is never mild. Everything conducts unless it is recorded and proved open: the poles of an operated isolating
device, a plug that was pulled, a lead that was lifted. Only earth with recorded bonding stops the walk, and only while
its plug is in. A conversion lives while any of its inputs can live; stored charge lives until it is proved dead.
"""

from __future__ import annotations

from collections.abc import Iterable

from benchleaf.records.wiring import Source
from benchleaf.wiring.conduction import How, earthed, groups
from benchleaf.wiring.contacts import owner_of
from benchleaf.wiring.live_map import End, Feed, Live, LiveMap, State, rank
from benchleaf.wiring.wiring import UNRECORDED, Start, Wiring

__all__ = ["End", "Feed", "Live", "LiveMap", "State", "live_map", "rank"]


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
            self.levels = groups(self.wiring.pieces, self.cut, self.bonded, self.wiring.by_devices)
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
        for how, level in zip(How, self.levels, strict=True):
            reached = feed.groups[how]
            for piece in free:
                if level[piece] in reached:
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
        host, inputs = self.wiring.fed_at[name]
        found: dict[str, How] = {}
        for one in dict.fromkeys(str(one) for one in source.from_ or ()):
            how = self._by_input(one, host)
            if how is not None:
                found[one] = how
        for other in sorted(self.alive):
            if other != name and other not in (source.from_ or ()):
                how = self.reach(self.alive[other], inputs)
                if how is not None:
                    found[other] = how
        return found

    def _by_input(self, name: str, host: tuple[int, ...]) -> How | None:
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

    def _is_joined(self, name: str, source: Source) -> bool:
        """Whether another input's voltage stands where this one comes from, without a load between."""
        if name not in self.wiring.built.sources:
            return False
        bare = groups(self.wiring.bare_pieces, self.cut, self.bonded)[How.NOT_RECORDED]
        of = self.wiring.pieces.of
        here = {bare[of[str(c)]] for c in self.wiring.built.sources[name].at if str(c) in of}
        return any(
            bare[of[node]] in here
            for other in source.from_ or ()
            if other != name and other in self.alive
            for node, _ in self.alive[other].starts
            if node in of and of[node] not in self.bonded
        )
