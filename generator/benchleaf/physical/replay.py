"""The procedure checker: a record replayed on the machine, step by step, under every rule.

Conditions are replayed first and hand on their state. An act that breaks a rule is still done, so that one slip gives
one finding, not twenty.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from benchleaf.applicability import holds
from benchleaf.diagnostics import Place, Severity
from benchleaf.frozen import dataclass
from benchleaf.physical import effects
from benchleaf.physical.acts import Act, Problem, expand
from benchleaf.physical.ground import Ground
from benchleaf.physical.look import Look
from benchleaf.physical.rules import fluids
from benchleaf.physical.state import OFF, Counts, State, StepRef
from benchleaf.physical.verbs import VERBS
from benchleaf.records.actions import Action
from benchleaf.records.teardown import Step, TeardownRecord

SAFETY_CODES = frozenset(
    {
        "still-live", "exposes-live", "isolation-order", "not-discharged", "measured-live", "wet-line-opened",
        "energised-open", "board-under-joint", "settings-not-saved", "not-there", "wrong-cable", "lead-soldered",
        "captive-removed", "nothing-to-slide", "cannot-clamp", "too-heavy", "no-tool", "laid-wet",
    }
)  # fmt: skip
"""Codes that an unchecked step before them does not soften: it cannot have made them right, or made it worse."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """One act with the state it left and what the rules said of it."""

    act: Act
    after: State
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StepDone:
    """One replayed step. ``of`` says which; ``is_condition`` = it belongs to a procedure replayed first."""

    of: StepRef
    step: Step
    procedure: TeardownRecord
    is_condition: bool
    before: State
    after: State
    done: tuple[Done, ...] = ()
    problems: tuple[Problem, ...] = ()
    is_unchecked: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Replay:
    """A procedure replayed on one machine in one configuration. ``steps`` begins with those of its conditions."""

    ground: Ground
    procedure: TeardownRecord
    start: State
    steps: tuple[StepDone, ...]
    problems: tuple[Problem, ...] = ()

    @property
    def end(self) -> State:
        return self.steps[-1].after if self.steps else self.start

    @property
    def own_steps(self) -> tuple[StepDone, ...]:
        """The steps of the procedure itself, without its conditions."""
        return tuple(one for one in self.steps if not one.is_condition)

    def all_problems(self) -> Iterator[Problem]:
        """What the rules said of the procedure itself and of its conditions in this place, in order."""
        for one in self.steps:
            yield from one.problems
        yield from self.problems

    def after(self, number: int) -> State:
        """The state after so many of the procedure's own steps; 0 = after its conditions. Raises IndexError."""
        own = self.own_steps
        if number < 0 or number > len(own):
            raise IndexError(number)
        if number:
            return own[number - 1].after
        return own[0].before if own else self.end


def replay(ground: Ground, procedure: TeardownRecord, procedures: Mapping[str, TeardownRecord]) -> Replay:
    """Replay ``procedure`` on the machine, its conditions first; ``procedures`` are those of the machine, by id."""
    start = start_state(ground)
    steps: list[StepDone] = []
    problems: list[Problem] = []
    state = start
    for one, is_condition in _in_order(procedure, procedures, problems):
        if is_condition and holds(one.applies, ground.built.configuration, ground.built.machine.record) is False:
            continue
        for done in run_steps(ground, one, state, is_condition):
            steps.append(done)
            state = done.after
    problems.extend(_goal(ground, procedure, state))
    return Replay(ground=ground, procedure=procedure, start=start, steps=tuple(steps), problems=tuple(problems))


def start_state(ground: Ground) -> State:
    """The machine as it comes in: assembled and energised, with the deviations of its serial."""
    counts: dict[str, Counts] = {}
    for one in ground.built.as_found:
        sets = [s.name for s in ground.built.sets_of(one.set.item)] if not one.set.own else [str(one.set)]
        for name in sets:
            if name in ground.built.sets and one.missing:
                there = max(ground.built.sets[name].count - one.missing, 0)
                counts[name] = Counts(tight=there, missing=ground.built.sets[name].count - there)
    return State(counts=counts)


def _in_order(
    procedure: TeardownRecord, procedures: Mapping[str, TeardownRecord], problems: list[Problem]
) -> list[tuple[TeardownRecord, bool]]:
    """Conditions of conditions first, each once, the procedure last."""
    order: list[tuple[TeardownRecord, bool]] = []
    done: set[str] = set()

    def visit(one: TeardownRecord, path: tuple[str, ...]) -> None:
        for condition in one.conditions:
            if condition in path:
                ring = " → ".join((*path[path.index(condition) :], str(condition)))
                message = f"a procedure cannot be its own condition: {ring}"
                if condition == procedure.id:
                    problems.append(
                        Problem(code="condition-ring", message=message, place=condition.place, help="take one out")
                    )
            elif condition in procedures and condition not in done:
                visit(procedures[condition], (*path, str(condition)))
        if one.id not in done:
            done.add(str(one.id))
            order.append((one, one is not procedure))

    visit(procedure, (str(procedure.id),))
    return order


def run_steps(
    ground: Ground, procedure: TeardownRecord, state: State, is_condition: bool = False
) -> Iterator[StepDone]:
    """The steps of one procedure from a state on; those that are not for this machine are left out."""
    record = ground.built.machine.record
    for number, step in enumerate(procedure.steps, 1):
        if holds(step.applies, ground.built.configuration, record) is False:
            continue
        of = StepRef(str(procedure.id), number, str(step.title), step.place)
        done = run_step(ground, state, step, of, procedure, is_condition)
        yield done
        state = done.after


def run_step(
    ground: Ground, state: State, step: Step, of: StepRef, procedure: TeardownRecord, is_condition: bool
) -> StepDone:
    """One step: its acts one by one, or nothing checked when it has none."""
    before = state
    if step.do is None:
        is_unchecked = step.changes is None
        if is_unchecked:
            state = effects.unchecked(state.having(unchecked=(*state.unchecked, of)))
        return StepDone(
            of=of, step=step, procedure=procedure, is_condition=is_condition, before=before, after=state,
            is_unchecked=is_unchecked,
        )  # fmt: skip
    done: list[Done] = []
    problems: list[Problem] = []
    for action in step.do:
        state = _run_action(ground, state, action, step, done, problems)
    problems.extend(_at_the_end(ground, state, step, done))
    return StepDone(
        of=of, step=step, procedure=procedure, is_condition=is_condition, before=before, after=state,
        done=tuple(done), problems=tuple(problems),
    )  # fmt: skip


def _run_action(
    ground: Ground, state: State, action: Action, step: Step, done: list[Done], problems: list[Problem]
) -> State:
    acts, misfits = expand(ground, state, action)
    problems.extend(misfits)
    if misfits and not acts:
        state = effects.attempted(ground, state, action)
    for act in acts:
        one = run_act(ground, state, act, step)
        done.append(one)
        problems.extend(one.problems)
        state = one.after
    return state


def run_act(ground: Ground, state: State, act: Act, step: Step | None = None) -> Done:
    """One act: every rule of its verb looks at the state before it, then it is done."""
    verb = VERBS[act.verb]
    look = Look(ground, state, act, step)
    found: list[Problem] = []
    for rule in verb.conditions:
        said = rule(look)
        if said:
            found.extend(said)
    if found and state.unchecked:
        found = [_softened(one, state.unchecked[-1]) for one in found]
    return Done(act=act, after=verb.effect(ground, state, act), problems=tuple(found))


def _softened(problem: Problem, by: StepRef) -> Problem:
    """After an unchecked step, what it may have done counts as not recorded: asked about, not refused."""
    if problem.code in SAFETY_CODES or problem.severity is Severity.WARNING:
        return problem
    message = f"{problem.message}, unless the unchecked step '{by.title}' saw to that"
    related = (*problem.related, (by.place, "this step says nothing that can be checked"))
    return replace(problem, message=message, severity=Severity.WARNING, related=related)


def _at_the_end(ground: Ground, state: State, step: Step, done: Iterable[Done]) -> Iterator[Problem]:
    """What must not be left at the end of a step: a joint opened in it and not capped."""
    for one in done:
        if one.act.verb == "open":
            yield from fluids.left_open(Look(ground, state, one.act, step))


def _goal(ground: Ground, procedure: TeardownRecord, end: State) -> Iterator[Problem]:
    goal = procedure.goal
    if goal is None or goal.item is None:
        return
    item = goal.item.item
    if item not in ground.built.items:
        yield _unmet_goal(end, goal.text.place, f"{item} is not on this machine")
        return
    is_off = ground.is_away(end, item)
    if goal.kind == "reach" and not is_off and ground.unmet(end, ground.reach_of(item)):
        yield _unmet_goal(end, goal.text.place, f"{item} cannot be reached at the last step")
    elif goal.kind == "remove" and not is_off:
        yield _unmet_goal(end, goal.text.place, f"{item} is still on at the last step")
    elif goal.kind == "replace" and item not in end.renewed and not is_off:
        yield _unmet_goal(end, goal.text.place, f"{item} is neither off nor renewed at the last step")


def _unmet_goal(end: State, place: Place, message: str) -> Problem:
    if end.unchecked:
        message += f", unless the unchecked step '{end.unchecked[-1].title}' saw to that"
        severity, help = Severity.WARNING, "write `do:` in that step"
    else:
        severity, help = Severity.ERROR, "add the steps that are missing, or mend the goal"
    return Problem(code="goal-not-met", message=message, place=place, help=help, severity=severity)


__all__ = ["OFF", "Done", "Replay", "StepDone", "replay", "run_act", "run_step", "run_steps", "start_state"]
