"""A case as a page without Python reads it: causes, tests, remedies, conditions of the machine, and what to do in every
state an interview may come to.

The page works out by itself what answers leave: shares are multiplied, causes struck out. What comes next it looks up
under the state: causes left as a number in base 36, answers by likelihood, condition, tests that cannot be done, as in
``key_of``. For a state that is not in the table it has a rule with a name.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from benchleaf.isolation.decisions import Decisions, Moment
from benchleaf.isolation.look_ahead import LookAhead
from benchleaf.isolation.problem import Mode, Power
from benchleaf.isolation.states import Preparation
from benchleaf.isolation.table import Table
from benchleaf.troubles.openings import Opening, Openings
from benchleaf.troubles.prepared_words import Doing, doings
from benchleaf.troubles.problem_of import Case
from benchleaf.troubles.tree import LIVE_INSIDE, cause_words, items_opened, plain, reading, test_title

FORM = 1
"""The form of the table; js/finder.js refuses another."""
KINDS = {"none": 0, "test": 1, "remedy": 2}
DIGITS = "0123456789abcdefghijklmnopqrstuvwxyz"


def finder_table(openings: Openings, case: Case) -> dict[str, Any]:
    """The table of one case, as plain values. Raises ValueError for a case without a cause."""
    if case.problem is None:
        raise ValueError(f"{case.name} has no cause on {'; '.join(case.on)}")
    made = Decisions(case.problem)
    table = made.table
    writer = _Writer(openings, case, table)
    conditions = writer.conditions()
    states, whole = made.gather()
    return {
        "form": FORM,
        "name": case.name,
        "on": list(case.on),
        "causes": [[id, cause_words(case, id), table.weights[j]] for j, id in enumerate(table.causes)],
        "tests": [writer.test(t) for t in range(len(table.tests))],
        "remedies": [writer.remedy(r) for r in range(len(table.remedies))],
        "trial": shown(table.trial_minutes),
        "doings": writer.told,
        "conditions": conditions,
        "states": {
            key_of(moment, writer.places): [KINDS[found.kind], found.place, shown(found.expected, 4), int(found.exact)]
            for moment, found in sorted(states.items(), key=lambda pair: pair[0])
        },
        "whole": whole,
        "rule": LookAhead.name(Mode.REPAIR),
        "checks": None if case.trouble.no_fault_found is None else _checks(case),
    }


def key_of(moment: Moment, places: dict[int, int]) -> str:
    """A state by its name in the table: ``1f|3.0,4.1|2|1.5``. ``places``: condition → its number."""
    answers = ",".join(f"{test}.{outcome}" for test, outcome in moment.answers)
    barred = ",".join(str(test) for test in moment.barred)
    return f"{base36(moment.causes)}|{answers}|{places[moment.condition]}|{barred}"


def shown(number: float, digits: int = 12) -> float:
    """A number as it is written: without the last digits, which are not the same on every Python. One that lies between
    two (``0.00005`` to four digits) always becomes the greater."""
    return round(number + 0.01 * 10.0**-digits, digits)


def base36(number: int) -> str:
    """A number as JavaScript's ``toString(36)`` writes it."""
    written = ""
    while True:
        number, digit = divmod(number, 36)
        written = DIGITS[digit] + written
        if not number:
            return written


def script(call: str, name: str, value: Any) -> bytes:
    """A value as a script that hands it to the page: ``benchleafFinder("…",…);``, safe inside and outside HTML.

    ``call``: the function of the page that takes it.
    """
    written = json.dumps(value, ensure_ascii=True, separators=(",", ":"), sort_keys=False, allow_nan=False)
    return f"{call}({json.dumps(name)},{written.replace('<', chr(92) + 'u003c')});\n".encode("ascii")


def _checks(case: Case) -> list[str]:
    found = case.trouble.no_fault_found
    return [] if found is None or isinstance(found, str) else [str(one) for one in found]


class _Writer:
    """Numbers conditions and preparations, and writes each once."""

    def __init__(self, openings: Openings, case: Case, table: Table) -> None:
        self.openings = openings
        self.case = case
        self.table = table
        self.places: dict[int, int] = {}
        self.told: list[dict[str, Any]] = []
        self._numbers: dict[Doing, int] = {}

    def conditions(self) -> list[dict[str, Any]]:
        """For each condition that can be come to, what every test and remedy takes from there and leaves behind."""
        ahead = [self.table.conditions.start]
        self.places[ahead[0]] = 0
        made = []
        for condition in ahead:
            tests, remedies = self.table.prices(condition)
            for _, then in (*tests, *remedies):
                if then not in self.places:
                    self.places[then] = len(ahead)
                    ahead.append(then)
            made.append({
                "tests": [self._test(condition, t) for t in range(len(tests))],
                "remedies": [self._remedy(condition, r) for r in range(len(remedies))],
            })  # fmt: skip
        return made

    def _test(self, condition: int, place: int) -> list[Any]:
        """[minutes in all, condition after, preparations, warning]."""
        table, problem = self.table, self.table.problem
        minutes, then = table.prices(condition)[0][place]
        needs = problem.tests[table.tests[place]].needs
        way = self.case.tests[table.tests[place]].way
        live = table.conditions.open_covers(then) if needs.power is Power.ON else ()
        items = [self.openings.words.item(one) for one in items_opened(live)]
        warning = f"{LIVE_INSIDE} what {', '.join(items)} covered." if items else ""
        steps = table.conditions.preparations(condition, needs)
        return [shown(minutes), self.places[then], list(self._doings(steps, way)), warning]

    def _remedy(self, condition: int, place: int) -> list[Any]:
        """[minutes in all with the trial run, condition after, preparations, what is done for the trial run]."""
        table, problem = self.table, self.table.problem
        minutes, then = table.prices(condition)[1][place]
        needs = problem.remedies[table.remedies[place]].needs
        way = self.case.remedies[table.remedies[place]].way
        ready, _ = table.conditions.after(condition, needs)
        trial = () if problem.trial is None else table.conditions.preparations(ready, problem.trial.needs)
        before = table.conditions.preparations(condition, needs)
        return [shown(minutes), self.places[then], list(self._doings(before, way)), list(self._doings(trial, way))]

    def _doings(self, steps: tuple[Preparation, ...], way: Opening) -> Iterator[int]:
        for doing in doings(self.openings, steps, way, self.case.energies):
            if doing not in self._numbers:
                self._numbers[doing] = len(self.told)
                self.told.append(
                    {"kind": doing.kind, "words": doing.words, "minutes": shown(doing.minutes), "how": list(doing.how)}
                )
            yield self._numbers[doing]

    def test(self, place: int) -> dict[str, Any]:
        table, id = self.table, self.table.tests[place]
        plan = self.case.tests[id]
        places = {outcome.name: o for o, outcome in enumerate(table.outcomes[place])}
        return {
            "id": id,
            "title": test_title(self.case, id),
            "minutes": shown(table.minutes[place]),
            "how": [line for one in plan.readings for line in one.words],
            "origin": [line for one in plan.readings for line in one.expected.origin],
            "notes": [f"{note[:1].upper()}{note[1:]}." for note in plan.notes],
            "outcomes": [
                [str(name), plain(str(name)), reading(outcome), places.get(str(name), -1)]
                for name, outcome in plan.joined.test.outcomes.items()
            ],
            "shares": [list(outcome.shares) for outcome in table.outcomes[place]],
            "sharp": table.sharp[place],
        }

    def remedy(self, place: int) -> dict[str, Any]:
        id = self.table.remedies[place]
        plan = self.case.remedies[id]
        return {
            "id": id,
            "title": plan.title,
            "minutes": shown(self.table.repair_minutes[place]),
            "fixes": base36(self.table.fixes[place]),
            "notes": [f"{note[:1].upper()}{note[1:]}." for note in plan.notes],
        }
