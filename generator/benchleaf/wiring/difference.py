"""What a conversion changed: the connections of two configurations side by side, added, removed and re-routed.

A difference applied to the connections of one configuration gives those of the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchleaf.built import Built
from benchleaf.frozen import dataclass
from benchleaf.records.wiring import Cable
from benchleaf.wiring.contacts import contact_of, natural, shown
from benchleaf.wiring.graph import NOT_RECORDED, Kind
from benchleaf.wiring.wire_list import WireRow, wire_list
from benchleaf.wiring.wiring import Wiring

ADDED, REMOVED, REROUTED = "added", "removed", "re-routed"


@dataclass(frozen=True, slots=True, order=True)
class Connection:
    """One recorded connection: a wire of a cable, a join inside an item, a pole of a source, or that wires are unknown.

    ``number`` tells wires of a cable, or joins of one kind between the same contacts, apart.
    """

    kind: str
    by: str
    number: int
    a: str
    b: str
    detail: str = ""

    @property
    def words(self) -> str:
        """``W8 wire 1: S4-J1:1 to A1-J8:1 (RD)``."""
        more = f" ({self.detail})" if self.detail else ""
        if self.kind == Kind.WIRE.value:
            return f"{self.by} wire {self.number + 1}: {shown(self.a)} to {shown(self.b)}{more}"
        if not self.b:
            return f"{self.kind} {self.by}: {shown(self.a)}{more}"
        return f"{self.kind} in {self.by}: {shown(self.a)} to {shown(self.b)}{more}"


@dataclass(frozen=True, slots=True, kw_only=True)
class CableChange:
    """What happened to a cable as a whole; ends in the order recorded."""

    cable: str
    change: str
    before: tuple[str, ...] = ()
    after: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """``W9 re-routed: S1-J1, A1-J9 → S1-J1, parked``."""
        ends = " → ".join(", ".join(many) for many in (self.before, self.after) if many)
        return f"{self.cable} {self.change}: {ends}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """What turns the wiring of one configuration into that of the other. Pairs in ``rerouted`` are (before, after)."""

    before: str
    after: str
    added: tuple[Connection, ...]
    removed: tuple[Connection, ...]
    rerouted: tuple[tuple[Connection, Connection], ...]
    cables: tuple[CableChange, ...]
    items_added: tuple[str, ...]
    items_removed: tuple[str, ...]
    sources_added: tuple[str, ...]
    sources_removed: tuple[str, ...]

    @property
    def is_empty(self) -> bool:
        return not (
            self.added or self.removed or self.rerouted or self.cables or self.items_added or self.items_removed
        )

    def applied_to(self, connections: Iterable[Connection]) -> frozenset[Connection]:
        """The connections with this difference made to them."""
        gone = {*self.removed, *(old for old, _ in self.rerouted)}
        return (frozenset(connections) - gone) | {*self.added, *(new for _, new in self.rerouted)}


def difference(before: Wiring, after: Wiring) -> Difference:
    """What was added, removed and re-routed from ``before`` to ``after``."""
    old, new = connections(before), connections(after)
    added, removed = sorted(new - old), sorted(old - new)
    rerouted = []
    for gone in list(removed):
        match = next((one for one in added if _is_rerouted(gone, one)), None)
        if match is not None:
            rerouted.append((gone, match))
            removed.remove(gone)
            added.remove(match)
    first, second = before.built, after.built
    return Difference(
        before=first.configuration.label,
        after=second.configuration.label,
        added=tuple(added),
        removed=tuple(removed),
        rerouted=tuple(rerouted),
        cables=tuple(_cable_changes(first, second)),
        items_added=_new(first.items, second.items),
        items_removed=_new(second.items, first.items),
        sources_added=_new(first.sources, second.sources),
        sources_removed=_new(second.sources, first.sources),
    )


def _new(old: Iterable[str], new: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted(set(new) - set(old), key=natural))


def _is_rerouted(old: Connection, new: Connection) -> bool:
    """The same wire of the same cable, one end of which stayed."""
    same = (old.kind, old.by, old.number) == (new.kind, new.by, new.number)
    return same and old.kind == Kind.WIRE.value and bool({old.a, old.b} & {new.a, new.b})


def connections(wiring: Wiring) -> frozenset[Connection]:
    """Every recorded connection of a machine as built."""
    return frozenset(_connections(wiring))


def _connections(wiring: Wiring) -> Iterator[Connection]:
    for row in wire_list(wiring):
        yield Connection(Kind.WIRE.value, row.cable, row.number - 1, row.a, row.b, _detail(row))
    seen: dict[tuple[str, ...], int] = {}
    for edge in wiring.graph.edges:
        join = edge.join
        if edge.kind in NOT_RECORDED and edge.untold:
            yield Connection(edge.kind.value, edge.by, 0, contact_of(edge.b), "")
        elif join is not None:
            facts = (join.rest, join.label, join.rating and join.rating.tidy)
            detail = ", ".join(str(fact) for fact in facts if fact)
            key = (edge.kind.value, edge.by, edge.a, edge.b, detail)
            seen[key] = seen.get(key, -1) + 1
            yield Connection(edge.kind.value, edge.by, seen[key], edge.a, edge.b, detail)
    for name, source in wiring.built.sources.items():
        volts = source.nominal.tidy if source.nominal is not None else ""
        for words, contacts in (("live", source.at), ("return", source.return_), ("earth", source.earth)):
            for contact in contacts or ():
                yield Connection(
                    "source", name, 0, str(contact), "", ", ".join(part for part in (words, volts) if part)
                )


def _detail(row: WireRow) -> str:
    return ", ".join(part for part in (row.colour.written if row.colour else "", row.gauge, row.rated) if part)


def _cable_changes(before: Built, after: Built) -> Iterator[CableChange]:
    for name in sorted({*before.cables, *after.cables}, key=natural):
        old, new = before.cables.get(name), after.cables.get(name)
        if old is None or new is None:
            change = ADDED if old is None else REMOVED
            yield CableChange(cable=name, change=change, before=_ends(old), after=_ends(new))
        elif _ends(old) != _ends(new):
            yield CableChange(cable=name, change=REROUTED, before=_ends(old), after=_ends(new))


def _ends(cable: Cable | None) -> tuple[str, ...]:
    return tuple(str(end.at) for end in cable.ends) if cable is not None else ()
