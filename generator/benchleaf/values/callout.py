"""The torque callout of a fastener set: value, tolerance, unit, friction condition, sequence.

What is not recorded is said not to be, never filled in. A computed torque is a limit and stands apart, with its sum. A
disputed torque shows every side and what to do meanwhile.
"""

from __future__ import annotations

from benchleaf.fastener_sets import FastenerSet
from benchleaf.frozen import dataclass
from benchleaf.records.shared import ShopRecord
from benchleaf.values.joint import Limit
from benchleaf.values.observations import Observation, Status, origin_words
from benchleaf.values.origin import Origin
from benchleaf.values.quantity import Quantity, show
from benchleaf.values.recorded import origin_in, same_within, standing
from benchleaf.values.torque import TorqueJudgement
from benchleaf.values.torque_of_set import judge, limits_of

NOT_RECORDED = "not recorded"


@dataclass(frozen=True, slots=True, kw_only=True)
class Callout:
    """The five elements in words, ``None`` where not recorded, and everything that belongs beside them.

    ``unit`` is the shop's, else the recorded one; ``recorded`` is the torque as written where that differs. ``origins``
    are the ends of the chains of the values shown; ``origin_words`` the same for a footnote.
    """

    set: str
    count: int
    status: Status
    value: str | None
    tolerance: str | None
    unit: str | None
    friction: str | None
    sequence: str | None
    recorded: str = ""
    interim: str = ""
    origin_words: tuple[str, ...] = ()
    origins: tuple[Origin, ...] = ()
    limit: Limit | None = None
    not_computed: tuple[str, ...] = ()
    against: tuple[TorqueJudgement, ...] = ()

    @property
    def text(self) -> str:
        """One line for a card or a terminal: ``0.5 ± 0.05 N·m``, ``0.5 or 0.7 N·m (disputed)``, ``not recorded``."""
        if self.value is None or self.unit is None:
            return NOT_RECORDED
        off = self.tolerance or ""
        if " or " in self.value or not off.startswith("±"):
            plain = f"{self.value} {self.unit}"
        elif off[-1].isdigit():
            plain = f"{self.value} {off} {self.unit}"
        else:  # a share, or a tolerance in a unit of its own
            plain = f"{self.value} {self.unit} {off}"
        doubt = " (disputed)" if self.status is Status.DISPUTED else ""
        beside = f" (recorded {self.recorded})" if self.recorded else ""
        return f"{plain}{beside}{doubt}"

    @property
    def is_complete(self) -> bool:
        """Whether all five are recorded and nothing is disputed."""
        five = (self.value, self.tolerance, self.unit, self.friction, self.sequence)
        return None not in five and self.status is not Status.DISPUTED

    @property
    def warnings(self) -> tuple[str, ...]:
        """What has to stand beside the torque: what speaks against it, and what holds while it is disputed."""
        meanwhile = (f"disputed: {self.interim}",) if self.status is Status.DISPUTED else ()
        return (*meanwhile, *(one.message for one in self.against))


def callout_of(one: FastenerSet, shop: ShopRecord) -> Callout:
    """The callout of a set, in the shop's unit of torque."""
    found = standing(one.torque, same_within(shop))
    quantities = [seen.quantity for seen in found.shown if seen.quantity is not None]
    unit = (shop.units.torque if shop.units is not None else None) or (quantities[0].unit if quantities else None)
    parts = [value_and_tolerance(quantity, unit) for quantity in quantities if unit is not None]
    tolerances = list(dict.fromkeys(tolerance for _, tolerance in parts))
    limits = limits_of(one)
    names = bool(shop.publish_names)
    return Callout(
        set=one.name,
        count=one.count,
        status=found.status,
        value=" or ".join(dict.fromkeys(value for value, _ in parts)) or None,
        tolerance=None if tolerances in ([], [None]) else " or ".join(each or NOT_RECORDED for each in tolerances),
        unit=unit if quantities else None,
        friction=friction_words(one, found.shown),
        sequence=sequence_words(one),
        recorded=" or ".join(dict.fromkeys(each.tidy for each in quantities if each.unit != unit)),
        interim=str(found.interim),
        origin_words=tuple(_footnote(seen, names) for seen in found.shown),
        origins=tuple(origin for seen in found.shown if (origin := origin_in(seen, shop)) is not None),
        limit=limits.upper,
        not_computed=limits.not_computed,
        against=tuple(judged for _, judged in judge(one)),
    )


def _footnote(seen: Observation, names: bool) -> str:
    where = f" at {seen.place.file}:{seen.place.line}" if seen.place is not None else ""
    return f"{seen.quantity}: {origin_words(seen, publish_names=names)}{where}"


def value_and_tolerance(quantity: Quantity, unit: str) -> tuple[str, str | None]:
    """The number and its tolerance, without the unit: ``("0.5", "± 0.05")``; ``None`` where none is written.

    A range is its own tolerance: ``("0.4 to 0.6", "as a range")``. A tolerance of unequal sides is written out.
    """
    text = show(quantity, unit).replace(f" {unit}", "", 1)
    if quantity.form == "range":
        return text.replace("..", " to "), "as a range"
    if not quantity.has_tolerance:
        return text, None
    value, plus_minus, off = text.partition(" ± ")
    if plus_minus:
        return value, f"± {off}"
    value, _, sides = text.partition(" (")
    return value, sides.rstrip(")") or None


def friction_words(one: FastenerSet, shown: tuple[Observation, ...]) -> str | None:
    """The condition a torque holds under: what its observations say (dry, with paste), and the recorded friction."""
    said = dict.fromkeys(seen.condition for seen in shown if seen.condition)
    parts = [*said, *([f"µ {one.friction:g}"] if one.friction is not None else [])]
    return ", ".join(parts) or None


def sequence_words(one: FastenerSet) -> str | None:
    """``3 4 1 6 2 5``, ``crosswise``, ``one alone``; ``None`` for several with no order recorded."""
    if one.count == 1:
        return "one alone"
    if one.sequence is None:
        return None
    return "crosswise" if isinstance(one.sequence, str) else " ".join(str(place) for place in one.sequence)
