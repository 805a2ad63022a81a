"""A cable that loses one of its ends in some machine, a harness without a map, an end used by two cables.

A cable all of whose ends are missing is missing with them. One that keeps some of its ends hangs loose: a live plug,
perhaps. Say where it goes there with `where: [{applies: …, ends: […]}]`, or that it is left free with `parked`.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.applicability import Configuration
from benchleaf.built import Built, end_is_there
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Severity

CODES = ("end-missing", "ends-too-few", "receptacle-twice")


def run(derived: Derived) -> Iterator[Finding]:
    for machine in derived.library.machines.values():
        for cable in machine.wiring.cables.values():
            if len(cable.ends) < 2:
                message = f"cable {cable.id} has {len(cable.ends) or 'no'} end{'s' * (len(cable.ends) != 1)}"
                yield Finding("ends-too-few", message, cable.place, "give two or more `ends`; a free one is `parked`")
        seen: set[tuple[str, str]] = set()
        for built in derived.all_built(machine):
            for finding in (*_missing(built, built.configuration), *_twice(built, built.configuration)):
                key = (finding.code, finding.message.partition(" on ")[0])
                if key not in seen:
                    seen.add(key)
                    yield finding


def _missing(built: Built, configuration: Configuration) -> Iterator[Finding]:
    for cable in built.cables.values():
        for end in cable.ends:
            if not end.at.is_parked and not end_is_there(end, built.connectors, built.items):
                message = f"cable {cable.id} ends at {end.at}, which is not there, on {configuration.label}"
                help = f"say where it goes there: `where: [{{applies: […], ends: [{cable.ends[0].at}, parked]}}]`"
                yield Finding("end-missing", message, end.at.place, help)


def _twice(built: Built, configuration: Configuration) -> Iterator[Finding]:
    for connector, cables in built.cables_at.items():
        if len(cables) > 1:
            last = built.cables[cables[-1]]
            place = next(end.at.place for end in last.ends if end.at == connector)
            message = f"{' and '.join(cables)} are plugged into the same {connector} on {configuration.label}"
            yield Finding("receptacle-twice", message, place, "give each its own connector", Severity.ERROR)
