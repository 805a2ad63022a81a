"""Something that can hurt is recorded, and no safety message hangs on the item.

Charge that stays, heat, pressure, a spring or a weight at an item, mains at its contacts, a fluid in it, a mass above
what one person lifts: each is a source of danger. The message hangs on the item (`hazards:`), or on what it sits in, so
that every step that exposes it shows the message and no author can forget it. `hazards: none` says that somebody looked
and there is no danger to tell of. What the isolation pulls by its grip, the mains plug, needs none.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.built import FRAME, Built
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place, Severity
from benchleaf.records.shared import ShopRecord
from benchleaf.values.quantity import Quantity

CODES = ("danger-without-message",)
ONE_PERSON_LIFTS = 15.0
"""kg: common practice, no source (the record language's default)."""
DC_LIMIT, AC_LIMIT = 60.0, 25.0
"""V: what counts as gone where an energy says nothing else (the record language's default, common practice)."""
_AT = {"thermal": "heat", "pneumatic": "pressure", "spring": "a spring", "gravity": "a weight"}


def run(derived: Derived) -> Iterator[Finding]:
    for machine in derived.library.machines.values():
        found: dict[tuple[str, str], Place] = {}
        for built in derived.all_built(machine):
            for item, danger in _dangers(built, derived.library.shop):
                if item in built.items and item != FRAME and not _has_message(built, item):
                    found[(item, danger)] = built.items[item].place
        for (item, danger), place in found.items():
            help = f"add `hazards:` to {item}, or `hazards: none` when somebody looked and there is nothing to tell"
            message = f"{danger} is recorded at {item}, and no safety message hangs on it"
            yield Finding("danger-without-message", message, place, help, Severity.WARNING)


def _has_message(built: Built, item: str) -> bool:
    """Whether the item, or what it sits in, was given hazards; said ``none`` on the item itself counts."""
    return built.items[item].hazards is not None or any(built.items[one].hazards for one in built.chain(item))


def _dangers(built: Built, shop: ShopRecord) -> Iterator[tuple[str, str]]:
    """(item, danger in words)."""
    devices = [one for energy in built.energy.values() for one in energy.isolate or ()]
    pulled = {one.device.item for one in devices if one.verb == "unplug"}
    for name, energy in built.energy.items():
        for store in energy.stored or ():
            if store.in_ is not None:
                yield store.in_.item, "stored charge"
        for at in (energy.at or ()) if energy.kind in _AT else ():
            yield at.item, f"{_AT[energy.kind]} ({energy.name or name})"
    for name, source in built.sources.items():
        if _can_hurt(source.nominal):
            for contact in (*source.at, *(source.return_ or ())):
                owner = built.item_of_contact(str(contact))
                if owner is not None and owner not in pulled:
                    yield owner, f"{source.nominal or 'a voltage not recorded'} ({name})"
    most = shop.one_person_lifts.high if shop.one_person_lifts is not None else None
    for name, item in built.items.items():
        if item.holds is not None:
            yield name, str(item.holds)
        mass = item.mass.greatest() if item.mass is not None else None
        if mass is not None and mass > (most if most is not None else ONE_PERSON_LIFTS):
            yield name, f"a mass of {item.mass.quantity if item.mass is not None else ''}"


def _can_hurt(nominal: Quantity | None) -> bool:
    """Whether a voltage is above the limit that counts as gone; one not recorded, or without an end, is."""
    if nominal is None or nominal.high is None:
        return True
    return max(abs(nominal.high), abs(nominal.low or 0.0)) > (DC_LIMIT if nominal.kind == "DC" else AC_LIMIT)
