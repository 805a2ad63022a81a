"""What a good conductor reads on a meter: a band in ohm from gauge, length, temperature, contacts and test
leads.

A beep is not a value, and a band is not made up: without gauge or length there is none, and the reader is
told which is missing. Copper is taken for granted. Sources: gauges ASTM B258, cross-sections IEC 60228 class
5 (below 0.5 mm² DIN VDE 0295), temperature IEC 60228 Annex B.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import field
from math import inf, isfinite

from benchleaf.frozen import dataclass
from benchleaf.values.origin import CommonPractice, Computed, Input, Origin
from benchleaf.values.quantity import Dimension, Quantity, from_base, make_quantity

COPPER = 1.7241e-8
"""Resistivity of annealed copper at 20 °C in Ω·m (IACS; 0.017241 Ω·mm²/m, IEC 60028)."""

CLASS_5: dict[float, tuple[float, float]] = {
    0.05: (380, 392),
    0.08: (237, 244),
    0.11: (170, 175),
    0.12: (150, 155),
    0.14: (134, 138),
    0.22: (96, 99),
    0.25: (76, 79),
    0.34: (53, 56),
    0.5: (39, 40.1),
    0.75: (26, 26.7),
    1.0: (19.5, 20.0),
    1.5: (13.3, 13.7),
    2.5: (7.98, 8.21),
    4.0: (4.95, 5.09),
    6.0: (3.3, 3.39),
}
"""Cross-section in mm² → largest Ω/km at 20 °C, plain and tinned (IEC 60228 class 5; under 0.5 mm² DIN VDE
0295).
"""

FLAT_CONDUCTOR_WIDTH = {0.5: 0.30, 1.0: 0.70, 1.25: 0.80}
"""Pitch of a flat flexible cable → usual width of its conductors, mm (common practice, no source)."""

# What the sum allows for, common practice without source.
STRANDING = 1.10  # a stranded, tinned wire of an AWG size against the solid one
OUTSIDE_TABLE = 1.20  # a cross-section the table does not list
CONTACT_OHM = 0.03  # a contact, mated and used
LEADS_OHM = 0.3  # a pair of test leads that was not zeroed
WORKSHOP = (15.0, 30.0)  # °C
WARM = 60.0  # °C, a supply wire at work inside a machine

BEEP_OHM = 50.0
"""Where many meters stop beeping (common practice; meters differ from about 20 Ω to over 100 Ω)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """What a conductor should read. ``band`` is ``None`` when a fact is missing; ``words`` then says
    which.
    """

    band: Quantity | None
    words: str
    arithmetic: tuple[str, ...] = ()
    origin: Origin | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Conductor:
    """What is recorded of one wire and its ends. ``origins`` by record key: ``gauge``, ``length``,
    ``current``.
    """

    gauge: Quantity | None = None
    length: Quantity | None = None
    contacts: int = 2
    """Mated contacts between the probes."""
    leads_zeroed: bool = False
    temperature: tuple[float, float] = WORKSHOP
    """Coldest and warmest, °C."""
    origins: Mapping[str, Origin] = field(default_factory=dict)


def temperature_factor(celsius: float) -> float:
    """Resistance of copper at ``celsius`` over that at 20 °C: (234.5 + t)/254.5 (IEC 60228 Annex B)."""
    return (234.5 + celsius) / 254.5


def ohm_per_metre(gauge: Quantity) -> tuple[float, float, str]:
    """Least and largest Ω/m at 20 °C for a recorded gauge or cross-section, and where they are from.

    The least is copper of the full cross-section. The largest is the class 5 limit (tinned) for a listed
    cross-section, else an allowance. Raises ``ValueError`` for anything but an area.
    """
    if gauge.dimension is not Dimension.AREA:
        raise ValueError(f"{gauge.tidy} is {gauge.dimension.value}, not a cross-section")
    thinnest, thickest = gauge.band(0.0)
    if thinnest <= 0 or not isfinite(thickest):
        return 0.0, inf, "an open-ended cross-section"
    least, largest = COPPER / thickest, COPPER / thinnest
    if gauge.unit == "AWG":
        return (
            least,
            largest * STRANDING,
            "ASTM B258, copper 0.017241 Ω·mm²/m; 10 % for strands and tin, common practice",
        )
    listed = CLASS_5.get(round(thinnest * 1e6, 4))
    if listed is not None:
        return least, listed[1] / 1000, "IEC 60228 class 5, tinned"
    return least, largest * OUTSIDE_TABLE, "copper 0.017241 Ω·mm²/m; 20 % outside the table, common practice"


def flat_conductor(pitch: float, thickness: float) -> Quantity | None:
    """Cross-section of one conductor of a flat flexible cable, pitch and thickness in mm; none for another
    pitch.
    """
    width = FLAT_CONDUCTOR_WIDTH.get(pitch)
    return None if width is None else make_quantity(unit="mm²", nominal=width * thickness, digits=4)


def expected_resistance(conductor: Conductor) -> Expected:
    """The band a meter should show across the conductor, power off, one ends' contacts and the leads
    included.
    """
    missing = [
        name
        for name, value in (("gauge", conductor.gauge), ("length", conductor.length))
        if value is None or not all(map(isfinite, value.band(0.0)))
    ]
    gauge, length = conductor.gauge, conductor.length
    if missing or gauge is None or length is None:
        words = f"{' and '.join(missing)} not recorded: no value to expect; compare with a wire known to be good"
        return Expected(band=None, words=words)
    per_metre_least, per_metre_largest, source = ohm_per_metre(gauge)
    shortest, longest = length.band(0.1)
    cold, warm = (temperature_factor(celsius) for celsius in conductor.temperature)
    contacts = conductor.contacts * CONTACT_OHM
    leads = 0.0 if conductor.leads_zeroed else LEADS_OHM
    low = shortest * per_metre_least * cold
    high = longest * per_metre_largest * warm + contacts + leads
    band = make_quantity(unit="Ω", low=low, high=high, digits=2)
    coldest, warmest = conductor.temperature
    allowance = f"contact allowance {CONTACT_OHM:g} Ω each, common practice"
    lead_words = "leads zeroed" if conductor.leads_zeroed else f"test leads up to {LEADS_OHM:g} Ω, common practice"
    return Expected(
        band=band,
        words=f"{band.tidy} ({gauge.tidy}, {length.tidy})",
        arithmetic=(
            f"least: {shortest:.4g} m · {per_metre_least:.4g} Ω/m · {cold:.3f} ({coldest:g} °C) = {low:.3g} Ω",
            f"most: {longest:.4g} m · {per_metre_largest:.4g} Ω/m · {warm:.3f} ({warmest:g} °C) + "
            f"{conductor.contacts} · {CONTACT_OHM:g} Ω + {leads:g} Ω = {high:.3g} Ω",
            f"Ω/m: {source}; {allowance}; {lead_words}",
        ),
        origin=Computed(
            band.tidy,
            "length·(Ω/m)·(234.5 + t)/254.5 + contacts + leads",
            (
                Input("length", length.tidy, conductor.origins.get("length")),
                Input("Ω/m", gauge.tidy, _entered(conductor, "gauge", source)),
                Input("t", f"{coldest:g} to {warmest:g} °C", CommonPractice("workshop", "common practice, no source")),
                Input("contacts", f"{contacts:g} Ω", CommonPractice(f"{CONTACT_OHM:g} Ω each", "common practice")),
                Input("leads", f"{leads:g} Ω", CommonPractice(f"{leads:g} Ω", lead_words)),
            ),
            "IEC 60228 Annex B",
        ),
    )


def _entered(conductor: Conductor, key: str, source: str) -> Origin | None:
    """A table figure entered by a recorded value: the value's own origin belongs to it."""
    entry = conductor.origins.get(key)
    return (
        None if entry is None else Computed("table value", f"by the recorded {key}", (Input(key, "", entry),), source)
    )


def in_series(parts: Sequence[Quantity], same_within: float = 0.1) -> Quantity | None:
    """The band of resistances one behind the other; ``None`` when one of them has no upper end, or there is
    none.
    """
    bands = [part.band(same_within) for part in parts]
    low, high = sum(max(0.0, low) for low, _ in bands), sum(high for _, high in bands)
    return make_quantity(unit="Ω", low=low, high=high, digits=2) if bands and isfinite(high) else None


def fuse_words(cold: Quantity | None, rating: Quantity | None = None) -> str:
    """What to expect across a fuse, power off: its recorded cold resistance, else how to find out."""
    if cold is not None:
        return f"{cold.tidy} when cold"
    rated = f" rated {rating.tidy}" if rating is not None else ""
    return (
        f"cold resistance of the fuse{rated} not recorded: small fuses read several ohms, the smallest tens of ohms; "
        "compare with a new one of the same type"
    )


def longest_that_beeps(gauge: Quantity, threshold: float = BEEP_OHM) -> float:
    """Length in m of solid wire of this gauge that a meter beeping below ``threshold`` Ω still takes for
    joined.
    """
    return threshold * gauge.middle / COPPER


def beep_words(gauge: Quantity | None = None) -> tuple[str, ...]:
    """What a beep proves and what it does not, for the head of a ring-out table."""
    length = (
        "" if gauge is None else f" {longest_that_beeps(gauge):.0f} m of {gauge.tidy} still beeps at {BEEP_OHM:g} Ω."
    )
    return (
        f"A beep says that something conducts between the probes, at less than a few tens of ohms.{length}",
        "It does not say that the resistance is right, that the wire can carry its current, that only this wire "
        "conducts, or that it holds when the cable is moved: read the value, measure the others open, move the cable.",
        "No beep does not prove a break: a small fuse or a winding may read more than the meter beeps at.",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Drop:
    """The voltage lost along a supply wire. ``over`` is ``None`` when no limit is recorded to compare
    with.
    """

    drop: Quantity | None
    over: bool | None
    words: str
    arithmetic: tuple[str, ...] = ()
    origin: Origin | None = None


def supply_drop(
    conductor: Conductor, current: Quantity | None, limit: Quantity | None = None, *, both_ways: bool = True
) -> Drop:
    """Largest drop at the recorded current, wire at 60 °C, there and back by default, against ``limit``
    (V).
    """
    gauge, length = conductor.gauge, conductor.length
    if gauge is None or length is None or current is None:
        facts = (("gauge", gauge), ("length", length), ("current", current))
        missing = " and ".join(name for name, value in facts if value is None)
        return Drop(drop=None, over=None, words=f"{missing} not recorded: the drop along this wire is not computed")
    _, per_metre, source = ohm_per_metre(gauge)
    longest, most = length.band(0.1)[1], current.band(0.0)[1]
    ways, warm = (2 if both_ways else 1), temperature_factor(WARM)
    volts = ways * (longest * per_metre * warm + conductor.contacts * CONTACT_OHM) * most
    if not isfinite(volts):
        return Drop(drop=None, over=None, words="an open-ended value is recorded: the drop is not computed")
    drop = make_quantity(unit="V", nominal=volts)
    at = f"up to {drop.tidy} at {current.tidy}"
    allowed = None if limit is None or limit.dimension is not Dimension.VOLTAGE else limit.band(0.0)[1]
    over = None if allowed is None else volts > allowed
    if over is None or limit is None:
        words = f"{at}; no limit recorded to compare with"
    else:
        words = f"{at}, {'may be over' if over else 'within'} the limit of {limit.tidy}"
    return Drop(
        drop=drop,
        over=over,
        words=words,
        arithmetic=(
            f"U = {ways} · ({longest:.4g} m · {per_metre:.4g} Ω/m · {warm:.3f} ({WARM:g} °C) + "
            f"{conductor.contacts} · {CONTACT_OHM:g} Ω) · {from_base(most, 'A'):.4g} A = {volts:.3g} V",
            f"Ω/m: {source}",
        ),
        origin=Computed(
            drop.tidy,
            "ways·(length·(Ω/m)·(234.5 + t)/254.5 + contacts)·I",
            (
                Input("length", length.tidy, conductor.origins.get("length")),
                Input("Ω/m", gauge.tidy, _entered(conductor, "gauge", source)),
                Input("I", current.tidy, conductor.origins.get("current")),
                Input("t", f"{WARM:g} °C", CommonPractice(f"{WARM:g} °C", "wire at work, common practice")),
                Input(
                    "contacts", f"{conductor.contacts}", CommonPractice(f"{CONTACT_OHM:g} Ω each", "common practice")
                ),
            ),
            "Ohm's law",
        ),
    )
