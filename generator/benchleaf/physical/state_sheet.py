"""The state sheet: how the machine stands after a step, and whether the work may stop there.

What is not recorded counts as "do not stop". Nothing here says that anything is safe: it says what is open, what has
not been proved, and what has to be measured again.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from enum import Enum

from benchleaf.frozen import dataclass
from benchleaf.physical.ground import Ground
from benchleaf.physical.instructions import kind_words
from benchleaf.physical.replay import Replay, StepDone
from benchleaf.physical.state import CAPPED, FEET, NOT_RECORDED, OFF, OPEN, PROVED, SLID, State, StepRef
from benchleaf.records.items import NEVER
from benchleaf.values.quantity import Quantity
from benchleaf.wiring.contacts import shown


class Stop(Enum):
    """The answer to "may I stop here", from the mildest to the strictest."""

    PAUSE = "pause point"
    ATTENDED = "only attended"
    DO_NOT = "do not stop here"


@dataclass(frozen=True, slots=True, kw_only=True)
class MayStop:
    """The answer with its reasons. ``at_most`` limits a pause; ``before_going_on`` is done after any break."""

    answer: Stop
    at_most: Quantity | None = None
    reasons: tuple[str, ...] = ()
    not_recorded: tuple[str, ...] = ()
    before_going_on: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """``pause point, at most 20 min``."""
        limit = f", at most {self.at_most.tidy}" if self.at_most is not None else ""
        return f"{self.answer.value}{limit}"


@dataclass(frozen=True, slots=True, kw_only=True)
class EnergyLine:
    """How one energy stands: ``state`` in words, ``at`` the items it can be at, ``is_open`` = a hand can get there.

    ``not_proved_at``: where it can be and its proof says nothing, because more than copper lies between.
    """

    energy: str
    state: str
    at: tuple[str, ...]
    is_open: tuple[str, ...]
    is_proved: bool
    not_proved_at: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TrayLine:
    """Fasteners that are out: how many of which set, in which tray."""

    tray: int
    set: str
    count: int
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StateSheet:
    """The machine after one step. ``is_changed`` = the stop answer differs from that of the step before."""

    of: StepRef | None
    off: tuple[str, ...]
    moved: tuple[str, ...]
    loose: tuple[str, ...]
    unplugged: tuple[str, ...]
    lifted: tuple[str, ...]
    wet: tuple[str, ...]
    hot: tuple[str, ...]
    energies: tuple[EnergyLine, ...]
    trays: tuple[TrayLine, ...]
    holds: tuple[str, ...]
    stop: MayStop
    is_changed: bool = True

    @property
    def still_live(self) -> tuple[EnergyLine, ...]:
        """The energies that are not proved dead."""
        return tuple(one for one in self.energies if not one.is_proved)


def sheets(replay: Replay) -> tuple[StateSheet, ...]:
    """A sheet after each of the procedure's own steps; the first stands before step 1 (after the conditions)."""
    places = trays(replay)
    own = replay.own_steps
    start = replay.after(0)
    made = [sheet(replay.ground, start, places)]
    for one in own:
        new = sheet(replay.ground, one.after, places, one)
        old = made[-1].stop
        is_changed = (new.stop.answer, new.stop.at_most, new.stop.reasons) != (old.answer, old.at_most, old.reasons)
        made.append(replace(new, is_changed=is_changed))
    return tuple(made)


def trays(replay: Replay) -> Mapping[str, int]:
    """Fastener set → its tray, numbered from 1 in the order of coming out; every set has a tray of its own."""
    found: dict[str, int] = {}
    for step in replay.steps:
        for done in step.done:
            if done.act.verb == "remove" and done.act.what not in found:
                found[done.act.what] = len(found) + 1
    return found


def sheet(ground: Ground, state: State, places: Mapping[str, int], step: StepDone | None = None) -> StateSheet:
    """The sheet of a state; ``step`` is the step that led to it."""
    built = ground.built
    energies = tuple(_energies(ground, state))
    return StateSheet(
        of=step.of if step is not None else None,
        off=tuple(item for item in sorted(state.items) if state.items[item] == OFF),
        moved=tuple(f"{item}: {where}" for item, where in sorted(state.items.items()) if where != OFF),
        loose=tuple(_loose(ground, state)),
        unplugged=tuple(f"{cable} at {connector}" for cable, connector in sorted(state.unmated)),
        lifted=tuple(f"{cable} at {shown(contact)}" for cable, contact in sorted(state.lifted)),
        wet=tuple(_wet(state)),
        hot=tuple(one.energy for one in energies if not one.is_proved and _kind(ground, one.energy) == "thermal"),
        energies=energies,
        trays=tuple(
            TrayLine(
                tray=places.get(name, 0),
                set=name,
                count=state.counts[name].out,
                words=f"{state.counts[name].out} {kind_words(built.sets[name])} from {built.sets[name].item}",
            )
            for name in sorted(state.counts, key=lambda name: (places.get(name, 0), name))
            if state.counts[name].out
        ),
        holds=tuple(_holds(ground, step)) if step is not None else (),
        stop=may_stop(ground, state, step),
    )


def _loose(ground: Ground, state: State) -> Iterator[str]:
    for name in sorted(state.counts):
        if state.counts[name].loose:
            yield f"{state.counts[name].loose} of {ground.built.sets[name].count} {name}"


def _wet(state: State) -> Iterator[str]:
    for (line, item), how in sorted(state.joints.items()):
        yield f"{line} at {item} is open{', capped' if how == CAPPED else ''}"
    for line in sorted(state.clamped):
        yield f"{line} is clamped"
    for circuit in sorted(state.drained):
        yield f"{circuit} is drained"
    for item in sorted(state.covered):
        yield f"{item} is under a sheet"


# ---- energy


def _kind(ground: Ground, energy: str) -> str:
    one = ground.built.energy.get(energy)
    return one.kind if one is not None else "electrical"


def _energies(ground: Ground, state: State) -> Iterator[EnergyLine]:
    names = sorted({*ground.built.energy, *ground.liveness.unlisted})
    for name in names:
        at = tuple(item for item, energies in sorted(ground.liveness.at.items()) if name in energies)
        is_open = tuple(item for item in at if _is_open(ground, state, item))
        how = state.energy(name)
        is_proved = how == PROVED
        gaps = ground.not_proved_at(name) if is_proved and _kind(ground, name) == "electrical" else ()
        said = {"": "energised", PROVED: _proved_words(gaps),
                NOT_RECORDED: "not recorded since an unchecked step: counts as energised"}  # fmt: skip
        words = said.get(how, f"{how}, not proved dead")
        if name in ground.liveness.unlisted:
            words = "energised: no recorded energy isolates this source"
        yield EnergyLine(
            energy=name, state=words, at=at, is_open=is_open, is_proved=is_proved, not_proved_at=gaps
        )  # fmt: skip


def _proved_words(gaps: tuple[str, ...]) -> str:
    if not gaps:
        return "proved dead at its recorded points"
    where = f"{', '.join(gaps[:6])}{' and more' if len(gaps) > 6 else ''}"
    beyond = "beyond a fuse, switch, relay, diode or connector"
    return f"proved dead at its recorded points; {beyond}, at {where}, measure again"


def _is_open(ground: Ground, state: State, item: str) -> bool:
    """Whether something that stood in front of an item is away, so that a hand can get there."""
    ways = (ground.reach_of(item), ground.behind(item)) if item in ground.built.items else ()
    named = [one for way in ways for clause in way for option in clause for one in option]
    return any(state.items.get(front[0]) for front in named)


# ---- hold points


def _holds(ground: Ground, step: StepDone) -> Iterator[str]:
    """What must be seen before the work goes on."""
    for done in step.done:
        if done.act.verb == "prove dead":
            energy = ground.built.energy[done.act.what]
            for proof in energy.prove_dead or ():
                where = " to ".join(one.shown for one in proof.between) if proof.between else str(proof.at)
                limit = proof.expect.tidy if proof.expect is not None else "limit not recorded"
                yield f"{done.act.what} proved dead, {where}: {limit}"
            if not energy.prove_dead:
                yield f"{done.act.what}: where it is proved dead is not recorded"
        elif done.act.verb == "discharge":
            yield f"{done.act.what} discharged, then measured"
        elif done.act.verb == "measure" and done.act.action.measure is not None:
            expect = done.act.action.measure.expect
            if expect is not None:
                yield f"measured: {expect.tidy}"
    if step.step.expect is not None:
        yield f"seen: {step.step.expect}"
    for use in step.step.supplies or ():
        stock = ground.library.supplies.get(use.id)
        if stock is not None and stock.wait is not None:
            yield f"{stock.name}: {stock.wait.tidy} waited"


# ---- may I stop here


def may_stop(ground: Ground, state: State, step: StepDone | None = None) -> MayStop:
    """Whether the work may stop in this state, and why not. The strictest reason decides; all are given."""
    strict = list(_do_not(ground, state, step))
    unknown = list(_not_recorded(ground, state))
    attended = list(_attended(ground, state))
    limits = [limit for _, limit in _resting(ground, state) if isinstance(limit, Quantity)]
    proved = [name for name, how in sorted(state.energies.items()) if how == PROVED]
    again = (f"prove dead again: {', '.join(proved)}",) if proved else ()
    if strict or unknown:
        return MayStop(
            answer=Stop.DO_NOT,
            reasons=(*strict, *unknown, *attended),
            not_recorded=tuple(unknown),
            before_going_on=again,
        )
    if attended:
        return MayStop(answer=Stop.ATTENDED, reasons=tuple(attended), before_going_on=again)
    shortest = min(limits, key=lambda one: one.middle) if limits else None
    timed = tuple(
        f"{what}: at most {limit.tidy}" for what, limit in _resting(ground, state) if isinstance(limit, Quantity)
    )
    return MayStop(answer=Stop.PAUSE, at_most=shortest, reasons=timed, before_going_on=again)


def _resting(ground: Ground, state: State) -> Iterator[tuple[str, Quantity | str | None]]:
    """Everything off, drawn out or open, with how long it may stay so."""
    for item, where in sorted(state.items.items()):
        how = "off" if where == OFF else "slid" if where == SLID else f"at {where}"
        yield f"{item} {how}", ground.built.items[item].rests
    for item in sorted(state.opened):
        yield f"{item} open", ground.built.items[item].rests
    for line, item in sorted(state.joints):
        if item not in state.items:
            yield f"{item} with {line} open", ground.built.items[item].rests


def _do_not(ground: Ground, state: State, step: StepDone | None) -> Iterator[str]:
    for one in state.unchecked[-1:]:
        yield f"step '{one.title}' of {one.procedure} says nothing that can be checked"
    for what, limit in _resting(ground, state):
        if limit == NEVER:
            yield f"{what}: never left so"
    for (line, item), how in sorted(state.joints.items()):
        if how == OPEN and ground.is_wet(line):
            yield f"{line} at {item} is open and not capped"
    if step is not None and step.step.powered is not None and step.step.covers in ("open", "either"):
        live = [name for name in sorted(ground.built.energy) if not state.energy(name)]
        if live:
            yield f"a powered test is running: {', '.join(live)} energised with covers open"


def _not_recorded(ground: Ground, state: State) -> Iterator[str]:
    for what, limit in _resting(ground, state):
        if limit is None:
            yield f"{what}: how long is not recorded"


def _attended(ground: Ground, state: State) -> Iterator[str]:
    for line in _energies(ground, state):
        if line.is_open and not line.is_proved:
            shown = ", ".join(line.is_open[:4]) + (" and more" if len(line.is_open) > 4 else "")
            yield f"{line.energy} is {line.state} and {shown} can be reached"
    for item in _unfastened(ground, state):
        yield f"{item} is in its place and held by nothing"
    for item in sorted(state.loosened - state.items.keys()):
        yield f"{item} is in its place, and whether anything holds it is not recorded"
    if state.stand != FEET:
        yield f"the machine lies on its {state.stand}"
    if ground.liveness.nothing_recorded and state.items:
        yield "no energy is recorded: what is open counts as energised"


def _unfastened(ground: Ground, state: State) -> Iterator[str]:
    """Items in their place, or drawn out, whose fasteners are all released."""
    for item in sorted({ground.built.sets[name].item for name in state.counts}):
        sets = ground.built.sets_of(item)
        if item not in state.items and sets and all(ground.is_released(state, one) for one in sets):
            yield item
