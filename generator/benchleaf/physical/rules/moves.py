"""Items: held, blocked, slid first, nothing across, what would fall."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.built import FRAME
from benchleaf.diagnostics import Severity
from benchleaf.fastener_sets import FastenerSet
from benchleaf.physical.acts import Problem
from benchleaf.physical.crossing import Crossing, End
from benchleaf.physical.look import NOTHING, Look, Said, unmet_words, way_out
from benchleaf.physical.state import OFF, SLID

# ---- rule 5: nothing twice


def off_once(look: Look) -> Said:
    if look.state.items.get(look.act.what) != OFF:
        return NOTHING
    return (look.problem("done-twice", f"{look.act.what} is off already", "take the line out"),)


def on_once(look: Look) -> Said:
    if look.state.items.get(look.act.what) == OFF:
        return NOTHING
    return (look.problem("done-twice", f"{look.act.what} is on already", "take the line out"),)


def slid_once(look: Look) -> Iterator[Problem]:
    item = look.act.what
    if not look.ground.slides(item):
        help = f"record both motions under `comes-off` of {item}, such as `[slide back 12 mm, lift up]`"
        yield look.problem("nothing-to-slide", f"{item} comes off in one motion: nothing is recorded to slide", help)
    elif look.state.items.get(item) not in (None, SLID):
        yield look.problem("done-twice", f"{item} is {look.state.items[item]} and cannot slide", "take the line out")


def moved_once(look: Look) -> Iterator[Problem]:
    here = look.state.items.get(look.act.what, "seated")
    if here == look.act.at:
        yield look.problem("done-twice", f"{look.act.what} is at {here} already", "take the line out")
    elif here == OFF:
        help = f"first `install: {look.act.what}`"
        yield look.problem("done-twice", f"{look.act.what} is off and cannot be moved", help)


# ---- rule 6: held, blocked, slid first


def blocked(look: Look) -> Said:
    """What stands in front is out of the way before an item moves, on the way out and on the way back."""
    act = look.act
    if act.what == FRAME:
        message = f"{FRAME} is the body of the machine and never moves"
        return (look.problem("blocked", message, "name the item that comes off it"),)
    position = act.at if act.verb == "move" else ""
    if position == "seated":
        position = look.state.items.get(act.what, "")
    if position in look.ground.built.items[act.what].positions:
        need = look.ground.behind_position(act.what, position)
    else:
        need = look.ground.behind(act.what)
    unmet = look.ground.unmet(look.state, need)
    if not unmet:
        return NOTHING
    does = {"lift off": "come off", "install": "go in", "slide": "slide"}.get(act.verb, "move")
    message = f"{act.what} cannot {does}: {unmet_words(unmet)}"
    return (look.problem("blocked", message, f"first {way_out(unmet)}, or mend `behind` of {act.what}"),)


def held(look: Look) -> Iterator[Problem]:
    """What still holds an item does not let it come off, slide or move."""
    act, built = look.act, look.ground.built
    if act.verb == "move" and (act.at == "seated" or look.state.items.get(act.what)):
        return
    if act.verb == "slide" and look.state.items.get(act.what) == SLID:
        return
    if built.held_unknown(act.what):
        message = f"nobody recorded what holds {act.what}: it counts as held by something unknown"
        help = f"add `held-by:` to {act.what}, or `held-by: none` when it only rests"
        yield look.problem("held-by-unknown", message, help, severity=Severity.WARNING)
        return
    for one in _to_release(look):
        if not look.ground.is_released(look.state, one):
            yield _still_held(look, one)


def _to_release(look: Look) -> tuple[FastenerSet, ...]:
    act, built = look.act, look.ground.built
    sets = built.sets_of(act.what)
    if act.verb != "move":
        return sets
    position = built.items[act.what].positions.get(act.at)
    needs = position.needs if position is not None else None
    return sets if needs is None else tuple(one for one in sets if one.own in needs)


def _still_held(look: Look, one: FastenerSet) -> Problem:
    counts = look.ground.counts(look.state, one.name)
    holding = counts.tight if one.release == "loosen" else counts.tight + counts.loose
    does = {"lift off": "comes off", "slide": "slides"}.get(look.act.verb, f"moves to {look.act.at}")
    message = f"{look.act.what} is still held by {holding} {one.name} ({counts}) when it {does}"
    related = ((one.place, "held by these"),)
    return look.problem("still-held", message, f"first `{one.release}: {one.name}`", related=related)


def not_slid(look: Look) -> Said:
    item = look.act.what
    if not look.ground.slides(item) or look.state.items.get(item) not in (None, "seated"):
        return NOTHING
    motions = look.ground.built.items[item].comes_off or ()
    way = ", then ".join(str(motion.text) for motion in motions)
    return (look.problem("not-slid", f"{item} has to slide before it comes off: {way}", f"first `slide: {item}`"),)


# ---- rules 7 and 13: nothing across a move


def parted(look: Look) -> Said:
    """No move while a cable or line crosses with both ends joined beyond its slack, or a tie on the other side."""
    crossings = look.ground.crossings(look.act.what)
    return _parted(look, crossings) if crossings else NOTHING


def _parted(look: Look, crossings: tuple[Crossing, ...]) -> Iterator[Problem]:
    item, verb = look.act.what, look.act.verb
    travel: float | None = None
    if verb == "move":
        here = look.state.items.get(item, "seated")
        position = look.act.at if look.act.at != "seated" else here
        known = position in look.ground.built.items[item].positions
        travel = look.ground.travel(item, position) if known else None
    elif verb == "slide":
        travel = look.ground.slide_travel(item)
    within = verb in ("move", "slide")
    for crossing in crossings:
        yield from _across(look, crossing, travel, within)


def _across(look: Look, crossing: Crossing, travel: float | None, within: bool) -> Iterator[Problem]:
    ground, state = look.ground, look.state
    inner = [end for end in crossing.inner if ground.is_joined(state, crossing, end.at)]
    outer = [end for end in crossing.outer if ground.is_joined(state, crossing, end.at)]
    follows = within and travel is not None and crossing.slack_recorded and travel <= crossing.slack + 1e-9
    if inner and outer and not follows:
        yield _joined_across(look, crossing, inner, outer, travel, within)
        return
    for ends, ties in ((inner, crossing.outer_ties), (outer, crossing.inner_ties)):
        left = [tie for tie in ties if tie not in state.ties]
        if ends and left:
            tie = left[0]
            fixed = ground.built.ties[tie].fixed_to.item
            message = (
                f"{tie} still ties {crossing.kind} {crossing.id} to {fixed}, and {crossing.id} is still "
                f"{_mated(crossing)} at {_names(ends)}, when {_moving(look, travel)}"
            )
            yield look.problem("tie-holds", message, f"first `cut: {tie}`, or open {crossing.id} at {_names(ends)}")


def _joined_across(
    look: Look, crossing: Crossing, inner: list[End], outer: list[End], travel: float | None, within: bool
) -> Problem:
    message = (
        f"{crossing.kind} {crossing.id} is still {_mated(crossing)} at {_names([*inner, *outer])} when "
        f"{_moving(look, travel)}"
    )
    openable = [end for end in (*inner, *outer) if end.opens]
    what = "unplug one end" if crossing.kind == "cable" else "open one joint"
    if not openable:
        what = f"nothing recorded of {crossing.id} can be opened"
    if not within:
        help = f"{what} first"
    elif travel is None:
        help = f"{what}, or record how far it moves and {crossing.id}'s slack"
    elif crossing.slack_recorded:
        help = f"{what}, or mend its slack: {round(crossing.slack * 1000)} mm is recorded"
    else:
        help = f"{what}, or record that much slack"
    return look.problem("cable-across", message, help)


def _mated(crossing: Crossing) -> str:
    return "mated" if crossing.kind == "cable" else "joined"


def _names(ends: list[End]) -> str:
    names = [end.at for end in ends]
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]


def _moving(look: Look, travel: float | None) -> str:
    item, verb = look.act.what, look.act.verb
    if verb == "lift off":
        return f"{item} comes off"
    if verb == "install":
        return f"{item} goes in"
    far = f"{round(travel * 1000)} mm" if travel is not None else "a distance nobody recorded"
    return f"{item} {'slides' if verb == 'slide' else 'moves'} {far}"


# ---- rule 15


def supports(look: Look) -> Said:
    """Taking away what supports another says so."""
    held_up = look.ground.built.items[look.act.what].supports
    if not held_up:
        return NOTHING
    left = [str(one.item) for one in held_up if one.item in look.ground.built.items]
    left = [one for one in left if not look.ground.is_away(look.state, one)]
    if not left or (look.step is not None and look.step.safety):
        return NOTHING
    message = f"{' and '.join(left)} would fall or tip when {look.act.what} comes off"
    help = f"take {left[0]} off first, or say in the step's `safety:` how it is held"
    return (look.problem("would-fall", message, help, severity=Severity.WARNING),)
