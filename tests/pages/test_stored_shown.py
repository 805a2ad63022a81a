"""What a step that discharges says of bleeding: a time only where no plug lies in the path, else that it is unknown."""

from __future__ import annotations

import pytest
from tests.values.test_stored_of_energy import built_of

from benchleaf.pages.book import Book
from benchleaf.pages.sentences import plain
from benchleaf.pages.stored_shown import bleed_sentences

STORE = '[{{in: PS1, between: [PS1.+, "PS1.-"], capacitance: 100 uF, voltage: 325 V DC, discharge: Probe across, {}}}]'


def said(bleed: str) -> str:
    _, derived = built_of(STORE.format(bleed))
    mbook = Book(derived).machine("m")
    (store,) = mbook.record.energy["mains"].stored or ()
    return plain(bleed_sentences(mbook, "mains", store)).removeprefix(". ")


def test_a_resistor_at_the_charge_itself_gives_a_time_and_the_measurement() -> None:
    # 409.5 kΩ · 120 µF · ln(357.5 V/60 V) = 87.7 s, worked out by hand
    text = said('bleed: {resistance: 390 kohm ± 5 %, between: [PS1.+, "PS1.-"]}')
    assert text == "By its bleed path: wait 88 s, then measure at PS1:+ and PS1:-: not above 60 V DC"


def test_a_path_over_plugs_gives_no_time_for_a_step_before_may_have_opened_them() -> None:
    text = said("bleed: {resistance: 390 kohm, between: [A1.a, A1.b]}")
    assert text.startswith("Time unknown: discharge and measure at PS1:+ and PS1:-: not above 60 V DC")
    assert "W1 at PS1-J2 and W1 at A1-J1" in text
    assert "wait" not in text


@pytest.mark.parametrize(
    ("bleed", "words"),
    [
        ("bleed: none", "It does not discharge by itself"),
        ("kind: battery", "A battery has no waiting time"),
        ("kind: capacitor", "Time unknown: discharge and measure at PS1:+ and PS1:-"),
    ],
)
def test_without_a_known_path_there_is_no_time(bleed: str, words: str) -> None:
    text = said(bleed)
    assert text.startswith(words)
    assert "wait " not in text
