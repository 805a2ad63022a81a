"""What each contact carries, in the words of its recorded role, and up to which voltage a signal goes.

A role says ``24 V DC``, ``0 V``, ``PE``, ``in``, ``out``, ``in/out`` or ``-``; anything else, and nothing, counts as
not recorded. How far an output goes, and how much an input was made for, follows from the supplies behind it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from enum import Enum
from functools import cached_property, lru_cache

from benchleaf.built import Built
from benchleaf.connectors.ends import Plug
from benchleaf.frozen import dataclass
from benchleaf.values.quantity import Dimension, Misread, Quantity, read_quantity
from benchleaf.wiring.graph import (
    COPPER,
    EMPTY,
    Graph,
    Kind,
    contact_of,
    end_node,
    make_graph,
    role_of,
)


class Sort(Enum):
    """What a role is."""

    SUPPLY = "supply"
    RETURN = "0 V"
    EARTH = "PE"
    IN = "in"
    OUT = "out"
    BOTH = "in/out"
    EMPTY = "-"
    UNKNOWN = "not recorded"


SIGNALS = frozenset({Sort.IN, Sort.OUT, Sort.BOTH})
_WORDS = {"in": Sort.IN, "out": Sort.OUT, "in/out": Sort.BOTH, "pe": Sort.EARTH, EMPTY: Sort.EMPTY}


@dataclass(frozen=True, slots=True)
class Carried:
    """What a contact carries. ``volts`` and ``current`` (``AC``, ``DC`` or empty) of a supply; of a signal ``gives`` is
    the highest voltage its output can put out, ``takes`` what its input was made for: ``None`` is not recorded."""

    sort: Sort
    words: str
    volts: float = 0.0
    current: str = ""
    gives: float | None = None
    takes: float | None = None


UNKNOWN = Carried(Sort.UNKNOWN, "not recorded")


@lru_cache(maxsize=4096)
def carried_by(role: str) -> Carried:
    """A role alone, without what is behind it."""
    words = " ".join(role.split())
    sort = _WORDS.get(words.casefold())
    if sort is not None:
        return Carried(sort, "empty" if sort is Sort.EMPTY else words)
    read = read_quantity(words, expected=Dimension.VOLTAGE) if words else None
    if read is None or isinstance(read, Misread):
        return UNKNOWN if not words else Carried(Sort.UNKNOWN, f"{words}, which is no role that is known")
    volts = max((abs(end) for end in (read.low, read.high, read.nominal) if end is not None), default=0.0)
    if volts == 0.0:
        return Carried(Sort.RETURN, "0 V")
    sign = -1.0 if read.nominal is not None and read.nominal < 0 else 1.0
    return Carried(Sort.SUPPLY, read.tidy, sign * volts, read.kind)


class Contacts:
    """The contacts of a machine as built and what each of them carries, worked out once."""

    def __init__(self, built: Built, graph: Graph | None = None) -> None:
        self.built = built
        self.graph = graph if graph is not None else make_graph(built)
        self._fixed: dict[str, Carried] = {}
        self._loose: dict[tuple[str, int], Mapping[str, tuple[Carried, ...]]] = {}
        self._tables: dict[str, Mapping[str, Carried]] = {}
        self._one: dict[Carried, Carried] = {}
        self._many: dict[tuple[Carried, ...], tuple[Carried, ...]] = {}

    def fixed(self, contact: str) -> Carried:
        """What the contact of a fixed half carries (``A1-J3.2``)."""
        known = self._fixed.get(contact)
        if known is None:
            made = self._made(contact)
            known = self._fixed[contact] = self._one.setdefault(made, made)
        return known

    def all_fixed(self, connector: str) -> Mapping[str, Carried]:
        """What every contact of a fixed half carries, by its own name."""
        if connector not in self._tables:
            names = self.built.connectors[connector].contacts or ()
            self._tables[connector] = {str(name): self.fixed(f"{connector}.{name}") for name in names}
        return self._tables[connector]

    def _made(self, contact: str) -> Carried:
        bare = carried_by(role_of(self.built, contact))
        if bare.sort not in SIGNALS:
            return bare
        gives, takes = self._levels(contact)
        if takes is None:
            takes = self._usual_output(contact)
        return Carried(bare.sort, bare.words, gives=gives, takes=takes)

    def _levels(self, contact: str) -> tuple[float | None, float | None]:
        """The highest and the lowest supply of what is joined to a contact inside its host, or by copper.

        A join of which some contact is not known to be a signal or a supply leaves both open.
        """
        volts = list(self._supplies.get(self._net(contact), ()))
        for kind, between in self._joined.get(contact, ()):
            found: list[float] = []
            for other in between:
                if other == contact:
                    continue
                here = self._supplies.get(self._net(other), ())
                found += here
                signal = carried_by(role_of(self.built, other)).sort in SIGNALS
                if not here and not (signal and kind == "driver"):
                    return None, None
            if kind == "driver" and not any(found):
                return None, None
            volts += found
        above = [volt for volt in volts if volt > 0]
        return (max(volts) if volts else None), (min(above) if above else None)

    def _usual_output(self, contact: str) -> float | None:
        """What an input is fed by the output that is wired to it, as the machine was made."""
        given = [
            self._levels(far)[0]
            for far in self._far_of_fixed.get(contact, ())
            if carried_by(role_of(self.built, far)).sort in (Sort.OUT, Sort.BOTH)
        ]
        known = [volt for volt in given if volt]
        return min(known) if known and len(known) == len(given) else None

    @cached_property
    def _far_of_fixed(self) -> Mapping[str, tuple[str, ...]]:
        """Fixed contact → the contacts at the far ends of the wires that arrive there."""
        found: dict[str, tuple[str, ...]] = {}
        for edge in self.graph.edges:
            if edge.kind is Kind.MATED:
                loose, fixed = (edge.a, edge.b) if "@" in edge.a else (edge.b, edge.a)
                far, _ = self._wired_to(loose)
                found[fixed] = (*found.get(fixed, ()), *(contact_of(node) for node in far))
        return found

    @cached_property
    def _joined(self) -> Mapping[str, tuple[tuple[str, tuple[str, ...]], ...]]:
        """Contact → the joins that are no copper it belongs to: their kind, their contacts."""
        found: dict[str, list[tuple[str, tuple[str, ...]]]] = {}
        for joins in self.built.joins.values():
            for join in joins:
                if join.kind is not None and join.kind not in ("copper", "fuse"):
                    between = tuple(str(one) for one in join.between)
                    for one in between:
                        found.setdefault(one, []).append((join.kind, between))
        return {name: tuple(many) for name, many in found.items()}

    @cached_property
    def _root(self) -> Mapping[str, str]:
        """Node → one node for all that copper and fuses join to it."""
        above = {node: node for node in self.graph.nodes}

        def top(node: str) -> str:
            while above[node] != node:
                above[node] = above[above[node]]
                node = above[node]
            return node

        for edge in self.graph.edges:
            if edge.kind in COPPER or edge.kind is Kind.FUSE:
                one, two = top(edge.a), top(edge.b)
                if one != two:
                    above[max(one, two)] = min(one, two)
        return {node: top(node) for node in above}

    def _net(self, node: str) -> str:
        return self._root.get(node, node)

    @cached_property
    def _supplies(self) -> Mapping[str, tuple[float, ...]]:
        """Net → the voltages recorded on it, by role and by source, 0 for a return."""
        found: dict[str, list[float]] = {}
        for source in self.built.sources.values():
            volts = _volts(source.nominal)
            if volts is not None:
                for one in source.at:
                    found.setdefault(self._net(str(one)), []).append(volts)
            for one in source.return_ or ():
                found.setdefault(self._net(str(one)), []).append(0.0)
        for name, connector in self.built.connectors.items():
            for own, role in (connector.contacts or {}).items():
                bare = carried_by(str(role))
                if bare.sort in (Sort.SUPPLY, Sort.RETURN):
                    found.setdefault(self._net(f"{name}.{own}"), []).append(abs(bare.volts))
        return {net: tuple(sorted(volts)) for net, volts in found.items()}

    def loose(self, plug: Plug) -> Mapping[str, tuple[Carried, ...]]:
        """For each contact of a plug what it may bring with it: all that counts, the worst of which happens.

        Without a recorded wire nobody knows what is at the other end of the cable.
        """
        key = (plug.cable, plug.number)
        if key not in self._loose:
            names = plug.half.contacts or ()
            self._loose[key] = {name: self.same(self._brought(plug, name)) for name in names}
        return self._loose[key]

    def same(self, brought: tuple[Carried, ...]) -> tuple[Carried, ...]:
        """One and the same object for all equal ones, so that they are compared by identity."""
        return self._many.setdefault(brought, brought)

    def _brought(self, plug: Plug, name: str) -> tuple[Carried, ...]:
        home = self.fixed(f"{plug.made_for}.{name}") if plug.made_for else UNKNOWN
        told = self.built.cables[plug.cable].ends[plug.number].plug
        own = (told.contacts or {}).get(name) if told is not None else None
        if own == EMPTY or (own is None and home.sort is Sort.EMPTY):
            return (carried_by(EMPTY),)
        far, sure = self._wired_to(end_node(plug.cable, plug.at, name))
        if not sure or not far:
            return (Carried(Sort.UNKNOWN, "wire not recorded"),)
        if home.sort not in SIGNALS:
            return (home,)
        return tuple(dict.fromkeys(self._far(contact_of(node), home) for node in far))

    def _far(self, contact: str, home: Carried) -> Carried:
        """What is at the far end of a signal's wire whose near end belongs at ``home``."""
        if contact.partition(".")[0] in self.built.connectors:
            found = self.fixed(contact)
            takes = found.takes if found.takes is not None else home.gives
            return replace(found, takes=takes) if found.sort in SIGNALS else found
        if home.sort is Sort.OUT:
            return Carried(Sort.IN, "in", takes=home.gives)
        gives, _ = self._levels(contact)
        if home.sort is Sort.IN:
            return Carried(Sort.OUT, "out", gives=gives)
        return replace(home, gives=gives)

    def far_contacts(self, plug: Plug, name: str) -> tuple[tuple[str, ...], bool]:
        """The contacts at the far ends of the recorded wires of a plug's contact, and whether all are recorded."""
        far, sure = self._wired_to(end_node(plug.cable, plug.at, name))
        return tuple(contact_of(node) for node in far), sure and bool(far)

    def _wired_to(self, node: str) -> tuple[tuple[str, ...], bool]:
        """The nodes at the far ends of the recorded wires from a plug's contact, and whether all are recorded."""
        wires, unsure = self._wires
        seen, waiting = {node}, [node]
        while waiting:
            for other in wires.get(waiting.pop(), ()):
                if other not in seen:
                    seen.add(other)
                    waiting.append(other)
        seen.remove(node)
        return tuple(sorted(seen)), node not in unsure

    @cached_property
    def _wires(self) -> tuple[Mapping[str, tuple[str, ...]], frozenset[str]]:
        """Node → the nodes recorded wires join to it; and the nodes of which not every wire is recorded."""
        found: dict[str, list[str]] = {}
        unsure: set[str] = set()
        for edge in self.graph.edges:
            if edge.kind is Kind.WIRE:
                found.setdefault(edge.a, []).append(edge.b)
                found.setdefault(edge.b, []).append(edge.a)
            elif edge.kind is Kind.WIRES_NOT_RECORDED:
                unsure.update((edge.a, edge.b))
        return {node: tuple(many) for node, many in found.items()}, frozenset(unsure)


def _volts(nominal: Quantity | None) -> float | None:
    if nominal is None:
        return None
    return max((abs(end) for end in (nominal.low, nominal.high, nominal.nominal) if end is not None), default=None)
