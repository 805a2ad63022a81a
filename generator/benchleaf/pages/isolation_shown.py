"""The order of tests of a code or symptom as its page shows it: finder, drawing, list, what to take along, how good the
tests are. One part for each group of machines on which everything about it is the same.

``isolation_view`` is handed to ``macros/isolation.html``.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

from benchleaf.drawings.drawing import Drawing
from benchleaf.drawings.face import face_view
from benchleaf.isolation.quality import Quality
from benchleaf.pages.art import art_of
from benchleaf.pages.book import MachineBook
from benchleaf.pages.finder_files import finder_name, openings_of, shard_of
from benchleaf.pages.isolation_values import (
    AnswerLine,
    CaseShown,
    DoneFirst,
    FinderLink,
    IsolationView,
    MeasuredShown,
    PlaceShown,
    TestShown,
)
from benchleaf.pages.shown import CodeRef, Line, Row, Table
from benchleaf.pages.time_words import time_words
from benchleaf.pages.trouble import outcomes_table, replacement_line
from benchleaf.records.codes import CodeRecord
from benchleaf.troubles.ambiguity import named_causes
from benchleaf.troubles.fault_tests import TestPlan, places_of
from benchleaf.troubles.lookup import Trouble
from benchleaf.troubles.openings import MINUTE
from benchleaf.troubles.parts_list import Part, PartsList, parts_lists
from benchleaf.troubles.prepared_words import Doing, doings_of_power
from benchleaf.troubles.problem_of import Case, cases_of, order_of, quality_of
from benchleaf.troubles.readings import Reading
from benchleaf.troubles.remedies import RemedyPlan
from benchleaf.troubles.tree import Place, Tree, cause_words, plain, test_title, tree_of
from benchleaf.troubles.tree_drawing import tree_diagram


def isolation_view(mbook: MachineBook, trouble: Trouble) -> IsolationView:
    """The order of tests of a code or symptom on every group of machines."""
    cases = cases_of(mbook.book.derived, mbook.machine, trouble)
    seen = cases[0].codes if cases else ()
    return IsolationView(
        name=finder_name(mbook, trouble),
        shard=shard_of(mbook, trouble),
        codes=tuple(_code(mbook, one) for one in seen),
        cases=tuple(_Shower(mbook, case, number).case() for number, case in enumerate(cases)),
    )


def take_along_line(mbook: MachineBook, trouble: Trouble) -> Line | None:
    """The way to what to take along for a code or symptom; ``None`` when nothing leads anywhere."""
    cases = cases_of(mbook.book.derived, mbook.machine, trouble)
    page = mbook.at.code(str(trouble.code)) if isinstance(trouble, CodeRecord) else mbook.at.symptom(str(trouble.id))
    return Line(words="what to take along", path=f"{page}#order-1-along") if cases else None


def masked_lines(mbook: MachineBook, code: CodeRecord) -> tuple[Line, ...]:
    """The machines on which a code can no longer appear."""
    cases = [
        case for case in cases_of(mbook.book.derived, mbook.machine, code) if any(one.is_masked for one in case.masked)
    ]
    return tuple(
        Line(words="can no longer appear", path=mbook.at.list("bypass"), applies=mbook.words_for(case.configurations))
        for case in cases
    )


def _code(mbook: MachineBook, code: CodeRecord) -> CodeRef:
    means = str(code.means) if code.means is not None else ""
    return CodeRef(code=str(code.shown or code.code), means=means, path=mbook.at.code(str(code.code)))


class _Shower:
    def __init__(self, mbook: MachineBook, case: Case, number: int) -> None:
        self.mbook = mbook
        self.case_ = case
        self.number = number
        self.anchor = f"order-{number + 1}"
        self.openings = openings_of(mbook, case)

    def case(self) -> CaseShown:
        case, derived = self.case_, self.mbook.book.derived
        policy, quality = order_of(derived, case), quality_of(derived, case)
        tree = tree_of(self.openings, case, policy.root) if policy is not None else Tree(places=())
        drawn = self.mbook.book.draw(tree_diagram(case, tree)) if tree.places else ""
        return CaseShown(
            number=self.number,
            anchor=self.anchor,
            on="; ".join(case.on),
            applies=self.mbook.words_for(case.configurations),
            masked=tuple(self._masked()),
            sums=tuple(_sums(quality)) if quality is not None else ("No recorded cause can occur on this machine.",),
            counted=tuple(self._counted()),
            dead=tuple(self._done(one, whole=True) for one in doings_of_power(self.openings, case))
            if tree.places
            else (),
            art=art_of(drawn) if isinstance(drawn, Drawing) else None,
            problem=drawn if isinstance(drawn, str) else "",
            places=tuple(self._place(tree, place) for place in tree.places),
            tests=tuple(self._test(id, plan) for id, plan in case.tests.items()),
            take_along=tuple(
                ("; ".join(on), _parts_table(self.mbook, self.case_, found), found.gaps)
                for on, found in self._along
            ),
            quality=tuple(_quality(case, quality)) if quality is not None else (),
            links=tuple(self._links()),
            finder=case.problem is not None,
        )

    def _masked(self) -> Iterator[str]:
        yield from (one.words for one in self.case_.masked)
        if not self.case_.signals_known:
            yield (
                "Which signals this code depends on is not recorded: whether a bypass keeps it from appearing is not "
                "known."
            )

    def _counted(self) -> Iterator[str]:
        yield from (f"{note[:1].upper()}{note[1:]}." for note in self.case_.notes)
        for id, why in self.case_.left_out.items():
            yield f"The test {plain(id)} is left out: {why}."

    def _done(self, doing: Doing, *, whole: bool = False) -> DoneFirst:
        """A preparation; making dead is written out once for all places."""
        time = time_words(doing.minutes * MINUTE)
        if doing.kind in ("isolate", "prove dead") and not whole:
            return DoneFirst(words=doing.words, time=time, at=f"{self.anchor}-dead")
        return DoneFirst(words=doing.words, time=time, how=doing.how)

    def _place(self, tree: Tree, place: Place) -> PlaceShown:
        answers = tuple(
            AnswerLine(
                words=branch.words,
                reading=branch.reading,
                share=f"{branch.probability:.0%}",
                anchor=f"{self.anchor}-{branch.to}",
                number=branch.to,
                ends=tree.at(branch.to).title if tree.at(branch.to).kind == "end" else "",
            )
            for branch in place.branches
        )
        return PlaceShown(
            number=place.number,
            anchor=f"{self.anchor}-{place.number}",
            kind=place.kind,
            title=place.title,
            line=self._line(place.kind, place.key),
            before=tuple(self._done(one) for one in place.before),
            time=time_words(place.minutes * MINUTE),
            after=tuple(self._done(one) for one in place.after),
            trial=time_words(place.trial * MINUTE) if place.kind == "remedy" else "",
            answers=answers,
            left=", ".join(f"{one.words} {one.probability:.0%}" for one in place.causes),
            warning=place.warning,
            notes=place.notes if place.kind == "remedy" else (),
            parts=tuple(self._parts(place.key)) if place.kind == "remedy" else (),
            expected=time_words(place.expected * MINUTE) if place.kind != "end" else "",
            checks=None if place.checks is None else tuple(self._check(one) for one in place.checks),
        )

    def _line(self, kind: str, key: str) -> Line | None:
        if kind == "test":
            return Line(words="how it is done", path=f"#{self._test_anchor(key)}")
        return self._remedy(self.case_.remedies[key]) if kind == "remedy" else None

    @cached_property
    def _along(self) -> tuple[tuple[tuple[str, ...], PartsList], ...]:
        return parts_lists(self.mbook.book.derived, self.case_)

    def _parts(self, remedy: str) -> Iterator[str]:
        """Spares and supplies of one remedy, and what of them nobody recorded."""
        title = self.case_.remedies[remedy].title
        for on, found in self._along:
            here = f" ({'; '.join(on)})" if len(self._along) > 1 else ""
            for part in found.parts:
                if part.kind != "tool" and remedy in part.wanted_for:
                    number = f", part number {part.part_number}" if part.part_number else ""
                    yield f"{part.words}{number}{here}"
            gaps = (gap for gap in found.gaps if gap.startswith(f"the supplies of '{title}'"))
            yield from (f"{gap}: not recorded{here}" for gap in gaps)

    def _remedy(self, plan: RemedyPlan) -> Line:
        return replacement_line(self.mbook, plan.item or "", plan.procedure)

    def _check(self, id: str) -> Line:
        checks = self.mbook.record.checks
        words = str(checks[id].title) if id in checks else id
        return Line(words=words, path=f"{self.mbook.at.list('checks')}#check-{id}")

    def _links(self) -> Iterator[FinderLink]:
        for id, plan in self.case_.remedies.items():
            yield FinderLink(kind="remedy", id=id, line=self._remedy(plan))
        for id in self.case_.tests:
            yield FinderLink(kind="test", id=id, line=Line(words="how it is done", path=f"#{self._test_anchor(id)}"))
        found = self.case_.trouble.no_fault_found
        for one in found if found is not None and not isinstance(found, str) else ():
            yield FinderLink(kind="check", id=str(one), line=self._check(str(one)))

    def _test_anchor(self, id: str) -> str:
        return f"{self.anchor}-test-{id.replace(' ', '-')}"

    def _test(self, id: str, plan: TestPlan) -> TestShown:
        return TestShown(
            anchor=self._test_anchor(id),
            title=test_title(self.case_, id),
            state=state_words(plan),
            time=f"{time_words(plan.minutes * MINUTE)} ({plan.counted})",
            reach=tuple(
                Line(words=self.mbook.item_words(one), path=self.mbook.at.item(one))
                for one in places_of(self.openings, plan.joined.test)
            ),
            way=tuple(self.openings.words.of(one) for one in plan.way.works),
            measured=tuple(_measured(self.mbook, one) for one in plan.readings),
            means=outcomes_table(
                self.mbook,
                plan.joined.test,
                {cause: self.case_.causes[cause] for cause in self.case_.causes if cause in plan.joined.knows},
            ),
            notes=tuple(f"{note[:1].upper()}{note[1:]}." for note in plan.notes),
        )


def state_words(plan: TestPlan) -> str:
    """The state a test needs, for whoever stands before the machine."""
    power = {
        "powered": "Power on", "dead": "Dead and proved dead",
    }.get(plan.state or "", "Power not recorded: dead and proved dead")  # fmt: skip
    covers = {
        "open": "covers open as far as they are in the way, all others closed before power comes back",
        "closed": "every cover closed",
        "either": "covers open or closed",
    }.get(plan.covers or "", "covers not recorded: closed, but for those in the way")
    if plan.covers == "open" and plan.state != "powered":
        covers = "covers open as far as they are in the way"
    return f"{power}; {covers}."


def _measured(mbook: MachineBook, reading: Reading) -> MeasuredShown:
    faces = {probe.face.name: probe.face for probe in reading.probes if probe.face is not None}
    art = tuple(art_of(face_view(face), narrow=True) for face in faces.values())
    probes = tuple(Line(words=probe.contact, path=mbook.owner_path(probe.owner)) for probe in reading.probes)
    return MeasuredShown(lines=reading.words, probes=probes, origin=reading.expected.origin, faces=art)


def _sums(quality: Quality) -> Iterator[str]:
    expected, worst = time_words(quality.expected * MINUTE), time_words(quality.worst * MINUTE)
    yield f"{expected} to be expected until it runs, {worst} at worst, covers and making dead counted."
    if quality.exact:
        yield "No order of these tests and remedies takes less."
    else:
        bound = time_words(quality.policy.bound * MINUTE)
        yield f"Made by the rule “{quality.policy.method}”; no order takes less than {bound}."


def _quality(case: Case, quality: Quality) -> Iterator[str]:
    for group in quality.ambiguity_groups:
        names = ", ".join(cause_words(case, one) for one in group.causes)
        worth = time_words(group.worth * MINUTE)
        what = "one remedy cures them all" if group.one_remedy else f"a test between them would save {worth} at most"
        yield f"No recorded test tells these apart: {names}; {what}."
    yield from (f"The test {plain(one)} answers alike for every cause here." for one in quality.useless_tests)
    yield from (f"The test {plain(one)} is not worth its time in this order." for one in quality.unused_tests)
    named = named_causes(case)
    left = [cause_words(case, id) for id in case.weights if id not in named] if case.tests else []
    yield from (f"No test names {one}: it is what is left over." for one in left)
    yield from (f"Dead end: {cause_words(case, id)}, {why}." for id, why in case.without_remedy.items())
    derived = [plan.title for plan in case.remedies.values() if plan.procedure is None]
    yield from (f"No author wrote “{one}”: its procedure is derived and unverified." for one in derived)
    saved = time_words(quality.value_of_one_more_test * MINUTE)
    yield f"One more test, were it free and told everything, would save {saved} at most."


def _parts_table(mbook: MachineBook, case: Case, found: PartsList) -> Table:
    rows = tuple(
        Row(cells=(part.kind, _part_line(mbook, part), part.part_number or ("–" if part.kind == "tool" else None),
                   " or ".join(part.amounts) or "–", f"{part.chance:.0%}", _wanted(case, part)))
        for part in found.parts
    )  # fmt: skip
    heads = ("What", "Which", "Part number", "Amount", "Wanted in", "For")
    nothing = "Nothing to take along is recorded."
    return Table(caption="What to take along", heads=heads, rows=rows, nothing=nothing)


def _part_line(mbook: MachineBook, part: Part) -> Line:
    is_item = part.kind == "spare" and part.id in mbook.record.items
    return Line(words=part.words, path=mbook.at.item(part.id) if is_item else None)


def _wanted(case: Case, part: Part) -> str:
    names = [case.remedies[id].title if id in case.remedies else f"test: {plain(id)}" for id in part.wanted_for]
    return "; ".join(names)
