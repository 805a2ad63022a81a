"""What code pages and symptom pages share: causes with weight, mode and remedy; tests with what each outcome means."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from benchleaf.access.derived import authors_procedure
from benchleaf.applicability import Configuration
from benchleaf.pages.action_words import told_actions
from benchleaf.pages.book import MachineBook
from benchleaf.pages.record_notes import is_withdrawn, verification_of
from benchleaf.pages.sentences import Told
from benchleaf.pages.shown import Cell, Line, Row, Table
from benchleaf.pages.uses import Trouble
from benchleaf.pages.values_shown import plain_value
from benchleaf.records.actions import Action
from benchleaf.records.codes import Cause, FaultTest, Outcome
from benchleaf.text import Text
from benchleaf.troubles.causes import causes_of


def trouble_context(mbook: MachineBook, trouble: Trouble) -> dict[str, Any]:
    """The part of a page's context that codes and symptoms have in common."""
    causes = causes_of(trouble, mbook.machine)
    return {
        "applies": mbook.applies(trouble.applies),
        "prose": str(trouble.prose),
        "causes": causes_table(mbook, causes),
        "tests": tuple(test_view(mbook, one, causes) for one in trouble.tests.values()),
        "no_fault": no_fault_lines(mbook, trouble),
        "exercise": exercise_of(mbook, trouble),
    }


def causes_table(mbook: MachineBook, causes: dict[str, Cause]) -> Table:
    """The causes, most likely first. Weights are as recorded: divided by their sum on the machine in front of you."""
    rows = []
    has_why = any(cause.why is not None for cause in causes.values())
    for id, cause in sorted(causes.items(), key=lambda pair: -(pair[1].likely if pair[1].likely is not None else 1)):
        weight: Cell = f"{cause.likely:g}" if cause.likely is not None else Line(words="1", note="not recorded")
        takes = plain_value(cause.takes, cause.place_of("takes"), mbook.book.style)
        rows.append(
            Row(
                cells=(
                    cause_words(id, cause),
                    weight,
                    *((cause.why,) if has_why else ()),
                    remedy_line(mbook, cause),
                    takes or "computed from the procedure",
                ),
                anchor=f"cause-{id}",
                applies=mbook.applies(cause.applies),
            )
        )
    heads = ("Failure mode", "Weight", *(("Failure cause",) if has_why else ()), "Remedy", "Hands-on time")
    return Table(caption="Causes", heads=heads, rows=tuple(rows), nothing="No cause is recorded.")


def cause_words(id: str, cause: Cause) -> str:
    return str(cause.mode or id.replace("-", " "))


def remedy_line(mbook: MachineBook, cause: Cause) -> Cell:
    """What cures it, with its page; ``None`` = not recorded."""
    remedy = cause.remedy
    if remedy is None:
        return None
    if remedy.procedure is not None:
        procedure = mbook.machine.procedures.get(str(remedy.procedure))
        if procedure is None:
            return str(remedy.procedure)
        stamp = "withdrawn" if is_withdrawn(procedure) else verification_of(procedure).state
        return Line(words=str(procedure.title), path=mbook.at.procedure(procedure.id), note=stamp)
    item = str(remedy.replace.item) if remedy.replace is not None else ""
    if item not in mbook.record.items:
        return f"Replace {mbook.item_words(item)}"
    lines = tuple(replacements(mbook.narrowed(cause.applies), item)) or (replacement_line(mbook, item, None),)
    return lines if len(lines) > 1 else lines[0]


def replacements(mbook: MachineBook, item: str) -> Iterator[Line]:
    """The procedure that replaces an item on each machine: an author's where one stands, else the derived one."""
    found: dict[str | None, set[Configuration]] = {}
    for built in mbook.builts:
        if item in built.items:
            one = authors_procedure(mbook.machine, built.configuration, item)
            found.setdefault(str(one.id) if one is not None else None, set()).add(built.configuration)
    for id, on in found.items():
        line = replacement_line(mbook, item, id)
        yield line if len(found) == 1 else replace(line, applies=mbook.words_for(on))


def replacement_line(mbook: MachineBook, item: str, procedure: str | None) -> Line:
    """An author's procedure with its proof; with ``None`` the derived one, which nobody has proved."""
    if procedure is None:
        words = f"Replace {mbook.item_words(item)}"
        return Line(words=words, path=mbook.at.derived(item, "replace"), note="derived, unverified")
    author = mbook.machine.procedures[procedure]
    return Line(words=str(author.title), path=mbook.at.procedure(author.id), note=verification_of(author).state)


def test_view(mbook: MachineBook, test: FaultTest, causes: dict[str, Cause]) -> dict[str, Any]:
    """A test: what to do and in what state, and what each outcome says of the causes."""
    told = told_of(mbook, test.do)
    state = test.state or ("dead" if _is_resistance(test) else None)
    at = test.at.item if test.at is not None else ""
    return {
        "id": f"test-{test.id}",
        "title": test.id.replace("-", " "),
        "told": told,
        "state": state,
        "covers": test.covers or "closed (not recorded)",
        "takes": plain_value(test.takes, test.place_of("takes"), mbook.book.style),
        "at": Line(words=mbook.item_words(at), path=mbook.at.item(at)) if at in mbook.record.items else None,
        "applies": mbook.applies(test.applies),
        "outcomes": outcomes_table(mbook, test, causes),
    }


def _is_resistance(test: FaultTest) -> bool:
    return isinstance(test.do, tuple) and any(action.verb == "measure" for action in test.do)


def told_of(mbook: MachineBook, do: tuple[Action, ...] | Text | None) -> tuple[Told | str, ...]:
    if do is None:
        return ()
    if isinstance(do, str):
        return (str(do),)
    return tuple(told for action in do for told in told_actions(mbook, action))


def outcomes_table(mbook: MachineBook, test: FaultTest, causes: dict[str, Cause]) -> Table:
    rest = rest_lines(test, causes)
    rows = []
    for name, outcome in test.outcomes.items():
        when = (
            plain_value(outcome.when, outcome.place or test.place, mbook.book.style)
            if outcome.when is not None
            else "–"
        )
        lines = tuple(_shares(outcome, causes)) + (rest if outcome.rest else ())
        rows.append(Row(cells=(name.replace("-", " "), when, lines or "no recorded cause")))
    return Table(
        caption="What it says",
        heads=("Seen", "Reading", "Then it is"),
        rows=tuple(rows),
        nothing="No outcome is recorded.",
    )


def _shares(outcome: Outcome, causes: dict[str, Cause]) -> Iterator[Line]:
    for id, share in outcome.shares.items():
        words = cause_words(id, causes[id]) if id in causes else id
        yield Line(
            words=words,
            path=f"#cause-{id}" if id in causes else None,
            note=None if share == 1 else f"in {share:.0%} of cases",
        )


def rest_lines(test: FaultTest, causes: dict[str, Cause]) -> tuple[Line, ...]:
    """What is left of every cause for the ``rest`` outcome."""
    given = {id: sum(outcome.shares.get(id, 0.0) for outcome in test.outcomes.values()) for id in causes}
    lines = []
    for id, cause in causes.items():
        left = 1 - given[id]
        if left > 1e-9:
            lines.append(
                Line(
                    words=cause_words(id, cause),
                    path=f"#cause-{id}",
                    note=None if left == 1 else f"in {left:.0%} of cases",
                )
            )
    return tuple(lines)


def no_fault_lines(mbook: MachineBook, trouble: Trouble) -> tuple[Line, ...] | None:
    """What to do when every cause is cleared; ``None`` = not recorded."""
    found = trouble.no_fault_found
    if found is None or isinstance(found, str):
        return None
    checks = mbook.record.checks
    return tuple(
        Line(
            words=str(checks[str(id)].title) if str(id) in checks else str(id),
            path=f"{mbook.at.list('checks')}#check-{id}",
        )
        for id in found
    )


def exercise_of(mbook: MachineBook, trouble: Trouble) -> dict[str, Any] | None:
    exercise = trouble.exercise
    if exercise is None:
        return None
    return {"do": told_of(mbook, exercise.do), "restore": told_of(mbook, exercise.restore)}
