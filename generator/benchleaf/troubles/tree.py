"""A test order written out for a reader: numbered places, each a question with its answers, a remedy, or an ending.

The drawing and the list are made from the same values, and the finder shows the same words. Probabilities and minutes
are those of the search; nothing is worked out again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from benchleaf.frozen import dataclass
from benchleaf.isolation.policy import Ending, Leaf, Node, RepairNode, Shares, TestNode
from benchleaf.isolation.states import Preparation
from benchleaf.records.actions import Action
from benchleaf.records.codes import Outcome
from benchleaf.troubles.openings import Opening, Openings
from benchleaf.troubles.prepared_words import Doing, doings
from benchleaf.troubles.problem_of import Case

Kind = Literal["test", "remedy", "end"]
CURED = "cured"
NOT_CURED = "not cured"
NOTHING_FITS = "these answers fit no recorded cause"
ALL_DEALT_WITH = "every recorded cause is dealt with"
LIVE_INSIDE = "The machine is live while it is open here, as a recorded powered test: no hand goes in. Stand clear of"


@dataclass(frozen=True, slots=True, kw_only=True)
class Branch:
    """An answer: its id and words, the reading it goes with, how likely it is here, and the place it leads to."""

    outcome: str
    words: str
    reading: str
    probability: float
    to: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseShare:
    """A cause that is left, in words, with its probability."""

    id: str
    words: str
    probability: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """One numbered place of a tree.

    ``key`` is the id of the test or remedy; ``before`` what is done first; ``minutes`` those of the test or remedy
    alone; ``after`` what is done for the trial run, which takes ``trial`` minutes. ``expected`` and ``worst`` minutes
    are all that is still to be spent from here. ``warning`` is never left out. ``checks``: of an ending without a
    cure, the checks that stand against it; ``None`` = not recorded.
    """

    number: int
    kind: Kind
    key: str
    title: str
    before: tuple[Doing, ...] = ()
    minutes: float = 0.0
    after: tuple[Doing, ...] = ()
    trial: float = 0.0
    branches: tuple[Branch, ...] = ()
    causes: tuple[CauseShare, ...] = ()
    expected: float = 0.0
    worst: float = 0.0
    warning: str = ""
    notes: tuple[str, ...] = ()
    checks: tuple[str, ...] | None = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Tree:
    """The places in order; the first is where to begin."""

    places: tuple[Place, ...]

    def at(self, number: int) -> Place:
        return self.places[number - 1]


def tree_of(openings: Openings, case: Case, root: Node) -> Tree:
    """A test order as numbered places. ``openings``: those of one of the machines of the case."""
    return _Writer(openings, case).tree(root)


class _Writer:
    def __init__(self, openings: Openings, case: Case) -> None:
        self.openings = openings
        self.case = case
        self.places: dict[int, Place] = {}
        self._known: dict[object, int] = {}

    def tree(self, root: Node) -> Tree:
        self._number(root)
        return Tree(places=tuple(self.places[number] for number in sorted(self.places)))

    def _number(self, node: Node | None) -> int:
        """The number of a node, the same each time it is met; ``None`` = every cause is dealt with."""
        key = id(node) if node is not None else None
        if isinstance(node, Leaf) and node.ending is Ending.NO_CAUSE_FITS:
            key = -1
        if key in self._known:
            return self._known[key]
        number = len(self._known) + 1
        self._known[key] = number
        self.places[number] = Place(number=number, kind="end", key="", title="")  # keeps the number
        if node is None:
            place = self._no_cure(ALL_DEALT_WITH)
        elif isinstance(node, TestNode):
            place = self._test(node)
        elif isinstance(node, RepairNode):
            place = self._repair(node)
        else:
            place = self._end(node)
        self.places[number] = replace(place, number=number)
        return number

    def _test(self, node: TestNode) -> Place:
        plan = self.case.tests[node.test]
        told = {answer.outcome: answer for answer in node.answers}
        branches = []
        for name, outcome in plan.joined.test.outcomes.items():
            answer = told.get(str(name))
            to = answer.then if answer is not None else Leaf(causes=(), remedies=(), ending=Ending.NO_CAUSE_FITS)
            branches.append(
                Branch(
                    outcome=str(name), words=plain(str(name)), reading=reading(outcome),
                    probability=answer.probability if answer is not None else 0.0, to=self._number(to),
                )
            )  # fmt: skip
        live = [self.openings.words.item(one) for one in items_opened(node.live_behind)]
        return Place(
            number=0, kind="test", key=node.test, title=self.test_title(node.test),
            before=self._doings(node.preparations, plan.way), minutes=node.minutes, branches=tuple(branches),
            causes=self.shares(node.causes), expected=node.expected, worst=node.worst,
            warning=f"{LIVE_INSIDE} what {', '.join(live)} covered." if live else "", notes=plan.notes,
        )  # fmt: skip

    def _repair(self, node: RepairNode) -> Place:
        plan = self.case.remedies[node.remedy]
        left = Branch(
            outcome=NOT_CURED, words="not cured", reading="", probability=1.0 - node.cured,
            to=self._number(node.if_not_fixed),
        )  # fmt: skip
        return Place(
            number=0, kind="remedy", key=node.remedy, title=plan.title,
            before=self._doings(node.preparations, plan.way), minutes=node.minutes,
            after=self._doings(node.trial_preparations, plan.way), trial=node.trial_minutes,
            branches=(left,), causes=self.shares(node.causes), expected=node.expected, worst=node.worst,
            notes=plan.notes,
        )  # fmt: skip

    def _doings(self, steps: tuple[Preparation, ...], way: Opening) -> tuple[Doing, ...]:
        return doings(self.openings, steps, way, self.case.energies)

    def _end(self, leaf: Leaf) -> Place:
        if leaf.ending is Ending.NO_CAUSE_FITS:
            return self._no_cure(NOTHING_FITS)
        names = ", ".join(share.words for share in self.shares(leaf.causes))
        why = "; ".join(dict.fromkeys(self.case.without_remedy.get(id, "") for id, _ in leaf.causes)).strip("; ")
        title = f"{leaf.ending.value}: {names}" + (f" ({why})" if why else "")
        return Place(number=0, kind="end", key=leaf.ending.name, title=title, causes=self.shares(leaf.causes))

    def _no_cure(self, why: str) -> Place:
        return Place(number=0, kind="end", key=why, title=f"No fault found: {why}", checks=self.checks())

    def checks(self) -> tuple[str, ...] | None:
        """The checks of "no fault found"; ``None`` = not recorded."""
        found = self.case.trouble.no_fault_found
        if found is None:
            return None
        return () if isinstance(found, str) else tuple(str(one) for one in found)

    def test_title(self, id: str) -> str:
        return test_title(self.case, id)

    def shares(self, shares: Shares) -> tuple[CauseShare, ...]:
        return tuple(
            CauseShare(id=id, words=cause_words(self.case, id), probability=probability) for id, probability in shares
        )


def cause_words(case: Case, id: str) -> str:
    """A cause by its failure mode; one without goes by its id."""
    cause = case.causes[id]
    return str(cause.mode) if cause.mode is not None else plain(id)


def test_title(case: Case, id: str) -> str:
    """What is done in a test, in one line."""
    do = case.tests[id].joined.test.do
    if do is None:
        return plain(id)
    return str(do).strip() if not isinstance(do, tuple) else "; ".join(action_words(one) for one in do)


def action_words(action: Action) -> str:
    """``Measure F1.cold``, ``Measure A1-J2:1 to A1-J2:2``, ``Disconnect M2-J1``."""
    row = action.measure
    if row is not None and row.between is not None and not action.target:
        return f"Measure {row.between[0].shown} to {row.between[1].shown}"
    at = f" at {action.to}" if action.to else ""
    return f"{action.verb.capitalize()} {action.target or action.text}{at}"


def reading(outcome: Outcome) -> str:
    """The reading an outcome goes with; empty where none is recorded."""
    return outcome.when.tidy if outcome.when is not None else ""


def plain(id: str) -> str:
    """An id as words: ``film-jammed`` → ``film jammed``."""
    return id.replace("-", " ")


def items_opened(works: tuple[str, ...]) -> Iterator[str]:
    """The items that are off or drawn out among operations."""
    found = (one.partition(":")[2].partition("@")[0] for one in works if one.startswith(("off:", "to:")))
    yield from dict.fromkeys(found)
