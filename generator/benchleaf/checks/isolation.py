"""Codes and symptoms whose tests leave a technician standing: causes nobody can tell apart, tests that tell nothing.

Causes that no recorded test tells apart and that no one remedy cures form an ambiguity group (IEEE 1522): whoever gets
there can only try one remedy after the other. Record a test that answers differently for them; until there is one, say
in the prose which remedy to try first. A test that answers alike for every cause costs time and tells nothing. A cause
that no test names is only ever what is left over; that is worth a word when such causes are the greater part of what
happens. A test or a remedy that cannot be got at on a machine, or is not for it, leaves a dead end there.

Each is said once, with the machines it holds on. Of a code without any test nothing is said here: its causes are taken
in turn, likelihood over cost.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place, Severity
from benchleaf.frozen import dataclass
from benchleaf.isolation.table import Table
from benchleaf.model import Machine
from benchleaf.troubles.ambiguity import groups_alike, named_causes
from benchleaf.troubles.lookup import Trouble
from benchleaf.troubles.problem_of import Case, cases_of

CODES = ("ambiguity-group", "test-tells-nothing", "cause-unreached", "test-out-of-reach", "remedy-not-here")
BY_MACHINE = True
MOST = 0.5
"""Above this share of the weight, causes that no test names are worth a word."""


@dataclass(frozen=True, slots=True)
class _Said:
    code: str
    message: str
    place: Place
    help: str


def run(derived: Derived) -> Iterator[Finding]:
    for machine in derived.library.machines.values():
        troubles: list[Trouble] = [*machine.codes.values(), *machine.symptoms.values()]
        for trouble in troubles:
            yield from _of_trouble(cases_of(derived, machine, trouble), machine, trouble)


def _of_trouble(cases: tuple[Case, ...], machine: Machine, trouble: Trouble) -> Iterator[Finding]:
    found: dict[_Said, list[str]] = {}
    for case in cases:
        for one in _of_case(case):
            found.setdefault(one, []).extend(case.on)
    everywhere = sum(len(case.on) for case in cases)
    for said, on in found.items():
        if said.code == "test-tells-nothing" and len(on) < _machines_with(cases, said):
            continue  # it tells something on another machine
        where = "" if len(on) == everywhere else f" on {'; '.join(on)}"
        yield Finding(said.code, f"{said.message}{where}", said.place, said.help, Severity.WARNING)


def _machines_with(cases: tuple[Case, ...], said: _Said) -> int:
    """On how many machines the test of a finding is."""
    return sum(
        len(case.on) for case in cases if any(plan.joined.test.place == said.place for plan in case.tests.values())
    )


def _of_case(case: Case) -> Iterator[_Said]:
    problem, trouble = case.problem, case.trouble
    if problem is None:
        return
    for id, why in case.left_out.items():
        if id in trouble.tests:
            place = trouble.tests[id].place
            yield _Said(
                "test-out-of-reach", f"test '{id}' cannot be done: {why}", place, "record the way, or `applies:`"
            )
    for id, why in case.without_remedy.items():
        remedy = trouble.causes[id].remedy if id in trouble.causes else None
        if remedy is not None:
            message = f"cause '{id}' has a remedy that leads nowhere: {why}"
            yield _Said("remedy-not-here", message, remedy.text.place, _HELP)
    if not case.tests or len(problem.causes) < 2:
        return
    yield from _groups(case)
    table = Table(problem)
    for at, id in enumerate(table.tests):
        test = case.tests[id].joined
        if test.of is trouble and not table.tells_apart(at, table.everything):
            message, help = (
                f"test '{test.test.id}' answers alike for every cause",
                "say which causes give which outcome",
            )
            yield _Said("test-tells-nothing", message, test.test.place, help)
    yield from _unreached(case)


_HELP = "name a procedure for this machine, or narrow the cause with `applies:`"


def _groups(case: Case) -> Iterator[_Said]:
    """Each group once: at a symptom only those that are not already one code's own."""
    for group in groups_alike(case):
        at_a_code = any(all(one in code.causes for one in group.causes) for code in case.codes)
        if group.remedy is not None or at_a_code:
            continue
        names = ", ".join(f"'{one}'" for one in group.causes)
        message = f"no recorded test tells apart {names}, and no one remedy cures them"
        help = "record a test that answers differently for them; until then say which remedy to try first"
        yield _Said("ambiguity-group", message, case.causes[group.causes[0]].place, help)


def _unreached(case: Case) -> Iterator[_Said]:
    known = named_causes(case) | {id for group in groups_alike(case) for id in group.causes}
    left = [id for id in case.weights if id not in known and id in case.trouble.causes]
    if sum(case.weights[id] for id in left) > MOST * sum(case.weights.values()):
        names = ", ".join(f"'{one}'" for one in left)
        message = f"no test names {names}: most of what happens is only ever what is left over"
        place = case.trouble.causes[left[0]].place
        yield _Said("cause-unreached", message, place, "name them in an outcome of a test, or record a test for them")
