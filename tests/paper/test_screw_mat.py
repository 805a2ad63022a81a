"""Screws on the mat: to size on a rendering, look-alikes flagged, nothing passed off as to size."""

from __future__ import annotations

import numpy
import pytest
from tests.paper.sheets import MM_PER_INCH, demo_sheet, ink_of, made_subject, pictures_of

from benchleaf.paper import screw_mat
from benchleaf.paper.sheet import Sheet

DPI = 600
WITHIN = 0.2
LINE = 0.35
"""Millimetres of the outline, half of which lies outside on each side."""


def machine(fasteners: str, held: str) -> dict[str, str]:
    return {
        "shop.yaml": "record: shop\n",
        "lc/machine.yaml": (
            f"record: machine\nid: lc\nname: Plover\nfasteners:\n{fasteners}items:\n  frame: Frame\n"
            f"  lid: {{name: Lid, behind: [], held-by: {held}, comes-off: [lift up], rests: any time}}\n"
        ),
        "lc/teardown/open.yaml": (
            "record: teardown\nid: open\ntitle: Open it\nmachine: lc\nsteps:\n"
            "  - title: Take the screws out\n    do: [remove: lid]\n"
        ),
    }


def side_view(sheet: Sheet) -> tuple[float, float]:
    """Length and height in mm of the ink of the first drawing on the mat, head and shank, as rendered.

    The drawing is the first block of rows below the head of the first tray; its side view ends at the first gap.
    """
    page = ink_of(pictures_of(sheet, DPI)[0])

    def px(mm: float) -> int:
        return round(mm * DPI / MM_PER_INCH)

    tray = page[px(52) : px(120), px(19.2) : px(104)]  # inside the frame of the first tray, left half of the sheet
    rows = tray.any(axis=1)
    blocks = runs(rows, px(0.8))
    head = next(n for n, (a, b) in enumerate(blocks) if b - a > px(7))  # number, words and tick box
    top, bottom = blocks[head + 1]
    columns = tray[top:bottom].any(axis=0)
    left, right = runs(columns, px(1.5))[0]
    inner = tray[top:bottom, left:right].any(axis=1).nonzero()[0]
    return (right - left) * MM_PER_INCH / DPI - LINE, (inner[-1] - inner[0] + 1) * MM_PER_INCH / DPI - LINE


def runs(line: numpy.ndarray, gap: int) -> list[tuple[int, int]]:
    """The stretches of ink, those nearer than ``gap`` to one another as one."""
    places = line.nonzero()[0]
    made: list[list[int]] = []
    for place in places:
        if made and place - made[-1][1] <= gap:
            made[-1][1] = int(place) + 1
        else:
            made.append([int(place), int(place) + 1])
    return [(a, b) for a, b in made]


@pytest.mark.parametrize(
    ("thread", "length", "head_high", "head_wide"),
    [
        # ISO 4762:2004 table 1: head height k = thread diameter d (M5: 5.00, M8: 8.00); head diameter of the drawing
        # is 1.75 d (M5: 8.5 and M8: 13.0 in the standard: a proportion, not a size somebody may rely on).
        ("M5", 12, 5.0, 8.75),
        ("M8", 30, 8.0, 14.0),
        ("M3", 6, 3.0, 5.25),
    ],
)
def test_a_screw_is_drawn_to_size(thread: str, length: int, head_high: float, head_wide: float) -> None:
    fastener = f"  s: {{thread: {thread}, length: {length} mm, head: cap, drive: hex 4}}\n"
    long, high = side_view(screw_mat.sheet(made_subject(machine(fastener, "{s: 2}"), "open")))
    assert abs(long - (head_high + length)) <= WITHIN
    assert abs(high - head_wide) <= WITHIN


def test_what_is_not_recorded_is_not_passed_off_as_to_size() -> None:
    subject = made_subject(machine("  s: {thread: M4, drive: PH2}\n", "{s: 2}"), "open")
    (tray,) = screw_mat.sheet(subject).data["parts"][0]["of"]
    assert "NOT DRAWN TO SIZE" in tray["said"]


def test_look_alikes_are_flagged_in_both_trays() -> None:
    fasteners = (
        "  short: {thread: M3, length: 6 mm, head: pan, drive: PH1}\n"
        "  long: {thread: M3, length: 8 mm, head: pan, drive: PH1}\n"
        "  other: {thread: M5, length: 8 mm, head: cap, drive: hex 4}\n"
    )
    subject = made_subject(machine(fasteners, "{short: 2, long: 2, other: 1}"), "open")
    trays = {tray["what"]: tray["warnings"] for tray in screw_mat.sheet(subject).data["parts"][0]["of"]}
    assert {what: len(said) for what, said in trays.items()} == {"short screws": 1, "long screws": 1, "other screw": 0}


def test_a_tray_says_how_many_and_where_they_came_out() -> None:
    trays = demo_sheet("fp420", "replace-main-board", "screw-mat", "mk1").data["parts"][0]["of"]
    found = {tray["step"]: tray["count"] for tray in trays}
    assert found["from Rear plate, step 4 of draw-tray"] == "6"
