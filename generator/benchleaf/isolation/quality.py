"""How good the tests recorded for a code are: what they cannot tell apart, which tell nothing, what more
would bring.

For the author of a code, who wants to know whether another test is worth devising, and for whom: a page
prints it below the tree.
"""

from __future__ import annotations

from dataclasses import replace
from math import fsum

from benchleaf.frozen import dataclass
from benchleaf.isolation.policy import Leaf, Node, Policy, RepairNode
from benchleaf.isolation.problem import ANY, Mode, Problem, Test
from benchleaf.isolation.table import Table
from benchleaf.isolation.test_order import best_order


@dataclass(frozen=True, slots=True)
class AmbiguityGroup:
    """Causes that no recorded test can tell apart (IEEE 1522). ``one_remedy``: one remedy cures them all,
    so that it does not matter. ``worth``: minutes to be expected that a test between these, telling nothing
    else, would save at most."""

    causes: tuple[str, ...]
    one_remedy: bool
    worth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Quality:
    """``useless_tests`` answer alike for every cause; ``unused_tests`` are others the order found makes no
    use of. ``unreached_causes`` are named by no test: they only ever give what is left over. ``expected``
    and ``worst`` in minutes, of an order that is ``exact`` or made by ``policy.method``.
    ``value_of_one_more_test``: minutes that a further test would save at most, if it told everything at
    once and took no time."""

    ambiguity_groups: tuple[AmbiguityGroup, ...]
    useless_tests: tuple[str, ...]
    unused_tests: tuple[str, ...]
    unreached_causes: tuple[str, ...]
    causes_without_remedy: tuple[str, ...]
    expected: float
    worst: float
    exact: bool
    value_of_one_more_test: float
    policy: Policy


def quality(problem: Problem, policy: Policy | None = None, *, state_budget: int | None = None) -> Quality:
    """What the tests of a problem are good for. ``policy``, when its best order is known already."""
    policy = policy or best_order(problem, state_budget=state_budget)
    table = Table(problem)
    useless = tuple(name for t, name in enumerate(table.tests) if not table.tells_apart(t, table.everything))
    used = _tests_in(policy.root)
    groups = []
    for mask in _alike(table):
        causes = table.names(mask)
        better = best_order(_with_test_between(problem, causes), state_budget=state_budget)
        groups.append(
            AmbiguityGroup(causes, bool(table.one_remedy(mask)), max(0.0, policy.expected - better.bound))
        )
    told_at_once = 0.0
    if problem.mode is Mode.REPAIR:
        known = table.lowest(table.conditions.start)
        told_at_once = fsum(weight * taken for weight, taken in zip(table.weights, known, strict=True))
    return Quality(
        ambiguity_groups=tuple(groups),
        useless_tests=useless,
        unused_tests=tuple(name for name in table.tests if name not in used and name not in useless),
        unreached_causes=tuple(cause for cause in table.causes if not _reached(problem, cause)),
        causes_without_remedy=tuple(
            cause for cause, cures in zip(table.causes, table.cures, strict=True) if not cures
        ),
        expected=policy.expected,
        worst=policy.worst,
        exact=policy.exact,
        value_of_one_more_test=max(0.0, policy.expected - told_at_once),
        policy=policy,
    )


def _alike(table: Table) -> list[int]:
    """Groups (masks) of at least two causes for which every test answers alike."""
    groups: list[int] = []
    for j in range(len(table.causes)):
        for g, group in enumerate(groups):
            first = group & -group
            if not any(table.tells_apart(t, first | 1 << j) for t in range(len(table.tests))):
                groups[g] |= 1 << j
                break
        else:
            groups.append(1 << j)
    return [group for group in groups if group & (group - 1)]


def _reached(problem: Problem, cause: str) -> bool:
    return any(
        share > 0 and outcome != test.rest
        for test in problem.tests.values()
        for outcome, share in test.shares.get(cause, {}).items()
    )


def _with_test_between(problem: Problem, causes: tuple[str, ...]) -> Problem:
    """The problem with a free test that tells ``causes`` from one another and nothing else: every other
    cause answers it as the group as a whole would."""
    name = "one more test"
    while name in problem.tests or name in problem.remedies:
        name += " still"
    whole = fsum(problem.causes[cause] for cause in causes)
    as_a_whole = {f"it is {cause}": problem.causes[cause] / whole for cause in causes}
    shares = {cause: {f"it is {cause}": 1.0} if cause in causes else as_a_whole for cause in problem.causes}
    return replace(problem, tests={**problem.tests, name: Test(0.0, shares, None, ANY)})


def _tests_in(root: Node) -> set[str]:
    found: set[str] = set()
    seen: set[int] = set()
    ahead: list[Node] = [root]
    while ahead:
        node = ahead.pop()
        if id(node) in seen or isinstance(node, Leaf):
            continue
        seen.add(id(node))
        if isinstance(node, RepairNode):
            ahead.extend([node.if_not_fixed] if node.if_not_fixed else [])
        else:
            found.add(node.test)
            ahead.extend(answer.then for answer in node.answers)
    return found
