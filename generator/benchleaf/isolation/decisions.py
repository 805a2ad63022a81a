"""What to do in every state an interview may come to: tests answered in any order, tests that cannot be done.

Made for a page that has no Python: it follows answers by the table of causes, shares and conditions, and looks up here
what comes next. States are gathered from the start outward, those that follow the order first, each departure from it
later, as far as a budget goes; for states beyond, the page has a rule with a name.
"""

from __future__ import annotations

from collections.abc import Mapping
from heapq import heappop, heappush
from itertools import count
from math import fsum
from typing import Literal

from benchleaf.frozen import dataclass
from benchleaf.isolation.choices import Action, State
from benchleaf.isolation.look_ahead import LookAhead
from benchleaf.isolation.problem import Problem
from benchleaf.isolation.search import Search
from benchleaf.isolation.table import Answers, Table, bits

Kind = Literal["test", "remedy", "none"]
BUDGET = 2_000  # states looked at for one decision that is not on the order from the start
MOST = 1_500
EFFORT = 4_000
KEPT = 24  # searches kept, one for each set of tests that cannot be done


@dataclass(frozen=True, slots=True, order=True)
class Moment:
    """A state of an interview: causes left (a mask), answers by likelihood that still matter, condition of the machine,
    and the tests that cannot be done and would tell something (by place)."""

    causes: int
    answers: Answers
    condition: int
    barred: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Decision:
    """What to do: a test or remedy by place, or ``none``. ``expected`` minutes from here; ``exact``: nothing takes
    fewer."""

    kind: Kind
    place: int
    expected: float
    exact: bool


class Decisions:
    """Decides states of one problem; what was worked out is kept. The same problem always decides alike."""

    def __init__(self, problem: Problem, *, budget: int | None = None) -> None:
        self.table = Table(problem)
        self._budget = budget if budget is not None else BUDGET
        self._searches: dict[tuple[int, ...], Search] = {}
        self._ahead: dict[tuple[int, ...], LookAhead] = {}
        self._plain = Search(self.table, 0)
        self._looked = 0

    def start(self) -> Moment:
        return Moment(self.table.everything, (), self.table.conditions.start)

    def decide(self, moment: Moment, *, budget: int | None = None) -> Decision:
        """What to do in a state, and the minutes to be expected from there."""
        state = State(moment.causes, moment.answers, moment.condition)
        if not state.causes:
            return Decision("none", 0, 0.0, True)
        search = self._search(moment.barred)
        search.budget = max(search.budget, search.looked + (budget if budget is not None else self._budget))
        before = search.looked
        search.solve(state)
        self._looked += search.looked - before
        exact = state in search.values
        if search.ended(state):
            minutes, remedy = search.last_remedy(state)
            return Decision("remedy", remedy, minutes, True)
        weight = search.weight(state.causes, state.answers)
        if exact:
            action, value = search.choice[state], search.values[state]
        else:
            ahead = self._ahead.setdefault(moment.barred, LookAhead(search))
            value, action = ahead.value(state), ahead.choose(state)
        return Decision(*_done(action), value / weight, exact)

    def by_rule(self, moment: Moment) -> Decision:
        """What the rule alone says, one test ahead over likelihood ÷ cost; ``expected`` as if repairs in a row followed
        every answer."""
        state = State(moment.causes, moment.answers, moment.condition)
        search = Search(self.table, 0, frozenset(moment.barred))
        if not state.causes:
            return Decision("none", 0, 0.0, False)
        if search.ended(state):
            minutes, remedy = search.last_remedy(state)
            return Decision("remedy", remedy, minutes, True)
        actions = search.actions(state)
        if not actions:
            return Decision("none", 0, 0.0, False)
        price, action = LookAhead(search, pure=True).best_by_rule(state, actions)
        return Decision(*_done(action), price / search.weight(state.causes, state.answers), False)

    def after_test(self, moment: Moment, test: int, outcome: int) -> Moment:
        """The state after an answer; without causes when no recorded cause gives it."""
        table = self.table
        left = moment.causes & table.outcomes[test][outcome].mask
        answers = moment.answers
        if not table.sharp[test]:
            kept = tuple(one for one in answers if one[0] != test)
            answers = tuple(sorted((*kept, (test, outcome))))
        return self._settled(left, answers, table.prices(moment.condition)[0][test][1], moment.barred)

    def after_remedy(self, moment: Moment, remedy: int) -> Moment:
        """The state after a remedy that did not cure it."""
        left = moment.causes & ~self.table.fixes[remedy]
        return self._settled(left, moment.answers, self.table.prices(moment.condition)[1][remedy][1], moment.barred)

    def without_test(self, moment: Moment, test: int) -> Moment:
        """The state when a test cannot be done."""
        return self._settled(moment.causes, moment.answers, moment.condition, (*moment.barred, test))

    def telling(self, moment: Moment) -> tuple[int, ...]:
        """The tests that can be done and would still tell something."""
        done = {test for test, _ in moment.answers} | set(moment.barred)
        return tuple(t for t in range(len(self.table.tests)) if t not in done and self._tells(t, moment.causes))

    def gather(self, most: int = MOST, effort: int = EFFORT) -> tuple[Mapping[Moment, Decision], bool]:
        """Decisions from the start outward, and whether they are all there are.

        First all that follow the order, then with one departure from it (another test or remedy, a test that cannot be
        done), then with two, until there are ``most``, or the search has looked at ``effort`` states.
        """
        found: dict[Moment, Decision] = {}
        number = count()
        ahead: list[tuple[int, int, Moment]] = [(0, next(number), self.start())]
        while ahead:
            departures, _, moment = heappop(ahead)
            if moment in found:
                continue
            if departures and (len(found) >= most or self._looked >= effort):
                return found, False
            whole = None if departures else max(self._budget, 10_000)
            found[moment] = decision = self.decide(moment, budget=whole)
            for then, follows in self._next(moment, decision):
                if then.causes and then not in found:
                    heappush(ahead, (departures + (not follows), next(number), then))
        return found, True

    def _next(self, moment: Moment, decision: Decision) -> list[tuple[Moment, bool]]:
        made: list[tuple[Moment, bool]] = []
        for test in self.telling(moment):
            follows = decision.kind == "test" and decision.place == test
            outcomes = range(len(self.table.outcomes[test]))
            made += [(self.after_test(moment, test, outcome), follows) for outcome in outcomes]
            made.append((self.without_test(moment, test), False))
        for remedy in range(len(self.table.remedies)):
            if self.table.fixes[remedy] & moment.causes:
                follows = decision.kind == "remedy" and decision.place == remedy
                made.append((self.after_remedy(moment, remedy), follows))
        return made

    def _settled(self, causes: int, answers: Answers, condition: int, barred: tuple[int, ...]) -> Moment:
        kept = self._plain.settled(causes, answers)[0] if causes else ()
        done = {test for test, _ in kept}
        left = tuple(t for t in sorted(set(barred)) if t not in done and self._tells(t, causes))
        return Moment(causes, kept, condition, left)

    def _tells(self, test: int, causes: int) -> bool:
        return bool(causes) and self.table.tells_apart(test, causes)

    def _search(self, barred: tuple[int, ...]) -> Search:
        if barred not in self._searches:
            if len(self._searches) >= KEPT:
                oldest = next(one for one in self._searches if one)
                del self._searches[oldest]
                self._ahead.pop(oldest, None)
            self._searches[barred] = Search(self.table, 0, frozenset(barred))
        return self._searches[barred]


def _done(action: Action | None) -> tuple[Kind, int]:
    if action is None:
        return "none", 0
    return ("test" if action.is_test else "remedy"), action.place


def weights_of(table: Table, moment: Moment) -> dict[str, float]:
    """The probability of each cause left in a state."""
    weights = table.weights_after(moment.answers)
    whole = fsum(weights[j] for j in bits(moment.causes))
    return {table.causes[j]: weights[j] / whole for j in bits(moment.causes)}
