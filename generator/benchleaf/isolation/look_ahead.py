"""What to do when the budget of the exact search is spent: a look one step ahead, by a rule with a name.

For repairs the rule is one test ahead over likelihood ÷ cost: every test is priced as if repairs in the
order of likelihood over cost followed each of its answers; repairs at once are priced so too. Where only
the remedy is to be known, the rule is the test that tells most (in bits) for its minutes. The best few by
the rule are followed while a second, smaller budget lasts, then the best alone. What the exact search has
solved, or solves with a little more, is taken from there.
"""

from __future__ import annotations

from math import log2

from benchleaf.isolation.choices import Action, State
from benchleaf.isolation.clusters import ratio
from benchleaf.isolation.logs import alike
from benchleaf.isolation.problem import Mode
from benchleaf.isolation.repairs import EPSILON
from benchleaf.isolation.search import Search
from benchleaf.isolation.table import FAR, bits

FEW = 3  # actions followed in a state while the second budget lasts
WIDER = 50  # one state in so many of the first budget may follow more than one action
MORE = 4  # one state more in so many of the first budget, to solve small states after all
EXTRA = 100  # of these for each state of at most SMALL causes
SMALL = 12
MANY = 600  # states after which no more tests are chosen: answers by likelihood would go on branching


class LookAhead:
    """Chooses actions in states the search could not solve. ``pure`` follows the rule alone and leaves what
    the search found aside."""

    def __init__(self, search: Search, *, pure: bool = False) -> None:
        self._search = search
        self._pure = pure
        self._wider = 0 if pure else search.budget // WIDER
        self._more = 0 if pure else search.budget // MORE
        self._values: dict[State, float] = {}
        self._choice: dict[State, Action | None] = {}
        self._in_a_row: dict[State, float] = {}

    @staticmethod
    def name(mode: Mode) -> str:
        """The rule by name, as it is printed."""
        return "one test ahead over likelihood ÷ cost" if mode is Mode.REPAIR else "most information a minute"

    def choose(self, state: State) -> Action | None:
        """The action taken; None when nothing can be done."""
        self.value(state)
        return self._choice[state]

    def value(self, state: State) -> float:
        """What the choices made from a state cost, times its weight."""
        known = self._values.get(state)
        if known is None:
            known, self._choice[state] = self._decide(state)
            self._values[state] = known
        return known

    def _decide(self, state: State) -> tuple[float, Action | None]:
        search = self._search
        if search.ended(state):
            return search.solve(state), None
        if not self._pure:
            if state not in search.values and state.causes.bit_count() <= SMALL and self._more > 0:
                before = search.looked
                search.budget = before + min(EXTRA, self._more)
                search.solve(state)
                self._more -= search.looked - before
            if state in search.values:
                return search.values[state], search.choice[state]
        actions = search.actions(state)
        if not actions:
            return 0.0, None
        weight = search.weight(state.causes, state.answers)
        best, chosen = FAR, None
        if not self._pure and state in search.upper:
            best, chosen = search.upper[state]
        few = 1
        if self._wider > 0:
            self._wider -= 1
            few = FEW
        for action in self._ranked(state, actions)[:few]:
            price = action.minutes * weight
            if best == FAR or price + sum(factor * search.lower(then) for _, factor, then in action.branches) < best:
                price += sum(factor * self.value(then) for _, factor, then in action.branches)
                if price < best - EPSILON:
                    best, chosen = price, action
        return best, chosen

    def best_by_rule(self, state: State, actions: tuple[Action, ...]) -> tuple[float, Action]:
        """The action the rule names, with its price times the weight of the state: as if repairs in a row followed."""
        return self._priced(state, actions)[0]

    def _ranked(self, state: State, actions: tuple[Action, ...]) -> list[Action]:
        """The actions, best by the rule first; of the repairs only the one that would begin a row of them."""
        if self._search.identify:
            return sorted(actions, key=lambda action: -alike(self._told(state, action)))
        return [action for _, action in self._priced(state, actions)]

    def _priced(self, state: State, actions: tuple[Action, ...]) -> list[tuple[float, Action]]:
        weight = self._search.weight(state.causes, state.answers)
        prices = []
        repairs = {action.place: action for action in actions if not action.is_test}
        first = next((remedy for remedy in self._row(state) if remedy in repairs), None)
        if first is not None:
            prices.append((self.in_a_row(state), 0, repairs[first]))
            if len(self._values) > MANY:
                return [(prices[0][0], repairs[first])]
        for i, action in enumerate(actions):
            if action.is_test:
                after = sum(factor * self.in_a_row(then) for _, factor, then in action.branches)
                prices.append((action.minutes * weight + after, 1 + i, action))
        return [(price, action) for price, _, action in sorted(prices, key=lambda price: (alike(price[0]), price[1]))]

    def in_a_row(self, state: State) -> float:
        """What repairs in the order of likelihood over cost, one after another, cost from a state."""
        known = self._in_a_row.get(state)
        if known is None:
            table = self._search.table
            weights = self._search.weights(state.answers)
            left, condition, known = state.causes, state.condition, 0.0
            paying = self._search.weight(state.causes, state.answers)
            for remedy in self._row(state):
                cured = table.fixes[remedy] & left
                if cured:
                    minutes, condition = table.prices(condition)[1][remedy]
                    known += minutes * paying
                    paying -= sum(weights[j] for j in bits(cured))
                    left &= ~cured
            self._in_a_row[state] = known
        return known

    def _row(self, state: State) -> list[int]:
        """The remedies in the order of likelihood over cost."""
        table = self._search.table
        weights = self._search.weights(state.answers)
        prices = table.prices(state.condition)[1]
        cured = {
            remedy: sum(weights[j] for j in bits(fixed & state.causes))
            for remedy, fixed in enumerate(table.fixes)
            if fixed & state.causes
        }
        return sorted(cured, key=lambda remedy: (-alike(ratio(cured[remedy], prices[remedy][0])), remedy))

    def _told(self, state: State, action: Action) -> float:
        left = sum(factor * self._doubt(then) for _, factor, then in action.branches)
        return ratio(self._doubt(state) - left, action.minutes)

    def _doubt(self, state: State) -> float:
        """The entropy of what is left, in bits, times its weight."""
        weights = self._search.weights(state.answers)
        whole = sum(weights[j] for j in bits(state.causes))
        return sum(weights[j] * log2(whole / weights[j]) for j in bits(state.causes))
