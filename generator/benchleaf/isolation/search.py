"""The search for the order of tests that costs least, as far as a budget of states goes.

A state is what the answers so far have left: the causes, the answers that only shift likelihoods, and the
condition of the machine. Its value is the minutes still to be spent, each cause counted with its weight, so
that values of the branches add up to the value of what leads to them. The search goes depth first,
best-looking action first, and leaves an action as soon as a lower bound shows it cannot win. Values found
are kept, so no state is solved twice.
"""

from __future__ import annotations

from typing import NamedTuple

from benchleaf.frozen import dataclass
from benchleaf.isolation.bound import Bound
from benchleaf.isolation.problem import Mode
from benchleaf.isolation.repairs import EPSILON, best_repairs
from benchleaf.isolation.table import FAR, Answers, Table, bits

PAIRED = 24  # causes up to which the bound by pair is worth its time


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


class Search:
    """Solves states of one problem; ``barred`` tests cannot be done. ``budget`` counts states looked at."""

    def __init__(self, table: Table, budget: int, barred: frozenset[int] = frozenset()) -> None:
        self.table = table
        self.budget = budget
        self.looked = 0
        self.identify = table.problem.mode is Mode.IDENTIFY
        self.values: dict[State, float] = {}
        self.choice: dict[State, Action | None] = {}
        self.upper: dict[State, tuple[float, Action]] = {}
        self._lower: dict[State, float] = {}
        self._closed_in: set[State] = set()
        self._pairs: dict[tuple[int, Answers], float] = {}
        self._apart: dict[tuple[int, Answers], float] = {}
        self._actions: dict[State, tuple[Action, ...]] = {}
        self._weights: dict[Answers, tuple[float, ...]] = {(): table.weights}
        self._sums: dict[tuple[int, Answers], float] = {}
        self._settled: dict[tuple[int, Answers], tuple[Answers, float]] = {}
        self._tells: dict[tuple[int, int], bool] = {}
        self._usable = tuple(t for t in range(len(table.tests)) if t not in barred)
        self._bound = Bound(table, self._usable)

    def start(self) -> State:
        """Nothing answered yet."""
        return State(self.table.everything, (), self.table.conditions.start)

    def weight(self, causes: int, answers: Answers) -> float:
        """The weight of causes times their likelihood of the answers."""
        known = self._sums.get((causes, answers))
        if known is None:
            weights = self.weights(answers)
            known = self._sums[causes, answers] = sum([weights[j] for j in bits(causes)])
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
                if self._tells_apart(test, causes):
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

    def lower(self, state: State) -> float:
        """No policy costs less from this state."""
        known = self.values.get(state)
        if known is not None:
            return known
        known = self._lower.get(state)
        if known is None:
            causes, answers, condition = state
            apart = self._apart.get((causes, answers))
            if apart is None:
                apart = 0.0 if self._unknown(answers) else self._bound.by_cause(causes, self.weights(answers))
                self._apart[causes, answers] = apart
            known = apart + self._bound.cures(causes, self.weights(answers), condition)
            self._lower[state] = known
        return known

    def solve(self, state: State, limit: float = FAR) -> float:
        """The least value of a state when it is below ``limit`` (then it is in ``values``), else a lower
        bound."""
        known = self.values.get(state)
        if known is not None:
            return known
        if self.ended(state):
            self.choice[state] = None
            value = 0.0
            if state.causes and not self.identify:
                value = self.last_remedy(state)[0] * self.weight(state.causes, state.answers)
            self.values[state] = value
            return value
        least = self.lower(state)
        if least >= limit or self.looked >= self.budget:
            return least
        self.looked += 1
        least = self._closer(state, least)
        if least >= limit:
            return least
        actions = self.actions(state)
        if not actions:
            self.values[state], self.choice[state] = 0.0, None
            return 0.0
        if not any(action.is_test for action in actions) and (ruled := self._ruled(state, actions)):
            self._follow(state, ruled)
            return ruled[0]
        return self._branch(state, limit, least, actions)

    def _unknown(self, answers: Answers) -> bool:
        """Whether the bound has nothing to say: where only the remedy is to be known, causes that a test
        already done could not part need not be parted any more."""
        return self.identify and bool(answers)

    def closest(self, state: State) -> float:
        """The lower bound by every means there is."""
        least = self.lower(state)
        if state in self.values or self._unknown(state.answers):
            return least
        weights = self.weights(state.answers)
        pairs = self._bound.by_pair(state.causes, weights)
        return max(least, pairs + self._bound.cures(state.causes, weights, state.condition))

    def _closer(self, state: State, least: float) -> float:
        """The bound by pair too, once for each state that is small enough for it to pay."""
        causes, answers, condition = state
        if state in self._closed_in or causes.bit_count() > PAIRED or self._unknown(answers):
            return least
        self._closed_in.add(state)
        pairs = self._pairs.get((causes, answers))
        if pairs is None:
            pairs = self._pairs[causes, answers] = self._bound.by_pair(causes, self.weights(answers))
        least = max(least, pairs + self._bound.cures(causes, self.weights(answers), condition))
        self._lower[state] = least
        return least

    def _branch(self, state: State, limit: float, least: float, actions: tuple[Action, ...]) -> float:
        weight = self.weight(state.causes, state.answers)
        lower = self.lower
        ranked = sorted(
            (action.minutes * weight + sum([factor * lower(then) for _, factor, then in action.branches]), i)
            for i, action in enumerate(actions)
        )
        best, chosen, left = limit, None, FAR
        for estimate, i in ranked:
            if estimate >= best - EPSILON:
                left = min(left, estimate)
                break
            branches = sorted(actions[i].branches, key=lambda branch: -branch[2].causes.bit_count())
            parts = [factor * lower(then) for _, factor, then in branches]  # may have risen since
            total = actions[i].minutes * weight + sum(parts)
            for at, (_, factor, then) in enumerate(branches):
                if total >= best - EPSILON:
                    break
                others = total - parts[at]
                parts[at] = factor * self.solve(then, (best - others) / factor)
                total = others + parts[at]
            solved = all(then in self.values for _, _, then in actions[i].branches)
            if total < best - EPSILON and solved:
                best, chosen = total, actions[i]
            else:
                left = min(left, total)
        if chosen is not None and left >= best - EPSILON:
            self.values[state], self.choice[state] = best, chosen
            return best
        if chosen is not None:
            self.upper[state] = (best, chosen)
        self._lower[state] = max(least, min(left, best))
        return self._lower[state]

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
        for test in self._usable:
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
        elif not self._tells_apart(test, causes):
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

    def _tells_apart(self, test: int, causes: int) -> bool:
        known = self._tells.get((test, causes))
        if known is None:
            known = self._tells[test, causes] = self.table.tells_apart(test, causes)
        return known

    def _ruled(self, state: State, actions: tuple[Action, ...]) -> tuple[float, Action] | None:
        """Value and first repair where no test is left and a rule gives the order."""
        fixed = [self.table.fixes[action.place] & state.causes for action in actions]
        cured = 0
        for mask in fixed:
            if mask & cured:
                return None
            cured |= mask
        weights = {a.place: self.weight(mask, state.answers) for a, mask in zip(actions, fixed, strict=True)}
        stuck = self.weight(state.causes & ~cured, state.answers)
        found = best_repairs(self.table, state.condition, weights, stuck)
        if found is None:
            return None
        return found[0], next(action for action in actions if action.place == found[1])

    def _follow(self, state: State, ruled: tuple[float, Action] | None) -> None:
        """Keep the whole row of repairs a rule gave; it holds for each rest of the row too."""
        while ruled is not None:
            self.values[state], self.choice[state] = ruled
            if not ruled[1].branches:
                return
            state = ruled[1].branches[0][2]
            if self.ended(state) or state in self.values:
                self.solve(state)
                return
            actions = self.actions(state)
            if not actions:
                self.values[state], self.choice[state] = 0.0, None
                return
            ruled = self._ruled(state, actions)
        raise AssertionError("a rule that holds for a row of repairs holds for its rest")
