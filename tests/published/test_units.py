"""Conversion factors against NIST SP 811 and against pint (a test dependency only)."""

from __future__ import annotations

import pint
import pytest

from benchleaf.values.quantity import Dimension, Quantity, from_base, read_quantity, to_base
from benchleaf.values.units import AWG, UNITS, unit_named

# NIST SP 811 (2008), Appendix B.8, as rounded there.
NIST_SP_811 = [
    ("in·lbf", 1.129848e-1, 7e-7),
    ("ft·lbf", 1.355818, 5e-7),
    ("in·ozf", 7.061552e-3, 5e-7),
    ("kgf·m", 9.80665, 0.0),
    ("kgf·cm", 9.80665e-2, 0.0),
    ("in", 2.54e-2, 0.0),
    ("ft", 3.048e-1, 0.0),
    ("lb", 4.5359237e-1, 0.0),
    ("lbf", 4.448222, 5e-7),
    ("kgf", 9.80665, 0.0),
    ("psi", 6.894757e3, 5e-7),
    ("bar", 1e5, 0.0),
    ("mmHg", 1.333224e2, 5e-7),
]

# Worked by hand from the exact definitions (lbf = 4.4482216152605 N, in = 0.0254 m, kgf = 9.80665 N).
BY_HAND = [
    (1, "N·m", "in·lbf", 8.850745791327185),
    (1, "N·m", "kgf·cm", 10.197162129779283),
    (0.6, "N·m", "in·lbf", 5.3104474747963115),
    (12, "in·lbf", "N·m", 1.3558179483314001),
    (5, "kgf·cm", "N·m", 0.4903325),
    (8, "in·lbf", "cN·m", 90.38786322209334),
]

# Our printed spelling → pint's name.
PINT_NAMES = {
    "N·m": "newton*meter", "cN·m": "centinewton*meter", "N·cm": "newton*centimeter", "mN·m": "millinewton*meter",
    "daN·m": "decanewton*meter", "in·lbf": "force_pound*inch", "ft·lbf": "force_pound*foot",
    "in·ozf": "force_ounce*inch", "kgf·cm": "force_kilogram*centimeter", "kgf·m": "force_kilogram*meter",
    "gf·cm": "force_gram*centimeter",
    "m": "meter", "mm": "millimeter", "cm": "centimeter", "µm": "micrometer", "km": "kilometer", "in": "inch",
    "ft": "foot", "mil": "thou",
    "m²": "meter**2", "mm²": "millimeter**2", "cm²": "centimeter**2", "in²": "inch**2", "kcmil": "kcmil",
    "m³": "meter**3", "l": "liter", "ml": "milliliter", "cl": "centiliter", "µl": "microliter",
    "m³/s": "meter**3/second", "l/min": "liter/minute", "ml/min": "milliliter/minute", "l/h": "liter/hour",
    "m³/h": "meter**3/hour",
    "rad": "radian", "°": "degree", "turn": "turn",
    "s": "second", "ms": "millisecond", "µs": "microsecond", "min": "minute", "h": "hour", "d": "day",
    "weeks": "week", "years": "year",
    "m/s": "meter/second", "mm/s": "millimeter/second", "cm/s": "centimeter/second", "m/min": "meter/minute",
    "mm/min": "millimeter/minute", "km/h": "kilometer/hour", "in/s": "inch/second",
    "Hz": "hertz", "kHz": "kilohertz", "MHz": "megahertz",
    "kg": "kilogram", "g": "gram", "mg": "milligram", "t": "metric_ton", "lb": "pound", "oz": "ounce",
    "N": "newton", "mN": "millinewton", "cN": "centinewton", "kN": "kilonewton", "daN": "decanewton",
    "kgf": "force_kilogram", "gf": "force_gram", "lbf": "force_pound", "ozf": "force_ounce",
    "Pa": "pascal", "hPa": "hectopascal", "kPa": "kilopascal", "MPa": "megapascal", "bar": "bar", "mbar": "millibar",
    "psi": "psi", "mmHg": "mmHg", "inHg": "inHg",
    "°C": "degC", "°F": "degF", "K": "kelvin",
    "J": "joule", "mJ": "millijoule", "kJ": "kilojoule", "Wh": "watt_hour", "kWh": "kilowatt_hour",
    "W": "watt", "mW": "milliwatt", "kW": "kilowatt",
    "V": "volt", "µV": "microvolt", "mV": "millivolt", "kV": "kilovolt",
    "A": "ampere", "µA": "microampere", "mA": "milliampere", "kA": "kiloampere",
    "Ω": "ohm", "µΩ": "microohm", "mΩ": "milliohm", "kΩ": "kiloohm", "MΩ": "megaohm", "GΩ": "gigaohm",
    "F": "farad", "pF": "picofarad", "nF": "nanofarad", "µF": "microfarad", "mF": "millifarad",
    "H": "henry", "µH": "microhenry", "mH": "millihenry",
    "C": "coulomb", "µC": "microcoulomb", "mC": "millicoulomb", "mAh": "milliampere*hour", "Ah": "ampere*hour",
    "%": "percent", "ppm": "ppm",
    "r/s": "turn/second", "rpm": "revolutions_per_minute",
}  # fmt: skip
_PINT_BASE = {Dimension.TEMPERATURE: "degC", Dimension.RATIO: "dimensionless", Dimension.ROTATION: "turn/second"}


@pytest.mark.parametrize(("unit", "factor", "rounding"), NIST_SP_811)
def test_a_factor_is_the_one_of_nist_sp_811(unit: str, factor: float, rounding: float) -> None:
    assert float(unit_named(unit).factor) == pytest.approx(factor, rel=rounding or 1e-15)


@pytest.mark.parametrize(("number", "unit", "other", "answer"), BY_HAND)
def test_a_torque_converts_as_worked_by_hand(number: float, unit: str, other: str, answer: float) -> None:
    assert from_base(to_base(number, unit), other) == pytest.approx(answer, rel=1e-14)


def test_every_unit_converts_as_pint_converts_it() -> None:
    registry = pint.UnitRegistry()
    registry.define("kcmil = 1000 * pi / 4 * thou ** 2")  # pint lacks it: the circular mil by definition
    base_units = {unit.dimension: unit.name for unit in reversed(UNITS) if unit.factor == 1 and unit.offset == 0}
    checked = [unit for unit in UNITS if unit is not AWG]
    assert {unit.name for unit in checked} == PINT_NAMES.keys()
    for unit in checked:
        base = _PINT_BASE.get(unit.dimension) or PINT_NAMES[base_units[unit.dimension]]
        theirs = registry.Quantity(7.25, PINT_NAMES[unit.name]).to(base).magnitude
        assert to_base(7.25, unit.name) == pytest.approx(theirs, rel=1e-9), unit.name


# What pint 0.25 reads as something else altogether; the reason there is a grammar of our own.
@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [("0.6 Nm", Dimension.TORQUE, 0.6), ("50 C", Dimension.TEMPERATURE, 50.0), ("5 in-lb", Dimension.TORQUE, 0.5649)],
)
def test_what_a_general_unit_reader_gets_wrong_is_read_as_the_trade_means_it(
    text: str, dimension: Dimension, value: float
) -> None:
    read = read_quantity(text)
    assert isinstance(read, Quantity)
    assert read.dimension is dimension
    assert read.nominal == pytest.approx(value, rel=1e-4)
