"""Weights of sets of causes, looked up in tables instead of added up one by one."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from benchleaf.isolation.logs import log2

WIDE = 10  # causes in one table when it is used all the time
NARROW = 5


def adder(values: Sequence[float], width: int) -> Callable[[int], float]:
    """The function that adds up the values of a set of places (a mask); ``width`` places share a table."""
    tables = []
    for start in range(0, len(values), width):
        sums = [0.0]
        for value in values[start : start + width]:
            sums += [known + value for known in sums]
        tables.append(sums)
    low = (1 << width) - 1
    if not tables:
        return lambda mask: 0.0
    if len(tables) == 1:
        return tables[0].__getitem__
    if len(tables) == 2:
        first, second = tables
        return lambda mask: first[mask & low] + second[mask >> width]

    if len(tables) == 4:
        first, second, third, fourth = tables
        return lambda mask: (
            first[mask & low]
            + second[mask >> width & low]
            + third[mask >> 2 * width & low]
            + fourth[mask >> 3 * width]
        )

    def added(mask: int) -> float:
        total = 0.0
        for sums in tables:
            total += sums[mask & low]
            mask >>= width
        return total

    return added


class Weighing:
    """The causes as they weigh after some answers by likelihood: ``weights`` one by one, ``of`` a set of them,
    ``logs`` a set's sum of weight times its logarithm."""

    __slots__ = ("logarithms", "logs", "of", "weights")

    def __init__(self, weights: tuple[float, ...], *, often: bool) -> None:
        width = WIDE if often else NARROW
        self.weights = weights
        self.of = adder(weights, width)
        self.logarithms = [log2(weight) if weight > 0 else 0.0 for weight in weights]
        self.logs = adder([weight * log for weight, log in zip(weights, self.logarithms, strict=True)], width)
