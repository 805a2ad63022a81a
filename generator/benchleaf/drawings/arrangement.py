"""Where things sit in the machine: outlines from above or from the front, every item numbered and named.

Made from the boxes the records give (left-front-bottom corner, x right, y back, z up, in mm). What lies
behind something else is dashed (hidden lines, ISO 128). It is a finding aid, not a drawing of the parts'
shapes.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import Literal, TypeAlias

from benchleaf.drawings import svg
from benchleaf.drawings.drawing import NOT_RECORDED, Drawing, Table, item_words
from benchleaf.drawings.lettering import wrap
from benchleaf.drawings.svg import Markup
from benchleaf.frozen import dataclass

View: TypeAlias = Literal["top", "front"]
WIDTH = 380.0  # units the longer side of the machine takes
MARGIN = 46.0  # for the numbers on both sides
STEP = 26.0  # distance of two numbers
SIZE = 13.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """An item and its box in mm (x, y, z, width, depth, height); ``None`` is "not recorded". ``marked``
    draws it with a thick line: the item this is about."""

    id: str
    name: str = ""
    box: tuple[float, float, float, float, float, float] | None = None
    marked: bool = False


@dataclass(frozen=True, slots=True)
class _Flat:
    """A body in the plane of the view: left, top, right, bottom in drawing units, and its nearness to the
    eye.
    """

    body: Body
    left: float
    top: float
    right: float
    bottom: float
    near: float


def arrangement(title: str, bodies: Iterable[Body], view: View = "top") -> Drawing:
    """The view from above (front at the bottom) or from the front (top at the top); numbers in the order
    given.
    """
    given = tuple(bodies)
    flats = _flatten([body for body in given if body.box], view)
    width = max((flat.right for flat in flats), default=0.0)
    height = max((flat.bottom for flat in flats), default=0.0)
    numbers = {flat.body.id: n + 1 for n, flat in enumerate(flats)}
    across = sorted(flats, key=lambda flat: (flat.left + flat.right, numbers[flat.body.id]))
    left, right = across[: len(across) // 2], across[len(across) // 2 :]
    high = max(height, STEP * max(len(left), len(right)))
    drop = (high - height) / 2
    art = [_outline(flat, flats) for flat in flats]
    art += _balloons(left, numbers, -MARGIN + 14, height / 2)
    art += _balloons(right, numbers, width + MARGIN - 14, height / 2)
    parts: list[Markup] = [svg.moved(MARGIN + 8, 30 + drop, *art)]
    full = max(width + 2 * MARGIN + 16, 300.0)
    seen = {"top": "Seen from above, front of the machine at the bottom", "front": "Seen from the front"}[view]
    parts.append(svg.text(full / 2, 18, seen, size=SIZE, anchor="middle", font_weight="bold"))
    y = 30 + high + 12
    if view == "top" and flats:
        y += 14
        x = MARGIN + 8 + width / 2
        tip = [(x - 34, y - 10), (x - 22, y - 10), (x - 28, y)]
        parts.append(svg.polygon(tip, fill=svg.INK, stroke="none"))
        parts.append(svg.text(x, y, "front", size=SIZE, anchor="middle"))
    lines = [(f"{numbers[flat.body.id]}", item_words(flat.body.id, flat.body.name)) for flat in flats]
    missing = [item_words(body.id, body.name) for body in given if not body.box]
    if missing or not flats:
        lines.append(("", f"Place {NOT_RECORDED}: {', '.join(missing) or 'every item'}."))
    y += 8
    for number, said in lines:
        for n, line in enumerate(wrap(said, full - 52, SIZE)):
            y += 18
            if number and n == 0:
                parts.append(svg.text(30, y, number, size=SIZE, anchor="end", font_weight="bold"))
            parts.append(svg.text(38, y, line, size=SIZE))
    words = f"{seen}. " + " ".join(f"{number}: {said}." if number else said for number, said in lines)
    picture = svg.document(full, y + 12, title, words, *parts, kind="arrangement")
    return Drawing(svg=picture, title=title, description=words, table=_table(title, given, numbers))


def _flatten(bodies: list[Body], view: View) -> list[_Flat]:
    """The bodies' rectangles in drawing units from 0, 0, nearest to the eye known by ``near``."""
    raw = []
    for body in bodies:
        x, y, z, w, d, h = body.box or (0.0,) * 6
        raw.append((body, x, x + w, -(y + d), -y, z + h) if view == "top" else (body, x, x + w, -(z + h), -z, -y))
    if not raw:
        return []
    x0, y0 = min(r[1] for r in raw), min(r[3] for r in raw)
    span = max(max(r[2] for r in raw) - x0, max(r[4] for r in raw) - y0)
    scale = WIDTH / span if span else 1.0
    return [
        _Flat(body, (a - x0) * scale, (c - y0) * scale, (b - x0) * scale, (d - y0) * scale, near)
        for body, a, b, c, d, near in raw
    ]


def _outline(flat: _Flat, flats: list[_Flat]) -> Markup:
    """Four edges, dashed where a nearer body covers them."""
    covers = [other for other in flats if other.near > flat.near]
    seen, hidden = "", ""
    for x1, y1, x2, y2 in (
        (flat.left, flat.top, flat.right, flat.top),
        (flat.left, flat.bottom, flat.right, flat.bottom),
        (flat.left, flat.top, flat.left, flat.bottom),
        (flat.right, flat.top, flat.right, flat.bottom),
    ):
        for start, end, covered in _pieces(x1, y1, x2, y2, covers):
            piece = (
                f"M{svg.number(x1 + (x2 - x1) * start)} {svg.number(y1 + (y2 - y1) * start)}"
                f"L{svg.number(x1 + (x2 - x1) * end)} {svg.number(y1 + (y2 - y1) * end)}"
            )
            hidden, seen = (hidden + piece, seen) if covered else (hidden, seen + piece)
    thick = 3.4 if flat.body.marked else 1.4
    parts = [svg.path(seen, stroke_width=thick, stroke_linecap="square")] if seen else []
    if hidden:
        parts.append(svg.path(hidden, stroke_width=thick * 0.65, stroke_dasharray="5 4"))
    return svg.group(*parts, class_="body body-marked" if flat.body.marked else "body", data_item=flat.body.id)


def _pieces(x1: float, y1: float, x2: float, y2: float, covers: list[_Flat]) -> list[tuple[float, float, bool]]:
    """The shares 0..1 of an edge, each seen or covered."""
    level = y1 == y2
    length = (x2 - x1) if level else (y2 - y1)
    if length <= 0:
        return []
    spans = []
    for cover in covers:
        inside = cover.top < y1 < cover.bottom if level else cover.left < x1 < cover.right
        low, high = (cover.left, cover.right) if level else (cover.top, cover.bottom)
        start, end = max((low - (x1 if level else y1)) / length, 0.0), min((high - (x1 if level else y1)) / length, 1.0)
        if inside and start < end:
            spans.append((start, end))
    cuts = sorted({0.0, 1.0, *(cut for span in spans for cut in span)})
    pieces: list[tuple[float, float, bool]] = []
    for start, end in pairwise(cuts):
        middle = (start + end) / 2
        covered = any(low <= middle <= high for low, high in spans)
        if pieces and pieces[-1][2] == covered:
            pieces[-1] = (pieces[-1][0], end, covered)
        else:
            pieces.append((start, end, covered))
    return pieces


def _balloons(flats: list[_Flat], numbers: dict[str, int], x: float, middle: float) -> list[Markup]:
    """Numbers in rings down one side, each with a line to a dot inside its item, in order of height: none
    cross.
    """
    ordered = sorted(flats, key=lambda flat: (flat.top + flat.bottom, numbers[flat.body.id]))
    parts = []
    for n, flat in enumerate(ordered):
        y = middle + (n - (len(ordered) - 1) / 2) * STEP
        ax, ay = _anchor(flat, x)
        inner = x + (11 if x < 0 else -11)
        parts.append(svg.line(inner, y, ax, ay, stroke_width=0.9))
        parts.append(svg.circle(ax, ay, 2.4, fill=svg.INK, stroke="none"))
        parts.append(svg.circle(x, y, 11, stroke_width=2.6 if flat.body.marked else 1.3))
        parts.append(svg.text(x, y + 4.5, str(numbers[flat.body.id]), size=12.5, anchor="middle", font_weight="bold"))
    return parts


def _anchor(flat: _Flat, x: float) -> tuple[float, float]:
    """A point inside the item near the side its number stands on."""
    reach = min(10.0, (flat.right - flat.left) / 2)
    return (flat.left + reach if x < 0 else flat.right - reach, (flat.top + flat.bottom) / 2)


def _table(title: str, bodies: tuple[Body, ...], numbers: dict[str, int]) -> Table:
    rows = []
    for body in bodies:
        if body.box:
            x, y, z, w, d, h = (svg.number(value) for value in body.box)
            place, size = f"{x} right, {y} back, {z} up", f"{w} × {d} × {h}"
        else:
            place = size = NOT_RECORDED
        rows.append((str(numbers.get(body.id, "–")), item_words(body.id, body.name), place, size))
    headers = ("Number", "Item", "Left front bottom corner, mm", "Width × depth × height, mm")
    return Table(caption=title, headers=headers, rows=tuple(rows))
