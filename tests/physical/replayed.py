"""What the tests of the replay share: the demo and a third machine, procedures with one thing changed.

The third machine stands in ``third_machine/`` and never in the demo, so a rule that only fits the demo fails here.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from benchleaf import nodes
from benchleaf.applicability import holds
from benchleaf.derived import Derived
from benchleaf.edges.files import read_library
from benchleaf.link import link
from benchleaf.model import Machine
from benchleaf.physical.acts import Problem
from benchleaf.physical.findings import ground_of
from benchleaf.physical.ground import Ground
from benchleaf.physical.replay import Replay, replay
from benchleaf.records.actions import Action, read_object
from benchleaf.records.reading import Desk, Misfit
from benchleaf.records.teardown import Step, TeardownRecord
from benchleaf.shape import shape
from benchleaf.text import NOWHERE, Text

HERE = Path(__file__).parent
FOLDERS = {"vs20": HERE / "third_machine", "fp420": HERE.parents[1] / "content", "bc300": HERE.parents[1] / "content"}


@cache
def library_of(folder: Path) -> Derived:
    sources, assets, _ = read_library(folder)
    shaped, misfits = shape(sources)
    library, dead = link(shaped, assets)
    assert not [one for one in (*misfits, *dead) if one.is_error]
    return Derived(library)


def derived_of(machine: str) -> Derived:
    return library_of(FOLDERS[machine])


def machine_of(machine: str) -> Machine:
    return derived_of(machine).library.machines[machine]


def grounds(machine: str) -> list[Ground]:
    derived, found = derived_of(machine), machine_of(machine)
    return [ground_of(derived, found, one) for one in derived.configurations(found)]


def all_replays() -> list[Replay]:
    """Every procedure of the three machines on every machine it is for."""
    return [
        replay(ground, procedure, machine_of(name).procedures)
        for name in FOLDERS
        for procedure in machine_of(name).procedures.values()
        for ground in grounds(name)
        if holds(procedure.applies, ground.built.configuration, machine_of(name).record) is not False
    ]


def name_of(one: Replay) -> str:
    return f"{one.ground.built.machine.id}/{one.procedure.id} on {one.ground.built.configuration.label}"


def action(written: str) -> Action:
    """``remove: 2 x tray.screw`` as an action."""
    verb, _, target = written.partition(": ")
    made = read_object(verb, nodes.Scalar(target, NOWHERE), Desk())
    assert not isinstance(made, Misfit), written
    return made


def is_it(one: Action, written: str) -> bool:
    return f"{one.verb}: {one.text}" == written


@dataclass(frozen=True)
class Change:
    """One change to a procedure: actions left out, put instead, or added; a step made prose; keys of a step changed."""

    machine: str
    procedure: str
    code: str
    at: str
    """The title of the step at which the first finding has to stand; empty = at the procedure itself."""
    on: str = ""
    """The configuration to replay on; empty = the first the procedure is for."""
    inside: str = ""
    """The procedure that is changed, where it is a condition of the one replayed."""
    without: tuple[str, ...] = ()
    instead: tuple[str, str] = ("", "")
    before: tuple[str, str] = ("", "")
    """``(added, existing)``: put before the action that is there; after all others of its step when it is empty."""
    last: tuple[str, ...] = ()
    """A step of these actions at the end."""
    prose: str = ""
    keys: tuple[tuple[str, str, object], ...] = ()
    """``(step title, field, value)``"""
    conditions: tuple[str, ...] | None = None

    @property
    def name(self) -> str:
        what = [*(f"without {one}" for one in self.without), " for ".join(filter(None, reversed(self.instead)))]
        what += [f"with {self.before[0]}" if self.before[0] else "", *(f"then {one}" for one in self.last)]
        what += [f"prose: {self.prose}" if self.prose else "", *(f"{one[1]} of {one[0]}" for one in self.keys)]
        return f"{self.procedure}-{self.code}-{'; '.join(one for one in what if one)}"


def changed(one: Change) -> TeardownRecord:
    """The procedure with its change. Fails when what is to be changed is not there: no change, no test."""
    procedure = machine_of(one.machine).procedures[one.inside or one.procedure]
    steps: list[Step] = []
    left = {*one.without, one.instead[0], one.before[1], one.prose, *(title for title, _, _ in one.keys)} - {""}
    for step in procedure.steps:
        do = step.do
        if do is not None:
            made: list[Action] = []
            for act in do:
                written = f"{act.verb}: {act.text}"
                left.discard(written)
                if written == one.before[1]:
                    made.append(action(one.before[0]))
                if written == one.instead[0]:
                    made.append(action(one.instead[1]))
                elif written not in one.without:
                    made.append(act)
            step = replace(step, do=tuple(made))
        if step.title == one.prose:
            left.discard(one.prose)
            step = replace(step, do=None, changes=None)
        for title, field, value in one.keys:
            if step.title == title:
                left.discard(title)
                step = replace(step, **{field: value})
        steps.append(step)
    assert not left, f"not in the procedure: {left}"
    if one.last:
        steps.append(Step(title=Text("Added"), do=tuple(action(written) for written in one.last)))
    if one.conditions is not None:
        procedure = replace(procedure, conditions=tuple(Text(name) for name in one.conditions))
    return replace(procedure, steps=tuple(steps))


def replay_changed(one: Change, ground: Ground | None = None) -> Replay:
    procedures = dict(machine_of(one.machine).procedures)
    procedures[one.inside or one.procedure] = changed(one)
    top = procedures[one.procedure]
    if ground is None:
        fits = [
            ground
            for ground in grounds(one.machine)
            if (not one.on or ground.built.configuration.label == one.on)
            and holds(top.applies, ground.built.configuration, ground.built.machine.record) is not False
        ]
        ground = fits[0]
    return replay(ground, top, procedures)


def first_problem(one: Replay) -> tuple[str, Problem] | None:
    """The title of the step with the first problem (empty = the whole procedure), and the problem.

    What the good procedure has already (the planted screws that look alike) does not count.
    """
    procedures = one.ground.built.machine.procedures
    known = {(p.code, p.message) for p in replay(one.ground, procedures[one.procedure.id], procedures).all_problems()}
    for step in one.steps:
        for problem in step.problems:
            if (problem.code, problem.message) not in known:
                return step.of.title, problem
    return next((("", problem) for problem in one.problems), None)
