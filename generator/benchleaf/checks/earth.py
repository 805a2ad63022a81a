"""Green-and-yellow on anything but earth, earth in another colour, exposed metal that no recorded earth reaches.

Green-and-yellow is for the protective conductor alone, and a protective conductor is green-and-yellow (IEC 60445). Only
earth that is recorded from the plug to the metal, in copper all the way, counts: what is not recorded counts as live.
Supplies that stay below 60 V DC or 25 V AC ask for no earth.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.checks.on_machines import on_machines
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place, Severity
from benchleaf.drawings.colours import EARTH
from benchleaf.records.wiring import Source
from benchleaf.refs import ContactRef
from benchleaf.wiring.contacts import role_of, shown
from benchleaf.wiring.wire_list import WireRow, wire_list
from benchleaf.wiring.wiring import Wiring

CODES = ("green-yellow-misused", "earth-other-colour", "metal-not-earthed", "earth-not-recorded")
PE = "PE"
DC_LIMIT, AC_LIMIT = 60.0, 25.0
"""V: what counts as gone where an energy says nothing else (the record language's default, common practice)."""


def run(derived: Derived) -> Iterator[Finding]:
    yield from on_machines(derived, _of_machine)


def _of_machine(wiring: Wiring) -> Iterator[Finding]:
    for row in wire_list(wiring):
        yield from _colour(wiring, row)
    if any(can_hurt(source) for source in wiring.supplies.values()):
        yield from _metal(wiring)
    for name, source in wiring.supplies.items():
        if source.earth is None and can_hurt(source):
            message = f"the earth of {name} is not recorded: nothing stops what it reaches, no metal counts as earthed"
            help = "add `earth: [the contact]`, or `earth: none` where somebody looked and it brings none"
            yield Finding("earth-not-recorded", message, source.place, help, Severity.WARNING)


def can_hurt(source: Source) -> bool:
    """Whether a supply can be above what counts as gone; one of which the voltage is not recorded can."""
    volts = source.nominal
    if volts is None or volts.high is None:
        return True
    return max(abs(volts.high), abs(volts.low or 0.0)) > (DC_LIMIT if volts.kind == "DC" else AC_LIMIT)


def is_earth(wiring: Wiring, contact: str) -> bool:
    """Whether anything recorded makes a contact earth: role, name, a source, the metal it is for, its bonding."""
    bonded, _ = wiring.closed
    if role_of(wiring.built, contact) == PE or contact.partition(".")[2] == PE:
        return True
    if contact in {str(one) for s in wiring.built.sources.values() for one in s.earth or ()}:
        return True
    if contact in {str(item.metal_earth) for item in wiring.built.items.values()}:
        return True
    return wiring.pieces.of.get(contact) in bonded


def _colour(wiring: Wiring, row: WireRow) -> Iterator[Finding]:
    if row.colour is None:
        return
    wires = wiring.built.cables[row.cable].wires
    place = wires.place_of("colours") if wires is not None else Place("")
    said = [(end, role_of(wiring.built, end)) for end in (row.a, row.b)]
    words = f"wire {row.number} of {row.cable} ({shown(row.a)} to {shown(row.b)})"
    if row.colour.code == EARTH:
        wrong = [f"{shown(end)} is {role}" for end, role in said if role not in ("", PE)]
        if wrong or not any(is_earth(wiring, end) for end in (row.a, row.b)):
            why = " and ".join(wrong) or "neither end is earth"
            message = f"{words} is green-and-yellow, but {why}"
            help = "green-and-yellow is for earth alone (IEC 60445): look at the wire, and mend the colour or the map"
            yield Finding("green-yellow-misused", message, place, help)
    elif row.colour.understood and all(is_earth(wiring, end) for end in (row.a, row.b)):
        message = f"{words} is an earth wire in {row.colour.words}"
        help = "earth is green-and-yellow (IEC 60445): look at the wire, and mend the colour or the map"
        yield Finding("earth-other-colour", message, place, help, Severity.WARNING)


def _metal(wiring: Wiring) -> Iterator[Finding]:
    bonded, _ = wiring.closed
    for name, item in wiring.built.items.items():
        if item.metal_earth is None:
            continue
        place = item.place_of("metal-earth")
        if not isinstance(item.metal_earth, ContactRef):
            message = f"the exposed metal of {name} has no protective conductor: it counts as live"
            help = "have it earthed, and record the contact"
            yield Finding("metal-not-earthed", message, place, help, Severity.WARNING)
        elif wiring.pieces.of.get(str(item.metal_earth)) not in bonded:
            start = f"{item.metal_earth.shown} of {name}"
            message = f"no recorded copper leads from {start} to the earth of a plug: it counts as live"
            help = "record the wires and joints in between; a fuse, switch or anything not recorded ends the path"
            yield Finding("metal-not-earthed", message, place, help, Severity.WARNING)
