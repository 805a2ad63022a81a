"""A recorded torque that cannot be right, one that nothing can be compared with, or a computed one in its place.

The limit is computed from what is recorded of the fastener (VDI 2230: 90 % of yield, stripping of the softer thread) or
is the torque recorded to strip it, at the friction that gives the lower one; the help lines show the sum. A computed
torque is a limit, never a torque to tighten to, so it does not fill the callout. What must hold a force is compared
with the least preload its torque makes. Mend the torque, or the thread, class, head, material or engaged length
recorded beside it.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place, Severity
from benchleaf.fastener_sets import FastenerSet
from benchleaf.values.origin import Recorded
from benchleaf.values.recorded import counting, standing
from benchleaf.values.torque_of_set import fastener_of, is_driven, judge, limits_of

CODES = (
    "torque-over-limit",
    "torque-too-low",
    "torque-not-checked",
    "hold-beyond-limit",
    "hold-not-checked",
    "computed-torque",
)
BY_MACHINE = True
_Key = tuple[str, str, Place, str]


def run(derived: Derived) -> Iterator[Finding]:
    for machine in derived.library.machines.values():
        found: dict[_Key, dict[Place, str]] = {}
        different = dict.fromkeys(one for built in derived.all_built(machine) for one in built.sets.values())
        for one in different:
            for key in _of_set(one):
                found.setdefault(key, {})[one.place] = f"{one.count} × {one.name}"
        for (code, message, place, help), sets in found.items():
            related = tuple((where, words) for where, words in sorted(sets.items()) if where.line != place.line)
            yield Finding(code, message, place, help, Severity.WARNING, related)


def _of_set(one: FastenerSet) -> Iterator[_Key]:
    """Everything to say about one set, under the place it is said at."""
    if not is_driven(one):
        return
    judged = judge(one)
    for seen, found in judged:
        place = seen.place if found.code.startswith("torque-") else _place_of_hold(one)
        yield found.code, found.message, place or one.place, "\n".join((found.help, *found.arithmetic))
    aside = standing(one.torque).set_aside
    for computed in aside:
        message = f"{computed.quantity} is computed: it is a limit, and the callout says not recorded"
        help = "record a torque somebody measured, or the note it stands in; the limit is computed anyway"
        yield "computed-torque", message, computed.place or one.place, help
    seen_torques = counting(one.torque)
    if one.must_hold is not None and not seen_torques:
        hold = fastener_of(one).must_hold
        message = f"{hold} must hold, but no torque is recorded to compare it with"
        yield "hold-not-checked", message, _place_of_hold(one), "record the torque these are tightened to"
    over = {seen.place for seen, found in judged if found.code == "torque-over-limit"}
    missing = _not_compared(one)
    for seen in seen_torques:
        if missing and seen.place not in over:
            message = f"nothing but part of the limits can be compared with {seen.quantity}: {missing}"
            help = "record what is missing, or `strips-at` where it was seen to strip"
            yield "torque-not-checked", message, seen.place or one.place, help


def _not_compared(one: FastenerSet) -> str:
    """Which limits of the joint could not be computed; empty when all were, or the record says where it strips."""
    found = limits_of(one)
    if any(limit.kind == "recorded" for limit in found.limits):
        return ""
    return "; ".join(found.not_computed)


def _place_of_hold(one: FastenerSet) -> Place:
    origin = fastener_of(one).origins.get("must-hold")
    return origin.place if isinstance(origin, Recorded) else one.place
