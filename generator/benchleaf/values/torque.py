"""Judges a recorded torque: over what the joint or the screw bears, or too little for what it must hold.

The limits themselves are computed in `benchleaf.values.limits` and, like the other names below, imported
from here.
"""

from __future__ import annotations

from benchleaf.frozen import dataclass
from benchleaf.values.joint import (
    LIMIT_LABEL,
    Fastener,
    Limit,
    friction_input,
    friction_span,
    given,
    head_input,
    input_of,
    thread_input,
)
from benchleaf.values.limits import PRELOAD_FORMULA, TorqueLimits, torque_limits
from benchleaf.values.origin import Computed, Origin
from benchleaf.values.quantity import Dimension, Quantity
from benchleaf.values.threads import Thread, bearing, find_head, find_thread
from benchleaf.values.tightening import preload_of

__all__ = [
    "LIMIT_LABEL",
    "Fastener",
    "Limit",
    "TorqueJudgement",
    "TorqueLimits",
    "friction_span",
    "given",
    "judge_torque",
    "torque_limits",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class TorqueJudgement:
    """What is wrong with a recorded torque, with the sum behind it. ``code`` names the finding:

    ``torque-over-limit``, ``torque-too-low``, ``hold-beyond-limit`` or ``hold-not-checked``.
    """

    code: str
    message: str
    help: str
    arithmetic: tuple[str, ...]
    origin: Origin | None


def judge_torque(fastener: Fastener, torque: Quantity) -> tuple[TorqueJudgement, ...]:
    """What speaks against a recorded torque. Nothing found means that nothing recorded speaks against it.

    Raises ``ValueError`` for a quantity that is no torque: a mistake of the caller.
    """
    if torque.dimension is not Dimension.TORQUE:
        raise ValueError(f"{torque.tidy} is {torque.dimension.value}, not a torque")
    found = torque_limits(fastener)
    judged = _judge_over(torque, found)
    if fastener.must_hold is not None and fastener.must_hold.dimension is Dimension.FORCE:
        judged += _judge_hold(fastener, torque, fastener.must_hold, found)
    return tuple(judged)


def _judge_over(torque: Quantity, found: TorqueLimits) -> list[TorqueJudgement]:
    """The lowest limit exceeded; the others would say less."""
    limits = [*found.limits, *([found.screw_alone] if found.screw_alone is not None else [])]
    limit = min(limits, key=lambda one: one.torque, default=None)
    highest = torque.high
    if limit is None or highest is None or highest <= limit.torque * (1 + 1e-9):
        return []
    by_itself = "" if limit in found.limits else " by itself"
    return [
        TorqueJudgement(
            code="torque-over-limit",
            message=f"{torque.tidy} is over the limit of {limit.text(torque.unit)}: {limit.words}{by_itself}",
            help="check the torque and what is recorded of the fastener; until then do not go over the limit",
            arithmetic=(*limit.arithmetic, f"{highest:.3g} N·m is more than {limit.torque:.3g} N·m"),
            origin=limit.origin,
        )
    ]


def _judge_hold(
    fastener: Fastener, torque: Quantity, must_hold: Quantity, found: TorqueLimits
) -> list[TorqueJudgement]:
    thread = find_thread(fastener.thread)
    if thread is None:
        return [
            TorqueJudgement(
                code="hold-not-checked",
                message=f"{must_hold.tidy} must hold, but no ISO metric coarse thread is recorded",
                help="record the thread, such as M4, so that the preload can be compared",
                arithmetic=(),
                origin=fastener.origins.get("must-hold"),
            )
        ]
    force = must_hold.high if must_hold.high is not None else must_hold.middle
    judged = []
    least = _least_preload(fastener, thread, torque)
    if least < force:
        judged.append(_too_low(fastener, thread, torque, must_hold, least, force))
    if found.preload is None:
        judged.append(_class_missing(fastener, must_hold))
    elif found.preload[0] < force:
        judged.append(_beyond(fastener, thread, must_hold, found.preload[0], force))
    return judged


def _class_missing(fastener: Fastener, must_hold: Quantity) -> TorqueJudgement:
    named = fastener.property_class
    what = f"class '{named}' is not in the table" if named else "no class is recorded"
    return TorqueJudgement(
        code="hold-not-checked",
        message=f"{must_hold.tidy} must hold, but {what}: whether the screw may bear it is not computed",
        help="record the property class, such as 8.8 or A2-70",
        arithmetic=(),
        origin=fastener.origins.get("must-hold"),
    )


def _least_preload(fastener: Fastener, thread: Thread, torque: Quantity) -> float:
    """Preload in N at the lowest torque meant, the highest plausible friction and the widest head."""
    _, friction, _ = friction_span(fastener)
    under_head = bearing(thread, find_head(fastener.head))
    return preload_of(thread, torque.low or 0.0, under_head.largest, friction)


def _too_low(
    fastener: Fastener, thread: Thread, torque: Quantity, must_hold: Quantity, preload: float, force: float
) -> TorqueJudgement:
    _, friction, friction_words = friction_span(fastener)
    under_head = bearing(thread, find_head(fastener.head))
    return TorqueJudgement(
        code="torque-too-low",
        message=f"{torque.tidy} may make only {preload:.0f} N of preload; {must_hold.tidy} must hold",
        help="check the torque; recording the friction and the form of the head narrows the band",
        arithmetic=(
            f"{friction_words}; {under_head.words}",
            f"F = T/(0.16·P + 0.58·d2·µ + DKm/2·µ) = {(torque.low or 0.0) * 1000:.4g} N·mm/"
            f"(0.16·{thread.pitch:g} + 0.58·{thread.d2:.4g}·{friction:g} + "
            f"{under_head.largest:.4g}/2·{friction:g}) mm = {preload:.0f} N",
            f"{preload:.0f} N is less than {force:.0f} N",
        ),
        origin=Computed(
            f"{preload:.0f} N",
            "T/(0.16·P + 0.58·d2·µ + DKm/2·µ)",
            (
                input_of(fastener, "torque", "T", torque.tidy),
                thread_input(fastener, thread),
                friction_input(fastener, friction),
                head_input(fastener, under_head, under_head.largest),
            ),
            "VDI 2230",
        ),
    )


def _beyond(fastener: Fastener, thread: Thread, must_hold: Quantity, preload: float, force: float) -> TorqueJudgement:
    _, friction, friction_words = friction_span(fastener)
    return TorqueJudgement(
        code="hold-beyond-limit",
        message=f"{must_hold.tidy} must hold, but the screw may bear only {preload:.0f} N of preload",
        help="check the size, the class and the force recorded",
        arithmetic=(
            f"F = {PRELOAD_FORMULA} = {preload:.0f} N ({friction_words})",
            f"{preload:.0f} N is less than {force:.0f} N",
        ),
        origin=Computed(
            f"{preload:.0f} N",
            PRELOAD_FORMULA,
            (
                thread_input(fastener, thread),
                input_of(fastener, "class", "class", fastener.property_class),
                friction_input(fastener, friction),
            ),
            "VDI 2230",
        ),
    )
