"""The order of tests: known values, the definition written down as a solver, and what must hold of any order."""

from __future__ import annotations

import heapq
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.isolation.isolation_tables import (
    CLUSTERS,
    DEPENDENT,
    DEPENDENT_ORDERS,
    HUFFMAN,
    LAST_INFERRED,
    MIXED,
    NO_TESTS,
    split,
)
from tests.isolation.plain_isolation import best_row, generated, minutes_of_row, plain_minutes

from benchleaf.isolation.look_ahead import LookAhead
from benchleaf.isolation.policy import Ending, Leaf, Node, RepairNode, TestNode
from benchleaf.isolation.problem import (
    ANY,
    Cover,
    Mode,
    Needs,
    Power,
    PowerMinutes,
    Problem,
    Remedy,
    Test,
    Trial,
    hands_on,
    stated,
)
from benchleaf.isolation.search import Search
from benchleaf.isolation.states import Step
from benchleaf.isolation.table import Table
from benchleaf.isolation.test_order import NOT_FIXED, best_order, next_best, posterior


def repairs(node: Node | None) -> list[str]:
    """The remedies of a branch without tests."""
    order = []
    while isinstance(node, RepairNode):
        order.append(node.remedy)
        node = node.if_not_fixed
    assert node is None
    return order


def test_every_split_for_a_minute_costs_what_huffman_says() -> None:
    found = best_order(HUFFMAN)
    assert found.expected == pytest.approx(2.24)  # source beside the table
    assert found.exact
    assert isinstance(found.root, TestNode)
    assert found.root.test == "split bcdef"  # the one of 45 % against all others


def test_an_action_that_cures_two_causes_is_counted_for_both() -> None:
    found = best_order(DEPENDENT)
    assert found.expected == pytest.approx(1.45)  # source beside the table
    assert repairs(found.root) == ["A3", "A1"]
    for order, minutes in DEPENDENT_ORDERS.items():
        assert minutes_of_row(DEPENDENT, order.split()) == pytest.approx(minutes)


def test_without_tests_the_order_is_likelihood_over_cost() -> None:
    found = best_order(NO_TESTS)
    assert found.expected == pytest.approx(40.98)  # source beside the table
    assert repairs(found.root) == ["r4", "r7", "r1", "r5", "r2", "r0", "r6", "r3"]


def test_tests_and_repairs_are_mixed_where_that_is_best() -> None:
    found = best_order(MIXED)
    assert found.expected == pytest.approx(54.19)  # source beside the table
    root = found.root
    assert isinstance(root, TestNode)
    assert root.test == "led_code"
    then = {answer.outcome: answer.then for answer in root.answers}
    assert repairs(then["blink2"]) == ["replace cable", "replace sensor"]
    assert repairs(then["off"]) == ["replace fuse", "replace psu"]
    assert isinstance(then["on"], TestNode)
    assert then["on"].test == "measure_24V"
    assert {a.outcome: repairs(a.then) for a in then["on"].answers} == {
        "absent": ["replace switch"],
        "ok": ["replace board"],
    }
    assert found.worst == 1 + 3 + 200


def test_a_cover_is_paid_for_once_and_shared() -> None:
    found = best_order(CLUSTERS)
    assert found.expected == pytest.approx(30.75)  # source beside the table
    assert repairs(found.root) == ["fix a_front", "fix c_tray", "fix b_outside", "fix d_tray", "fix e_rear"]
    opened: list[str] = []
    node: Node | None = found.root
    while isinstance(node, RepairNode):
        opened += [step.cover for step in node.preparations if step.cover]
        node = node.if_not_fixed
    assert opened == ["front", "tray", "rear"]
    naive = ["fix e_rear", "fix c_tray", "fix a_front", "fix b_outside", "fix d_tray"]
    assert minutes_of_row(CLUSTERS, naive) == pytest.approx(35.65)  # likelihood over cost, covers left out


def test_the_last_cause_left_is_not_tested() -> None:
    found = best_order(LAST_INFERRED)
    assert found.expected == pytest.approx(4.0)  # source beside the table
    assert isinstance(found.root, TestNode)
    assert found.root.test == "test b"


def test_likelihood_alone_likelihood_over_cost_and_the_best_order_may_all_differ() -> None:
    problem = Problem(
        causes={"a": 5, "b": 4, "c": 3},
        tests={"t": split(1, yes="c", no="a b")},
        remedies={"fix a": Remedy(50, ("a",)), "fix b": Remedy(20, ("b",)), "fix c": Remedy(40, ("c",))},
    )
    found = best_order(problem)
    assert isinstance(found.root, TestNode)
    assert found.expected == pytest.approx(plain_minutes(problem))


def test_what_covers_cost_can_change_the_first_test() -> None:
    tests = {"inside": split(1, yes="a", no="b c"), "outside": split(4, yes="b", no="a c")}
    remedies = {f"fix {cause}": Remedy(30, (cause,)) for cause in "abc"}
    free = Problem(causes={"a": 5, "b": 4, "c": 1}, tests=tests, remedies=remedies)
    behind = {**tests, "inside": replace(tests["inside"], needs=stated("open", "dead", ["lid"]))}
    covered = replace(free, tests=behind, covers={"lid": Cover(9, 6)})
    first = [best_order(problem).root for problem in (free, covered)]
    assert [node.test for node in first if isinstance(node, TestNode)] == ["inside", "outside"]


def test_equal_remedies_end_the_search() -> None:
    problem = Problem(
        causes={"a": 1, "b": 1, "c": 2},
        tests={"t": split(1, yes="a", no="b c"), "u": split(1, yes="c", no="a b")},
        remedies={"board": Remedy(20, ("a", "b")), "fan": Remedy(5, ("c",))},
    )
    assert best_order(replace(problem, mode=Mode.IDENTIFY)).expected == 1
    root = best_order(problem).root
    assert isinstance(root, TestNode)
    assert root.test == "u"
    for answer in root.answers:
        assert isinstance(answer.then, RepairNode)
        assert answer.then.if_not_fixed is None


def test_causes_no_test_tells_apart_end_in_a_leaf_that_says_so() -> None:
    problem = Problem(
        causes={"a": 3, "b": 1, "c": 1}, tests={"t": split(1, yes="a b", no="c")}, mode=Mode.IDENTIFY
    )
    root = best_order(problem).root
    assert isinstance(root, TestNode)
    leaf = root.answers[1].then
    assert isinstance(leaf, Leaf)
    assert (root.answers[1].outcome, leaf.ending) == ("yes", Ending.NOT_TOLD_APART)
    assert [cause for cause, _ in leaf.causes] == ["a", "b"]
    assert dict(leaf.causes) == pytest.approx({"a": 0.75, "b": 0.25})


def test_causes_a_test_already_done_could_not_part_are_not_asked_to_be_parted_again() -> None:
    problem = Problem(
        causes={"a": 1, "b": 13, "c": 12},
        tests={
            "dear": Test(10, {"a": {"bad": 0.5}}, "good"),
            "cheap": Test(1, {"a": {"bad": 0.9}, "b": {"bad": 0.9}, "c": {"bad": 1.0}}, "good"),
        },
        remedies={f"fix {cause}": Remedy(1, (cause,)) for cause in "abc"},
        mode=Mode.IDENTIFY,
    )
    # the dear one first: only when it finds a (1 in 26, half the time) is the cheap one saved
    assert best_order(problem).expected == pytest.approx(10 + 1 - 0.5 / 26)


def test_a_cause_without_a_remedy_is_a_stated_dead_end() -> None:
    problem = Problem(causes={"a": 1, "b": 1}, remedies={"fix a": Remedy(3, ("a",))})
    root = best_order(problem).root
    assert isinstance(root, RepairNode)
    assert isinstance(root.if_not_fixed, Leaf)
    assert root.if_not_fixed.ending is Ending.NO_REMEDY
    assert root.if_not_fixed.causes == (("b", 1.0),)


def test_a_single_cause_is_repaired_at_once() -> None:
    found = best_order(Problem(causes={"a": 7}, tests={}, remedies={"fix a": Remedy(3, ("a",))}))
    assert (found.expected, found.worst, repairs(found.root)) == (3, 3, ["fix a"])


def test_no_cause_recorded_is_said_and_costs_nothing() -> None:
    found = best_order(Problem(causes={}))
    assert isinstance(found.root, Leaf)
    assert found.root.ending is Ending.NO_CAUSE_FITS


# --- covers and power

INSIDE = Problem(
    causes={"fuse": 3, "motor": 1},
    tests={"feel": Test(6, {"motor": {"turns": 1.0}}, "still", stated("open", "powered", ["lid"]))},
    remedies={
        "replace fuse": Remedy(2, ("fuse",), hands_on(["lid"])),
        "replace motor": Remedy(60, ("motor",), hands_on(["lid"])),
    },
    covers={"lid": Cover(5, 4)},
    power=PowerMinutes(isolate=1, prove=3, energise=0.5),
    trial=Trial(2, stated("closed", "powered")),
)


def test_isolating_proving_opening_and_closing_are_listed_and_paid_each_time() -> None:
    root = best_order(INSIDE).root
    assert isinstance(root, RepairNode)  # trying the fuse beats looking first
    assert root.remedy == "replace fuse"
    assert [step.step for step in root.preparations] == [Step.ISOLATE, Step.OPEN, Step.PROVE]
    assert [step.step for step in root.trial_preparations] == [Step.CLOSE, Step.ENERGISE]
    again = root.if_not_fixed
    assert isinstance(again, RepairNode)
    assert again.preparations == root.preparations
    assert root.expected == pytest.approx((1 + 5 + 3 + 2 + 4 + 0.5 + 2) + 0.25 * (1 + 5 + 3 + 60 + 4 + 0.5 + 2))


def test_a_powered_test_with_covers_off_names_what_is_open() -> None:
    slow = {**INSIDE.remedies, "replace fuse": replace(INSIDE.remedies["replace fuse"], minutes=90)}
    root = best_order(replace(INSIDE, remedies=slow)).root
    assert isinstance(root, TestNode)
    assert root.live_behind == ("lid",)
    assert [step.step for step in root.preparations] == [Step.ISOLATE, Step.OPEN, Step.ENERGISE]


def test_a_test_with_covers_closed_names_none() -> None:
    problem = Problem(
        causes={"a": 1, "b": 1},
        tests={"t": replace(split(1, yes="a", no="b"), needs=stated("closed", "powered"))},
        remedies={"fix a": Remedy(9, ("a",)), "fix b": Remedy(9, ("b",))},
        covers={"lid": Cover(1, 1)},
    )
    root = best_order(problem).root
    assert isinstance(root, TestNode)
    assert root.live_behind == ()


# --- what must hold of any order

KINDS: dict[str, dict[str, float | bool]] = {
    "sharp": {},
    "tests that find few causes": {"detect": True},
    "answers by likelihood": {"likely": 0.5, "detect": True},
    "shared remedies": {"shared": 0.5},
    "missing remedies": {"no_remedy": 0.4},
    "covers and power": {"covered": True},
    "covers, power and a trial run": {"covered": True, "run": True, "detect": True},
}


def a_problem(seed: int, kind: str, mode: Mode, most: int = 5) -> Problem:
    return generated(seed, 1 + seed % most, seed // most % most, mode=mode, **KINDS[kind])  # type: ignore[arg-type]


any_problem = st.builds(a_problem, st.integers(0, 10_000), st.sampled_from(sorted(KINDS)), st.sampled_from(list(Mode)))


@settings(max_examples=300, deadline=None)
@given(any_problem)
def test_no_order_of_a_generated_problem_is_better(problem: Problem) -> None:
    found = best_order(problem)
    assert found.exact
    assert found.expected == pytest.approx(plain_minutes(problem), abs=1e-9)
    assert found.bound == found.expected


@pytest.mark.parametrize("seed", range(6))
def test_eight_causes_and_eight_tests_against_a_recursion_that_remembers_nothing(seed: int) -> None:
    problem = generated(seed, 8, 8, mode=Mode.IDENTIFY)
    assert best_order(problem).expected == pytest.approx(plain_minutes(problem, remember=False))


@pytest.mark.parametrize("seed", range(4))
def test_five_causes_and_five_tests_with_repairs_against_a_recursion_that_remembers_nothing(seed: int) -> None:
    problem = generated(seed, 5, 5, detect=True)
    assert best_order(problem).expected == pytest.approx(plain_minutes(problem, remember=False))


@pytest.mark.parametrize("kind", KINDS)
def test_eight_causes_and_eight_tests_with_repairs(kind: str) -> None:
    tests = 5 if kind == "answers by likelihood" else 8
    problem = generated(11, 8, tests, **KINDS[kind])  # type: ignore[arg-type]
    assert best_order(problem).expected == pytest.approx(plain_minutes(problem))


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10_000), st.booleans(), st.booleans())
def test_without_tests_no_permutation_of_repairs_is_better(seed: int, covered: bool, run: bool) -> None:
    problem = generated(seed, 1 + seed % 5, 0, covered=covered, run=run)
    assert best_order(problem).expected == pytest.approx(best_row(problem))


@settings(max_examples=150, deadline=None)
@given(any_problem, st.integers(0, 12))
def test_an_order_made_by_rule_lies_between_the_bound_and_nothing(problem: Problem, budget: int) -> None:
    exact, cut = best_order(problem), best_order(problem, state_budget=budget)
    assert cut.bound <= exact.expected + 1e-9
    assert exact.expected <= cut.expected + 1e-9
    assert cut.exact == (cut.method == "exact")
    if cut.exact:
        assert cut.expected == pytest.approx(exact.expected)


def test_a_large_problem_is_answered_by_rule_and_labelled() -> None:
    problem = generated(3, 40, 40, detect=True)
    found = best_order(problem, state_budget=200)
    assert not found.exact
    assert found.method == "one test ahead over likelihood ÷ cost"
    assert 0 < found.bound < found.expected <= minutes_of_row(
        problem, sorted(problem.remedies, key=lambda r: -problem.causes[r[2:]] / problem.remedies[r].minutes)
    )


def by_rule_alone(problem: Problem) -> float:
    search = Search(Table(problem), 0)
    return LookAhead(search, pure=True).value(search.start())


def test_the_rules_by_themselves() -> None:
    assert by_rule_alone(MIXED) == pytest.approx(54.19)  # likelihood over cost one test ahead; check value
    assert by_rule_alone(HUFFMAN) == pytest.approx(2.5)  # most information a minute; check value


@settings(max_examples=100, deadline=None)
@given(any_problem, st.integers(0, 10_000))
def test_one_more_test_never_makes_it_longer(problem: Problem, seed: int) -> None:
    if problem.mode is Mode.IDENTIFY:  # there, one more test can ask for more to be told apart
        problem = replace(problem, mode=Mode.REPAIR)
    without_remedy = set(problem.causes) - {c for r in problem.remedies.values() for c in r.fixes}
    if len(without_remedy) > 1:  # the same holds for these
        return
    more = generated(seed, len(problem.causes), 1)
    test = replace(more.tests["t00"], needs=ANY)
    assert best_order(replace(problem, tests={**problem.tests, "more": test})).expected <= (
        best_order(problem).expected + 1e-9
    )


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10_000))
def test_telling_causes_apart_never_beats_huffman(seed: int) -> None:
    problem = generated(seed, 2 + seed % 6, 4, mode=Mode.IDENTIFY)
    single = {f"is it {cause}": Test(1.0, {cause: {"yes": 1.0}}, "no") for cause in problem.causes}
    tests = {name: replace(test, minutes=1.0) for name, test in problem.tests.items()} | single
    total = sum(problem.causes.values())
    heap = [weight / total for weight in problem.causes.values()] + [0.0] * (1 - len(problem.causes) % 2)
    heapq.heapify(heap)
    floor = 0.0
    while len(heap) > 1:  # tests have up to three outcomes, so the code has three letters
        joined = sum(heapq.heappop(heap) for _ in range(3))
        floor += joined
        heapq.heappush(heap, joined)
    assert best_order(replace(problem, tests=tests)).expected >= floor - 1e-9


Answers = tuple[tuple[str, str], ...]


def paths(node: Node | None, so_far: Answers = ()) -> list[tuple[Answers, Node]]:
    """Every node with the answers that lead to it."""
    if node is None:
        return []
    found = [(so_far, node)]
    if isinstance(node, TestNode):
        for answer in node.answers:
            found += paths(answer.then, (*so_far, (node.test, answer.outcome)))
    elif isinstance(node, RepairNode):
        found += paths(node.if_not_fixed, (*so_far, (node.remedy, NOT_FIXED)))
    return found


@settings(max_examples=100, deadline=None)
@given(any_problem)
def test_going_on_from_any_answers_of_the_tree_leads_to_the_rest_of_the_tree(problem: Problem) -> None:
    for answers, node in paths(best_order(problem).root)[:40]:
        rest = next_best(problem, answers)
        assert rest.expected == pytest.approx(node.expected, abs=1e-9)
        left = posterior(problem, answers)
        assert left.fits
        assert dict(left.causes) == pytest.approx(dict(node.causes))


@settings(max_examples=100, deadline=None)
@given(any_problem)
def test_the_minutes_of_a_tree_are_those_of_its_branches(problem: Problem) -> None:
    """Walk the tree once for every cause, adding up what is listed."""
    total = sum(problem.causes.values())

    def spent(node: Node | None, cause: str) -> float:
        if node is None or isinstance(node, Leaf):
            return 0.0
        minutes = node.minutes + sum(step.minutes for step in node.preparations)
        if isinstance(node, TestNode):
            row = problem.tests[node.test].row(cause)
            return minutes + sum(row.get(a.outcome, 0.0) * spent(a.then, cause) for a in node.answers)
        minutes += node.trial_minutes + sum(step.minutes for step in node.trial_preparations)
        cured = cause in problem.remedies[node.remedy].fixes
        return minutes + (0.0 if cured else spent(node.if_not_fixed, cause))

    found = best_order(problem)
    walked = sum(weight * spent(found.root, cause) for cause, weight in problem.causes.items()) / total
    assert found.expected == pytest.approx(walked, abs=1e-9)
    for _, node in paths(found.root):
        if isinstance(node, TestNode):
            assert sum(answer.probability for answer in node.answers) == pytest.approx(1.0)


@settings(max_examples=50, deadline=None)
@given(any_problem)
def test_the_same_facts_in_another_order_give_the_same_tree(problem: Problem) -> None:
    turned = replace(
        problem,
        causes=dict(reversed(problem.causes.items())),
        tests=dict(reversed(problem.tests.items())),
        remedies=dict(reversed(problem.remedies.items())),
        covers=dict(reversed(problem.covers.items())),
    )
    assert best_order(turned) == best_order(problem)


# --- answers in any order

LIKELY = Problem(
    causes={"fuse": 6, "relay": 3, "board": 1},
    tests={
        "smell": Test(1, {"board": {"burnt": 0.8}, "relay": {"burnt": 0.1}}, "nothing"),
        "ring": split(2, open="fuse", good="relay board"),
    },
    remedies={
        "fix fuse": Remedy(15, ("fuse",)),
        "fix relay": Remedy(20, ("relay",)),
        "fix board": Remedy(60, ("board",)),
    },
)


def test_the_probabilities_follow_bayes() -> None:
    found = posterior(LIKELY, [("smell", "burnt")])
    # 3 x 0.1 against 1 x 0.8, worked out by hand
    assert [cause for cause, _ in found.causes] == ["board", "relay"]
    assert dict(found.causes) == pytest.approx({"board": 8 / 11, "relay": 3 / 11})
    assert found.evidence == pytest.approx(0.11)
    assert dict(posterior(LIKELY, []).causes) == pytest.approx({"fuse": 0.6, "relay": 0.3, "board": 0.1})


def test_the_order_of_answers_does_not_change_the_probabilities() -> None:
    answers = [("smell", "nothing"), ("ring", "good"), ("fix relay", NOT_FIXED)]
    assert posterior(LIKELY, answers) == posterior(LIKELY, answers[::-1])
    assert [cause for cause, _ in posterior(LIKELY, answers).causes] == ["board"]


def test_answers_that_fit_no_cause_are_said_to() -> None:
    found = posterior(LIKELY, [("smell", "burnt"), ("ring", "open")])
    assert (found.fits, found.causes, found.evidence) == (False, (), 0)
    root = next_best(LIKELY, [("smell", "burnt"), ("ring", "open")]).root
    assert isinstance(root, Leaf)
    assert root.ending is Ending.NO_CAUSE_FITS


def test_an_outcome_that_no_cause_gives_can_be_answered_all_the_same() -> None:
    tests = {"ring": Test(2, {"fuse": {"open": 1.0}, "relay": {"low": 1.0}, "board": {"low": 1.0}}, "good")}
    assert not posterior(replace(LIKELY, tests=tests), [("ring", "good")]).fits


def test_one_test_answered_in_two_ways_fits_no_cause() -> None:
    assert not posterior(LIKELY, [("smell", "burnt"), ("smell", "nothing")]).fits
    assert posterior(LIKELY, [("smell", "burnt"), ("smell", "burnt")]) == posterior(LIKELY, [("smell", "burnt")])


def test_all_remedies_tried_in_vain_fits_no_cause() -> None:
    assert not posterior(LIKELY, [(remedy, NOT_FIXED) for remedy in LIKELY.remedies]).fits


def test_a_test_that_cannot_be_done_is_planned_around() -> None:
    first = next_best(LIKELY, []).root
    assert isinstance(first, TestNode)
    without = next_best(LIKELY, [], [first.test])
    remaining = {name: test for name, test in LIKELY.tests.items() if name != first.test}
    assert without.expected == pytest.approx(plain_minutes(replace(LIKELY, tests=remaining)))
    assert all(not isinstance(node, TestNode) or node.test != first.test for _, node in paths(without.root))


def test_covers_opened_for_an_answer_are_open_afterwards() -> None:
    problem = replace(
        INSIDE, tests={"ring": Test(1, {"fuse": {"open": 1.0}}, "good", stated("open", "dead", ["lid"]))}
    )
    root = next_best(problem, [("ring", "open")]).root
    assert isinstance(root, RepairNode)
    assert root.preparations == ()


@pytest.mark.parametrize(
    ("answers", "unavailable", "says"),
    [
        ([("sniff", "burnt")], [], "there is no test or remedy sniff"),
        ([("smell", "roses")], [], "smell has no outcome roses; there are burnt, nothing"),
        ([("fix fuse", "good")], [], "its answer is 'not fixed'"),
        ([], ["fix fuse"], "there is no test fix fuse"),
    ],
)
def test_an_answer_that_is_not_there_is_refused(
    answers: list[tuple[str, str]], unavailable: list[str], says: str
) -> None:
    with pytest.raises(ValueError, match=says):
        next_best(LIKELY, answers, unavailable)


def test_covers_beside_each_other_are_no_tree_and_are_searched() -> None:
    problem = Problem(
        causes={"a": 10, "b": 1},
        remedies={
            "fix a": Remedy(1, ("a",), Needs(frozenset({"left", "right"}), False, Power.EITHER)),
            "fix b": Remedy(1, ("b",), Needs(frozenset({"right"}), False, Power.EITHER)),
        },
        covers={"left": Cover(100), "right": Cover(1)},
    )
    found = best_order(problem)
    assert repairs(found.root) == ["fix b", "fix a"]
    assert found.expected == pytest.approx((1 + 1) + 10 / 11 * (100 + 1))


def test_nodes_follow_each_other_in_ever_fewer_causes() -> None:
    for answers, node in paths(best_order(MIXED).root):
        for one, other in pairwise(range(len(answers) + 1)):
            assert len(posterior(MIXED, answers[:other]).causes) < len(posterior(MIXED, answers[:one]).causes)
        assert node.causes
