"""A second supply reaches the output of a conversion by copper: switched off at one plug, the net lives from the other.

A USB cable, a second plug-in supply or a bench supply that feeds a board backward keeps it live with the mains plug on
the bench. Name every plug in the isolation, and hang a safety message on it. Where something in between lets current
pass one way only, record it.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.checks.on_machines import on_machines
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Severity
from benchleaf.wiring.conduction import How
from benchleaf.wiring.contacts import shown
from benchleaf.wiring.wiring import Wiring

CODES = ("back-feed",)
BY_MACHINE = True


def run(derived: Derived) -> Iterator[Finding]:
    yield from on_machines(derived, _of_machine)


def _of_machine(wiring: Wiring) -> Iterator[Finding]:
    bonded, levels = wiring.closed
    of = wiring.pieces.of
    for name, source in wiring.supplies.items():
        reached = wiring.reach_closed(wiring.starts_of(source), How.DIRECT)
        fed = []
        for other, one in wiring.conversions.items():
            outputs = [str(contact) for contact in one.at if str(contact) in of and of[str(contact)] not in bonded]
            met = [contact for contact in outputs if levels[How.DIRECT][of[contact]] in reached]
            if met and name not in ancestors(wiring, other):
                fed.append(f"{shown(met[0])} of {other}")
        if fed:
            message = f"{name} feeds {' and '.join(fed)} backward: with every other plug pulled it stays live"
            help = "isolate it by its own plug in every procedure, and tell it in a safety message"
            yield Finding("back-feed", message, source.place, help, Severity.WARNING)


def ancestors(wiring: Wiring, conversion: str) -> frozenset[str]:
    """The sources that a conversion is made from in the end."""
    found: set[str] = set()
    waiting = [conversion]
    while waiting:
        one = wiring.built.sources.get(waiting.pop())
        for name in one.from_ or () if one is not None else ():
            if str(name) not in found:
                found.add(str(name))
                waiting.append(str(name))
    return frozenset(found)
