"""Numbers in finished HTML: marked where a reader sees them, left alone in tags, drawings and origins."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.pages.number_sources import number_sources
from benchleaf.source import Source
from benchleaf.told_numbers import MARK, with_numbers_told

SOURCES = number_sources([Source("m/machine.yaml", "mass: 2 kg")])


def told(words: str) -> str:
    return with_numbers_told(f"<main>{words}</main><footer>{MARK}</footer>", "machine/m/index.html", SOURCES)


def test_a_number_in_words_is_marked_and_has_one_row_however_often_it_stands_there() -> None:
    made = told("<p>2 kg, and again 2 kg</p>")
    assert made.count('<data value="2 kg">2 kg</data>') == 2
    assert made.count('data-number="2 kg"') == 1
    assert 'recorded: <span class="place">m/machine.yaml:1</span>' in made


def test_tags_drawings_and_what_already_has_an_origin_are_left_alone() -> None:
    for left in (
        '<img alt="2 kg">',
        "<svg><title>2 kg</title><text>2 kg</text></svg>",
        '<data value="2">2 kg</data>',
        '<span class="origin-slip"><span class="origin">a <span>2 kg</span></span>; <span>2 kg</span></span>',
        "<select><option>2 kg</option></select>",
    ):
        assert told(left) == f"<main>{left}</main><footer></footer>"


def test_the_words_after_an_origin_slip_are_marked_again() -> None:
    assert '</span> <data value="3 min">3 min</data>' in told('<span class="origin-slip"><i>2 kg</i></span> 3 min')


def test_words_that_only_look_like_one_stay_words() -> None:
    for words in ("A1-J1:2 A", "step 2 says so", "M4 screws", "0221 Volta", "v1.2 A"):
        assert "<data" not in told(f"<p>{words}</p>"), words


def test_compound_units_are_taken_whole() -> None:
    assert '<data value="5 m/s">' in told("5 m/s")
    assert told("357.5 V/60 V").count("<data") == 2
    assert '<data value="2.2 ± 0.2 N·m">' in told("2.2 ± 0.2 N·m")
    assert '<data value="220 µF ± 20 %">' in told("220 µF ± 20 %")


def test_nothing_outside_the_page_itself_is_touched() -> None:
    page = "<header>2 kg</header><main><p>none</p></main><footer>2 kg</footer>"
    assert with_numbers_told(page, "index.html", SOURCES) == page


@settings(max_examples=100, deadline=None)
@given(st.text(alphabet="<>&;\"'/ 2kgVN·m±%.-!dataspnl", max_size=60))
def test_no_markup_makes_it_fail_or_lose_a_character(words: str) -> None:
    made = told(words)
    body = made.partition("<footer>")[0]
    assert body.replace("</data>", "").count("2") >= words.count("2")
    assert made.endswith("</footer>")
