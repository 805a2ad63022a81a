"""What every order costs at least: no floor lies above the best order, found by trying everything."""

from __future__ import annotations

from math import log2 as library_log2

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.isolation.isolation_tables import HUFFMAN
from tests.isolation.plain_isolation import generated, plain_minutes

from benchleaf.isolation.bound import Bound
from benchleaf.isolation.information import Information
from benchleaf.isolation.logs import BITS, GRAIN, log2
from benchleaf.isolation.problem import Mode, Problem
from benchleaf.isolation.search import Search
from benchleaf.isolation.table import Table, bits
from benchleaf.isolation.weighing import Weighing, adder

KINDS: dict[str, dict[str, float | bool]] = {
    "sharp": {},
    "tests that find few causes": {"detect": True},
    "answers by likelihood": {"likely": 0.6, "detect": True},
    "three answers and likelihood": {"likely": 0.3},
    "shared remedies": {"shared": 0.5},
    "missing remedies": {"no_remedy": 0.4, "likely": 0.3},
    "covers and power": {"covered": True, "likely": 0.2},
    "covers, power and a trial run": {"covered": True, "run": True, "detect": True, "likely": 0.2},
}


def a_problem(seed: int, kind: str, mode: Mode) -> Problem:
    return generated(seed, 2 + seed % 5, seed // 5 % 5, mode=mode, **KINDS[kind])  # type: ignore[arg-type]


any_problem = st.builds(a_problem, st.integers(0, 10_000), st.sampled_from(sorted(KINDS)), st.sampled_from(list(Mode)))


def by_information(problem: Problem, price: int) -> float:
    """Own cures and the floor for the bits missing at the start."""
    table = Table(problem)
    usable = tuple(range(len(table.tests)))
    information = Information(table, usable)
    cures = Bound(table, usable).cures(table.everything, table.weights, table.conditions.start)
    if information.silent:
        return cures
    return cures + information.least(table.everything, Weighing(table.weights, often=True), price)[0]


@settings(max_examples=300, deadline=None)
@given(any_problem, st.integers(-12, 25))
def test_no_price_of_a_bit_gives_a_floor_above_the_best_order(problem: Problem, price: int) -> None:
    assert by_information(problem, price) <= plain_minutes(problem) + 1e-9


@settings(max_examples=200, deadline=None)
@given(any_problem, st.integers(1, 40))
def test_the_floor_of_an_unfinished_search_is_below_the_best_order_everywhere(problem: Problem, budget: int) -> None:
    cut, whole = Search(Table(problem), budget), Search(Table(problem), 100_000)
    cut.solve(cut.start())
    for state in list(cut._lower):
        whole.solve(state)
        if state in whole.values:
            assert cut.lower(state) <= whole.values[state] + 1e-9


@settings(max_examples=100, deadline=None)
@given(any_problem, st.integers(-6, 18))
def test_what_causes_gain_at_most_gives_a_floor_for_every_part_of_them(problem: Problem, price: int) -> None:
    table = Table(problem)
    usable = tuple(range(len(table.tests)))
    information = Information(table, usable)
    if information.silent:
        return
    weighing = Weighing(table.weights, often=True)
    gains, by_test = information.worth(table.everything, weighing, price)
    minutes = information.price(price).minutes
    least = Bound(table, usable).cures
    search = Search(table, 100_000)
    for part in range(1, table.everything + 1):
        state = search.start()._replace(causes=part)
        search.solve(state)
        floor = minutes * (
            information.missing(part, weighing) - sum(weighing.weights[j] * gains[j] for j in bits(part))
        )
        cures = least(part, table.weights, state.condition)
        assert max(floor, 0.0) + cures <= search.values[state] + 1e-9
    assert all(gain >= 0 for worth in by_test.values() for gain in worth)


def test_where_every_test_takes_a_minute_the_floor_is_the_entropy() -> None:
    weights = [weight / 100 for weight in HUFFMAN.causes.values()]
    entropy = sum(-weight * library_log2(weight) for weight in weights)  # 2.22; Huffman's code has 2.24
    best = max(by_information(HUFFMAN, price) for price in range(-10, 10))
    assert 0.9 < best <= 2.24
    assert best <= entropy


def test_the_logarithms_are_those_of_the_library() -> None:
    for number in (1e-300, 1e-9, 0.3, 0.7071067811865475, 0.75, 1.0, 1.4142135623730951, 3.0, 1e10, 1e300):
        assert log2(number) == pytest.approx(library_log2(number), rel=1e-13, abs=1e-15)
    assert all(BITS[k] == pytest.approx(-library_log2(k / GRAIN), abs=1e-14) for k in range(1, GRAIN + 1))


@pytest.mark.parametrize("count", [0, 1, 9, 10, 11, 20, 21, 40])
@pytest.mark.parametrize("width", [5, 10])
def test_tables_add_up_what_adding_one_by_one_does(count: int, width: int) -> None:
    values = [(7 * place % 11 + 1) / 8 for place in range(count)]
    added = adder(values, width)
    for mask in {0, (1 << count) - 1, 0x5555555555 & ((1 << count) - 1), 0x0F0F33CC0F & ((1 << count) - 1)}:
        assert added(mask) == pytest.approx(sum(values[j] for j in bits(mask)))
