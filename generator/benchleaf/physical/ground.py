"""What the replay looks up of a machine in one configuration, worked out once: reach, crossings, leads, likeness."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import field
from functools import cached_property
from typing import Any, TypeVar, cast

from benchleaf import refs
from benchleaf.built import FRAME, Built
from benchleaf.fastener_sets import FastenerSet
from benchleaf.frozen import dataclass
from benchleaf.model import Library
from benchleaf.physical.crossing import LIFTABLE, Crossing, Joined, joined, leads, travel_of
from benchleaf.physical.liveness import ELECTRICAL, Liveness, liveness
from benchleaf.physical.proof import Reach
from benchleaf.physical.state import OFF, Counts, State
from benchleaf.records.types import Choices

T = TypeVar("T")
Front = tuple[str, str, tuple[str, ...]]
"""What stands in front: the item, the position it may be drawn to instead, and what takes it away when it comes off."""
Need = tuple[tuple[tuple[Front, ...], ...], ...]
"""Clauses of options: all clauses, any option, all its items off or drawn to their positions."""


@dataclass(frozen=True)
class Ground:
    """One machine as built, with a memory for what the rules ask again and again."""

    built: Built
    library: Library
    _known: dict[tuple[str, str], Any] = field(default_factory=dict, repr=False, compare=False)

    def remember(self, kind: str, name: str, make: Callable[[], T]) -> T:
        key = (kind, name)
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = make()
        return cast(T, found)

    # ---- fasteners

    def counts(self, state: State, name: str) -> Counts:
        """The counts of a set: what the state says, else all tight."""
        found = state.counts.get(name)
        return found if found is not None else self.all_tight[name]

    @cached_property
    def all_tight(self) -> Mapping[str, Counts]:
        """The counts of every set as it was assembled."""
        return {name: Counts(tight=one.count) for name, one in self.built.sets.items()}

    def is_released(self, state: State, one: FastenerSet) -> bool:
        """Whether a set lets its item go."""
        counts = state.counts.get(one.name)
        if counts is None:
            return one.count == 0
        return counts.tight == 0 if one.release == "loosen" else counts.tight == counts.loose == 0

    # ---- out of the way

    def chain(self, item: str) -> tuple[str, ...]:
        return self.remember("chain", item, lambda: self.built.chain(item))

    def is_away(self, state: State, item: str) -> bool:
        """Whether an item is off, itself or with what it sits in."""
        return any(state.items.get(one) == OFF for one in self.chain(item))

    def need(self, kind: str, name: str, subject: str, find: Callable[[], Choices]) -> Need:
        """A choice list of ``subject`` as plain tuples; what is not on this machine is never in the way."""

        known = self._known.get((kind, name))  # asked at every act, so before anything is made
        if known is not None:
            return cast(Need, known)

        def compiled() -> Need:
            return tuple(
                tuple(
                    tuple(
                        (one.item, one.position, self.movers(one.item, subject))
                        for one in option
                        if one.item in self.built.items
                    )
                    for option in clause
                )
                for clause in find()
            )

        return self.remember(kind, name, compiled)

    def movers(self, item: str, subject: str) -> tuple[str, ...]:
        """An item and what it sits in, as far as that does not take ``subject`` along: off, they lay it open.

        A board in a drawer stays behind its shield in that drawer, when the drawer with both comes off.
        """
        with_subject = self.chain(subject) if subject in self.built.items else ()
        return tuple(one for one in self.chain(item) if one == item or one not in with_subject)

    def unmet(self, state: State, need: Need) -> Need:
        """The clauses that do not hold."""
        if not need:
            return ()
        where = state.items
        return tuple([clause for clause in need if not _is_met(where, clause)])

    def reach_of(self, name: str) -> Need:
        """What must be out of the way before an item, connector or the owner of a contact can be touched."""
        built = self.built
        if name in built.connectors:
            return self.need("reach", name, built.host_item(name) or "", lambda: built.reach_of_connector(name))
        return self.need("reach", name, name, lambda: built.reach(name) if name in built.items else ())

    def reach_of_set(self, name: str) -> Need:
        return self.need("set", name, self.built.sets[name].item, lambda: self.built.reach_of_set(name))

    def reach_of_tie(self, name: str) -> Need:
        on = str(self.built.ties[name].fixed_to.item)
        return self.need("tie", name, on, lambda: self.built.reach_of_tie(name))

    def reach_of_joint(self, line: str, item: str) -> Need:
        return self.need("joint", f"{line}@{item}", item, lambda: self.built.reach_of_joint(line, item))

    def behind(self, item: str) -> Need:
        return self.need("behind", item, item, lambda: self.built.behind(item))

    def behind_position(self, item: str, position: str) -> Need:
        """What is out of the way before an item is drawn to a position."""
        own = self.built.items[item].positions[position].behind
        found = own if own is not None else self.built.behind(item)
        return self.need("position", f"{item}@{position}", item, lambda: found)

    # ---- what joins

    @cached_property
    def joined(self) -> Joined:
        return joined(self.built)

    def crossings(self, item: str) -> tuple[Crossing, ...]:
        return self.remember("crossings", item, lambda: self.joined.crossings(item))

    def travel(self, item: str, position: str) -> float | None:
        """How far an item goes to a position, in metres; ``None`` = not recorded."""
        return travel_of(self.built.items[item].positions[position].motion)

    def slide_travel(self, item: str) -> float | None:
        """How far an item slides before it comes off, in metres; ``None`` when one of the motions has no distance."""
        far = [travel_of(motion) for motion in (self.built.items[item].comes_off or ())[:-1]]
        return None if not far or None in far else sum(one for one in far if one is not None)

    def slides(self, item: str) -> bool:
        return len(self.built.items[item].comes_off or ()) > 1

    def leads(self, cable: str, at: str) -> tuple[str, ...]:
        """The leads of a fixed end: full contacts where the wires are recorded, else the end as it is named."""
        return self.remember("leads", f"{cable}@{at}", lambda: leads(self.built.cables[cable], at))

    def joint_of_lead(self, cable: str, contact: str) -> str | None:
        """How a lead is joined (solder, screw, spade); ``None`` when the cable has no such lead."""
        one = self.built.cables[cable]
        for end in one.ends:
            if end.at.is_parked or end.at in self.built.connectors:
                continue
            if contact in self.leads(cable, str(end.at)) or contact == end.at:
                return end.joint or one.joint or "solder"
        return None

    def is_joined(self, state: State, crossing: Crossing, at: str) -> bool:
        """Whether an end of a cable or line is still mated, landed or joined."""
        if crossing.kind == "line":
            return (crossing.id, at) not in state.joints
        if at in self.built.connectors:
            return (crossing.id, at) not in state.unmated
        return not all((crossing.id, lead) in state.lifted for lead in self.leads(crossing.id, at))

    @cached_property
    def liveness(self) -> Liveness:
        return liveness(self.built)

    @cached_property
    def wired(self) -> Reach | None:
        """How far isolation and proof reach by the recorded wiring; ``None`` where no wiring is recorded."""
        return Reach.of(self.built) if self.built.machine.has_wiring else None

    def still_reached(self, state: State) -> Mapping[str, tuple[str, ...]]:
        """Item → energies that count as isolated and still reach it by the wiring."""
        energies, reached = self._known.get(("still reached", ""), (None, {}))
        if energies is not state.energies:  # most acts leave the energies as they are: the same table
            reached = self._still_reached(state)
            self._known["still reached", ""] = (state.energies, reached)
        return cast(Mapping[str, tuple[str, ...]], reached)

    def _still_reached(self, state: State) -> Mapping[str, tuple[str, ...]]:
        wired = self.wired
        if wired is None:
            return {}
        electrical = (name for name, one in self.built.energy.items() if one.kind == ELECTRICAL)
        isolated = tuple(name for name in electrical if state.is_isolated(name))
        return self.remember("still reached", " ".join(isolated) or "none", lambda: wired.still_reached(isolated))

    def not_proved_at(self, energy: str) -> tuple[str, ...]:
        """Where an electrical energy can be and its proof says nothing of it."""
        wired = self.wired
        if wired is None or energy not in self.built.sources:
            return self.remember("unproved", energy, lambda: self._at(energy))
        return self.remember("unproved", energy, lambda: wired.not_proved_at(energy))

    def _at(self, energy: str) -> tuple[str, ...]:
        return tuple(item for item, energies in sorted(self.liveness.at.items()) if energy in energies)

    @cached_property
    def exposes(self) -> Mapping[str, tuple[tuple[str, str], ...]]:
        """Item → (energy, item it is at) for all that stands behind it: taking it away exposes them."""
        found: dict[str, set[tuple[str, str]]] = {}
        built = self.built
        for item, energies in self.liveness.at.items():
            ways = [built.behind(item), built.reach(item)]
            ways += [built.reach_of_connector(name) for name in built.connectors_of.get(item, ())]
            ways += [built.reach_of_set(one.name) for one in built.sets_of(item)]
            for front in {one.item for way in ways for clause in way for option in clause for one in option}:
                found.setdefault(front, set()).update((energy, item) for energy in energies)
        return {front: tuple(sorted(many)) for front, many in found.items()}

    @cached_property
    def guards(self) -> frozenset[str]:
        """Items that something stands behind: off, they leave it open to a hand."""
        built = self.built
        ways = [way for name in built.items for way in (built.behind(name), built.reach(name))]
        ways += [built.reach_of_set(name) for name in built.sets]
        ways += [built.reach_of_connector(name) for name in built.connectors]
        named = {one.item for way in ways for clause in way for option in clause for one in option}
        return frozenset(name for name in named if name in built.items and name != FRAME)

    def alike(self, connector: str) -> tuple[str, ...]:
        """Other connectors that may have the same family, contact count and keying (not recorded = may be the same)."""

        def found() -> tuple[str, ...]:
            return tuple(name for name in sorted(self.built.connectors) if name != connector and same(name))

        def same(other: str) -> bool:
            pairs = zip(self._look(connector), self._look(other), strict=True)
            return all(mine is None or theirs is None or mine == theirs for mine, theirs in pairs)

        return self.remember("alike", connector, found)

    def _look(self, name: str) -> tuple[object, object, object]:
        one = self.built.connectors[name]
        return (one.family, len(one.contacts) if one.contacts is not None else None, one.keyed)

    # ---- lines

    def circuit(self, line: str) -> str:
        """The circuit of a line: its own id unless it names one."""
        return str(self.built.lines[line].circuit or line)

    def is_wet(self, line: str) -> bool:
        return self.built.lines[line].wet is not False

    def lines_of(self, circuit: str) -> tuple[str, ...]:
        return tuple(name for name in sorted(self.built.lines) if self.circuit(name) == circuit)

    def is_electrical(self, item: str) -> bool:
        """Whether an item has contacts, so that a drop on it does harm."""
        built = self.built
        if built.connectors_of.get(item) or built.joins.get(item):
            return True
        return any(built.item_of_end(end) == item for cable in built.cables.values() for end in cable.ends)

    # ---- contacts

    def owner(self, contact: str) -> str:
        """What a contact is touched with: its connector where that is known, else its item."""
        owner = contact.partition(".")[0]
        return owner if owner in self.built.connectors or owner in self.built.items else refs.host_of(owner)

    def item_of(self, contact: str) -> str | None:
        return self.built.item_of_contact(contact)


def _is_met(where: Mapping[str, str], clause: tuple[tuple[Front, ...], ...]) -> bool:
    """Whether an option of a clause holds: each of its items drawn to its position, or off. Asked at every act."""
    for option in clause:
        for item, position, movers in option:
            if position and where.get(item) == position:
                continue
            for one in movers:
                if where.get(one) == OFF:
                    break
            else:
                break
        else:
            return True
    return False


__all__ = ["LIFTABLE", "Ground", "Need"]
