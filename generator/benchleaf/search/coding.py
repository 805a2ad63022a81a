"""The characters of the index files: numbers, front-coded words, and the script around them.

A shard is one call with one string, so that a ``<script src>`` reads it from a stick as well as from a server. Numbers
are written in the 93 printable ASCII characters that need no escaping in a string: 64 end a number, 29 carry on.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from functools import lru_cache

ALPHABET = "".join(chr(n) for n in range(32, 127) if chr(n) not in '"\\')
LAST = 64  # characters that end a number; the others carry on
MORE = len(ALPHABET) - LAST
_VALUE = {sign: value for value, sign in enumerate(ALPHABET)}


@lru_cache(maxsize=1 << 13)
def number(value: int) -> str:
    """A number from 0 as one or more characters; below 64 it is one."""
    signs = [ALPHABET[value % LAST]]
    rest = value // LAST
    while rest > 0:
        rest -= 1
        signs.append(ALPHABET[LAST + rest % MORE])
        rest //= MORE
    return "".join(reversed(signs))


def read_number(text: str, at: int) -> tuple[int, int]:
    """The number at ``at`` and the place after it."""
    rest = 0
    value = _VALUE[text[at]]
    while value >= LAST:
        rest = rest * MORE + value - LAST + 1
        at += 1
        value = _VALUE[text[at]]
    return rest * LAST + value, at + 1


def common_start(one: str, other: str) -> int:
    """How many characters two words begin with in common."""
    count = 0
    for left, right in zip(one, other, strict=False):
        if left != right:
            break
        count += 1
    return count


def front_coded(word: str, before: str) -> str:
    """A word as what it shares with the one before, and the rest."""
    shared = common_start(word, before)
    return number(shared) + number(len(word) - shared) + word[shared:]


def read_front_coded(text: str, at: int, before: str) -> tuple[str, int]:
    """The word at ``at``, given the one before it, and the place after it."""
    shared, at = read_number(text, at)
    length, at = read_number(text, at)
    return before[:shared] + text[at : at + length], at + length


def as_script(name: str, data: object) -> bytes:
    """One index file: the call that hands ``data`` (text, or plain JSON values) to the page under ``name``."""
    return ("benchleafShard(" + _json(name) + "," + _json(data) + ");\n").encode("utf-8")


def from_script(content: bytes) -> object:
    """What ``as_script`` was given as data."""
    inside = content.decode("utf-8").strip().removeprefix("benchleafShard(").removesuffix(");")
    return json.loads("[" + inside + "]")[1]


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"), sort_keys=True)


def postings(groups: Iterable[tuple[int, list[int]]]) -> str:
    """Page numbers by level: for each level its number, how many pages, and the gaps between them."""
    signs: list[str] = []
    for level, pages in groups:
        signs += (number(level), number(len(pages)))
        before = -1
        for page in pages:
            signs.append(number(page - before - 1))
            before = page
    return "".join(signs)
