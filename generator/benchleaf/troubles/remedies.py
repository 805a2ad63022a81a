"""What cures a cause on one machine as built: which procedure, what has to be opened for it, how long hands are at it.

``replace ITEM`` is the procedure an author wrote for that, where there is one for this machine; else it is derived. The
hands-on minutes are those recorded at the cause; else they are worked out from the procedure, without what is opened
to get there. What is opened is the shortest way to where the work is, priced once.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import fsum

from benchleaf.access.derived import authors_procedure
from benchleaf.access.paths import targets_of
from benchleaf.applicability import holds
from benchleaf.frozen import dataclass
from benchleaf.isolation.problem import Needs, Power
from benchleaf.physical.operations import named, subject_of
from benchleaf.physical.times import seconds
from benchleaf.records.actions import Action
from benchleaf.records.codes import Cause
from benchleaf.records.teardown import Step, TeardownRecord
from benchleaf.troubles.openings import MINUTE, Opening, Openings

RECORDED = "recorded"
COMPUTED = "computed from the procedure"
PROSE = 60.0
"""Seconds for a step of prose that nobody timed: common practice, no source."""
HANDS_ON = frozenset({
    "clean", "inspect", "adjust", "renew", "measure", "unplug", "plug", "disconnect", "disconnect all", "lift lead",
    "land lead", "open", "close", "back up", "restore",
})  # fmt: skip
"""Verbs that are the work itself. The others (remove, lift off, move …) only clear the way to it."""
MAKES_DEAD = frozenset({"isolate", "discharge", "prove dead"})


@dataclass(frozen=True, slots=True, kw_only=True)
class RemedyPlan:
    """A remedy on one machine. ``id`` is the procedure's, or ``replace M2`` where it is derived.

    ``minutes`` hands-on, for each cause they cure (by id); ``counted`` says where they come from. ``way`` leads
    there. ``notes`` say what nobody recorded and what it counts as.
    """

    id: str
    title: str
    procedure: str | None
    item: str | None
    minutes: tuple[tuple[str, float], ...]
    counted: tuple[tuple[str, str], ...]
    way: Opening
    needs: Needs
    notes: tuple[str, ...] = ()

    @property
    def fixes(self) -> tuple[str, ...]:
        return tuple(cause for cause, _ in self.minutes)

    @property
    def longest(self) -> float:
        """The minutes the search counts: those of the cause that takes longest."""
        return max(minutes for _, minutes in self.minutes)


def remedies_of(openings: Openings, causes: dict[str, Cause]) -> tuple[dict[str, RemedyPlan], dict[str, str]]:
    """The remedies of causes by id, each once; and for every cause without one, why."""
    plans: dict[str, RemedyPlan] = {}
    none: dict[str, str] = {}
    for id, cause in causes.items():
        plan = _plan(openings, id, cause)
        if isinstance(plan, str):
            none[id] = plan
            continue
        known = plans.get(plan.id)
        if known is not None:
            plan = _joined(known, plan)
        plans[plan.id] = plan
    return plans, none


def _joined(known: RemedyPlan, more: RemedyPlan) -> RemedyPlan:
    return replace(
        known,
        minutes=known.minutes + more.minutes,
        counted=known.counted + more.counted,
        notes=tuple(dict.fromkeys(known.notes + more.notes)),
    )


def _plan(openings: Openings, id: str, cause: Cause) -> RemedyPlan | str:
    remedy, built = cause.remedy, openings.built
    if remedy is None:
        return "no remedy is recorded"
    if remedy.procedure is not None:
        procedure = built.machine.procedures.get(str(remedy.procedure))
        if procedure is None:
            return f"there is no procedure {remedy.procedure}"
        if is_withdrawn(procedure):
            return f"the procedure {procedure.id} is withdrawn"
        if not _is_for(openings, procedure):
            return f"the procedure {procedure.id} is not for this machine"
        return _written(openings, id, cause, procedure)
    item = remedy.replace.item if remedy.replace is not None else ""
    if item not in built.items:
        return f"there is no {item} on this machine"
    author = authors_procedure(built.machine, built.configuration, item)
    return _written(openings, id, cause, author) if author is not None else _derived(openings, id, cause, item)


def _is_for(openings: Openings, procedure: TeardownRecord) -> bool:
    built = openings.built
    return holds(procedure.applies, built.configuration, built.machine.record) is not False


def is_withdrawn(procedure: TeardownRecord) -> bool:
    return procedure.verified is not None and procedure.verified.state == "withdrawn"


# ---- written by an author


def _written(openings: Openings, id: str, cause: Cause, procedure: TeardownRecord) -> RemedyPlan:
    goal, built = procedure.goal, openings.built
    steps = tuple(_steps(openings, procedure))
    item = goal.item.item if goal is not None and goal.item is not None and goal.item.item in built.items else None
    notes: list[str] = []
    if _stays_as_it_is(openings, procedure):
        opening, needs = Opening(), _standing(steps)
        if any(step.do is None for step in steps):
            notes.append("steps of prose are not checked: whether they want the machine dead is for you to judge")
    else:
        opening = _way_to(openings, procedure, steps, item)
        needs = Needs(open=frozenset(opening.works), others_closed=False, power=Power.DEAD)
    if opening.why_not:
        notes.append(f"what has to be opened for it is not counted: {opening.why_not}")
    minutes, counted = _hands_on(openings, cause, steps, opening, notes)
    return RemedyPlan(
        id=str(procedure.id), title=str(procedure.title), procedure=str(procedure.id), item=item,
        minutes=((id, minutes),), counted=((id, counted),), way=opening, needs=needs,
        notes=tuple(notes),
    )  # fmt: skip


def _steps(openings: Openings, procedure: TeardownRecord) -> Iterator[Step]:
    built = openings.built
    for step in procedure.steps:
        if holds(step.applies, built.configuration, built.machine.record) is not False:
            yield step


def _stays_as_it_is(openings: Openings, procedure: TeardownRecord, seen: frozenset[str] = frozenset()) -> bool:
    """Whether a procedure says of every step that it changes nothing, or that it is done with power on and covers
    closed; only then does it not want the machine dead. A step that does not say so counts as hands inside."""
    if procedure.id in seen:
        return True
    known = openings.built.machine.procedures
    conditions = [known.get(str(one)) for one in procedure.conditions]
    below = seen | {str(procedure.id)}
    if any(one is None or not _stays_as_it_is(openings, one, below) for one in conditions):
        return False
    return all(_changes_nothing(step) or _is_closed_test(step) for step in _steps(openings, procedure))


def _changes_nothing(step: Step) -> bool:
    return step.changes == "none" and not step.do


def _is_closed_test(step: Step) -> bool:
    return step.powered is not None and step.covers == "closed"


def _standing(steps: Iterable[Step]) -> Needs:
    if any(_is_closed_test(step) for step in steps):
        return Needs(power=Power.ON)
    return Needs(others_closed=False, power=Power.EITHER)


def _way_to(openings: Openings, procedure: TeardownRecord, steps: tuple[Step, ...], item: str | None) -> Opening:
    """The shortest way to where a written procedure works: to its goal, else to every item it handles."""
    goal = procedure.goal
    if goal is not None and item is not None and goal.kind != "text":
        return way_to_item(openings, item, goal.kind)
    actions = [action for step in steps for action in step.do or ()]
    places = list(dict.fromkeys(place for action in actions for place in _places(openings, action)))
    return openings.to([f"reach:{one}" for one in places], dead=True)


def _places(openings: Openings, action: Action) -> Iterator[str]:
    """The items at which an action is the work itself."""
    built, target = openings.built, str(action.target)
    if action.verb not in HANDS_ON:
        return
    if action.verb == "adjust" and target in built.adjusters:
        on = built.adjusters[target].on_item
        found = [on.item] if on is not None else []
    elif action.verb in ("open", "close") and action.to:
        found = [str(action.to)]
    elif action.measure is not None and action.measure.between is not None:
        found = [built.item_of_contact(str(one)) or "" for one in action.measure.between]
    elif target in built.connectors:
        found = [built.host_item(target) or ""]
    elif action.to:
        found = [built.item_of_contact(str(action.to)) or str(action.to)]
    else:
        found = [target.partition(".")[0]]
    yield from (one for one in found if one in built.items)


# ---- derived


def way_to_item(openings: Openings, item: str, goal: str) -> Opening:
    """The shortest way to an item to reach, remove or replace it, without what is undone at the item itself: that is
    hands-on work."""
    targets = (f"reach:{item}",) if goal == "reach" else targets_of(openings.ways, item, "remove")
    opening = openings.to(targets, dead=True)
    own = frozenset(own_works(openings, item, opening.works))
    return replace(opening, works=tuple(one for one in opening.works if one not in own))


def own_works(openings: Openings, item: str, works: Iterable[str]) -> tuple[str, ...]:
    """Of a way those operations that are done at the item, or at something in it, and that nothing else on the way
    waits for."""
    ways, inside, every = openings.ways, openings.built.inside(item), tuple(works)
    at_item = {
        one
        for one in every
        if named(one).kind in ("un", "off", "open", "joint", "tie") and subject_of(ways.ground, one) in inside
    }
    others = [one for one in every if one not in at_item]
    waited_for = ways.needed(others, every, dead=True) if others else frozenset()
    return tuple(one for one in every if one in at_item and one not in waited_for)


def _derived(openings: Openings, id: str, cause: Cause, item: str) -> RemedyPlan:
    whole = openings.to(targets_of(openings.ways, item, "replace"), dead=True)
    opening = way_to_item(openings, item, "replace")
    notes = [f"what has to be opened for it is not counted: {opening.why_not}"] if opening.why_not else []
    own = own_works(openings, item, whole.works)
    taken = seconds(cause.takes) if cause.takes is not None else None
    if taken is None:
        taken = fsum(openings.ways.operation(one).time + openings.back(one) for one in own)
        taken = taken or openings.ways.times.of("lift off") + openings.ways.times.of("install")
    counted = RECORDED if cause.takes is not None else COMPUTED
    return RemedyPlan(
        id=f"replace {item}", title=f"Replace {openings.words.item(item)}", procedure=None, item=item,
        minutes=((id, taken / MINUTE),), counted=((id, counted),), way=opening,
        needs=Needs(open=frozenset(opening.works), others_closed=False, power=Power.DEAD), notes=tuple(notes),
    )  # fmt: skip


# ---- minutes


def _hands_on(
    openings: Openings, cause: Cause, steps: tuple[Step, ...], opening: Opening, notes: list[str]
) -> tuple[float, str]:
    recorded = seconds(cause.takes) if cause.takes is not None else None
    if recorded is not None:
        return recorded / MINUTE, RECORDED
    total = 0.0
    for step in steps:
        own = seconds(step.takes) if step.takes is not None else None
        if own is not None:
            total += own
        elif step.do:
            total += fsum(_seconds(openings, action, opening) for action in step.do)
        else:
            total += PROSE
            notes.append(f"the step '{step.title}' is not timed: 1 min is counted, common practice")
    return total / MINUTE, COMPUTED


def _seconds(openings: Openings, action: Action, opening: Opening) -> float:
    """An action there and back, nothing for what belongs to the way there or to making dead."""
    if action.verb in MAKES_DEAD:
        return 0.0
    built, times, target = openings.built, openings.ways.times, str(action.target)
    if action.verb in ("loosen", "remove"):
        sets = [target] if target in built.sets else [one.name for one in built.sets_of(target)]
        mine = [f"un:{one}" for one in sets if f"un:{one}" not in opening.works]
        return fsum(openings.ways.operation(one).time + openings.back(one) for one in mine)
    if action.verb == "lift off":
        one = f"off:{target}"
        is_way = one in opening.works or one not in openings.ways.dead_network.operations
        return 0.0 if is_way else openings.ways.operation(one).time + openings.back(one)
    if action.verb == "move":
        return 0.0 if f"to:{target}@{action.to}" in opening.works else times.of("move") * 2
    return times.of(action.verb)
