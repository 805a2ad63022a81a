"""What people write that is no quantity here, each with the way it is written: the words behind every
refusal.
"""

from __future__ import annotations

import re
from fractions import Fraction

from benchleaf.frozen import dataclass
from benchleaf.values.amounts import Misread
from benchleaf.values.units import BY_SPELLING, Dimension, Unit, dimension_words

_OTHER_WAYS = (
    (re.compile(r"<=?|≤|(?:max(?:imum)?|up to|at most|under|less than)\b\.?", re.I), "below"),
    (re.compile(r">=?|≥|(?:min(?:imum)?|at least|over|more than)\b\.?", re.I), "above"),
)
_ABOUT = re.compile(r"(~|≈|about|approx(?:imately|\.)?|ca\.?|circa|roughly|around)(?![a-z])", re.I)
_ENDLESS = re.compile(r"[+-]?(inf(?:inite|inity)?|∞|nan|o\.?l\.?)(?![a-z])", re.I)

# A unit that is right in itself and wrong where it stands, with what its writer most likely meant.
_SLIPS = {
    ("m", Dimension.TIME): "min",
    ("m", Dimension.ANGLE): "°",
    ("lb", Dimension.FORCE): "lbf",
    ("oz", Dimension.FORCE): "ozf",
    ("kg", Dimension.FORCE): "kgf",
    ("g", Dimension.FORCE): "gf",
    ("N", Dimension.TORQUE): "N·m",
    ("lb", Dimension.TORQUE): "in·lbf",
    ("kgf", Dimension.TORQUE): "kgf·cm",
    ("mm", Dimension.AREA): "mm2",
    ("°", Dimension.TEMPERATURE): "°C",
}
_BARE_PREFIX = {"k": "kohm", "K": "kohm", "M": "Mohm", "R": "ohm", "u": "uF", "µ": "uF", "n": "nF", "p": "pF"}


@dataclass(frozen=True, slots=True)
class Number:
    """One number as typed, with where it stands."""

    text: str
    value: Fraction
    start: int
    end: int

    @property
    def digits(self) -> int:
        """Significant digits typed; one for zero."""
        return max(1, len(self.text.lstrip("+-").replace(".", "").lstrip("0")))


class Refused(Exception):
    """Carries a misread out of the depth of the reader; `read_quantity` hands it on as data."""

    def __init__(self, misread: Misread) -> None:
        super().__init__(misread.message)
        self.misread = misread


def refusal(message: str, way_out: str, start: int, end: int, *, wrong_dimension: bool = False) -> Refused:
    """A refusal of the characters from ``start`` to ``end``, one at least."""
    end = max(end, start + 1)
    return Refused(Misread(message=message, help=way_out, start=start, end=end, wrong_dimension=wrong_dimension))


def example_for(wanted: tuple[Dimension, ...]) -> str:
    """``a torque such as 0.6 N·m``, for every dimension that will do."""
    if not wanted:
        return "a number and its unit such as 0.6 N·m"
    return " or ".join(dimension_words(dimension) for dimension in wanted)


def of_another_way(typed: str, text: str, start: int, end: int) -> Refused | None:
    """The refusal of ``< 5 V``, ``about 5 V``, ``infinite``; none when the text starts in no such way."""
    for pattern, word in _OTHER_WAYS:
        if found := pattern.match(text, start, end):
            rest = typed[found.end() : end].strip()
            return refusal(f"'{found.group()}' is not read here", f"write '{word} {rest}'", start, found.end())
    if found := _ABOUT.match(text, start, end):
        rest = typed[found.end() : end].strip()
        return refusal(
            f"'{found.group()}' does not say how far the value may lie off",
            f"write '{rest}', or add its tolerance: '{rest} ± 20 %'",
            start,
            found.end(),
        )
    if found := _ENDLESS.match(text, start, end):
        return refusal(
            f"'{found.group()}' is no number",
            "write the limit the meter can show: 'above 1 Mohm'",
            start,
            found.end(),
        )
    return None


def of_no_number(typed: str, text: str, start: int, end: int, wanted: tuple[Dimension, ...]) -> Refused:
    """The refusal of a place where a number has to stand and none does."""
    rest = text[start:end].strip()
    if not rest:
        return refusal("a number is missing here", f"write {example_for(wanted)}", start, end)
    if re.match(r"\.[0-9]", rest):
        return refusal("a number needs a digit before its point", f"write 0{rest}", start, end)
    if rest[0] in "¼½¾⅓⅔⅛":
        return refusal(f"'{rest[0]}' is not read as a number", "write a decimal number: 0.5", start, end)
    if rest[0].isdigit():
        return refusal("these digits are not read", "write the digits 0 to 9", start, end)
    return refusal(f"'{_short(typed[start:end].strip())}' is no number", f"write {example_for(wanted)}", start, end)


def of_unknown_unit(typed: str, text: str, start: int, wanted: tuple[Dimension, ...]) -> Refused:
    """The refusal of what stands behind a number and is no unit, with the unit that was most likely meant."""
    end = start + len(text)
    shown = _short(typed)
    if re.match(r"[eE][+-]?[0-9]", text):
        return refusal("a number is written without an exponent", "use a larger or smaller unit: 5 mohm", start, end)
    if re.match(r"/ *[0-9]", text):
        return refusal("a fraction is not read", "write a decimal number: 0.5", start, end)
    if re.match(r": *[0-9]", text):
        return refusal("a clock time is not read", "write 90 s, or 1.5 min", start, end)
    if re.match(r"[^0-9]+[0-9]+ *[a-zA-Z]", text):
        return refusal(
            f"'{shown}' is more than one unit",
            "write the value in one unit: 90 min, not 1 h 30 min",
            start,
            end,
        )
    if text[0] in "-+":
        return refusal(
            f"'{shown}' does not belong to a number",
            "a tolerance is written 0.6 ± 0.1 N·m, a range 0.5..0.7 N·m",
            start,
            end,
        )
    near = _near(text, wanted)
    way_out = f"did you mean '{near}'?" if near else f"write {example_for(wanted)}"
    return refusal(f"'{shown}' is not a unit that is read", way_out, start, end)


def of_dimension(number: Number, unit: Unit, wanted: tuple[Dimension, ...], end: int) -> Refused:
    """The refusal of a good quantity of the wrong dimension."""
    instead = next((_SLIPS[unit.name, want] for want in wanted if (unit.name, want) in _SLIPS), "")
    wants = " or ".join(dimension.value for dimension in wanted)
    way_out = f"did you mean '{number.text} {instead}'?" if instead else f"write {example_for(wanted)}"
    return refusal(
        f"'{number.text} {unit.name}' is {unit.dimension.value}; {wants} is wanted here",
        way_out,
        number.start,
        end,
        wrong_dimension=True,
    )


def _near(text: str, wanted: tuple[Dimension, ...]) -> str:
    """The spelling its writer most likely meant, of the dimensions wanted; empty when none comes near."""
    bare = _BARE_PREFIX.get(text, "")
    if bare and (not wanted or BY_SPELLING[bare].dimension in wanted):
        return bare
    spelled = re.sub(r" *[·.-] *| +", "·", text)
    takes = [spelling for spelling, unit in BY_SPELLING.items() if not wanted or unit.dimension in wanted]
    for spelling in takes:
        if spelling.casefold() in (spelled.casefold(), text.casefold()):
            return spelling
    from difflib import get_close_matches  # only a slip needs it

    close = get_close_matches(spelled, takes, n=1, cutoff=0.6 if len(spelled) > 2 else 0.75)
    return close[0] if close else ""


def _short(text: str) -> str:
    return text if len(text) <= 24 else text[:23] + "…"
