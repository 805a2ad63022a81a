"""What holds on some machine as built: swaps and open ends over every configuration, each with where it holds.

Until a reader has said which machine stands on the bench, a page shows all of them and says on which each holds.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator
from typing import Generic, TypeVar

from benchleaf.applicability import Configuration, holds
from benchleaf.built import Built
from benchleaf.connectors.book import ConnectorBook, OpenEnd, connector_book
from benchleaf.connectors.swaps import Pair
from benchleaf.derived import Derived
from benchleaf.frozen import dataclass
from benchleaf.model import Machine
from benchleaf.records.teardown import TeardownRecord

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Somewhere(Generic[T]):
    """A result and the configurations it holds in; ``everywhere`` when it holds in all that were looked at."""

    value: T
    configurations: tuple[Configuration, ...]
    everywhere: bool


def swaps_somewhere(
    derived: Derived, machine: Machine, procedure: TeardownRecord | None = None
) -> tuple[Somewhere[Pair], ...]:
    """Every pair of a machine or procedure over its configurations, worst first.

    A pair that is worse on one machine than on another stands as it is where it is worst.
    """

    def pairs(book: ConnectorBook) -> Iterator[tuple[Hashable, Pair]]:
        table = book.swaps if procedure is None else book.of_procedure(procedure).swaps
        for pair in table.pairs:
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
    builts = [built for built in derived.all_built(machine) if _is_for(built, procedure)]
    found: dict[Hashable, list[tuple[T, Configuration]]] = {}
    for built in builts:
        for key, value in results(connector_book(derived, built)):
            found.setdefault(key, []).append((value, built.configuration))
    made = []
    for many in found.values():
        worst = min((value for value, _ in many), key=rank)  # type: ignore[arg-type]
        where = tuple(dict.fromkeys(configuration for _, configuration in many))
        made.append(Somewhere(worst, where, len(where) == len(builts)))
    return tuple(made)


def _is_for(built: Built, procedure: TeardownRecord | None) -> bool:
    if procedure is None:
        return True
    return holds(procedure.applies, built.configuration, built.machine.record) is not False
