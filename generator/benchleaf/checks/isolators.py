"""Something is recorded as isolating that does not isolate, or a source that nothing is recorded to isolate.

An interlock, an emergency stop, a control switch, a relay and software isolate nothing: they are refused (29 CFR
1910.147(b)). A switch without recorded poles opens nothing here. A device that leaves loads on the line when it alone
is operated, such as a switch in the neutral only, is shown with what stays live. Record the poles (`joins`), or name
the plug.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.checks.on_machines import on_machines
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Severity
from benchleaf.wiring.conduction import How
from benchleaf.wiring.contacts import natural, shown
from benchleaf.wiring.devices import ELECTRICAL, Device
from benchleaf.wiring.graph import COPPER, Kind
from benchleaf.wiring.still_live import LiveMap, live_map
from benchleaf.wiring.wiring import Wiring

CODES = (
    "isolator-refused", "isolator-opens-nothing", "isolator-leaves-live", "isolation-incomplete", "source-not-isolated",
)  # fmt: skip
MOST = 4


def run(derived: Derived) -> Iterator[Finding]:
    yield from on_machines(derived, _of_machine)


def _of_machine(wiring: Wiring) -> Iterator[Finding]:
    for device in wiring.devices:
        yield from _of_device(wiring, device)
    for name, energy in wiring.built.energy.items():
        devices = [device for device in wiring.devices if name in device.energies]
        if energy.kind == ELECTRICAL and name in wiring.supplies and len(devices) > 1:
            left = _left(wiring, live_map(wiring, [device.words for device in devices]), name)
            if left:
                message = f"all that is recorded to isolate {name} leaves it on {left}"
                help = "name the plug or the switch that takes it off, and record its poles"
                yield Finding("isolation-incomplete", message, energy.place_of("isolate"), help, Severity.WARNING)
    for name, source in wiring.supplies.items():
        known = wiring.built.energy.get(name)
        if known is None or known.isolate is None:
            what = "has no entry under `energy`" if known is None else "has no `isolate`"
            place = source.place if known is None else known.place
            message = f"nothing is recorded to isolate {name}: it {what}, and counts as live in every state"
            help = f"add `energy: {{{name}: {{kind: electrical, isolate: [unplug …]}}}}` to machine.yaml"
            yield Finding("source-not-isolated", message, place, help, Severity.WARNING)


def _of_device(wiring: Wiring, device: Device) -> Iterator[Finding]:
    if device.refused:
        message = f"'{device.words}' isolates nothing: {device.refused}"
        help = "name the plug, or a switch that opens every pole by hand"
        yield Finding("isolator-refused", message, device.place, help)
    elif device.problem and not device.isolates:
        message = f"'{device.words}' opens nothing as recorded: {device.problem}"
        help = "everything behind it counts as live; record what it opens"
        yield Finding("isolator-opens-nothing", message, device.place, help, Severity.WARNING)
    elif device.isolates:
        for name in device.energies:
            if name not in wiring.supplies:
                continue
            left = _left(wiring, live_map(wiring, [device.words]), name)
            if left:
                message = f"'{device.words}' alone leaves {name} on {left}"
                help = "it breaks only part of what comes in: say so where people read it, and name the plug behind it"
                yield Finding("isolator-leaves-live", message, device.place, help, Severity.WARNING)


def _left(wiring: Wiring, live: LiveMap, source: str) -> str:
    """The contacts of loads and boards that a source still stands on directly, the first few of them; empty = none."""
    found = set()
    for node, ways in live.nodes.items():
        if not any(way.source == source and way.how is How.DIRECT for way in ways):
            continue
        kinds = {wiring.graph.edges[number].kind for number in wiring.graph.at[node]}
        if kinds - COPPER - {Kind.FUSE, Kind.SWITCH, Kind.RELAY}:
            found.add(node)
    names = [shown(node) for node in sorted(found, key=natural) if "@" not in node]
    more = f" and {len(names) - MOST} more" if len(names) > MOST else ""
    return ", ".join(names[:MOST]) + more
