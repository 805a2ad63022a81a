"""Where each contact of a face is drawn, on the side that is seen. Pure arithmetic: no picture yet.

Lengths are drawing units (one is a CSS pixel at natural size), origin at the top left of the connector's
inside.
"""

from __future__ import annotations

import math
from typing import Literal, TypeAlias

from benchleaf.drawings.face_values import EMPTY, Face
from benchleaf.frozen import dataclass

PITCH = 46.0
CLOSE_PITCH = 32.0  # for more than MANY columns, so that a long connector stays legible on a phone
MANY = 8
GLYPH = 13.0  # radius of a contact's ring
Edge: TypeAlias = Literal["top", "bottom", "round", ""]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """One place of a face: the middle of its ring, where it is in words, and on which edge its label goes."""

    name: str
    x: float
    y: float
    where: str
    edge: Edge

    @property
    def empty(self) -> bool:
        return self.name == EMPTY


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """All places in reading order with the size of the inside of the body. ``pitch`` is the column
    distance.
    """

    places: tuple[Place, ...]
    width: float
    height: float
    pitch: float


def lay_out(face: Face, *, pitch: float, cell: float) -> Layout:
    """Places of ``face`` as seen; ``cell`` is the height one contact takes with its colour and code under
    it.
    """
    if face.arrangement == "circular" and face.placed:
        return _rings(face, pitch=pitch, cell=cell)
    if face.arrangement == "rows in a circle" and face.placed:
        return _rows_in_a_circle(face, pitch=pitch, cell=cell)
    rows = face.seen_rows()
    longest = max((len(row) for row in rows), default=0)
    places = []
    for r, row in enumerate(rows):
        start = (longest - len(row)) / 2 if face.arrangement == "D-shape" else 0.0
        for c, name in enumerate(row):
            places.append(
                Place(
                    name=name,
                    x=(start + c + 0.5) * pitch,
                    y=r * cell + GLYPH + 3,
                    where=_in_row(r, len(rows), c),
                    edge=_edge(r, len(rows)),
                )
            )
    width = max(longest, 1) * pitch
    return Layout(places=tuple(places), width=width, height=max(len(rows), 1) * cell, pitch=pitch)


def _edge(row: int, rows: int) -> Edge:
    """A single row is labelled below, away from the latch; two rows on both sides; inner rows only in the
    table.
    """
    if row == rows - 1:
        return "bottom"
    return "top" if row == 0 else ""


def _in_row(row: int, rows: int, column: int) -> str:
    across = f"{ordinal(column + 1)} from the left"
    if rows == 1:
        return across
    if rows == 2:
        return f"{('upper', 'lower')[row]} row, {across}"
    return f"row {row + 1} of {rows} from the top, {across}"


def _rings(face: Face, *, pitch: float, cell: float) -> Layout:
    """Rings round the middle, the key at the top: clockwise on the mating side, the other way on the wire
    side.
    """
    rings = face.mating_rows()
    turn = 1.0 if face.side == "mating" else -1.0
    step = max(pitch, cell) + 4
    radius = 0.0
    radii: list[float] = []
    for ring in reversed(rings):
        needs = 0.0 if len(ring) == 1 else len(ring) * step / math.tau
        radius = max(needs, radius + step if radii else needs)
        radii.append(radius)
    radii.reverse()
    reach = max(radii, default=0.0) + max(pitch, cell) / 2 + 4
    places: list[Place] = []
    for r, ring in enumerate(rings):
        seen = []
        for n, name in enumerate(ring):
            angle = turn * (n + 0.5) * math.tau / len(ring)
            x, y = radii[r] * math.sin(angle), -radii[r] * math.cos(angle)
            clockwise = n + 1 if face.side == "mating" else len(ring) - n
            where = "in the middle" if radii[r] == 0 else f"{ordinal(clockwise)} clockwise from the key"
            if len(rings) > 1 and radii[r] > 0:
                where = f"{_ring_words(r, len(rings))}, {where}"
            lift = cell / 2 - GLYPH - 3  # the ring stands above the middle of its cell
            seen.append(Place(name=name, x=reach + x, y=reach + y - lift, where=where, edge="round" if r == 0 else ""))
        places += seen if face.side == "mating" else reversed(seen)
    return Layout(places=tuple(places), width=2 * reach, height=2 * reach, pitch=pitch)


def _rows_in_a_circle(face: Face, *, pitch: float, cell: float) -> Layout:
    """Rows as they are seen, each in the middle of its height, in the least circle that holds them all."""
    rows = face.seen_rows()
    step = max(pitch, cell)
    middles = [
        ((c - (len(row) - 1) / 2) * pitch, (r - (len(rows) - 1) / 2) * step)
        for r, row in enumerate(rows)
        for c in range(len(row))
    ]
    reach = max((math.hypot(x, y) for x, y in middles), default=0.0) + step / 2 + 4
    outside = reach - step / 2 - 4
    lift = cell / 2 - GLYPH - 3  # as on a ring
    names = [(name, _in_row(r, len(rows), c)) for r, row in enumerate(rows) for c, name in enumerate(row)]
    places = tuple(
        Place(
            name=name,
            x=reach + x,
            y=reach + y - lift,
            where=where,
            edge="round" if math.hypot(x, y) > outside * 0.6 else "",
        )
        for (name, where), (x, y) in zip(names, middles, strict=True)
    )
    return Layout(places=places, width=2 * reach, height=2 * reach, pitch=pitch)


def _ring_words(ring: int, rings: int) -> str:
    return "outer ring" if ring == 0 else f"ring {ring + 1} of {rings} from outside"


def ordinal(n: int) -> str:
    """``1st``, ``2nd``, ``11th``."""
    if n % 100 in (11, 12, 13):
        return f"{n}th"
    return f"{n}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(n % 10, 'th') }"
