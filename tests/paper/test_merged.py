"""Lists of several machines as one: nobody loses a line, nobody gets one that is not his, and the order holds."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.paper.merged import by_value, merged

ENTRIES = st.lists(st.integers(0, 6), max_size=8)


@given(st.lists(ENTRIES, min_size=1, max_size=5))
@settings(max_examples=150, deadline=None)
def test_every_list_can_be_read_back_out(lists: list[list[int]]) -> None:
    found = merged(list(enumerate(lists)))
    for number, entries in enumerate(lists):
        assert [entry for entry, on in found if number in on] == entries


def test_equal_lists_are_one() -> None:
    assert merged([("a", [1, 2]), ("b", [1, 2])]) == [(1, frozenset("ab")), (2, frozenset("ab"))]


def test_what_differs_names_its_machines() -> None:
    assert by_value([("a", 1), ("b", 2), ("c", 1)]) == [(1, frozenset("ac")), (2, frozenset("b"))]
