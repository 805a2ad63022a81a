"""Arrangement views: outlines lie where the boxes say, hidden edges are dashed, nothing unplaced is left
out.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.drawings.arrangement import WIDTH, Body, arrangement
from benchleaf.drawings.drawing import Drawing

TRAY = Body(id="tray", name="Control tray", box=(0, 0, 0, 200, 100, 20))
BOARD = Body(id="A1", name="Control board", box=(20, 10, 20, 60, 40, 5), marked=True)
COVER = Body(id="cover", name="Cover", box=(0, 0, 60, 200, 100, 2))
MOTOR = Body(id="M1", name="Motor")


def outline(drawing: Drawing, item: str) -> tuple[float, float, float, float]:
    (group,) = [e for e in ET.fromstring(drawing.svg).iter() if e.get("data-item") == item]
    points = re.findall(r"[ML]([\d.-]+) ([\d.-]+)", "".join(e.get("d", "") for e in group))
    xs, ys = [float(x) for x, _ in points], [float(y) for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def dashed(drawing: Drawing, item: str) -> str:
    (group,) = [e for e in ET.fromstring(drawing.svg).iter() if e.get("data-item") == item]
    return "".join(e.get("d", "") for e in group if e.get("stroke-dasharray"))


def test_seen_from_above_the_back_is_up() -> None:
    drawing = arrangement("t", (TRAY, BOARD))
    scale = WIDTH / 200
    assert outline(drawing, "A1") == pytest.approx((20 * scale, 50 * scale, 80 * scale, 90 * scale), abs=0.02)


def test_seen_from_the_front_the_top_is_up() -> None:
    drawing = arrangement("t", (TRAY, BOARD), "front")
    scale = WIDTH / 200
    assert outline(drawing, "A1") == pytest.approx((20 * scale, 0, 80 * scale, 5 * scale), abs=0.02)


def test_what_a_cover_hides_is_dashed() -> None:
    drawing = arrangement("t", (TRAY, BOARD, COVER))
    assert dashed(drawing, "A1") and not dashed(drawing, "cover")
    assert not dashed(arrangement("t", (TRAY, BOARD)), "A1")


def test_items_are_numbered_in_the_order_given_and_named() -> None:
    drawing = arrangement("t", (TRAY, BOARD, MOTOR))
    assert [row[:2] for row in drawing.table.rows] == [
        ("1", "Control tray"),
        ("2", "A1 Control board"),
        ("–", "M1 Motor"),
    ]
    texts = ["".join(e.itertext()) for e in ET.fromstring(drawing.svg).iter() if e.tag.endswith("}text")]
    assert texts.count("1") == 2 and texts.count("2") == 2  # once in its ring, once in the list
    assert "A1 Control board" in texts


def test_an_item_without_a_box_is_named_as_not_placed() -> None:
    drawing = arrangement("t", (TRAY, MOTOR))
    assert "Place not recorded: M1 Motor." in "".join(ET.fromstring(drawing.svg).itertext())
    assert "Place not recorded" in "".join(ET.fromstring(arrangement("t", (MOTOR,)).svg).itertext())
    assert "Place not recorded: every item" in "".join(ET.fromstring(arrangement("t", ()).svg).itertext())


def test_the_marked_item_has_a_thick_line() -> None:
    drawing = arrangement("t", (TRAY, BOARD))
    widths = {
        e.get("data-item"): e[0].get("stroke-width") for e in ET.fromstring(drawing.svg).iter() if e.get("data-item")
    }
    assert float(widths["A1"] or 0) > 2 * float(widths["tray"] or 0)


_BOX = st.tuples(*[st.integers(0, 300)] * 3, *[st.integers(0, 300)] * 3)


@settings(max_examples=40)
@given(st.lists(_BOX, max_size=8), st.sampled_from(["top", "front"]))
def test_any_boxes_stay_inside_the_picture(boxes: list[tuple[int, ...]], view: str) -> None:
    bodies = [Body(id=f"A{n}", box=box) for n, box in enumerate(boxes)]  # type: ignore[arg-type]
    drawing = arrangement("t", bodies, view)  # type: ignore[arg-type]
    root = ET.fromstring(drawing.svg)
    assert len(drawing.table.rows) == len(boxes)
    for item in {e.get("data-item") for e in root.iter() if e.get("data-item")}:
        (group,) = [e for e in root.iter() if e.get("data-item") == item]
        if len(group) and any(e.get("d") for e in group):
            left, top, right, bottom = outline(drawing, str(item))
            assert left >= 0 and top >= 0 and right <= WIDTH + 0.02 and bottom <= WIDTH + 0.02
