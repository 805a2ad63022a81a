"""A heater without an independent over-temperature cut-out, or with one that is not in its circuit as recorded.

A controller can fail with the heat on. The cut-out is a switch of its own that takes the heat off whatever the
controller does: in the heater's own leads, or in the coil of the contactor that feeds it. Not recorded counts as none.
A heater is an item with a load that a thermal energy names, or whose reference designation begins with E (IEC 81346-2,
from memory).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from benchleaf.checks.on_machines import on_machines
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Severity
from benchleaf.refs import ItemRef
from benchleaf.wiring.conduction import How, groups
from benchleaf.wiring.graph import Kind
from benchleaf.wiring.wiring import Wiring

CODES = ("heater-without-cut-out", "cut-out-not-in-circuit")
_HEATER = re.compile(r"E[0-9]+[a-z]?")


def run(derived: Derived) -> Iterator[Finding]:
    yield from on_machines(derived, _of_machine)


def heaters_of(wiring: Wiring) -> tuple[str, ...]:
    """The items that are heaters as recorded."""
    built = wiring.built
    hot = {str(one.item) for energy in built.energy.values() if energy.kind == "thermal" for one in energy.at or ()}
    loads = {edge.by for edge in wiring.graph.edges if edge.kind is Kind.LOAD}
    draws = [name for name in built.items if name in loads and (name in hot or _HEATER.fullmatch(name))]
    relays = {edge.by for edge in wiring.graph.edges if edge.kind in (Kind.RELAY, Kind.DRIVER)}
    return tuple(name for name in draws if name not in relays and not _is_sensor(name))


def _is_sensor(name: str) -> bool:
    """A thermocouple or other converter of a quantity to a signal: letter B (IEC 81346-2)."""
    return re.fullmatch(r"B[A-Z]?[0-9]+[a-z]?", name) is not None


def _of_machine(wiring: Wiring) -> Iterator[Finding]:
    for name in heaters_of(wiring):
        item = wiring.built.items[name]
        if not isinstance(item.cut_out, ItemRef):
            said = "none is recorded" if item.cut_out is None else "it is recorded as none"
            message = f"heater {name} {item.name} has no independent over-temperature cut-out: {said}"
            help = "add `cut-out:` with the item that is its cut-out; if there is none, have one fitted"
            place = item.place_of("cut-out")
            yield Finding("heater-without-cut-out", message, place, help, Severity.WARNING)
        elif not _is_in_circuit(wiring, name, str(item.cut_out.item)):
            message = (
                f"the cut-out {item.cut_out.item} does not part heater {name}, nor a coil that feeds it, as recorded"
            )
            help = "record its switch (`joins`) and the wires that lead through it"
            place = item.place_of("cut-out")
            yield Finding("cut-out-not-in-circuit", message, place, help, Severity.WARNING)


def _is_in_circuit(wiring: Wiring, heater: str, cut_out: str) -> bool:
    """Whether opening the switches of the cut-out parts the heater from something that feeds it, or drops a relay that
    does."""
    graph = wiring.graph
    opened = {n for n, edge in enumerate(graph.edges) if edge.kind is Kind.SWITCH and edge.by == cut_out}
    if not opened:
        return False
    bonded, closed = wiring.closed
    before = closed[How.DIRECT]
    feeding = _feeding(wiring, heater)
    of = wiring.pieces.of

    def is_parted(node: str) -> bool:
        """Whether a contact is no longer joined to something that feeds it."""
        here = of.get(node)
        return here is not None and any(before[p] == before[here] and now[p] != now[here] for p in feeding)

    while True:
        now = groups(wiring.pieces, frozenset(opened), bonded)[How.DIRECT]
        if any(is_parted(node) for node in wiring.fixed_on(heater)):
            return True
        dropped = {
            n
            for n, edge in enumerate(graph.edges)
            if n not in opened and edge.kind is Kind.RELAY and edge.join is not None and edge.join.coil is not None
            and any(is_parted(str(coil)) for coil in edge.join.coil)
        }  # fmt: skip
        if not dropped:
            return False
        opened |= dropped


def _feeding(wiring: Wiring, heater: str) -> frozenset[int]:
    """The pieces a current can come from: sources, their returns, and whatever drives something, but the heater."""
    found = {
        contact
        for source in wiring.built.sources.values()
        for contact in (*(str(one) for one in source.at), *(str(one) for one in source.return_ or ()))
    }
    for edge in wiring.graph.edges:
        if edge.kind in (Kind.DRIVER, Kind.CONVERSION) and edge.by != heater:
            found |= {edge.a, edge.b}
    return frozenset(wiring.pieces.of_all(sorted(found)))
