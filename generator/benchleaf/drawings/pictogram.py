"""The pen the safety pictograms are drawn with: round strokes and solid shapes in one colour on a 100 by
100 field.

All art is our own. ``ink`` is the colour of the pictogram, ``ground`` that of the sign behind it (used to
cut light lines into dark shapes).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TypeAlias

from benchleaf.drawings import svg
from benchleaf.drawings.svg import Markup
from benchleaf.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Pen:
    """Draws in ``ink``; the ``cut_`` words draw in the colour behind."""

    ink: str
    ground: str

    def stroke(self, d: str, width: float = 3.0) -> Markup:
        """A line with round ends."""
        return _stroke(d, width, self.ink)

    def cut(self, d: str, width: float = 2.0) -> Markup:
        """A line in the ground colour, through a solid shape."""
        return _stroke(d, width, self.ground)

    def solid(self, d: str) -> Markup:
        return svg.path(d, fill=self.ink, stroke="none")

    def cut_solid(self, d: str) -> Markup:
        return svg.path(d, fill=self.ground, stroke="none")

    def dot(self, x: float, y: float, radius: float) -> Markup:
        return svg.circle(x, y, radius, fill=self.ink, stroke="none")

    def cut_dot(self, x: float, y: float, radius: float) -> Markup:
        return svg.circle(x, y, radius, fill=self.ground, stroke="none")

    def ring(self, x: float, y: float, radius: float, width: float = 3.0) -> Markup:
        return svg.circle(x, y, radius, stroke=self.ink, stroke_width=width)

    def block(self, x: float, y: float, width: float, height: float, round_: float = 1.0) -> Markup:
        return svg.rect(x, y, width, height, rx=round_, fill=self.ink, stroke="none")

    def arrow(self, x1: float, y1: float, x2: float, y2: float, width: float = 3.0) -> Markup:
        """A straight arrow; its head is about three strokes wide."""
        length = math.hypot(x2 - x1, y2 - y1)
        ux, uy = (x2 - x1) / length, (y2 - y1) / length
        long, half = width * 2.2, width * 1.6
        bx, by = x2 - ux * long, y2 - uy * long
        head = [(x2, y2), (bx - uy * half, by + ux * half), (bx + uy * half, by - ux * half)]
        shaft = svg.line(x1, y1, bx, by, stroke=self.ink, stroke_width=width)
        return svg.group(shaft, svg.polygon(head, fill=self.ink, stroke="none"))

    def gear(self, x: float, y: float, radius: float, teeth: int = 8) -> Markup:
        """A toothed wheel with a hole; ``radius`` to the tip of the teeth."""
        parts = [self.ring(x, y, radius * 0.58, radius * 0.36)]
        for n in range(teeth):
            angle = math.tau * n / teeth
            ux, uy = math.sin(angle), -math.cos(angle)
            parts.append(
                svg.line(
                    x + ux * radius * 0.7,
                    y + uy * radius * 0.7,
                    x + ux * radius,
                    y + uy * radius,
                    stroke=self.ink,
                    stroke_width=radius * 0.3,
                )
            )
        return svg.group(*parts)

    def hand(self, x: float, y: float, scale: float, turned: float = 0.0, *, thumb: int = 1) -> Markup:
        """An open hand, wrist at ``x``, ``y``, fingers up before it is ``turned`` (degrees clockwise).

        ``thumb`` is 1 with the thumb on the right, -1 on the left.
        """
        fingers = [(-7.5, -30), (-2.6, -34), (2.4, -33), (7.2, -28)]
        parts = [_stroke(f"M{fx * 0.9} -16L{fx} {fy}", 4.4, self.ink) for fx, fy in fingers]
        parts.append(svg.path("M-9.6 -18H9.4V-7Q9 -2 6 0V8H-6V0Q-9 -3 -9.6 -8Z", fill=self.ink, stroke="none"))
        parts.append(_stroke("M7 -6Q13 -10 15 -19", 4.6, self.ink))
        flip = " scale(-1 1)" if thumb < 0 else ""
        move = f"translate({svg.number(x)} {svg.number(y)}) rotate({svg.number(turned)}) scale({svg.number(scale)})"
        return svg.group(*parts, transform=move + flip)

    def flame(self, x: float, y: float, scale: float) -> Markup:
        """A flame whose foot is at ``x``, ``y``; 40 high at scale 1."""
        outer = svg.path(
            "M1 -42C4 -31 15 -26 15 -13A15 13 0 0 1 -15 -13"
            "C-15 -21 -9 -24 -8 -31C-4 -29 -3 -26 -3 -23C1 -28 3 -34 1 -42Z",
            fill=self.ink,
            stroke="none",
        )
        inner = svg.path("M1 -20C2 -14 8 -13 8 -8A7 6 0 0 1 -6 -8C-6 -12 0 -14 1 -20Z", fill=self.ground, stroke="none")
        return svg.moved(x, y, outer, inner, scale=scale)


def _stroke(d: str, width: float, colour: str) -> Markup:
    return svg.path(d, stroke=colour, stroke_width=width, stroke_linecap="round", stroke_linejoin="round")


Pictogram: TypeAlias = Callable[[Pen], Markup]
