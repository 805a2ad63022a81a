"""Where the search gives up, the integer program finds what the search would have found with more patience."""

from __future__ import annotations

import sys

import pytest
from hypothesis import given, settings
from tests.physical.access_tables import CABLED_MACHINE, CABLED_MACHINE_ANSWERS, MUTUAL_BLOCK, SHARED_SUPPORT
from tests.physical.test_least_path import choices_in_rows, facts, found, machine

from benchleaf.physical.least_network import Operation, bits, done_with, network
from benchleaf.physical.least_path import OutOfReach, least_path
from benchleaf.physical.least_program import proposal


@pytest.mark.parametrize("rows", [6, 18, 40])
def test_a_search_cut_short_at_once_ends_with_the_least_time_all_the_same(rows: int) -> None:
    operations = choices_in_rows(rows)
    cut = found(operations, "goal", cap=0)
    assert cut.time == cut.bound == found(operations, "goal", cap=200_000).time
    assert cut.reason.startswith("no way is quicker")


def test_without_the_solver_the_same_search_says_it_was_cut_short(monkeypatch: pytest.MonkeyPatch) -> None:
    operations = choices_in_rows(40)
    with_solver = found(operations, "goal", cap=0)
    monkeypatch.setitem(sys.modules, "highspy", None)
    without = found(operations, "goal", cap=0)
    assert without.bound < with_solver.time <= without.time
    assert "cut short" in without.reason


def test_a_search_that_ends_by_itself_never_asks_for_the_solver(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delitem(sys.modules, "highspy", raising=False)
    assert found(choices_in_rows(18), "goal").exact
    assert "highspy" not in sys.modules


@pytest.mark.parametrize(("operations", "target", "time"), [(MUTUAL_BLOCK, "core", 10), (SHARED_SUPPORT, "item", 13)])
def test_things_that_hold_each_other_are_no_answer_of_the_program(
    operations: dict[str, Operation], target: str, time: int
) -> None:
    net = network(operations)
    made = proposal(net, net.mask([target]))
    assert made is not None
    assert net.seconds(net.cost_of(made.chosen)) == time
    assert time - 0.01 <= net.seconds(made.bound) <= time


@pytest.mark.parametrize("part", CABLED_MACHINE_ANSWERS)
def test_the_cabled_machine_by_the_program_alone(part: str) -> None:
    assert found(CABLED_MACHINE, f"rm:{part}", cap=0).time == CABLED_MACHINE_ANSWERS[part][0]


@pytest.mark.parametrize("number", range(3))
def test_search_and_program_agree_on_machines_with_cables(number: int) -> None:
    operations = machine(24, number)
    for i in (9, 16, 23):
        whole = found(operations, f"off{i}", cap=200_000)
        assert whole.exact
        assert found(operations, f"off{i}", cap=0).time == whole.time


@settings(max_examples=60, deadline=None)
@given(facts())
def test_what_the_program_proposes_can_be_done_and_costs_no_less_than_its_bound(
    operations: dict[str, Operation],
) -> None:
    if isinstance(least_path(operations, ["o0"]), OutOfReach):
        return
    net = network(operations)
    made = proposal(net, net.mask(["o0"]))
    assert made is not None
    assert done_with(net, made.chosen, 0, bits(made.chosen)) == made.chosen
    assert made.chosen & net.mask(["o0"])
    least = least_path(operations, ["o0"], cap=200_000)
    assert not isinstance(least, OutOfReach)
    assert net.seconds(made.bound) <= least.time <= net.seconds(net.cost_of(made.chosen))
