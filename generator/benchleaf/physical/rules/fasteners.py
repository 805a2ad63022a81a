"""Fasteners: reached, counted, captive, not turned twice, not screwed into nothing, not mixed up."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.diagnostics import Severity
from benchleaf.fastener_sets import DRIVEN, FastenerSet
from benchleaf.physical.acts import Problem, count_problem, to_do
from benchleaf.physical.look import NOTHING, Look, Said, unmet_words, way_out
from benchleaf.physical.state import OFF, SLID


def reached(look: Look) -> Said:
    """Rule 1: what is acted on can be reached."""
    name = look.act.what
    item = look.ground.built.sets[name].item
    if look.act.verb in ("start", "tighten") and look.state.items.get(item):
        return NOTHING  # the rule for an absent item says more
    unmet = look.ground.unmet(look.state, look.ground.reach_of_set(name))
    if not unmet:
        return NOTHING
    message = f"{name} cannot be reached: {unmet_words(unmet)}"
    return (look.problem("out-of-reach", message, f"first {way_out(unmet)}, or mend `reach` of {item}"),)


def _counted(look: Look, nothing: str) -> Said:
    """Rules 3 and 5: a stated count agrees; nothing is done twice."""
    act = look.act
    left = to_do(look.ground, look.state, act)
    counts = look.ground.counts(look.state, act.what)
    if left == 0:
        return (look.problem("done-twice", f"{act.what}: {nothing} ({counts or 'none'})", "take the line out"),)
    if act.count is not None and act.count > left:
        return (count_problem(act, act.count, left, act.what),)
    if act.exact is not None and act.exact != left:
        recorded = look.ground.built.sets[act.what].count
        if not (act.exact == recorded and left + counts.missing == recorded):
            return (count_problem(act, act.exact, left, act.what),)
    return NOTHING


def loosened(look: Look) -> Said:
    return _counted(look, "none is tight any more")


def removed(look: Look) -> Said:
    return _counted(look, "all are out already")


def started(look: Look) -> Said:
    return _counted(look, "none is out")


def tightened(look: Look) -> Said:
    counts = look.ground.counts(look.state, look.act.what)
    if counts.loose == 0 and counts.out:
        message = f"{look.act.what} is out ({counts}) and cannot be tightened"
        return (look.problem("not-started", message, f"first `start: {look.act.what}`"),)
    return _counted(look, "all are tight already")


def captive(look: Look) -> Said:
    """Rule 4: a captive fastener stays in its item."""
    if not look.ground.built.sets[look.act.what].captive:
        return NOTHING
    message = f"{look.act.what} is captive and stays in its item"
    return (look.problem("captive-removed", message, f"write `loosen: {look.act.what}`"),)


def into_nothing(look: Look) -> Said:
    """Rule 14: no fastener into an absent item."""
    item = look.ground.built.sets[look.act.what].item
    where = look.state.items.get(item)
    if where is None:
        return NOTHING
    if where == OFF:
        message, help = f"{look.act.what} has nothing to hold: {item} is off", f"first `install: {item}`"
    elif where == SLID:
        message, help = f"{look.act.what} does not meet its holes: {item} is not slid home", f"first `slide: {item}`"
    else:
        message = f"{look.act.what} does not meet its holes: {item} is at {where}"
        help = f"first `move: {item} to seated`"
    return (look.problem("fastener-into-nothing", message, help),)


def alike(look: Look) -> Iterator[Problem]:
    """Rule 16: fasteners that look alike and differ in length, out together, are kept apart."""
    mine = look.ground.built.sets[look.act.what]
    for name in sorted(look.state.counts):
        if name != mine.name and look.state.counts[name].out:
            other = look.ground.built.sets[name]
            if mixed_up(mine, other):
                message = (
                    f"{mine.name} ({_length(mine)}) and {other.name} ({_length(other)}) are out together and look alike"
                )
                help = "keep them in separate trays, and say so in the step"
                yield look.problem("screws-alike", message, help, severity=Severity.WARNING)


def mixed_up(one: FastenerSet, other: FastenerSet) -> bool:
    """Whether two sets have the same head, drive and thread (not recorded = same) and not surely the same length."""
    if one.kind not in DRIVEN or other.kind not in DRIVEN or one.fastener == other.fastener:
        return False
    if any(a is not None and b is not None and a != b for a, b in zip(one.look, other.look, strict=True)):
        return False
    a, b = (length.quantity.middle if (length := s.length) and length.quantity else None for s in (one, other))
    return a is None or b is None or a != b


def _length(one: FastenerSet) -> str:
    quantity = one.length.quantity if one.length is not None else None
    return quantity.tidy if quantity is not None else "length not recorded"
