"""What has to be opened for a test or a remedy on one machine as built, and what opening, closing, isolating and
proving take.

Everything done on a dead machine waits for the proof, so the places to prove it dead at are opened too. Minutes come
from the records, from the shop, or are common practice; what they rest on is said beside them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cached_property
from math import fsum

from benchleaf.access.order import by_hand
from benchleaf.access.ways import Ways
from benchleaf.access.words import Words, listed
from benchleaf.frozen import dataclass
from benchleaf.isolation.problem import Cover, PowerMinutes
from benchleaf.physical.least_path import OutOfReach
from benchleaf.physical.operations import missing_of, named
from benchleaf.physical.times import seconds
from benchleaf.records.energy import Energy
from benchleaf.wiring.graph import Graph, make_graph

MINUTE = 60.0
ELECTRICAL = "electrical"


@dataclass(frozen=True, slots=True)
class Opening:
    """The operations that bring a person to where something is done, in order. ``prove``: the energies
    proved dead for it. ``why_not``: why there is no way; the rest is empty then."""

    works: tuple[str, ...] = ()
    prove: tuple[str, ...] = ()
    why_not: str = ""


class Openings:
    """The ways into one machine as built, priced for the search. Remembers nothing itself; ``ways`` does."""

    def __init__(self, ways: Ways) -> None:
        self.ways = ways
        self.built = ways.built
        self.words = Words(ways)

    @cached_property
    def graph(self) -> Graph:
        """The wiring of the machine."""
        return self.ways.ground.remember("wiring graph", "", lambda: make_graph(self.built))

    @cached_property
    def electrical(self) -> tuple[str, ...]:
        """The electrical energies: dead and proved means all of these, whatever is worked on."""
        return tuple(name for name, one in self.built.energy.items() if one.kind == ELECTRICAL)

    def to(self, targets: Iterable[str], *, dead: bool) -> Opening:
        """The shortest way to do all of ``targets``, operations or goals; ``dead``: with the machine proved dead."""
        wanted = tuple(targets)
        if dead:
            wanted += tuple(f"proved:{name}" for name in self.electrical)
        if not wanted:
            return Opening()
        path = self.ways.path(wanted, dead=dead)
        if isinstance(path, OutOfReach):
            return Opening(why_not=self.words.why_not(path))
        net = self.ways.dead_network if dead else self.ways.network
        order = by_hand(self.ways.ground, net.operations, path.order)
        proved = {named(one).what for one in order if named(one).kind == "proved"}
        return Opening(self.ways.works(order), tuple(name for name in self.built.energy if name in proved))

    def cover(self, operation: str) -> Cover:
        """One operation as the search prices it: minutes there and minutes back."""
        return Cover(self.ways.operation(operation).time / MINUTE, self.back(operation) / MINUTE)

    def back(self, operation: str) -> float:
        """Seconds to undo an operation: start and tighten, install, plug, close, fill."""
        one, times = named(operation), self.ways.times
        if one.kind == "un":
            fasteners = self.built.sets[one.what]
            own = seconds(fasteners.takes) if fasteners.takes is not None else None
            verbs = ("tighten",) if fasteners.release == "loosen" else ("start", "tighten")
            each = own if own is not None else fsum(times.of(verb) for verb in verbs)
            return max(fasteners.count - missing_of(self.ways.ground, one.what), 0) * each
        if one.kind == "off":
            own = seconds(takes) if (takes := self.built.items[one.what].takes) is not None else None
            return own if own is not None else times.of("install")
        if one.kind == "open":
            leads = len(self.ways.ground.leads(one.what, one.at)) if one.at not in self.built.connectors else 0
            return leads * times.of("land lead") if leads else times.of("plug")
        if one.kind == "joint":
            return times.of("close") + (times.of("uncap") if self.ways.ground.is_wet(one.what) else 0.0)
        verb = {"to": "move", "tie": "tie", "drain": "fill", "clamp": "unclamp", "cover": "uncover"}[one.kind]
        return times.of(verb)

    def energies(self, prove: Iterable[str]) -> tuple[str, ...]:
        """What is isolated and proved dead each time: every electrical energy and those of ``prove``, as recorded."""
        wanted = set(self.electrical) | set(prove)
        return tuple(name for name in self.built.energy if name in wanted)

    def power(self, names: Iterable[str]) -> tuple[PowerMinutes, tuple[str, ...]]:
        """The minutes to isolate, to prove dead and to energise these energies, and what they rest on."""
        energies = [self.built.energy[name] for name in names]
        times = self.ways.times
        devices = {(one.verb, str(one.device), one.poles) for energy in energies for one in energy.isolate or ()}
        unknown = [str(energy.id) for energy in energies if not energy.isolate]
        stores = sum(len(energy.stored or ()) for energy in energies)
        steps = max(len(devices) + len(unknown), 1)
        minutes = PowerMinutes(
            isolate=steps * times.of("isolate") / MINUTE,
            prove=(max(len(energies), 1) * times.of("prove dead") + stores * times.of("discharge")) / MINUTE,
            energise=steps * times.of("energise") / MINUTE,
        )
        return minutes, tuple(self._notes(energies, unknown))

    def _notes(self, energies: list[Energy], unknown: list[str]) -> Iterator[str]:
        given = self.ways.ground.library.shop.times
        left_out = [verb for verb in ("isolate", "prove dead", "discharge", "energise") if verb not in given]
        if left_out:
            yield f"the shop recorded no time to {listed(left_out)}: common practice is counted"
        if not energies:
            yield "no energy is recorded: everything counts as live; one device and one proof are counted"
        for name in unknown:
            yield f"what isolates {name} is not recorded: it counts as live, and one device is counted for it"
        for energy in energies:
            if energy.kind != ELECTRICAL:
                yield f"how long {energy.id} takes to go is not recorded and not counted: measure"
            elif energy.stored is None:
                yield f"whether {energy.id} stores anything is not recorded: discharging it is not counted, and is owed"
