"""Notes that give origins: each different origin once a document, numbered where it is first met, listed at its end.

They are no footnotes of the typesetter: its tagged PDF fails on some pages where a footnote meets a page break.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from benchleaf.pages.sentences import Sentence, Told
from benchleaf.pages.shown import Origin, ShownValue

Piece = dict[str, Any]


class Footnotes:
    """Hands out footnotes while a document is written from top to bottom; a repeated origin is its first number."""

    def __init__(self) -> None:
        self._known: dict[str, int] = {}

    @property
    def listed(self) -> list[str]:
        """The words of every footnote handed out so far, number 1 first."""
        return list(self._known)

    def marks(self, origins: Iterable[Origin]) -> list[int]:
        """The number of the footnote of one value; none when it has no origin."""
        words = "; ".join(dict.fromkeys(origin_words(one) for one in origins))
        return [self._known.setdefault(words, len(self._known) + 1)] if words else []

    def pieces(self, sentence: Sentence) -> list[Piece]:
        """A sentence as pieces ``{t, s, n}``: text, strong, footnotes."""
        return [self._piece(piece.text, piece.strong, piece.value) for piece in sentence if piece.text or piece.value]

    def _piece(self, text: str, strong: bool, value: ShownValue | None) -> Piece:
        if value is None:
            return {"t": text, "s": strong}
        said = value.text or "not recorded"
        if value.status == "disputed":
            said += " (disputed)"
        return {"t": said, "s": True, "n": self.marks(value.origins)}

    def told(self, told: Told | str) -> tuple[list[Piece], list[list[Piece]]]:
        """A thing to do with its parts."""
        if isinstance(told, str):
            return [{"t": told}], []
        return self.pieces(told.sentence), [self.pieces(part) for part in told.parts]


def origin_words(origin: Origin) -> str:
    """``0.5 N·m: measured, serial 0221 (fp420/machine.yaml:41)``."""
    words = f"{origin.kind}: {origin.words}" if origin.words else origin.kind
    return f"{words} ({origin.place})" if origin.place else words
