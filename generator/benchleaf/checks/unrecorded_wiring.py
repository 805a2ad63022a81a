"""Wires, the inside of an item, or what is plugged in is not recorded: there everything counts as joined and live.

The still-live map then names contacts as live that perhaps are not, and no proof by record is possible. Ring the cable
out and write its map; write the joins of the item, or `none` where nothing is joined inside; write the cable, or
`cable: none` where somebody looked and nothing is plugged in.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.checks.on_machines import on_machines
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Severity
from benchleaf.wiring.contacts import contact_of, natural, shown
from benchleaf.wiring.graph import Kind
from benchleaf.wiring.wiring import Wiring

CODES = ("wires-not-recorded", "inside-not-recorded", "plug-not-recorded", "source-not-recorded")
BY_MACHINE = True
MOST = 6


def run(derived: Derived) -> Iterator[Finding]:
    yield from on_machines(derived, _of_machine)


def _of_machine(wiring: Wiring) -> Iterator[Finding]:
    if not wiring.supplies:
        message = f"no source is recorded for {wiring.built.machine.id}: every contact counts as live in every state"
        help = "add `sources:` with where power comes in"
        yield Finding("source-not-recorded", message, wiring.built.machine.wiring.place, help, Severity.WARNING)
        return
    untold: dict[tuple[Kind, str], list[str]] = {}
    for edge in wiring.graph.edges:
        if edge.untold:
            untold.setdefault((edge.kind, edge.by), []).append(contact_of(edge.b))
    for (kind, name), contacts in untold.items():
        many = sorted(dict.fromkeys(contacts), key=natural)
        names = ", ".join(shown(one) for one in many[:MOST])
        more = f" and {len(many) - MOST} more" if len(many) > MOST else ""
        if kind is Kind.WIRES_NOT_RECORDED:
            place = wiring.built.cables[name].place
            message = (
                f"where the wires of {name} at {names}{more} go is not recorded: they count as joined to all of it"
            )
            help = "ring the cable out and complete its `map`; an empty place has the role `-`"
            yield Finding("wires-not-recorded", message, place, help, Severity.WARNING)
        else:
            place = wiring.built.items[name].place
            message = f"what {names}{more} is joined to inside {name} is not recorded: it counts as joined to all of it"
            help = f"complete `joins: {{{name}: …}}`; where nothing is joined inside, write `{name}: none`"
            yield Finding("inside-not-recorded", message, place, help, Severity.WARNING)
    for owner in wiring.unknown_ends:
        connector = wiring.built.connectors.get(owner)
        place = connector.place if connector is not None else wiring.built.items[owner].place
        what = "what is plugged into" if connector is not None else "what lead goes to"
        help = "write the cable with an end there" + ("; nothing there: `cable: none`" if connector is not None else "")
        message = f"{what} {owner} is not recorded: it counts as live in every state"
        yield Finding("plug-not-recorded", message, place, help, Severity.WARNING)
