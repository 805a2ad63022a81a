"""A fastener set as the torque computation wants it: every fact with the line of the record it comes from."""

from __future__ import annotations

from dataclasses import replace

from benchleaf.fastener_sets import FastenerSet
from benchleaf.values.joint import Fastener
from benchleaf.values.limits import TorqueLimits, torque_limits
from benchleaf.values.observations import Observation
from benchleaf.values.origin import Origin
from benchleaf.values.recorded import counting, highest, lowest, origin_in, stated_at
from benchleaf.values.torque import TorqueJudgement, judge_torque

DRIVEN = ("screw", "nut")


def is_driven(one: FastenerSet) -> bool:
    """Whether a torque means anything here: screws and nuts, not clips, pins or latches."""
    return one.kind in DRIVEN


def fastener_of(one: FastenerSet) -> Fastener:
    """What is recorded of a set, as far as its torque goes.

    Of several observations the careful one counts: the shortest engagement, the lowest torque it strips at, the
    greatest force it must hold.
    """
    engaged, strips, hold = lowest(one.engaged), lowest(one.strips_at), highest(one.must_hold)
    plain: tuple[tuple[str, object], ...] = (
        ("thread", one.thread), ("class", one.class_), ("head", one.head), ("into", one.into),
        ("friction", one.friction),
    )  # fmt: skip
    origins: dict[str, Origin | None] = {
        key: stated_at(str(said), one.said.get(key)) for key, said in plain if said is not None
    }
    origins |= {"engaged": origin_in(engaged), "strips-at": origin_in(strips), "must-hold": origin_in(hold)}
    return Fastener(
        thread=one.thread or "",
        property_class=one.class_ or "",
        head=one.head or "",
        into=one.into or "",
        engaged=engaged.quantity if engaged is not None else None,
        friction=one.friction,
        strips_at=strips.quantity if strips is not None else None,
        must_hold=hold.quantity if hold is not None else None,
        origins={key: origin for key, origin in origins.items() if origin is not None},
    )


def limits_of(one: FastenerSet) -> TorqueLimits:
    """The limits of the torque of a set, from what is recorded of it."""
    return torque_limits(fastener_of(one))


def judge(one: FastenerSet) -> tuple[tuple[Observation, TorqueJudgement], ...]:
    """What speaks against every torque recorded for a set: the decision where there is one, else each observation."""
    fastener = fastener_of(one)
    judged = []
    for seen in counting(one.torque):
        if seen.quantity is None:
            continue
        origin = origin_in(seen)
        mine = replace(fastener, origins={**fastener.origins, **({"torque": origin} if origin else {})})
        judged += [(seen, found) for found in judge_torque(mine, seen.quantity)]
    return tuple(judged)
