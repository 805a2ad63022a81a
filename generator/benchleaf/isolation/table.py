"""The problem as numbers: causes as bits, a test as the causes behind each answer, prices by condition.

Nobody reads this but the search. Everything here follows from the problem alone and is worked out once.
"""

from __future__ import annotations

from functools import lru_cache
from math import fsum

from benchleaf.frozen import dataclass
from benchleaf.isolation.logs import log2
from benchleaf.isolation.problem import WHOLE, Needs, Problem
from benchleaf.isolation.states import Conditions

Answers = tuple[tuple[int, int], ...]  # (test, outcome) of tests that answer by likelihood and still matter
FAR = float("inf")


@lru_cache(maxsize=1 << 15)
def bits(mask: int) -> tuple[int, ...]:
    """The places of the set bits, lowest first. Remembered: a search asks for the same few masks all the time."""
    places = []
    while mask:
        low = mask & -mask
        places.append(low.bit_length() - 1)
        mask ^= low
    return tuple(places)


@dataclass(frozen=True, slots=True)
class Outcome:
    """One answer of a test: the causes that can give it, how often each does (by place of the cause), and the
    logarithms of that."""

    name: str
    mask: int
    shares: tuple[float, ...]
    logs: tuple[float, ...]


class Table:
    """Causes, tests and remedies of a problem in the order of their ids."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.conditions = Conditions(problem)
        self.causes = tuple(sorted(problem.causes))
        self.everything = (1 << len(self.causes)) - 1
        total = fsum(problem.causes[name] for name in self.causes)
        self.weights = tuple(problem.causes[name] / total for name in self.causes)
        self.tests = tuple(sorted(problem.tests))
        self.minutes = tuple(problem.tests[name].minutes for name in self.tests)
        self.outcomes = tuple(self._outcomes(name) for name in self.tests)
        self.sharp = tuple(
            all(share in (0.0, 1.0) for outcome in outcomes for share in outcome.shares) for outcomes in self.outcomes
        )
        self.remedies = tuple(sorted(problem.remedies))
        self.repair_minutes = tuple(problem.remedies[name].minutes for name in self.remedies)
        place = {name: i for i, name in enumerate(self.causes)}
        self.fixes = tuple(
            sum(1 << place[cause] for cause in set(problem.remedies[name].fixes)) for name in self.remedies
        )
        self.cures = tuple(  # for each cause, the remedies for it
            sum(1 << r for r, fixed in enumerate(self.fixes) if fixed >> j & 1) for j in range(len(self.causes))
        )
        self.trial_minutes = problem.trial.minutes if problem.trial else 0.0
        self._trial = problem.trial.needs if problem.trial else None
        self._prices: dict[int, tuple[tuple[tuple[float, int], ...], tuple[tuple[float, int], ...]]] = {}
        self._lowest: dict[int, tuple[float, ...]] = {}

    def prices(self, condition: int) -> tuple[tuple[tuple[float, int], ...], tuple[tuple[float, int], ...]]:
        """(minutes with preparations, condition afterwards) of every test and of every remedy with its
        trial run."""
        known = self._prices.get(condition)
        if known is None:
            tests = tuple(
                self._priced(condition, self.problem.tests[name].needs, taken)
                for name, taken in zip(self.tests, self.minutes, strict=True)
            )
            remedies = tuple(
                self._tried(*self._priced(condition, self.problem.remedies[name].needs, taken))
                for name, taken in zip(self.remedies, self.repair_minutes, strict=True)
            )
            known = self._prices[condition] = (tests, remedies)
        return known

    def lowest(self, condition: int) -> tuple[float, ...]:
        """For each cause, the fewest minutes in which it can be cured from a condition, if it were known."""
        known = self._lowest.get(condition)
        if known is None:
            remedies = self.prices(condition)[1]
            known = self._lowest[condition] = tuple(
                min((remedies[r][0] for r in bits(cures)), default=0.0) for cures in self.cures
            )
        return known

    def one_remedy(self, mask: int) -> int:
        """The remedies (as a mask) that each cure every cause of a mask."""
        shared = -1
        for j in bits(mask):
            shared &= self.cures[j]
            if not shared:
                break
        return shared if mask else 0

    def same_remedies(self, mask: int) -> bool:
        """Whether the causes of a mask have the very same remedies, at least one."""
        found = {self.cures[j] for j in bits(mask)}
        return len(found) == 1 and 0 not in found

    def tells_apart(self, test: int, mask: int) -> bool:
        """Whether a test answers differently for some two causes of a mask."""
        first = (mask & -mask).bit_length() - 1
        for outcome in self.outcomes[test]:
            shares = outcome.shares
            one = shares[first]
            for j in bits(mask):
                if abs(shares[j] - one) > WHOLE:
                    return True
        return False

    def names(self, mask: int) -> tuple[str, ...]:
        """The causes of a mask, as sorted text."""
        return tuple(self.causes[j] for j in bits(mask))

    def weights_after(self, answers: Answers) -> tuple[float, ...]:
        """The weight of each cause times its likelihood of the answers, not divided by the sum."""
        weights = list(self.weights)
        for test, outcome in answers:
            for j, share in enumerate(self.outcomes[test][outcome].shares):
                weights[j] *= share
        return tuple(weights)

    def _outcomes(self, test: str) -> tuple[Outcome, ...]:
        rows = [self.problem.tests[test].row(cause) for cause in self.causes]
        made = []
        for name in sorted({outcome for row in rows for outcome in row}):
            shares = tuple(row.get(name, 0.0) for row in rows)
            logs = tuple(log2(share) if share > 0 else 0.0 for share in shares)
            made.append(Outcome(name, sum(1 << j for j, share in enumerate(shares) if share > 0), shares, logs))
        return tuple(made)

    def _priced(self, condition: int, needs: Needs, taken: float) -> tuple[float, int]:
        then, preparing = self.conditions.after(condition, needs)
        return preparing + taken, then

    def _tried(self, taken: float, condition: int) -> tuple[float, int]:
        if self._trial is None:
            return taken, condition
        then, preparing = self.conditions.after(condition, self._trial)
        return taken + preparing + self.trial_minutes, then
