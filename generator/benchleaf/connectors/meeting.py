"""What happens when a contact of a plug meets a contact it was not made for: one answer for every pair of roles.

Not recorded counts as the worst. The order of the consequences is the order in which a table of swaps is read.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import field
from enum import Enum
from functools import lru_cache
from math import isclose
from operator import attrgetter

from benchleaf.connectors.carried import SIGNALS, Carried, Sort
from benchleaf.frozen import dataclass


class Consequence(Enum):
    """What a meeting of two contacts leads to, the worst first."""

    NOT_RECORDED = "not recorded: counts as the worst"
    SUPPLY_ON_EARTH = "supply on protective earth"
    SUPPLY_ON_SIGNAL = "supply on a signal"
    OTHER_VOLTAGE = "a supply of another voltage"
    REVERSED = "reversed polarity"
    TWO_OUTPUTS = "two outputs together"
    EARTH_LOST = "protective earth not connected"
    EXCHANGED = "a signal of another place"
    LEFT_OPEN = "left open"
    NOTHING = "nothing"

    @property
    def rank(self) -> int:
        """0 is the worst."""
        return _RANK[self]


_RANK = {one: number for number, one in enumerate(Consequence)}
SAME_SUPPLY = 0.05
"""Two supplies count as one voltage within this share (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Meeting:
    """The consequence of two contacts meeting, the voltage at stake (0 where none is), and what meets in words.

    ``sort_key`` puts the worst first.
    """

    consequence: Consequence
    volts: float
    words: str
    sort_key: tuple[int, float, str] = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "sort_key", (_RANK[self.consequence], -self.volts, self.words))


by_rank: Callable[[Meeting], tuple[int, float, str]] = attrgetter("sort_key")


def worst_of(brought: Iterable[Carried], at: Carried) -> Meeting:
    """The worst of all that a plug's contact may bring with it to the contact ``at``."""
    return min((meet(one, at) for one in brought), key=by_rank)


@lru_cache(maxsize=65536)
def meet(plug: Carried, place: Carried) -> Meeting:
    """What happens between a plug's contact and the place's contact it meets."""
    consequence, volts = _consequence(plug, place)
    return Meeting(consequence, volts, f"{_said(plug)} meets {_said(place)}")


def _said(one: Carried) -> str:
    if one.sort in SIGNALS:
        level = one.gives if one.sort is Sort.OUT else one.takes
        how = "up to" if one.sort is Sort.OUT else "made for"
        return f"{one.words} ({'level not recorded' if level is None else f'{how} {level:g} V'})"
    return one.words


def _consequence(plug: Carried, place: Carried) -> tuple[Consequence, float]:
    sorts = {plug.sort, place.sort}
    if Sort.UNKNOWN in sorts:
        return Consequence.NOT_RECORDED, max(abs(plug.volts), abs(place.volts))
    if Sort.EMPTY in sorts:
        return _with_nothing(sorts), 0.0
    if sorts <= SIGNALS:
        return _between_signals(plug, place)
    volts = max(abs(plug.volts), abs(place.volts))
    if Sort.SUPPLY in sorts:
        if sorts == {Sort.SUPPLY}:
            return (Consequence.NOTHING if _one_voltage(plug, place) else Consequence.OTHER_VOLTAGE), volts
        if Sort.RETURN in sorts:
            return Consequence.REVERSED, volts
        return (Consequence.SUPPLY_ON_EARTH if Sort.EARTH in sorts else Consequence.SUPPLY_ON_SIGNAL), volts
    if len(sorts) == 1:
        return Consequence.NOTHING, 0.0
    if Sort.EARTH in sorts:
        return Consequence.EARTH_LOST, 0.0
    held_output = Sort.OUT in sorts or Sort.BOTH in sorts
    return (Consequence.TWO_OUTPUTS if held_output else Consequence.EXCHANGED), 0.0


def _with_nothing(sorts: set[Sort]) -> Consequence:
    if sorts == {Sort.EMPTY}:
        return Consequence.NOTHING
    return Consequence.EARTH_LOST if Sort.EARTH in sorts else Consequence.LEFT_OPEN


def _one_voltage(one: Carried, other: Carried) -> bool:
    if one.current and other.current and one.current != other.current:
        return False
    return isclose(one.volts, other.volts, rel_tol=SAME_SUPPLY)


def _between_signals(one: Carried, other: Carried) -> tuple[Consequence, float]:
    """Signals: an output on an input made for less is a supply on it; without recorded levels nobody knows."""
    found = [_driven(a, b) for a, b in ((one, other), (other, one)) if a.sort is not Sort.IN and b.sort is not Sort.OUT]
    if one.sort is not Sort.IN and other.sort is not Sort.IN:
        found.append(_both_driving(one, other))
    return min(found, key=lambda pair: (pair[0].rank, -pair[1])) if found else (Consequence.EXCHANGED, 0.0)


def _driven(out: Carried, into: Carried) -> tuple[Consequence, float]:
    if out.gives == 0:
        return Consequence.EXCHANGED, 0.0
    if out.gives is None or into.takes is None:
        return Consequence.NOT_RECORDED, out.gives or 0.0
    over = out.gives > into.takes * (1 + SAME_SUPPLY)
    return (Consequence.SUPPLY_ON_SIGNAL if over else Consequence.EXCHANGED), out.gives


def _both_driving(one: Carried, other: Carried) -> tuple[Consequence, float]:
    if one.gives is None or other.gives is None:
        return Consequence.NOT_RECORDED, one.gives or other.gives or 0.0
    higher, lower = max(one.gives, other.gives), min(one.gives, other.gives)
    over = lower > 0 and higher > lower * (1 + SAME_SUPPLY)
    return (Consequence.SUPPLY_ON_SIGNAL if over else Consequence.TWO_OUTPUTS), higher
