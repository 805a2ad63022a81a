"""How long a stored charge takes to fall to a limit, always followed by "then measure".

The result has no bare number of seconds to print: whoever shows it shows the measurement with it. A time is
given only for a recorded path of copper between charge and resistor; in every other case the time is
unknown. 60 V is the limit of a standard, not leave to touch.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from enum import Enum
from math import ceil, inf, isfinite, log, sqrt

from benchleaf.frozen import dataclass
from benchleaf.values.origin import CommonPractice, Computed, Input, Origin, Published
from benchleaf.values.quantity import Dimension, Quantity, make_quantity, read_quantity

LIMIT_VOLTS = 60.0
LIMIT_SOURCE = "IEC 60204-1 6.2.4"

# Worst cases taken where no tolerance is recorded, as shares above the written value; printed with the
# result.
_ASSUMED = {"capacitance": 0.20, "resistance": 0.05, "voltage": 0.10}
_NO_WAIT = ("battery", "supercapacitor")


class Path(Enum):
    """What is known of the way from the charge to the resistor that bleeds it."""

    COPPER = "recorded copper all the way"
    NOT_RECORDED = "the bleed path is not recorded"
    INTERRUPTIBLE = "something other than copper lies in the bleed path, or it has been opened"
    NONE = "there is no bleed path"


class Outcome(Enum):
    """What can be said of the time."""

    WAIT = "wait"
    TIME_UNKNOWN = "time unknown"
    NO_PATH = "does not bleed"
    NO_WAITING_TIME = "no waiting time"


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredCharge:
    """What is recorded of one store. ``None`` = not recorded. ``origins`` by key: ``capacitance`` and so
    on.
    """

    name: str
    """Words for it: ``C1 in PS1``."""
    capacitance: Quantity | None = None
    voltage: Quantity | None = None
    resistance: Quantity | None = None
    path: Path = Path.NOT_RECORDED
    kind: str = ""
    """``battery``, ``supercapacitor``, or empty for a capacitor."""
    discharge: str = ""
    """How to discharge it by hand, as recorded."""
    measure_at: str = ""
    """The two contacts to measure between; empty = not recorded."""
    origins: Mapping[str, Origin] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class BleedDown:
    """What to do about one stored charge. ``str()`` and ``lines`` always end in the measurement."""

    outcome: Outcome
    do: str
    """What comes before measuring: ``wait 104 s``, ``discharge``. Never shown without ``then``: use
    ``text``.
    """
    then: str
    limit: Quantity
    charge: Quantity | None = None
    energy: Quantity | None = None
    notes: tuple[str, ...] = ()
    """Assumptions and what the standard asks, one sentence each."""
    arithmetic: tuple[str, ...] = ()
    origin: Origin | None = None

    @property
    def text(self) -> str:
        """One sentence: what to do, then measure where, below what."""
        return f"{self.do}{' ' if self.outcome is Outcome.TIME_UNKNOWN else ', '}{self.then}"

    def __str__(self) -> str:
        return self.text

    @property
    def lines(self) -> tuple[str, ...]:
        """Everything for a page or a terminal: the sum, the notes, and the sentence to act on last."""
        stored = []
        if self.charge is not None and self.energy is not None:
            stored.append(f"charge {self.charge.tidy}, energy {self.energy.tidy}, both at most")
        return (*self.arithmetic, *stored, *self.notes, self.text)


def decay_time(resistance: float, capacitance: float, from_volts: float, to_volts: float) -> float:
    """Seconds from one voltage to a lower one: t = R·C·ln(V0/V); Ω, F, V. 0 when it starts at or below the
    limit.
    """
    if to_volts <= 0:
        return inf
    return resistance * capacitance * log(from_volts / to_volts) if from_volts > to_volts else 0.0


def stored_energy(capacitance: float, volts: float) -> float:
    """Energy in J of ``capacitance`` (F) at ``volts``: C·V²/2."""
    return capacitance * volts * volts / 2


def stored_charge(capacitance: float, volts: float) -> float:
    """Charge in C of ``capacitance`` (F) at ``volts``: C·V."""
    return capacitance * volts


def default_limit() -> Quantity:
    """60 V DC (IEC 60204-1 6.2.4)."""
    limit = read_quantity("60 V DC", expected=Dimension.VOLTAGE)
    assert isinstance(limit, Quantity)
    return limit


def bleed_down(store: StoredCharge, limit: Quantity | None = None) -> BleedDown:
    """What to do before this store may be measured, and where to measure; ``limit`` defaults to 60 V DC.

    Upper R, C and V count. Raises ``ValueError`` for a limit that is no voltage: a mistake of the caller.
    """
    limit = default_limit() if limit is None else limit
    if limit.dimension is not Dimension.VOLTAGE:
        raise ValueError(f"{limit.tidy} is {limit.dimension.value}, not a voltage")
    then = _then(store, limit)
    if store.kind in _NO_WAIT:
        by_hand = store.discharge or "disconnect it as recorded"
        return BleedDown(
            outcome=Outcome.NO_WAITING_TIME,
            do=f"{store.name} is a {store.kind} and has no waiting time: {by_hand}",
            then=then,
            limit=limit,
        )
    notes: list[str] = []
    capacitance = _upper(store.capacitance, "capacitance", Dimension.CAPACITANCE, notes)
    volts = _upper(store.voltage, "voltage", Dimension.VOLTAGE, notes)
    charge = energy = None
    if capacitance is not None and volts is not None:
        charge = make_quantity(unit="mC", nominal=stored_charge(capacitance, volts) * 1000)
        energy = make_quantity(unit="J", nominal=stored_energy(capacitance, volts))
    if store.path is Path.NONE:
        return BleedDown(
            outcome=Outcome.NO_PATH,
            do=f"{store.name} does not discharge by itself: {store.discharge or 'discharge it by hand'}",
            then=then,
            limit=limit,
            charge=charge,
            energy=energy,
            notes=tuple(notes),
        )
    resistance = _upper(store.resistance, "resistance", Dimension.RESISTANCE, notes)
    reach = limit.low if limit.low is not None else limit.high
    why = _why_unknown(store, capacitance, volts, resistance, reach)
    if why or capacitance is None or volts is None or resistance is None or reach is None:
        return BleedDown(
            outcome=Outcome.TIME_UNKNOWN,
            do="time unknown: discharge",
            then=then.replace("then measure", "and measure", 1),
            limit=limit,
            charge=charge,
            energy=energy,
            notes=(*why, *notes, *([f"discharge: {store.discharge}"] if store.discharge else [])),
        )
    seconds = decay_time(resistance, capacitance, volts, reach)
    sum_of_it = (
        f"t = R·C·ln(V0/V) = {_ohms(resistance)} · {capacitance * 1e6:.4g} µF · "
        f"ln({volts:.4g} V/{reach:.4g} V) = {seconds:.1f} s"
    )
    below = f"{store.name} is charged to {volts:.4g} V at most, which is not above {reach:.4g} V"
    return BleedDown(
        outcome=Outcome.WAIT,
        do=f"wait {wait_words(seconds)}" if seconds > 0 else below,
        then=then,
        limit=limit,
        charge=charge,
        energy=energy,
        notes=(*notes, *_standard_notes(seconds, capacitance * volts, reach)),
        arithmetic=(sum_of_it,) if seconds > 0 else (),
        origin=_origin(store, limit, wait_words(seconds) if seconds > 0 else "0 s", reach),
    )


def wait_words(seconds: float) -> str:
    """A time to wait, rounded up: whole seconds to two minutes, then whole minutes."""
    return f"{max(1, ceil(seconds))} s" if seconds <= 120 else f"{ceil(seconds / 60)} min"


def _then(store: StoredCharge, limit: Quantity) -> str:
    wanted = limit.tidy if limit.form == "below" else f"not above {limit.tidy}"
    if store.measure_at:
        return f"then measure at {store.measure_at}: {wanted}"
    return f"then measure across {store.name}: {wanted} (where to measure is not recorded)"


def _upper(value: Quantity | None, what: str, dimension: Dimension, notes: list[str]) -> float | None:
    """The highest value meant, base unit, with the assumption noted; ``None`` when it is open or not
    recorded.
    """
    if value is None or value.dimension is not dimension or value.high is None:
        return None
    low = value.low if value.low is not None else value.high
    high = max(abs(low), abs(value.high))  # a supply of -48 V charges to 48 V
    if value.nominal is not None and not value.has_tolerance:
        share = _ASSUMED[what]
        high *= 1 + share
        notes.append(f"no tolerance of the {what} is recorded: +{share:.0%} assumed".replace("%", " %"))
    if value.kind == "AC":
        high *= sqrt(2)
        notes.append(f"{value.tidy} charges to its peak: ×√2")
    return high if isfinite(high) else None


def _why_unknown(
    store: StoredCharge,
    capacitance: float | None,
    volts: float | None,
    resistance: float | None,
    reach: float | None,
) -> tuple[str, ...]:
    """Everything that keeps a time from being given, each in words."""
    why = [] if store.path is Path.COPPER else [store.path.value]
    if store.kind not in ("", "capacitor"):
        why.append(f"how a store of kind '{store.kind}' discharges is not known")
    known = (("capacitance", capacitance), ("voltage", volts), ("bleed resistance", resistance))
    why += [f"no upper value of the {name} is recorded" for name, value in known if value is None]
    if reach is None or reach <= 0:
        why.append("the limit is not a voltage that a charge can fall to")
    return tuple(why)


def _ohms(resistance: float) -> str:
    factor, unit = next((pair for pair in ((1e6, "MΩ"), (1e3, "kΩ")) if resistance >= pair[0]), (1.0, "Ω"))
    return f"{resistance / factor:.4g} {unit}"


def _standard_notes(seconds: float, charge: float, reach: float) -> tuple[str, ...]:
    notes = [f"{reach:g} V is the limit of a standard or of the shop, not leave to touch"]
    if reach <= LIMIT_VOLTS and seconds > 5 and charge > 60e-6:
        notes.append(
            f"{LIMIT_SOURCE} asks for {LIMIT_VOLTS:g} V within 5 s, within 1 s at bare plug pins, or a notice that "
            "gives the delay"
        )
    return tuple(notes)


def _origin(store: StoredCharge, limit: Quantity, time: str, reach: float) -> Origin:
    def entry(name: str, key: str, value: Quantity | None) -> Input:
        origin = store.origins.get(key)
        text = "" if value is None else value.tidy
        if value is None or origin is None:
            return Input(name, text, origin)
        if value.nominal is not None and not value.has_tolerance:
            share = f"+{_ASSUMED[key] * 100:g} %"
            assumed = CommonPractice(share, "worst case assumed, no tolerance recorded")
            both = (Input(key, text, origin), Input("tolerance", share, assumed))
            origin = Computed(f"{text} {share}", "written value·(1 + tolerance)", both)
        if value.kind == "AC":
            origin = Computed(f"peak of {text}", "√2·written value", (Input(key, text, origin),))
        return Input(name, text, origin)

    by_standard = Published(limit.tidy, LIMIT_SOURCE) if limit == default_limit() else None
    return Computed(
        time,
        "R·C·ln(V0/V)",
        (
            entry("R", "resistance", store.resistance),
            entry("C", "capacitance", store.capacitance),
            entry("V0", "voltage", store.voltage),
            Input("V", f"{reach:g} V", store.origins.get("limit") or by_standard),
        ),
        "discharge of a capacitor through a resistor",
    )
