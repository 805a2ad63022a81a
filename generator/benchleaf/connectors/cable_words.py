"""What a cable carries, in the few words that stand beside its line in a diagram.

Supplies come from the roles of contacts and from sources, over copper; what only fuses, switches and relays join to a
supply is said to carry it when switched. A wire of which neither is known is counted as not recorded, never left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property

from benchleaf.built import Built
from benchleaf.connectors.carried import SIGNALS, Sort, carried_by
from benchleaf.connectors.power_off import joined
from benchleaf.drawings.drawing import NOT_RECORDED
from benchleaf.wiring.contacts import EMPTY, natural
from benchleaf.wiring.graph import COPPER, Edge, Graph, Kind, contact_of, role_of

_ORDER = (Sort.SUPPLY, Sort.RETURN, Sort.EARTH)
_SWITCHED = COPPER | {Kind.FUSE, Kind.SWITCH, Kind.RELAY}


class CableWords:
    """The words of every cable of a machine as built."""

    def __init__(self, built: Built, graph: Graph) -> None:
        self.built, self.graph = built, graph

    def words(self, cable: str) -> Iterator[str]:
        """Supplies, then named signals, then how many further ones, then how many wires nothing is known of."""
        wires = self._wires.get(cable, ())
        nets = dict.fromkeys(self.nets.get(node, node) for wire in wires for node in wire)
        for sort in _ORDER:
            yield from dict.fromkeys(words for net in nets for words in self._supplies.get(net, {}).get(sort, ()))
        named = self._named(contact_of(node) for wire in wires for node in wire)
        further = sum(net in self._signals and net not in self._by_role for net in nets) - len(named)
        bare = [net for net in nets if net not in self._supplies and net not in self._signals]
        switched = {net: self._switched.get(self._wide.get(net, net), ()) for net in bare}
        yield from dict.fromkeys(f"{words} when switched" for many in switched.values() for words in many)
        yield from named
        if further > 0:
            yield f"{further} {'further ' if named else ''}signal{'s' if further > 1 else ''}"
        blank = sum(not many for many in switched.values())
        if not wires:
            yield f"wires {NOT_RECORDED}"
        elif blank:
            yield f"{blank} {NOT_RECORDED}"

    def _named(self, contacts: Iterable[str]) -> list[str]:
        mine = set(contacts)
        return [
            str(signal.name or name)
            for name, signal in self.built.signals.items()
            if mine & {str(one) for one in (signal.from_, *(signal.to or ())) if one is not None}
        ]

    @cached_property
    def nets(self) -> Mapping[str, str]:
        """Node → one node of all that copper joins to it."""
        return _joined(edge for edge in self.graph.edges if edge.kind in COPPER)

    @cached_property
    def _wide(self) -> Mapping[str, str]:
        """Node → one node of all that copper, fuses, switches and relays join to it."""
        return _joined(edge for edge in self.graph.edges if edge.kind in _SWITCHED)

    @cached_property
    def _wires(self) -> Mapping[str, tuple[tuple[str, str], ...]]:
        """Cable → the nodes at both ends of each of its wires; places recorded as empty are left out."""
        found: dict[str, list[tuple[str, str]]] = {}
        for edge in self.graph.edges:
            if edge.kind is Kind.WIRE:
                roles = {role_of(self.built, contact_of(node)) for node in (edge.a, edge.b)}
                if roles != {EMPTY}:
                    found.setdefault(edge.by, []).append((edge.a, edge.b))
        return {name: tuple(many) for name, many in found.items()}

    @cached_property
    def _supplies(self) -> Mapping[str, Mapping[Sort, tuple[str, ...]]]:
        """Net → the supplies, 0 V and PE that roles and sources name on it."""
        found: dict[str, dict[Sort, tuple[str, ...]]] = {}
        for contact, sort, words in self._named_supplies():
            named = found.setdefault(self.nets.get(contact, contact), {})
            named[sort] = tuple(dict.fromkeys((*named.get(sort, ()), words)))
        return found

    @cached_property
    def _by_role(self) -> frozenset[str]:
        """The nets on which a role names a supply, 0 V or PE: what a source alone says leaves a signal a signal."""
        roles = ((contact, carried_by(role).sort) for contact, role in self._roles())
        return frozenset(self.nets.get(contact, contact) for contact, sort in roles if sort in _ORDER)

    def _named_supplies(self) -> Iterator[tuple[str, Sort, str]]:
        for contact, role in self._roles():
            bare = carried_by(role)
            if bare.sort in _ORDER:
                yield contact, bare.sort, bare.words
        for name in sorted(self.built.sources):
            source = self.built.sources[name]
            words = source.nominal.tidy if source.nominal is not None else f"{name}, voltage {NOT_RECORDED}"
            direct = source.nominal is not None and source.nominal.kind == "DC"
            for one in source.at:
                yield str(one), Sort.SUPPLY, words
            for one in source.return_ or ():  # the neutral of an alternating supply is no 0 V to lean on
                yield (str(one), Sort.RETURN, "0 V") if direct else (str(one), Sort.SUPPLY, words)
            for one in source.earth or ():
                yield str(one), Sort.EARTH, "PE"

    @cached_property
    def _switched(self) -> Mapping[str, tuple[str, ...]]:
        """Wide net → the supplies somewhere on it."""
        found: dict[str, dict[str, None]] = {}
        for net, named in sorted(self._supplies.items()):
            found.setdefault(self._wide.get(net, net), {}).update(dict.fromkeys(named.get(Sort.SUPPLY, ())))
        return {net: tuple(words) for net, words in found.items()}

    @cached_property
    def _signals(self) -> frozenset[str]:
        return frozenset(
            self.nets.get(contact, contact) for contact, role in self._roles() if carried_by(role).sort in SIGNALS
        )

    def _roles(self) -> Iterator[tuple[str, str]]:
        for name in sorted(self.built.connectors, key=natural):
            for own, role in (self.built.connectors[name].contacts or {}).items():
                yield f"{name}.{own}", str(role)


def _joined(edges: Iterable[Edge]) -> Mapping[str, str]:
    many = tuple(edges)
    return joined({node for edge in many for node in (edge.a, edge.b)}, ((edge.a, edge.b) for edge in many))
