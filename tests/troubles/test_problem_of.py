"""From the records of the demo to what the search starts from, and what the search then says."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

import pytest
from tests.troubles.demo import case, derived, derived_from, every_case

from benchleaf.isolation.clusters import Job, by_likelihood_over_cost
from benchleaf.isolation.policy import Node, RepairNode, TestNode
from benchleaf.isolation.problem import Cover, Power, PowerMinutes, Problem, Supply
from benchleaf.isolation.test_order import best_order
from benchleaf.troubles.problem_of import Case, cases_of, order_of


def root_of(made: Problem) -> Node:
    return best_order(made).root


def first_of(made: Problem) -> str:
    root = root_of(made)
    assert isinstance(root, TestNode | RepairNode)
    return root.test if isinstance(root, TestNode) else root.remedy


def repairs_in_order(made: Problem) -> list[str]:
    order: list[str] = []
    node: Node | None = root_of(made)
    while node is not None:
        assert isinstance(node, RepairNode)
        order.append(node.remedy)
        node = node.if_not_fixed
    return order


def problem(one: Case) -> Problem:
    assert one.problem is not None
    return one.problem


# ---- code 11: three orders, all different


def test_on_code_11_likelihood_and_likelihood_over_cost_and_the_best_order_all_differ() -> None:
    made = problem(case("fp420", "11", "mk1"))
    weight = {name: sum(made.causes[cause] for cause in remedy.fixes) for name, remedy in made.remedies.items()}
    likeliest = sorted(weight, key=lambda name: -weight[name])
    hands_on = {name: Job(remedy.minutes, weight[name]) for name, remedy in made.remedies.items()}
    over_cost = list(by_likelihood_over_cost(hands_on))
    best = repairs_in_order(made)
    assert likeliest[0] == "reseat-cables"
    assert over_cost[0] == "clean-sensors"
    assert best[0] == "clear-film-path"
    assert sorted(likeliest) == sorted(over_cost) == sorted(best)
    assert len({tuple(likeliest), tuple(over_cost), tuple(best)}) == 3


def expected_by_hand(made: Problem, order: tuple[str, ...]) -> float:
    """The minutes of repairs one after another by the definition: bring the machine into the condition each needs,
    repair, close everything, energise, try; stop at the one that cures. Written without the search."""
    total, open_now, supply, left = 0.0, set[str](), Supply.ON, sum(made.causes.values())
    whole = left
    assert made.trial is not None
    for name in order:
        remedy, minutes = made.remedies[name], 0.0
        missing = set(remedy.needs.open) - open_now
        if remedy.needs.power is Power.DEAD or missing:
            minutes += made.power.isolate if supply is Supply.ON else 0.0
            minutes += sum(made.covers[one].open_minutes for one in missing)
            open_now |= missing
            minutes += made.power.prove if remedy.needs.power is Power.DEAD else 0.0
            supply = Supply.PROVED
        minutes += remedy.minutes
        minutes += sum(made.covers[one].close_minutes for one in open_now)
        open_now = set()
        minutes += made.power.energise if supply is not Supply.ON else 0.0
        supply = Supply.ON
        minutes += made.trial.minutes
        total += minutes * left
        left -= sum(made.causes[cause] for cause in remedy.fixes)
    return total / whole


@pytest.mark.parametrize("on", ["mk1", "mk2 with roll"])
def test_the_order_of_code_11_is_the_best_of_all_orders_by_the_definition(on: str) -> None:
    made = problem(case("fp420", "11", on))
    costs = {order: expected_by_hand(made, order) for order in permutations(sorted(made.remedies))}
    found = best_order(made)
    assert found.exact
    assert found.expected == pytest.approx(min(costs.values()))
    assert costs[tuple(repairs_in_order(made))] == pytest.approx(min(costs.values()))


# ---- code 08: covers change the first test


def test_on_code_08_what_has_to_be_opened_changes_the_first_test() -> None:
    made = problem(case("fp420", "08", "mk1"))
    nothing_in_the_way = replace(made, covers={name: Cover(0.0, 0.0) for name in made.covers}, power=PowerMinutes())
    assert first_of(nothing_in_the_way) == "look-at-belt"
    assert first_of(made) == "turn-roller"


# ---- what the records become


def test_a_test_in_covers_waits_for_the_way_to_its_item_and_for_the_proof() -> None:
    needs = problem(case("fp420", "08", "mk1")).tests["look-at-belt"].needs
    assert needs.power is Power.DEAD
    assert needs.open == {"un:left-cover.left-screw", "off:left-cover", "un:rear-plate.rear-screw", "off:rear-plate"}


def test_minutes_to_open_are_those_of_the_access_path_and_what_is_missing_is_not_undone() -> None:
    whole = problem(case("fp420", "08", "mk1"))
    as_found = problem(case("fp420", "08", "mk1, serial 0221"))
    assert whole.covers["un:left-cover.left-screw"] == Cover(40 / 60, 80 / 60)
    assert as_found.covers["un:left-cover.left-screw"] == Cover(30 / 60, 60 / 60)


def test_every_source_of_a_conversion_is_isolated_and_proved() -> None:
    stock, roll = (problem(case("fp420", "08", on)).power for on in ("mk1", "mk1 with roll"))
    assert stock == PowerMinutes(1.0, 3.0 + 2.0, 0.5)  # one plug, one proof, one store
    assert roll == PowerMinutes(3.0, 3 * 3.0 + 2.0, 1.5)  # three plugs, three proofs, one store


def test_replace_an_item_is_the_procedure_an_author_wrote_for_it() -> None:
    one = case("fp420", "11", "mk1")
    assert one.remedies["replace-main-board"].procedure == "replace-main-board"
    assert one.remedies["replace M1"].procedure is None
    bands = case("fp420", "bands-on-film", "mk1")
    assert {plan.id for plan in bands.remedies.values()} == {
        "replace-print-head", "set-feed-belt", "clean-sensors", "set-head-height"
    }  # fmt: skip


def test_a_procedure_whose_steps_change_nothing_is_done_as_the_machine_stands_any_other_dead() -> None:
    made = problem(case("fp420", "11", "mk1"))
    assert made.remedies["clear-film-path"].needs.power is Power.EITHER
    assert made.remedies["reseat-cables"].needs.power is Power.DEAD
    prose = case("fp420", "bands-on-film", "mk1").remedies["set-head-height"]
    assert prose.needs.power is Power.DEAD


def test_causes_and_tests_are_those_of_the_machine_shown() -> None:
    stock, roll = case("fp420", "08", "mk1"), case("fp420", "08", "mk1 with roll")
    assert "a9-no-supply" not in stock.causes and "roll-lamp" not in stock.tests
    assert "a9-no-supply" in roll.causes and "roll-lamp" in roll.tests
    assert case("fp420", "14").on == ("mk2",)


def test_a_masked_code_says_so_and_one_that_is_made_up_for_says_that() -> None:
    lid, feed = case("fp420", "05", "mk1 with roll").masked, case("fp420", "08", "mk1 with roll").masked
    assert [one.signal for one in lid] == ["lid-closed"] and lid[0].is_masked
    assert "No code does not mean no fault" in lid[0].words and "lid closed, always" in lid[0].words
    assert [one.signal for one in feed] == ["feed-pulse"] and not feed[0].is_masked
    assert "still comes from S4 Feed encoder" in feed[0].words
    assert case("fp420", "05", "mk1").masked == ()


def test_a_symptom_takes_in_the_causes_and_tests_of_its_codes() -> None:
    joined = case("fp420", "beeps-wont-feed", "mk1")
    codes = [case("fp420", one, "mk1") for one in ("07", "08")]
    assert set(joined.causes) == {cause for one in codes for cause in one.causes}
    assert set(joined.tests) == {test for one in codes for test in one.tests}
    assert joined.codes and [str(one.code) for one in joined.codes] == ["07", "08"]


def test_a_test_says_nothing_about_causes_its_author_did_not_know_of() -> None:
    made = problem(case("fp420", "beeps-wont-feed", "mk1"))
    known = case("fp420", "08", "mk1").causes
    total = sum(made.causes[cause] for cause in known)
    test = made.tests["turn-roller"]
    for outcome in test.outcomes:
        share = sum(made.causes[cause] * test.row(cause).get(outcome, 0.0) for cause in known) / total
        for cause in set(made.causes) - set(known):
            assert test.row(cause).get(outcome, 0.0) == pytest.approx(share)


def test_every_trouble_of_the_demo_has_an_order_found_exactly() -> None:
    for one in every_case():
        found = order_of(derived(), one)
        assert found is not None, one.id
        assert found.exact, one.id


# ---- what nobody recorded

_SHOP = "record: shop\nname: A shop\n"
_MACHINE = """record: machine
id: m
name: Machine
items:
  frame: {name: Frame, held-by: none}
  A1: {name: Board, behind: [], held-by: none}
"""


def small(code: str, more: str = "") -> Case:
    files = {"shop.yaml": _SHOP, "m/machine.yaml": _MACHINE + more, "m/codes/e1.md": f"---\n{code}---\n"}
    made = derived_from(files)
    machine = made.library.machines["m"]
    return cases_of(made, machine, machine.codes["E1"])[0]


def test_a_weight_nobody_recorded_counts_as_one_and_is_named() -> None:
    one = small("code: E1\ncauses: {a: {likely: 3, remedy: replace A1}, b: {remedy: replace A1}}\n")
    assert one.weights == {"a": 3.0, "b": 1.0}
    assert one.unweighted == ("b",)
    assert any("b is not recorded: 1 is counted" in note for note in one.notes)


def test_a_machine_without_an_energy_counts_as_live_and_is_isolated_all_the_same() -> None:
    one = small("code: E1\ncauses: {a: {remedy: replace A1}}\n")
    assert problem(one).power.isolate > 0 and problem(one).power.prove > 0
    assert any("no energy is recorded" in note for note in one.notes)


def test_a_state_nobody_recorded_is_closed_dead_and_proved() -> None:
    test = "tests: {look: {do: Look, outcomes: {yes: [a], no: rest}}}\n".replace("yes:", '"y":').replace("no:", '"n":')
    one = small(f"code: E1\ncauses: {{a: {{remedy: replace A1}}, b: {{remedy: replace A1}}}}\n{test}")
    assert one.tests["look"].needs.power is Power.DEAD and one.tests["look"].needs.others_closed
    assert any("counts as dead and proved" in note for note in one.tests["look"].notes)


def test_a_cause_without_a_remedy_is_a_dead_end_that_says_why() -> None:
    one = small("code: E1\ncauses: {a: {remedy: replace A1}, b: {likely: 2}}\n")
    assert one.without_remedy == {"b": "no remedy is recorded"}


def test_a_remedy_of_another_machine_is_no_remedy() -> None:
    mod = "modifications: {lift: {is: a lift, serials: ['0150'], tell: A column}}\n"
    lifted = _MACHINE.replace("behind: [], held-by", "applies: [lift], behind: [], held-by")
    made = derived_from({
        "shop.yaml": _SHOP, "m/machine.yaml": lifted + mod,
        "m/codes/e1.md": "---\ncode: E1\ncauses: {a: {remedy: replace A1}}\n---\n",
    })  # fmt: skip
    machine = made.library.machines["m"]
    bare = cases_of(made, machine, machine.codes["E1"])[0]
    assert bare.without_remedy == {"a": "there is no A1 on this machine"}
