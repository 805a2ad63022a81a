"""The mark on a cable's label: a letter inside a shape, told apart by both and never by colour."""

from __future__ import annotations

import math

from benchleaf.drawings import svg
from benchleaf.drawings.drawing import Drawing, Table
from benchleaf.drawings.outline import Point
from benchleaf.drawings.svg import Markup

SHAPES = ("circle", "square", "triangle", "diamond", "pentagon", "hexagon", "star", "shield")


def outline_of(shape: str, radius: float) -> tuple[Point, ...]:
    """The corners of ``shape`` round the origin; empty for a circle. An unknown shape raises
    ``ValueError``.
    """
    if shape == "circle":
        return ()
    if shape == "square":
        return _regular(4, radius * 1.12, 45)
    if shape == "triangle":
        return _regular(3, radius * 1.35, 0, drop=radius * 0.22)
    if shape == "diamond":
        return _regular(4, radius * 1.25, 0)
    if shape == "pentagon":
        return _regular(5, radius * 1.12, 0)
    if shape == "hexagon":
        return _regular(6, radius * 1.1, 30)
    if shape == "star":
        outer, inner = _regular(6, radius * 1.35, 0), _regular(6, radius * 0.86, 30)
        return tuple(point for pair in zip(outer, inner, strict=True) for point in pair)
    if shape == "shield":
        r = radius
        return ((-r, -r), (r, -r), (r, r * 0.35), (0, r * 1.2), (-r, r * 0.35))
    raise ValueError(f"no label shape '{shape}'; there are {', '.join(SHAPES)}")


def _regular(corners: int, radius: float, turned: float, *, drop: float = 0.0) -> tuple[Point, ...]:
    return tuple(
        (
            radius * math.sin(math.radians(turned + n * 360 / corners)),
            drop - radius * math.cos(math.radians(turned + n * 360 / corners)),
        )
        for n in range(corners)
    )


def mark_glyph(letter: str, shape: str, x: float, y: float, radius: float = 13) -> Markup:
    """The mark with its middle at ``x``, ``y``."""
    corners = outline_of(shape, radius)
    frame = svg.polygon(corners, stroke_width=2) if corners else svg.circle(0, 0, radius, stroke_width=2)
    size = radius * (1.15 if len(letter) == 1 else 0.9)
    drop = radius * 0.2 if shape == "triangle" else 0.0
    word = svg.text(0, size * 0.36 + drop, letter, size=size, anchor="middle", font_weight="bold")
    return svg.moved(x, y, frame, word, class_="mark")


def label_mark(letter: str, shape: str) -> Drawing:
    """The mark alone, 40 by 40, with its words."""
    words = f"Label mark {letter}, {shape}"
    picture = svg.document(
        40, 40, words, f"The letter {letter} in a {shape}.", mark_glyph(letter, shape, 20, 20), kind="mark"
    )
    table = Table(caption=words, headers=("Letter", "Shape"), rows=((letter, shape),))
    return Drawing(svg=picture, title=words, description=f"The letter {letter} in a {shape}.", table=table)
