"""The search for the order of tests that costs least, as far as a budget of states goes.

A state is what the answers so far have left: the causes, the answers that only shift likelihoods, and the
condition of the machine. Its value is the minutes still to be spent, each cause counted with its weight, so
that values of the branches add up to the value of what leads to them. The search goes depth first,
best-looking action first, goes on with the next as soon as the first falls behind it, and leaves an action
when a lower bound shows it cannot win. Values and what is known of unfinished states are kept, so no state
is solved twice.
"""

from __future__ import annotations

from heapq import heapify, heappop, heapreplace
from operator import mul
from typing import NamedTuple

from benchleaf.frozen import dataclass
from benchleaf.isolation.bound import Bound
from benchleaf.isolation.information import Information
from benchleaf.isolation.logs import log2
from benchleaf.isolation.problem import Mode
from benchleaf.isolation.repairs import EPSILON, best_repairs
from benchleaf.isolation.table import FAR, Answers, Table, bits
from benchleaf.isolation.weighing import Weighing

PAIRED = 4  # causes up to which the bound by pair is worth its time beside the one by information
ALONE = 24  # and where that one has nothing to say
FLAT = 0.3  # a price of a bit at which the bound rises no more than this is right
LONGEST = 8  # prices tried in a row
SLACK = 0.01  # how far (a part, and as much of a minute) an action may fall behind before the next has its turn


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


Entry = tuple[float, int, Action | None]  # what it costs at least; a test, or past all tests a remedy


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
        self._open: dict[State, list[Entry]] = {}
        self._besides: dict[tuple[int, Answers], tuple[float, int, float]] = {}
        self._hint = 0
        self._actions: dict[State, tuple[Action, ...]] = {}
        self._weights: dict[Answers, tuple[float, ...]] = {(): table.weights}
        self._sums: dict[tuple[int, Answers], float] = {}
        self._settled: dict[tuple[int, Answers], tuple[Answers, float]] = {}
        self._tells: dict[tuple[int, int], bool] = {}
        self._usable = tuple(t for t in range(len(table.tests)) if t not in barred)
        self._bound = Bound(table, self._usable)
        self._information = Information(table, self._usable)
        self._hint = self._information.usual
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
            weights = self.weights(answers)
            known = self._bound.cures(causes, weights, condition)
            if causes & (causes - 1):
                known += self._beside(causes, answers)[0]
            self._lower[state] = known
        return known

    def _unknown(self, answers: Answers) -> bool:
        """Whether the bounds have nothing to say: where only the remedy is to be known, causes that a test already done
        could not part need not be parted any more."""
        return self.identify and bool(answers)

    def _blind(self, answers: Answers) -> bool:
        """Whether the bound by information has nothing to say."""
        return self._information.silent or self._unknown(answers)

    def _beside(self, causes: int, answers: Answers) -> tuple[float, int, float]:
        """What causes pay at least besides their own cures, the price of a bit (by number) by which that was found, and
        how much more a higher price would give, as a part of it."""
        known = self._besides.get((causes, answers))
        if known is None:
            known = self._besides[causes, answers] = self._worked_out(causes, answers)
        return known

    def _worked_out(self, causes: int, answers: Answers) -> tuple[float, int, float]:
        price = self._hint
        if self._unknown(answers):
            return 0.0, price, 0.0
        weights = self.weights(answers)
        silent = self._information.silent
        few = ALONE if silent else PAIRED
        least = self._bound.by_pair(causes, weights) if causes.bit_count() <= few else 0.0
        if silent:
            return max(least, self._bound.by_cause(causes, weights)), price, 0.0
        here, slope = self._information.least(causes, self.weighing(answers), price)
        return max(here, least), price, slope

    def _closer(self, state: State) -> float:
        """The lower bound by the best price of a bit, for a state about to be looked at."""
        causes, answers, condition = state
        if self._blind(answers):
            return self.lower(state)
        least, price, slope = self._beside(causes, answers)
        weighing = self.weighing(answers)
        way = 1 if slope > 0 else -1
        found, at = least, price
        for _ in range(LONGEST):
            if abs(slope) <= FLAT:
                break
            at += way
            here, slope = self._information.least(causes, weighing, at)
            if here <= found and way * slope < 0:
                break
            if here > found:
                found, price = here, at
            if way * slope <= 0:
                break
        self._besides[causes, answers] = found, price, 0.0
        self._lower[state] = max(self.lower(state), found + self._bound.cures(causes, weighing.weights, condition))
        return self._lower[state]

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

    def _ranked(self, state: State) -> list[Entry]:
        """Every test and remedy that changes a state, with what it costs at least."""
        causes, answers, condition = state
        table, fixes = self.table, self.table.fixes
        weighing = self.weighing(answers)
        weights, of, logs = weighing.weights, weighing.of, weighing.logs
        weight = of(causes)
        members = bits(causes)
        tests, repairs = table.prices(condition)
        done = {test for test, _ in answers}
        count = len(table.tests)
        minutes, gains = 0.0, [0.0] * len(weights)
        by_test: dict[int, tuple[float, ...]] = {}
        if not self._blind(answers):
            number = self._besides[causes, answers][1]
            minutes = self._information.price(number).minutes
            gains, by_test = self._information.worth(causes, weighing, number)
        gained = [one * other for one, other in zip(weights, gains, strict=True)]
        all_gained = sum([gained[j] for j in members])
        single = self._information.single
        missing = self._information.missing
        cures: dict[int, float] = {}
        lowest = table.lowest
        found: dict[object, Entry] = {}
        for test in self._usable:
            if test in done:
                continue
            taken, then = tests[test]
            key: object = test
            after = cures.get(then)
            if after is None:
                low = lowest(then)
                after = cures[then] = 0.0 if self.identify else sum([weights[j] * low[j] for j in members])
            total = taken * weight + after
            worth = by_test.get(test)
            if table.sharp[test]:
                parts = [part for outcome in table.outcomes[test] if (part := causes & outcome.mask)]
                if len(parts) < 2:
                    continue
                if len(parts) == 2:
                    key = (min(parts), then)
                if minutes:
                    for part in parts:
                        places = bits(part)
                        more = sum([gained[j] for j in places])
                        part_weight = of(part)
                        if worth:
                            more -= sum([weights[j] * worth[j] for j in places])
                        left = part_weight * log2(part_weight) - logs(part) if single else missing(part, weighing)
                        if left > more:
                            total += (left - more) * minutes
            else:
                if not self._tells_apart(test, causes):
                    continue
                if minutes and single:
                    rest = [one - other for one, other in zip(gains, worth, strict=True)] if worth else gains
                    logarithms = weighing.logarithms
                    for outcome in table.outcomes[test]:
                        part = causes & outcome.mask
                        if part & (part - 1):
                            shares, share_logs = outcome.shares, outcome.logs
                            places = bits(part)
                            here = [weights[j] * shares[j] for j in places]
                            whole = sum(here)
                            told = [logarithms[j] + share_logs[j] + rest[j] for j in places]
                            left = whole * log2(whole) - sum(map(mul, here, told))
                            if left > 0:
                                total += left * minutes
            known = found.get(key)
            if known is None or total < known[0]:
                found[key] = (total, test, None)
        if not self.identify:
            for remedy, (taken, then) in enumerate(repairs):
                cured = fixes[remedy] & causes
                if not cured:
                    continue
                after = cures.get(then)
                low = lowest(then)
                if after is None:
                    after = cures[then] = sum([weights[j] * low[j] for j in members])
                total = taken * weight + after
                part = causes & ~cured
                more = all_gained
                for j in bits(cured):
                    total -= weights[j] * low[j]
                    more -= gained[j]
                if minutes and part & (part - 1):
                    part_weight = of(part)
                    left = part_weight * log2(part_weight) - logs(part) if single else missing(part, weighing)
                    if left > more:
                        total += (left - more) * minutes
                known = found.get((part, then, 0))
                if known is None or total < known[0]:
                    found[part, then, 0] = (total, count + remedy, None)
        made = list(found.values())
        heapify(made)
        return made

    def _action(self, state: State, place: int) -> Action:
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
                action = self._action(state, place)
                self._hint = hint
                total = action.minutes * weight + sum([factor * lower(then) for _, factor, then in action.branches])
                heapreplace(heap, (max(total, estimate), place, action))
                continue
            second = min([entry[0] for entry in heap[1:3]], default=FAR)
            cap = min(limit, best, second + SLACK * (estimate + weight))
            branches = sorted(action.branches, key=lambda branch: -branch[2].causes.bit_count())
            parts = [factor * lower(then) for _, factor, then in branches]
            total = action.minutes * weight + sum(parts)
            for at, (_, factor, then) in enumerate(branches):
                if total >= cap:
                    break
                if then not in values:
                    self._hint = hint
                    others = total - parts[at]
                    parts[at] = factor * self.solve(then, (cap - others) / factor)
                    total = others + parts[at]
            if all(then in values for _, _, then in branches):
                heappop(heap)
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
