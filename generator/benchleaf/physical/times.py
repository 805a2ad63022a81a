"""How long an action takes: what the record says, else the shop's times, else common practice."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from benchleaf.built import Built
from benchleaf.fastener_sets import FastenerSet
from benchleaf.records.items import Item
from benchleaf.records.shared import ShopRecord
from benchleaf.records.wiring import CableEnd
from benchleaf.values.quantity import Quantity

COMMON_PRACTICE: Mapping[str, float] = {
    "remove": 10, "loosen": 10, "start": 10, "tighten": 10, "unplug": 15, "plug": 15, "lift off": 30, "install": 30,
    "move": 30, "slide": 30, "cut": 10, "tie": 10, "clamp": 30, "unclamp": 30, "disconnect": 40, "open": 30,
    "close": 30,
}  # fmt: skip
"""Seconds for each verb; for fasteners a piece. Common practice, no source (the first seven: the record language)."""
OTHERWISE = 30.0
"""Seconds for a verb nobody gave a time: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Times:
    """The times of a shop, in seconds."""

    by_verb: Mapping[str, float]

    @staticmethod
    def of_shop(shop: ShopRecord) -> Times:
        given = {verb: seconds(quantity) for verb, quantity in shop.times.items()}
        return Times({**COMMON_PRACTICE, **{verb: time for verb, time in given.items() if time is not None}})

    def of(self, verb: str) -> float:
        return self.by_verb.get(verb, OTHERWISE)

    def of_set(self, one: FastenerSet) -> float:
        """Releasing a whole set: each fastener's own time, else the shop's for its verb."""
        each = seconds(one.takes) if one.takes is not None else None
        return one.count * (each if each is not None else self.of(one.release))

    def of_item(self, item: Item) -> float:
        """Taking an item off, its fasteners not counted."""
        own = seconds(item.takes) if item.takes is not None else None
        return own if own is not None else self.of("lift off")

    def of_end(self, built: Built, cable: str, end: CableEnd) -> float:
        """Opening one end of a cable: label, photograph and unplug it."""
        connector = built.connectors.get(str(end.at))
        for quantity in (end.takes, connector.takes if connector is not None else None):
            own = seconds(quantity) if quantity is not None else None
            if own is not None:
                return own
        return self.of("disconnect") if connector is not None else self.of("unplug")


def seconds(quantity: Quantity) -> float | None:
    """A time as one number: the nominal, else the longest said."""
    return quantity.nominal if quantity.nominal is not None else quantity.high
