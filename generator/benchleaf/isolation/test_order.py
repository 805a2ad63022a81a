"""In which order to test and repair, so that the machine runs again after the fewest minutes to be expected.

``best_order`` is the whole tree from the start; ``next_best`` the rest of it after answers in any order and
with tests that cannot be done; ``posterior`` what the answers leave. All are functions of plain values.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import fsum

from benchleaf.frozen import dataclass
from benchleaf.isolation.choices import Action, State
from benchleaf.isolation.logs import alike
from benchleaf.isolation.look_ahead import LookAhead
from benchleaf.isolation.policy import Answer, Ending, Leaf, Node, Policy, RepairNode, Shares, TestNode
from benchleaf.isolation.problem import Mode, Power, Problem
from benchleaf.isolation.search import Search
from benchleaf.isolation.table import Answers, Table, bits

STATES = 6_000  # when no budget is given, at twenty causes and twenty tests; more below, fewer above
MOST_STATES = 10_000
NOT_FIXED = "not fixed"
EXACT = "exact"


@dataclass(frozen=True, slots=True, kw_only=True)
class Posterior:
    """What answers leave: each cause with its probability, most likely first. ``fits`` is false, and
    ``causes`` empty, when the answers fit no recorded cause. ``evidence``: how likely such answers were at
    the start."""

    causes: Shares
    fits: bool
    evidence: float


def best_order(problem: Problem, *, state_budget: int | None = None) -> Policy:
    """The order of tests and repairs with the fewest expected minutes.

    Exact while ``state_budget`` states last; then the best order a named rule finds, with a bound that no
    order beats. Both do not depend on a clock.
    """
    table = Table(problem)
    search = Search(table, _budget(table, state_budget))
    return _policy(search, search.start())


def next_best(
    problem: Problem,
    answers: Sequence[tuple[str, str]],
    unavailable: Iterable[str] = (),
    *,
    state_budget: int | None = None,
) -> Policy:
    """The best order from here: after ``answers``, pairs of a test and its outcome, or of a remedy and
    NOT_FIXED, in the order they were got; without ``unavailable`` tests, which cannot be done.

    Raises ValueError for an id or outcome that is not there.
    """
    table = Table(problem)
    barred = frozenset(_place(table.tests, test, f"there is no test {test}") for test in unavailable)
    causes, noted, condition = _after(table, answers)
    search = Search(table, _budget(table, state_budget), barred)
    if not causes:
        return _policy(search, State(0, (), condition))
    kept, _ = search.settled(causes, noted)
    return _policy(search, State(causes, kept, condition))


def posterior(problem: Problem, answers: Sequence[tuple[str, str]]) -> Posterior:
    """The probability of each cause after ``answers`` (as for ``next_best``; their order does not matter
    here). One test answered in two ways fits no cause."""
    table = Table(problem)
    causes, noted, _ = _after(table, answers)
    weights = table.weights_after(noted)
    evidence = fsum(weights[j] for j in bits(causes))
    return Posterior(causes=_shares(table, causes, weights), fits=bool(causes), evidence=evidence)


def _budget(table: Table, given: int | None) -> int:
    """A state of a larger problem takes longer, and so does one whose tests answer by likelihood."""
    if given is not None:
        return given
    size = max(1, len(table.causes) + len(table.tests))
    if all(table.sharp):
        return min(MOST_STATES, STATES * 40**2 // size**2)
    return min(MOST_STATES, STATES * 40**4 // size**4 // 3)


def _after(table: Table, answers: Sequence[tuple[str, str]]) -> tuple[int, Answers, int]:
    """Causes left, answers by likelihood, condition of the machine."""
    causes, condition = table.everything, table.conditions.start
    given: dict[int, int] = {}
    for name, outcome in answers:
        if name in table.problem.remedies:
            if outcome != NOT_FIXED:
                raise ValueError(f"{name} is a remedy; its answer is {NOT_FIXED!r}, not {outcome!r}")
            remedy = table.remedies.index(name)
            causes &= ~table.fixes[remedy]
            condition = table.prices(condition)[1][remedy][1]
            continue
        test = _place(table.tests, name, f"there is no test or remedy {name}")
        condition = table.prices(condition)[0][test][1]
        _place(table.problem.tests[name].outcomes, outcome, f"{name} has no outcome {outcome}")
        place = next((o for o, found in enumerate(table.outcomes[test]) if found.name == outcome), None)
        if place is None or given.setdefault(test, place) != place:
            causes = 0  # no recorded cause answers so, or the same test answered in two ways
        else:
            causes &= table.outcomes[test][place].mask
    noted = tuple(sorted((test, place) for test, place in given.items() if not table.sharp[test]))
    return causes, noted, condition


def _place(names: tuple[str, ...], name: str, otherwise: str) -> int:
    if name not in names:
        raise ValueError(f"{otherwise}; there are {', '.join(names) or 'none'}")
    return names.index(name)


def _shares(table: Table, causes: int, weights: Sequence[float]) -> Shares:
    total = fsum(weights[j] for j in bits(causes))
    found = [(table.causes[j], weights[j] / total) for j in bits(causes)]
    return tuple(sorted(found, key=lambda share: (-alike(share[1]), share[0])))


def _policy(search: Search, start: State) -> Policy:
    weight = search.weight(start.causes, start.answers) or 1.0
    if start.causes:
        search.solve(start)
    exact = not start.causes or start in search.values
    bound = search.lower(start) / weight if start.causes else 0.0
    looked = search.looked
    writer = _Writer(search, None if exact else LookAhead(search))
    root = writer.node(start)
    expected = root.expected
    return Policy(
        root=root,
        expected=expected,
        worst=root.worst,
        exact=exact,
        bound=expected if exact else min(bound, expected),
        method=EXACT if exact else LookAhead.name(search.table.problem.mode),
        states=looked,
    )


class _Writer:
    """Writes states out as nodes; a state that is reached twice is written once."""

    def __init__(self, search: Search, look_ahead: LookAhead | None) -> None:
        self._search = search
        self._table = search.table
        self._look_ahead = look_ahead
        self._written: dict[State, Node] = {}

    def node(self, state: State) -> Node:
        known = self._written.get(state)
        if known is None:
            known = self._written[state] = self._write(state)
        return known

    def _write(self, state: State) -> Node:
        search, table = self._search, self._table
        weights = search.weights(state.answers)
        if not state.causes:
            return Leaf(causes=(), remedies=(), ending=Ending.NO_CAUSE_FITS)
        causes = _shares(table, state.causes, weights)
        if search.ended(state) and table.problem.mode is Mode.REPAIR:
            return self._repair(state, causes, search.last_remedy(state)[1], None)
        action = None if search.ended(state) else self._choose(state)
        if action is None:
            return self._leaf(state, causes)
        if action.is_test:
            return self._test(state, causes, action)
        return self._repair(state, causes, action.place, action.branches[0][2] if action.branches else None)

    def _choose(self, state: State) -> Action | None:
        if state not in self._search.values and self._look_ahead is not None:
            return self._look_ahead.choose(state)
        return self._search.choice[state]

    def _leaf(self, state: State, causes: Shares) -> Leaf:
        shared = self._table.one_remedy(state.causes)
        if shared:
            ending = Ending.ONE_REMEDY
        elif len(causes) > 1:
            ending = Ending.NOT_TOLD_APART
        elif self._table.problem.mode is Mode.REPAIR or self._table.problem.remedies:
            ending = Ending.NO_REMEDY
        else:
            ending = Ending.ONE_REMEDY
        return Leaf(causes=causes, remedies=tuple(self._table.remedies[r] for r in bits(shared)), ending=ending)

    def _test(self, state: State, causes: Shares, action: Action) -> TestNode:
        table = self._table
        name = table.tests[action.place]
        needs = table.problem.tests[name].needs
        condition = action.branches[0][2].condition
        whole = self._search.weight(state.causes, state.answers)
        answers = tuple(
            Answer(
                outcome=table.outcomes[action.place][outcome].name,
                probability=factor * self._search.weight(then.causes, then.answers) / whole,
                then=self.node(then),
            )
            for outcome, factor, then in action.branches
        )
        live = table.conditions.open_covers(condition) if needs.power is Power.ON else ()
        return TestNode(
            test=name,
            preparations=table.conditions.preparations(state.condition, needs),
            minutes=table.minutes[action.place],
            causes=causes,
            answers=answers,
            expected=action.minutes + fsum(answer.probability * answer.then.expected for answer in answers),
            worst=action.minutes + max(answer.then.worst for answer in answers),
            live_behind=live,
        )

    def _repair(self, state: State, causes: Shares, remedy: int, then: State | None) -> RepairNode:
        table, problem = self._table, self._table.problem
        name = table.remedies[remedy]
        needs = problem.remedies[name].needs
        ready, _ = table.conditions.after(state.condition, needs)
        trial = () if problem.trial is None else table.conditions.preparations(ready, problem.trial.needs)
        minutes = table.prices(state.condition)[1][remedy][0]
        left = state.causes & ~table.fixes[remedy]
        weights = self._search.weights(state.answers)
        missed = fsum(weights[j] for j in bits(left)) / self._search.weight(state.causes, state.answers)
        following = None if then is None else self.node(then)
        return RepairNode(
            remedy=name,
            preparations=table.conditions.preparations(state.condition, needs),
            minutes=table.repair_minutes[remedy],
            trial_preparations=trial,
            trial_minutes=table.trial_minutes,
            causes=causes,
            cured=1.0 - missed,
            if_not_fixed=following,
            expected=minutes + (missed * following.expected if following else 0.0),
            worst=minutes + (following.worst if following else 0.0),
        )
