"""How the machine stands during the search for a fault: which covers are open, and whether it is live.

Before anything is done, the machine is brought into the condition that needs it. What is open stays open
and is free from then on, unless something has to be done closed. Covers are opened and closed on an
isolated machine only. Each preparation is listed and paid each time.
"""

from __future__ import annotations

from enum import Enum
from math import fsum

from benchleaf.frozen import dataclass
from benchleaf.isolation.problem import Needs, Power, Problem, Supply

_SUPPLIES = (Supply.ON, Supply.ISOLATED, Supply.PROVED)
_ON, _ISOLATED, _PROVED = range(3)


class Step(Enum):
    """A kind of preparation."""

    ISOLATE = "isolate"
    CLOSE = "close"
    OPEN = "open"
    PROVE = "prove dead"
    ENERGISE = "energise"


@dataclass(frozen=True, slots=True)
class Preparation:
    """One preparation: ``cover`` for opening and closing, else empty."""

    step: Step
    minutes: float
    cover: str = ""


class Conditions:
    """Conditions as whole numbers (open covers and supply together) and what it takes to get from one to a
    need.

    A lookup that fills itself; the same problem always gives the same numbers.
    """

    def __init__(self, problem: Problem) -> None:
        self._covers = tuple(sorted(problem.covers))
        self._place = {name: i for i, name in enumerate(self._covers)}
        self._problem = problem
        self._path = [self._behind(name) for name in self._covers]
        self._depth = [path.bit_count() for path in self._path]
        self._known: dict[tuple[int, Needs], tuple[int, float]] = {}
        opened = self._closure(problem.start.open)
        self.start = opened * 3 + _SUPPLIES.index(problem.start.supply)

    def after(self, condition: int, needs: Needs) -> tuple[int, float]:
        """The condition when ``needs`` hold, and the minutes that takes from ``condition``."""
        known = self._known.get((condition, needs))
        if known is None:
            steps, then = self._steps(condition, needs)
            known = self._known[condition, needs] = (then, fsum(step.minutes for step in steps))
        return known

    def preparations(self, condition: int, needs: Needs) -> tuple[Preparation, ...]:
        """The same, as a list of what is done, in order."""
        return tuple(self._steps(condition, needs)[0])

    def open_covers(self, condition: int) -> tuple[str, ...]:
        """The covers open in a condition, as sorted text."""
        return tuple(name for i, name in enumerate(self._covers) if condition // 3 >> i & 1)

    def supply(self, condition: int) -> Supply:
        """Whether the machine is live in a condition."""
        return _SUPPLIES[condition % 3]

    def _steps(self, condition: int, needs: Needs) -> tuple[list[Preparation], int]:
        opened, supply = divmod(condition, 3)
        minutes = self._problem.power
        wanted = self._closure(needs.open)
        to_open = wanted & ~opened
        to_close = opened & ~wanted if needs.others_closed else 0
        steps: list[Preparation] = []
        if supply == _ON and (to_open or to_close or needs.power is Power.DEAD):
            steps.append(Preparation(Step.ISOLATE, minutes.isolate))
            supply = _ISOLATED
        for i in self._in_order(to_close, innermost_first=True):
            cover = self._covers[i]
            steps.append(Preparation(Step.CLOSE, self._problem.covers[cover].close_minutes, cover))
        for i in self._in_order(to_open, innermost_first=False):
            cover = self._covers[i]
            steps.append(Preparation(Step.OPEN, self._problem.covers[cover].open_minutes, cover))
        if needs.power is Power.DEAD and supply != _PROVED:
            steps.append(Preparation(Step.PROVE, minutes.prove))
            supply = _PROVED
        elif needs.power is Power.ON and supply != _ON:
            steps.append(Preparation(Step.ENERGISE, minutes.energise))
            supply = _ON
        return steps, (opened & ~to_close | to_open) * 3 + supply

    def _in_order(self, mask: int, *, innermost_first: bool) -> list[int]:
        places = [i for i in range(len(self._covers)) if mask >> i & 1]
        return sorted(places, key=lambda i: (-self._depth[i] if innermost_first else self._depth[i], i))

    def _closure(self, names: frozenset[str]) -> int:
        opened = 0
        for name in names:
            opened |= self._path[self._place[name]]
        return opened

    def _behind(self, name: str) -> int:
        """The cover and all it is within."""
        path, above = 0, name
        while True:
            path |= 1 << self._place[above]
            within = self._problem.covers[above].within
            if within is None:
                return path
            above = within
