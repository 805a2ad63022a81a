"""Thread geometry, stress areas and loads against ISO 724 and ISO 898-1."""

from __future__ import annotations

import pytest

from benchleaf.values.threads import CLASSES, THREADS

# ISO 724 basic profile: d2 (pitch diameter) and d3 (root of the screw), mm.
ISO_724 = {
    "M1.6": (1.3727, 1.1706), "M2": (1.7402, 1.5093), "M2.5": (2.2077, 1.9479), "M3": (2.6752, 2.3866),
    "M3.5": (3.1103, 2.7639), "M4": (3.5453, 3.1412), "M5": (4.4804, 4.0185), "M6": (5.3505, 4.7731),
    "M8": (7.1881, 6.4664),
    "M10": (9.026, 8.160), "M12": (10.863, 9.853),  # from memory, to three places
}  # fmt: skip

# ISO 898-1, nominal stress area in mm², three figures. M10 and M12 from memory.
STRESS_AREA = {
    "M1.6": 1.27, "M2": 2.07, "M2.5": 3.39, "M3": 5.03, "M3.5": 6.78, "M4": 8.78, "M5": 14.2, "M6": 20.1, "M8": 36.6,
    "M10": 58.0, "M12": 84.3,
}  # fmt: skip

# ISO 898-1 load tables (as reprinted in two public tables): proof load and least ultimate load, N.
PROOF_LOAD = {
    "M3": {"4.6": 1130, "4.8": 1560, "5.6": 1410, "5.8": 1910, "6.8": 2210, "8.8": 2920, "9.8": 3270, "10.9": 4180,
           "12.9": 4880},
    "M5": {"4.6": 3200, "4.8": 4400, "5.6": 3980, "5.8": 5400, "6.8": 6250, "8.8": 8230, "9.8": 9230, "10.9": 11800,
           "12.9": 13800},
    "M8": {"4.6": 8240, "4.8": 11400, "5.6": 10200, "5.8": 13900, "6.8": 16100, "8.8": 21200, "9.8": 23800,
           "10.9": 30400, "12.9": 35500},
}  # fmt: skip
ULTIMATE_LOAD = {
    "M3": {"4.6": 2010, "4.8": 2110, "5.6": 2510, "5.8": 2620, "6.8": 3020, "8.8": 4020, "9.8": 4530, "10.9": 5230,
           "12.9": 6140},
    "M5": {"4.6": 5680, "4.8": 5960, "5.6": 7100, "5.8": 7380, "6.8": 8520, "8.8": 11350, "9.8": 12800, "10.9": 14800,
           "12.9": 17300},
    "M8": {"4.6": 14600, "4.8": 15400, "5.6": 18300, "5.8": 19000, "6.8": 22000, "8.8": 29200, "9.8": 32900,
           "10.9": 38100, "12.9": 44600},
}  # fmt: skip


@pytest.mark.parametrize("size", ISO_724)
def test_pitch_and_root_diameters_are_those_of_iso_724(size: str) -> None:
    d2, d3 = ISO_724[size]
    assert THREADS[size].d2 == pytest.approx(d2, abs=6e-4)
    assert THREADS[size].d3 == pytest.approx(d3, abs=6e-4)


def test_every_thread_of_the_table_has_its_check_values() -> None:
    assert THREADS.keys() == ISO_724.keys() == STRESS_AREA.keys()


@pytest.mark.parametrize("size", STRESS_AREA)
def test_the_stress_area_is_that_of_iso_898_1(size: str) -> None:
    assert THREADS[size].stress_area == pytest.approx(STRESS_AREA[size], rel=0.003)


@pytest.mark.parametrize("size", PROOF_LOAD)
def test_stress_area_times_proof_stress_is_the_proof_load_of_iso_898_1(size: str) -> None:
    for name, load in PROOF_LOAD[size].items():
        proof = CLASSES[name].proof
        assert proof is not None
        assert THREADS[size].stress_area * proof == pytest.approx(load, rel=0.006), name


@pytest.mark.parametrize("size", ULTIMATE_LOAD)
def test_stress_area_times_tensile_strength_is_the_ultimate_load_of_iso_898_1(size: str) -> None:
    for name, load in ULTIMATE_LOAD[size].items():
        assert THREADS[size].stress_area * CLASSES[name].tensile_min == pytest.approx(load, rel=0.006), name


def test_a_class_name_says_its_strength() -> None:
    """ISO 898-1 clause 5: the first figure is Rm/100, the two figures multiplied Rp/10 (nominal; minima lie near)."""
    for name, row in CLASSES.items():
        if not row.stainless:
            first, second = name.split(".")
            assert row.tensile_min == pytest.approx(int(first) * 100, rel=0.06)
            assert row.yield_min == pytest.approx(int(first) * int(second) * 10, rel=0.07)
