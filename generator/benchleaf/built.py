"""A machine as built: one configuration with everything resolved, the ground on which every computation stands.

Entries whose ``applies`` does not hold are gone, ``where`` has replaced what it replaces, and what sits in, hangs on or
ends at something that is not there is gone with it. An applicability left open by a missing serial counts as there.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from itertools import product
from typing import Any, TypeVar

from benchleaf import refs
from benchleaf.applicability import Configuration, configurations, holds
from benchleaf.fastener_sets import FastenerSet, make_set
from benchleaf.frozen import dataclass
from benchleaf.model import Machine
from benchleaf.records.energy import Energy
from benchleaf.records.entry import Entry
from benchleaf.records.items import Item
from benchleaf.records.lines import Adjuster, AsFound, Line, ReturnCheck, Tie
from benchleaf.records.types import Applies, Choices
from benchleaf.records.wiring import Cable, CableEnd, Connector, Join, Signal, Source, Substitution
from benchleaf.references import references

E = TypeVar("E", bound=Entry)
FRAME = "frame"


@dataclass(frozen=True, kw_only=True)
class Built:
    """One machine in one configuration. All tables are by id; ``machine`` still holds what was recorded."""

    machine: Machine
    configuration: Configuration
    items: Mapping[str, Item]
    sets: Mapping[str, FastenerSet]
    energy: Mapping[str, Energy]
    lines: Mapping[str, Line]
    ties: Mapping[str, Tie]
    adjusters: Mapping[str, Adjuster]
    checks: Mapping[str, ReturnCheck]
    connectors: Mapping[str, Connector]
    cables: Mapping[str, Cable]
    joins: Mapping[str, tuple[Join, ...]]
    sources: Mapping[str, Source]
    signals: Mapping[str, Signal]
    substitutions: tuple[Substitution, ...]
    as_found: tuple[AsFound, ...]

    def parent(self, item: str) -> str | None:
        """The item that ``item`` sits in and moves with; ``None`` for what sits in the frame."""
        inside = self.items[item].in_ if item in self.items else None
        return str(inside.item) if inside is not None and inside.item in self.items else None

    def chain(self, item: str) -> tuple[str, ...]:
        """``item`` and what it sits in, from the inside out. A ring in the record is walked once."""
        seen: list[str] = []
        at: str | None = item
        while at is not None and at not in seen:
            seen.append(at)
            at = self.parent(at)
        return tuple(seen)

    @cached_property
    def _inside(self) -> Mapping[str, frozenset[str]]:
        within: dict[str, set[str]] = {name: set() for name in self.items}
        for name in self.items:
            for outer in self.chain(name):
                within.setdefault(outer, set()).add(name)
        return {name: frozenset(found) for name, found in within.items()}

    def inside(self, item: str) -> frozenset[str]:
        """``item`` and everything in it at any depth: what moves when it moves."""
        return self._inside.get(item, frozenset((item,)))

    def behind(self, item: str) -> Choices:
        """What is out of the way before ``item`` comes off: its own record, else that of what it sits in."""
        for name in self.chain(item):
            own = self.items[name].behind if name in self.items else None
            if own is not None:
                return own
        return ()

    def reach(self, item: str) -> Choices:
        """What is out of the way before ``item`` can be touched: its ``reach``, else its ``behind``."""
        own = self.items[item].reach if item in self.items else None
        return own if own is not None else self.behind(item)

    def reach_of_set(self, name: str) -> Choices:
        own = self.sets[name].reach
        return own if own is not None else self.reach(self.sets[name].item)

    def reach_of_connector(self, name: str) -> Choices:
        own = self.connectors[name].reach if name in self.connectors else None
        if own is not None:
            return own
        host = self.host_item(name)
        return self.reach(host) if host is not None else self._reach_along(refs.host_of(name))

    def _reach_along(self, cable: str) -> Choices:
        """Where a connector on a cable hangs is not recorded: reached where one of the cable's own ends is."""
        ends = self.cables[cable].ends if cable in self.cables else ()
        items = [item for end in ends if (item := self.item_of_end(end)) is not None]
        ways = {self.reach(item): None for item in items}
        return tuple(tuple(option for clause in each for option in clause) for each in product(*ways)) if ways else ()

    def reach_of_tie(self, name: str) -> Choices:
        own = self.ties[name].reach
        return own if own is not None else self.reach(str(self.ties[name].fixed_to.item))

    def reach_of_joint(self, line: str, item: str) -> Choices:
        own = next((end.reach for end in self.lines[line].ends if end.at.item == item), None)
        return own if own is not None else self.reach(item)

    def host_item(self, connector: str) -> str | None:
        """The item a connector is fixed on; ``None`` when it hangs on a cable."""
        host = refs.host_of(connector)
        return host if host in self.items else None

    def item_of_end(self, end: CableEnd) -> str | None:
        """The item a cable end is at; ``None`` when parked or on another cable."""
        if end.at.is_parked:
            return None
        owner = end.at.partition(".")[0]
        if owner in self.items:
            return owner
        return self.host_item(owner)

    def item_of_contact(self, contact: str) -> str | None:
        """The item a contact belongs to, or whose connector it is in."""
        owner = contact.partition(".")[0]
        return owner if owner in self.items else self.host_item(owner)

    def sets_of(self, item: str) -> tuple[FastenerSet, ...]:
        """The fastener sets that hold ``item``, by name."""
        return self._sets_by_item.get(item, ())

    def held_unknown(self, item: str) -> bool:
        """Whether nobody recorded what holds ``item``: it counts as held by something unknown."""
        return item in self.items and self.items[item].held_by is None

    @cached_property
    def _sets_by_item(self) -> Mapping[str, tuple[FastenerSet, ...]]:
        found: dict[str, list[FastenerSet]] = {}
        for name in sorted(self.sets):
            found.setdefault(self.sets[name].item, []).append(self.sets[name])
        return {name: tuple(many) for name, many in found.items()}

    @cached_property
    def cables_at(self) -> Mapping[str, tuple[str, ...]]:
        """Connector → the cables with a plug in it, by name (more than one is an error elsewhere)."""
        found: dict[str, list[str]] = {}
        for name in sorted(self.cables):
            for end in self.cables[name].ends:
                if end.at in self.connectors:
                    found.setdefault(str(end.at), []).append(name)
        return {name: tuple(many) for name, many in found.items()}

    @cached_property
    def connectors_of(self) -> Mapping[str, tuple[str, ...]]:
        """Host → its connectors in connector order (J2 before J10)."""
        found: dict[str, list[str]] = {}
        for name in sorted(self.connectors, key=connector_order):
            found.setdefault(refs.host_of(name), []).append(name)
        return {name: tuple(many) for name, many in found.items()}

    def connector_kind(self, name: str) -> Connector:
        """The connector with what it copies by ``like`` filled in; ``reach`` is never copied."""
        return self.connectors[name]


def connector_order(name: str) -> tuple[str, str, int, str]:
    """Sort key of a connector: host, letters, number."""
    host, _, own = name.rpartition("-")
    letters = own.rstrip("0123456789")
    digits = own[len(letters) :]
    return (host, letters, int(digits) if digits else 0, name)


def applicabilities(machine: Machine, found: Iterable[object] | None = None) -> Iterator[Applies]:
    """Every applicability that a record of the machine states, but for what says which serials a variant has.

    ``found`` are the references of all its records, where they were collected before.
    """
    if found is None:
        found = (one for record in machine.records() for one in references(record))
    declares = {id(one) for one in references((machine.record.variants, machine.record.modifications))}
    for one in found:
        if isinstance(one, Applies) and id(one) not in declares:
            yield one


def configurations_of(machine: Machine, stated: Iterable[Applies] | None = None) -> tuple[Configuration, ...]:
    """Every configuration of the machine a computation has to look at, in a fixed order.

    ``stated`` are the applicabilities of its records, where they were collected before.
    """
    return configurations(machine.record, tuple(applicabilities(machine) if stated is None else stated))


def resolve(entry: E, built: Configuration, machine: Machine) -> E | None:
    """An entry as it is in a configuration: ``None`` when it is not there, ``where`` applied when it is."""
    if holds(entry.applies, built, machine.record) is False:
        return None
    for one in entry.where:
        if holds(one.applies, built, machine.record) is True:
            entry = dataclasses.replace(entry, **one.changes, said={**entry.said, **one.said})
    return entry


def build(machine: Machine, configuration: Configuration) -> Built:
    """The machine in one configuration."""
    record, wiring = machine.record, machine.wiring

    def all_of(entries: Mapping[str, E]) -> dict[str, E]:
        made = {name: resolve(one, configuration, machine) for name, one in entries.items()}
        return {name: one for name, one in made.items() if one is not None}

    items = _with_their_hosts(all_of(record.items))
    connectors, cables = _hosted(_copied(all_of(wiring.connectors)), all_of(wiring.cables), items)
    kept = {name: one for name, one in all_of(record.lines).items() if all(end.at.item in items for end in one.ends)}
    serial = configuration.serial
    return Built(
        machine=machine,
        configuration=configuration,
        items=items,
        sets={s.name: s for s in _sets(items, record.fasteners, configuration, machine)},
        energy=all_of(record.energy),
        lines=kept,
        ties={n: one for n, one in all_of(record.ties).items() if one.fixed_to.item in items},
        adjusters={n: o for n, o in all_of(record.adjusters).items() if o.on_item is None or o.on_item.item in items},
        checks=all_of(record.checks),
        connectors=connectors,
        cables=cables,
        joins={
            name: tuple(one for one in many if holds(one.applies, configuration, record) is not False)
            for name, many in wiring.joins.items()
            if name in items
        },
        sources=all_of(wiring.sources),
        signals=all_of(wiring.signals),
        substitutions=tuple(s for s in wiring.substitutions if holds(s.applies, configuration, record) is not False),
        as_found=tuple(one for one in record.as_found if serial is not None and one.serial == serial),
    )


def _sets(
    items: Mapping[str, Item], fasteners: Mapping[str, Any], configuration: Configuration, machine: Machine
) -> Iterator[FastenerSet]:
    for name, item in items.items():
        for own, held in (item.held_by or {}).items():
            resolved = resolve(held, configuration, machine)
            if resolved is None:
                continue
            kind = fasteners.get(resolved.fastener or own)
            kind = resolve(kind, configuration, machine) if kind is not None else None
            yield make_set(name, own, resolved, kind)


def _with_their_hosts(items: dict[str, Item]) -> dict[str, Item]:
    """Items whose host is not there are not there either."""
    while True:
        gone = [name for name, one in items.items() if one.in_ is not None and one.in_.item not in items]
        if not gone:
            return items
        items = {name: one for name, one in items.items() if name not in gone}


def _copied(connectors: dict[str, Connector]) -> dict[str, Connector]:
    """Connectors with ``like`` filled in: the other's keys but ``reach`` and ``cable``, where its own are left out."""
    made: dict[str, Connector] = {}
    for name, one in connectors.items():
        seen = {name}
        while one.like is not None and one.like in connectors and one.like not in seen:
            seen.add(one.like)
            other = connectors[one.like]
            blank = [
                part.name
                for part in dataclasses.fields(one)
                if getattr(one, part.name) is None and part.name not in ("reach", "applies", "like", "cable")
            ]
            changes: dict[str, Any] = {part: getattr(other, part) for part in blank}
            one = dataclasses.replace(one, **changes, like=other.like)
        made[name] = one
    return made


def _hosted(
    connectors: dict[str, Connector], cables: dict[str, Cable], items: Mapping[str, Item]
) -> tuple[dict[str, Connector], dict[str, Cable]]:
    """Connectors whose host is there, and cables of which an end is there, until nothing more falls away."""
    while True:
        kept = {n: one for n, one in connectors.items() if refs.host_of(n) in items or refs.host_of(n) in cables}
        left = {n: one for n, one in cables.items() if any(end_is_there(end, kept, items) for end in one.ends)}
        if len(kept) == len(connectors) and len(left) == len(cables):
            return kept, left
        connectors, cables = kept, left


def end_is_there(end: CableEnd, connectors: Mapping[str, Connector], items: Mapping[str, Item]) -> bool:
    """Whether the place a cable end is at exists; a parked end is at no place."""
    if end.at.is_parked:
        return False
    owner = end.at.partition(".")[0]
    return owner in connectors or owner in items
