"""An author's procedure beside the shortest way: both times, and what the record opens that its goal does not need.

The author may have had a reason the facts do not know. So nothing here is a fault: it is a question to the author, and
often a fact worth recording.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from benchleaf.access.paths import Access, Goal, access_path
from benchleaf.access.ways import Ways
from benchleaf.access.words import Words
from benchleaf.derived import Derived
from benchleaf.frozen import dataclass
from benchleaf.model import Machine
from benchleaf.physical.acts import Act
from benchleaf.physical.findings import replays_of
from benchleaf.physical.ground import Ground
from benchleaf.physical.least_path import AccessPath, least_path
from benchleaf.physical.replay import Replay
from benchleaf.physical.state import PROVED
from benchleaf.records.teardown import TeardownRecord

HAIR = 2e-6
"""Seconds: less than any time that is told apart, more than the solver rounds to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """A record with a goal, against the shortest way to it on one machine as built. Times in seconds.

    ``written_time`` is what opening takes as the record and its conditions do it, priced like a path; ``least_time``
    that of the shortest way with its proofs. ``superfluous``: what the record opens and, by what is recorded, its goal
    does not need, each in words. ``instead``: what the shortest way opens that the record does not.
    """

    procedure: str
    title: str
    goal: Goal
    item: str
    configuration: str
    written_time: float
    least_time: float
    is_least: bool
    superfluous: tuple[str, ...] = ()
    instead: tuple[str, ...] = ()

    @property
    def is_longer(self) -> bool:
        """Whether the record takes longer than the shortest way."""
        return self.written_time > self.least_time + 1e-6


def comparisons(derived: Derived, machine: Machine, ways: Ways, item: str) -> tuple[Comparison, ...]:
    """Every procedure an author wrote to reach, remove or replace an item, by id, on this machine as built."""
    found = []
    for procedure in machine.procedures.values():
        goal = procedure.goal
        if goal is None or goal.item is None or goal.item.item != item or item not in ways.built.items:
            continue
        found += [
            comparison(ways, one, goal.kind, item)
            for one in replays_of(derived, machine, procedure)
            if goal.kind != "text" and one.ground.built.configuration == ways.built.configuration
        ]
    return tuple(sorted(found, key=lambda one: one.procedure))


def comparison(ways: Ways, written: Replay, goal: Goal, item: str) -> Comparison:
    """One replayed procedure against the shortest way to its goal."""
    words = Words(ways)
    done = tuple(dict.fromkeys(_works(ways.ground, written, ways)))
    access = access_path(ways, item, "remove" if goal == "replace" else goal)
    needed = ways.needed(_targets(ways, access, written), done, dead=True)
    least = ways.works(_most_alike(ways, access, done))
    return Comparison(
        procedure=str(written.procedure.id),
        title=str(written.procedure.title),
        goal=goal,
        item=item,
        configuration=ways.built.configuration.label,
        written_time=sum(ways.operation(one).time for one in done),
        least_time=access.work_time,
        is_least=access.is_least,
        superfluous=tuple(words.of(one) for one in done if one not in needed),
        instead=tuple(words.of(one) for one in least if one not in done),
    )


def _most_alike(ways: Ways, access: Access, done: tuple[str, ...]) -> tuple[str, ...]:
    """Of the quickest ways that with most in common with what was done: there every operation is a little quicker."""
    mine = frozenset(done)
    operations = {
        name: replace(one, time=one.time - HAIR) if name in mine and one.time > HAIR else one
        for name, one in ways.dead_network.operations.items()
    }
    found = least_path(operations, access.targets)
    return found.order if isinstance(found, AccessPath) else access.order


def _targets(ways: Ways, access: Access, written: Replay) -> tuple[str, ...]:
    """The goal, and every energy the record proves dead: what that opens is not superfluous."""
    proved = {name for step in written.steps for name, how in step.after.energies.items() if how == PROVED}
    return (*access.targets, *(f"proved:{name}" for name in sorted(proved)))


def _works(ground: Ground, written: Replay, ways: Ways) -> Iterator[str]:
    """The operations that a replay does, as far as a path knows them."""
    for step in written.steps:
        for done in step.done:
            one = work_of(ground, done.act)
            if one in ways.dead_network.operations:
                yield one


def work_of(ground: Ground, act: Act) -> str:
    """The operation an act is; empty when it opens nothing."""
    verb, what, at = act.verb, act.what, act.at
    if verb in ("remove", "loosen"):
        return f"un:{what}"
    if verb == "lift off":
        return f"off:{what}"
    if verb == "move":
        return f"to:{what}@{at}"
    if verb == "unplug":
        return f"open:{at}@{what}"
    if verb == "lift lead":
        ends = (str(end.at) for end in ground.built.cables[what].ends)
        return next((f"open:{what}@{end}" for end in ends if end == at or at in ground.leads(what, end)), "")
    if verb == "open" and at:
        return f"joint:{what}@{at}"
    if verb == "cut":
        return f"tie:{what}"
    return f"{verb}:{what}" if verb in ("drain", "clamp", "cover") else ""


def makes_dead(derived: Derived, machine: Machine, ways: Ways, energies: tuple[str, ...]) -> tuple[TeardownRecord, ...]:
    """The author's procedures, by id, that others begin with, that leave all these energies proved dead and no more."""
    conditions = {str(one) for procedure in machine.procedures.values() for one in procedure.conditions}
    found = []
    for name in sorted(conditions & set(machine.procedures)):
        goal = machine.procedures[name].goal
        if goal is not None and goal.item is not None:
            continue
        for one in replays_of(derived, machine, machine.procedures[name]):
            is_here = one.ground.built.configuration == ways.built.configuration
            if is_here and energies and all(one.end.is_proved(energy) for energy in energies):
                found.append(one.procedure)
    return tuple(found)

