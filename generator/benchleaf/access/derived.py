"""Derived procedures: reach, remove, replace for any item, replayed there and back before anyone sees them.

A page shows one where no author wrote one, marked derived and unverified. What the replay has to say of it stands on
the page: a derived procedure that breaks a rule is never shown as sound.
"""

from __future__ import annotations

from collections.abc import Mapping

from benchleaf.access.paths import Access, Goal, access_path
from benchleaf.access.procedure import record_of
from benchleaf.access.ways import Ways, all_ways, ways_of
from benchleaf.applicability import Configuration, holds
from benchleaf.derived import Derived
from benchleaf.diagnostics import Severity
from benchleaf.frozen import dataclass
from benchleaf.model import Machine
from benchleaf.physical.acts import Problem
from benchleaf.physical.owed_checks import OwedChecks, owed_checks
from benchleaf.physical.reassembly import Reassembly, reassembly
from benchleaf.physical.replay import Replay, replay
from benchleaf.records.codes import Remedy
from benchleaf.records.teardown import TeardownRecord


@dataclass(frozen=True, slots=True, kw_only=True)
class DerivedProcedure:
    """A procedure nobody wrote, on one machine as built.

    ``record`` reads like an author's; ``replay``, ``back`` and ``owed`` are what follows from it as from any other.
    ``problems`` is everything the rules said, there and back.
    """

    access: Access
    record: TeardownRecord
    replay: Replay
    back: Reassembly
    owed: OwedChecks
    problems: tuple[Problem, ...]

    @property
    def is_clean(self) -> bool:
        """Whether no rule is broken, there and back, and the ledger closes."""
        return not self.errors and self.back.ledger.is_closed

    @property
    def errors(self) -> tuple[Problem, ...]:
        return tuple(one for one in self.problems if one.severity is Severity.ERROR)

    @property
    def steps_alone(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Titles and actions: what two configurations are compared by."""
        return tuple(
            (str(step.title), tuple(f"{one.verb}: {one.text}" for one in step.do or ())) for step in self.record.steps
        )


def derived_procedure(ways: Ways, item: str, goal: Goal = "replace") -> DerivedProcedure | Access:
    """The derived procedure for an item; its access alone, with the reason, where there is no way."""
    access = access_path(ways, item, goal)
    if not access.is_reached:
        return access
    record = record_of(ways, access)
    there = replay(ways.ground, record, {})
    back = reassembly(there)
    problems = [*there.all_problems(), *(problem for _, problem in back.all_problems())]
    return DerivedProcedure(
        access=access,
        record=record,
        replay=there,
        back=back,
        owed=owed_checks(ways.ground, back.end),
        problems=tuple(dict.fromkeys(problems)),
    )


def procedure_of(
    derived: Derived, machine: Machine, configuration: Configuration, item: str, goal: Goal = "replace"
) -> DerivedProcedure | Access:
    """``derived_procedure`` of a machine of the library, remembered."""
    return derived.remember(
        ("derived procedure", machine.id, configuration, item, goal),
        lambda: derived_procedure(ways_of(derived, machine, configuration), item, goal),
    )


def by_configuration(
    derived: Derived, machine: Machine, item: str, goal: Goal = "replace"
) -> tuple[tuple[tuple[Configuration, ...], DerivedProcedure | Access], ...]:
    """The derived procedure in every configuration that has the item; those with the same steps together."""
    groups: dict[object, tuple[list[Configuration], DerivedProcedure | Access]] = {}
    for configuration, ways in all_ways(derived, machine).items():
        if item in ways.built.items:
            one = procedure_of(derived, machine, configuration, item, goal)
            key = one.steps_alone if isinstance(one, DerivedProcedure) else one.out_of_reach
            groups.setdefault(key, ([], one))[0].append(configuration)
    return tuple((tuple(many), one) for many, one in groups.values())


def authors_procedure(
    machine: Machine, configuration: Configuration, item: str, goal: Goal = "replace"
) -> TeardownRecord | None:
    """The author's procedure with that goal for a machine, the first by id; ``None`` when no such stands."""
    for name in sorted(machine.procedures):
        one = machine.procedures[name]
        aim = one.goal
        is_it = aim is not None and aim.kind == goal and aim.item is not None and aim.item.item == item
        is_withdrawn = one.verified is not None and one.verified.state == "withdrawn"
        if is_it and not is_withdrawn and holds(one.applies, configuration, machine.record) is not False:
            return one
    return None


def remedy_procedure(
    derived: Derived, machine: Machine, configuration: Configuration, remedy: Remedy
) -> TeardownRecord | DerivedProcedure | Access | None:
    """What a remedy leads to on a machine: an author's procedure, else the derived one; ``None`` when it names nothing.

    A ``replace ITEM`` that no author wrote is the derived procedure, or its access alone where there is no way.
    """
    if remedy.procedure is not None:
        return machine.procedures.get(remedy.procedure)
    item = str(remedy.replace.item) if remedy.replace is not None else ""
    if item not in derived.built(machine, configuration).items:
        return None
    written = authors_procedure(machine, configuration, item)
    return written if written is not None else procedure_of(derived, machine, configuration, item)


def as_author(record: TeardownRecord) -> Mapping[str, object]:
    """A derived record as an author would write it, ready to be set in YAML: a beginning for one that was done."""
    steps = []
    for step in record.steps:
        written: dict[str, object] = {"title": str(step.title)}
        if step.do:
            written["do"] = [{one.verb: str(one.text)} for one in step.do]
        if step.text is not None:
            written["text"] = str(step.text)
        if step.persons is not None:
            written["persons"] = step.persons
        steps.append(written)
    goal = record.goal.text if record.goal is not None else ""
    return {
        "record": "teardown", "id": str(record.id), "machine": str(record.machine), "title": str(record.title),
        "goal": str(goal), "verified": "unverified", "steps": steps,
    }  # fmt: skip
