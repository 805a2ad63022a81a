"""Preload and tightening torque against a published A2-70 table (VDI 2230 form) and Shigley's short form."""

from __future__ import annotations

import pytest

from benchleaf.values.threads import BREAKING_TORQUE, CLASSES, THREADS, bearing
from benchleaf.values.tightening import (
    NUT_FACTOR,
    SHARE_OF_PROOF,
    permissible_preload,
    short_form,
    stripping_force,
    thread_part,
    tightening_torque,
)

# Fastener-handbook table for A2-70 at 90 % of Rp0.2, hexagon head: size, friction, preload kN, torque N·m.
A2_70 = [
    ("M3", 0.1, 1.84, 0.80), ("M3", 0.2, 1.60, 1.26),
    ("M4", 0.1, 3.20, 1.85), ("M4", 0.2, 2.76, 2.90),
    ("M5", 0.1, 5.20, 3.60), ("M5", 0.2, 4.51, 5.70),
    ("M6", 0.1, 7.30, 6.30), ("M6", 0.2, 6.40, 10.0),
    ("M8", 0.1, 13.4, 15.2), ("M8", 0.2, 11.6, 24.1),
]  # fmt: skip


@pytest.mark.parametrize(("size", "friction", "preload_kn", "torque"), A2_70)
def test_preload_and_torque_are_within_one_percent_of_the_published_table(
    size: str, friction: float, preload_kn: float, torque: float
) -> None:
    thread = THREADS[size]
    preload = permissible_preload(thread, CLASSES["A2-70"].yield_min, friction)
    assert preload / 1000 == pytest.approx(preload_kn, rel=0.01)
    assert tightening_torque(thread, preload, bearing(thread, "hex").least, friction) == pytest.approx(torque, rel=0.01)


def test_the_short_form_gives_shigleys_m6_example() -> None:
    """Shigley ch. 8: M6 8.8, K = 0.20, 75 % of proof: 8700 N, 10.44 N·m, published as 92 lbf·in."""
    proof = CLASSES["8.8"].proof
    assert proof is not None
    preload = SHARE_OF_PROOF * proof * THREADS["M6"].stress_area
    torque = short_form(THREADS["M6"], preload, NUT_FACTOR["as received, zinc"])
    assert preload == pytest.approx(8700, rel=0.01)
    assert torque == pytest.approx(10.44, rel=0.01)
    assert torque * 8.850745791 == pytest.approx(92, rel=0.015)


@pytest.mark.parametrize("name", BREAKING_TORQUE)
def test_tightening_to_ninety_percent_of_yield_stays_below_the_breaking_torque(name: str) -> None:
    """ISO 898-7 (from memory) is pure torsion: the thread's part of the torque compares, at any usual friction."""
    for size, breaks_at in BREAKING_TORQUE[name].items():
        for friction in (0.08, 0.12, 0.2):
            preload = permissible_preload(THREADS[size], CLASSES[name].yield_min, friction)
            assert thread_part(THREADS[size], preload, friction) < breaks_at


def test_a_full_nut_of_its_own_strength_outlasts_the_screw() -> None:
    """ISO 898-2: a nut 0.8·d high or more, of matching strength, has the screw break before the thread strips."""
    for thread in THREADS.values():
        shear = 0.6 * 800
        assert stripping_force(thread, 1.0 * thread.d, shear, shear) > CLASSES["8.8"].yield_min * thread.stress_area


def test_engaged_lengths_recommended_for_steel_and_aluminium_differ_as_in_the_handbook() -> None:
    """Fastener handbook: 8.8 in steel Rm > 360 takes 1.0·d, in aluminium Rm > 180 takes 2.0·d: the same force."""
    thread = THREADS["M8"]
    steel = stripping_force(thread, 1.0 * thread.d, 0.6 * 360, None)
    aluminium = stripping_force(thread, 2.0 * thread.d, 0.6 * 180, None)
    assert aluminium == pytest.approx(steel, rel=0.15)


def test_an_m10_thread_in_aluminium_needs_the_length_worked_in_the_handbook() -> None:
    """Fastener handbook example: M10, 69 600 N, shear strength 130 MPa, bearing length 21.6 mm.

    It reckons with the least screw (9.968 mm) in the widest hole (9.206 mm); ours with nominal sizes and 0.9.
    """
    thread = THREADS["M10"]
    engaged = 21.6 + 0.8 * thread.pitch
    assert stripping_force(thread, engaged, 130.0, None) == pytest.approx(69_600, rel=0.01)


def test_the_softer_thread_is_the_one_that_strips() -> None:
    thread = THREADS["M6"]
    hole_alone = stripping_force(thread, 6.0, 108.0, None)
    assert stripping_force(thread, 6.0, 108.0, 480.0) == pytest.approx(hole_alone)
    # the screw's thread shears on a smaller cylinder: D1 = 4.917 mm, flank 0.75·P (ISO 68-1 profile)
    soft_screw = 0.9 * 3.14159265 * 4.9175 * (6.0 - 0.8) * 0.75 * 100.0
    assert stripping_force(thread, 6.0, 480.0, 100.0) == pytest.approx(soft_screw, rel=1e-3)
