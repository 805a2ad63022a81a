"""Covers and power: what is done to bring the machine into a condition, and what it costs."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.isolation.plain_isolation import COVERS, begin, bring

from benchleaf.isolation.problem import Cover, Needs, Power, PowerMinutes, Problem, Start, Supply, stated
from benchleaf.isolation.states import Conditions, Step

PROBLEM = Problem(
    causes={"a": 1},
    covers={"front": Cover(6, 4), "tray": Cover(10, 7, "front"), "rear": Cover(15, 9)},
    power=PowerMinutes(isolate=1, prove=3, energise=0.5),
)


def steps(conditions: Conditions, condition: int, needs: Needs) -> list[tuple[Step, str]]:
    return [(step.step, step.cover) for step in conditions.preparations(condition, needs)]


def test_a_cover_is_opened_after_those_it_is_within_and_on_an_isolated_machine() -> None:
    conditions = Conditions(PROBLEM)
    needs = Needs(frozenset({"tray"}), others_closed=False, power=Power.DEAD)
    assert steps(conditions, conditions.start, needs) == [
        (Step.ISOLATE, ""),
        (Step.OPEN, "front"),
        (Step.OPEN, "tray"),
        (Step.PROVE, ""),
    ]
    then, minutes = conditions.after(conditions.start, needs)
    assert minutes == 1 + 6 + 10 + 3
    assert conditions.open_covers(then) == ("front", "tray")
    assert conditions.supply(then) is Supply.PROVED


def test_what_is_open_and_proved_is_free() -> None:
    conditions = Conditions(PROBLEM)
    needs = Needs(frozenset({"tray"}), others_closed=False, power=Power.DEAD)
    then, _ = conditions.after(conditions.start, needs)
    assert conditions.preparations(then, needs) == ()
    assert conditions.after(then, Needs(frozenset({"front"}), False, Power.DEAD)) == (then, 0)


def test_covers_are_closed_from_the_inside_before_power_comes_on() -> None:
    conditions = Conditions(PROBLEM)
    then, _ = conditions.after(conditions.start, Needs(frozenset({"tray"}), False, Power.DEAD))
    assert steps(conditions, then, stated("closed", "powered")) == [
        (Step.CLOSE, "tray"),
        (Step.CLOSE, "front"),
        (Step.ENERGISE, ""),
    ]


def test_isolating_and_proving_are_paid_again_after_every_energising() -> None:
    conditions = Conditions(PROBLEM)
    dead, live = Needs(frozenset(), False, Power.DEAD), Needs(frozenset(), False, Power.ON)
    then, spent = conditions.start, 0.0
    for needs in (dead, live, dead, live):
        then, minutes = conditions.after(then, needs)
        spent += minutes
    assert spent == 2 * (1 + 3 + 0.5)


def test_a_machine_is_energised_until_something_else_is_recorded() -> None:
    assert Conditions(PROBLEM).supply(Conditions(PROBLEM).start) is Supply.ON


def test_unstated_needs_are_closed_and_dead_and_proved() -> None:
    assert stated(None, None) == Needs() == Needs(frozenset(), others_closed=True, power=Power.DEAD)
    assert stated("either", "powered", ["rear"]) == Needs(frozenset({"rear"}), False, Power.ON)


needs_of_any_kind = st.builds(
    Needs,
    st.sets(st.sampled_from(sorted(COVERS))).map(frozenset),
    st.booleans(),
    st.sampled_from(list(Power)),
)


@settings(max_examples=150, deadline=None)
@given(
    st.lists(needs_of_any_kind, min_size=1, max_size=5),
    st.sets(st.sampled_from(sorted(COVERS))).map(frozenset),
    st.sampled_from(list(Supply)),
)
def test_every_row_of_needs_costs_what_the_rule_says(
    wanted: list[Needs], opened: frozenset[str], supply: Supply
) -> None:
    problem = Problem(
        causes={"a": 1}, covers=COVERS, power=PowerMinutes(0.5, 2, 0.25), start=Start(opened, supply)
    )
    conditions = Conditions(problem)
    then, plain = conditions.start, begin(problem)
    for needs in wanted:
        then, minutes = conditions.after(then, needs)
        plain, expected = bring(problem, plain, needs)
        assert minutes == expected
        assert (frozenset(conditions.open_covers(then)), conditions.supply(then).value) == plain


@settings(max_examples=150, deadline=None)
@given(st.lists(needs_of_any_kind, min_size=1, max_size=4), needs_of_any_kind)
def test_no_detour_is_cheaper_than_going_straight(detour: list[Needs], end: Needs) -> None:
    """The bound of the search rests on this."""
    conditions = Conditions(Problem(causes={"a": 1}, covers=COVERS, power=PowerMinutes(0.5, 2, 0.25)))
    _, straight = conditions.after(conditions.start, end)
    then, spent = conditions.start, 0.0
    for needs in (*detour, end):
        then, minutes = conditions.after(then, needs)
        spent += minutes
    assert straight <= spent
