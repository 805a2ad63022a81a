"""'Did you mean': the name an author most likely meant by one that does not exist."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

_JOINTS = str.maketrans("", "", "-_ .")
_DIGITS = re.compile(r"\d+")


def closest(word: str, candidates: Iterable[str], limit: int = 1) -> tuple[str, ...]:
    """At most ``limit`` candidates that ``word`` is likely a slip of, the nearest first, equal ones by name.

    First those that differ in case, hyphens, underscores, dots or spaces only; then those within a few letters left
    out, put in, exchanged or swapped with the next (the restricted Damerau-Levenshtein distance): one in four or
    five letters, two up to eight, three from nine on; none in fewer than four, where everything is near everything.
    A digit is never taken for a slip: ``A1`` and ``A2`` are two things, and to suggest one for the other would send
    a hand to the wrong place.
    """
    folded = _folded(word)
    reach = _reach(len(folded))
    digits = _digits(folded)
    mask = _letters(folded)
    found: list[tuple[int, str]] = []
    for candidate in set(candidates):
        if candidate == word:
            continue
        other = _folded(candidate)
        if other == folded:
            found.append((0, candidate))
        elif (
            abs(len(other) - len(folded)) <= reach
            and (mask ^ _letters(other)).bit_count() <= 2 * reach
            and _digits(other) == digits
        ):
            steps = _distance(folded, other, reach)
            if steps <= reach:
                found.append((steps, candidate))
    return tuple(candidate for _, candidate in sorted(found)[:limit])


def _reach(length: int) -> int:
    if length < 4:
        return 0
    return 1 if length < 6 else 2 if length < 9 else 3


@lru_cache(maxsize=65_536)
def _folded(word: str) -> str:
    return word.casefold().translate(_JOINTS)


@lru_cache(maxsize=65_536)
def _letters(word: str) -> int:
    """A bit for each letter that occurs; one step changes at most two of them, so it rules most words out at once."""
    bits = 0
    for letter in word:
        bits |= 1 << (ord(letter) & 63)
    return bits


def _digits(word: str) -> list[str]:
    return _DIGITS.findall(word)


def _distance(a: str, b: str, reach: int) -> int:
    """Optimal string alignment distance, given up (``reach + 1``) as soon as it must be more than ``reach``."""
    before: list[int] = []
    last = list(range(len(b) + 1))
    for i, left in enumerate(a, 1):
        row = [i]
        for j, right in enumerate(b, 1):
            step = min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (left != right))
            if i > 1 and j > 1 and left == b[j - 2] and right == a[i - 2]:
                step = min(step, before[j - 2] + 1)
            row.append(step)
        if min(row) > reach:
            return reach + 1
        before, last = last, row
    return last[-1]
