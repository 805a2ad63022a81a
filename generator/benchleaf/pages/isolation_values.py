"""What ``macros/isolation.html`` asks for: the order of tests of a code or symptom as plain values."""

from __future__ import annotations

from benchleaf.frozen import dataclass
from benchleaf.pages.shown import Applies, Art, CodeRef, Line, Table


@dataclass(frozen=True, slots=True, kw_only=True)
class DoneFirst:
    """A preparation: its words, its time, the lines that say how; ``at``: where on the page those stand instead."""

    words: str
    time: str
    how: tuple[str, ...] = ()
    at: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerLine:
    """An answer: its words, the reading, how likely, and the place it leads to."""

    words: str
    reading: str
    share: str
    anchor: str
    number: int
    ends: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceShown:
    """A place of the list. ``line`` leads to the test's or remedy's own place; ``parts``: what a remedy takes besides
    tools, in words; ``checks``: of an ending, ``None`` = not recorded."""

    number: int
    anchor: str
    kind: str
    title: str
    line: Line | None
    before: tuple[DoneFirst, ...]
    time: str
    after: tuple[DoneFirst, ...]
    trial: str
    answers: tuple[AnswerLine, ...]
    left: str
    warning: str
    notes: tuple[str, ...]
    parts: tuple[str, ...]
    expected: str
    checks: tuple[Line, ...] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredShown:
    """A measurement of a test: lines to follow, the connectors or items the probes go to, the faces seen, and where the
    expected value comes from."""

    lines: tuple[str, ...]
    probes: tuple[Line, ...]
    origin: tuple[str, ...]
    faces: tuple[Art, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TestShown:
    """How a test is done here: in what state, how long, what is measured, what nobody recorded. ``reach`` are the items
    it is done at, ``way`` the access path to them, empty when nothing is in the way; ``means`` what each answer says of
    the causes."""

    anchor: str
    title: str
    state: str
    time: str
    reach: tuple[Line, ...]
    way: tuple[str, ...]
    measured: tuple[MeasuredShown, ...]
    means: Table
    notes: tuple[str, ...]

    __test__ = False  # so that pytest does not take it for one


@dataclass(frozen=True, slots=True, kw_only=True)
class FinderLink:
    """A link the finder puts beside a remedy, a test or a check: ``kind`` and ``id`` as in its table."""

    kind: str
    id: str
    line: Line


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseShown:
    """One group of machines. ``art`` is ``None`` when the tree could not be drawn, ``problem`` then says why."""

    number: int
    anchor: str
    on: str
    applies: Applies | None
    masked: tuple[str, ...]
    sums: tuple[str, ...]
    counted: tuple[str, ...]
    dead: tuple[DoneFirst, ...]
    art: Art | None
    problem: str
    places: tuple[PlaceShown, ...]
    tests: tuple[TestShown, ...]
    take_along: tuple[tuple[str, Table, tuple[str, ...]], ...]
    quality: tuple[str, ...]
    links: tuple[FinderLink, ...]
    finder: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class IsolationView:
    """Everything ``macros/isolation.html`` asks for. ``name`` and ``shard`` are for the finder; ``codes``: what to look
    at on the display first."""

    name: str
    shard: str
    codes: tuple[CodeRef, ...]
    cases: tuple[CaseShown, ...]
