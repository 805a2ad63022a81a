"""The units a technician may write, each with every spelling that is taken for it and its exact factor.

The table is closed: a spelling that does not stand here is an error with a suggestion, never a guess.
Factors are exact fractions: inch 0.0254 m, pound 0.453 592 37 kg, standard gravity 9.806 65 m/s² (NIST SP
811, App. B). AWG is no multiple of anything; it is read by ASTM B258's formula.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from enum import Enum
from fractions import Fraction
from math import log, pi

from benchleaf.frozen import dataclass


class Dimension(Enum):
    """What a quantity is a quantity of. The value is the word for it in messages, with its article."""

    TORQUE = "a torque"
    LENGTH = "a length"
    AREA = "a cross-section"
    VOLUME = "a volume"
    FLOW = "a flow"
    ANGLE = "an angle"
    TIME = "a time"
    SPEED = "a speed"
    ROTATION = "a speed of rotation"
    FREQUENCY = "a frequency"
    MASS = "a mass"
    FORCE = "a force"
    PRESSURE = "a pressure"
    TEMPERATURE = "a temperature"
    ENERGY = "an energy"
    POWER = "a power"
    VOLTAGE = "a voltage"
    CURRENT = "a current"
    RESISTANCE = "a resistance"
    CAPACITANCE = "a capacitance"
    INDUCTANCE = "an inductance"
    CHARGE = "a charge"
    RATIO = "a share in %"


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: ``value in base unit = written number * factor + offset``. ``name`` is the spelling pages
    print.
    """

    name: str
    dimension: Dimension
    factor: Fraction
    offset: Fraction = Fraction(0)
    spellings: tuple[str, ...] = ()


_INCH = Fraction("0.0254")
_POUND = Fraction("0.45359237")
_GRAVITY = Fraction("9.80665")
_POUND_FORCE = _POUND * _GRAVITY
_TURN = Fraction(2 * pi)  # the double nearest to 2 pi: radians are not exact in any case

# name, factor to the base unit (the row with factor 1), other spellings. Joined units stand with "·" only: a
# space, a full stop, a hyphen and other dots between two units are read as "·" (see
# `benchleaf.values.quantity`).
_TABLE: dict[Dimension, tuple[tuple[str, Fraction | str | int, str], ...]] = {
    Dimension.TORQUE: (
        ("N·m", 1, "Nm"),
        ("cN·m", "0.01", "cNm"),
        ("N·cm", "0.01", "Ncm"),
        ("mN·m", "0.001", "mNm"),
        ("daN·m", 10, "daNm"),
        ("in·lbf", _POUND_FORCE * _INCH, "lbf·in in·lb in·lbs lb·in lbs·in inlb inlbs inlbf lbin lbfin"),
        ("ft·lbf", _POUND_FORCE * _INCH * 12, "lbf·ft ft·lb ft·lbs lb·ft lbs·ft ftlb ftlbs ftlbf lbft lbfft"),
        ("in·ozf", _POUND_FORCE / 16 * _INCH, "ozf·in in·oz oz·in inoz ozin"),
        ("kgf·cm", _GRAVITY / 100, "kgfcm kg·cm kgcm"),
        ("kgf·m", _GRAVITY, "kgfm kg·m kgm"),
        ("gf·cm", _GRAVITY / 100_000, "gfcm g·cm gcm"),
    ),
    Dimension.LENGTH: (
        ("m", 1, "metre metres meter meters"),
        ("mm", "0.001", "millimetre millimetres millimeter millimeters"),
        ("cm", "0.01", ""),
        ("µm", "0.000001", "um micron microns"),
        ("km", 1000, ""),
        ("in", _INCH, 'inch inches " ″'),
        ("ft", _INCH * 12, "foot feet"),
        ("mil", _INCH / 1000, "mils thou"),
    ),
    Dimension.AREA: (
        ("m²", 1, "m2 m^2"),
        ("mm²", "0.000001", "mm2 mm^2 sq·mm sqmm"),
        ("cm²", "0.0001", "cm2 cm^2"),
        ("in²", _INCH**2, "in2 in^2"),
        ("kcmil", _INCH**2 / 1000 * Fraction(pi / 4), "MCM"),
    ),
    Dimension.VOLUME: (
        ("m³", 1, "m3 m^3"),
        ("l", "0.001", "L litre litres liter liters"),
        ("ml", "0.000001", "mL cm³ cm3 cc"),
        ("cl", "0.00001", "cL"),
        ("µl", "0.000000001", "ul µL uL"),
    ),
    Dimension.FLOW: (
        ("m³/s", 1, "m3/s"),
        ("l/min", Fraction(1, 60_000), "L/min lpm"),
        ("ml/min", Fraction(1, 60_000_000), "mL/min"),
        ("l/h", Fraction(1, 3_600_000), "L/h"),
        ("m³/h", Fraction(1, 3600), "m3/h"),
    ),
    Dimension.ANGLE: (
        ("rad", 1, ""),
        ("°", _TURN / 360, "deg degree degrees"),
        ("turn", _TURN, "turns"),
    ),
    Dimension.TIME: (
        ("s", 1, "sec secs second seconds"),
        ("ms", "0.001", ""),
        ("µs", "0.000001", "us"),
        ("min", 60, "mins minute minutes"),
        ("h", 3600, "hr hrs hour hours"),
        ("d", 86_400, "day days"),
        ("weeks", 604_800, "week"),
        ("years", 31_557_600, "year"),
    ),
    Dimension.SPEED: (
        ("m/s", 1, ""),
        ("mm/s", "0.001", ""),
        ("cm/s", "0.01", ""),
        ("m/min", Fraction(1, 60), ""),
        ("mm/min", Fraction(1, 60_000), ""),
        ("km/h", Fraction(1000, 3600), ""),
        ("in/s", _INCH, ""),
    ),
    Dimension.ROTATION: (
        ("r/s", 1, "rps"),
        ("rpm", Fraction(1, 60), "r/min rev/min 1/min RPM"),
    ),
    Dimension.FREQUENCY: (
        ("Hz", 1, ""),
        ("kHz", 1000, ""),
        ("MHz", 1_000_000, ""),
    ),
    Dimension.MASS: (
        ("kg", 1, "kgs"),
        ("g", "0.001", "gram grams"),
        ("mg", "0.000001", ""),
        ("t", 1000, ""),
        ("lb", _POUND, "lbs"),
        ("oz", _POUND / 16, ""),
    ),
    Dimension.FORCE: (
        ("N", 1, "newton newtons"),
        ("mN", "0.001", ""),
        ("cN", "0.01", ""),
        ("kN", 1000, ""),
        ("daN", 10, ""),
        ("kgf", _GRAVITY, "kp"),
        ("gf", _GRAVITY / 1000, ""),
        ("lbf", _POUND_FORCE, ""),
        ("ozf", _POUND_FORCE / 16, ""),
    ),
    Dimension.PRESSURE: (
        ("Pa", 1, ""),
        ("hPa", 100, ""),
        ("kPa", 1000, ""),
        ("MPa", 1_000_000, "N/mm² N/mm2"),
        ("bar", 100_000, ""),
        ("mbar", 100, ""),
        ("psi", _POUND_FORCE / _INCH**2, "PSI"),
        ("mmHg", "133.322387415", "mm·Hg"),  # conventional millimetre of mercury, NIST SP 811 App. B
        ("inHg", Fraction("133.322387415") * Fraction("25.4"), "in·Hg"),
    ),
    Dimension.ENERGY: (
        ("J", 1, ""),
        ("mJ", "0.001", ""),
        ("kJ", 1000, ""),
        ("Wh", 3600, "W·h"),
        ("kWh", 3_600_000, "kW·h"),
    ),
    Dimension.POWER: (
        ("W", 1, "watt watts"),
        ("mW", "0.001", ""),
        ("kW", 1000, ""),
    ),
    Dimension.VOLTAGE: (
        ("V", 1, "volt volts"),
        ("µV", "0.000001", "uV"),
        ("mV", "0.001", ""),
        ("kV", 1000, ""),
    ),
    Dimension.CURRENT: (
        ("A", 1, "amp amps ampere amperes"),
        ("µA", "0.000001", "uA"),
        ("mA", "0.001", ""),
        ("kA", 1000, ""),
    ),
    Dimension.RESISTANCE: (
        ("Ω", 1, "ohm ohms Ohm Ohms"),
        ("µΩ", "0.000001", "uohm µohm uΩ"),
        ("mΩ", "0.001", "mohm mOhm mohms"),
        ("kΩ", 1000, "kohm kOhm kohms Kohm KΩ"),
        ("MΩ", 1_000_000, "Mohm MOhm Mohms"),
        ("GΩ", 1_000_000_000, "Gohm GOhm"),
    ),
    Dimension.CAPACITANCE: (
        ("F", 1, "farad farads"),
        ("pF", Fraction(1, 10**12), ""),
        ("nF", Fraction(1, 10**9), ""),
        ("µF", "0.000001", "uF"),
        ("mF", "0.001", ""),
    ),
    Dimension.INDUCTANCE: (
        ("H", 1, ""),
        ("µH", "0.000001", "uH"),
        ("mH", "0.001", ""),
    ),
    Dimension.CHARGE: (
        ("C", 1, "coulomb coulombs"),
        ("µC", "0.000001", "uC"),
        ("mC", "0.001", ""),
        ("mAh", "3.6", ""),
        ("Ah", 3600, "A·h"),
    ),
    Dimension.RATIO: (
        ("%", "0.01", "percent"),
        ("ppm", "0.000001", ""),
    ),
}

_CELSIUS = Unit("°C", Dimension.TEMPERATURE, Fraction(1), spellings=("deg·C", "degC", "℃", "°·C", "celsius", "Celsius"))
_FAHRENHEIT = Unit(
    "°F",
    Dimension.TEMPERATURE,
    Fraction(5, 9),
    Fraction(-160, 9),
    spellings=("deg·F", "degF", "℉", "°·F", "fahrenheit", "Fahrenheit"),
)
_KELVIN = Unit("K", Dimension.TEMPERATURE, Fraction(1), Fraction("-273.15"), spellings=("kelvin",))

AWG = Unit("AWG", Dimension.AREA, Fraction(0), spellings=("awg",))
"""The gauge: its number is not proportional to the area; see ``awg_area``."""


def awg_area(gauge: float) -> float:
    """Cross-section in m² of a solid wire of this gauge: d = 0.127 mm · 92^((36 − n)/39) (ASTM B258)."""
    diameter: float = 0.127e-3 * 92.0 ** ((36.0 - gauge) / 39.0)
    return pi / 4 * diameter * diameter


def awg_number(area: float) -> float:
    """The gauge, not rounded, of a wire of ``area`` m²: the inverse of ``awg_area``."""
    diameter = (4 * area / pi) ** 0.5
    return 36.0 - 39.0 * log(diameter / 0.127e-3) / log(92.0)


def _rows() -> Iterator[Unit]:
    for dimension, rows in _TABLE.items():
        for name, factor, others in rows:
            yield Unit(name, dimension, Fraction(factor), spellings=tuple(others.split()))
    yield from (_CELSIUS, _FAHRENHEIT, _KELVIN, AWG)


UNITS: tuple[Unit, ...] = tuple(_rows())
_BY_NAME = {unit.name: unit for unit in UNITS}
BY_SPELLING: dict[str, Unit] = {spelling: unit for unit in UNITS for spelling in (unit.name, *unit.spellings)}
"""Every spelling taken, joined units with ``·``."""

_EXAMPLES = {
    Dimension.TORQUE: "0.6 N·m",
    Dimension.LENGTH: "12 mm",
    Dimension.AREA: "0.25 mm2 or 24 AWG",
    Dimension.VOLUME: "20 ml",
    Dimension.FLOW: "2 l/min",
    Dimension.ANGLE: "90 deg",
    Dimension.TIME: "10 s",
    Dimension.SPEED: "20 mm/s",
    Dimension.ROTATION: "1500 rpm",
    Dimension.FREQUENCY: "50 Hz",
    Dimension.MASS: "2 kg",
    Dimension.FORCE: "40 N",
    Dimension.PRESSURE: "20 kPa",
    Dimension.TEMPERATURE: "180 °C",
    Dimension.ENERGY: "10 J",
    Dimension.POWER: "500 W",
    Dimension.VOLTAGE: "24 V DC",
    Dimension.CURRENT: "2 A",
    Dimension.RESISTANCE: "0.5 ohm",
    Dimension.CAPACITANCE: "150 uF",
    Dimension.INDUCTANCE: "10 mH",
    Dimension.CHARGE: "45 uC",
    Dimension.RATIO: "20 %",
}


def unit_named(name: str) -> Unit:
    """The unit whose canonical spelling is ``name``. Raises ``KeyError`` for any other text: a mistake of
    the caller.
    """
    return _BY_NAME[name]


_KIND = re.compile(r"(?<=[VA])[ ·_-]?(ac|dc|a\.c\.?|d\.c\.?|~)\.?$", re.IGNORECASE)
_JOINT = re.compile(r" *[·.-] *| +")


def find_unit(text: str, wanted: tuple[Dimension, ...] = ()) -> tuple[Unit, str] | None:
    """The unit spelled ``text`` and ``AC``, ``DC`` or nothing behind it; none when no such spelling is taken.

    Of the dimensions ``wanted`` only two readings depend: ``C`` is a degree unless a charge is wanted, ``F``
    is a farad unless a temperature is.
    """
    spelled, kind = text, ""
    if behind := _KIND.search(text):
        spelled = text[: behind.start()].rstrip(" ·")
        kind = "DC" if behind.group(1)[0] in "dD" else "AC"
    if spelled == "C" and (Dimension.CHARGE not in wanted or Dimension.TEMPERATURE in wanted):
        return _CELSIUS, kind
    if spelled == "F" and Dimension.TEMPERATURE in wanted and Dimension.CAPACITANCE not in wanted:
        return _FAHRENHEIT, kind
    for form in (spelled, spelled.removesuffix("."), spelled.replace(" ", "")):
        unit = BY_SPELLING.get(form) or BY_SPELLING.get(_JOINT.sub("·", form))
        if unit and (not kind or unit.dimension in (Dimension.VOLTAGE, Dimension.CURRENT)):
            return unit, kind
    return None


def example_of(dimension: Dimension) -> str:
    """How such a quantity is written: ``0.6 N·m``."""
    return _EXAMPLES[dimension]


def dimension_words(dimension: Dimension) -> str:
    """For messages: ``a torque such as 0.6 N·m``."""
    return f"{dimension.value} such as {example_of(dimension)}"


def unit_spellings(dimension: Dimension) -> tuple[str, ...]:
    """Every spelling taken for a unit of this dimension, the printed one of each unit first."""
    of_it = [unit for unit in UNITS if unit.dimension is dimension]
    return tuple(spelling for unit in of_it for spelling in (unit.name, *unit.spellings))
