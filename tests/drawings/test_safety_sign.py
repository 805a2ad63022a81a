"""Safety signs: a number without a picture is never drawn as something milder, and its text still says what it is."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest

from benchleaf.drawings.action_pictograms import MANDATORY, PROHIBITIONS
from benchleaf.drawings.safety_sign import TITLES, alert_symbol, own_pictogram, safety_sign
from benchleaf.drawings.warning_pictograms import WARNINGS


def art(number: str) -> str:
    return safety_sign(number, captioned=False).svg.split("</desc>")[1]


@pytest.mark.parametrize(("number", "general"), [("W089", "W001"), ("M008", "M001"), ("P080", "P001")])
def test_a_known_number_without_picture_gets_the_general_sign_and_its_own_title(number: str, general: str) -> None:
    assert not own_pictogram(number)
    assert art(number) == art(general)
    assert TITLES[number] in safety_sign(number).title
    assert "general" in safety_sign(number).description


@pytest.mark.parametrize("number", ["", "Z9", "W999", "electricity", "<b>"])
def test_an_unknown_number_is_a_general_warning_with_the_number_as_typed(number: str) -> None:
    assert art(number) == art("W001")
    drawing = safety_sign(number)
    assert number in "".join(ET.fromstring(drawing.svg).itertext())
    assert "not recorded" in drawing.title


def test_no_two_pictograms_are_the_same_drawing() -> None:
    numbers = [*WARNINGS, *MANDATORY, *PROHIBITIONS]
    assert len({art(number) for number in numbers}) == len(numbers)


def test_every_pictogram_has_a_title() -> None:
    assert {*WARNINGS, *MANDATORY, *PROHIBITIONS} <= set(TITLES)


@pytest.mark.parametrize("captioned", [True, False])
def test_signs_carry_title_and_no_style(captioned: bool) -> None:
    for number in TITLES:
        drawing = safety_sign(number, captioned=captioned)
        root = ET.fromstring(drawing.svg)
        assert root[0].text == drawing.title == f"{number} {TITLES[number]}"
        assert not any("style" in e.attrib or "id" in e.attrib for e in root.iter())


def test_the_alert_symbol_is_drawn_in_page_ink() -> None:
    root = ET.fromstring(alert_symbol().svg)
    assert {e.get("fill") for e in root.iter() if e.get("fill")} == {"currentColor"}
    assert root[0].text == "Safety alert symbol"
