"""What a fastener's torque may be at most, from what is recorded of it.

A computed torque is a limit and says so; it never stands in for a torque nobody recorded. Where a fact is
missing, the limit that needs it is not computed, and the reader is told which fact that was. Plastic, an
unknown material and one not recorded get no computed value at all: only the shop's own record of where it
strips.
"""

from __future__ import annotations

from benchleaf.frozen import dataclass
from benchleaf.values.joint import (
    LIMIT_LABEL,
    Fastener,
    Limit,
    class_origin,
    friction_input,
    friction_span,
    head_input,
    input_of,
    thread_input,
)
from benchleaf.values.origin import CommonPractice, Computed, Input, Published, say
from benchleaf.values.quantity import Dimension, Quantity, make_quantity
from benchleaf.values.threads import (
    BREAKING_TORQUE,
    PropertyClass,
    Thread,
    bearing,
    find_class,
    find_head,
    find_thread,
)
from benchleaf.values.tightening import (
    implied_nut_factor,
    permissible_preload,
    stripping_force,
    thread_part,
    tightening_torque,
)

PRELOAD_FORMULA = "0.9·Rp0.2·As/√(1 + 3·(1.5·(d2/ds)·(P/(π·d2) + 1.155·µ))²)"
TORQUE_FORMULA = "F·(0.16·P + 0.58·d2·µ + DKm/2·µ)"

# Least tensile strength in MPa of the weakest alloy one is likely to meet, so that the limit errs low.
_INTO: dict[str, tuple[float, str]] = {
    "steel": (270.0, "sheet steel DC01, EN 10130, from memory"),
    "brass": (360.0, "CuZn39Pb3, EN 12164, from memory"),
    "aluminium": (180.0, "AlMg3 F18, fastener handbook table of engaged lengths"),
}
_SHEAR_SHARE = 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class TorqueLimits:
    """Every limit that could be computed, and for the others the fact that is missing."""

    limits: tuple[Limit, ...]
    not_computed: tuple[str, ...]
    friction: tuple[float, float]
    friction_words: str
    screw_alone: Limit | None = None
    """What the screw bears by itself, whatever it goes into: catches a torque that cannot be right, and is
    no limit of the joint. ``None`` without thread or class.
    """
    preload: tuple[float, float] | None = None
    """Largest preload in N the screw may get, at the highest and at the lowest plausible friction, or ``None``."""
    cross_checks: tuple[str, ...] = ()

    @property
    def upper(self) -> Limit | None:
        """The lowest limit; ``None`` means that none is known, never that there is none."""
        return min(self.limits, key=lambda limit: limit.torque, default=None)


def torque_limits(fastener: Fastener) -> TorqueLimits:
    """Upper limits of the torque: screw (90 % of yield), stripping of the softer thread, recorded boss.

    Upper limits are taken at the lowest plausible friction, where a torque makes the most preload.
    """
    low, high, words = friction_span(fastener)
    limits: list[Limit] = []
    missing: list[str] = []
    checks: list[str] = []
    preload: tuple[float, float] | None = None
    screw: Limit | None = None
    recorded = _recorded_limit(fastener)
    if recorded is not None:
        limits.append(recorded)
    thread = find_thread(fastener.thread)
    strength = find_class(fastener.property_class)
    if thread is not None and strength is not None:
        screw, most = _screw_limit(fastener, thread, strength, low)
        preload = permissible_preload(thread, strength.yield_min, high), most
        checks += _cross_checks(thread, strength, screw.torque, most, low)
    into = fastener.into.strip().casefold()
    if not into:
        missing.append("what it screws into is not recorded, which counts as plastic: no limit is computed")
    elif into not in _INTO:
        material = "an unknown material" if into == "unknown" else into
        missing.append(f"no limit is computed for a thread in {material}: a record of where it strips counts")
    elif thread is None:
        missing.append(_no_thread(fastener.thread))
    else:
        if screw is None:
            missing.append(_no_class(fastener.property_class))
        else:
            limits.append(screw)
        if fastener.engaged is None or fastener.engaged.dimension is not Dimension.LENGTH:
            missing.append("engaged length not recorded: stripping of the thread is not computed")
        else:
            limits.append(_thread_limit(fastener, thread, strength, low, into, fastener.engaged))
    return TorqueLimits(
        limits=tuple(limits),
        not_computed=tuple(missing),
        friction=(low, high),
        friction_words=words,
        screw_alone=screw,
        preload=preload,
        cross_checks=tuple(checks),
    )


def _screw_limit(fastener: Fastener, thread: Thread, strength: PropertyClass, friction: float) -> tuple[Limit, float]:
    under_head = bearing(thread, find_head(fastener.head))
    preload = permissible_preload(thread, strength.yield_min, friction)
    torque = tightening_torque(thread, preload, under_head.least, friction)
    preload_origin = Computed(
        f"{preload:.0f} N",
        PRELOAD_FORMULA,
        (
            thread_input(fastener, thread),
            Input("Rp0.2", f"{strength.yield_min:g} MPa", class_origin(fastener, strength)),
            friction_input(fastener, friction),
        ),
        "VDI 2230",
    )
    origin = Computed(
        f"{torque:.3g} N·m",
        TORQUE_FORMULA,
        (
            Input("F", f"{preload:.0f} N", preload_origin),
            thread_input(fastener, thread),
            friction_input(fastener, friction),
            head_input(fastener, under_head, under_head.least),
        ),
        "VDI 2230",
    )
    _, _, friction_words = friction_span(fastener)
    limit = Limit(
        kind="screw",
        torque=torque,
        quantity=make_quantity(unit="N·m", high=torque),
        words=f"an {thread.name} screw of class {strength.name}, {friction_words}",
        arithmetic=(
            f"As = π/4·({thread.d:g} − 0.9382·{thread.pitch:g})² = {thread.stress_area:.3g} mm² (ISO 898-1)",
            f"F = {PRELOAD_FORMULA} = {preload:.0f} N with Rp0.2 = {strength.yield_min:g} MPa "
            f"({strength.source}), d2 = {thread.d2:.4g} mm, ds = {thread.stress_diameter:.4g} mm, "
            f"µ = {friction:g} (VDI 2230)",
            _torque_sum(thread, preload, under_head.least, friction, torque),
        ),
        origin=origin,
    )
    return limit, preload


def _thread_limit(
    fastener: Fastener,
    thread: Thread,
    strength: PropertyClass | None,
    friction: float,
    into: str,
    engaged: Quantity,
) -> Limit:
    tensile, source = _INTO[into]
    shear = _SHEAR_SHARE * tensile
    screw_shear = None if strength is None else _SHEAR_SHARE * strength.tensile_min
    least = engaged.low if engaged.low is not None else 0.0
    length = least * 1000
    force = stripping_force(thread, length, shear, screw_shear)
    under_head = bearing(thread, find_head(fastener.head))
    torque = tightening_torque(thread, force, under_head.least, friction)
    practice = CommonPractice(f"{_SHEAR_SHARE:g}", "share of the tensile strength that shear takes, common practice")
    force_origin = Computed(
        f"{force:.0f} N",
        "0.9·π·d·((m − 0.8·P)/P)·(P/2 + (d − d2)·tan 30°)·0.6·Rm, or of the screw's own thread if softer",
        (
            thread_input(fastener, thread),
            input_of(fastener, "engaged", "m", engaged.tidy),
            input_of(fastener, "into", "material", into),
            Input("Rm", f"{tensile:g} MPa", Published(f"{tensile:g} MPa", source)),
            Input("shear", f"{_SHEAR_SHARE:g}", practice),
        ),
        "VDI 2230",
    )
    _, _, friction_words = friction_span(fastener)
    beyond = "" if strength is not None else "; the screw's own thread is not counted, its class is not recorded"
    return Limit(
        kind="thread",
        torque=torque,
        quantity=make_quantity(unit="N·m", high=torque),
        words=f"{length:.3g} mm of {thread.name} thread in {into}, {friction_words}",
        arithmetic=(
            f"stripping force = 0.9·area·0.6·Rm = {force:.0f} N over {length:.3g} mm less 0.8·P "
            f"(Rm = {tensile:g} MPa: {source}{beyond})",
            _torque_sum(thread, force, under_head.least, friction, torque),
        ),
        origin=Computed(
            f"{torque:.3g} N·m",
            TORQUE_FORMULA,
            (
                Input("F", f"{force:.0f} N", force_origin),
                thread_input(fastener, thread),
                friction_input(fastener, friction),
                head_input(fastener, under_head, under_head.least),
            ),
            "VDI 2230",
        ),
    )


def _recorded_limit(fastener: Fastener) -> Limit | None:
    strips = fastener.strips_at
    if strips is None or strips.dimension is not Dimension.TORQUE:
        return None
    torque = strips.low if strips.low is not None else strips.middle
    origin = fastener.origins.get("strips-at")
    return Limit(
        kind="recorded",
        torque=torque,
        quantity=make_quantity(unit="N·m", high=torque),
        words="recorded to strip there",
        arithmetic=(f"recorded to strip at {strips.tidy}" + (f": {say(origin)}" if origin else ""),),
        origin=Computed(f"{torque:.3g} N·m", "strips-at", (Input("strips-at", strips.tidy, origin),)),
    )


def _cross_checks(thread: Thread, strength: PropertyClass, torque: float, preload: float, friction: float) -> list[str]:
    """Other ways to the same number, for the reader who doubts the first."""
    factor = implied_nut_factor(thread, torque, preload)
    lines = [f"short form T = K·F·d gives the same with K = {factor:.2f}; 0.12 to 0.30 are published (Shigley ch. 8)"]
    breaking = BREAKING_TORQUE.get(strength.name, {}).get(thread.name)
    if breaking is not None:
        part = thread_part(thread, preload, friction)
        lines.append(
            f"the thread's part is {part:.2g} N·m; such a screw breaks by twisting at {breaking:g} N·m at least "
            "(ISO 898-7, from memory)"
        )
    return lines


def _torque_sum(thread: Thread, force: float, under_head: float, friction: float, torque: float) -> str:
    return (
        f"T = F·(0.16·{thread.pitch:g} + 0.58·{thread.d2:.4g}·{friction:g} + {under_head:.4g}/2·{friction:g}) mm "
        f"= {torque:.3g} N·m, {LIMIT_LABEL}"
    )


def _no_thread(text: str) -> str:
    if not text:
        return "thread not recorded: no limit is computed"
    return f"'{text}' is not an ISO metric coarse thread M1.6 to M12: no limit is computed"


def _no_class(text: str) -> str:
    if not text:
        return "property class not recorded: what the screw bears is not computed"
    return f"class '{text}' is not in the table: what the screw bears is not computed"
