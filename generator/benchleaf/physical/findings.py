"""What the replay has to say about a whole library: each finding once, naming the machines on which it holds."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import field

from benchleaf.applicability import Configuration, holds
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place, Severity
from benchleaf.frozen import dataclass
from benchleaf.model import Machine
from benchleaf.physical.acts import Problem
from benchleaf.physical.ground import Ground
from benchleaf.physical.reassembly import Reassembly, reassembly
from benchleaf.physical.replay import Replay, replay
from benchleaf.records.teardown import TeardownRecord

LOOKS = frozenset({"inspect", "label", "photograph", "back up", "restore", "measure"})
"""Verbs after which nothing stands open: a procedure of these alone needs no energy recorded."""


def ground_of(derived: Derived, machine: Machine, configuration: Configuration) -> Ground:
    """What the replay looks up of a machine in one configuration, remembered."""
    return derived.remember(
        ("ground", machine.id, configuration),
        lambda: Ground(derived.built(machine, configuration), derived.library),
    )


def replays_of(derived: Derived, machine: Machine, procedure: TeardownRecord) -> tuple[Replay, ...]:
    """The procedure replayed in every configuration it applies to, in the order of configurations."""

    def make() -> tuple[Replay, ...]:
        return tuple(
            replay(ground_of(derived, machine, one), procedure, machine.procedures)
            for one in derived.configurations(machine)
            if holds(procedure.applies, one, machine.record) is not False
        )

    return derived.remember_lately(("replays", machine.id, procedure.id), make)


def reassemblies_of(derived: Derived, machine: Machine, procedure: TeardownRecord) -> tuple[Reassembly, ...]:
    """The way back of every replay, in the same order."""

    def make() -> tuple[Reassembly, ...]:
        return tuple(reassembly(one) for one in replays_of(derived, machine, procedure))

    return derived.remember_lately(("reassemblies", machine.id, procedure.id), make)


@dataclass
class _Seen:
    """A problem with the machines and the procedures it was seen in."""

    problem: Problem
    by: dict[str, list[str]] = field(default_factory=dict)


def procedure_findings(derived: Derived, machine: Machine) -> Iterator[Finding]:
    """What replaying every procedure of a machine, there and back, finds."""
    seen: dict[tuple[str, Place, str], _Seen] = {}
    ran: dict[str, list[str]] = {}
    for procedure in machine.procedures.values():
        replays = replays_of(derived, machine, procedure)
        ran[procedure.id] = [one.ground.built.configuration.label for one in replays]
        for one in replays:
            label = one.ground.built.configuration.label
            problems = list(one.all_problems())
            problems += _of_the_way_back(derived, machine, one, problems)
            for problem in problems:
                key = (problem.code, problem.place, problem.message)
                labels = seen.setdefault(key, _Seen(problem)).by.setdefault(str(procedure.id), [])
                if label not in labels:
                    labels.append(label)
        yield from _unchecked(procedure)
    for one_seen in seen.values():
        yield _finding(machine, one_seen, ran)
    yield from _nothing_recorded(derived, machine)


def _finding(machine: Machine, seen: _Seen, ran: dict[str, list[str]]) -> Finding:
    """One finding: without a tail where it holds on every machine its own procedure is for."""
    problem = seen.problem
    own = next((str(p.id) for p in machine.procedures.values() if p.place.file == problem.place.file), "")
    name = own if own in seen.by else next(iter(seen.by))
    labels, all_labels = seen.by[name], ran[name]
    tail = "" if len(labels) == len(all_labels) else f" (on {'; '.join(labels)})"
    related = problem.related
    if name != own and own:
        procedure = machine.procedures[name]
        related = (*related, (procedure.place, f"when replayed as a condition of {name}"))
    return Finding(
        code=problem.code,
        message=f"{problem.message}{tail}",
        place=problem.place,
        help=problem.help,
        severity=problem.severity,
        related=related,
    )


def _of_the_way_back(derived: Derived, machine: Machine, one: Replay, problems: list[Problem]) -> list[Problem]:
    """The problems of the derived reassembly; none are looked for while the teardown itself has errors."""
    if any(problem.severity is Severity.ERROR for problem in problems):
        return []
    all_back = reassemblies_of(derived, machine, one.procedure)
    back = next(back for back in all_back if back.replay is one)
    known = {(problem.code, problem.message) for problem in problems}
    found = [
        _back_problem(problem, step.title, one.procedure.title.place)
        for step, problem in back.all_problems()
        if (problem.code, problem.message) not in known
    ]
    if not found and back.stopped_at is None and back.ledger.open:
        lines = "; ".join(entry.words for entry in back.ledger.open)
        message = f"the ledger does not close: {lines}"
        help = "add what is missing under `on-return` of the step that opens it"
        found.append(Problem(code="ledger-open", message=message, place=one.procedure.title.place, help=help))
    return found


def _back_problem(problem: Problem, title: str, otherwise: Place) -> Problem:
    """A problem of the way back, at the step it comes from; of what comes from none, at the procedure."""
    return Problem(
        code=problem.code,
        message=f"on the way back, at '{title}': {problem.message}",
        place=problem.place if problem.place.file else otherwise,
        help=f"write the way back of this step under `on-return`, or: {problem.help}",
        severity=problem.severity,
        related=problem.related,
    )


def _unchecked(procedure: TeardownRecord) -> Iterator[Finding]:
    """Prose steps: the record compiles, and it is said that nothing in them is checked."""
    prose = [step for step in procedure.steps if step.do is None and step.changes is None]
    if prose:
        all_of = len(procedure.steps)
        message = f"{len(prose)} of {all_of} steps say{'s' * (len(prose) == 1)} nothing that can be checked"
        help = "write `do:`, or `changes: none` where a step changes nothing"
        yield Finding("unchecked-steps", message, prose[0].place, help, Severity.WARNING)


def _nothing_recorded(derived: Derived, machine: Machine) -> Iterator[Finding]:
    """Neither an energy nor a source: everything counts as energised, and nothing can be proved."""
    configurations = derived.configurations(machine)
    if not configurations or not ground_of(derived, machine, configurations[0]).liveness.nothing_recorded:
        return
    opens = any(
        action.verb not in LOOKS
        for one in machine.procedures.values()
        for step in one.steps
        for action in step.do or ()
    )
    if opens:
        message = f"no energy of {machine.id} is recorded: everything in it counts as energised, hot and loaded"
        help = "record under `energy` what can hurt and how it is isolated; `energy: {}` says there is none"
        yield Finding("energy-not-recorded", message, machine.record.place_of("items"), help, Severity.WARNING)
