"""ISO 7010: reference numbers and titles. ISO 3864-1: shape and colour of each kind of sign."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from benchleaf.drawings.safety_sign import BLUE, RED, YELLOW, own_pictogram, safety_sign, sign_title

# ISO 7010, reference number: title.
ISO_7010 = {
    "W001": "General warning sign",
    "W004": "Laser beam",
    "W006": "Magnetic field",
    "W012": "Electricity",
    "W017": "Hot surface",
    "W018": "Automatic start-up",
    "W019": "Crushing",
    "W021": "Flammable material",
    "W022": "Sharp element",
    "W023": "Corrosive substance",
    "W024": "Crushing of hands",
    "W025": "Counterrotating rollers",
    "W041": "Asphyxiating atmosphere",
    "W042": "Arc flash",
    "W079": "Hot content",
    "W080": "Hot steam",
    "M001": "General mandatory action sign",
    "M002": "Refer to instruction manual/booklet",
    "M004": "Wear eye protection",
    "M005": "Connect an earth terminal to the ground",
    "M006": "Disconnect mains plug from electrical outlet",
    "M009": "Wear protective gloves",
    "M016": "Wear a mask",
    "M021": "Disconnect before carrying out maintenance or repair",
    "M056": "Ventilate before and during entering",
    "M068": "Lock moving mechanical parts",
    "P001": "General prohibition sign",
    "P002": "No smoking",
    "P003": "No open flame; Fire, open ignition source and smoking prohibited",
    "P010": "Do not touch",
    "P015": "No reaching in",
}


@pytest.mark.parametrize("number", ISO_7010)
def test_every_sign_has_its_own_pictogram_number_and_title(number: str) -> None:
    assert own_pictogram(number)
    assert sign_title(number) == ISO_7010[number]
    drawing = safety_sign(number)
    lettered = " ".join("".join(t.itertext()) for t in ET.fromstring(drawing.svg).iter() if t.tag.endswith("text"))
    assert number in lettered
    assert "".join(ISO_7010[number].split()) in "".join(lettered.split())
    assert drawing.table.rows[0][0] == number and drawing.table.rows[0][2] == ISO_7010[number]


@pytest.mark.parametrize("number", ISO_7010)
def test_the_colour_follows_the_kind(number: str) -> None:
    # ISO 3864-1 (from memory): yellow for warning, blue for mandatory action, red for prohibition.
    colours = {"W": YELLOW, "M": BLUE, "P": RED}
    drawn = {e.get(key) for e in ET.fromstring(safety_sign(number).svg).iter() for key in ("fill", "stroke")}
    assert {colour for colour in colours.values() if colour in drawn} == {colours[number[0]]}


def test_yellow_covers_at_least_half_of_a_warning_sign() -> None:
    # ISO 3864-1 (from memory): the safety colour covers at least 50 % of the sign. Measured is the yellow field with
    # the pictogram on it.
    (outer, inner) = [
        e.get("d", "")
        for e in ET.fromstring(safety_sign("W001", captioned=False).svg)[2]
        if e.get("stroke") in ("#ffffff", "none") and e.tag.endswith("path")
    ][:2]

    def base(d: str) -> float:
        xs = [float(x) for x, _ in re.findall(r"(-?[\d.]+) (-?[\d.]+)", d)]
        return max(xs) - min(xs)

    assert (base(inner) / base(outer)) ** 2 >= 0.5


def test_prohibition_ring_and_bar_have_the_standards_widths() -> None:
    # ISO 3864-1 (from memory): ring 0.1 d, bar 0.08 d.
    parts = list(ET.fromstring(safety_sign("P001", captioned=False).svg).iter())
    (bar,) = [e for e in parts if e.tag.endswith("line")]
    (ring,) = [e for e in parts if e.tag.endswith("circle") and e.get("stroke") == RED]
    width = float(ring.get("stroke-width", "0"))
    diameter = 2 * float(ring.get("r", "0")) + width
    assert width / diameter == pytest.approx(0.1, abs=0.002)
    assert float(bar.get("stroke-width", "0")) / diameter == pytest.approx(0.08, abs=0.002)
    assert bar.get("x1") == bar.get("y1") and bar.get("x2") == bar.get("y2")  # upper left to lower right
