"""What holds on some machine as built: swaps and open ends over every configuration, each with where it holds.

Until a reader has said which machine stands on the bench, a page shows all of them and says on which each holds.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator
from typing import Any, Generic, TypeVar

from benchleaf.applicability import Configuration, holds
from benchleaf.built import Built
from benchleaf.connectors.book import ConnectorBook, OpenEnd, connector_book
from benchleaf.connectors.swaps import Pair
from benchleaf.connectors.ways import Way
from benchleaf.derived import Derived
from benchleaf.frozen import dataclass
from benchleaf.model import Machine
from benchleaf.records.teardown import TeardownRecord

T = TypeVar("T")
K = TypeVar("K", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Somewhere(Generic[T]):
    """A result and the configurations it holds in; ``everywhere`` when it holds in all that were looked at."""

    value: T
    configurations: tuple[Configuration, ...]
    everywhere: bool


@dataclass(frozen=True, slots=True)
class PairEverywhere:
    """A pair over all machines: as it stands where it is worst, with every way on any of them, the worst first.

    ``times`` are the pair once for each way it comes to be open: other steps, or other words of another order.
    """

    pair: Somewhere[Pair]
    ways: tuple[Somewhere[Way], ...]
    times: tuple[Somewhere[Pair], ...]


def pairs_everywhere(
    derived: Derived, machine: Machine, procedure: TeardownRecord | None = None
) -> tuple[PairEverywhere, ...]:
    """Every pair with every way of it on any machine: the order is that of ``swaps_somewhere``."""

    def ways(book: ConnectorBook) -> Iterator[tuple[tuple[Any, ...], Way]]:
        for pair in _table(book, procedure):
            for way in pair.ways:
                yield (pair.one, pair.two, way), way

    def times(book: ConnectorBook) -> Iterator[tuple[tuple[Any, ...], Pair]]:
        for pair in _table(book, procedure):
            yield (pair.one, pair.two, pair.steps, pair.certain, pair.removed_by), pair

    all_ways: dict[tuple[str, str], list[Somewhere[Way]]] = {}
    for key, way in _keyed_over(derived, machine, procedure, ways, lambda one: 0):
        all_ways.setdefault(key[:2], []).append(way)
    all_times: dict[tuple[str, str], list[Somewhere[Pair]]] = {}
    for key, time in _keyed_over(derived, machine, procedure, times, lambda one: 0):
        all_times.setdefault(key[:2], []).append(time)
    return tuple(
        PairEverywhere(
            some,
            tuple(sorted(all_ways[some.value.one, some.value.two], key=_way_order)),
            tuple(all_times[some.value.one, some.value.two]),
        )
        for some in swaps_somewhere(derived, machine, procedure)
    )


def _way_order(some: Somewhere[Way]) -> tuple[object, ...]:
    way = some.value
    return (way.worst.sort_key, way.turned, way.cable, way.home, way.place)


def _table(book: ConnectorBook, procedure: TeardownRecord | None) -> tuple[Pair, ...]:
    return (book.swaps if procedure is None else book.of_procedure(procedure).swaps).pairs


def swaps_somewhere(
    derived: Derived, machine: Machine, procedure: TeardownRecord | None = None
) -> tuple[Somewhere[Pair], ...]:
    """Every pair of a machine or procedure over its configurations, worst first.

    A pair that is worse on one machine than on another stands as it is where it is worst.
    """

    def pairs(book: ConnectorBook) -> Iterator[tuple[Hashable, Pair]]:
        for pair in _table(book, procedure):
            yield (pair.one, pair.two), pair

    found = _over(derived, machine, procedure, pairs, lambda pair: (pair.worst.sort_key[:2], not pair.certain))
    return tuple(sorted(found, key=lambda one: (one.value.worst.sort_key[:2], not one.value.certain, one.value.name)))


def open_ends_somewhere(
    derived: Derived, machine: Machine, procedure: TeardownRecord, number: int
) -> tuple[Somewhere[OpenEnd], ...]:
    """The ends a step opens or plugs over the configurations, in the order of the step; an end that differs between two
    machines (another cable, another swap) stands once for each."""

    def ends(book: ConnectorBook) -> Iterator[tuple[Hashable, OpenEnd]]:
        for end in book.open_ends_of_step(procedure, number):
            yield (end.verb, end.connector, end.cable, end.on_cable, end.fixed, end.swap_words), end

    return _over(derived, machine, procedure, ends, lambda end: 0)


def _over(
    derived: Derived,
    machine: Machine,
    procedure: TeardownRecord | None,
    results: Callable[[ConnectorBook], Iterable[tuple[Hashable, T]]],
    rank: Callable[[T], object],
) -> tuple[Somewhere[T], ...]:
    return tuple(some for _, some in _keyed_over(derived, machine, procedure, results, rank))


def _keyed_over(
    derived: Derived,
    machine: Machine,
    procedure: TeardownRecord | None,
    results: Callable[[ConnectorBook], Iterable[tuple[K, T]]],
    rank: Callable[[T], object],
) -> Iterator[tuple[K, Somewhere[T]]]:
    """What any machine has, by key, the worst of each; in the order met."""
    builts = [built for built in derived.all_built(machine) if _is_for(built, procedure)]
    found: dict[K, list[tuple[T, Configuration]]] = {}
    for built in builts:
        for key, value in results(connector_book(derived, built)):
            found.setdefault(key, []).append((value, built.configuration))
    for key, many in found.items():
        worst = min((value for value, _ in many), key=rank)  # type: ignore[arg-type]
        where = tuple(dict.fromkeys(configuration for _, configuration in many))
        yield key, Somewhere(worst, where, len(where) == len(builts))


def _is_for(built: Built, procedure: TeardownRecord | None) -> bool:
    if procedure is None:
        return True
    return holds(procedure.applies, built.configuration, built.machine.record) is not False
