"""Colour codes: what is typed is kept, what the standard would write is said, nothing is guessed."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.drawings.colours import BY_CODE, STANDARD, read_colour, read_colours


def test_every_standard_code_reads_as_itself_without_a_note() -> None:
    for colour in STANDARD:
        reading = read_colour(colour.code)
        assert (reading.code, reading.words, reading.notes) == (colour.code, colour.word, ())


def test_the_protective_conductor_is_one_colour_word() -> None:
    reading = read_colour("GNYE")
    assert reading.words == "green-and-yellow"
    assert [colour.code for colour in reading.colours] == ["GN", "YE"]
    assert reading.notes == ()


def test_yellow_before_green_is_put_right_with_a_note() -> None:
    reading = read_colour("YEGN")
    assert reading.code == "GNYE"
    assert any("GNYE" in note for note in reading.notes)


def test_lower_case_means_the_same() -> None:
    assert read_colour("rdbu").code == "RDBU"
    assert read_colour("rdbu").notes == ()


def test_the_order_typed_is_kept_for_the_drawing() -> None:
    reading = read_colour("WHGN")
    assert [colour.code for colour in reading.colours] == ["WH", "GN"]
    assert reading.code == "GNWH"
    assert "GNWH" in reading.notes[0]


@pytest.mark.parametrize(("typed", "meant"), [("YW", "YE"), ("BR", "BN"), ("WS", "WH"), ("SW", "BK")])
def test_an_old_spelling_with_one_meaning_is_read_with_a_note(typed: str, meant: str) -> None:
    reading = read_colour(typed)
    assert reading.understood and reading.code == meant
    assert meant in reading.notes[0]


@pytest.mark.parametrize("typed", ["BL", "GR", "BLGR"])
def test_a_spelling_with_two_meanings_is_never_guessed(typed: str) -> None:
    reading = read_colour(typed)
    assert not reading.understood
    assert reading.code == ""
    assert typed in reading.words
    assert "could be" in reading.notes[0]


@pytest.mark.parametrize("typed", ["", "R", "RDX", "red", "QQ"])
def test_what_is_no_code_is_said_not_drawn(typed: str) -> None:
    reading = read_colour(typed)
    assert not reading.understood
    assert reading.code == ""


def test_green_and_yellow_with_a_third_colour_break_the_standard() -> None:
    assert any("IEC 60445" in note for note in read_colour("YEGNBK").notes)


def test_several_wires_are_joined_by_plus() -> None:
    assert [r.code for r in read_colours("BK+BK+BN+BU+GNYE")] == ["BK", "BK", "BN", "BU", "GNYE"]


def test_every_paint_is_a_full_colour_value() -> None:
    assert all(re.fullmatch("#[0-9a-f]{6}", colour.paint) for colour in STANDARD)
    assert len({colour.paint for colour in STANDARD}) == len(STANDARD)


@settings(max_examples=60)
@given(st.lists(st.sampled_from(sorted(BY_CODE)), min_size=2, max_size=2, unique=True))
def test_both_orders_of_two_colours_have_one_standard_code(pair: list[str]) -> None:
    there, back = read_colour("".join(pair)), read_colour("".join(reversed(pair)))
    assert there.code == back.code
    assert read_colour(there.code).notes == ()


@settings(max_examples=60)
@given(st.text(max_size=12))
def test_any_text_at_all_is_read_without_failing(typed: str) -> None:
    reading = read_colour(typed)
    assert reading.understood == bool(reading.code)
