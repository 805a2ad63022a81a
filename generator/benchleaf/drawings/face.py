"""Connector face views: what a technician sees when looking at a connector, from a side the drawing always
names.

``face_view`` draws one half from one side, ``mating_pair`` both halves as they face the reader before they
are plugged. The wire side is the mating side with left and right changed over; contact 1 is shown by a
square, a pointer and words.
"""

from __future__ import annotations

from dataclasses import replace

from benchleaf.drawings import svg
from benchleaf.drawings.drawing import Drawing, Table
from benchleaf.drawings.face_art import Painted, paint
from benchleaf.drawings.face_layout import Place, lay_out
from benchleaf.drawings.face_values import Contact, Face, counterpart, seen_from
from benchleaf.drawings.face_words import describe, heading, side_words, tabulate
from benchleaf.drawings.lettering import wrap

__all__ = ["Contact", "Face", "counterpart", "face_view", "mating_pair", "places_of", "seen_from"]

MARGIN = 8.0
HALF_WIDTH = 232.0
BESIDE = 560.0  # two faces wider than this together stand one above the other


def places_of(face: Face) -> tuple[Place, ...]:
    """Every place of the face as seen, in reading order, with its words; positions in units of one column."""
    return lay_out(face, pitch=1.0, cell=1.0).places


def face_view(face: Face) -> Drawing:
    """One half of a connector seen from ``face.side``."""
    places = places_of(face)
    painted = paint(face)
    title = f"{heading(face)}: {side_words(face)}"
    words = describe(face, places)
    picture = svg.document(
        painted.width + 2 * MARGIN,
        painted.height + 2 * MARGIN,
        title,
        words,
        svg.moved(MARGIN, MARGIN, painted.markup),
        kind="face",
    )
    return Drawing(svg=picture, title=title, description=words, table=tabulate(face, places))


def mating_pair(plug: Face, receptacle: Face) -> Drawing:
    """Both halves, each on its mating side, side by side; wide ones one above the other.

    A sentence says whether the two recorded faces meet, contact for contact (one is the other with left and
    right changed over).
    """
    halves = tuple(replace(face, side="mating") for face in (plug, receptacle))
    painted = tuple(paint(face, least=HALF_WIDTH) for face in halves)
    title = f"{plug.name}: plug and receptacle, both on the mating side"
    meeting = meeting_words(*halves)
    words = " ".join([meeting, *(describe(face, places_of(face)) for face in halves)])
    placed, width, height = _arrange(painted)
    lines = wrap(meeting, width - 16, 13)
    note = svg.group(*(svg.text(8, height + 18 + 17 * n, line, font_weight="bold") for n, line in enumerate(lines)))
    height += 18 + 17 * len(lines)
    picture = svg.document(
        width + 2 * MARGIN,
        height + MARGIN,
        title,
        words,
        svg.moved(MARGIN, MARGIN, *placed, note),
        kind="face-pair",
    )
    return Drawing(svg=picture, title=title, description=words, table=_pair_table(title, halves))


def meeting_words(plug: Face, receptacle: Face) -> str:
    """Whether the two faces fit each other as recorded; never silent when that cannot be said."""
    if not (plug.placed and receptacle.placed):
        return "The arrangement of at least one half is not recorded: whether they meet cannot be said."
    if counterpart(plug).rows == receptacle.rows:
        return "Held face to face, equal numbers meet: left and right change over."
    return "The two faces as recorded do not meet contact for contact: check the record."


def _arrange(painted: tuple[Painted, ...]) -> tuple[list[svg.Markup], float, float]:
    gap = 24.0
    if sum(half.width for half in painted) + gap <= BESIDE:
        parts, x = [], 0.0
        deepest = max(half.head for half in painted)
        for half in painted:  # bodies start on one level, whatever the headings take
            parts.append(svg.moved(x, deepest - half.head, half.markup))
            x += half.width + gap
        return parts, x - gap, max(half.height + deepest - half.head for half in painted)
    widest = max(half.width for half in painted)
    parts, y = [], 0.0
    for half in painted:
        parts.append(svg.moved((widest - half.width) / 2, y, half.markup))
        y += half.height + gap
    return parts, widest, y - gap


def _pair_table(title: str, halves: tuple[Face, ...]) -> Table:
    tables = [tabulate(face, places_of(face), halves) for face in halves]
    rows = [(face.half, *row) for face, table in zip(halves, tables, strict=True) for row in table.rows]
    return Table(caption=title, headers=("Half", *tables[0].headers), rows=tuple(rows))
