"""How much room words take, so that a drawing is never cramped and no label runs off its edge.

A drawing cannot ask the reader's fonts, so it counts with the widest common sans face: room is left over
with others.
"""

from __future__ import annotations

# Advance widths in thousandths of the size: measured once from the wide open face DejaVu Sans 2.37, rounded
# up.
_WIDTHS = (
    dict.fromkeys("iIjl|.,:;' ·²°J", 320)
    | dict.fromkeys('frt()[]/-!\\"', 465)
    | dict.fromkeys("–…", 1000)
    | dict.fromkeys("mMW@%w—", 1000)
    | dict.fromkeys("OQ+<>=#&^~", 840)
    | dict.fromkeys("GDNHUCKARBXVTYZΩ", 775)
)
_USUAL = 645
_OTHER = 1010  # a character outside ASCII and Latin-1: counted as wide as it is high


def width_of(words: str, size: float) -> float:
    """The most room ``words`` take at ``size``, in the same unit."""
    total = 0
    for character in words:
        known = _WIDTHS.get(character)
        total += known if known is not None else _USUAL if ord(character) < 256 else _OTHER
    return total * size / 1000


def shorten(words: str, width: float, size: float) -> str:
    """``words``, or as much of them as fits with ``…`` at the end. The full words stand in the drawing's
    table.
    """
    if width_of(words, size) <= width:
        return words
    kept = words
    while kept and width_of(kept + "…", size) > width:
        kept = kept[:-1]
    return kept.rstrip() + "…"


def wrap(words: str, width: float, size: float) -> tuple[str, ...]:
    """``words`` broken at spaces into lines that fit; a single word that is too long is broken where it
    must be.
    """
    lines: list[str] = []
    current = ""
    for word in words.split():
        rest = word
        while rest:
            trial = f"{current} {rest}" if current else rest
            if width_of(trial, size) <= width:
                current, rest = trial, ""
            elif current:
                lines.append(current)
                current = ""
            else:
                fits = max(1, next((n for n in range(len(rest), 0, -1) if width_of(rest[:n], size) <= width), 1))
                lines.append(rest[:fits])
                rest = rest[fits:]
    if current:
        lines.append(current)
    return tuple(lines)
