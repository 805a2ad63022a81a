"""Something is declared and nothing refers to it: a slip of the pen elsewhere, most often.

A fastener that holds nothing, a safety message that no item, step or shop brings, a supply that no step uses.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf import refs
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place, Severity
from benchleaf.references import references

CODES = ("never-used",)


def run(derived: Derived) -> Iterator[Finding]:
    library = derived.library
    safety = {str(one) for one in references(library.shop) if isinstance(one, refs.SafetyRef)}
    supplies: set[str] = set()
    for machine in library.machines.values():
        for one in derived.references(machine):
            if isinstance(one, refs.SafetyRef):
                safety.add(str(one))
            elif isinstance(one, refs.SupplyRef):
                supplies.add(str(one))
        held = {
            str(row.fastener or own)
            for item in machine.record.items.values()
            for own, row in (item.held_by or {}).items()
        }
        for name, fastener in machine.record.fasteners.items():
            if name not in held:
                yield _finding(f"fastener '{name}' holds nothing", fastener.place)
    for name, message in library.safety.items():
        if name not in safety:
            yield _finding(f"safety message '{name}' is brought by no item, step or shop", message.place)
    for name, supply in library.supplies.items():
        if name not in supplies:
            yield _finding(f"supply '{name}' is used by no step", supply.place)


def _finding(message: str, place: Place) -> Finding:

    return Finding("never-used", message, place, "refer to it, or take it out", Severity.WARNING)
