"""How far isolating and proving reach: what a source still gets to, and where nothing was measured.

An isolating device opens its own poles and nothing else, so what is isolated by the record may still be reached by the
wiring. A proof holds for what is joined to the probes by recorded copper alone: a fuse, switch, relay, diode or
connector between ends it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from benchleaf.built import Built
from benchleaf.frozen import dataclass
from benchleaf.wiring.contacts import contact_of
from benchleaf.wiring.devices import key_of
from benchleaf.wiring.graph import Kind
from benchleaf.wiring.still_live import LiveMap, live_map
from benchleaf.wiring.wiring import Wiring

COPPER_ALONE = frozenset({Kind.WIRE, Kind.COPPER, Kind.LANDED})


@dataclass(frozen=True, eq=False)
class Reach:
    """The wiring of one machine as built, asked about isolation and proof. Needs recorded wiring."""

    built: Built
    wiring: Wiring

    @staticmethod
    def of(built: Built) -> Reach:
        return Reach(built, Wiring.of(built))

    def still_reached(self, isolated: Iterable[str]) -> Mapping[str, tuple[str, ...]]:
        """Item → the isolated energies whose source still reaches it, by itself or by what is made from it.

        ``isolated`` are energies whose devices were all operated. Empty where every such source is cut off.
        """
        names = frozenset(isolated)
        words = [f"{one.verb} {key_of(one)}" for name in sorted(names) for one in self.built.energy[name].isolate or ()]
        live = live_map(self.wiring, isolated=words)
        roots = names & self._roots(live)
        if not roots:
            return {}
        made_from = {root: {root, *self._made_from(live, root)} for root in roots}
        found: dict[str, set[str]] = {}
        for contact, ways in live.contacts.items():
            item = self.built.item_of_contact(contact)
            if item is not None:
                sources = {way.source for way in ways}
                found.setdefault(item, set()).update(root for root in roots if made_from[root] & sources)
        return {item: tuple(sorted(energies)) for item, energies in sorted(found.items()) if energies}

    def _roots(self, live: LiveMap) -> frozenset[str]:
        """The sources from outside that still live."""
        sources = self.built.sources
        return frozenset(feed.name for feed in live.feeds if feed.name in sources and sources[feed.name].from_ is None)

    @staticmethod
    def _made_from(live: LiveMap, root: str) -> frozenset[str]:
        """The conversions that live because of a source, round any corners."""
        made = {root}
        while True:
            more = {feed.name for feed in live.feeds if made & set(feed.fed_by)} - made
            if not more:
                return frozenset(made)
            made |= more

    def not_proved_at(self, energy: str) -> tuple[str, ...]:
        """The items an electrical energy can get to, everything closed, of which its recorded proof says nothing."""
        live = live_map(self.wiring)
        names = self._made_from(live, energy)
        covered = self._joined_by_copper(self._probes(energy))
        open_: set[str] = set()
        for node, ways in live.nodes.items():
            item = self.built.item_of_contact(contact_of(node))
            if item is not None and node not in covered and any(way.source in names for way in ways):
                open_.add(item)
        return tuple(sorted(open_))

    def _probes(self, energy: str) -> Iterator[str]:
        for proof in self.built.energy[energy].prove_dead or ():
            yield from (str(contact) for contact in proof.between or ())

    def _joined_by_copper(self, contacts: Iterable[str]) -> frozenset[str]:
        """The nodes joined to ``contacts`` by recorded copper alone, both halves of these with them."""
        graph = self.wiring.graph
        probed = frozenset(contacts)
        waiting = [node for node in graph.nodes if contact_of(node) in probed]
        seen = set(waiting)
        while waiting:
            node = waiting.pop()
            for number in graph.at[node]:
                edge = graph.edges[number]
                there = edge.other(node)
                if edge.kind in COPPER_ALONE and there not in seen:
                    seen.add(there)
                    waiting.append(there)
        return frozenset(seen)
