"""Two counts of the same thing disagree.

More screws missing than there are, a list of places or a tightening order that is not as long as the set, a list of
colours that is not as long as the cable has wires: one of the two was miscounted, so count again at the machine.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding
from benchleaf.model import Machine
from benchleaf.records.wiring import Cable
from benchleaf.scope import contacts_of

CODES = ("counts-disagree",)


def run(derived: Derived) -> Iterator[Finding]:
    for machine in derived.library.machines.values():
        for name, item in machine.record.items.items():
            for own, held in (item.held_by or {}).items():
                set_name = f"{name}.{own}"
                if held.at is not None and len(held.at) != held.count:
                    yield _finding(f"{len(held.at)} places for {held.count} of {set_name}", held.place_of("at"))
                if isinstance(held.sequence, tuple) and sorted(held.sequence) != list(range(1, held.count + 1)):
                    message = f"the order of {set_name} does not name each of 1 to {held.count} once"
                    yield _finding(message, held.place_of("sequence"))
                if held.count == 0:
                    yield _finding(f"{set_name} is a set of none", held.place_of("count"), "leave the set out")
        for found in machine.record.as_found:
            owner = machine.record.items.get(found.set.item)
            held_there = (owner.held_by or {}).get(found.set.own) if owner else None
            if held_there is not None and (found.missing or 0) > held_there.count:
                message = f"{found.missing} missing of {held_there.count} in {found.set}"
                yield _finding(message, found.place_of("missing"))
        for cable in machine.wiring.cables.values():
            yield from _wires(cable, machine)


def _wires(cable: Cable, machine: Machine) -> Iterator[Finding]:
    wires = cable.wires
    if wires is None or wires.map is None:
        return
    if isinstance(wires.map, tuple):
        many = len(wires.map)
    else:
        counts = [contacts_of(str(end.at), machine.wiring.connectors) for end in cable.ends]
        known = [len(one) for one in counts if one is not None]
        if not known:
            return
        many = max(known)
    lists: tuple[tuple[str, Any], ...] = (("gauge", wires.gauge), ("colours", wires.colours), ("rated", wires.rated))
    for key, given in lists:
        if given is not None and len(given) not in (1, many):
            message = f"{len(given)} {key} for the {many} wires of {cable.id}"
            yield _finding(message, wires.place_of(key), "give one for all, or one a wire in the order of the map")


def _finding(message: str, place: Any, help: str = "count again, and mend the one that is wrong") -> Finding:
    return Finding("counts-disagree", message, place, help)
