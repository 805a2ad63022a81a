"""Labels for the cables a procedure opens: a number in order of opening, and a mark no two swappable cables share.

The mark is a letter in a shape, so it is told apart by both and by no colour. Each end of a cable gets its own label,
which says which end it is and where the cable goes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from benchleaf import refs
from benchleaf.built import Built
from benchleaf.connectors.ends import PARKED, plugs_of
from benchleaf.connectors.openings import Openings
from benchleaf.connectors.swaps import Pair
from benchleaf.drawings.marks import SHAPES

LETTERS = "ABCDEFGHKLMNPRTUVWXY"
"""Letters of marks: without I, J, O, Q, S, Z, which are read as 1, 0, 5 and 2 on a smudged label (our own choice)."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A letter in a shape."""

    letter: str
    shape: str

    @property
    def words(self) -> str:
        """``B triangle``."""
        return f"{self.letter} {self.shape}"


@dataclass(frozen=True, slots=True, kw_only=True)
class EndLabel:
    """What is written on the label of one end: ``own`` is that end, ``goes_to`` the other ends of the cable."""

    own: str
    goes_to: tuple[str, ...]

    @property
    def words(self) -> str:
        """``A1-J3 → M1``."""
        return f"{self.own} → {', '.join(self.goes_to) or 'other end not recorded'}"


@dataclass(frozen=True, slots=True, kw_only=True)
class CableLabel:
    """The labels of one cable: two for a cable of two ends. ``number`` counts from 1 in order of opening."""

    cable: str
    name: str
    number: int
    mark: Mark
    ends: tuple[EndLabel, ...]

    def end(self, at: str) -> EndLabel | None:
        """The label of the end at a connector, item or contact."""
        return next((one for one in self.ends if one.own == at), None)


def labels_of(built: Built, cables: Sequence[str], pairs: Iterable[Pair]) -> tuple[CableLabel, ...]:
    """Labels for ``cables`` in the order given; marks differ wherever one of ``pairs`` has two of the cables."""
    marks = marks_of(cables, pairs)
    return tuple(
        CableLabel(
            cable=cable,
            name=str(built.cables[cable].name or ""),
            number=number,
            mark=marks[cable],
            ends=_ends(built, cable),
        )
        for number, cable in enumerate(cables, 1)
    )


def cables_in_order(built: Built, opened: Openings | None) -> tuple[str, ...]:
    """The cables a procedure opens in order of opening; without one every cable with a plug, by designation."""
    if opened is None:
        found = {plug.cable for plug in plugs_of(built)}
        return tuple(sorted(found, key=designation_order))
    return tuple(name for name in opened.cables if name in built.cables)


def designation_order(name: str) -> tuple[str, int, str]:
    """W2 before W10."""
    letters = name.rstrip("0123456789")
    digits = name[len(letters) :]
    return (letters, int(digits) if digits else 0, name)


def marks_of(cables: Sequence[str], pairs: Iterable[Pair]) -> Mapping[str, Mark]:
    """A mark for each cable, the first that no swappable cable before it bears."""
    rivals: dict[str, set[str]] = {cable: set() for cable in cables}
    for pair in pairs:
        for one in pair.cables:
            for other in pair.cables:
                if one != other and one in rivals and other in rivals:
                    rivals[one].add(other)
    numbers: dict[str, int] = {}
    for cable in cables:
        taken = {numbers[other] for other in rivals[cable] if other in numbers}
        numbers[cable] = next(n for n in range(len(cables) + 1) if n not in taken)
    return {cable: mark(number) for cable, number in numbers.items()}


def mark(number: int) -> Mark:
    """The mark of a number from 0: letter and shape change together, so near ones differ in both."""
    letter = LETTERS[number % len(LETTERS)]
    rounds = number // len(LETTERS)
    return Mark(letter * (rounds + 1), SHAPES[number % len(SHAPES)])


def _ends(built: Built, cable: str) -> tuple[EndLabel, ...]:
    """A label for each end that is somewhere, in the order recorded; a parked plug bears one too."""
    names = [PARKED if end.at.is_parked else _shown(str(end.at)) for end in built.cables[cable].ends]
    return tuple(
        EndLabel(own=own, goes_to=tuple(other for m, other in enumerate(names) if m != n))
        for n, own in enumerate(names)
    )


def _shown(end: str) -> str:
    return refs.ContactRef(end).shown if "." in end else end
