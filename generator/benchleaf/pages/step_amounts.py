"""How long a step takes and how many people it needs, from its record or from what it handles."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchleaf.pages.uses import SET_VERBS, touched
from benchleaf.pages.wiring_tables import connectors_of
from benchleaf.physical.times import seconds
from benchleaf.records.actions import Action
from benchleaf.values.quantity import Quantity

if TYPE_CHECKING:
    from benchleaf.pages.step_view import Scene

HANDLING = ("lift off", "install", "move")
ONE_PERSON_LIFTS = 15.0
"""Kilograms, where the shop says nothing: common practice, no source."""


def handled(scene: Scene) -> tuple[str, ...]:
    """The items a step carries or draws out."""
    found = {
        str(a.target): None for a in scene.actions if a.verb in HANDLING and str(a.target) in scene.mbook.record.items
    }
    return tuple(found)


def step_persons(scene: Scene) -> tuple[int, str | None]:
    """How many people, and why more than one. What nobody weighed is said elsewhere on the card."""
    step, mbook = scene.step, scene.narrow
    limit = mbook.book.shop.one_person_lifts
    most = _kilograms(limit) if limit is not None else ONE_PERSON_LIFTS
    persons, why = step.persons or 1, None
    for name in handled(scene):
        for form in mbook.items(name):
            item = form.value
            needed = item.persons or 1
            heaviest = item.mass.greatest() if item.mass is not None else None
            if heaviest is not None and most is not None and heaviest > most:
                needed = max(needed, 2)
            if needed > 1 and needed >= persons:
                weight = f" of {item.mass.quantity}" if item.mass is not None and item.mass.quantity is not None else ""
                persons, why = needed, f"for {mbook.item_words(name)}{weight}"
    return persons, why


def _kilograms(quantity: Quantity) -> float | None:
    return quantity.low if quantity.low is not None else quantity.high


def step_time(scene: Scene) -> float | None:
    """Seconds on the slowest machine it is for; ``None`` for prose nobody timed."""
    step = scene.step
    if step.takes is not None:
        return seconds(step.takes)
    if step.do is None:
        return None
    total = sum(action_time(scene, action) for action in step.do)
    waits = [
        scene.mbook.book.library.supplies[str(use.id)].wait
        for use in step.supplies or ()
        if use.id in scene.mbook.book.library.supplies
    ]
    return total + sum(seconds(wait) or 0.0 for wait in waits if wait is not None)


def action_time(scene: Scene, action: Action) -> float:
    """Seconds of one action: fasteners by the piece, items and cable ends as recorded, else the shop's times."""
    mbook = scene.narrow
    times = mbook.book.times
    if action.verb in SET_VERBS:
        return sum(_set_time(scene, name, action) for name in touched(mbook, action).sets)
    if action.verb == "lift off":
        return max(
            (times.of_item(form.value) for form in mbook.items(str(action.target))), default=times.of("lift off")
        )
    if action.verb == "disconnect all":
        return times.of("disconnect") * len([c for c in touched(mbook, action).connectors if _is_plugged(scene, c)])
    if action.verb in ("disconnect", "unplug"):
        taken = [
            form.value.takes for form in mbook.forms(connectors_of, str(action.target)) if form.value.takes is not None
        ]
        own = [one for one in (seconds(quantity) for quantity in taken) if one is not None]
        return max(own) if own else times.of(action.verb)
    return times.of(action.verb)


def _set_time(scene: Scene, name: str, action: Action) -> float:
    times = scene.mbook.book.times
    longest = 0.0
    for form in scene.narrow.sets(name):
        one = form.value
        each = seconds(one.takes) if one.takes is not None else None
        count = action.part if action.part is not None else one.count
        longest = max(longest, count * (each if each is not None else times.of(action.verb)))
    return longest


def _is_plugged(scene: Scene, connector: str) -> bool:
    return any(built.cables_at.get(connector) for built in scene.narrow.builts)
