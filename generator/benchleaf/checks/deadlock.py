"""Facts that let nothing begin: each thing waits for the next, and the last for the first.

A connector that can be reached only behind a tray, and a tray held by the cable in that connector: one of the two facts
is not so, because somebody once put the machine together. Look at the machine and mend the fact that is wrong.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.built import Built
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place
from benchleaf.physical.findings import ground_of
from benchleaf.physical.ground import Ground
from benchleaf.physical.least_network import bits, network, why_not
from benchleaf.physical.operations import named, operations_of, short_words
from benchleaf.physical.times import Times

CODES = ("deadlock",)
BY_MACHINE = True


def run(derived: Derived) -> Iterator[Finding]:
    times = Times.of_library(derived.library)
    for machine in derived.library.machines.values():
        seen: set[frozenset[str]] = set()
        for configuration in derived.configurations(machine):
            ground = ground_of(derived, machine, configuration)
            built = ground.built
            for ring in rings(ground, times):
                if frozenset(ring) not in seen:
                    seen.add(frozenset(ring))
                    way = ", which waits for ".join(short_words(one) for one in [*ring, ring[0]])
                    message = f"nothing can begin: {way}"
                    where = built.configuration.label
                    help = f"one of these is not so on {where}: mend its `behind`, `reach`, `slack` or ends"
                    yield Finding("deadlock", message, _place(built, ring), help)


def rings(ground: Ground, times: Times) -> Iterator[tuple[str, ...]]:
    """The rings of real operations that keep some item from ever coming off or being reached."""
    net = network(operations_of(ground, times))
    done = {net.ids[n] for n in bits(net.reachable)}
    told: set[str] = set()
    for name in sorted(net.operations):
        if name in done or name in told:
            continue
        barred = why_not(net.operations, net, (name,))
        ring = tuple(barred.ring) if barred is not None else ()
        real = tuple(one for one in ring if named(one).is_work)
        if real and not told & set(ring):
            start = real.index(min(real))
            yield real[start:] + real[:start]
        told |= {name, *ring}


def _place(built: Built, ring: tuple[str, ...]) -> Place:
    """The fact to look at first: the `behind` or `reach` of an item in the ring, else the item itself."""
    for one in ring:
        name = named(one).what
        item = built.items.get(name) or built.items.get(name.partition(".")[0])
        if item is not None:
            return item.place_of("behind") if "behind" in item.said else item.place_of("reach")
        if name in built.cables:
            return built.cables[name].place
    return built.machine.id.place
