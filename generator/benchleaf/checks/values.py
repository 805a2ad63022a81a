"""A wire that is recorded to carry more than it is rated for, or to lose too much voltage on the way to its load.

The current is what the load `draws`, the rating the wire's `rated`. The drop is reckoned there and back over the wire
that ends at the load, with the worst of the tolerances, warm (60 °C), and compared with 5 % of the voltage its contact
is recorded to carry (IEC 60204-1 12.5, from memory). Measure the current and the wire, and mend the record that is
wrong.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place, Severity
from benchleaf.values.supply_drop import LoadWire, loads_of

CODES = ("wire-overloaded", "drop-over-limit")


def run(derived: Derived) -> Iterator[Finding]:
    for machine in derived.library.machines.values():
        found: dict[tuple[str, str, Place, str], None] = {}
        for built in derived.all_built(machine):
            for one in loads_of(built):
                found |= dict.fromkeys(_of_wire(one))
        for code, message, place, help in found:
            yield Finding(code, message, place, help, Severity.WARNING)


def _of_wire(one: LoadWire) -> Iterator[tuple[str, str, Place, str]]:
    if one.is_overloaded:
        message = f"{one.load} draws {one.current}, but the wire of {one.cable} to it is rated {one.rated}"
        yield "wire-overloaded", message, one.place, "measure the current and the wire; mend the record that is wrong"
    if one.drop.over:
        help = "\n".join(("check gauge, length and current", *one.drop.arithmetic))
        yield "drop-over-limit", f"along {one.words}", one.place, help
