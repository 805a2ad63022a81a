"""A stored charge of which nobody can say how long it stays, how to get rid of it, or where to measure it.

A waiting time needs the capacitance, the voltage, the bleed resistance and a way of recorded copper between them; what
is missing makes the time unknown: discharge and measure. `bleed: none` says that somebody looked and there is no path.
Batteries and supercapacitors have no waiting time, whatever is recorded. Say how each store is discharged
(`discharge:`) and where it is measured (`between:`).
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.built import Built
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place, Severity
from benchleaf.records.energy import Bleed
from benchleaf.records.shared import ShopRecord
from benchleaf.values.bleed_down import Outcome, Path
from benchleaf.values.stored_of_energy import Stored, stored_of_energy

CODES = (
    "bleed-time-unknown",
    "no-waiting-time",
    "discharge-missing",
    "charge-not-measurable",
)
BY_MACHINE = True
_Key = tuple[str, str, Place, str]


def run(derived: Derived) -> Iterator[Finding]:
    for machine in derived.library.machines.values():
        found: dict[_Key, None] = {}
        for built in derived.all_built(machine):
            for one in _stores(built, derived.library.shop):
                found |= dict.fromkeys(_of_store(one))
        for code, message, place, help in found:
            yield Finding(code, message, place, help, Severity.WARNING)


def _stores(built: Built, shop: ShopRecord) -> Iterator[Stored]:
    for name in built.energy:
        yield from stored_of_energy(built, name, shop)


def _of_store(one: Stored) -> Iterator[_Key]:
    name, place = one.charge.name, one.place
    if one.result.outcome is Outcome.TIME_UNKNOWN:
        why = "; ".join(one.result.notes[:1]) if one.charge.path is not Path.COPPER else "; ".join(one.result.notes)
        help = "record the bleed path and the values, or `bleed: none`; until then discharge and measure"
        yield "bleed-time-unknown", f"how long {name} stays charged is unknown: {why}", place, help
    if one.result.outcome is Outcome.NO_WAITING_TIME and isinstance(one.store.bleed, Bleed):
        message = f"{name} is a {one.charge.kind}: no waiting time is given, whatever bleeds it"
        help = "leave `bleed` out and say under `discharge` how it is disconnected or discharged"
        yield "no-waiting-time", message, one.store.place_of("bleed"), help
    if one.store.discharge is None and one.result.outcome is not Outcome.WAIT:
        message = f"nobody recorded how {name} is discharged"
        yield "discharge-missing", message, place, "add `discharge:` with what to hold where"
    if one.store.between is None:
        message = f"nobody recorded where the charge of {name} is measured"
        yield "charge-not-measurable", message, place, "add `between:` with the two contacts"
