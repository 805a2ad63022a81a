"""The order in which the screws of a set are tightened, drawn where the record says each screw is.

``sequence: [3, 4, 1, 6, 2, 5]`` names the places of ``at`` in the order they are tightened: the third place first. The
number in each circle is when its screw has its turn. ``cross`` draws the places without numbers.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from benchleaf.drawings import svg
from benchleaf.drawings.drawing import Drawing, Table
from benchleaf.drawings.svg import Markup
from benchleaf.fastener_sets import FastenerSet
from benchleaf.frozen import dataclass

ACROSS = 260.0
"""The longer side of the field the screws lie in, in units of the drawing."""
RADIUS, LETTERS, MARGIN, NOTE = 13.0, 14.0, 24.0, 13.0
APART = 2 * RADIUS + 4
MOST_LINES = 16
"""Up to so many screws the way from one to the next is drawn; beyond, it would hide the numbers."""


@dataclass(frozen=True, slots=True)
class _Side:
    """A side to look from: its words, the axis that runs right, the axis that runs up, and the words of their ends."""

    words: str
    right: int
    up: int
    ends: tuple[str, str, str, str]


_SIDES = (
    _Side("Seen from above, the front at the bottom", 0, 1, ("left", "right", "front", "back")),
    _Side("Seen from the front", 0, 2, ("left", "right", "bottom", "top")),
    _Side("Seen from the right", 1, 2, ("front", "back", "bottom", "top")),
)


def tightening_pattern(one: FastenerSet, title: str) -> Drawing | None:
    """The pattern of a set of two or more, or ``None`` where places or order are not recorded.

    A record whose places or order do not fit the count draws nothing: the check ``counts-disagree`` says so.
    """
    places, sequence = one.at, one.sequence
    if places is None or sequence is None or one.count < 2 or len(places) != one.count:
        return None
    if any(len(place) != 3 for place in places):
        return None
    if not isinstance(sequence, str) and sorted(sequence) != list(range(1, one.count + 1)):
        return None
    side = _side_of(places)
    turns = {} if isinstance(sequence, str) else {place: turn for turn, place in enumerate(sequence, 1)}
    spots, width, height = _laid_out([(place[side.right], place[side.up]) for place in places])
    words = [_where(place, places, side) for place in places]
    said = _in_words(turns, words, side)
    parts = [*_way(turns, spots), *_screws(turns, spots)]
    foot = _foot(turns, side)
    parts += [svg.text(MARGIN, height + NOTE * (1.4 * n), line, size=NOTE) for n, line in enumerate(foot, 1)]
    width = max(width, 2 * MARGIN + max(len(line) for line in foot) * NOTE * 0.6)
    picture = svg.document(width, height + NOTE * (1.4 * len(foot) + 1), title, said, *parts, kind="pattern")
    return Drawing(svg=picture, title=title, description=said, table=_table(title, turns, places, words))


def _side_of(places: Sequence[Sequence[float]]) -> _Side:
    """The side from which the screws lie furthest apart; from above where it makes no difference."""
    spread = [max(axis) - min(axis) for axis in zip(*places, strict=True)]
    return max(_SIDES, key=lambda side: round(spread[side.right] * (spread[side.up] + 1e-3) + spread[side.right], 6))


def _laid_out(flat: list[tuple[float, float]]) -> tuple[list[tuple[float, float]], float, float]:
    """Places in mm as middles in the drawing, with its size; circles that would touch move the field apart."""
    left, low = min(x for x, _ in flat), min(y for _, y in flat)
    wide, high = max(x for x, _ in flat) - left, max(y for _, y in flat) - low
    scale = ACROSS / max(wide, high, 1.0)
    nearest = min(
        (max(abs(a[0] - b[0]), abs(a[1] - b[1])) for n, a in enumerate(flat) for b in flat[n + 1 :] if a != b),
        default=1.0,
    )
    scale = min(max(scale, APART / max(nearest, 1e-6)), 4 * scale)
    edge = MARGIN + RADIUS
    spots = [(edge + (x - left) * scale, edge + (low + high - y) * scale) for x, y in flat]
    return spots, wide * scale + 2 * edge, high * scale + 2 * edge


def _way(turns: dict[int, int], spots: list[tuple[float, float]]) -> Iterator[Markup]:
    """Thin lines from each screw to the next, under the circles."""
    if not turns or len(turns) > MOST_LINES:
        return
    order = sorted(turns, key=lambda place: turns[place])
    for one, other in pairwise(order):
        (x1, y1), (x2, y2) = spots[one - 1], spots[other - 1]
        yield svg.line(x1, y1, x2, y2, stroke_width=0.8, stroke_dasharray="3 3")


def _screws(turns: dict[int, int], spots: list[tuple[float, float]]) -> Iterator[Markup]:
    for place, (x, y) in enumerate(spots, 1):
        yield svg.circle(x, y, RADIUS, fill="#ffffff", stroke_width=3 if turns.get(place) == 1 else 1.5)
        if turns:
            number = str(turns[place])
            yield svg.text(
                x, y + LETTERS * 0.36, number, size=LETTERS, anchor="middle", font_weight="bold", fill="#161616"
            )


def _foot(turns: dict[int, int], side: _Side) -> tuple[str, ...]:
    order = "Tighten in the order of the numbers." if turns else "Tighten crosswise: the next lies opposite the last."
    return order, f"{side.words}."


def _where(place: Sequence[float], places: Sequence[Sequence[float]], side: _Side) -> str:
    """``left back``, ``middle front``: by thirds of the field."""
    low, high, near, far = side.ends
    words = []
    for axis, (first, last) in ((side.right, (low, high)), (side.up, (near, far))):
        values = [one[axis] for one in places]
        wide = max(values) - min(values)
        share = (place[axis] - min(values)) / wide if wide > 0 else 0.5
        words.append(first if share < 1 / 3 else last if share > 2 / 3 else "middle")
    return words[0] if words[0] == words[1] else " ".join(words)


def _in_words(turns: dict[int, int], words: list[str], side: _Side) -> str:
    if not turns:
        return f"{side.words}: {len(words)} screws, tightened crosswise; the next lies opposite the last."
    order = sorted(turns, key=lambda place: turns[place])
    return f"{side.words}. Tighten " + ", ".join(f"{turns[place]} {words[place - 1]}" for place in order) + "."


def _table(title: str, turns: dict[int, int], places: Sequence[Sequence[float]], words: list[str]) -> Table:
    order = sorted(turns, key=lambda place: turns[place]) or list(range(1, len(places) + 1))
    rows = tuple(
        (
            str(turns[place]) if turns else "crosswise",
            str(place),
            words[place - 1],
            ", ".join(f"{number:g}" for number in places[place - 1]) + " mm",
        )
        for place in order
    )
    return Table(caption=title, headers=("Turn", "Place in the record", "Where", "x, y, z"), rows=rows)
