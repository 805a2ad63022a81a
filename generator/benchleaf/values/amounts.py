"""What a written value is once it is read: numbers that compare, bands that meet or do not, the same in
another unit.

`benchleaf.values.quantity` reads the author's text into these and is where other packages import them from.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Context, Decimal
from math import inf, isclose, isfinite

from benchleaf.frozen import dataclass
from benchleaf.values.units import AWG, Dimension, Unit, awg_area, awg_number, unit_named


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A number with its unit, and what is known of how far it may lie off.

    ``nominal``, ``low`` and ``high`` are in the dimension's base unit (N·m, m, m², m³, m³/s, rad, s, m/s,
    r/s, Hz, kg, N, Pa, °C, J, W, V, A, Ω, F, H, C; ``%`` as a fraction). Without tolerance all three are the
    same number and ``has_tolerance`` is false. ``below x`` has only ``high``, ``above x`` only ``low``,
    ``a..b`` both and no nominal.
    """

    written: str
    """The author's characters."""
    tidy: str
    """The same with the printed spelling of the unit: ``0.6 ± 0.1 N·m`` for ``0.6 +- 0.1 Nm``."""
    dimension: Dimension
    unit: str
    """Printed spelling of the unit written, without AC or DC."""
    nominal: float | None
    low: float | None
    high: float | None
    has_tolerance: bool = False
    kind: str = ""
    """``AC``, ``DC`` or not said; voltages and currents only."""
    digits: int = 3
    """Significant digits typed, of the number with most of them."""

    @property
    def form(self) -> str:
        """``value``, ``range``, ``below`` or ``above``."""
        if self.nominal is not None:
            return "value"
        if self.low is None:
            return "below"
        return "above" if self.high is None else "range"

    @property
    def middle(self) -> float:
        """One number to compute or sort with, base unit: the nominal, the middle of a range, or the one
        limit.
        """
        if self.nominal is not None:
            return self.nominal
        if self.low is not None and self.high is not None:
            return (self.low + self.high) / 2
        return self.high if self.high is not None else self.low if self.low is not None else inf

    def band(self, same_within: float) -> tuple[float, float]:
        """Lowest and highest value meant, base unit; ± the share ``same_within`` where no tolerance is
        written.

        ``below x`` reaches down to -inf, ``above x`` up to inf.
        """
        if self.nominal is not None and not self.has_tolerance:
            off = abs(self.nominal) * same_within
            return self.nominal - off, self.nominal + off
        return (-inf if self.low is None else self.low, inf if self.high is None else self.high)

    def __str__(self) -> str:
        return self.tidy


@dataclass(frozen=True, slots=True, kw_only=True)
class Misread:
    """Why a text is no quantity: ``start`` to ``end`` (one past) is the narrowest part of the text at
    fault.
    """

    message: str
    help: str
    start: int
    end: int
    wrong_dimension: bool = False
    """The text is a quantity, but of another dimension than the one wanted."""


def conflicts(one: Quantity, other: Quantity, same_within: float) -> bool:
    """Whether two quantities cannot both be right: their bands do not meet, or they are not the same kind of
    thing.
    """
    if one.dimension is not other.dimension or (one.kind and other.kind and one.kind != other.kind):
        return True
    low, high = one.band(same_within)
    other_low, other_high = other.band(same_within)
    return not (_at_most(low, other_high) and _at_most(other_low, high))


def is_below(one: Quantity, other: Quantity, same_within: float = 0.0) -> bool:
    """Whether all of ``one`` lies below all of ``other`` (same dimension)."""
    return not _at_most(other.band(same_within)[0], one.band(same_within)[1])


def _at_most(a: float, b: float) -> bool:
    """a ≤ b, with a last-digit slip forgiven so that 0.5 ± 0.1 and 0.7 ± 0.1 touch."""
    return a <= b or isclose(a, b, rel_tol=1e-9, abs_tol=1e-18)


def to_base(number: float, unit: str) -> float:
    """``number`` of ``unit`` (printed spelling) in the base unit of its dimension; AWG gives m²."""
    found = unit_named(unit)
    return awg_area(number) if found is AWG else number * float(found.factor) + float(found.offset)


def from_base(value: float, unit: str) -> float:
    """``value`` in the base unit as a number of ``unit``: the inverse of ``to_base``."""
    found = unit_named(unit)
    return awg_number(value) if found is AWG else (value - float(found.offset)) / float(found.factor)


def make_quantity(
    *,
    unit: str,
    nominal: float | None = None,
    low: float | None = None,
    high: float | None = None,
    kind: str = "",
    digits: int = 3,
) -> Quantity:
    """A computed quantity, numbers in ``unit`` (printed spelling, not AWG): nominal, nominal with band,
    range, or limit.

    Raises ``ValueError`` when nothing is given or a number is not finite: a mistake of the caller.
    """
    given = [number for number in (nominal, low, high) if number is not None]
    if not given or not all(isfinite(number) for number in given):
        raise ValueError(f"no finite number to make a quantity of: {nominal}, {low}, {high}")
    found = unit_named(unit)
    has_tolerance = nominal is not None and not (low is None and high is None)

    def base(number: float | None) -> float | None:
        return None if number is None else to_base(number, unit)

    bare = nominal is not None and not has_tolerance
    made = Quantity(
        written="",
        tidy="",
        dimension=found.dimension,
        unit=unit,
        nominal=base(nominal),
        low=base(nominal if bare or (low is None and has_tolerance) else low),
        high=base(nominal if bare or (high is None and has_tolerance) else high),
        has_tolerance=has_tolerance,
        kind=kind,
        digits=digits,
    )
    text = _in_unit(made, found)
    return replace(made, written=text, tidy=text)


def show(quantity: Quantity, unit: str | None = None) -> str:
    """The quantity in ``unit`` (printed spelling, default its own), with the digits the written number
    deserves.

    As many significant digits as typed, two at least, one more where the first is a 1. Limits are rounded
    inward, so that a converted limit never allows more than the recorded one. Raises ``ValueError`` for a
    unit of another dimension: a mistake of the caller.
    """
    if unit is None or unit == quantity.unit:
        return quantity.tidy
    found = unit_named(unit)
    if found.dimension is not quantity.dimension:
        raise ValueError(f"{quantity.tidy} is {quantity.dimension.value}, not to be shown in {unit}")
    return _in_unit(quantity, found)


def show_with_recorded(quantity: Quantity, unit: str | None) -> str:
    """In the shop's unit with the recorded one beside it where they differ: ``5.3 in·lbf (recorded 0.6
    N·m)``.
    """
    if unit is None or unit == quantity.unit or unit_named(unit).dimension is not quantity.dimension:
        return quantity.tidy
    return f"{show(quantity, unit)} (recorded {quantity.tidy})"


def _in_unit(quantity: Quantity, unit: Unit) -> str:
    if unit is AWG:  # a gauge is a whole number; which one is near enough is the reader's to judge
        return f"about {round(awg_number(quantity.middle))} AWG"
    name = f"{unit.name} {quantity.kind}".strip()
    low = None if quantity.low is None else from_base(quantity.low, unit.name)
    high = None if quantity.high is None else from_base(quantity.high, unit.name)
    if quantity.nominal is None:
        if low is None:
            return f"below {_rounded(high, quantity.digits, ROUND_FLOOR)} {name}"
        if high is None:
            return f"above {_rounded(low, quantity.digits, ROUND_CEILING)} {name}"
        for digits in range(quantity.digits, quantity.digits + 12):  # a narrow range needs more digits to stay one
            lower, upper = _rounded(low, digits, ROUND_CEILING), _rounded(high, digits, ROUND_FLOOR)
            if Decimal(lower) <= Decimal(upper):
                break
        return f"{lower}..{upper} {name}"
    nominal = from_base(quantity.nominal, unit.name)
    if not quantity.has_tolerance or low is None or high is None:
        return f"{_rounded(nominal, quantity.digits)} {name}"
    if not isclose(high - nominal, nominal - low, rel_tol=1e-6, abs_tol=1e-12):
        lower, upper = (_rounded(end, quantity.digits, ROUND_HALF_EVEN) for end in (low, high))
        return f"{_rounded(nominal, quantity.digits)} {name} ({lower} to {upper})"
    off = _rounded((high - low) / 2, 1)
    decimals = max(0, -_exponent(off), -_exponent(_rounded(nominal, quantity.digits)))
    return f"{nominal:.{decimals}f} ± {off} {name}"


def _exponent(number: str) -> int:
    exponent = Decimal(number).as_tuple().exponent
    return exponent if isinstance(exponent, int) else 0


def _rounded(number: float | None, digits: int, rounding: str = ROUND_HALF_EVEN) -> str:
    """``number`` to max(2, digits) significant digits, one more where the first is a 1, never with an
    exponent.
    """
    # twelve digits first: 500 mN·m is 0.5 N·m, not 0.50000000000000004
    exact = Context(prec=12).create_decimal_from_float(number or 0.0)
    if exact == 0:
        return "0"
    wanted = max(2, digits) + (1 if exact.as_tuple().digits[0] == 1 else 0)
    rounded = Context(prec=wanted, rounding=rounding).plus(exact)
    text = f"{rounded:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
