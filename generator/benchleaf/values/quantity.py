"""Reads a value as a technician writes it: ``0.6 ± 0.1 N·m``, ``below 0.5 ohm``, ``0.5..0.7 N·m``, ``24
AWG``.

    quantity := ("below" | "above") number unit
              | number [unit] ".." number unit
              | number [unit] [("±" | "+-" | "+/-") number (unit | "%")] [unit]
              | "AWG" number

What the grammar does not know is refused with a suggestion; nothing is guessed. Text is read once from left
to right and its length is limited, so no input makes the reader slow.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from benchleaf.frozen import dataclass
from benchleaf.values import misreading
from benchleaf.values.amounts import (
    Misread,
    Quantity,
    conflicts,
    from_base,
    is_below,
    make_quantity,
    show,
    show_with_recorded,
    to_base,
)
from benchleaf.values.misreading import Number, Refused, example_for, refusal
from benchleaf.values.units import (
    AWG,
    Dimension,
    Unit,
    awg_area,
    dimension_words,
    find_unit,
    unit_named,
    unit_spellings,
)

__all__ = [
    "Dimension",
    "Misread",
    "Quantity",
    "conflicts",
    "dimension_words",
    "from_base",
    "is_below",
    "make_quantity",
    "read_quantity",
    "show",
    "show_with_recorded",
    "to_base",
    "unit_named",
    "unit_spellings",
]

LONGEST = 80
MOST_DIGITS = 12
WIDEST_GAUGE, FINEST_GAUGE = 0, 50

# Only these may be negative as they stand; a length may where it is a range or has a tolerance (a gap of 0 ±
# 0.2 mm).
_SIGNED = {
    Dimension.TEMPERATURE,
    Dimension.VOLTAGE,
    Dimension.CURRENT,
    Dimension.ANGLE,
    Dimension.PRESSURE,
    Dimension.CHARGE,
    Dimension.RATIO,
}
_SIGNED_IN_A_BAND = _SIGNED | {Dimension.LENGTH}
_ABSOLUTE_ZERO = -273.15

# One character for one, so that positions in the author's text stay right.
_SAME = str.maketrans(
    {
        "\u00a0": " ", "\u202f": " ", "\u2009": " ", "\t": " ",
        "\u2212": "-", "\u2010": "-", "\u2011": "-",
        "\u03bc": "µ", "\u2126": "Ω", "º": "°",
        "⋅": "·", "•": "·", "∙": "·", "∗": "·", "*": "·", "×": "·",
    }
)  # fmt: skip
_NUMBER = re.compile(r"[+-]?[0-9]+(?:[.,][0-9]+)*")
_SPLIT = re.compile(r"±|\+ ?/? ?-|\.\.|…")
_WORD = re.compile(r"(below|above)\b *", re.IGNORECASE)
_GAUGE_FIRST = re.compile(r"AWG *(?=[0-9])", re.IGNORECASE)
_TO = re.compile(r" *(-|–|—|to\b|until\b|bis\b) *(?=[+-]?[0-9])", re.I)


@dataclass(frozen=True, slots=True)
class _Side:
    """A number and the unit behind it, which may be left out on one side of a pair."""

    number: Number
    unit: Unit | None
    kind: str


def read_quantity(
    text: str,
    *,
    expected: Dimension | tuple[Dimension, ...] | None = None,
    decimal_comma: bool = False,
) -> Quantity | Misread:
    """The quantity ``text`` says, or why it says none.

    ``expected``: the dimension wanted, or several of which any will do; ``None`` takes any. It also decides
    what ``C`` and ``F`` are: degrees, unless a charge or a capacitance is what is wanted (``F`` alone is
    farad). ``decimal_comma``: read ``2,5`` as 2.5 (the shop's setting) instead of refusing it.
    """
    wanted = () if expected is None else expected if isinstance(expected, tuple) else (expected,)
    try:
        return _Reader(text, wanted, decimal_comma).quantity()
    except Refused as refused:
        misread, end = refused.misread, max(1, len(text))
        if misread.end <= end:
            return misread
        return replace(misread, start=min(misread.start, end - 1), end=end)  # something is missing at the very end


class _Reader:
    """Reads one text; ``text`` has the same length as what the author typed, look-alike characters made
    one.
    """

    def __init__(self, text: str, wanted: tuple[Dimension, ...], decimal_comma: bool) -> None:
        self.typed = text
        self.text = text.translate(_SAME)
        self.end = len(self.text.rstrip(" \n"))
        self.start = len(self.text) - len(self.text.lstrip(" \n"))
        self.wanted = wanted
        self.decimal_comma = decimal_comma

    def quantity(self) -> Quantity:
        if self.start >= self.end:
            raise refusal("no value is written here", f"write {example_for(self.wanted)}", 0, max(1, len(self.text)))
        if self.end - self.start > LONGEST:
            raise refusal("this is too long for a quantity", f"write {example_for(self.wanted)}", self.start, self.end)
        for place in range(self.start, self.end):
            if not self.text[place].isprintable():
                raise refusal("a control character stands in this value", "type the value again", place, place + 1)
        if known := misreading.of_another_way(self.typed, self.text, self.start, self.end):
            raise known
        if gauge := _GAUGE_FIRST.match(self.text, self.start):
            return self._gauge_first(gauge.end())
        if word := _WORD.match(self.text, self.start):
            return self._limit(word.group(1).lower(), word.end())
        mark = _SPLIT.search(self.text, self.start, self.end)
        if mark is None:
            return self._plain(self._side(self.start, self.end))
        left = self._side(self.start, mark.start())
        if mark.group() in ("..", "…"):
            return self._range(left, self._side(mark.end(), self.end), mark)
        return self._with_tolerance(left, mark)

    # the forms --------------------------------------------------------------

    def _plain(self, side: _Side) -> Quantity:
        unit = self._one_unit(side, side)
        value = self._value(side.number, unit, _SIGNED)
        return self._made(f"{side.number.text} {_name(unit, side.kind)}", unit, side.kind, (side,), value, value, value)

    def _limit(self, word: str, start: int) -> Quantity:
        mark = _SPLIT.search(self.text, start, self.end)
        if mark is not None:
            raise refusal(
                f"'{word}' takes one number, without tolerance or range",
                f"leave '{word}' out, or the range or tolerance",
                mark.start(),
                mark.end(),
            )
        side = self._side(start, self.end)
        unit = self._one_unit(side, side)
        if unit is AWG:
            raise refusal(
                f"'{word}' a gauge can be read both ways, for a higher gauge is a thinner wire",
                "write a range such as 22..26 AWG, or the cross-section in mm2",
                self.start,
                self.end,
            )
        value = self._value(side.number, unit, _SIGNED)
        low, high = (None, value) if word == "below" else (value, None)
        return self._made(
            f"{word} {side.number.text} {_name(unit, side.kind)}", unit, side.kind, (side,), None, low, high
        )

    def _range(self, left: _Side, right: _Side, mark: re.Match[str]) -> Quantity:
        unit = self._one_unit(right, left)
        kind = self._one_kind(left, right)
        first = left.unit or unit
        if first.dimension is not unit.dimension:
            raise misreading.of_dimension(left.number, first, (unit.dimension,), self.end)
        low = self._value(left.number, first, _SIGNED_IN_A_BAND)
        high = self._value(right.number, unit, _SIGNED_IN_A_BAND)
        if low > high and AWG in (first, unit):
            low, high = high, low
        if low > high:
            raise refusal(
                f"the range runs backwards: {left.number.text} is more than {right.number.text}",
                f"write {right.number.text}..{left.number.text} {_name(unit, kind)}",
                left.number.start,
                right.number.end,
            )
        other = "" if first is unit else f" {_name(first, kind)}"
        tidy = f"{left.number.text}{other}..{right.number.text} {_name(unit, kind)}"
        return self._made(tidy, unit, kind, (left, right), None, low, high)

    def _with_tolerance(self, left: _Side, mark: re.Match[str]) -> Quantity:
        second = _SPLIT.search(self.text, mark.end(), self.end)
        if second is not None:
            raise refusal("a value has one tolerance", "write it as a range: 0.4..0.7 N·m", second.start(), self.end)
        number = self._number(mark.end(), self.end)
        if number.text[0] in "+-":
            raise refusal("a tolerance has no sign of its own", "write ± and the number", number.start, number.end)
        place = self._skip(number.end)
        behind = self._skip(place + 1)
        # of the value; `40 % ± 5 %` and `40 ± 5 %` are shares of the same whole instead
        share = self.text.startswith("%", place) and (
            behind < self.end or (left.unit is not None and left.unit.name != "%")
        )
        if share and behind < self.end:
            right = _Side(number, *self._unit(behind, self.end))  # 0.6 ± 20 % N·m
        else:
            right = _Side(number, None, "") if share else self._side(mark.end(), self.end)
        unit = self._one_unit(left, right)
        kind = self._one_kind(left, right)
        if unit is AWG:
            raise refusal("a gauge has no tolerance", "write 24 AWG, or a range", mark.start(), self.end)
        nominal = left.number.value
        if share:
            off = abs(nominal) * number.value / 100
            low, high = (_exact(nominal + sign * off, unit) for sign in (-1, 1))
            tidy = f"{left.number.text} {_name(unit, kind)} ± {number.text} %"
        else:
            other = right.unit or unit
            if other.dimension is not unit.dimension:
                raise misreading.of_dimension(right.number, other, (unit.dimension,), self.end)
            off = number.value * other.factor  # a difference: the zero of °F plays no part
            low, high = (float(nominal * unit.factor + unit.offset + sign * off) for sign in (-1, 1))
            own = "" if other is unit else f" {_name(unit, kind)}"
            tidy = f"{left.number.text}{own} ± {number.text} {_name(other, kind)}"
        value = self._value(left.number, unit, _SIGNED_IN_A_BAND)
        if low < 0 <= value and unit.dimension not in _SIGNED_IN_A_BAND:
            raise refusal(
                "the tolerance is larger than the value",
                f"{unit.dimension.value} cannot be negative: write a range, or 'below' and the upper limit",
                number.start,
                self.end,
            )
        if low < _ABSOLUTE_ZERO and unit.dimension is Dimension.TEMPERATURE:
            raise refusal("this reaches below absolute zero", "check the tolerance", number.start, self.end)
        return self._made(tidy, unit, kind, (left, right), value, low, high)

    def _gauge_first(self, start: int) -> Quantity:
        number = self._number(start, self.end)
        if self._skip(number.end) < self.end:
            raise refusal("something stands behind the gauge", "write 24 AWG", number.end, self.end)
        return self._plain(_Side(number, AWG, ""))

    # the pieces --------------------------------------------------------------

    def _skip(self, place: int) -> int:
        while place < self.end and self.text[place] == " ":
            place += 1
        return place

    def _side(self, start: int, end: int) -> _Side:
        number = self._number(start, end)
        place = self._skip(number.end)
        stop = end
        while stop > place and self.text[stop - 1] == " ":
            stop -= 1
        if place >= stop:
            return _Side(number, None, "")
        unit, kind = self._unit(place, stop)
        return _Side(number, unit, kind)

    def _number(self, start: int, end: int) -> Number:
        start = self._skip(start)
        match = _NUMBER.match(self.text, start, end)
        if match is None:
            raise misreading.of_no_number(self.typed, self.text, start, end, self.wanted)
        text = match.group()
        if "," in text:
            if not self.decimal_comma:
                point = text.replace(",", ".", 1)
                raise refusal(
                    f"'{text}' has a comma",
                    f"write a decimal point: {point}"
                    if text.count(",") == 1 and "." not in text
                    else "write the number with at most a decimal point: 1250.5",
                    start,
                    match.end(),
                )
            text = text.replace(",", ".")
        if text.count(".") > 1:
            raise refusal(
                f"'{match.group()}' has more than one decimal point",
                "write 1250.5 for a number, 0.5..0.7 for a range",
                start,
                match.end(),
            )
        number = Number(text, Fraction(text), start, match.end())
        if number.digits > MOST_DIGITS or len(text) > 2 * MOST_DIGITS:
            raise refusal(
                f"this number has more than {MOST_DIGITS} digits",
                "use a larger or smaller unit, or fewer digits",
                start,
                match.end(),
            )
        return number

    def _unit(self, start: int, end: int) -> tuple[Unit, str]:
        text = self.text[start:end]
        if found := find_unit(text, self.wanted):
            return found
        before = self.typed[self.start : start].rstrip()
        if text[0].isdigit() or text[0] in "_'":
            rest = self.typed[start : self.end].lstrip("_'")
            raise refusal("the number is broken in two", f"write it in one piece: {before}{rest}", start, end)
        if way := _TO.match(text):
            whole = f"{before}..{self.typed[start + way.end() : self.end]}"
            raise refusal("a range is written with two points", f"write {whole}", start, start + way.end())
        raise misreading.of_unknown_unit(self.typed[start:end], text, start, self.wanted)

    def _one_unit(self, first: _Side, second: _Side) -> Unit:
        """The unit of a value: the first side's, else the second's; checked against what is wanted."""
        owner = first if first.unit is not None else second
        unit = owner.unit
        if unit is None:
            typed = self.typed[self.start : self.end]
            raise refusal(
                f"'{typed}' has no unit",
                f"write it with its unit: {example_for(self.wanted)}",
                self.start,
                self.end,
            )
        if self.wanted and unit.dimension not in self.wanted:
            raise misreading.of_dimension(owner.number, unit, self.wanted, self.end)
        return unit

    def _one_kind(self, left: _Side, right: _Side) -> str:
        if left.kind and right.kind and left.kind != right.kind:
            raise refusal("AC and DC in one value", "write two values, or one of AC and DC", self.start, self.end)
        return left.kind or right.kind

    def _value(self, number: Number, unit: Unit, signed: set[Dimension]) -> float:
        if unit is AWG:
            gauge = number.value
            if gauge.denominator != 1 or not WIDEST_GAUGE <= gauge <= FINEST_GAUGE:
                raise refusal(
                    f"{number.text} is no gauge",
                    f"gauges are the whole numbers {WIDEST_GAUGE} to {FINEST_GAUGE}; give others in mm2",
                    number.start,
                    number.end,
                )
            return awg_area(float(gauge))
        value = _exact(number.value, unit)
        if number.value < 0 and unit.dimension not in signed:
            raise refusal(
                f"{unit.dimension.value} is not negative",
                f"write {number.text[1:]} {unit.name}",
                number.start,
                number.end,
            )
        if unit.dimension is Dimension.TEMPERATURE and value < _ABSOLUTE_ZERO:
            raise refusal("this is below absolute zero", "check the number and the unit", number.start, number.end)
        return value

    def _made(
        self,
        tidy: str,
        unit: Unit,
        kind: str,
        sides: tuple[_Side, ...],
        nominal: float | None,
        low: float | None,
        high: float | None,
    ) -> Quantity:
        return Quantity(
            written=self.typed[self.start : self.end],
            tidy=tidy,
            dimension=unit.dimension,
            unit=unit.name,
            nominal=nominal,
            low=low,
            high=high,
            has_tolerance=nominal is not None and len(sides) == 2,
            kind=kind,
            digits=max(side.number.digits for side in (sides if nominal is None else sides[:1])),
        )


def _exact(number: Fraction, unit: Unit) -> float:
    return float(number * unit.factor + unit.offset)


def _name(unit: Unit, kind: str) -> str:
    return f"{unit.name} {kind}".strip()
