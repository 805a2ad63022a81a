"""Text that remembers where the author typed it, so that a finding made much later still points at the place."""

from __future__ import annotations

from benchleaf.diagnostics import Place

NOWHERE = Place("", 0, 0)


class Text(str):
    """A string with its ``place``. Compares, hashes and prints as the plain string it is."""

    __slots__ = ("place",)
    place: Place

    def __new__(cls, text: str, place: Place = NOWHERE) -> Text:
        made = super().__new__(cls, text)
        made.place = place
        return made

    def __reduce__(self) -> tuple[type[Text], tuple[str, Place]]:  # so that it survives pickling into worker processes
        return type(self), (str(self), self.place)
