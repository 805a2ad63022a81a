"""A recorded value as pages show it: the words, how far it is agreed on, and where each part of it comes from.

Nothing with a unit reaches a page but through here, so every number leads back to a line of a record.
"""

from __future__ import annotations

from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass
from benchleaf.pages.shown import Origin, ShownValue, ValueStatus
from benchleaf.records import observed
from benchleaf.records.shared import ShopRecord
from benchleaf.values.observations import SAME_WITHIN, Observation, Standing, Status, origin_words
from benchleaf.values.quantity import Dimension, Quantity, show_with_recorded
from benchleaf.values.recorded import same_within, standing

STATUS_WORDS: dict[Status, ValueStatus] = {
    Status.AGREED: "agreed",
    Status.DISPUTED: "disputed",
    Status.SINGLE: "single observation",
    Status.NOT_RECORDED: "not recorded",
}


@dataclass(frozen=True, slots=True)
class ValueStyle:
    """What the shop wants of every value on a page."""

    same_within: float = SAME_WITHIN
    publish_names: bool = False
    torque: str | None = None
    length: str | None = None

    @staticmethod
    def of_shop(shop: ShopRecord) -> ValueStyle:
        units = shop.units
        return ValueStyle(
            same_within=same_within(shop),
            publish_names=bool(shop.publish_names),
            torque=units.torque if units else None,
            length=units.length if units else None,
        )

    def words(self, quantity: Quantity) -> str:
        """The quantity in the shop's unit, with the recorded one beside it where they differ."""
        unit = {Dimension.TORQUE: self.torque, Dimension.LENGTH: self.length}.get(quantity.dimension)
        return quantity.tidy if unit is None or unit == quantity.unit else show_with_recorded(quantity, unit)


def shown_value(value: observed.Value | None, style: ValueStyle) -> ShownValue | None:
    """A value with all that was observed of it; ``None`` = not recorded."""
    found = standing(value, style.same_within)
    if not found.shown:
        return None
    text = " or ".join(dict.fromkeys(style.words(one.quantity) for one in found.shown if one.quantity is not None))
    return ShownValue(
        text=text,
        machine=machine_form(found.shown[0].quantity),
        status=STATUS_WORDS[found.status],
        origins=origins_of(found, style),
    )


def origins_of(found: Standing, style: ValueStyle) -> tuple[Origin, ...]:
    """Every entry behind a value, in the order written."""
    return tuple(_origin(one, style) for one in found.everyone if one.quantity is not None)


def _origin(one: Observation, style: ValueStyle) -> Origin:
    assert one.quantity is not None
    words = origin_words(one, publish_names=style.publish_names)
    return Origin(kind=style.words(one.quantity), words=words, place=place_words(one.place))


def plain_value(
    quantity: Quantity | None, place: Place, style: ValueStyle, kind: str = "recorded"
) -> ShownValue | None:
    """A quantity that is written once and carries no observations, such as the distance of a motion."""
    if quantity is None:
        return None
    origin = Origin(kind=kind, place=place_words(place))
    return ShownValue(text=style.words(quantity), machine=machine_form(quantity), origins=(origin,))


def reckoned_value(text: str, machine: str, how: str, *inputs: Origin) -> ShownValue:
    """A value worked out from others: ``how`` says by what rule, ``inputs`` where its parts come from."""
    return ShownValue(
        text=text, machine=machine, status="agreed", origins=(Origin(kind="computed", words=how), *inputs)
    )


def machine_form(quantity: Quantity | None) -> str:
    """The number for programs, in the base unit; empty when there is no single one."""
    return f"{quantity.middle:g}" if quantity is not None and quantity.nominal is not None else ""


def place_words(place: Place | None) -> str | None:
    """``fp420/machine.yaml:41``."""
    return f"{place.file}:{place.line}" if place is not None and place.file else None
