"""A code or symptom on one machine as built, made ready for the search: causes, tests, remedies, and what they cost.

Machines on which everything about it is the same are shown together. What nobody recorded is counted as something and
named.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from benchleaf.access.ways import ways_of
from benchleaf.applicability import Configuration, holds
from benchleaf.derived import Derived
from benchleaf.frozen import dataclass
from benchleaf.isolation.policy import Policy
from benchleaf.isolation.problem import Needs, Power, Problem, Remedy, Trial
from benchleaf.isolation.quality import Quality, quality
from benchleaf.isolation.test_order import best_order
from benchleaf.model import Machine
from benchleaf.records.codes import Cause, CodeRecord
from benchleaf.troubles.causes import causes_here, codes_seen, tests_here
from benchleaf.troubles.fault_tests import TestPlan, outcomes_of, plan_of_test
from benchleaf.troubles.lookup import Trouble
from benchleaf.troubles.masking import Masking, maskings
from benchleaf.troubles.openings import MINUTE, Openings
from benchleaf.troubles.remedies import RemedyPlan, remedies_of

TRIAL = 60.0
"""Seconds of running the machine to see whether it is cured: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """A trouble on machines where everything about it is the same.

    ``on`` are these machines in words, ``configurations`` themselves. ``causes`` by id; ``weights`` as counted, ``1``
    where ``unweighted``. ``without_remedy``: cause → why there is none. ``left_out``: tests that cannot be done here,
    with the reason. ``energies``: what is isolated and proved dead each time. ``problem`` is ``None`` when no cause is
    recorded for these machines. ``notes``: what is not recorded and what it counts as. ``masked``: signals of the code
    that something else supplies here; ``signals_known`` is false when nobody recorded which signals it depends on.
    """

    machine: str
    trouble: Trouble
    on: tuple[str, ...]
    configurations: tuple[Configuration, ...]
    causes: dict[str, Cause]
    weights: dict[str, float]
    unweighted: tuple[str, ...]
    tests: dict[str, TestPlan]
    left_out: dict[str, str]
    remedies: dict[str, RemedyPlan]
    without_remedy: dict[str, str]
    energies: tuple[str, ...]
    problem: Problem | None
    notes: tuple[str, ...]
    codes: tuple[CodeRecord, ...]
    masked: tuple[Masking, ...] = ()
    signals_known: bool = True

    @property
    def id(self) -> str:
        """``08`` or ``beeps-wont-feed``."""
        return str(self.trouble.code if isinstance(self.trouble, CodeRecord) else self.trouble.id)

    @property
    def name(self) -> str:
        """``code 08`` or the symptom in its words."""
        if isinstance(self.trouble, CodeRecord):
            return f"code {self.trouble.code}"
        heard = self.trouble.heard_as
        return str(self.trouble.title or (heard[0] if heard else self.trouble.id))


def cases_of(derived: Derived, machine: Machine, trouble: Trouble) -> tuple[Case, ...]:
    """The trouble on every machine it can occur on, those where everything is the same together; remembered."""
    kind = "code" if isinstance(trouble, CodeRecord) else "symptom"
    id = trouble.code if isinstance(trouble, CodeRecord) else trouble.id
    return derived.remember(
        ("cases", machine.id, kind, str(id)),
        lambda: together(case_on(derived, machine, one, trouble) for one in _meant(derived, machine, trouble)),
    )


def _meant(derived: Derived, machine: Machine, trouble: Trouble) -> Iterable[Configuration]:
    for one in derived.configurations(machine):
        if holds(trouble.applies, one, machine.record) is not False:
            yield one


def together(cases: Iterable[Case]) -> tuple[Case, ...]:
    """Cases that differ by nothing but the machine, as one."""
    groups: list[Case] = []
    for case in cases:
        for at, known in enumerate(groups):
            if replace(case, on=known.on, configurations=known.configurations) == known:
                on, configurations = known.on + case.on, known.configurations + case.configurations
                groups[at] = replace(known, on=on, configurations=configurations)
                break
        else:
            groups.append(case)
    return tuple(groups)


def case_on(derived: Derived, machine: Machine, configuration: Configuration, trouble: Trouble) -> Case:
    """The trouble on one machine as built."""
    openings = Openings(ways_of(derived, machine, configuration))
    causes = causes_here(trouble, machine, configuration)
    weights = {id: cause.likely if cause.likely is not None else 1.0 for id, cause in causes.items()}
    kept = {id: weight for id, weight in weights.items() if weight > 0}
    remedies, without = remedies_of(openings, {id: causes[id] for id in kept})
    plans = {
        id: plan_of_test(openings, joined, kept) for id, joined in tests_here(trouble, machine, configuration).items()
    }
    left_out = {id: plan.why_not for id, plan in plans.items() if plan.why_not}
    tests = {_apart(id, remedies): plan for id, plan in plans.items() if not plan.why_not}
    notes = [f"the weight of {id} is 0: it is left out" for id in weights if id not in kept]
    plans_here: list[TestPlan | RemedyPlan] = [*tests.values(), *remedies.values()]
    energies = openings.energies(one for plan in plans_here for one in plan.way.prove)
    problem, more = _problem(openings, kept, tests, remedies, energies) if kept else (None, ())
    unweighted = tuple(id for id, cause in causes.items() if cause.likely is None)
    if unweighted:
        notes.append(f"the weight of {', '.join(unweighted)} is not recorded: 1 is counted")
    return Case(
        machine=str(machine.id), trouble=trouble, on=(configuration.label,), configurations=(configuration,),
        causes=causes, weights=weights, unweighted=unweighted, tests=tests, left_out=left_out, remedies=remedies,
        without_remedy=without, energies=energies, problem=problem,
        notes=(*notes, *more), codes=codes_seen(trouble, machine),
        masked=maskings(derived, machine, configuration, trouble) if isinstance(trouble, CodeRecord) else (),
        signals_known=not isinstance(trouble, CodeRecord) or trouble.signals is not None,
    )  # fmt: skip


def _apart(id: str, remedies: dict[str, RemedyPlan]) -> str:
    """A test's id; one that is a remedy's too is told from it."""
    return f"test {id}" if id in remedies else id


def _problem(
    openings: Openings,
    weights: dict[str, float],
    tests: dict[str, TestPlan],
    remedies: dict[str, RemedyPlan],
    energies: tuple[str, ...],
) -> tuple[Problem, tuple[str, ...]]:
    every: list[TestPlan | RemedyPlan] = [*tests.values(), *remedies.values()]
    works = sorted({one for plan in every for one in plan.way.works})
    power, notes = openings.power(energies)
    is_dead = any(plan.needs.power is Power.DEAD for plan in every)
    problem = Problem(
        causes=weights,
        tests={id: outcomes_of(plan, weights) for id, plan in tests.items()},
        remedies={id: Remedy(plan.longest, plan.fixes, plan.needs) for id, plan in remedies.items()},
        covers={one: openings.cover(one) for one in works},
        power=power,
        trial=Trial(TRIAL / MINUTE, Needs(power=Power.ON)),
    )
    return problem, notes if is_dead else ()


def order_of(derived: Derived, case: Case) -> Policy | None:
    """The test order of a case, remembered; ``None`` when there is no cause to look for."""
    problem = case.problem
    if problem is None:
        return None
    return derived.remember(("test order", case.machine, case.id, case.on), lambda: best_order(problem))


def quality_of(derived: Derived, case: Case) -> Quality | None:
    """What the tests of a case are good for, remembered; ``None`` when there is no cause to look for."""
    problem = case.problem
    if problem is None:
        return None
    return derived.remember(
        ("isolation quality", case.machine, case.id, case.on), lambda: quality(problem, order_of(derived, case))
    )
