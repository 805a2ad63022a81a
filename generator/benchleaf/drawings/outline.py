"""Outlines with rounded corners, as path data."""

from __future__ import annotations

import math

from benchleaf.drawings.svg import number

Point = tuple[float, float]


def rounded(points: list[Point], radius: float) -> str:
    """A closed path through ``points`` whose corners are rounded with at most ``radius``."""
    pieces = []
    for n, corner in enumerate(points):
        before = _towards(corner, points[n - 1], radius)
        after = _towards(corner, points[(n + 1) % len(points)], radius)
        pieces.append(f"{'L' if n else 'M'}{_at(before)}Q{_at(corner)} {_at(after)}")
    return "".join(pieces) + "Z"


def _towards(start: Point, end: Point, distance: float) -> Point:
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = math.hypot(dx, dy)
    share = min(distance / length, 0.5) if length else 0.0
    return (start[0] + dx * share, start[1] + dy * share)


def _at(point: Point) -> str:
    return f"{number(point[0])} {number(point[1])}"
