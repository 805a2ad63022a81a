"""What can be done in a state of the search, and where it leads.

A state is what the answers so far have left: the causes, the answers that only shift likelihoods, and the
condition of the machine. An action is a test or a remedy; its branches lead to further states.
"""

from __future__ import annotations

from typing import NamedTuple

from benchleaf.frozen import dataclass
from benchleaf.isolation.problem import Mode
from benchleaf.isolation.table import Answers, Table, bits
from benchleaf.isolation.weighing import Weighing


class State(NamedTuple):
    """Causes left (a mask), answers by likelihood that matter, condition of the machine."""

    causes: int
    answers: Answers
    condition: int


@dataclass(frozen=True, slots=True)
class Action:
    """A test or a remedy (by place) with its price and where it leads: ``branches`` of (outcome, factor,
    state), the value of a branch being the factor times the value of its state. A remedy has one branch, or
    none."""

    is_test: bool
    place: int
    minutes: float
    branches: tuple[tuple[int, float, State], ...]


class Choices:
    """The actions of each state of one problem; ``barred`` tests cannot be done. What was worked out is kept."""

    def __init__(self, table: Table, barred: frozenset[int] = frozenset()) -> None:
        self.table = table
        self.identify = table.problem.mode is Mode.IDENTIFY
        self.usable = tuple(t for t in range(len(table.tests)) if t not in barred)
        self._actions: dict[State, tuple[Action, ...]] = {}
        self._weights: dict[Answers, tuple[float, ...]] = {(): table.weights}
        self._settled: dict[tuple[int, Answers], tuple[Answers, float]] = {}
        self._tells: dict[tuple[int, int], bool] = {}
        self._weighings: dict[Answers, Weighing] = {(): Weighing(table.weights, often=True)}

    def start(self) -> State:
        """Nothing answered yet."""
        return State(self.table.everything, (), self.table.conditions.start)

    def weight(self, causes: int, answers: Answers) -> float:
        """The weight of causes times their likelihood of the answers."""
        return self.weighing(answers).of(causes)

    def weighing(self, answers: Answers) -> Weighing:
        """The causes as they weigh after answers."""
        known = self._weighings.get(answers)
        if known is None:
            known = self._weighings[answers] = Weighing(self.weights(answers), often=False)
        return known

    def weights(self, answers: Answers) -> tuple[float, ...]:
        """The same for each cause."""
        known = self._weights.get(answers)
        if known is None:
            test, outcome = answers[-1]
            shares = self.table.outcomes[test][outcome].shares
            before = self.weights(answers[:-1])
            known = tuple([weight * share for weight, share in zip(before, shares, strict=True)])
            self._weights[answers] = known
        return known

    def settled(self, causes: int, answers: Answers) -> tuple[Answers, float]:
        """The answers without those of tests that no longer tell any two of the causes apart, and the
        factor by which they had changed every weight."""
        if not answers:
            return answers, 1.0
        known = self._settled.get((causes, answers))
        if known is None:
            kept, factor = [], 1.0
            first = (causes & -causes).bit_length() - 1
            for test, outcome in answers:
                if self.tells_apart_in(test, causes):
                    kept.append((test, outcome))
                else:
                    factor *= self.table.outcomes[test][outcome].shares[first]
            known = self._settled[causes, answers] = (tuple(kept), factor)
        return known

    def ended(self, state: State) -> bool:
        """Whether nothing is left to choose: the causes share their remedies, or none is left."""
        table = self.table
        if not state.causes:
            return True
        if self.identify:
            return bool(table.one_remedy(state.causes)) or not state.causes & (state.causes - 1)
        return table.same_remedies(state.causes)

    def last_remedy(self, state: State) -> tuple[float, int]:
        """Minutes and place of the cheapest remedy for all causes of an ended state."""
        prices = self.table.prices(state.condition)[1]
        return min((prices[r][0], r) for r in bits(self.table.one_remedy(state.causes)))

    def actions(self, state: State) -> tuple[Action, ...]:
        """What can be done in a state and changes it: of tests with the same branches only the cheapest."""
        known = self._actions.get(state)
        if known is None:
            known = self._actions[state] = (*self._test_actions(state), *self._repair_actions(state))
        return known

    def _test_actions(self, state: State) -> list[Action]:
        causes, answers, condition = state
        prices = self.table.prices(condition)[0]
        done = {test for test, _ in answers}
        found: dict[tuple[tuple[float, State], ...], Action] = {}
        for test in self.usable:
            if test in done:
                continue
            minutes, then = prices[test]
            branches = self._answered(test, causes, answers, then)
            if branches is None:
                continue
            key = tuple((factor, after) for _, factor, after in branches)
            if key not in found or minutes < found[key].minutes:
                found[key] = Action(True, test, minutes, branches)
        return list(found.values())

    def _answered(
        self, test: int, causes: int, answers: Answers, then: int
    ) -> tuple[tuple[int, float, State], ...] | None:
        """The branches of a test, or None when it tells nothing."""
        outcomes = self.table.outcomes[test]
        if self.table.sharp[test]:
            split = [(o, causes & outcome.mask) for o, outcome in enumerate(outcomes) if causes & outcome.mask]
            if len(split) < 2:
                return None
            if not answers:
                return tuple((o, 1.0, State(left, answers, then)) for o, left in split)
        elif not self.tells_apart_in(test, causes):
            return None
        branches = []
        for o, outcome in enumerate(outcomes):
            left = causes & outcome.mask
            if left:
                more = answers if self.table.sharp[test] else tuple(sorted((*answers, (test, o))))
                kept, factor = self.settled(left, more)
                branches.append((o, factor, State(left, kept, then)))
        return tuple(branches)

    def _repair_actions(self, state: State) -> list[Action]:
        if self.identify:
            return []
        causes, answers, condition = state
        found: dict[State, Action] = {}
        for remedy, (minutes, then) in enumerate(self.table.prices(condition)[1]):
            if not self.table.fixes[remedy] & causes:
                continue
            left = causes & ~self.table.fixes[remedy]
            kept, factor = self.settled(left, answers) if left else ((), 1.0)
            after = State(left, kept, then)
            if after not in found or minutes < found[after].minutes:
                branches = ((0, factor, after),) if left else ()
                found[after] = Action(False, remedy, minutes, branches)
        return list(found.values())

    def action(self, state: State, place: int) -> Action:
        """A test, or past all tests a remedy, with its branches."""
        causes, answers, condition = state
        tests, repairs = self.table.prices(condition)
        remedy = place - len(self.table.tests)
        if remedy < 0:
            taken, then = tests[place]
            return Action(True, place, taken, self._answered(place, causes, answers, then) or ())
        taken, then = repairs[remedy]
        left = causes & ~self.table.fixes[remedy]
        if not left:
            return Action(False, remedy, taken, ())
        kept, factor = self.settled(left, answers)
        return Action(False, remedy, taken, ((0, factor, State(left, kept, then)),))

    def tells_apart_in(self, test: int, causes: int) -> bool:
        known = self._tells.get((test, causes))
        if known is None:
            known = self._tells[test, causes] = self.table.tells_apart(test, causes)
        return known
