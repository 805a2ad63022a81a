"""Resistance of conductors against NBS Circular 31, IEC 60228 and the temperature factor of its Annex B."""

from __future__ import annotations

import pytest

from benchleaf.values.conductors import (
    CLASS_5,
    COPPER,
    flat_conductor,
    longest_that_beeps,
    ohm_per_metre,
    temperature_factor,
)
from benchleaf.values.quantity import Quantity, read_quantity
from benchleaf.values.units import awg_area, awg_number

# NBS Circular 31: annealed copper, 20 °C, Ω per 1000 ft.
NBS_CIRCULAR_31 = {12: 1.588, 16: 4.016, 20: 10.15, 24: 25.67, 28: 64.9}

# IEC 60228 class 5 (under 0.5 mm² DIN VDE 0295): largest Ω/km at 20 °C, plain, tinned.
IEC_60228 = {
    "0.05": (380, 392), "0.08": (237, 244), "0.11": (170, 175), "0.12": (150, 155), "0.14": (134, 138),
    "0.22": (96, 99), "0.25": (76, 79), "0.34": (53, 56), "0.5": (39, 40.1), "0.75": (26, 26.7), "1": (19.5, 20.0),
    "1.5": (13.3, 13.7), "2.5": (7.98, 8.21), "4": (4.95, 5.09), "6": (3.3, 3.39),
}  # fmt: skip

# IEC 60228 Annex B, Table B.1: factor kt that corrects a reading at t to 20 °C.
CORRECTION_TO_20 = {
    5: 1.064, 10: 1.042, 15: 1.020, 20: 1.0, 25: 0.980, 30: 0.962, 35: 0.943, 40: 0.926, 45: 0.909, 50: 0.893,
    60: 0.862, 70: 0.833, 80: 0.806, 90: 0.781, 100: 0.758,
}  # fmt: skip

# Ω/m of one conductor, computed from width and thickness in a reprint of a flat-cable data sheet: pitch, thickness.
FLAT_CABLE = {(0.5, 0.035): 1.642, (0.5, 0.05): 1.149, (0.5, 0.10): 0.575, (1.0, 0.05): 0.493, (1.0, 0.10): 0.246,
              (1.25, 0.10): 0.216}  # fmt: skip


def _read(text: str) -> Quantity:
    read = read_quantity(text)
    assert isinstance(read, Quantity), read
    return read


@pytest.mark.parametrize("gauge", NBS_CIRCULAR_31)
def test_a_gauge_has_the_resistance_of_nbs_circular_31(gauge: int) -> None:
    assert COPPER / awg_area(gauge) * 304.8 == pytest.approx(NBS_CIRCULAR_31[gauge], rel=0.001)


@pytest.mark.parametrize("gauge", NBS_CIRCULAR_31)
def test_the_band_of_a_gauge_starts_at_solid_copper(gauge: int) -> None:
    least, largest, _ = ohm_per_metre(_read(f"{gauge} AWG"))
    assert least * 304.8 == pytest.approx(NBS_CIRCULAR_31[gauge], rel=0.001)
    assert least < largest < 1.2 * least


def test_the_reference_gauges_have_their_defined_diameters() -> None:
    """ASTM B258: 36 AWG is 0.005 in, 0000 AWG (−3) is 0.46 in."""
    assert awg_area(36) == pytest.approx(3.14159265 / 4 * 0.000127**2)
    assert awg_area(-3) == pytest.approx(3.14159265 / 4 * (0.46 * 0.0254) ** 2)
    assert awg_number(awg_area(24)) == pytest.approx(24)


@pytest.mark.parametrize("area", IEC_60228)
def test_a_metric_wire_may_read_up_to_its_class_5_limit_and_not_less_than_solid_copper(area: str) -> None:
    plain, tinned = IEC_60228[area]
    assert CLASS_5[float(area)] == (plain, tinned)
    least, largest, _ = ohm_per_metre(_read(f"{area} mm2"))
    assert largest * 1000 == pytest.approx(tinned)
    assert least * 1000 < plain


def test_the_class_5_table_is_complete() -> None:
    assert CLASS_5.keys() == {float(area) for area in IEC_60228}


@pytest.mark.parametrize("celsius", CORRECTION_TO_20)
def test_the_temperature_factor_undoes_the_correction_of_iec_60228(celsius: int) -> None:
    """The table rounds 250/(230 + t); the exact form 254.5/(234.5 + t) stays within half a percent of it."""
    assert 1 / temperature_factor(celsius) == pytest.approx(CORRECTION_TO_20[celsius], rel=0.005)


@pytest.mark.parametrize("cable", FLAT_CABLE)
def test_a_flat_cable_has_the_resistance_of_its_copper(cable: tuple[float, float]) -> None:
    conductor = flat_conductor(*cable)
    assert conductor is not None and conductor.nominal is not None
    assert COPPER / conductor.nominal == pytest.approx(FLAT_CABLE[cable], rel=0.003)


def test_594_metres_of_24_awg_still_beep_at_50_ohm() -> None:
    """computations.md section 5; 50 Ω / (25.67 Ω per 304.8 m), NBS Circular 31."""
    assert round(longest_that_beeps(_read("24 AWG"), 50.0)) == 594
