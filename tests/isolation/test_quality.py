"""What the tests of a code are good for."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.isolation.isolation_tables import CLUSTERS, MIXED, split
from tests.isolation.plain_isolation import generated

from benchleaf.isolation.problem import Mode, Problem, Remedy, Test
from benchleaf.isolation.quality import quality
from benchleaf.isolation.test_order import best_order

# Two causes no test tells apart, a test that answers alike for all, a cause no test names, one without a remedy.
POOR = Problem(
    causes={"sensor": 4, "lead": 2, "belt": 3, "ghost": 1},
    tests={
        "swap": Test(3, {"sensor": {"cleared": 1.0}, "lead": {"cleared": 1.0}}, "same"),
        "look": Test(1, {"belt": {"worn": 0.9}}, "fine"),
        "listen": Test(1, {}, "quiet"),
    },
    remedies={
        "fix sensor": Remedy(30, ("sensor",)),
        "fix lead": Remedy(25, ("lead",)),
        "fix belt": Remedy(10, ("belt",)),
    },
)


def test_causes_told_apart_by_no_test_are_a_group() -> None:
    found = quality(POOR)
    assert [group.causes for group in found.ambiguity_groups] == [("lead", "sensor")]
    assert not found.ambiguity_groups[0].one_remedy


def test_a_group_with_one_remedy_does_not_matter_and_is_worth_nothing() -> None:
    both = {"fix both": Remedy(30, ("sensor", "lead")), "fix belt": POOR.remedies["fix belt"]}
    (group,) = quality(replace(POOR, remedies=both)).ambiguity_groups
    assert (group.one_remedy, group.worth) == (True, pytest.approx(0))


def test_what_a_test_within_a_group_is_worth_is_what_it_saves() -> None:
    (group,) = quality(POOR).ambiguity_groups
    either = {"s": 4 / 6, "l": 2 / 6}  # says nothing about the others
    told = {"new": Test(0, {"sensor": {"s": 1.0}, "lead": {"l": 1.0}, "belt": either, "ghost": either})}
    saved = best_order(POOR).expected - best_order(replace(POOR, tests={**POOR.tests, **told})).expected
    assert group.worth == pytest.approx(saved)
    assert saved > 0


def test_a_test_that_tells_nothing_is_named() -> None:
    found = quality(POOR)
    assert found.useless_tests == ("listen",)
    assert "listen" not in found.unused_tests


def test_a_test_the_order_does_without_is_named() -> None:
    assert quality(MIXED).unused_tests == ("ring_cable", "ring_fuse", "swap_sensor_sim")


def test_a_cause_no_test_reaches_is_named() -> None:
    assert quality(POOR).unreached_causes == ("ghost",)
    assert quality(CLUSTERS).unreached_causes == tuple(sorted(CLUSTERS.causes))


def test_a_cause_without_a_remedy_is_named() -> None:
    assert quality(POOR).causes_without_remedy == ("ghost",)


def test_expected_and_worst_are_those_of_the_order() -> None:
    found, order = quality(MIXED), best_order(MIXED)
    assert (found.expected, found.worst, found.exact) == (order.expected, order.worst, True)
    assert quality(MIXED, order).policy is order


def test_a_further_test_saves_at_most_all_that_is_not_the_cure_itself() -> None:
    cures = 0.3 * 4 + 0.22 * 60 + 0.18 * 12 + 0.15 * 200 + 0.1 * 35 + 0.05 * 9  # by hand, from the table
    assert quality(MIXED).value_of_one_more_test == pytest.approx(54.19 - cures)


def test_where_only_the_remedy_is_to_be_known_it_may_save_everything() -> None:
    problem = Problem(
        causes={"a": 1, "b": 1}, tests={"t": split(6, yes="a", no="b")}, mode=Mode.IDENTIFY
    )
    assert quality(problem).value_of_one_more_test == 6


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10_000), st.integers(0, 10_000))
def test_no_generated_test_saves_more_than_is_said(seed: int, other: int) -> None:
    problem = generated(seed, 2 + seed % 4, seed % 3, covered=seed % 2 == 1)
    more = replace(generated(other, len(problem.causes), 1, likely=0.5).tests["t00"])
    saved = best_order(problem).expected - best_order(replace(problem, tests={**problem.tests, "m": more})).expected
    assert saved <= quality(problem).value_of_one_more_test + 1e-9
