"""What the read edge hands to the pure stages: the text of one file, and what is known of a photo file."""

from __future__ import annotations

from benchleaf.frozen import dataclass

FILE_LIMIT = 2_000_000
"""Bytes of the largest record file that is read. A long procedure has some 50,000."""


@dataclass(frozen=True, slots=True)
class Source:
    """A text file: ``path`` below the content folder with forward slashes, ``text`` with line feeds only."""

    path: str
    text: str

    @property
    def lines(self) -> list[str]:
        """The lines without their ends. Computed anew each time: keep it when you need many."""
        return self.text.split("\n")

    def line(self, number: int) -> str:
        """Line ``number`` from 1, without its end; empty when the file has no such line."""
        if number < 1:
            return ""
        start = 0
        for _ in range(number - 1):
            start = self.text.find("\n", start) + 1
            if start == 0:
                return ""
        end = self.text.find("\n", start)
        return self.text[start:] if end < 0 else self.text[start:end]


@dataclass(frozen=True, slots=True)
class AssetInfo:
    """A file that is not a record: ``path`` below the content folder, ``size`` in bytes.

    ``kind`` is ``png``, ``jpeg``, ``webp`` or ``svg`` by the file's first bytes (never by its name), empty
    for anything else. ``width`` and ``height`` in pixels as stored, before any turning that a camera noted;
    ``None`` = not found.
    """

    path: str
    size: int
    kind: str = ""
    width: int | None = None
    height: int | None = None
