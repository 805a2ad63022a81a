"""The walk that writes the way back: the log of a replay backward, each effect that still stands undone once.

It keeps the machine's state as its own steps leave it, so that an order the machine does not allow shows at once:
screws wait until their item is home, tightening and setting come before what would hide them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import field, replace

from benchleaf.frozen import dataclass
from benchleaf.physical.acts import Act, act, expand
from benchleaf.physical.back_steps import BackStep, Said
from benchleaf.physical.ground import Ground
from benchleaf.physical.ledger import open_entries
from benchleaf.physical.replay import Done, Replay, StepDone, run_act
from benchleaf.physical.state import CAPPED, FEET, OFF, OPEN, State, StepRef
from benchleaf.physical.verbs import VERBS
from benchleaf.records.teardown import Step
from benchleaf.text import NOWHERE, Text


@dataclass
class WayBack:
    """Walks the log backward and writes steps; ``state`` is the machine as the steps so far left it."""

    replay: Replay
    ground: Ground = field(init=False)
    state: State = field(init=False)
    steps: list[BackStep] = field(default_factory=list)
    declared: set[tuple[str, str]] = field(default_factory=set)
    _mine: list[Done] = field(default_factory=list)
    _said: list[Said] = field(default_factory=list)
    _of: StepDone | None = None
    _step: Step | None = None
    _why: str = ""
    _taken: set[tuple[str, str, str]] = field(default_factory=set)
    _back_out: dict[str, int] = field(default_factory=dict)
    _tighten_at: dict[str, int] = field(default_factory=dict)
    _to_start: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.ground = self.replay.ground
        self.state = self.replay.end
        self._plan_tightening()
        for step in self.replay.steps:
            if step.step.on_return is not None:
                self._declare(step)

    # ---- the walk

    def derive(self) -> StepRef | None:
        """Write every step of the way back; the unchecked step at which it stops, if there is one."""
        for number in range(len(self.replay.steps) - 1, -1, -1):
            step = self.replay.steps[number]
            self._begin(step, "the step backward")
            if step.step.on_return is not None:
                self._why = "on-return"
                self._leave(step)
                for action in step.step.on_return:
                    acts, _ = expand(self.ground, self.state, action)
                    for one in acts:
                        self._do(one)
            elif step.is_unchecked:
                self._end()
                return step.of
            else:
                for done in reversed(step.done):
                    self._undo(done, step, number)
            self._flush(number)
            self._end()
        self._close_up()
        return None

    def _begin(self, of: StepDone | None, why: str) -> None:
        self._of, self._why, self._mine, self._said = of, why, [], []
        self._before = self.state
        self._step = None if of is None else _DERIVED
        if of is not None and (of.step.persons is not None or of.step.safety):
            self._step = replace(_DERIVED, persons=of.step.persons, safety=of.step.safety)

    def _end(self) -> None:
        if self._mine:
            of = self._of
            self.steps.append(
                BackStep(
                    ground=self.ground,
                    why=self._why,
                    of=of.of if of is not None else None,
                    procedure=of.procedure if of is not None else None,
                    done=tuple(self._mine),
                    said=tuple(self._said),
                    before=self._before,
                    after=self.state,
                    persons=of.step.persons if of is not None else None,
                    notes=tuple(self._waits(of)) if of is not None else (),
                )
            )
        self._begin(None, "")

    def _waits(self, of: StepDone) -> Iterator[str]:
        for use in of.step.supplies or ():
            stock = self.ground.library.supplies.get(use.id)
            if stock is not None and stock.wait is not None:
                yield f"{stock.name}: wait {stock.wait.tidy} before the next step"

    def _act(self, verb: str, what: str, at: str = "", *, count: int | None = None) -> Act:
        """An act of the way back; what is wrong with it is told at the step it comes from."""
        return act(verb, what, at, count=count, place=self._of.of.place if self._of is not None else NOWHERE)

    def _do(self, one: Act, how_many: int | None = None) -> None:
        """Do an act on the way back, unless tightening has to come before it."""
        if one.verb in ("install", "slide", "move", "close"):
            self._flush_before(one)
        done = run_act(self.ground, self.state, one, self._step)
        self._mine.append(done)
        self._said.append(Said(how_many))
        self.state = done.after
        if one.verb in ("install", "slide", "move"):
            self._start_waiting(one.what)

    # ---- what is left open on purpose

    def _declare(self, step: StepDone) -> None:
        """What a step with ``on-return`` opens and its actions do not close is left so by the record."""
        before = {one.key for one in open_entries(self.ground, step.before)}
        self.declared |= {one.key for one in open_entries(self.ground, step.after)} - before

    def _leave(self, step: StepDone) -> None:
        """What a step with ``on-return`` did is not derived."""
        for done in step.done:
            self._take(done.act)

    def _take(self, one: Act) -> bool:
        """Whether the effect of an act is still to be undone; asked once for each thing."""
        key = (_EFFECT.get(one.verb, one.verb), one.what, one.at if one.verb != "move" else "")
        if key in self._taken:
            return False
        self._taken.add(key)
        return True

    # ---- undoing one act

    def _undo(self, done: Done, step: StepDone, number: int) -> None:
        verb, what, at = done.act.verb, done.act.what, done.act.at
        end = self.replay.end
        if verb in ("remove", "loosen"):
            self._undo_release(done, step)
        elif verb == "lift off" and end.items.get(what) == OFF and self._take(done.act):
            self._install(what, _before(step, done).items.get(what, ""))
        elif verb == "slide" and self.state.items.get(what) == "slid" and self._take(done.act):
            self._do(self._act("slide", what))
        elif verb == "move" and self.state.items.get(what) == at and self._take(done.act):
            self._do(self._act("move", what, _position_before(step, done)))
        elif verb == "unplug" and (at, what) in end.unmated and self._take(done.act):
            self._do(replace(self._act("plug", what), at=at))
        elif verb == "lift lead" and (what, at) in end.lifted and self._take(done.act):
            self._do(self._act("land lead", what, at))
        elif verb == "cut" and what in end.ties and self._take(done.act):
            self._do(self._act("tie", what))
        elif verb == "open":
            self._undo_open(done.act, end)
        elif verb == "clamp" and what in self.state.clamped and self._take(done.act):
            self._do(self._act("unclamp", what))
        elif verb == "drain" and what in self.state.drained and self._take(done.act):
            self._fill(what)
        elif verb == "cover" and what in self.state.covered and self._take(done.act):
            self._do(self._act("uncover", what))
        elif verb == "stand" and self.state.stand != FEET and self._take(done.act):
            self._do(self._act("stand", FEET))

    def _install(self, item: str, from_: str) -> None:
        """Put an item back; to the position it came from, when something can only be done there."""
        if item in self.state.due:
            self._do(self._act("renew", item))
        self._do(self._act("install", item))
        if from_ in self.ground.built.items[item].positions and self._is_needed(item, from_):
            self._do(self._act("move", item, from_))

    def _is_needed(self, item: str, position: str) -> bool:
        """Whether something still to be put back can be reached, or go in, only with an item at a position."""
        ground, built = self.ground, self.ground.built
        needs = [ground.behind(name) for name, where in self.state.items.items() if where == OFF]
        needs += [ground.reach_of_set(name) for name, one in self.state.counts.items() if one.out or one.loose]
        needs += [ground.reach_of(connector) for _, connector in self.state.unmated]
        needs += [ground.reach_of(ground.owner(contact)) for _, contact in self.state.lifted if contact in built.items]
        fronts = (front for need in needs for clause in need for option in clause for front in option)
        return any(front[:2] == (item, position) for front in fronts)

    def _undo_release(self, done: Done, step: StepDone) -> None:
        """Fasteners that are out are started where they came out; tightening waits for the whole item."""
        name = done.act.what
        left = self._back_out.get(name)
        if left is None:
            left = self._back_out[name] = self.ground.counts(self.replay.end, name).out
        before, after = self.ground.counts(_before(step, done), name), self.ground.counts(done.after, name)
        n = min(left, after.out - before.out)
        if n > 0:
            self._back_out[name] = left - n
            self._to_start[name] = self._to_start.get(name, 0) + n
            if not self.state.items.get(self.ground.built.sets[name].item):
                self._start(name)

    def _start(self, name: str) -> None:
        """Start the fasteners of a set that wait for their item to be home."""
        n = self._to_start.pop(name, 0)
        if n:
            if name in self.state.due:
                self._do(self._act("renew", name))
            if self.ground.counts(self.state, name).missing:
                n += self._fit_missing(name)
            self._do(self._act("start", name, count=n), n)

    def _start_waiting(self, item: str) -> None:
        """An item that has come home gets the fasteners that had to wait for it."""
        if not self.state.items.get(item):
            for one in self.ground.built.sets_of(item):
                self._start(one.name)

    def _fit_missing(self, name: str) -> int:
        """A fastener that was missing when the machine came in is fitted to specification: the fault is not rebuilt."""
        missing = self.ground.counts(self.state, name).missing
        new = self._act("renew", name, count=missing)
        self._do(new, missing)
        note = f"{missing} missing when the machine came in; fitted to specification"
        self._said[-1] = Said(missing, note)
        return missing

    # ---- tightening: all fasteners of an item are started before any is tightened

    def _plan_tightening(self) -> None:
        """The step at which the last fastener of each item goes back: the first that released one of them."""
        for number, step in enumerate(self.replay.steps):
            if step.step.on_return is not None:
                continue
            for done in step.done:
                if done.act.verb in ("loosen", "remove"):
                    item = self.ground.built.sets[done.act.what].item
                    counts = [self.ground.counts(self.replay.end, s.name) for s in self.ground.built.sets_of(item)]
                    if any(one.out or one.loose for one in counts) and item not in self._tighten_at:
                        self._tighten_at[item] = number

    def _flush(self, number: int) -> None:
        """Tighten the items whose last fastener is back at this step."""
        for item in [name for name, at in self._tighten_at.items() if at == number]:
            self._tighten(item)

    def _flush_before(self, one: Act) -> None:
        """Tighten and set what could not be reached any more after an act."""
        after = VERBS[one.verb].effect(self.ground, self.state, one)
        self._flush_sets(one, after)
        for adjuster in sorted(self.state.unset):
            on = self.ground.built.adjusters[adjuster].on_item
            if on is None or self._is_set_running(adjuster) or self.ground.is_away(self.state, on.item):
                continue
            need = self.ground.reach_of(on.item)
            if self.ground.unmet(after, need) and not self.ground.unmet(self.state, need):
                self._do(self._act("adjust", adjuster))

    def _flush_sets(self, one: Act, after: State) -> None:
        for item in list(self._tighten_at):
            if item == one.what or self.state.items.get(item):
                continue
            for loose in self.ground.built.sets_of(item):
                if not self.ground.counts(self.state, loose.name).loose:
                    continue
                need = self.ground.reach_of_set(loose.name)
                if self.ground.unmet(after, need) and not self.ground.unmet(self.state, need):
                    self._tighten(item)
                    break

    def _tighten(self, item: str) -> None:
        if self.state.items.get(item):
            return
        sets = [one for one in self.ground.built.sets_of(item) if self.ground.counts(self.state, one.name).loose]
        names = {one.name for one in sets}
        for adjuster in sorted(self.state.unset):
            by = self.ground.built.adjusters[adjuster].disturbed_by or ()
            if names & {str(one) for one in by} and not self._is_set_running(adjuster):
                self._do(self._act("adjust", adjuster))
        for one in sets:
            self._do(self._act("tighten", one.name), self.ground.counts(self.state, one.name).loose)
        for adjuster in sorted(self.state.unset):
            all_by = self.ground.built.adjusters[adjuster].disturbed_by
            mine = all_by is None or item in {str(one) for one in all_by}
            if mine and self._is_on(adjuster, item) and not self._is_set_running(adjuster):
                self._do(self._act("adjust", adjuster))

    def _is_on(self, adjuster: str, item: str) -> bool:
        on = self.ground.built.adjusters[adjuster].on_item
        return on is None or on.item == item

    def _is_set_running(self, adjuster: str) -> bool:
        """Whether an adjuster is set with power on: by a procedure with a step that declares it."""
        by = self.ground.built.adjusters[adjuster].set_by
        procedure = self.ground.built.machine.procedures.get(by) if by is not None else None
        return procedure is not None and any(step.powered is not None for step in procedure.steps)

    # ---- joints: caps off just before mating, filling after the last joint and before the covers

    def _undo_open(self, one: Act, end: State) -> None:
        if not one.at:
            if one.what in end.opened and self._take(one):
                self._do(self._act("close", one.what))
            return
        if (one.what, one.at) not in end.joints or not self._take(one):
            return
        if self.state.joints.get((one.what, one.at)) == CAPPED:
            self._do(self._act("uncap", one.what, one.at))
        self._do(self._act("close", one.what, one.at))
        circuit = self.ground.circuit(one.what)
        lines = self.ground.lines_of(circuit)
        if any(line in lines for line, _ in self.state.joints):
            return
        self._unclamp(lines)
        if circuit in self.state.drained:
            self._fill(circuit)

    def _unclamp(self, lines: tuple[str, ...]) -> None:
        for line in lines:
            if line in self.state.clamped:
                self._do(self._act("unclamp", line))

    def _fill(self, circuit: str) -> None:
        """Fill a circuit once its last joint is closed; a joint that stays open on purpose leaves it to its step."""
        lines = self.ground.lines_of(circuit)
        if any(line in lines and how in (OPEN, CAPPED) for (line, _), how in self.state.joints.items()):
            self._taken.discard(("drain", circuit, ""))
            return
        if ("circuit", circuit) in self.declared:
            return
        self._unclamp(lines)
        self._do(self._act("fill", circuit))

    # ---- last of all

    def _close_up(self) -> None:
        """What comes after everything is closed: what was left over, energy, what is set running, settings."""
        self._begin(None, "left over")
        for item, where in sorted(self.state.items.items()):
            if where == "slid":
                self._do(self._act("slide", item))
        for adjuster in sorted(self.state.unset):
            if not self._is_set_running(adjuster):
                self._do(self._act("adjust", adjuster))
        for cable in sorted(self.state.labelled):
            if not any(one == cable for one, _ in (*self.state.unmated, *self.state.lifted)):
                self._do(self._act("take label off", cable))
        self._end()
        self._begin(None, "energy last")
        for name in self._isolated_in_order():
            if self.state.energy(name) and ("energy", name) not in self.declared:
                self._do(self._act("energise", name))
        self._end()
        self._begin(None, "after energy is back")
        for adjuster in sorted(self.state.unset):
            self._do(self._act("adjust", adjuster))
        for item in sorted(self.state.unrestored):
            self._do(self._act("restore", item))
        self._end()

    def _isolated_in_order(self) -> list[str]:
        """The energies in the reverse order of their isolation. One isolated twice comes back once."""
        order: dict[str, None] = {}
        for step in self.replay.steps:
            for done in step.done:
                if done.act.verb == "isolate":
                    order.setdefault(done.act.what)
                    if step.step.on_return is None:
                        self.declared.discard(("energy", done.act.what))
        return list(reversed(order))


_DERIVED = Step(title=Text("derived"))
_EFFECT = {"remove": "release", "loosen": "release"}


def _before(step: StepDone, done: Done) -> State:
    """The state before an act of a step."""
    number = next(n for n, one in enumerate(step.done) if one is done)
    return step.done[number - 1].after if number else step.before


def _position_before(step: StepDone, done: Done) -> str:
    return _before(step, done).items.get(done.act.what, "seated")
