"""What it costs at least to learn which cause it is: so many bits are missing, and a bit has its price.

Who ends with one remedy has learned all that was unknown about it. Along every branch each test is used once, so all
its uses together tell no more than one use of it could tell on the best part of the causes; a repair in vain tells that
it was not this one, and is paid for by the others. The least price of the missing bits under these limits is a floor
(in the form of Lagrange: for any price of a bit, the bits missing at that price, less what tests and repairs would gain
by selling theirs for it). What a use tells is at most the divergence of its answers from any fixed distribution of
answers (as in Blahut, "Computation of channel capacity and rate-distortion functions", IEEE Trans. Inf. Theory 18,
1972, from memory). Huffman's bound is of the same kind, with one price for all tests.
"""

from __future__ import annotations

from benchleaf.isolation.bits_sold import Halves, Kinds, Price
from benchleaf.isolation.logs import BITS, GRAIN, log2
from benchleaf.isolation.problem import Mode
from benchleaf.isolation.table import FAR, Table, bits
from benchleaf.isolation.weighing import Weighing

FARTHEST = 100
STEP = 1.2  # between one price of a bit and the next


def _number(minutes: float) -> int:
    """The number of the first price of a bit that is at least so many minutes, within reason."""
    number, price = 0, 1.0
    while price < minutes and number < FARTHEST:
        number, price = number + 1, price * STEP
    while price > minutes * STEP and number > -FARTHEST:
        number, price = number - 1, price / STEP
    return number


class Information:
    """The bound for states of one problem when only ``usable`` tests can be done."""

    def __init__(self, table: Table, usable: tuple[int, ...]) -> None:
        self._table = table
        self._identify = table.problem.mode is Mode.IDENTIFY
        self.silent = self._identify and not all(table.sharp[test] for test in usable)
        self._halves: list[Halves] = []
        self._kinds: list[Kinds] = []
        for test in usable:
            outcomes = table.outcomes[test]
            if table.sharp[test] and len(outcomes) == 2:
                self._halves.append(Halves(test, table.minutes[test], outcomes[0].mask))
            elif len(outcomes) > 1:
                rows = [tuple(outcome.shares[j] for outcome in outcomes) for j in range(len(table.causes))]
                self._kinds.append(Kinds.of(test, table.minutes[test], rows))
        self._repairs = tuple(
            FAR
            if self._identify
            else min((table.repair_minutes[r] + table.trial_minutes for r in bits(cures)), default=FAR)
            for cures in table.cures
        )
        self._together = self._components(usable)
        self.single = all(not group & (group - 1) for group in self._together)
        self._prices: dict[int, Price] = {}
        taken = sorted(table.minutes[test] for test in usable)
        self.usual = _number(taken[len(taken) // 2]) if taken else 0

    def _components(self, usable: tuple[int, ...]) -> tuple[int, ...]:
        """The causes in groups (masks) of which no two need to be parted, directly or by way of others."""
        table = self._table
        groups: list[int] = []
        for j in range(len(table.causes)):
            joined = 1 << j
            for i in range(j):
                free = bool(table.cures[i] & table.cures[j])
                if self._identify:
                    free = free or not any(table.tells_apart(test, 1 << i | 1 << j) for test in usable)
                else:
                    free = free or not (table.cures[i] or table.cures[j])
                if free:
                    joined |= 1 << i
            apart = [group for group in groups if not group & joined]
            for group in groups:
                if group & joined:
                    joined |= group
            groups = [*apart, joined]
        return tuple(sorted(groups))

    def price(self, price: int) -> Price:
        """A price of a bit by its number: the higher, the dearer."""
        known = self._prices.get(price)
        if known is None:
            minutes = STEP**price if price >= 0 else 1 / STEP**-price
            known = self._prices[price] = Price(minutes, self._halves, self._kinds, self._repairs)
        return known

    def missing(self, causes: int, weighing: Weighing) -> float:
        """The bits that are missing to know what has to be repaired, times the weight of the causes."""
        whole = weighing.of(causes)
        if self.single:
            return whole * log2(whole) - weighing.logs(causes)
        left = whole * log2(whole)
        for group in self._together:
            if group & causes:
                part = weighing.of(group & causes)
                left -= part * log2(part)
        return left

    def least(self, causes: int, weighing: Weighing, number: int) -> tuple[float, float]:
        """What the causes pay at least besides their own cures, by a price of a bit (any will do); and how much more
        that would be by a higher price, as a part of it."""
        price = self.price(number)
        of, weights = weighing.of, weighing.weights
        repairs, paid = price.repairs, price.paid
        members = bits(causes)
        left = self.missing(causes, weighing) - sum([weights[j] * repairs[j] for j in members])
        if left <= 0:
            return 0.0, -1.0
        spent = sum([weights[j] * paid[j] for j in members])
        whole = of(causes)
        scale = GRAIN / whole
        for _, mask, cost, part, worth in price.halves:
            half = causes & mask
            if half and half != causes:
                small = of(half)
                step = int(small * scale + 0.5)
                if step > 512:
                    small = whole - small
                    step = GRAIN - step
                if step < part:
                    left -= small * worth
                    spent += small * cost * GRAIN / part
                else:
                    step = step or 1
                    left -= small * BITS[step] + (whole - small) * BITS[GRAIN - step] - cost * whole
                    spent += cost * whole
        for kinds, cost in price.kinds:
            if left <= 0:
                break
            told, used, _ = kinds.told(cost, [of(mask & causes) for mask in kinds.masks])
            left -= told
            spent += used * cost
        return (left * price.minutes, (left - spent) / left) if left > 0 else (0.0, -1.0)

    def worth(self, causes: int, weighing: Weighing, number: int) -> tuple[list[float], dict[int, tuple[float, ...]]]:
        """What each cause gains at most in bits, by all tests and its repair together and by each test: the floor for
        any part of the causes, with other weights too, is the bits missing there less these."""
        price = self.price(number)
        of = weighing.of
        whole = of(causes)
        scale = GRAIN / whole
        made: dict[int, tuple[float, ...]] = {}
        for place, mask, cost, part, _ in price.halves:
            half = causes & mask
            if half and half != causes:
                step = int(of(half) * scale + 0.5)
                if step < part:
                    step = part
                elif step > GRAIN - part:
                    step = GRAIN - part
                step = min(max(step, 1), GRAIN - 1)
                made[place] = price.worth_of_halves(place, mask, cost, step, len(self._repairs))
        for kinds, cost in price.kinds:
            total, _, steps = kinds.told(cost, [of(mask & causes) for mask in kinds.masks])
            if total > 0:
                made[kinds.place] = price.worth_of_kinds(kinds, cost, steps)
        gains = [sum(column) for column in zip(price.repairs, *made.values(), strict=True)]
        return gains, made
