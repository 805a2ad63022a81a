"""Which characters the shipped fonts can show, and where an author typed one that they cannot.

Nothing is printed with a hole in it: a sheet that needs another character is refused with the place of each.
"""

from __future__ import annotations

import dataclasses
import struct
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from importlib import resources
from typing import Any

from benchleaf.diagnostics import Finding, Place
from benchleaf.text import Text

FONTS = ("DejaVuSansCondensed.ttf", "DejaVuSansCondensed-Bold.ttf")
CODE = "no-glyph"
LONG_RUN, RUN_PART = 26, 13
"""Characters of a word from which on it may be broken, and between the places where it may."""
BREAK = "\u200b"
_ALWAYS = frozenset("\n\r\t")


@lru_cache(maxsize=1)
def known_characters() -> frozenset[int]:
    """The characters every shipped font has, by the ``cmap`` table of each (OpenType 1.9, cmap format 4 and 12)."""
    found = [_characters((resources.files("benchleaf.paper") / "fonts" / name).read_bytes()) for name in FONTS]
    return frozenset(set.intersection(*found))


def _characters(font: bytes) -> set[int]:
    tables = struct.unpack(">H", font[4:6])[0]
    entries = (struct.unpack(">4sLLL", font[12 + 16 * n : 28 + 16 * n]) for n in range(tables))
    start = next(offset for tag, _, offset, _ in entries if tag == b"cmap")
    made: set[int] = set()
    for n in range(struct.unpack(">H", font[start + 2 : start + 4])[0]):
        offset = struct.unpack(">L", font[start + 8 + 8 * n : start + 12 + 8 * n])[0]
        table = font[start + offset :]
        form = struct.unpack(">H", table[:2])[0]
        if form == 4:
            made.update(_format_4(table))
        elif form == 12:
            made.update(_format_12(table))
    return made


def _format_4(table: bytes) -> Iterator[int]:
    count = struct.unpack(">H", table[6:8])[0] // 2

    def part(at: int, form: str) -> tuple[int, ...]:
        return struct.unpack(f">{count}{form}", table[at : at + 2 * count])

    ends, starts = part(14, "H"), part(16 + 2 * count, "H")
    deltas, ranges = part(16 + 4 * count, "h"), part(16 + 6 * count, "H")
    for n in range(count):
        for character in range(starts[n], ends[n] + 1):
            if ranges[n] == 0:
                glyph = (character + deltas[n]) & 0xFFFF
            else:
                at = 16 + 6 * count + 2 * n + ranges[n] + 2 * (character - starts[n])
                glyph = struct.unpack(">H", table[at : at + 2])[0]
            if glyph and character != 0xFFFF:
                yield character


def _format_12(table: bytes) -> Iterator[int]:
    for n in range(struct.unpack(">L", table[12:16])[0]):
        first, last, _ = struct.unpack(">LLL", table[16 + 12 * n : 28 + 12 * n])
        yield from range(first, last + 1)


def missing_in(data: Any) -> frozenset[str]:
    """The characters of a sheet's data that no shipped font has."""
    known = known_characters()
    return frozenset(c for text in _texts(data) for c in text if ord(c) not in known and c not in _ALWAYS)


def glyph_findings(data: Any, records: Iterable[Any]) -> tuple[Finding, ...]:
    """One finding a text of the records that holds a character the sheet cannot show; one without a place when the
    character comes from nowhere in them."""
    missing = missing_in(data)
    if not missing:
        return ()
    found: dict[tuple[str, Place], Finding] = {}
    seen: set[str] = set()
    for text in _placed(records):
        for character in sorted(set(text) & missing):
            seen.add(character)
            found.setdefault((character, text.place), _finding(character, text.place))
    for character in sorted(missing - seen):
        found[(character, Place("", 1, 1))] = _finding(character, Place("", 1, 1))
    return tuple(found.values())


def _finding(character: str, place: Place) -> Finding:
    message = f"'{character}' (U+{ord(character):04X}) is in no font that is shipped, so it cannot be printed"
    return Finding(CODE, message, place, "write it in letters the shipped fonts have, or leave it out")


def _texts(data: Any) -> Iterator[str]:
    if isinstance(data, str):
        yield data
    elif isinstance(data, Mapping):
        for value in data.values():
            yield from _texts(value)
    elif isinstance(data, (list, tuple)):
        for value in data:
            yield from _texts(value)


def _placed(value: Any) -> Iterator[Text]:
    if isinstance(value, Text):
        yield value
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        for field in dataclasses.fields(value):
            yield from _placed(getattr(value, field.name))
    elif isinstance(value, Mapping):
        for key, one in value.items():
            yield from _placed(key)
            yield from _placed(one)
    elif isinstance(value, (list, tuple)):
        for one in value:
            yield from _placed(one)


def printable(data: Any) -> Any:
    """The data with long words made breakable and control characters as spaces, so that nothing runs off a sheet."""
    if isinstance(data, str):
        return _broken(data)
    if isinstance(data, Mapping):
        return {key: printable(value) for key, value in data.items()}
    if isinstance(data, (list, tuple)):
        return [printable(value) for value in data]
    return data


def _broken(text: str) -> str:
    plain = "".join(" " if ord(c) < 32 and c != "\n" else c for c in text) if not text.isprintable() else text
    if len(plain) < LONG_RUN:
        return plain
    return " ".join(_word(word) for word in plain.split(" "))


def _word(word: str) -> str:
    if len(word) < LONG_RUN:
        return word
    return BREAK.join(word[n : n + RUN_PART] for n in range(0, len(word), RUN_PART))
