"""The search for the order of tests that costs least, as far as a budget of states goes.

The value of a state is the minutes still to be spent, each cause counted with its weight, so that values of the
branches add up to the value of what leads to them. The search goes depth first, best-looking action first, goes on with
the next as soon as the first falls behind it, and leaves an action when a lower bound shows it cannot win. Values and
what is known of unfinished states are kept, so no state is solved twice.
"""

from __future__ import annotations

from heapq import heappop, heapreplace

from benchleaf.isolation.choices import Action, State
from benchleaf.isolation.estimates import Entry, Estimates
from benchleaf.isolation.logs import alike
from benchleaf.isolation.repairs import EPSILON, best_repairs
from benchleaf.isolation.table import FAR, Table

SLACK = 0.01  # how far (a part, and as much of a minute) an action may fall behind before the next has its turn


class Search(Estimates):
    """Solves states of one problem; ``barred`` tests cannot be done. ``budget`` counts states looked at."""

    def __init__(self, table: Table, budget: int, barred: frozenset[int] = frozenset()) -> None:
        super().__init__(table, barred)
        self.budget = budget
        self.looked = 0
        self.choice: dict[State, Action | None] = {}
        self.upper: dict[State, tuple[float, Action]] = {}
        self._open: dict[State, list[Entry]] = {}

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
        if least >= limit:
            return least
        if state not in self._open:
            if self.looked >= self.budget:
                return least
            self.looked += 1
            least = self._closer(state)
            if least >= limit:
                return least
            entries = self._ranked(state)
            if not entries:
                self.values[state], self.choice[state] = 0.0, None
                return 0.0
            if all(place >= len(self.table.tests) for _, place, _ in entries):
                ruled = self._ruled(state, self.actions(state))
                if ruled is not None:
                    self._follow(state, ruled)
                    return ruled[0]
            self._open[state] = entries
        return self._best_first(state, limit)

    def _best_first(self, state: State, limit: float) -> float:
        """Go on with the action that promises most until the best is known, or ``limit`` is reached or the budget is
        spent; what was found so far waits for the next time."""
        heap = self._open[state]
        weight = self.weight(state.causes, state.answers)
        lower, values = self.lower, self.values
        best, chosen = self.upper.get(state, (FAR, None))
        hint = self._beside(state.causes, state.answers)[1]
        while True:
            estimate, place, action = heap[0] if heap else (FAR, -1, None)
            if estimate >= best - EPSILON:
                values[state], self.choice[state] = best, chosen
                self._open.pop(state)
                return best
            if estimate >= limit:
                break
            if action is None:
                action = self.action(state, place)
                self._hint = hint
                total = action.minutes * weight + sum([factor * lower(then) for _, factor, then in action.branches])
                heapreplace(heap, (alike(max(total, estimate)), place, action))
                continue
            second = min([entry[0] for entry in heap[1:3]], default=FAR)
            cap = min(limit, best, second + SLACK * (estimate + weight))
            branches = sorted(action.branches, key=lambda branch: -branch[2].causes.bit_count())
            parts = [factor * lower(then) for _, factor, then in branches]
            total = action.minutes * weight + sum(parts)
            for at, (_, factor, then) in enumerate(branches):
                if total >= cap:
                    break
                others = total - parts[at]
                self._hint = hint
                parts[at] = factor * self.solve(then, (cap - others) / factor)  # a branch before may have solved it
                total = others + parts[at]
            if all(then in values for _, _, then in branches):
                heappop(heap)
                total = action.minutes * weight + sum([factor * values[then] for _, factor, then in action.branches])
                if total < best - EPSILON:
                    best, chosen = total, action
                    self.upper[state] = best, chosen
                continue
            spent = self.looked >= self.budget
            reached = estimate if spent else cap  # but for rounding, who is not solved has reached the cap
            heapreplace(heap, (max(total, reached), place, action))
            if spent:
                break
        self._lower[state] = max(self._lower[state], min(heap[0][0], best))
        return self._lower[state]

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
