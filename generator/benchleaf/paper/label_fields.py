"""Where each thing stands on one side of a label, and in which size it fits: worked out, not tried out on the page.

Lettering is counted with the widest common sans face (``drawings.lettering``), so there is room left over, never too
little. What does not fit in the smallest size is shortened with ``…``; the list on the alignment page has it in full.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from benchleaf.drawings.lettering import shorten, width_of, wrap
from benchleaf.paper.label_formats import LabelFormat

if TYPE_CHECKING:
    from benchleaf.paper.labels import Flag

INSET = 1.5
"""Millimetres kept free at the edge of a side."""
POINT = 25.4 / 72
LINE = 1.25
"""Height of a line in sizes."""
SIZES = (11.0, 9.0, 8.0, 7.0, 6.0, 5.2, 4.4, 3.6)
NUMBER_SIZES = (22.0, 18.0, 14.0, 10.0, 8.0)
LEAST_ENDS = 4.5
"""Millimetres the two ends need above a code to have the full width of the label."""


def mark_size(made: LabelFormat) -> float:
    """The side of the mark in mm."""
    return round(min(11.0, max(6.5, (made.height - 2 * INSET) * 0.28)), 2)


def fields_of(flag: Flag, made: LabelFormat, qr: float) -> list[dict[str, Any]]:
    """The lettering of one side: ``{x, y, size, lines, strong}``, in mm from its left upper corner, sizes in points."""
    wide, high, mark = made.face - 2 * INSET, made.height - 2 * INSET, mark_size(made)
    top, right = INSET + mark + 1, INSET + mark + 1
    number = field(right, INSET, min(9.0, wide - mark - 1), mark, [str(flag.number)], NUMBER_SIZES, strong=True)
    said = [flag.cable, *([flag.only] if flag.only else [])]
    ends, beside = [flag.own, f"→{flag.goes_to}"], wide - mark - 11
    below = high - mark - 1
    names = [flag.name]
    if beside < 7:
        names, said = [*said, flag.name], []
    if qr and below - qr >= LEAST_ENDS:
        fields = [
            field(INSET, top, wide, below - qr, ends, SIZES, first_strong=True),
            field(INSET, top + below - qr, wide - qr - 0.8, qr, names, SIZES),
        ]
    else:
        narrow = wide - qr - (0.8 if qr else 0.0)
        fields = [field(INSET, top, narrow, below, [*ends, *names], SIZES, first_strong=True)]
    if said:
        fields.append(field(right + 10, INSET, beside, mark, said, SIZES))
    return [number, *(one for one in fields if one["lines"])]


def field(
    x: float,
    y: float,
    wide: float,
    high: float,
    said: Sequence[str],
    sizes: Sequence[float],
    *,
    strong: bool = False,
    first_strong: bool = False,
) -> dict[str, Any]:
    """The words in the largest of ``sizes`` at which they fit a place of ``wide`` by ``high`` mm."""
    words = [one for one in said if one]
    fitting = [size for size in sizes if _is_whole(words, wide, size * POINT)] or [sizes[-1]]
    for size in fitting:
        letter = size * POINT
        lines = [line for one in words for line in wrap(one, wide, letter)]
        if len(lines) * letter * LINE <= high:
            break
    else:
        kept = max(1, int(high / (letter * LINE)))
        lines = [*lines[: kept - 1], shorten(" ".join(lines[kept - 1 :]), wide, letter)]
    bold = len(wrap(words[0], wide, letter)) if first_strong and words else len(lines) if strong else 0
    return {"x": round(x, 3), "y": round(y, 3), "size": size, "lines": lines, "strong": bold}


def _is_whole(words: Sequence[str], wide: float, letter: float) -> bool:
    """Whether no word has to be broken at this size."""
    return all(width_of(part, letter) <= wide for one in words for part in one.split())
