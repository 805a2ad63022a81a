"""What an interview is told in every state is what the search says there, however the state was come to."""

from __future__ import annotations

from random import Random

import pytest

from benchleaf.isolation.decisions import Decisions, Moment, weights_of
from benchleaf.isolation.policy import Leaf, Node, RepairNode, TestNode
from benchleaf.isolation.problem import Cover, PowerMinutes, Problem, Remedy, Test, Trial, hands_on, stated
from benchleaf.isolation.test_order import NOT_FIXED, best_order, next_best, posterior


def problem(seed: int) -> Problem:
    """Five causes, four tests of which one answers by likelihood, two covers, power and a trial run."""
    random = Random(seed)
    causes = {f"c{n}": random.choice((1.0, 2.0, 3.5, 5.0)) for n in range(5)}
    tests = {}
    for n in range(4):
        sharp = n != 3
        named = random.sample(sorted(causes), random.choice((1, 2)))
        shares = {cause: {"bad": 1.0 if sharp else random.choice((0.3, 0.8))} for cause in named}
        inside = random.choice(((), ("front",), ("front", "rear")))
        needs = stated(random.choice(("open", "closed", "either")), random.choice(("dead", "powered")), inside)
        tests[f"t{n}"] = Test(random.choice((1.0, 2.5, 4.0)), shares, "good", needs)
    remedies = {
        "r0": Remedy(3.0, ("c0", "c1"), hands_on(("front",))),
        "r2": Remedy(6.0, ("c2",), hands_on()),
        "r3": Remedy(2.0, ("c3",), hands_on(("rear",))),
    }
    return Problem(
        causes=causes, tests=tests, remedies=remedies, covers={"front": Cover(2.0, 3.0), "rear": Cover(1.0, 1.5)},
        power=PowerMinutes(0.5, 2.0, 0.5), trial=Trial(1.0),
    )  # fmt: skip


def play(made: Decisions, random: Random) -> tuple[Moment, list[tuple[str, str]], list[str]]:
    """A few answers in any order, and tests that cannot be done."""
    table, moment = made.table, made.start()
    answers: list[tuple[str, str]] = []
    barred: list[str] = []
    for _ in range(random.randrange(1, 5)):
        telling = made.telling(moment)
        kind = random.random()
        if kind < 0.25 and telling:
            test = random.choice(telling)
            moment = made.without_test(moment, test)
            barred.append(table.tests[test])
        elif kind < 0.45:
            useful = [r for r in range(len(table.remedies)) if table.fixes[r] & moment.causes]
            if useful:
                remedy = random.choice(useful)
                moment = made.after_remedy(moment, remedy)
                answers.append((table.remedies[remedy], NOT_FIXED))
        elif telling:
            test = random.choice(telling)
            outcome = random.randrange(len(table.outcomes[test]))
            moment = made.after_test(moment, test, outcome)
            answers.append((table.tests[test], table.outcomes[test][outcome].name))
        if not moment.causes:
            break
    return moment, answers, barred


@pytest.mark.parametrize("seed", range(8))
def test_a_decision_costs_what_the_search_from_there_costs_and_leaves_the_same_probabilities(seed: int) -> None:
    random, one = Random(seed), problem(seed)
    made = Decisions(one)
    for _ in range(25):
        moment, answers, barred = play(made, random)
        after = posterior(one, answers)
        assert after.fits == bool(moment.causes)
        if moment.causes:
            assert weights_of(made.table, moment) == pytest.approx(dict(after.causes))
        found, told = next_best(one, answers, barred), made.decide(moment)
        assert told.expected == pytest.approx(found.expected)
        assert told.exact == found.exact


@pytest.mark.parametrize("seed", range(8))
def test_whoever_follows_the_decisions_walks_the_order_found_from_the_start(seed: int) -> None:
    one = problem(seed)
    made = Decisions(one)

    def walk(node: Node | None, moment: Moment) -> None:
        if node is None:
            assert not moment.causes
            return
        told = made.decide(moment)
        assert told.expected == pytest.approx(node.expected)
        if isinstance(node, Leaf):
            assert told.kind == "none"
        elif isinstance(node, TestNode):
            assert (told.kind, made.table.tests[told.place]) == ("test", node.test)
            places = {found.name: o for o, found in enumerate(made.table.outcomes[told.place])}
            for answer in node.answers:
                walk(answer.then, made.after_test(moment, told.place, places[answer.outcome]))
        else:
            assert isinstance(node, RepairNode)
            assert (told.kind, made.table.remedies[told.place]) == ("remedy", node.remedy)
            walk(node.if_not_fixed, made.after_remedy(moment, told.place))

    walk(best_order(one).root, made.start())


def test_all_states_are_gathered_when_the_budget_lasts_and_those_of_the_order_first_when_not() -> None:
    one = problem(3)
    everything, whole = Decisions(one).gather()
    assert whole
    made = Decisions(one)
    few, all_of_them = made.gather(most=1)
    assert not all_of_them and few.items() <= everything.items()
    moment = made.start()
    while moment.causes:  # the likeliest answer to all that is suggested is never missing
        told = few[moment]
        if told.kind == "none":
            break
        after = (
            made.after_remedy(moment, told.place) if told.kind == "remedy" else made.after_test(moment, told.place, 0)
        )
        moment = after


def test_gathering_twice_gives_the_same() -> None:
    assert Decisions(problem(5)).gather() == Decisions(problem(5)).gather()


@pytest.mark.parametrize("seed", range(6))
def test_no_rule_costs_less_than_the_decision(seed: int) -> None:
    random = Random(100 + seed)
    made = Decisions(problem(seed))
    for _ in range(20):
        moment, _, _ = play(made, random)
        assert made.by_rule(moment).expected >= made.decide(moment).expected - 1e-9
