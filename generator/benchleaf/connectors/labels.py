"""Labels for the cables a procedure opens: a number in order of opening, and a mark no two swappable cables share.

The mark is a letter in a shape, so it is told apart by both and by no colour. Each end of a cable gets its own label,
which says which end it is and where the cable goes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from benchleaf.built import Built
from benchleaf.connectors.ends import PARKED, plugs_of
from benchleaf.connectors.openings import Openings, Span
from benchleaf.connectors.swaps import Pair
from benchleaf.drawings.marks import SHAPES
from benchleaf.frozen import dataclass
from benchleaf.records.wiring import Cable
from benchleaf.wiring.contacts import shown, wire_pairs

LETTERS = "ABCDEFGHKLMNPRTUVWXY"
"""Letters of marks: without I, J, O, Q, S, Z, which are read as 1, 0, 5 and 2 on a smudged label (our own choice)."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A letter in a shape."""

    letter: str
    shape: str

    @property
    def words(self) -> str:
        """``triangle B``: the shape first, so that a number before it is no amount (``1 A`` reads as an ampere)."""
        return f"{self.shape} {self.letter}"


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


def labels_of(
    built: Built, cables: Sequence[str], pairs: Iterable[Pair], opened: Openings | None = None
) -> tuple[CableLabel, ...]:
    """Labels for ``cables`` in the order given; marks differ wherever one of ``pairs`` has two of the cables.

    ``opened``: the procedure's openings. A lead it lifts gets a label of its own, and cables with leads lifted at one
    item at the same time differ in their marks too: any lead goes on any terminal.
    """
    leads = opened.leads if opened is not None else ()
    rivals = [(a.cable, b.cable) for a in leads for b in leads if a.meets(b) and _item(a) == _item(b)]
    marks = marks_of(cables, pairs, rivals)
    lifted = {cable: tuple(dict.fromkeys(one.connector for one in leads if one.cable == cable)) for cable in cables}
    return tuple(
        CableLabel(
            cable=cable,
            name=str(built.cables[cable].name or ""),
            number=number,
            mark=marks[cable],
            ends=_ends(built, cable, lifted[cable]),
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


def marks_of(cables: Sequence[str], pairs: Iterable[Pair], also: Iterable[tuple[str, str]] = ()) -> Mapping[str, Mark]:
    """A mark for each cable, the first that no cable before it bears that a pair, or ``also``, sets against it."""
    rivals: dict[str, set[str]] = {cable: set() for cable in cables}
    for many in (*(pair.cables for pair in pairs), *also):
        for one in many:
            for other in many:
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


def _item(span: Span) -> str:
    return span.connector.partition(".")[0]


def _ends(built: Built, cable: str, lifted: Sequence[str]) -> tuple[EndLabel, ...]:
    """A label for each end that is somewhere, in the order recorded, and a parked plug; one for each lead lifted."""
    record = built.cables[cable]
    names = [PARKED if end.at.is_parked else shown(str(end.at)) for end in record.ends]
    made = []
    for number, end in enumerate(record.ends):
        leads = [lead for lead in lifted if lead == end.at or lead.startswith(f"{end.at}.")]
        made += [EndLabel(own=shown(lead), goes_to=far_ends(record, number, lead)) for lead in leads]
        if not leads:
            others = tuple(other for m, other in enumerate(names) if m != number)
            made.append(EndLabel(own=names[number], goes_to=others))
    return tuple(made)


def far_ends(cable: Cable, number: int, lead: str) -> tuple[str, ...]:
    """Where the wires of a lead at end ``number`` go, by the recorded map; the other ends where it is not recorded."""
    own = lead.partition(".")[2]
    ends = [str(end.at) for end in cable.ends]
    mine = (number, own)
    far = [pair[1] if pair[0] == mine else pair[0] for pair in wire_pairs(cable) if pair is not None and mine in pair]
    if cable.wires is not None and cable.wires.map == "straight" and own:
        far = [(n, own) for n in range(len(ends)) if n != number]
    if not far:
        return tuple(PARKED if end == PARKED else shown(end) for n, end in enumerate(ends) if n != number)
    return tuple(shown(ends[n] if "." in ends[n] or ends[n] == PARKED else f"{ends[n]}.{name}") for n, name in far)
