"""Words authors try for a key lead to the key that means it, or to where the fact belongs."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from benchleaf.records.guesses import ELSEWHERE, OTHER_KEYS, meant
from benchleaf.records.reading import Row, keys_of
from benchleaf.shape import shape
from benchleaf.source import Source
from benchleaf.suggest import closest


def tables(of: type[Row] = Row) -> Iterator[type[Row]]:
    for one in of.__subclasses__():
        yield one
        yield from tables(one)


def test_every_word_leads_to_a_key_of_some_table_that_does_not_have_the_word_itself() -> None:
    known = [set(keys_of(one)) for one in tables()]
    for word, keys in OTHER_KEYS.items():
        assert any(key in table and word not in table for key in keys for table in known), word
        assert all(any(key in table for table in known) for key in keys), word


def test_every_word_that_leads_elsewhere_is_missing_in_some_table() -> None:
    for word in ELSEWHERE:
        assert any(word not in keys_of(one) for one in tables()), word


@pytest.mark.parametrize(
    ("word", "key"), [("weight", "likely"), ("fix", "remedy"), ("minutes", "takes"), ("description", "why")]
)
def test_a_word_for_a_key_of_a_cause_names_the_key(word: str, key: str) -> None:
    text = f"---\nrecord: code\ncode: E5\nmachine: m\ncauses: {{board: {{{word}: 3}}}}\n---\n"
    _, findings = shape([Source("m/codes/e5.md", text)])
    (found,) = [one for one in findings if one.code == "unknown-key"]
    assert found.place.line == 5 and f"'{word}'" in found.message
    assert f"is it '{key}' that you mean?" in found.help


def test_a_torque_in_a_step_is_sent_to_its_fastener() -> None:
    text = "record: teardown\nid: p\ntitle: T\nmachine: m\nsteps:\n  - title: Take it off\n    torque: 2 N·m\n"
    _, findings = shape([Source("m/teardown/p.yaml", text)])
    (found,) = [one for one in findings if one.code == "unknown-key"]
    assert (found.place.line, found.place.column) == (7, 5)
    assert "belongs to its fastener" in found.help


def test_a_word_nobody_would_guess_gets_the_list_of_keys_alone() -> None:
    assert meant("zebra", {"name"}) == ""


def test_no_guess_stands_in_the_way_of_a_slip_of_the_fingers() -> None:
    """``titel`` is a slip of ``title``: the letters are asked before this table."""
    assert closest("titel", ("title", "text")) == ("title",) and "titel" not in OTHER_KEYS
