"""The torque callout of a fastener set: value, unit, tolerance, friction, sequence, each recorded or said not to be.

A computed torque is a limit and stands apart. Nothing that a callout lacks is filled in.
"""

from __future__ import annotations

from collections.abc import Iterable

from benchleaf.fastener_sets import FastenerSet
from benchleaf.pages.book import MachineBook
from benchleaf.pages.fastener_words import kind_words, look_words
from benchleaf.pages.sentences import plural
from benchleaf.pages.shown import Origin, TorqueCallout, ValueStatus
from benchleaf.pages.values_shown import ValueStyle, origins_of
from benchleaf.values.observations import Standing, Status
from benchleaf.values.origin import Origin as Chain
from benchleaf.values.origin import tell
from benchleaf.values.quantity import Quantity, show
from benchleaf.values.recorded import standing
from benchleaf.values.torque_of_set import is_driven, limits_of

_STATUS: dict[Status, ValueStatus] = {
    Status.AGREED: "agreed", Status.DISPUTED: "disputed", Status.SINGLE: "single observation",
    Status.NOT_RECORDED: "not recorded",
}  # fmt: skip


def callouts(mbook: MachineBook, sets: Iterable[str]) -> tuple[TorqueCallout, ...]:
    """A callout for every screw or nut of these sets; those that read the same in all five are one."""
    made: dict[TorqueCallout, None] = {}
    for name in sets:
        for form in mbook.sets(name):
            if is_driven(form.value):
                made[callout(mbook, form.value)] = None
    return tuple(made)


def callout(mbook: MachineBook, one: FastenerSet) -> TorqueCallout:
    """The callout of one set."""
    style = mbook.book.style
    found = standing(one.torque, style.same_within)
    unit = _unit(found, style)
    count = f"{one.count} of {look_words(one)}" if look_words(one) else str(one.count)
    value, tolerance = _value(found, unit)
    limit = limits_of(one).upper
    return TorqueCallout(
        what=f"{plural(kind_words(one), one.count)} of {mbook.item_name(one.item)}",
        count=count,
        value=value,
        unit=unit,
        tolerance=tolerance,
        friction=_friction(one, found),
        sequence=_sequence(one),
        status=_STATUS[found.status],
        origins=origins_of(found, style),
        interim=found.interim or None,
        limit=limit.text(unit or style.torque or "N·m") if limit is not None else None,
        limit_words=limit.words if limit is not None else "",
        limit_origins=chain_of(limit.origin) if limit is not None else (),
    )


def _unit(found: Standing, style: ValueStyle) -> str | None:
    quantity = found.shown[0].quantity if found.shown else None
    return None if quantity is None else style.torque or quantity.unit


def _value(found: Standing, unit: str | None) -> tuple[str | None, str | None]:
    """``0.5`` and ``± 0.05 N·m``; of a dispute every side, each with its own tolerance."""
    quantities = [one.quantity for one in found.shown if one.quantity is not None]
    if not quantities or unit is None:
        return None, None
    parts = [_split(one, unit) for one in quantities]
    values = " or ".join(dict.fromkeys(value for value, _ in parts))
    tolerances = list(dict.fromkeys(tolerance for _, tolerance in parts))
    return values, None if tolerances == [None] else " or ".join(one or "not recorded" for one in tolerances)


def _split(quantity: Quantity, unit: str) -> tuple[str, str | None]:
    text = show(quantity, unit).removesuffix(unit).strip()
    value, sign, tolerance = text.partition("±")
    if sign:
        return value.strip(), f"± {tolerance.strip()} {'' if tolerance.strip().endswith('%') else unit}".strip()
    return text, "as a range" if quantity.form == "range" else None


def _friction(one: FastenerSet, found: Standing) -> str | None:
    conditions = list(dict.fromkeys(seen.condition for seen in found.shown if seen.condition))
    parts = [*conditions, f"µ {one.friction:g}" if one.friction is not None else ""]
    return ", ".join(part for part in parts if part) or None


def _sequence(one: FastenerSet) -> str | None:
    if one.count == 1:
        return "one alone"
    if one.sequence is None:
        return None
    return "crosswise" if one.sequence == "cross" else " ".join(str(place) for place in one.sequence)


def chain_of(origin: Chain) -> tuple[Origin, ...]:
    """A whole chain of formulas and inputs, one line a link."""
    return tuple(Origin(kind=line) for line in tell(origin))
