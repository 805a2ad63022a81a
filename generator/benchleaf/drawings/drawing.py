"""What every drawing hands over: the picture, what it is called, what it shows in words, and the same facts
as a table.
"""

from __future__ import annotations

from benchleaf.frozen import dataclass

NOT_RECORDED = "not recorded"


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """The facts of a drawing as rows; every row has as many cells as there are headers, none of them
    empty.
    """

    caption: str
    headers: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    def __post_init__(self) -> None:
        for row in self.rows:
            if len(row) != len(self.headers):
                raise ValueError(f"{self.caption}: a row of {len(row)} cells under {len(self.headers)} headers")


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """``svg`` is a whole ``<svg>`` element, safe to put inline; ``table`` is made from the same values."""

    svg: str
    title: str
    description: str
    table: Table


def cell(words: str | None) -> str:
    """A table cell that is never empty: what is not there was not recorded."""
    return words if words else NOT_RECORDED


def item_words(id: str, name: str) -> str:
    """``A1 Control board``; an item without a reference designation (``rear-guard``) goes by its name alone."""
    return name if name and id == id.lower() else f"{id} {name}".strip()
