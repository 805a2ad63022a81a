"""What the work itself needs: a tool that fits, hands enough, settings saved."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from benchleaf.fastener_sets import DRIVEN, HAND, FastenerSet
from benchleaf.model import Library
from benchleaf.physical.acts import Problem
from benchleaf.physical.look import NOTHING, Look, Said, unmet_words, way_out

ONE_PERSON_LIFTS = 15.0
"""Kilograms; common practice, no source. A shop may record its own."""


def tool(look: Look) -> Said:
    """Rule 18: a tool of the shop can do the job."""
    one = look.ground.built.sets[look.act.what]
    if can_drive(look.ground.library, one):
        return NOTHING
    help = f"list a tool in tools.yaml that `does: [{one.tool}]`, or mend the fastener {one.fastener}"
    return (look.problem("no-tool", f"no tool of the shop does {one.tool} ({one.name})", help),)


def can_drive(library: Library, one: FastenerSet) -> bool:
    """Whether a tool of the shop fits; unknown tools, and shops that record none, are not held against it."""
    if not library.tools or one.tool is None or one.tool == HAND:
        return True
    if one.tool in library.tools:
        return True
    return any(one.tool in (stock.does or ()) for stock in library.tools.values()) or one.kind not in DRIVEN


def persons(look: Look) -> Said:
    """Rule 18: persons suffice for the mass."""
    item = look.ground.built.items[look.act.what]
    mass = item.mass.greatest() if item.mass is not None else None
    lifts = look.ground.library.shop.one_person_lifts
    one_lifts = (lifts.middle if lifts is not None else None) or ONE_PERSON_LIFTS
    wanted = max(item.persons or 1, ceil(mass / one_lifts) if mass is not None else 1)
    step = look.step.persons if look.step is not None else None
    given = step if step is not None else item.persons or 1
    if given >= wanted:
        return NOTHING
    weighs = f" ({item.mass.quantity.tidy})" if item.mass is not None and item.mass.quantity is not None else ""
    message = f"{look.act.what}{weighs} takes {wanted} persons, the step has {given}"
    return (look.problem("too-heavy", message, f"write `persons: {wanted}` in the step"),)


def saved(look: Look) -> Said:
    """Rule 19: settings are saved before their item leaves."""
    item = look.ground.built.items[look.act.what]
    if item.settings is None or look.act.what in look.state.saved:
        return NOTHING
    message = f"{look.act.what} leaves with its settings unsaved: {item.settings}"
    help = f"`back up: {look.act.what}` in a step or a condition before"
    return (look.problem("settings-not-saved", message, help),)


def taken_out(look: Look) -> Iterator[Problem]:
    """A new part goes in only where the old one has come out."""
    what, built = look.act.what, look.ground.built
    if what in built.sets:
        counts = look.ground.counts(look.state, what)
        if not (counts.out or counts.loose or counts.missing):
            message = f"{what} is renewed while all of them are tight"
            yield look.problem("renewed-in-place", message, f"first `{built.sets[what].release}: {what}`")
    elif what in built.items and not look.ground.is_away(look.state, what):
        yield look.problem("renewed-in-place", f"{what} is renewed while it is still on", f"first `lift off: {what}`")


def adjuster_reached(look: Look) -> Iterator[Problem]:
    on = look.ground.built.adjusters[look.act.what].on_item
    if on is not None and not look.is_powered:
        yield from _reached(look, str(on.item))


def item_reached(look: Look) -> Iterator[Problem]:
    name = look.act.what.partition(".")[0]
    if name:
        yield from _reached(look, name)


def _reached(look: Look, name: str) -> Iterator[Problem]:
    if name:
        unmet = look.ground.unmet(look.state, look.ground.reach_of(name))
        if unmet:
            message = f"{name} cannot be reached: {unmet_words(unmet)}"
            yield look.problem("out-of-reach", message, f"first {way_out(unmet)}, or mend `reach` of {name}")
