"""What a meter should read along a path of wires, contacts, fuses and loads, and where that comes from."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import ceil, floor, isfinite, log10

from benchleaf.built import Built
from benchleaf.frozen import dataclass
from benchleaf.records.observed import Value
from benchleaf.values.conductor_of_cable import conductor_of
from benchleaf.values.conductors import CONTACT_OHM, LEADS_OHM, Expected, expected_resistance, fuse_words
from benchleaf.values.origin import CommonPractice, Computed, Input, Origin
from benchleaf.values.quantity import Quantity, make_quantity
from benchleaf.values.recorded import counting, highest, origin_in
from benchleaf.wiring.graph import Edge, Kind

_CONTACTS = frozenset({Kind.MATED, Kind.LANDED, Kind.SWITCH, Kind.RELAY})


@dataclass(frozen=True, slots=True)
class _Part:
    """One piece of a path: its band in ohm, or what is missing of it."""

    name: str
    low: float
    high: float | None
    missing: str = ""
    value: str = ""
    origin: Origin | None = None


def expected_along(built: Built, path: Sequence[Edge], *, alone: bool = True, same_within: float = 0.1) -> Expected:
    """The band a meter shows along ``path``, leads not zeroed. Not ``alone``: other paths beside it may lower it."""
    parts = [part for edge in path if (part := _part(built, edge, same_within)) is not None]
    contacts = sum(edge.kind in _CONTACTS for edge in path)
    missing = _missing(parts)
    lowest = sum(part.low for part in parts) if alone else 0.0
    beside = "" if alone else "; other paths beside it may lower it"
    if missing:
        known = [f"{part.name} {part.value}" for part in parts if not part.missing and part.value]
        said = "; ".join([*known, *missing])
        if not lowest:
            return Expected(band=None, words=f"no value to expect: {said}{beside}")
        least = _band(lowest, None)
        return Expected(band=least, words=f"{least.tidy}: {said}{beside}")
    highest_ = sum(part.high or 0.0 for part in parts) + contacts * CONTACT_OHM + LEADS_OHM
    band = _band(lowest, highest_)
    named = ", ".join(f"{part.name} {part.value}" for part in parts if part.value)
    return Expected(
        band=band,
        words=f"{band.tidy}{f' ({named})' if named else ''}{beside}",
        arithmetic=tuple(_arithmetic(parts, contacts, lowest, highest_)),
        origin=Computed(band.tidy, "sum of the parts of the path + contacts + leads", _inputs(parts, contacts)),
    )


def _band(low: float, high: float | None) -> Quantity:
    """A band in Ω, kΩ or MΩ of two digits, rounded outward: a good part is never called wrong by the rounding."""
    top = low if high is None else high
    unit, factor = next(((u, f) for u, f in (("MΩ", 1e6), ("kΩ", 1e3)) if top >= f), ("Ω", 1.0))
    least = _rounded(low / factor, floor)
    return make_quantity(unit=unit, low=least, high=None if high is None else _rounded(high / factor, ceil), digits=3)


def _rounded(value: float, way: Callable[[float], int]) -> float:
    """Two significant digits, hundredths of the unit at the finest."""
    digits = min(2, 1 - floor(log10(value))) if value > 0 else 2
    scale = 10.0**digits
    return round(way(round(value * scale, 9)) / scale, 9)


def _missing(parts: Sequence[_Part]) -> list[str]:
    """What is missing of a path: each reason once with all it holds for, ``length not recorded: W3, W8``."""
    found: dict[str, dict[str, None]] = {}
    for part in parts:
        if part.missing:
            found.setdefault(part.missing, {})[part.name] = None
    return [f"{reason}: {', '.join(names)}" for reason, names in found.items()]


def _part(built: Built, edge: Edge, same_within: float) -> _Part | None:
    if edge.kind is Kind.WIRE:
        return _wire(built, edge)
    if edge.kind is Kind.FUSE:
        cold = edge.join.cold if edge.join is not None else None
        rating = edge.join.rating if edge.join is not None else None
        return _valued(f"fuse {edge.by}", cold, same_within, fuse_words(None, rating))
    if edge.kind is Kind.LOAD:
        resistance = edge.join.resistance if edge.join is not None else None
        return _valued(edge.by, resistance, same_within, "resistance not recorded")
    return None


def _wire(built: Built, edge: Edge) -> _Part:
    cable = built.cables[edge.by]
    made = expected_resistance(conductor_of(cable, edge.wire or 0, contacts=0, leads_zeroed=True))
    if made.band is None or made.band.low is None or made.band.high is None:
        return _Part(edge.by, 0.0, None, missing=made.words.partition(":")[0])
    least = made.band.low if len(cable.ends) == 2 else 0.0  # of a harness only the longest way is recorded
    return _Part(edge.by, least, made.band.high, value=made.band.tidy, origin=made.origin)


def _valued(name: str, value: Value | None, same_within: float, missing: str) -> _Part:
    """A recorded resistance, as wide as everybody's entry that counts."""
    entries = counting(value)
    bands = [one.quantity.band(same_within) for one in entries if one.quantity is not None]
    low = max(0.0, min((low for low, _ in bands), default=0.0))
    high = max((high for _, high in bands), default=None)
    if high is None or not isfinite(high):
        return _Part(name, low, None, missing=missing)
    shown = " or ".join(dict.fromkeys(_tidy(one.quantity) for one in entries if one.quantity is not None))
    return _Part(name, low, high, value=shown, origin=origin_in(highest(value)))


def _tidy(quantity: Quantity) -> str:
    return quantity.tidy


def _arithmetic(parts: Sequence[_Part], contacts: int, lowest: float, highest_: float) -> Iterator[str]:
    for part in parts:
        yield f"{part.name}: {part.low:.3g} to {part.high or 0.0:.3g} Ω"
    yield f"{contacts} contacts up to {CONTACT_OHM:g} Ω each, test leads up to {LEADS_OHM:g} Ω: common practice"
    yield f"least {lowest:.3g} Ω, most {highest_:.3g} Ω"


def _inputs(parts: Sequence[_Part], contacts: int) -> tuple[Input, ...]:
    leads = CommonPractice(f"{LEADS_OHM:g} Ω", "test leads not zeroed, common practice")
    each = CommonPractice(f"{CONTACT_OHM:g} Ω each", "common practice")
    return (
        *(Input(part.name, part.value, part.origin) for part in parts),
        Input("contacts", f"{contacts * CONTACT_OHM:g} Ω", each),
        Input("leads", f"{LEADS_OHM:g} Ω", leads),
    )
