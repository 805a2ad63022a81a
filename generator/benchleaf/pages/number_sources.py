"""Where the numbers in the words of a page come from: the lines of the records that say them, a standard, or a rule.

A value with observations of its own carries its origin beside it. The rest stand in sentences and names ("4 M5 × 14 mm
pan screws", "230 V AC"): each of them leads to the lines of the machine's records that say the same quantity. What no
line says is a limit out of a standard, or was worked out, and then the rule is named.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import field

from benchleaf.frozen import dataclass
from benchleaf.source import Source
from benchleaf.values.quantity import Dimension, Quantity, read_quantity
from benchleaf.values.units import BY_SPELLING, UNITS

SHOWN = 4  # lines named for one number; the rest are counted

_FIGURE = r"(?<![\w.,:-])\d+(?:[.,]\d+)?"


def _number(spellings: Iterable[str]) -> re.Pattern[str]:
    units = "|".join(re.escape(one) for one in sorted(spellings, key=lambda one: (-len(one), one)))
    tolerance = rf"(?: ?± ?\d+(?:\.\d+)?)? ?(?:{units})(?: ?[AD]C| ?[ad]c)?(?![\w·²]|/[a-z])(?: ?± ?\d+(?:\.\d+)? ?%)?"
    return re.compile(_FIGURE + tolerance)


NUMBER = _number({unit.name for unit in UNITS} - {"d", "t", "mil", "in"})
"""A number with a unit as pages print it: ``2.2 ± 0.2 N·m``, ``220 µF ± 20 %``, ``46%``."""

_WRITTEN = _number(spelling for spelling in BY_SPELLING if spelling not in ('"', "″", "d", "t"))
_MINUTES = re.compile(r"\b(?:minutes|time|takes)\w*: *(\d+(?:\.\d+)?) *(?:[,}#]|$)")
_SCREW = re.compile(r"\bM\d+(?:\.\d+)? ?[x×] ?(\d+(?:\.\d+)?)")

Amount = tuple[Dimension, float, str]  # what kind, how much in the base unit, and "AC", "DC" or ""

PUBLISHED: Mapping[tuple[Dimension, float], str] = {
    (Dimension.VOLTAGE, 60.0): "the limit for stored charge of IEC 60204-1, 6.2.4 (DC)",
    (Dimension.VOLTAGE, 25.0): "the limit for alternating voltage, common practice, no source",
    (Dimension.VOLTAGE, 5.0): "the reading at which a circuit is taken as dead, common practice, no source",
}

WORKED_OUT: Mapping[Dimension, str] = {
    Dimension.TIME: "added up from the minutes recorded and, where none are, the shop's times of work",
    Dimension.VOLTAGE: "from the recorded sources and conversions; the peak of an alternating voltage is √2 times it; "
    "a drop is current times resistance",
    Dimension.CURRENT: "from the recorded sources, fuses and loads",
    Dimension.RESISTANCE: "from the recorded lengths, cross-sections and parts, with their tolerances",
    Dimension.TORQUE: "from the thread, the class and the friction by VDI 2230, or turned into the shop's unit",
    Dimension.LENGTH: "from the recorded sizes, or turned into the shop's unit",
    Dimension.MASS: "added up from the masses recorded",
    Dimension.RATIO: "from the weights of the causes recorded",
    Dimension.ENERGY: "½·C·V² of the recorded capacitance and voltage, both at their most",
    Dimension.CHARGE: "C·V of the recorded capacitance and voltage, both at their most",
    Dimension.CAPACITANCE: "from the capacitances recorded",
    Dimension.POWER: "from the recorded loads",
    Dimension.AREA: "the cross-section of the recorded gauge (ASTM B258)",
    Dimension.FORCE: "from the recorded values",
    Dimension.TEMPERATURE: "from the recorded values",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class NumberRow:
    """One number of a page: as shown, whether a record says it, where (``file:line``), how many lines more, a rule."""

    text: str
    kind: str  # "recorded", "published" or "worked out"
    places: tuple[str, ...] = ()
    more: int = 0
    words: str = ""


@dataclass(frozen=True, slots=True)
class NumberSources:
    """``said``: by the first folder of the record file (``""`` for shared files), each amount with its lines."""

    said: Mapping[str, Mapping[Amount, tuple[str, ...]]] = field(default_factory=dict)

    def row(self, text: str, path: str) -> NumberRow:
        """Where the number on the page ``path`` comes from; on a page of no machine every record counts."""
        amount = amount_of(text)
        if amount is None:
            return NumberRow(text, "worked out", words="from the records of this page")
        parts = path.split("/")
        folders = ("", parts[1]) if parts[0] == "machine" and parts[1] in self.said else tuple(sorted(self.said))
        places = [place for folder in folders for place in self._said(folder, amount)]
        if places:
            return NumberRow(text, "recorded", tuple(places[:SHOWN]), max(0, len(places) - SHOWN))
        if amount[:2] in PUBLISHED:
            return NumberRow(text, "published", words=PUBLISHED[amount[:2]])
        return NumberRow(text, "worked out", words=WORKED_OUT.get(amount[0], "from the recorded values"))

    def _said(self, folder: str, amount: Amount) -> tuple[str, ...]:
        """The lines that say so; a voltage said without AC or DC may be either, one said with it is no other."""
        said = self.said.get(folder, {})
        dimension, number, kind = amount
        kinds = (kind, "") if kind else ("", "AC", "DC")
        return tuple(place for one in kinds for place in said.get((dimension, number, one), ()))


def number_sources(sources: Iterable[Source]) -> NumberSources:
    """Every number with a unit that a record file says, by its folder and amount."""
    said: dict[str, dict[Amount, list[str]]] = {}
    for source in sorted(sources, key=lambda one: one.path):
        folder = source.path.partition("/")[0] if "/" in source.path else ""
        found = said.setdefault(folder, {})
        for number, line in enumerate(source.lines, 1):
            if not any(c.isdigit() for c in line):
                continue
            for amount in dict.fromkeys(_amounts(line)):
                found.setdefault(amount, []).append(f"{source.path}:{number}")
    return NumberSources({folder: {one: tuple(at) for one, at in found.items()} for folder, found in said.items()})


def _amounts(line: str) -> Iterable[Amount]:
    for written in _WRITTEN.findall(line):
        amount = amount_of(written)
        if amount is not None:
            yield amount
    for minutes in _MINUTES.findall(line):
        yield (Dimension.TIME, _rounded(float(minutes) * 60), "")
    for length in _SCREW.findall(line):
        yield (Dimension.LENGTH, _rounded(float(length) / 1000), "")


def amount_of(text: str) -> Amount | None:
    """What ``text`` says: dimension, middle in the base unit to six figures, AC or DC; None for no quantity."""
    read = read_quantity(text.strip())
    return (read.dimension, _rounded(read.middle), read.kind) if isinstance(read, Quantity) else None


def _rounded(number: float) -> float:
    return float(f"{number:.6g}")
