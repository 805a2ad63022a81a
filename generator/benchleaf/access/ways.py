"""All ways into a machine in one configuration, made ready once so that every item can be asked for quickly."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property

from benchleaf.applicability import Configuration
from benchleaf.built import FRAME, Built
from benchleaf.derived import Derived
from benchleaf.frozen import dataclass
from benchleaf.model import Machine
from benchleaf.physical.findings import ground_of
from benchleaf.physical.ground import Ground
from benchleaf.physical.least_network import Network, Operation, bits, done_with
from benchleaf.physical.least_path import AccessPath, OutOfReach, least_path, network
from benchleaf.physical.operations import named, operations_of
from benchleaf.physical.times import Times


@dataclass(frozen=True)
class Ways:
    """The operations of one machine as built, twice: by the facts alone, and with the places to prove it dead at."""

    ground: Ground
    times: Times

    @property
    def built(self) -> Built:
        return self.ground.built

    @cached_property
    def network(self) -> Network:
        """By the facts alone: what an access path is priced by."""
        return network(operations_of(self.ground, self.times))

    @cached_property
    def dead_network(self) -> Network:
        """The same, and nothing is touched before every energy at it can be proved dead."""
        return network(operations_of(self.ground, self.times, dead=True))

    @cached_property
    def removable(self) -> tuple[str, ...]:
        """Every item but the frame, which never moves."""
        return tuple(name for name in self.built.items if name != FRAME)

    def path(self, targets: Iterable[str], *, dead: bool) -> AccessPath | OutOfReach:
        """The least path to ``targets``, remembered."""
        wanted = tuple(sorted(set(targets)))
        net = self.dead_network if dead else self.network
        return self.ground.remember(
            "least path with proofs" if dead else "least path", " ".join(wanted), lambda: least_path(net, wanted)
        )

    def needed(self, targets: Iterable[str], operations: Iterable[str], *, dead: bool = False) -> frozenset[str]:
        """Of ``operations`` the quickest that still do the targets; all of them when they do not reach that far."""
        kept = frozenset(operations)
        net = self.dead_network if dead else self.network
        within = {
            name: one for name, one in net.operations.items() if name in kept or not named(name).is_work
        }
        found = least_path(within, targets)
        return frozenset(self.works(found.operations)) if isinstance(found, AccessPath) else kept

    def done(self, operations: Iterable[str]) -> frozenset[str]:
        """What can be done when only ``operations`` are worked on, goals and choices met by them included."""
        net = self.dead_network
        allowed = net.mask(one for one in operations if one in net.index) | net.virtual
        return frozenset(net.names(done_with(net, allowed, 0, bits(allowed))))

    def operation(self, name: str) -> Operation:
        return self.dead_network.operations[name]

    def works(self, order: Iterable[str]) -> tuple[str, ...]:
        """Of an order of operations those that hands do."""
        return tuple(one for one in order if named(one).is_work)


def ways_of(derived: Derived, machine: Machine, configuration: Configuration) -> Ways:
    """The ways into a machine in one configuration, remembered."""
    return derived.remember(
        ("ways", machine.id, configuration),
        lambda: Ways(ground_of(derived, machine, configuration), Times.of_library(derived.library)),
    )


def all_ways(derived: Derived, machine: Machine) -> Mapping[Configuration, Ways]:
    """The ways into a machine in every configuration that has to be looked at, in a fixed order."""
    return {one: ways_of(derived, machine, one) for one in derived.configurations(machine)}
