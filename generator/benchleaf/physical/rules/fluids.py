"""Fluids and sides: clamped or drained before a joint opens, capped after, covered beneath, closed before filling."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.diagnostics import Severity
from benchleaf.physical.acts import Problem
from benchleaf.physical.look import Look, unmet_words, way_out
from benchleaf.physical.state import CAPPED, FEET, OPEN


def reached(look: Look) -> Iterator[Problem]:
    """Rule 1 for a joint, a lid, a latch or a valve."""
    act, ground = look.act, look.ground
    need = ground.reach_of_joint(act.what, act.at) if act.at else ground.reach_of(act.what)
    unmet = ground.unmet(look.state, need)
    if unmet:
        name = f"{act.what} at {act.at}" if act.at else act.what
        message = f"{name} cannot be reached: {unmet_words(unmet)}"
        yield look.problem("out-of-reach", message, f"first {way_out(unmet)}, or mend `reach` there")


def item_reached(look: Look) -> Iterator[Problem]:
    unmet = look.ground.unmet(look.state, look.ground.reach_of(look.act.what))
    if unmet:
        message = f"{look.act.what} cannot be reached: {unmet_words(unmet)}"
        yield look.problem("out-of-reach", message, f"first {way_out(unmet)}, or mend `reach` of {look.act.what}")


def line_reached(look: Look) -> Iterator[Problem]:
    """A clamp needs one end of its line within reach."""
    ends = [str(end.at.item) for end in look.ground.built.lines[look.act.what].ends]
    unmet = [look.ground.unmet(look.state, look.ground.reach_of_joint(look.act.what, end)) for end in ends]
    if unmet and all(unmet):
        message = f"no end of {look.act.what} can be reached: {unmet_words(unmet[0])}"
        yield look.problem("out-of-reach", message, f"first {way_out(unmet[0])}, or mend `reach` of its ends")


# ---- rule 5


def _twice(look: Look, is_so: bool, words: str) -> Iterator[Problem]:
    if is_so:
        where = f"{look.act.what} at {look.act.at}" if look.act.at else look.act.what
        yield look.problem("done-twice", f"{where} is {words} already", "take the line out")


def _is_open(look: Look) -> bool:
    act, state = look.act, look.state
    return (act.what, act.at) in state.joints if act.at else act.what in state.opened


def opened_once(look: Look) -> Iterator[Problem]:
    return _twice(look, _is_open(look), "open")


def closed_once(look: Look) -> Iterator[Problem]:
    return _twice(look, not _is_open(look), "closed")


def clamped_once(look: Look) -> Iterator[Problem]:
    return _twice(look, look.act.what in look.state.clamped, "clamped")


def unclamped_once(look: Look) -> Iterator[Problem]:
    return _twice(look, look.act.what not in look.state.clamped, "free of clamps")


def drained_once(look: Look) -> Iterator[Problem]:
    return _twice(look, look.act.what in look.state.drained, "drained")


def filled_once(look: Look) -> Iterator[Problem]:
    return _twice(look, look.act.what not in look.state.drained, "filled")


def covered_once(look: Look) -> Iterator[Problem]:
    return _twice(look, look.act.what in look.state.covered, "covered")


def uncovered_once(look: Look) -> Iterator[Problem]:
    return _twice(look, look.act.what not in look.state.covered, "uncovered")


def capped_once(look: Look) -> Iterator[Problem]:
    how = look.state.joints.get((look.act.what, look.act.at))
    if how != OPEN:
        said = "capped already" if how == CAPPED else "still joined"
        message = f"{look.act.what} at {look.act.at} is {said}"
        yield look.problem("done-twice", message, "open the joint first" if how is None else "take the line out")


def uncapped_once(look: Look) -> Iterator[Problem]:
    how = look.state.joints.get((look.act.what, look.act.at))
    if how != CAPPED:
        yield look.problem("done-twice", f"{look.act.what} at {look.act.at} has no caps on", "take the line out")


# ---- rule 9


def drained(look: Look) -> Iterator[Problem]:
    """A wet line is opened only drained, or clamped on both sides of the joint."""
    act, ground, state = look.act, look.ground, look.state
    if not act.at or not ground.is_wet(act.what):
        return
    circuit = ground.circuit(act.what)
    if circuit in state.drained:
        return
    beyond = [one for one in ground.lines_of(circuit) if one != act.what and _ends_at(look, one, act.at)]
    sides = [act.what, *beyond]
    unclamped = [one for one in sides if one not in state.clamped]
    is_vessel = ground.built.items[act.at].holds is not None
    if not unclamped and beyond and not is_vessel:
        return
    message = f"{act.what} is opened at {act.at} while {circuit} is neither drained nor clamped on both sides"
    if is_vessel:
        help = f"`drain: {circuit}` first: {act.at} itself holds fluid and has no clamp"
    elif not beyond:
        help = f"`drain: {circuit}` first: nothing recorded on the far side of {act.at} can be clamped"
    else:
        help = f"`drain: {circuit}` or `clamp: [{', '.join(unclamped)}]` first"
    yield look.problem("wet-line-opened", message, help)


def _ends_at(look: Look, line: str, item: str) -> bool:
    return any(end.at.item == item for end in look.ground.built.lines[line].ends)


def soft(look: Look) -> Iterator[Problem]:
    """Only a line recorded as soft enough is clamped."""
    if not look.ground.built.lines[look.act.what].clamp:
        message = f"{look.act.what} is not recorded as soft enough to clamp"
        help = f"`drain: {look.ground.circuit(look.act.what)}` instead, or record `clamp: yes`"
        yield look.problem("cannot-clamp", message, help)


def cap_on(look: Look) -> Iterator[Problem]:
    """Caps come off just before the joint is mated."""
    act = look.act
    if act.at and look.state.joints.get((act.what, act.at)) == CAPPED:
        message = f"{act.what} at {act.at} is closed with its two caps still on"
        yield look.problem("cap-left-on", message, f"first `uncap: {act.what} at {act.at}`")


def fill_closed(look: Look) -> Iterator[Problem]:
    """Filling comes after the last joint."""
    lines = look.ground.lines_of(look.act.what)
    for line, item in sorted(look.state.joints):
        if line in lines:
            message = f"{look.act.what} is filled while {line} at {item} is {look.state.joints[line, item]}"
            yield look.problem("filled-open", message, f"first `close: {line} at {item}`")
    for line in lines:
        if line in look.state.clamped:
            message = f"{look.act.what} is filled while {line} is clamped"
            yield look.problem("filled-open", message, f"first `unclamp: {line}`")


def left_open(look: Look) -> Iterator[Problem]:
    """A joint left at the end of its step has both its openings capped."""
    act = look.act
    if act.at and look.ground.is_wet(act.what) and look.state.joints.get((act.what, act.at)) == OPEN:
        message = f"{act.what} at {act.at} is left open at the end of the step: both its openings drip"
        yield look.problem("joint-left-open", message, f"`cap: {act.what} at {act.at}` in the same step")


# ---- rule 17


def under(look: Look) -> Iterator[Problem]:
    """Electrical items under an opened joint are covered first."""
    act, ground = look.act, look.ground
    if not act.at or not ground.is_wet(act.what):
        return
    end = next(end for end in ground.built.lines[act.what].ends if end.at.item == act.at)
    if end.drips_on is not None:
        beneath = [str(one.item) for one in end.drips_on if one.item in ground.built.items]
        bare = [one for one in beneath if _is_bare(look, one) and ground.is_electrical(one)]
        if bare:
            message = f"{act.what} is opened at {act.at} above {' and '.join(bare)}, not covered"
            yield look.problem("board-under-joint", message, f"first `cover: {bare[0]}`", related=())
        return
    box = ground.built.items[act.at].box
    for item in sorted(ground.built.items):
        if item == act.at or not ground.is_electrical(item) or not _is_bare(look, item):
            continue
        other = ground.built.items[item].box
        if box is not None and other is not None and _is_under(other, box):
            message = f"{act.what} is opened at {act.at} above {item} (by their boxes), not covered"
            help = f"first `cover: {item}`, or record `drips-on` of that joint"
            yield look.problem("board-under-joint", message, help)
    unplaced = box is None or any(
        ground.built.items[item].box is None
        for item in ground.built.items
        if ground.is_electrical(item) and _is_bare(look, item) and item not in (act.at, "frame")
    )
    if unplaced:
        message = f"what lies under {act.what} at {act.at} is not recorded: it counts as an electrical part"
        help = "record `drips-on:` of that joint, or `drips-on: none`"
        yield look.problem("under-not-recorded", message, help, severity=Severity.WARNING)


def _is_bare(look: Look, item: str) -> bool:
    covered = any(one in look.state.covered for one in look.ground.chain(item))
    return not covered and not look.ground.is_away(look.state, item)


def _is_under(low: tuple[float, ...], high: tuple[float, ...]) -> bool:
    """Whether one box lies, at least partly, straight below another (x right, y back, z up)."""
    across = low[0] < high[0] + high[3] and high[0] < low[0] + low[3]
    deep = low[1] < high[1] + high[4] and high[1] < low[1] + low[4]
    return across and deep and low[2] < high[2] + high[5]


# ---- turning the machine over


def stand_dry(look: Look) -> Iterator[Problem]:
    """A machine is laid on its side only with its wet circuits drained."""
    if look.act.what == FEET:
        return
    circuits = {look.ground.circuit(line) for line in look.ground.built.lines if look.ground.is_wet(line)}
    circuits |= {str(one.circuit or name) for name, one in look.ground.built.items.items() if one.holds is not None}
    wet = sorted(circuits - look.state.drained)
    if wet:
        message = f"the machine is laid on its {look.act.what} while {' and '.join(wet)} is not drained"
        yield look.problem("laid-wet", message, f"first `drain: {wet[0]}`")
