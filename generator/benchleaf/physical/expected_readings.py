"""What a measurement has to read, and which readings are there only with power on."""

from __future__ import annotations

from collections.abc import Mapping

from benchleaf.records.actions import Measure
from benchleaf.records.items import Item
from benchleaf.records.observed import Value
from benchleaf.values.quantity import Dimension, Quantity

WITH_POWER = (Dimension.VOLTAGE, Dimension.CURRENT)


def value_of(measure: Measure | None, items: Mapping[str, Item]) -> Value | None:
    """The recorded value a measurement names; ``None`` where it names none, or none is recorded."""
    if measure is None or measure.value is None:
        return None
    item = items.get(measure.value.item)
    return item.values.get(measure.value.own) if item is not None else None


def expected(measure: Measure | None, items: Mapping[str, Item]) -> Quantity | None:
    """What is to be read: as written in the measurement, else as the value it names; ``None`` = not recorded."""
    if measure is not None and measure.expect is not None:
        return measure.expect
    value = value_of(measure, items)
    return value.quantity if value is not None else None
