"""The order of a set with the fewest tool changes."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.physical.access_tables import (
    NO_CHOICE,
    SUPERSEQUENCE,
    can_be_done,
    changes_in,
    fewest_changes_by_graph,
    table,
)

from benchleaf.physical.least_path import Operation
from benchleaf.physical.tool_order import tool_order


def test_two_chains_need_the_shortest_common_supersequence_of_their_tools() -> None:
    found = tool_order(SUPERSEQUENCE)
    assert found.exact
    assert found.changes == 8  # source beside the table
    assert found.bound == 8
    assert can_be_done(SUPERSEQUENCE, found.order)
    assert len(found.order) == 13
    assert changes_in(SUPERSEQUENCE, found.order) == 8


def test_a_search_cut_short_is_labelled_and_its_bound_holds() -> None:
    found = tool_order(SUPERSEQUENCE, cap=1)
    assert not found.exact
    assert found.bound <= 8 <= found.changes
    assert found.changes == 10  # the tool with most to do each time, by the table
    assert can_be_done(SUPERSEQUENCE, found.order)
    assert changes_in(SUPERSEQUENCE, found.order) == found.changes


def test_picking_up_the_first_tool_is_no_change() -> None:
    found = tool_order(table("a 1 PH1\nb 1 PH1 a"))
    assert (found.changes, found.tools) == (0, ("PH1",))


def test_the_hand_is_a_tool_and_a_virtual_operation_has_none() -> None:
    operations = table("screws 1 PH1\nway 0 - screws\nlid 1 hand way\nmore 1 hand lid")
    found = tool_order(operations)
    assert found.order == ("screws", "way", "lid", "more")
    assert found.tools == ("PH1", "hand")
    assert found.changes == 1


def test_only_what_was_asked_for_is_ordered() -> None:
    found = tool_order(NO_CHOICE, ["cover", "cover_screws", "fan_screws"])
    assert found.order == ("cover_screws", "cover", "fan_screws")


def test_a_set_that_does_not_hold_what_it_needs_is_refused() -> None:
    with pytest.raises(ValueError, match="nothing in it makes way for fan"):
        tool_order(NO_CHOICE, ["cover_screws", "fan"])


def test_nothing_to_do_is_an_order_of_nothing() -> None:
    found = tool_order({}, [])
    assert (found.order, found.changes, found.exact) == ((), 0, True)


@st.composite
def sets_that_can_be_done(draw: st.DrawFn) -> dict[str, Operation]:
    operations: dict[str, Operation] = {}
    for i in range(draw(st.integers(1, 8))):
        earlier = sorted(operations)
        clauses = ()
        if earlier:
            clause = st.lists(st.sampled_from(earlier), min_size=1, max_size=3, unique=True).map(tuple)
            clauses = tuple(draw(st.lists(clause, max_size=2)))
        tool = draw(st.sampled_from(["PH1", "TX20", "hand", None]))
        operations[f"o{i}"] = Operation(0.0 if tool is None else 1.0, tool, clauses)
    return operations


@settings(max_examples=150, deadline=None)
@given(sets_that_can_be_done())
def test_no_order_of_a_generated_set_has_fewer_changes(operations: dict[str, Operation]) -> None:
    found = tool_order(operations)
    assert found.exact
    assert can_be_done(operations, found.order)
    assert sorted(found.order) == sorted(operations)
    assert changes_in(operations, found.order) == found.changes
    assert found.changes == fewest_changes_by_graph(operations, operations)


@settings(max_examples=60, deadline=None)
@given(sets_that_can_be_done(), st.integers(0, 4))
def test_a_cap_never_hides_a_better_order_below_its_bound(operations: dict[str, Operation], cap: int) -> None:
    cut, exact = tool_order(operations, cap=cap), tool_order(operations)
    assert cut.bound <= exact.changes <= cut.changes
    assert can_be_done(operations, cut.order)
    assert changes_in(operations, cut.order) == cut.changes
    assert not cut.exact or cut.changes == exact.changes
