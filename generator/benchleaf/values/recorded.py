"""A recorded value as computations and pages meet it: where it stands, and where each part of it was written.

This is the way from the records' own rows into `benchleaf.values.observations`; nothing is judged here.
"""

from __future__ import annotations

from benchleaf.diagnostics import Place
from benchleaf.records import observed
from benchleaf.records.shared import ShopRecord
from benchleaf.values.observations import SAME_WITHIN, Observation, Standing, origin_of, standing_of
from benchleaf.values.origin import Origin, Recorded
from benchleaf.values.quantity import Quantity


def same_within(shop: ShopRecord) -> float:
    """The shop's band of a value without tolerance, as a share (0.1 = 10 %)."""
    return SAME_WITHIN if shop.same_within is None else shop.same_within / 100


def observations_of(value: observed.Value | None) -> tuple[Observation, ...]:
    """Every entry under a value, in the order written; none for a value not recorded."""
    return tuple(_observation(one) for one in (value.observations if value is not None else ()))


def _observation(one: observed.Observation) -> Observation:
    decided = one.adjudicated is not None
    place = one.place_of("adjudicated" if decided else "value" if one.value is not None else "interim")
    return Observation(
        quantity=one.quantity,
        origin=one.origin or "",
        by=one.by or "",
        serial=one.serial or "",
        date=one.date or "",
        method=one.method or "",
        instrument=one.instrument or "",
        source=one.source or "",
        condition=one.condition or "",
        adjudicated=decided,
        reason=one.reason or "",
        interim=one.interim or "",
        place=place,
    )


def standing(value: observed.Value | None, within: float = SAME_WITHIN) -> Standing:
    """Where a recorded value stands; ``within`` is ``same_within(shop)``. ``None`` stands at *not recorded*."""
    return standing_of(observations_of(value), within)


def counting(value: observed.Value | None) -> tuple[Observation, ...]:
    """The entries a limit has to reckon with: the decision where it settles the matter, else everything seen."""
    found = standing(value)
    if found.decided is not None:
        return (found.decided,)
    return tuple(one for one in found.everyone if one.quantity is not None and one not in found.set_aside)


def lowest(value: observed.Value | None) -> Observation | None:
    """The counting entry that allows the least: for a limit that must err low. Open below counts as nothing."""
    return min(counting(value), key=lambda one: _low(one.quantity), default=None)


def highest(value: observed.Value | None) -> Observation | None:
    """The counting entry that allows the most: for a demand that must err high. Open above counts as endless."""
    return max(counting(value), key=lambda one: _high(one.quantity), default=None)


def _low(quantity: Quantity | None) -> float:
    return float("-inf") if quantity is None or quantity.low is None else quantity.low


def _high(quantity: Quantity | None) -> float:
    return float("inf") if quantity is None or quantity.high is None else quantity.high


def origin_in(one: Observation | None, shop: ShopRecord | None = None) -> Origin | None:
    """The entry as the end of a chain, with who saw it only where the shop publishes names."""
    return None if one is None else origin_of(one, publish_names=bool(shop is not None and shop.publish_names))


def stated_at(text: str, place: Place | None, how: str = "") -> Recorded | None:
    """A word or number without observations, ``M4`` or ``friction 0.14``, as the end of a chain."""
    return None if place is None or not place.file else Recorded(text, place, how)
