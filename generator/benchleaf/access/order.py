"""The order of a path as hands would have it: fewest tool changes, and one thing finished before the next begins."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from benchleaf.physical.ground import Ground
from benchleaf.physical.least_network import Operation
from benchleaf.physical.operations import subject_of


def by_hand(ground: Ground, operations: Mapping[str, Operation], order: Iterable[str]) -> tuple[str, ...]:
    """The same operations with the same tools taken up in the same order, what belongs to one item side by side.

    ``order`` must be one that can be done. With a tool in hand, what it can do is free to be shuffled: first what
    belongs to the thing worked on last, then what stood first.
    """
    left = list(dict.fromkeys(order))
    done: set[str] = set()
    made: list[str] = []
    hand: str | None = None
    at = ""
    while left:
        ready = [one for one in left if _can(operations, one, done)]
        free = [one for one in ready if operations[one].tool is None]
        mine = [one for one in ready if operations[one].tool == hand]
        if free:
            chosen = free[0]
        else:
            hand = hand if mine else operations[ready[0]].tool
            mine = mine or [one for one in ready if operations[one].tool == hand]
            chosen = next((one for one in mine if subject_of(ground, one) == at), mine[0])
            at = subject_of(ground, chosen)
        left.remove(chosen)
        done.add(chosen)
        made.append(chosen)
    return tuple(made)


def _can(operations: Mapping[str, Operation], operation: str, done: set[str]) -> bool:
    return all(not done.isdisjoint(clause) for clause in operations[operation].clauses)
