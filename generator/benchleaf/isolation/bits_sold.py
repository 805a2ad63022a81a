"""How many bits a test can tell more than it costs, when bits have a price."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from benchleaf.frozen import dataclass
from benchleaf.isolation.logs import BITS, GRAIN, log2
from benchleaf.isolation.table import FAR, bits

NEAR = 0.9  # a bound so near to what it can be is near enough
MOST = 1e4  # bits that no cause can tell: numbers are not that small
TURNS = 3  # distributions of answers tried for a test that answers by likelihood
_RISING = [-one for one in BITS[1:]]  # sorted, for looking up
_PER_STEP = 1.4426950408889634 / GRAIN  # 1 / ln 2, rounded to the nearest double

Steps = tuple[int, ...]  # how often each answer comes, in steps; together at most all


@dataclass(frozen=True, slots=True)
class Halves:
    """A test that parts the causes in two: those that give its first answer, and the others."""

    place: int
    minutes: float
    mask: int


@dataclass(frozen=True, slots=True)
class Kinds:
    """Any other test: the causes that answer alike (``masks``), their answers as (outcome, share), and ``known``, what
    is certain in these, in bits below zero."""

    place: int
    minutes: float
    outcomes: int
    masks: tuple[int, ...]
    rows: tuple[tuple[float, ...], ...]
    known: tuple[float, ...]

    @staticmethod
    def of(place: int, minutes: float, causes: Sequence[tuple[float, ...]]) -> Kinds:
        """The test with these shares of its outcomes for each cause."""
        rows: dict[tuple[float, ...], int] = {}
        for j, row in enumerate(causes):
            rows[row] = rows.get(row, 0) | 1 << j
        return Kinds(
            place,
            minutes,
            len(causes[0]),
            tuple(rows.values()),
            tuple(rows),
            tuple(sum(share * log2(share) for share in row if share > 0) for row in rows),
        )

    def told(self, cost: float, weights: list[float]) -> tuple[float, float, Steps]:
        """The bits it can tell, less what it costs in bits, when the kinds have these weights; the weight of those for
        whom that is worth it; and the answers by which it was found."""
        if weights.count(0.0) >= len(weights) - 1:
            return 0.0, 0.0, ()
        if self.outcomes == 2:
            return self._of_two(cost, weights)
        return self._of_many(cost, weights)

    def gains(self, cost: float, steps: Steps) -> list[float]:
        """The same for each kind, by unit of weight."""
        told = [BITS[step] for step in steps]
        return [
            max(0.0, known + sum([share * bit for share, bit in zip(row, told, strict=True) if share]) - cost)
            for row, known in zip(self.rows, self.known, strict=True)
        ]

    def _of_two(self, cost: float, weights: list[float]) -> tuple[float, float, Steps]:
        """Two answers: the least over all ways they might come, found by tangents."""
        present = [
            (weight, known, row[0])
            for weight, known, row in zip(weights, self.known, self.rows, strict=True)
            if weight
        ]
        first = sum([weight * often for weight, _, often in present]) / sum(weights)
        step = min(max(int(first * GRAIN + 0.5), 1), GRAIN - 1)
        low, high = 0, GRAIN
        at_low = at_high = down = up = 0.0
        best, used, found = FAR, 0.0, step
        for _ in range(TURNS):
            one, other = BITS[step], BITS[GRAIN - step]
            most = other - cost
            more = one - other
            total = slope = using = 0.0
            for weight, known, often in present:
                tells = known + often * more + most
                if tells > 0:
                    total += weight * tells
                    slope += weight * often
                    using += weight
            if total < best:
                best, used, found = total, using, step
            share = step / GRAIN
            slope = (using * share - slope) / (share * (1 - share)) * _PER_STEP
            if slope > 0:
                high, at_high, up = step, total, slope
            elif slope < 0:
                low, at_low, down = step, total, slope
            else:
                break
            if high - low < 2:
                break
            if up and down:
                meet = (at_high - at_low + down * low - up * high) / (down - up)
                if at_low + down * (meet - low) > NEAR * best:
                    break
                step = int(meet + 0.5)
                step = min(max(step, low + 1), high - 1)
            else:
                step = (low + high) // 2
        return best, used, (found, GRAIN - found)

    def _of_many(self, cost: float, weights: list[float]) -> tuple[float, float, Steps]:
        """More answers: the least over a few ways they might come."""
        best, used = FAR, 0.0
        found: Steps = ()
        using = weights
        even: list[float] = []
        for _ in range(TURNS):
            come = [sum([w * row[o] for w, row in zip(using, self.rows, strict=True)]) for o in range(self.outcomes)]
            scale = GRAIN / sum(come)
            now = [one * scale for one in come]
            even = [(one + other) / 2 for one, other in zip(even, now, strict=True)] if even else now
            steps = _whole(even)
            gains = self.gains(cost, steps)
            total = sum([weight * gain for weight, gain in zip(weights, gains, strict=True)])
            if total < best:
                best, found = total, steps
                used = sum([weight for weight, gain in zip(weights, gains, strict=True) if gain > 0])
            using = [weight if gain > 0 else 0.0 for weight, gain in zip(weights, gains, strict=True)]
            if not any(using):
                break
        return best, used, found


class Price:
    """What a price of a bit makes of a problem: it in ``minutes``; the tests in halves that may be worth it, as (place,
    mask, cost in bits, the least part in steps that makes it worth doing for all, bits each of a smaller part gains);
    other tests with their cost in bits; the bits each cause tells at most by its ``repairs``."""

    __slots__ = ("_worth", "halves", "kinds", "minutes", "paid", "repairs")

    def __init__(
        self, minutes: float, halves: Sequence[Halves], kinds: Sequence[Kinds], repairs: Sequence[float]
    ) -> None:
        self.minutes = minutes
        self.halves: list[tuple[int, int, float, int, float]] = []
        for test in sorted(halves, key=lambda test: (test.minutes, test.place)):
            cost = test.minutes / minutes
            if cost < 1:
                part = GRAIN - _seldom(cost)
                self.halves.append((test.place, test.mask, cost, part, BITS[part] - cost if part else 0.0))
        self.kinds = [
            (test, test.minutes / minutes)
            for test in sorted(kinds, key=lambda test: (test.minutes, test.place))
            if test.minutes / minutes < log2(test.outcomes)
        ]
        self.repairs: list[float] = []
        self.paid: list[float] = []
        for taken in repairs:
            part = GRAIN - _seldom(taken / minutes)
            self.repairs.append(0.0 if taken == FAR else min(BITS[part], MOST))
            self.paid.append(0.0 if taken == FAR or not part else taken / minutes * (GRAIN - part) / part)
        self._worth: dict[tuple[int, Steps], tuple[float, ...]] = {}

    def worth_of_halves(self, place: int, mask: int, cost: float, step: int, count: int) -> tuple[float, ...]:
        """The bits a test in halves gains for each cause, when its first answer comes in ``step`` of all steps."""
        known = self._worth.get((place, (step,)))
        if known is None:
            inside, outside = max(0.0, BITS[step] - cost), max(0.0, BITS[GRAIN - step] - cost)
            known = tuple([inside if mask >> j & 1 else outside for j in range(count)])
            self._worth[place, (step,)] = known
        return known

    def worth_of_kinds(self, kinds: Kinds, cost: float, steps: Steps) -> tuple[float, ...]:
        """The same for another test."""
        known = self._worth.get((kinds.place, steps))
        if known is None:
            each = [0.0] * sum(mask.bit_count() for mask in kinds.masks)
            for mask, gain in zip(kinds.masks, kinds.gains(cost, steps), strict=True):
                for j in bits(mask):
                    each[j] = gain
            known = self._worth[kinds.place, steps] = tuple(each)
        return known


def _whole(steps: Sequence[float]) -> Steps:
    """Steps rounded so that together they are all."""
    whole = [max(1, int(step)) for step in steps]
    whole[whole.index(max(whole))] += GRAIN - sum(whole)
    return tuple(whole)


def _seldom(cost: float) -> int:
    """The least step whose answer tells at most ``cost`` bits."""
    return bisect_left(_RISING, -cost) + 1
