"""A connector's face as values: where its contacts lie, what each carries, and which half and side is meant.

Rows are always given as seen on the **mating side of this half, latch up**. The other side and the other
half are worked out from them, so that nobody has to mirror anything in the head.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Literal, TypeAlias

from benchleaf.frozen import dataclass

Side: TypeAlias = Literal["mating", "wire"]
Half: TypeAlias = Literal["plug", "receptacle"]
Arrangement: TypeAlias = Literal[
    "single row", "dual row", "rows", "circular", "rows in a circle", "flat cable", "D-shape", "screw terminal"
]
Rows: TypeAlias = tuple[tuple[str, ...], ...]

EMPTY = "-"
NO_LATCH = "none"
FIRST_NAMES = ("1", "01", "A1", "a1")


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """One contact. Empty text is "not recorded": ``role`` as ``24 V DC``; ``colour`` an IEC 60757 code;
    ``wire`` its designation; ``mark`` the letter on the label of its lead."""

    name: str
    role: str = ""
    colour: str = ""
    wire: str = ""
    mark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """One half of a connector. ``None`` and empty text are "not recorded" throughout.

    ``rows``: contact names on the mating side of this half, latch up, ``-`` for an empty place. Circular:
    each row is a ring, the outer first, clockwise from just right of the key; a ring of one is the centre.
    ``contacts``: what is known of each; names that stand in no row are drawn after the rows are given up
    (see :meth:`placed`). ``count``: used when neither rows nor contacts are known. ``keyed``: a word is the
    coding. ``latch``: its text, ``none`` for no latch. ``label``: letter and shape of the cable's label, as
    ``B triangle``.
    """

    name: str
    half: Half
    side: Side = "mating"
    rows: Rows = ()
    contacts: tuple[Contact, ...] = ()
    count: int = 0
    arrangement: Arrangement = "single row"
    keyed: bool | str | None = None
    latch: str | None = None
    has_pins: bool | None = None
    contact_side: str | None = None
    cable: str = ""
    label: str = ""

    @property
    def placed(self) -> bool:
        """Whether the places of all known contacts are recorded. If not, they are drawn in order only."""
        in_rows = {name for row in self.rows for name in row if name != EMPTY}
        return bool(in_rows) and all(contact.name in in_rows for contact in self.contacts)

    @property
    def is_round(self) -> bool:
        """Whether the housing is a circle: rings of contacts, or rows as they are seen in it."""
        return self.arrangement in ("circular", "rows in a circle")

    def mating_rows(self) -> Rows:
        """The rows as recorded; one row in the order of names when the places are not recorded."""
        if self.placed:
            return self.rows
        names = [name for row in self.rows for name in row if name != EMPTY]
        names += [contact.name for contact in self.contacts if contact.name not in names]
        return (tuple(names or (str(n + 1) for n in range(self.count))),)

    def seen_rows(self) -> Rows:
        """The rows as they are seen on ``side``: the wire side is the mating side with left and right
        changed over.

        Every row is first filled up with empty places to the longest, so that columns stay columns (D-shape
        and circular rows are centred or rings, and are only turned round).
        """
        rows = self.mating_rows()
        if self.arrangement != "D-shape" and not self.is_round:
            longest = max((len(row) for row in rows), default=0)
            rows = tuple(row + (EMPTY,) * (longest - len(row)) for row in rows)
        return rows if self.side == "mating" else tuple(tuple(reversed(row)) for row in rows)

    def contact(self, name: str) -> Contact:
        """What is recorded of a contact; a bare one when nothing is."""
        return next((c for c in self.contacts if c.name == name), Contact(name=name))

    def first_contact(self) -> str:
        """The name of contact 1, empty when no contact is numbered 1."""
        names = {name for row in self.mating_rows() for name in row}
        return next((name for name in FIRST_NAMES if name in names), "")


def seen_from(face: Face, side: Side) -> Face:
    """The same half seen from ``side``."""
    return replace(face, side=side)


def counterpart(face: Face) -> Face:
    """The other half on its own mating side: contacts meet, so left and right change over; pins meet
    sockets.
    """
    return replace(
        face,
        half="receptacle" if face.half == "plug" else "plug",
        side="mating",
        rows=tuple(tuple(reversed(row)) for row in face.rows),
        has_pins=None if face.has_pins is None else not face.has_pins,
    )


def single_row(count: int) -> Rows:
    """``1`` to ``count`` in one row."""
    return (tuple(str(n + 1) for n in range(count)),)


def row_after_row(columns: int) -> Rows:
    """Two rows numbered one after the other: contact 1 lies over contact ``columns + 1``."""
    upper = tuple(str(n + 1) for n in range(columns))
    return (upper, tuple(str(n + 1 + columns) for n in range(columns)))


def column_by_column(columns: int) -> Rows:
    """Two rows numbered to and fro: contact 1 lies over contact 2, odd numbers in the upper row."""
    upper = tuple(str(2 * n + 1) for n in range(columns))
    return (upper, tuple(str(2 * n + 2) for n in range(columns)))


def d_shape(*lengths: int) -> Rows:
    """Rows of a D-shape from the longer one down, numbered through: ``d_shape(5, 4)`` is 1 to 5 over 6 to
    9.
    """
    rows, start = [], 1
    for length in lengths:
        rows.append(tuple(str(n) for n in range(start, start + length)))
        start += length
    return tuple(rows)


_FAMILY_WORDS: tuple[tuple[str, Arrangement], ...] = (
    ("d-sub", "D-shape"),
    ("d-shape", "D-shape"),
    ("circular", "circular"),
    ("flat", "flat cable"),
    ("screw", "screw terminal"),
    ("terminal block", "screw terminal"),
)


def arrangement_of(rows: Rows, family: str, cable_kind: str = "") -> Arrangement:
    """The arrangement to draw from what a record says: words of its ``family``, else its rows, else its
    cable.

    A circular family with one recorded row is a ring from the key on; with several they are rows as seen.
    """
    words = family.lower()
    for word, arrangement in _FAMILY_WORDS:
        if word in words:
            return "rows in a circle" if arrangement == "circular" and len(rows) > 1 else arrangement
    if len(rows) == 2:
        return "dual row"
    if len(rows) > 2:
        return "rows"
    return "flat cable" if cable_kind == "flat" else "single row"


def contact_side_of(family: str) -> str | None:
    """Where a flat cable's bare contacts face, from the words of its family: ``flat 1.0 mm, contacts up``."""
    match = re.search(r"contacts? (?:face |facing )?(.+)", family)
    return match[1].strip() if match else None
