"""Sentences made of pieces: words, names that lead to their page, values that say where they come from.

What an author typed is a piece and stays what it is: nothing in it is read as markup.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

from benchleaf.frozen import dataclass

if TYPE_CHECKING:
    from benchleaf.pages.shown import ShownValue


@dataclass(frozen=True, slots=True)
class Piece:
    """A few words. ``path`` leads to a page; ``strong`` is what the hand reaches for; ``value`` replaces the words."""

    text: str
    path: str | None = None
    strong: bool = False
    value: ShownValue | None = None


Sentence: TypeAlias = tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Told:
    """One thing to do, with the list of places or values it is done at."""

    sentence: Sentence
    parts: tuple[Sentence, ...] = ()

    @property
    def text(self) -> str:
        return " ".join(plain(one) for one in (self.sentence, *self.parts))


def say(*parts: str | Piece | Sentence | None) -> Sentence:
    """Parts in a row as one sentence; ``None`` and empty texts fall away."""
    made: list[Piece] = []
    for part in parts:
        if part is None or part == "":
            continue
        if isinstance(part, str):
            made.append(Piece(part))
        elif isinstance(part, Piece):
            made.append(part)
        else:
            made.extend(part)
    return tuple(made)


def joined(parts: list[Sentence], last: str = " and ") -> Sentence:
    """``A``, ``A and B``, ``A, B and C``."""
    made: list[Piece] = []
    for n, part in enumerate(parts):
        if n:
            made.append(Piece(last if n == len(parts) - 1 else ", "))
        made.extend(part)
    return tuple(made)


def plain(sentence: Sentence) -> str:
    """The sentence as text, for titles and for the search."""
    return "".join(piece.value.text or "not recorded" if piece.value else piece.text for piece in sentence)


def plural(words: str, count: int | None) -> str:
    """``screw`` → ``screws`` unless there is one of it."""
    if count == 1 or words.endswith("s"):
        return words
    if words.endswith(("x", "ch", "sh", "z")):
        return f"{words}es"
    if words.endswith("y") and words[-2:-1] not in "aeiou":
        return f"{words[:-1]}ies"
    return f"{words}s"
