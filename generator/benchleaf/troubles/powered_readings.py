"""What a test measures is there with power on, or only on a dead machine: told by the kind of quantity it expects."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from benchleaf.physical.expected_readings import WITH_POWER, expected
from benchleaf.records.actions import Action
from benchleaf.records.codes import FaultTest
from benchleaf.records.items import Item
from benchleaf.values.quantity import Dimension, Quantity

ON_DEAD_PARTS = (Dimension.RESISTANCE, Dimension.CAPACITANCE)


def measured(test: FaultTest) -> tuple[Action, ...]:
    """The measurements of a test, in order; none of one in words."""
    return tuple(one for one in test.do if one.measure is not None) if isinstance(test.do, tuple) else ()


def wants_power(quantity: Quantity | None) -> bool:
    """Whether a reading is a voltage or current that is not nothing: ``below 5 V`` is read on a dead machine too."""
    if quantity is None or quantity.dimension not in WITH_POWER or quantity.low is None:
        return False
    return quantity.low > 0 or (quantity.high is not None and quantity.high < 0)


def wants_dead_parts(quantity: Quantity | None) -> bool:
    """Whether a reading is taken with the meter's own current."""
    return quantity is not None and quantity.dimension in ON_DEAD_PARTS


def readings_with_power(test: FaultTest, items: Mapping[str, Item]) -> Iterator[Action]:
    """The measurements of a test that read nothing on a dead machine."""
    return (one for one in measured(test) if wants_power(expected(one.measure, items)))


def readings_on_dead_parts(test: FaultTest, items: Mapping[str, Item]) -> Iterator[Action]:
    """The measurements of a test that read nonsense at best, and can end the meter, with power on."""
    return (one for one in measured(test) if wants_dead_parts(expected(one.measure, items)))
