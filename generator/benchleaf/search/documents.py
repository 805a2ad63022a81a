"""What is searched and what comes back, as plain values: documents in, an answer with hits out."""

from __future__ import annotations

from dataclasses import field

from benchleaf.frozen import dataclass

Pieces = tuple[tuple[str, bool], ...]
"""A line cut up for showing: text, and whether it is marked as found. Joined, the texts give the line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """One page, or one place on a page (``url`` may end in ``#place``), in words.

    ``codes``, ``part_numbers``, ``designations`` and ``contacts`` are what the page is *about*, not all it mentions:
    who types one of them exactly finds this page before all that only mention it. ``heard_as`` holds the words
    of whoever has the trouble. ``machine`` and ``kind`` are words as the reader sees them in a filter; the
    machine's are searched too. ``variants`` empty = for all variants. ``url`` is relative to the top of the site.
    """

    url: str
    title: str
    kind: str
    machine: str = ""
    variants: tuple[str, ...] = ()
    codes: tuple[str, ...] = ()
    part_numbers: tuple[str, ...] = ()
    designations: tuple[str, ...] = ()
    contacts: tuple[str, ...] = ()
    headings: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()
    heard_as: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Filters:
    """What the reader has narrowed the search to; empty = not narrowed.

    A page for all variants of its machine passes any that the machine has; a page of no machine passes always.
    """

    machine: str = ""
    variant: str = ""
    kind: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """One page found: its title and best line with marks, or (``line`` empty) the words it was found by."""

    url: str
    title: Pieces
    kind: str
    machine: str
    variants: tuple[str, ...]
    line: Pieces
    found: tuple[str, ...]
    score: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """The hits, best first, and what helps when there are none.

    ``total`` counts the pages that match within the filters, ``hidden`` those that match but are filtered out.
    ``read_as`` holds (typed, words it was read as) for misspelt words; ``unknown`` the words found nowhere.
    """

    hits: tuple[Hit, ...] = ()
    total: int = 0
    hidden: int = 0
    read_as: tuple[tuple[str, tuple[str, ...]], ...] = ()
    unknown: tuple[str, ...] = field(default=())
