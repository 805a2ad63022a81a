"""A machine as built with its graph, and everything the walks need of it, worked out once and never changed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property

from benchleaf.built import Built
from benchleaf.frozen import dataclass
from benchleaf.records.wiring import Source
from benchleaf.wiring.conduction import BY_HAND, How, Pieces, draw_together, earthed, groups, without_loads
from benchleaf.wiring.contacts import EMPTY, cable_of, contact_of, owner_of, role_of
from benchleaf.wiring.devices import Device, devices_of
from benchleaf.wiring.graph import Graph, is_hub, make_graph
from benchleaf.wiring.nets import Net, draw_nets

Start = tuple[str, How]
"""A node at which something stands, and how sure that is."""
STORED = "stored:"
UNRECORDED = "not recorded:"


@dataclass(frozen=True, eq=False)
class Wiring:
    """The wiring of one machine as built. Compare and hash by identity; make one a configuration and keep it."""

    built: Built
    graph: Graph

    @staticmethod
    def of(built: Built) -> Wiring:
        return Wiring(built, make_graph(built))

    @cached_property
    def pieces(self) -> Pieces:
        return draw_together(self.graph)

    @cached_property
    def bare_pieces(self) -> Pieces:
        return without_loads(self.pieces)

    @cached_property
    def nets(self) -> tuple[Net, ...]:
        """What recorded copper joins with everything plugged in, by name."""
        return draw_nets(self.graph, self.pieces)

    @cached_property
    def net_of(self) -> Mapping[str, Net]:
        """Node or contact → its net. A contact whose halves are in two nets (a plug that does not fit) has the fixed
        half's."""
        found: dict[str, Net] = {}
        for net in self.nets:
            for contact in net.contacts:
                found.setdefault(contact, net)
        for net in self.nets:
            found.update(dict.fromkeys(net.nodes, net))
        return found

    @cached_property
    def devices(self) -> tuple[Device, ...]:
        """Every recorded isolating device, in the order of the records."""
        return devices_of(self.built, self.graph)

    def operated(self, names: Iterable[str]) -> tuple[Device, ...]:
        """The devices that ``names`` mean: ``Q1``, ``Q1.1+2``, ``open Q1``, or the item of a single device.

        A name that is no recorded isolating device, or leaves open which of several, isolates nothing.
        """
        wanted = set(names)
        by_item: dict[str, list[Device]] = {}
        for device in self.devices:
            by_item.setdefault(device.item, []).append(device)
        return tuple(
            device
            for device in self.devices
            if device.words in wanted
            or device.key in wanted
            or (device.item in wanted and len(by_item[device.item]) == 1)
        )

    @cached_property
    def by_end(self) -> Mapping[tuple[str, str], tuple[int, ...]]:
        """(cable, place) → the edges that opening this end cuts; a place is a connector, item or contact."""
        found: dict[tuple[str, str], list[int]] = {}
        for number, edge in enumerate(self.graph.edges):
            if edge.kind in BY_HAND:
                for place in dict.fromkeys((edge.by, edge.b)):
                    found.setdefault((cable_of(edge.a), place), []).append(number)
        return {end: tuple(numbers) for end, numbers in found.items()}

    def fixed_on(self, item: str) -> list[str]:
        """Every node fixed on an item: its own contacts and those of its connectors."""
        return list(self._fixed.get(item, ()))

    @cached_property
    def _fixed(self) -> Mapping[str, tuple[str, ...]]:
        found: dict[str, list[str]] = {}
        for node in self.graph.nodes:
            item = self.built.item_of_contact(node) if "@" not in node else None
            if item is not None:
                found.setdefault(item, []).append(node)
        return {item: tuple(nodes) for item, nodes in found.items()}

    @cached_property
    def supplies(self) -> Mapping[str, Source]:
        """The sources of their own, no conversions."""
        return {name: one for name, one in sorted(self.built.sources.items()) if one.from_ is None}

    @cached_property
    def conversions(self) -> Mapping[str, Source]:
        return {name: one for name, one in sorted(self.built.sources.items()) if one.from_ is not None}

    def starts_of(self, source: Source) -> tuple[Start, ...]:
        """Where a source stands. With a plug not recorded as polarised every contact of it but its earth is live: those
        recorded for sure; while its return or its earth is not recorded, the others too, for they may be anything."""
        named = [str(one) for one in source.at]
        if source.from_ is not None or source.plug == "polarised":
            return tuple((node, How.DIRECT) for node in dict.fromkeys(named))
        named += [str(one) for one in source.return_ or ()]
        earth = {str(one) for one in source.earth or ()}
        whole = source.return_ is not None and source.earth is not None
        owners = set() if whole else {owner_of(str(one)) for one in source.at}
        others = [
            f"{owner}.{own}"
            for owner in sorted(owners)
            for own in self.graph.contacts.get(owner, ())
            if f"{owner}.{own}" not in earth and role_of(self.built, f"{owner}.{own}") != EMPTY
        ]
        sure = dict.fromkeys(named, How.DIRECT)
        return tuple({**dict.fromkeys(others, How.NOT_RECORDED), **sure}.items())

    @cached_property
    def earth_contacts(self) -> tuple[str, ...]:
        """The earth contacts of the sources that come from outside: the roots of all recorded bonding."""
        return tuple(dict.fromkeys(str(one) for s in self.supplies.values() for one in s.earth or ()))

    def hosts_of(self, source: Source) -> tuple[str, ...]:
        """The items a source stands at."""
        return tuple(dict.fromkeys(i for one in source.at if (i := self.built.item_of_contact(str(one))) is not None))

    @cached_property
    def fed_at(self) -> Mapping[str, tuple[tuple[int, ...], tuple[int, ...]]]:
        """Conversion → the pieces on its host, and those at which something else may feed it: every contact of the host
        that is no output of a conversion there, but of those it is itself made from."""
        found = {}
        for name, source in self.conversions.items():
            hosts = set(self.hosts_of(source))
            host = self.pieces.of_all(node for item in sorted(hosts) for node in self.fixed_on(item))
            own: set[int] = set()
            for other, one in self.conversions.items():
                if other == name or (other not in (source.from_ or ()) and hosts & set(self.hosts_of(one))):
                    own.update(self.pieces.of_all(str(c) for c in (*one.at, *(one.return_ or ()))))
            found[name] = (tuple(host), tuple(piece for piece in host if piece not in own))
        return found

    @cached_property
    def unknown_ends(self) -> Mapping[str, tuple[str, ...]]:
        """Connector or item → its contacts, where nobody recorded what is plugged in or landed there.

        A connector with neither a cable, nor ``cable: none``, nor a source from outside, be it on another variant. An
        item with contacts but no connector, no lead and no join to another item.
        """
        return {owner: tuple(nodes) for owner, nodes in self._unknown_ends() if nodes}

    def _unknown_ends(self) -> Iterator[tuple[str, list[str]]]:
        built = self.built
        declared = built.machine.wiring.sources.values()
        of_sources = {owner_of(str(one)) for s in declared if s.from_ is None for one in s.at}
        for name, connector in built.connectors.items():
            if name not in built.cables_at and name not in of_sources and connector.cable != "none":
                nodes = [f"{name}.{own}" for own in self.graph.contacts.get(name, ())]
                yield name, [node for node in nodes if role_of(built, node) != EMPTY]
        led = {str(end.at).partition(".")[0] for cable in built.cables.values() for end in cable.ends}
        across = {
            owner
            for item, joins in built.joins.items()
            for join in joins
            if len({built.item_of_contact(str(one)) for one in (*join.between, *(join.coil or ()))} - {None}) > 1
            for owner in (item, *(str(built.item_of_contact(str(one))) for one in join.between))
        }
        metal = {str(item.metal_earth) for item in built.items.values()}
        for item in built.items:
            if item in led or item in across or item in of_sources or built.connectors_of.get(item):
                continue
            yield item, [n for own in self.graph.contacts.get(item, ()) if (n := f"{item}.{own}") not in metal]

    @cached_property
    def unknown_energies(self) -> Mapping[str, tuple[str, ...]]:
        """Electrical energies of which the wiring names no source → the contacts at which they count as live."""
        found: dict[str, tuple[str, ...]] = {}
        for name, energy in sorted(self.built.energy.items()):
            if energy.kind == "electrical" and name not in self.built.machine.wiring.sources and not energy.stored:
                items = [str(one.item) for one in energy.at or ()]
                nodes = [node for item in items for node in self.fixed_on(item)] if items else self.graph.nodes
                found[name] = tuple(nodes)
        return found

    @cached_property
    def by_devices(self) -> frozenset[int]:
        """The edges that some recorded isolating device opens."""
        return frozenset(edge for device in self.devices for edge in device.opens)

    @cached_property
    def pieces_of_contact(self) -> Mapping[str, tuple[int, ...]]:
        """Contact, sorted → the pieces of its halves; hubs left out."""
        found: dict[str, dict[int, None]] = {}
        for node, piece in self.pieces.of.items():
            if not is_hub(node):
                found.setdefault(contact_of(node), {})[piece] = None
        return {contact: tuple(found[contact]) for contact in sorted(found)}

    @cached_property
    def closed(self) -> tuple[frozenset[int], tuple[list[int], ...]]:
        """The earthed pieces and the groups with nothing isolated and every end mated."""
        bonded = earthed(self.pieces, self.pieces.of_all(self.earth_contacts), frozenset())
        return bonded, groups(self.pieces, frozenset(), bonded, self.by_devices)

    def reach_closed(self, starts: Iterable[Start], level: How) -> frozenset[int]:
        """The groups of ``level`` that ``starts`` reach with everything closed."""
        bonded, levels = self.closed
        pieces = [self.pieces.of[node] for node, how in starts if how <= level and node in self.pieces.of]
        return frozenset(levels[level][piece] for piece in pieces if piece not in bonded)

    def leads_to(self, source: str, pieces: Iterable[int]) -> bool:
        """Whether recorded wiring, everything closed, leads from a source to one of ``pieces``.

        Only then can an opening prove the two parted. What is not recorded does not count here.
        """
        bonded, levels = self.closed
        reached = self.reach_closed(self.starts_of(self.built.sources[source]), How.THROUGH)
        return any(levels[How.THROUGH][piece] in reached for piece in pieces if piece not in bonded)

    @cached_property
    def stores(self) -> Mapping[str, tuple[Start, ...]]:
        """Charge that stays when its source is gone → where it stands.

        ``stored:mains:0`` is the first store recorded under an energy: where it is measured, else every contact of its
        item. ``stored:mains:?``: nobody recorded whether charge stays, so it may stay wherever the source came.
        """
        found: dict[str, tuple[Start, ...]] = {}
        for name, energy in sorted(self.built.energy.items()):
            for number, store in enumerate(energy.stored or ()):
                item = str(store.in_.item) if store.in_ is not None else ""
                nodes = [str(one) for one in store.between or ()] or self.fixed_on(item)
                if item in self.built.items:
                    found[f"{STORED}{name}:{number}"] = tuple((node, How.DIRECT) for node in nodes)
        for name, source in self.supplies.items():
            energy_of = self.built.energy.get(name)
            if energy_of is None or energy_of.stored is None:
                found[f"{STORED}{name}:?"] = tuple((node, How.NOT_RECORDED) for node in self._fed_from(name, source))
        return found

    def _fed_from(self, name: str, source: Source) -> Iterator[str]:
        """Every node that a source, or a conversion made from it, reaches with everything closed."""
        starts = list(self.starts_of(source))
        made = {name}
        for _ in self.conversions:
            for other, one in self.conversions.items():
                if other not in made and made & set(one.from_ or ()):
                    made.add(other)
                    starts += self.starts_of(one)
        bonded, levels = self.closed
        reached = self.reach_closed(starts, How.NOT_RECORDED)
        for node, piece in self.pieces.of.items():
            if levels[How.NOT_RECORDED][piece] in reached and piece not in bonded and not is_hub(node):
                yield node
