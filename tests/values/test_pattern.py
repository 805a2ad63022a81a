"""The tightening pattern is drawn from recorded places and order, and from nothing else."""

from __future__ import annotations

import re
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from tests.values.sets import set_of

from benchleaf.drawings.drawing import Drawing
from benchleaf.values.pattern import RADIUS, tightening_pattern

_FOUR = "at: [[0, 0, 5], [100, 0, 5], [0, 60, 5], [100, 60, 5]]"


def drawn(keys: str, count: int = 4) -> Drawing | None:
    return tightening_pattern(set_of(keys, count)[0], "Tightening order of lid.screws")


def circles(svg: str) -> list[tuple[float, float, str]]:
    """Middle of each circle with the number in it."""
    root = ElementTree.fromstring(svg)
    name = "{http://www.w3.org/2000/svg}"
    middles = [(float(one.get("cx", "")), float(one.get("cy", ""))) for one in root.iter(f"{name}circle")]
    words = {(float(t.get("x", "")), float(t.get("y", ""))): t.text or "" for t in root.iter(f"{name}text")}
    return [(x, y, next((w for (a, b), w in words.items() if a == x and abs(b - y) < RADIUS), "")) for x, y in middles]


def test_the_order_names_the_places_in_the_order_they_are_tightened() -> None:
    made = drawn(f"sequence: [4, 1, 3, 2], {_FOUR}")
    assert made is not None
    by_turn = {word: (x, y) for x, y, word in circles(made.svg)}
    assert by_turn["1"][0] > by_turn["2"][0] and by_turn["1"][1] < by_turn["2"][1]  # right back before left front
    assert made.table.rows[0] == ("1", "4", "right back", "100, 60, 5 mm")
    assert made.description.endswith("Tighten 1 right back, 2 left front, 3 left back, 4 right front.")


def test_the_front_is_at_the_bottom_seen_from_above() -> None:
    made = drawn(f"sequence: [1, 2, 3, 4], {_FOUR}")
    assert made is not None and "Seen from above" in made.description
    by_turn = {word: y for _, y, word in circles(made.svg)}
    assert by_turn["1"] > by_turn["3"]


@pytest.mark.parametrize(
    ("places", "words"),
    [
        ("at: [[0, 7, 0], [100, 7, 0], [0, 7, 60], [100, 7, 60]]", "Seen from the front"),
        ("at: [[9, 0, 0], [9, 100, 0], [9, 0, 60], [9, 100, 60]]", "Seen from the right"),
    ],
)
def test_the_side_is_the_one_from_which_the_screws_lie_apart(places: str, words: str) -> None:
    made = drawn(f"sequence: [1, 4, 2, 3], {places}")
    assert made is not None and made.description.startswith(words)
    assert len({(x, y) for x, y, _ in circles(made.svg)}) == 4


def test_crosswise_draws_the_places_and_invents_no_numbers() -> None:
    made = drawn(f"sequence: cross, {_FOUR}")
    assert made is not None
    assert [word for _, _, word in circles(made.svg)] == ["", "", "", ""]
    assert "crosswise" in made.description


@pytest.mark.parametrize("keys", ["sequence: [1, 2, 3, 4]", _FOUR, "head: cap"])
def test_without_places_or_order_nothing_is_drawn(keys: str) -> None:
    assert drawn(keys) is None


def test_circles_of_close_screws_do_not_touch() -> None:
    made = drawn("sequence: [1, 3, 2], at: [[0, 0, 0], [8, 0, 0], [80, 0, 0]]", count=3)
    assert made is not None
    xs = sorted(x for x, _, _ in circles(made.svg))
    assert min(b - a for a, b in pairwise(xs)) > 2 * RADIUS


def test_the_drawing_stays_within_its_frame() -> None:
    made = drawn(f"sequence: [1, 4, 2, 3], {_FOUR}")
    assert made is not None
    found = re.search(r'viewBox="0 0 ([0-9.]+) ([0-9.]+)"', made.svg)
    assert found is not None
    width, height = float(found[1]), float(found[2])
    assert all(RADIUS <= x <= width - RADIUS and RADIUS <= y <= height - RADIUS for x, y, _ in circles(made.svg))
