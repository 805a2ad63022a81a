"""'Did you mean': near names are found, far ones and other designations are not, always in the same order."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.suggest import closest

NAMES = [
    "rear-guard",
    "front-guard",
    "top-cover",
    "control-tray",
    "tray-screw",
    "A1",
    "A2",
    "A1-J3",
    "A1-J4",
    "mk1",
    "mk2",
]


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("rear-gard", "rear-guard"),
        ("raer-guard", "rear-guard"),
        ("rear_guard", "rear-guard"),
        ("Rear Guard", "rear-guard"),
        ("REARGUARD", "rear-guard"),
        ("rear.guard", "rear-guard"),
        ("topcover", "top-cover"),
        ("top-covr", "top-cover"),
        ("controll-tray", "control-tray"),
        ("tray-scerw", "tray-screw"),
        ("a1", "A1"),
        ("A1J3", "A1-J3"),
        ("MK1", "mk1"),
    ],
)
def test_a_slip_finds_the_name_meant(word: str, meant: str) -> None:
    assert closest(word, NAMES) == (meant,)


@pytest.mark.parametrize("word", ["A3", "A1-J5", "A1-J33", "A11-J3", "mk3", "J1", "", "x", "belt", "guard", "trays"])
def test_another_number_or_a_far_word_finds_nothing(word: str) -> None:
    assert closest(word, NAMES) == ()


def test_a_name_is_not_suggested_for_itself() -> None:
    assert closest("top-cover", NAMES) == ()


def test_the_nearest_comes_first_and_equals_by_name() -> None:
    names = ["cover-b", "cover-a", "covert", "Cover", "clover"]
    assert closest("cover", names, limit=9) == ("Cover", "clover", "cover-a", "cover-b", "covert")
    assert closest("cover", reversed(names), limit=2) == ("Cover", "clover")


def _distance(a: str, b: str) -> int:
    """The definition, written out: the fewest single steps, each letter touched once."""
    if not a or not b:
        return len(a) + len(b)
    best = min(_distance(a[1:], b) + 1, _distance(a, b[1:]) + 1, _distance(a[1:], b[1:]) + (a[0] != b[0]))
    if len(a) > 1 and len(b) > 1 and a[0] == b[1] and a[1] == b[0]:
        best = min(best, _distance(a[2:], b[2:]) + 1)
    return best


letters = st.text("abc", min_size=1, max_size=6)


@settings(max_examples=200, deadline=None)
@given(letters, letters)
def test_what_is_suggested_is_what_the_definition_says(word: str, name: str) -> None:
    reach = 0 if len(word) < 4 else 1 if len(word) < 6 else 2
    assert (closest(word, [name]) == (name,)) == (word != name and _distance(word, name) <= reach)


@settings(max_examples=100, deadline=None)
@given(st.text(max_size=20), st.lists(st.text(max_size=20), max_size=8))
def test_any_text_gets_an_answer_from_the_candidates(word: str, names: list[str]) -> None:
    found = closest(word, names, limit=3)
    assert set(found) <= set(names) - {word}
    assert len(found) <= 3
    assert found == closest(word, sorted(names), limit=3)


def test_ten_thousand_names_are_looked_through_without_measuring_each(monkeypatch: pytest.MonkeyPatch) -> None:
    from benchleaf import suggest

    dice = random.Random(1)
    names = ["".join(dice.choice("abcdefghiklmnoprstu-") for _ in range(dice.randint(4, 16))) for _ in range(10_000)]
    measured = []
    real = suggest._distance
    monkeypatch.setattr(suggest, "_distance", lambda *values: measured.append(1) or real(*values))
    assert closest("rear-gard", [*names, "rear-guard"]) == ("rear-guard",)
    assert len(measured) < 1_500
