"""The small SVG writer: escaped, fixed, and unable to carry a style or a handler."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.drawings import svg
from benchleaf.drawings.lettering import shorten, width_of, wrap
from benchleaf.drawings.marks import SHAPES, label_mark, outline_of


@pytest.mark.parametrize(
    ("value", "written"),
    [(0, "0"), (-0.001, "0"), (1 / 3, "0.33"), (12.50, "12.5"), (1e6, "1000000"), (-2, "-2")],
)
def test_numbers_have_at_most_two_decimals(value: float, written: str) -> None:
    assert svg.number(value) == written


def test_a_style_attribute_or_a_handler_is_refused() -> None:
    for attributes in ({"style": "fill:red"}, {"onload": "x"}):
        with pytest.raises(ValueError):
            svg.element("rect", **attributes)


@settings(max_examples=100)
@given(st.text(st.characters(exclude_categories=("Cc", "Cs")), max_size=20))
def test_any_printable_text_comes_back_as_it_went_in(words: str) -> None:
    clean = words.replace("\ufffe", "\ufffd").replace("\uffff", "\ufffd")
    root = ET.fromstring(svg.document(10, 10, words, words, svg.text(0, 0, words), kind="test"))
    assert [part.text or "" for part in root] == [clean] * 3


@settings(max_examples=60)
@given(st.text(st.characters(categories=("Cc", "Cs")), max_size=8))
def test_control_characters_never_break_the_picture(words: str) -> None:
    ET.fromstring(svg.document(10, 10, words, words, svg.text(0, 0, words), kind="test"))


def test_markup_is_escaped_once() -> None:
    once = svg.text(0, 0, "a & b")
    assert "a &amp; b" in svg.group(once)
    assert "&amp;amp;" not in svg.group(once)


@settings(max_examples=60)
@given(st.text(max_size=40), st.integers(30, 200))
def test_shortened_words_fit(words: str, width: int) -> None:
    assert width_of(shorten(words, width, 12), 12) <= max(width, width_of("…", 12))


@settings(max_examples=60)
@given(st.text(max_size=60), st.integers(30, 200))
def test_wrapped_lines_fit_and_lose_nothing(words: str, width: int) -> None:
    lines = wrap(words, width, 12)
    assert "".join("".join(lines).split()) == "".join(words.split())
    assert all(width_of(line, 12) <= width or len(line) == 1 for line in lines)


@pytest.mark.parametrize("shape", SHAPES)
def test_a_label_mark_says_its_letter_and_shape(shape: str) -> None:
    drawing = label_mark("B", shape)
    assert drawing.title == f"Label mark B, {shape}"
    assert ET.fromstring(drawing.svg).get("role") == "img"


def test_no_two_label_shapes_share_an_outline() -> None:
    assert len({outline_of(shape, 10) for shape in SHAPES}) == len(SHAPES)
