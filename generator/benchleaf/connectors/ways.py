"""One plug in one wrong place, contact by contact: which way it goes in, and what meets what."""

from __future__ import annotations

from collections.abc import Hashable, Mapping

from benchleaf.built import Built
from benchleaf.connectors.carried import UNKNOWN, Carried, Contacts, carried_by
from benchleaf.connectors.distance import reaches
from benchleaf.connectors.ends import (
    PARKED,
    Half,
    Place,
    Plug,
    goes_in,
    goes_in_turned,
    meeting_contacts,
    places_of,
    plugs_of,
    turned_contacts,
)
from benchleaf.connectors.meeting import Consequence, Meeting, by_rank, worst_of
from benchleaf.frozen import dataclass

NO_CONTACT = "-"
NOT_KNOWN = "?"
AS_IT_BELONGS = Meeting(Consequence.NOTHING, 0.0, "the two contacts belong together")
_NOBODY_KNOWS = worst_of((UNKNOWN,), UNKNOWN)
_NOTHING_THERE = carried_by(NO_CONTACT)


@dataclass(frozen=True, slots=True)
class Effect:
    """A contact of the plug on the contact it meets: ``-`` for none, ``?`` where nobody can say which."""

    contact: str
    meets: str
    meeting: Meeting


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One plug in a wrong place, or turned round. ``home`` is where it belongs, or ``parked``."""

    cable: str
    home: str
    place: str
    turned: bool
    worst: Meeting
    met: tuple[tuple[str, str, Meeting], ...]

    @property
    def effects(self) -> tuple[Effect, ...]:
        """What happens at each contact of the plug, in the order of its contacts."""
        return tuple(Effect(*one) for one in self.met)

    @property
    def mine(self) -> str:
        """The end the plug belongs to: ``A1-J3``, or ``W9 parked``."""
        return f"{self.cable} {PARKED}" if self.home == PARKED else self.home

    @property
    def words(self) -> str:
        """``W3 in A1-J5``; ``W5 in A1-J5, turned round``."""
        return f"{self.cable} in {self.place}" + (", turned round" if self.turned else "")


class Ways:
    """Every way of a plug into a place on one machine as built."""

    def __init__(self, built: Built, contacts: Contacts) -> None:
        self.built, self.contacts = built, contacts
        self._places = places_of(built)
        self._plug_in = {plug.at: plug for plug in plugs_of(built)}
        self._goes: dict[tuple[Half, Half], tuple[bool, bool]] = {}
        self._known: dict[tuple[int, int], Meeting] = {}
        self._pairings: dict[Hashable, Mapping[str, str] | None] = {}

    def of(self, plug: Plug, place: Place) -> tuple[Way, ...]:
        """The ways of a plug into a place: none where it does not go in; into its own only turned round."""
        both = (plug.half, place.half)
        fits = self._goes.get(both)
        if fits is None:
            fits = self._goes[both] = (goes_in(*both), goes_in_turned(*both))
        goes, turns = fits
        if plug.at == place.connector:
            return (self._way(plug, place, turned=True),) if turns else ()
        if not goes or not reaches(self.built, plug, place):
            return ()
        straight = self._way(plug, place, turned=False)
        return (straight, self._way(plug, place, turned=True)) if turns else (straight,)

    def _way(self, plug: Plug, place: Place, *, turned: bool) -> Way:
        met = self._contacts(plug, place, turned=turned)
        if met is None:
            found = [(name, NOT_KNOWN, _NOBODY_KNOWS) for name in plug.half.contacts or (NOT_KNOWN,)]
        elif plug.cable == place.cable and plug.at in self._places and plug.at != place.connector:
            found = [(name, its, self._end_for_end(plug, place, name, its)) for name, its in met.items()]
        else:
            found = self._met(self.contacts.loose(plug), self.contacts.all_fixed(place.connector), met)
        worst = min((meeting for _, _, meeting in found), key=by_rank)
        return Way(cable=plug.cable, home=plug.at, place=place.connector, turned=turned, worst=worst, met=tuple(found))

    def _met(
        self, brought: Mapping[str, tuple[Carried, ...]], fixed: Mapping[str, Carried], met: Mapping[str, str]
    ) -> list[tuple[str, str, Meeting]]:
        """Every contact with what it meets; written out, because a machine has ten thousands of them."""
        known, found = self._known, []
        for name, its in met.items():
            mine, at = brought[name], fixed[its] if its != NO_CONTACT else _NOTHING_THERE
            meeting = known.get((id(mine), id(at)))
            found.append((name, its, meeting if meeting is not None else self._meeting(mine, at)))
        return found

    def _contacts(self, plug: Plug, place: Place, *, turned: bool) -> Mapping[str, str] | None:
        at, made_for = self.built.connectors[place.connector], self.built.connectors.get(plug.made_for)
        key = (plug.half.contacts, place.half.contacts, made_for.face if made_for is not None else None, at.face)
        if key not in self._pairings:
            self._pairings[key] = meeting_contacts(plug.half, place.half, made_for, at)
        met = self._pairings[key]
        if not turned or met is None:
            return met
        round_ = turned_contacts(at)
        return None if round_ is None else {name: round_.get(its, NO_CONTACT) for name, its in met.items()}

    def _end_for_end(self, plug: Plug, place: Place, name: str, its: str) -> Meeting:
        """A contact of a plug in the place of its cable's other end, both plugs changed over.

        What arrives is then the contact of the plug's own place that the other plug now meets.
        """
        at = self.contacts.fixed(f"{place.connector}.{its}") if its != NO_CONTACT else _NOTHING_THERE
        other = self._plug_in[place.connector]
        far, sure = self.contacts.far_contacts(plug, name)
        back = self._contacts(other, self._places[plug.at], turned=False)
        if not sure or back is None or any(one.partition(".")[0] != place.connector for one in far):
            return self._meeting(self.contacts.loose(plug)[name], at)
        moved = [f"{plug.at}.{back.get(one.partition('.')[2], NO_CONTACT)}" for one in far]
        usual, known = self.contacts.far_contacts(other, its)
        if known and set(moved) <= set(usual):
            return AS_IT_BELONGS
        return self._meeting(self.contacts.same(tuple(self.contacts.fixed(one) for one in moved)), at)

    def _meeting(self, brought: tuple[Carried, ...], at: Carried) -> Meeting:
        """What happens; both must be one and the same object for all equal ones."""
        key = (id(brought), id(at))
        known = self._known.get(key)
        if known is None:
            known = self._known[key] = worst_of(brought, at)
        return known
