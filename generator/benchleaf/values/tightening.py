"""Tightening by published formulas: what preload a torque makes, what a screw and a thread bear. Plain
numbers only.

The form is that of VDI 2230 (DIN 946): thread and head friction apart, 90 % of the yield stress used. The
short form T = K·F·d (Shigley's Mechanical Engineering Design, ch. 8) stands beside it as a cross-check.
Lengths mm, forces N, stresses MPa, torques N·m.
"""

from __future__ import annotations

from math import pi, sqrt

from benchleaf.values.threads import Thread

USE_OF_YIELD = 0.9
"""Share of the yield stress that tightening may use (VDI 2230)."""

# K of the short form by surface: Shigley, table of torque factors (Bowman).
NUT_FACTOR = {"as received, zinc": 0.2, "lubricated": 0.18, "black": 0.3, "anti-seize": 0.12}
SHARE_OF_PROOF = 0.75
"""Preload of a joint that is opened again, as a share of the proof load (Shigley, ch. 8)."""


def permissible_preload(thread: Thread, yield_min: float, friction: float) -> float:
    """Largest assembly preload in N: tension and the twist of the thread together reach 90 % of yield (VDI
    2230).

    F = 0.9·Rp0.2·As / √(1 + 3·(1.5·(d2/ds)·(P/(π·d2) + 1.155·µ))²)
    """
    lead = thread.pitch / (pi * thread.d2)
    twist = 1.5 * (thread.d2 / thread.stress_diameter) * (lead + 1.155 * friction)
    return USE_OF_YIELD * yield_min * thread.stress_area / sqrt(1 + 3 * twist**2)


def arm(thread: Thread, bearing: float, thread_friction: float, head_friction: float) -> float:
    """Torque over preload in mm: 0.16·P + 0.58·d2·µG + DKm/2·µK, ``bearing`` being DKm (VDI 2230)."""
    return 0.16 * thread.pitch + 0.58 * thread.d2 * thread_friction + bearing / 2 * head_friction


def tightening_torque(
    thread: Thread, preload: float, bearing: float, friction: float, head_friction: float | None = None
) -> float:
    """Torque in N·m that makes ``preload`` (N); head friction as in the thread unless it is given apart."""
    return preload * arm(thread, bearing, friction, friction if head_friction is None else head_friction) / 1000


def preload_of(thread: Thread, torque: float, bearing: float, friction: float) -> float:
    """Preload in N that ``torque`` (N·m) makes: the inverse of ``tightening_torque``."""
    return torque * 1000 / arm(thread, bearing, friction, friction)


def thread_part(thread: Thread, preload: float, friction: float) -> float:
    """The part of the torque that twists the screw, N·m; ISO 898-7 breaking torque compares with this part
    only.
    """
    return preload * (0.16 * thread.pitch + 0.58 * thread.d2 * friction) / 1000


def short_form(thread: Thread, preload: float, nut_factor: float) -> float:
    """T = K·F·d in N·m (Shigley ch. 8)."""
    return nut_factor * preload * thread.d / 1000


def implied_nut_factor(thread: Thread, torque: float, preload: float) -> float:
    """K that makes the short form give this torque for this preload; 0.1 to 0.35 is ordinary."""
    return torque * 1000 / (preload * thread.d)


def effective_engagement(thread: Thread, engaged: float) -> float:
    """Engaged length that bears, mm: 0.8 of a pitch is lost at the chamfer and run-out (VDI 2230, 5.5.5)."""
    return max(0.0, engaged - 0.8 * thread.pitch)


def internal_shear_area(thread: Thread, engaged: float) -> float:
    """Area in mm² that shears when the hole's thread strips: π·d·(m/P)·(P/2 + (d − d2)·tan 30°) (VDI
    2230).
    """
    flank = thread.pitch / 2 + (thread.d - thread.d2) / sqrt(3)
    return pi * thread.d * effective_engagement(thread, engaged) / thread.pitch * flank


def external_shear_area(thread: Thread, engaged: float) -> float:
    """Area in mm² that shears when the screw's thread strips: π·D1·(m/P)·(P/2 + (d2 − D1)·tan 30°) (VDI
    2230).
    """
    flank = thread.pitch / 2 + (thread.d2 - thread.minor) / sqrt(3)
    return pi * thread.minor * effective_engagement(thread, engaged) / thread.pitch * flank


def stripping_force(thread: Thread, engaged: float, into_shear: float, screw_shear: float | None) -> float:
    """Axial force in N at which the softer thread strips; shear strengths in MPa, of the screw only where
    known.

    0.9 stands for the spreading of the softer thread (VDI 2230: C3 about 0.897).
    """
    hole = internal_shear_area(thread, engaged) * into_shear
    if screw_shear is None:
        return 0.9 * hole
    return 0.9 * min(hole, external_shear_area(thread, engaged) * screw_shear)
