"""Titles and lines for showing, written small: words that come often are one to three characters.

A whole line that stands on many pages ("Unplug the mains plug and lock it") is one word here too. Words are what stands
between spaces, sign and all, so that a line comes back as it was, with single spaces.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from benchleaf.search.coding import ALPHABET, number, read_number
from benchleaf.search.documents import Document
from benchleaf.search.words import normalise

_END, _SPELT, _FIRST = 0, 1, 2  # a line's end; a word spelt out; the first word of the table
_JOIN = "\n"  # no word and no line holds it


def shown_lines(document: Document) -> tuple[str, ...]:
    """The lines that a hit can show, most telling first: each once, single-spaced."""
    found = dict.fromkeys(
        tidy(line) for line in (*document.heard_as, *document.headings, *document.lines) if tidy(line)
    )
    return tuple(found)


def tidy(text: str) -> str:
    """Text as it is shown: composed accents, single spaces."""
    return " ".join(normalise(text).split())


def choose_words(lines: Iterable[str], most: int = 6000) -> list[str]:
    """The table of words and whole lines worth a short code, the most frequent first."""
    whole: Counter[str] = Counter(lines)
    words: Counter[str] = Counter()
    for line, count in whole.items():
        if count >= 3 and " " in line:
            words[line] += count
        else:
            for word in line.split(" "):
                words[word] += count
    worth = [(count, word) for word, count in words.items() if count * (len(word) - 1) > 3 * len(word) + 6]
    worth.sort(key=lambda pair: (-pair[0], pair[1]))
    return [word for _, word in worth[:most]]


def write_words(words: Sequence[str]) -> str:
    """The table as one text."""
    return _JOIN.join(words)


def read_words(text: str) -> list[str]:
    """The table back."""
    return text.split(_JOIN) if text else []


def write_line(line: str, ranks: Mapping[str, int]) -> str:
    """One line in short codes, with its end."""
    if line in ranks:
        return number(ranks[line] + _FIRST) + ALPHABET[_END]
    signs: list[str] = []
    for word in line.split(" "):
        rank = ranks.get(word)
        signs.append(number(_SPELT) + number(len(word)) + word if rank is None else number(rank + _FIRST))
    return "".join(signs) + ALPHABET[_END]


def read_line(text: str, at: int, words: Sequence[str]) -> tuple[str, int]:
    """The line at ``at`` and the place after it."""
    found: list[str] = []
    while True:
        code, at = read_number(text, at)
        if code == _END:
            return " ".join(found), at
        if code == _SPELT:
            length, at = read_number(text, at)
            found.append(text[at : at + length])
            at += length
        else:
            found.append(words[code - _FIRST])


def fair_share(sizes: Sequence[int], budget: int) -> int:
    """How much each page may take so that all stay within ``budget``; short pages leave theirs to long ones."""
    left = budget
    for position, size in enumerate(sorted(sizes)):
        share = left // (len(sizes) - position)
        if size > share:
            return share
        left -= size
    return budget
