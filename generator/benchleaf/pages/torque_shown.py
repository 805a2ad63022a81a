"""The torque callout of a fastener set as the theme draws it; the five elements come from ``values.callout``."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from benchleaf.fastener_sets import FastenerSet
from benchleaf.pages.book import MachineBook
from benchleaf.pages.fastener_words import kind_words, look_words
from benchleaf.pages.sentences import plural
from benchleaf.pages.shown import Origin, TorqueCallout, ValueStatus
from benchleaf.pages.values_shown import STATUS_WORDS, origins_of
from benchleaf.values.callout import callout_of
from benchleaf.values.origin import Origin as Chain
from benchleaf.values.origin import tell
from benchleaf.values.recorded import standing
from benchleaf.values.torque_of_set import is_driven


def callouts(mbook: MachineBook, sets: Iterable[str], *, later: bool = False) -> tuple[TorqueCallout, ...]:
    """A callout for every screw or nut of these sets; those that read the same in all five are one.

    ``later``: they only come out now, and the torque is for the way back.
    """
    made: dict[TorqueCallout, None] = {}
    for name in sets:
        for form in mbook.sets(name):
            if is_driven(form.value):
                made[replace(callout(mbook, form.value), later=later)] = None
    return tuple(made)


def callout(mbook: MachineBook, one: FastenerSet) -> TorqueCallout:
    """The callout of one set."""
    return mbook.remember(("callout", one), lambda: _callout(mbook, one))


def _callout(mbook: MachineBook, one: FastenerSet) -> TorqueCallout:
    style, found = mbook.book.style, callout_of(one, mbook.book.shop)
    look = look_words(one)
    unit = found.unit or style.torque or "N·m"
    status: ValueStatus = STATUS_WORDS[found.status]
    return TorqueCallout(
        what=f"{plural(kind_words(one), one.count)} of {mbook.item_name(one.item)}",
        count=f"{one.count} of {look}" if look else str(one.count),
        value=found.value,
        unit=found.unit,
        tolerance=found.tolerance,
        friction=found.friction,
        sequence=found.sequence,
        status=status,
        text=found.text,
        origins=origins_of(standing(one.torque, style.same_within), style),
        interim=found.interim or None,
        against=tuple(one.message for one in found.against),
        limit=found.limit.text(unit) if found.limit is not None else None,
        limit_words=found.limit.words if found.limit is not None else "",
        limit_origins=chain_of(found.limit.origin) if found.limit is not None else (),
        not_computed="" if found.limit is not None else "; ".join(found.not_computed),
    )


def chain_of(origin: Chain) -> tuple[Origin, ...]:
    """A whole chain of formulas and inputs, one line a link."""
    return tuple(Origin(kind=line) for line in tell(origin))
