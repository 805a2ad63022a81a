"""Which known words a misspelt one may be, and at which joint two words were run together.

A weighted edit distance with neighbours swapped (optimal string alignment), walked over the sorted words so that what
two words begin with is worked out once. A doubled letter or a wrong vowel costs less than any other mistake.
Only words: a code with one wrong sign is another code.
"""

from __future__ import annotations

from collections.abc import Iterable

from benchleaf.frozen import dataclass
from benchleaf.search.coding import read_number

WHOLE = 8  # one plain mistake
_DOUBLED = 4  # a letter doubled, or not
_VOWEL = 5  # a vowel left out
_SWAPPED = 6  # two neighbours changed over
_ALIKE = 6  # a vowel for a vowel, or a letter that sounds alike
_FIRST = 4  # more when the first letter is wrong
_NEAR = 2  # as good as the best when no further off than this
_MOST = 6
LONGEST = 30  # a longer word is not corrected

_VOWELS = "aeiouy"
_PAIRS = ("ck", "cs", "cq", "kq", "sz", "gj", "mn", "bp", "dt", "gk", "fv", "vw")  # letters that sound alike
_SOUNDS = frozenset(_PAIRS) | {pair[::-1] for pair in _PAIRS}


@dataclass(frozen=True, slots=True)
class Guess:
    """A known word, how far off it is, and about how common (bits of its number of pages)."""

    word: str
    cost: int
    common: int


def limit_for(length: int) -> int:
    """How far off a word of ``length`` letters may be."""
    return 10 if length <= 5 else 14 if length <= 7 else 16


def distance(word: str, typed: str) -> int:
    """How far off ``typed`` is from ``word``."""
    rows = [_first_row(typed)]
    for depth in range(len(word)):
        rows.append(_next_row(rows, word, depth, typed))
    return rows[-1][-1]


def first_letters(typed: str) -> frozenset[str]:
    """What the right word may begin with: the letter typed, the next one, or one that sounds alike.

    Other mistakes in a first letter are rare, and looking for them would mean looking at every word.
    """
    return frozenset(typed[:2]) | {pair[1] for pair in _SOUNDS if pair[0] == typed[:1]}


def letters_needed(typed: str) -> frozenset[str]:
    """What the words begin with that ``guesses`` has to see, parts of two run together among them."""
    return first_letters(typed) | frozenset(typed[3:-2])


def guesses(typed: str, shards: Iterable[str]) -> tuple[list[Guess], tuple[str, str] | None]:
    """The best known words for ``typed``, best first, and the two known words it may be run together from."""
    limit = limit_for(len(typed))
    width = len(typed)
    firsts = first_letters(typed)
    first_row = _first_row(typed)
    found: list[Guess] = []
    heads: dict[int, int] = {}
    tails: dict[int, int] = {}
    for text in shards:
        word = ""
        rows = [first_row]
        dead = -1  # rows from here on are past the limit
        at = 0
        while at < len(text):
            shared, at = read_number(text, at)
            length, at = read_number(text, at)
            word = word[:shared] + text[at : at + length]
            at += length
            common, at = read_number(text, at)
            if 3 <= len(word) <= width - 3:
                if typed.startswith(word):
                    heads[len(word)] = common
                if typed.endswith(word):
                    tails[width - len(word)] = common
            del rows[shared + 1 :]
            if word[0] not in firsts or (dead >= 0 and shared >= dead):
                continue
            dead = -1
            for depth in range(len(rows) - 1, len(word)):
                row = _next_row(rows, word, depth, typed)
                rows.append(row)
                if min(row) > limit:
                    dead = depth + 1
                    break
            if dead < 0 and rows[-1][width] <= limit and len(word) > 3:
                found.append(Guess(word, rows[-1][width], common))
    found.sort(key=lambda guess: (guess.cost, -guess.common, guess.word))
    best = [guess for guess in found if guess.cost <= found[0].cost + _NEAR][:_MOST]
    return best, _joint(typed, heads, tails)


def _joint(typed: str, heads: dict[int, int], tails: dict[int, int]) -> tuple[str, str] | None:
    best: tuple[int, int] | None = None
    for cut in sorted(heads):
        if cut in tails:
            score = min(heads[cut], tails[cut])
            if best is None or score > best[0]:
                best = (score, cut)
    return (typed[: best[1]], typed[best[1] :]) if best else None


def _first_row(typed: str) -> list[int]:
    row = [0]
    for at in range(len(typed)):
        row.append(row[at] + _extra(typed, at) + (_FIRST if at == 0 else 0))
    return row


def _next_row(rows: list[list[int]], word: str, depth: int, typed: str) -> list[int]:
    """Costs of ``word[:depth + 1]`` against every beginning of ``typed``."""
    above = rows[depth]
    letter = word[depth]
    first = _FIRST if depth == 0 else 0
    missing = _missing(word, depth)
    row = [above[0] + missing + first]
    for at in range(len(typed)):
        other = typed[at]
        start = first if at == 0 else 0
        cost = above[at] if letter == other else above[at] + _instead(letter, other) + start
        cost = min(cost, above[at + 1] + missing + start, row[at] + _extra(typed, at) + start)
        if depth and at and letter == typed[at - 1] and word[depth - 1] == other and letter != other:
            cost = min(cost, rows[depth - 1][at - 1] + _SWAPPED + (_FIRST if depth == 1 else 0))
        row.append(cost)
    return row


def _extra(typed: str, at: int) -> int:
    """What a letter too many costs: little when it doubles the one before."""
    return _DOUBLED if at and typed[at] == typed[at - 1] else WHOLE


def _missing(word: str, at: int) -> int:
    """What leaving out a letter costs: little for the second of a double letter, or a vowel."""
    return _DOUBLED if at and word[at] == word[at - 1] else _VOWEL if word[at] in _VOWELS else WHOLE


def _instead(letter: str, other: str) -> int:
    if (letter in _VOWELS and other in _VOWELS) or letter + other in _SOUNDS:
        return _ALIKE
    return WHOLE
