"""Sheets of labels as data: how many, how large, where on the paper. All lengths in millimetres.

The sizes are those label sheets are commonly sold in (common practice, no source); measure a sheet and add a line where
yours differs. The alignment page shows on plain paper whether they meet.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from benchleaf.frozen import dataclass
from benchleaf.paper.sheet import Paper


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelFormat:
    """``left`` and ``top`` are the margins to the first label; ``across`` and ``down`` the pitch from one to the next.

    ``fold`` is the width of the middle that lies round the cable when a label is folded to a flag.
    """

    name: str
    paper: Paper
    columns: int
    rows: int
    width: float
    height: float
    left: float
    top: float
    across: float
    down: float
    fold: float = 10.0

    @property
    def per_page(self) -> int:
        return self.columns * self.rows

    @property
    def face(self) -> float:
        """The width of one side of the flag."""
        return (self.width - self.fold) / 2

    def places(self) -> Iterator[tuple[float, float]]:
        """The left upper corner of every label, row by row."""
        for row in range(self.rows):
            for column in range(self.columns):
                yield round(self.left + column * self.across, 3), round(self.top + row * self.down, 3)


_ALL = (
    LabelFormat(
        name="a4-3x8", paper="a4", columns=3, rows=8, width=70, height=36, left=0, top=4.5, across=70, down=36
    ),
    LabelFormat(
        name="a4-2x8", paper="a4", columns=2, rows=8, width=99.1, height=33.9, left=4.65, top=12.9, across=101.6,
        down=33.9, fold=14,
    ),
    LabelFormat(
        name="a4-5x13", paper="a4", columns=5, rows=13, width=38.1, height=21.2, left=4.75, top=10.7, across=40.6,
        down=21.2, fold=6,
    ),
    LabelFormat(
        name="letter-3x10", paper="us-letter", columns=3, rows=10, width=66.7, height=25.4, left=4.8, top=12.7,
        across=69.85, down=25.4,
    ),
)  # fmt: skip
LABEL_FORMATS: Mapping[str, LabelFormat] = {one.name: one for one in _ALL}
DEFAULT: Mapping[Paper, str] = {"a4": "a4-3x8", "us-letter": "letter-3x10"}
