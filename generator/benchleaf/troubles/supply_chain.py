"""What each function of a machine hangs on: every fuse, plug, cable, board and supply it stops without.

The way is followed through recorded copper, fuses, switches and plugs from where power enters to where it is used;
something counts only when no other recorded way leads round it. Of what is fed through a driver the driver is part of
the way. Wires nobody recorded lead nowhere here: what a function hangs on is then said to be not recorded.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from typing import TYPE_CHECKING

from benchleaf.access.ways import Ways
from benchleaf.built import Built
from benchleaf.frozen import dataclass
from benchleaf.records.wiring import Join, Source
from benchleaf.wiring.contacts import cable_of, contact_of, shown
from benchleaf.wiring.graph import COPPER, Edge, Graph, Kind, make_graph

if TYPE_CHECKING:
    from benchleaf.troubles.common_path import Split

CONDUCTS = COPPER | {Kind.FUSE, Kind.SWITCH, Kind.RELAY}
USES = frozenset({"load", "driver"})


@dataclass(frozen=True, slots=True)
class Link:
    """One thing a function hangs on. ``id`` tells it from others (``fuse:F2``, ``plug:A1-J1``, ``source:supply-24``).

    ``after``: the node on its far side, where it can be measured whether power gets so far (``A1-J1.1``, or
    ``W3@A1-J1.1`` on the cable's own side of the plug); ``source`` the supply that is measured there.
    """

    id: str
    after: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """What an item hangs on, from where power enters to the item. ``known`` is false when no recorded way feeds it."""

    item: str
    links: tuple[Link, ...]
    known: bool


class Supplies:
    """The ways power takes in one machine as built, everything plugged in and every switch closed."""

    def __init__(self, built: Built, graph: Graph) -> None:
        self.built = built
        self.graph = graph
        self._upstream: dict[str, tuple[Link, ...]] = {}

    @cached_property
    def _at(self) -> Mapping[str, tuple[Edge, ...]]:
        found: dict[str, list[Edge]] = {}
        for edge in self.graph.edges:
            if edge.kind in CONDUCTS:
                found.setdefault(edge.a, []).append(edge)
                found.setdefault(edge.b, []).append(edge)
        return {node: tuple(edges) for node, edges in found.items()}

    @cached_property
    def functions(self) -> tuple[str, ...]:
        """The items that use power: those with a load or a driver, in the order of the record."""
        return tuple(
            item for item in self.built.items if any(join.kind in USES for join in self.built.joins.get(item, ()))
        )

    def chain(self, item: str) -> Chain:
        """What an item hangs on. Fed at several contacts, it hangs on all that any of them hangs on; only where copper
        feeds it nowhere are drivers looked at."""
        terminals = self._terminals(item)
        ways = [_shared([way for name in self._feeding if (way := self._from_source(name, one))]) for one in terminals]
        if not any(ways):
            ways = [_shared(list(self._by_drivers(item, one))) for one in terminals if one not in self._returns]
        links: dict[str, Link] = {}
        for way in ways:
            for link in way:
                links.setdefault(link.id, link)
        return Chain(item=item, links=tuple(links.values()), known=bool(links))

    @cached_property
    def _returns(self) -> frozenset[str]:
        """Every contact that copper joins to the return of a source: no driver feeds anything by way of it."""
        return self._reached(str(one) for source in self.built.sources.values() for one in source.return_ or ())

    @cached_property
    def _feeding(self) -> tuple[str, ...]:
        """The sources that feed something: not a motor that can be turned, which is a function and a source at once."""
        users = set(self.functions)
        return tuple(
            name
            for name, source in self.built.sources.items()
            if source.from_ is not None or not any(self.built.item_of_contact(str(one)) in users for one in source.at)
        )

    def _terminals(self, item: str) -> tuple[str, ...]:
        joins = (join for join in self.built.joins.get(item, ()) if join.kind in USES)
        return tuple(dict.fromkeys(str(one) for join in joins for one in join.between))

    def _from_source(self, name: str, terminal: str) -> tuple[Link, ...]:
        """The links from a source to a contact, upstream ones first; empty when recorded copper does not lead there."""
        source = self.built.sources[name]
        way = self._way([str(one) for one in source.at], terminal, name)
        return (*self._of_source(name), *way) if way is not None else ()

    def _of_source(self, name: str) -> tuple[Link, ...]:
        """What a source hangs on, itself last."""
        if name not in self._upstream:
            source = self.built.sources[name]
            self._upstream[name] = ()  # a ring of conversions feeds itself no further
            own = Link(f"source:{name}", str(source.at[0]) if source.at else "", name)
            self._upstream[name] = (*self._inputs(source), own)
        return self._upstream[name]

    def _inputs(self, source: Source) -> tuple[Link, ...]:
        hosts = {item for one in source.at if (item := self.built.item_of_contact(str(one))) is not None}
        ways = []
        for name in source.from_ or ():
            fed = [self._from_source(str(name), one) for host in sorted(hosts) for one in self._fixed(host)]
            ways.append(next((way for way in fed if way), self._of_source(str(name))))
        if source.needs == "all":
            return tuple({link.id: link for way in ways for link in way}.values())
        return _shared(ways)

    def _fixed(self, item: str) -> Iterator[str]:
        for owner in (item, *self.built.connectors_of.get(item, ())):
            for own in self.graph.contacts.get(owner, ()):
                yield f"{owner}.{own}"

    def _by_drivers(self, item: str, terminal: str) -> Iterator[tuple[Link, ...]]:
        """The ways through a driver on another item, that itself is fed at one of its contacts."""
        near = self._reached([terminal])
        for other, join in self._drivers(item):
            ends = [str(one) for one in join.between]
            here = next((one for one in ends if one in near), None)
            if here is None:
                continue
            for end in ends:
                fed = _shared([way for name in self._feeding if (way := self._from_source(name, end))])
                if fed and end not in near:
                    source = fed[-1].source
                    driver = Link(f"driver:{other}:{join.label or ''}", here, source)
                    yield (*fed, driver, *(self._way([here], terminal, source) or ()))
                    break

    def _drivers(self, item: str) -> Iterator[tuple[str, Join]]:
        for other, joins in self.built.joins.items():
            yield from ((other, join) for join in joins if join.kind == "driver" and other != item)

    def _way(self, starts: Iterable[str], end: str, source: str) -> tuple[Link, ...] | None:
        """The links without which no conducting way leads from ``starts`` to ``end``; ``None`` = there is no way."""
        path = self._path(tuple(starts), end, "")
        if path is None:
            return None
        after: dict[str, str] = {}
        for edge, node in path:
            after[_link_of(edge)] = node
        return tuple(
            Link(one, contact, source) for one, contact in after.items() if self._path(tuple(starts), end, one) is None
        )

    def _path(self, starts: tuple[str, ...], end: str, without: str) -> list[tuple[Edge, str]] | None:
        came: dict[str, tuple[Edge, str] | None] = dict.fromkeys(starts)
        waiting = deque(starts)
        while waiting and end not in came:
            node = waiting.popleft()
            for edge in self._at.get(node, ()):
                other = edge.other(node)
                if other not in came and _link_of(edge) != without:
                    came[other] = (edge, node)
                    waiting.append(other)
        if end not in came:
            return None
        path: list[tuple[Edge, str]] = []
        at = end
        while (step := came[at]) is not None:
            path.append((step[0], at))
            at = step[1]
        return path[::-1]

    def _reached(self, starts: Iterable[str]) -> frozenset[str]:
        seen = set(starts)
        waiting = deque(seen)
        while waiting:
            for edge in self._at.get(waiting.popleft(), ()):
                for other in (edge.a, edge.b):
                    if other not in seen:
                        seen.add(other)
                        waiting.append(other)
        return frozenset(seen)

    def conducts(self, source: str, contact: str) -> bool:
        """Whether copper, fuses and closed switches lead from a source to a contact: then it can be measured dead."""
        return contact in self._reached(str(one) for one in self.built.sources[source].at)

    def words(self, id: str) -> str:
        """A link in words: ``fuse F2 (Head supply fuse)``, ``plug at A1-J1``, ``supply-24 (24 V DC), made in PS1``."""
        kind, _, rest = id.partition(":")
        name, _, label = rest.partition(":")
        if kind == "source":
            source = self.built.sources[name]
            nominal = f" ({source.nominal.tidy})" if source.nominal is not None else ""
            host = self.built.item_of_contact(str(source.at[0])) if source.at else None
            made = "made in" if source.from_ is not None else "from outside at"
            return f"supply {name}{nominal}, {made} {self.item_words(host or name)}"
        if kind == "driver":
            return f"{label or 'driver'} of {self.item_words(name)}"
        if kind == "cable":
            cable = self.built.cables[name]
            return f"cable {name}" + (f" ({cable.name})" if cable.name else "")
        if kind == "plug":
            return f"plug at {name}"
        if kind == "lead":
            return f"lead at {shown(name)}"
        return f"{'copper in' if kind == 'copper' else kind.replace('-', ' ')} {self.item_words(name)}"

    def item_words(self, name: str) -> str:
        """``M3 (Fan)``; what has no designation goes by its name."""
        item = self.built.items.get(name)
        return (
            f"{name} ({item.name})" if item is not None and name != name.lower() else str(item.name) if item else name
        )


def supplies_of(ways: Ways) -> Supplies:
    """The ways power takes in one machine as built, remembered."""
    ground = ways.ground
    graph = ground.remember("wiring graph", "", lambda: make_graph(ways.built))
    return ground.remember("supplies", "", lambda: Supplies(ways.built, graph))


def split_words(supplies: Supplies, split: Split) -> tuple[str, ...]:
    """How to take the measurement that halves what is suspected, dead or powered, and what each reading means."""
    source = supplies.built.sources[split.source]
    nominal = source.nominal.tidy if source.nominal is not None else "a voltage not recorded"
    back = " and ".join(shown(str(one)) for one in source.return_ or ()) or "its return (not recorded)"
    start = " or ".join(shown(str(one)) for one in source.at)
    before, beyond = supplies.words(split.before[-1]), supplies.words(split.beyond[0])
    dead_test = (
        f"Dead and proved first: does it conduct to {start}?"
        if split.dead and supplies.conducts(split.source, split.contact)
        else "A supply or driver lies before it: only power shows whether it does its part."
    )
    return (
        f"Measure at {place_words(split.contact)}. {dead_test}",
        f"Only as a powered test your shop has written: {nominal} against {back}, while it is asked to run.",
        f"Good there: the fault lies beyond it, from {beyond} on. Nothing there: it lies before it, up to {before}.",
    )


def place_words(node: str) -> str:
    """``A1-J1:1``; on a cable's own side of a plug or lead it says so."""
    cable = cable_of(node)
    return f"{shown(contact_of(node))}" + (f", on the side of cable {cable}" if cable else "")


def _link_of(edge: Edge) -> str:
    """The thing that fails as one: all contacts of a plug together, all wires of a cable."""
    kind = {
        Kind.FUSE: "fuse", Kind.SWITCH: "switch", Kind.RELAY: "relay-contact", Kind.MATED: "plug", Kind.LANDED: "lead",
        Kind.WIRE: "cable",
    }.get(edge.kind, "copper")  # fmt: skip
    return f"{kind}:{edge.by}"


def _shared(ways: list[tuple[Link, ...]]) -> tuple[Link, ...]:
    """What all of several ways have in common: any one of them is enough."""
    if not ways:
        return ()
    first, *others = ways
    return tuple(link for link in first if all(any(link.id == one.id for one in way) for way in others))
