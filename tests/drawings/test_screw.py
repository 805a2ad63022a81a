"""Screws are drawn to their true size, drives can be told apart, and what is not recorded is said."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from benchleaf.drawings.drawing import Drawing
from benchleaf.drawings.drive import drive_face, read_drive
from benchleaf.drawings.screw import Screw, screw_view

M3 = Screw(name="tray-screw", thread="M3", diameter=3.0, length=8.0, head="pan", drive="PH1")
HEADS = ("hex", "cap", "pan", "button", "countersunk", "flange", "")


def shank(drawing: Drawing) -> tuple[float, float, float]:
    """Left end, right end and width of the thread, in the drawing's units, in the frame of the bearing face."""
    (found,) = [e for e in ET.fromstring(drawing.svg).iter() if e.get("class") == "shank"]
    points = [tuple(map(float, pair.split(","))) for pair in found.get("points", "").split()]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), max(xs), max(ys) - min(ys)


def words_in(drawing: Drawing) -> str:
    return " ".join("".join(e.itertext()) for e in ET.fromstring(drawing.svg).iter() if e.tag.endswith("text"))


@pytest.mark.parametrize("dimensioned", [True, False])
def test_one_unit_is_one_millimetre_on_paper(dimensioned: bool) -> None:
    root = ET.fromstring(screw_view(M3, dimensioned=dimensioned).svg)
    _, _, width, height = root.get("viewBox", "").split()
    assert (root.get("width"), root.get("height")) == (f"{width}mm", f"{height}mm")


@settings(max_examples=40)
@given(st.sampled_from([1.6, 2, 2.5, 3, 4, 5, 6, 8, 10, 12]), st.integers(3, 80), st.sampled_from(HEADS))
def test_length_and_thread_are_exact(diameter: float, length: int, head: str) -> None:
    screw = Screw(name="s", thread=f"M{diameter}", diameter=diameter, length=length, head=head)  # type: ignore[arg-type]
    assume(length > diameter)  # no countersunk screw is shorter than its head is deep
    start, end, width = shank(screw_view(screw))
    assert end == pytest.approx(length, abs=0.01)  # from the bearing face; countersunk: from the top of the head
    assert width == pytest.approx(diameter, abs=0.011)
    assert (start > 0) == (head == "countersunk")


def test_thread_length_head_and_drive_are_lettered() -> None:
    words = words_in(screw_view(M3))
    assert "M3 × 8, pan head, PH1" in words
    assert "8 mm" in words


def test_the_outline_for_a_mat_has_no_lettering() -> None:
    assert words_in(screw_view(M3, dimensioned=False)) == ""


@pytest.mark.parametrize("missing", [{"length": None}, {"diameter": None, "thread": ""}])
def test_a_screw_of_unknown_size_says_that_it_is_not_to_size(missing: dict[str, object]) -> None:
    facts: dict[str, object] = {"thread": "M3", "diameter": 3.0, "length": 8.0, "head": "pan", "drive": "PH1"}
    drawing = screw_view(Screw(name="s", **{**facts, **missing}))  # type: ignore[arg-type]
    assert "not drawn to size" in words_in(drawing)
    assert "Not drawn to size." in drawing.description
    assert "not recorded" in drawing.title
    assert "stroke-dasharray" in drawing.svg


def test_an_unknown_head_or_drive_is_said() -> None:
    drawing = screw_view(Screw(name="s", thread="M3", diameter=3, length=8))
    assert "head not recorded" in words_in(drawing) and "drive not recorded" in words_in(drawing)
    assert "?" in words_in(drawing)


def test_table_and_drawing_hold_the_same_facts() -> None:
    drawing = screw_view(M3)
    facts = dict(drawing.table.rows)
    assert facts["Thread"] == "M3" and facts["Length"] == "8 mm" and facts["Head"] == "pan"
    assert "PH1" in facts["Drive"]


@pytest.mark.parametrize(
    ("written", "form", "size"),
    [
        ("PH1", "PH", "1"),
        ("PZ2", "PZ", "2"),
        ("hex 2.5", "hex", "2.5"),
        ("TX10", "TX", "10"),
        ("slot", "slot", ""),
        ("SQ2", "SQ", "2"),
        ("outer hex 5.5", "outer hex", "5.5"),
        ("none", "none", ""),
        ("", "", ""),
        ("three wings", "", ""),
    ],
)
def test_drives_are_read_as_written(written: str, form: str, size: str) -> None:
    drive = read_drive(written)
    assert (drive.form, drive.size) == (form, size)


def test_no_two_drives_look_alike() -> None:
    drives = ("PH1", "PZ1", "hex 2.5", "TX10", "slot", "SQ2", "outer hex 5.5", "none", "three wings")
    art = {re.sub(r"<text.*?</text>", "", drive_face(d).svg.split("</desc>")[1]) for d in drives[:-1]}
    assert len(art) == len(drives) - 1
    assert "?" in words_in(screw_view(Screw(name="s", drive="three wings")))


def test_the_name_of_the_drive_is_lettered_under_its_face() -> None:
    assert words_in(drive_face("hex 2.5")) == "hex 2.5"
    assert "not recorded" in drive_face("").title


def test_a_hexagon_socket_is_drawn_to_size() -> None:
    screw = Screw(name="s", thread="M4", diameter=4, length=10, head="cap", drive="hex 3")
    root = ET.fromstring(screw_view(screw, dimensioned=False).svg)
    (socket,) = [e for e in root.iter() if e.tag.endswith("polygon") and e.get("fill") == "currentColor"]
    xs = [float(p.split(",")[0]) for p in socket.get("points", "").split()]
    assert max(xs) - min(xs) == pytest.approx(3.0, abs=0.02)  # corners up: the flats are left and right
