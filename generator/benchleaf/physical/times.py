"""How long an action takes, and with what in hand: what the record says, else the shop, else common practice."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from benchleaf.built import Built
from benchleaf.fastener_sets import HAND, FastenerSet
from benchleaf.frozen import dataclass
from benchleaf.model import Library
from benchleaf.physical.crossing import leads
from benchleaf.records.items import Item
from benchleaf.records.shared import ShopRecord
from benchleaf.records.wiring import CableEnd
from benchleaf.values.quantity import Quantity

COMMON_PRACTICE: Mapping[str, float] = {
    "remove": 10, "loosen": 10, "start": 10, "tighten": 10,
    "slide": 0, "lift off": 30, "install": 30, "move": 30, "open": 30, "close": 30,
    "label": 10, "photograph": 15, "unplug": 15, "disconnect": 40, "plug": 15, "lift lead": 15, "land lead": 15,
    "cut": 10, "tie": 10, "clamp": 30, "unclamp": 30, "cap": 10, "uncap": 10, "drain": 300, "fill": 300,
    "cover": 20, "uncover": 20, "isolate": 60, "discharge": 120, "prove dead": 180,
}  # fmt: skip
"""Seconds for each verb; for fasteners a piece, for leads a lead. Common practice, no source; of these the record
language names remove, loosen, unplug, lift off, move, cut, clamp, disconnect. A slide is part of taking its item off.
"""
OTHERWISE = 30.0
"""Seconds for a verb nobody gave a time: common practice, no source."""
TOOL_OF_VERB: Mapping[str, str] = {"cut": "side cutters", "lift lead": "terminal driver", "nut": "spanner"}
"""What is in hand for work that no drive names, unless a tool of the shop says it does it: common practice."""


@dataclass(frozen=True, slots=True)
class Times:
    """The times of a shop, in seconds, and its tools for work that no drive names."""

    by_verb: Mapping[str, float]
    tools: Mapping[str, str] = field(default_factory=dict)

    @staticmethod
    def of_shop(shop: ShopRecord) -> Times:
        given = {verb: seconds(quantity) for verb, quantity in shop.times.items()}
        return Times({**COMMON_PRACTICE, **{verb: time for verb, time in given.items() if time is not None}})

    @staticmethod
    def of_library(library: Library) -> Times:
        """The shop's times, and for each kind of work the first of its tools, by id, that does it."""
        tools: dict[str, str] = {}
        for name in sorted(library.tools):
            for work in library.tools[name].does or ():
                tools.setdefault(str(work), name)
        return Times(Times.of_shop(library.shop).by_verb, tools)

    def of(self, verb: str) -> float:
        return float(self.by_verb.get(verb, OTHERWISE))

    def tool(self, work: str) -> str:
        """What is in hand for a verb, or for a joint of a kind."""
        if work not in TOOL_OF_VERB:
            return HAND
        return self.tools.get(work, TOOL_OF_VERB[work])

    def of_set(self, one: FastenerSet, missing: int = 0) -> float:
        """Releasing a whole set: each fastener's own time, else the shop's for its verb. ``missing`` are not there."""
        each = seconds(one.takes) if one.takes is not None else None
        return max(one.count - missing, 0) * (each if each is not None else self.of(one.release))

    def of_item(self, item: Item) -> float:
        """Taking an item off with all its motions, its fasteners not counted."""
        own = seconds(item.takes) if item.takes is not None else None
        return own if own is not None else self.of("lift off")

    def of_end(self, built: Built, cable: str, end: CableEnd) -> float:
        """Opening one end of a cable: label, photograph and unplug it; label it and lift its leads."""
        connector = built.connectors.get(str(end.at))
        for quantity in (end.takes, connector.takes if connector is not None else None):
            own = seconds(quantity) if quantity is not None else None
            if own is not None:
                return own
        if connector is not None:
            return self.of("disconnect")
        return self.of("label") + len(leads(built.cables[cable], str(end.at))) * self.of("lift lead")


def seconds(quantity: Quantity) -> float | None:
    """A time as one number: the nominal, else the longest said, else the shortest."""
    for one in (quantity.nominal, quantity.high, quantity.low):
        if one is not None:
            return one
    return None
