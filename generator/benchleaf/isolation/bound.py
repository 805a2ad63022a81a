"""What every order of tests costs at least, so that the search can leave what cannot win.

Whoever has a cause pays at least for its own cure. Besides, any two causes that no remedy cures together
are parted somewhere: a test told them apart, paid for by both, or one was cured first and the other paid
for that. Two ways to count what that costs at least, of which the greater holds:

- by cause: at most one cause, and those that share a remedy with it, can have gone before all others; each
of the rest paid the least price at which it can be parted from another. Where only the remedy is to be
known, each cause pays for the dearest of its partings, taken at the least price; - by pair: what an action
costs a cause is spread over the causes it parts it from, so that no cost is counted twice, and each pair
pays the least of such shares. Without tests this is the exact cost of repairs in the best order.

Answers by likelihood change nothing in this: drawn beforehand, they are answers like others.
"""

from __future__ import annotations

from benchleaf.isolation.problem import Mode
from benchleaf.isolation.table import FAR, Table, bits


class Bound:
    """Lower bounds for states of one problem when only ``usable`` tests can be done."""

    def __init__(self, table: Table, usable: tuple[int, ...]) -> None:
        self._table = table
        self._identify = table.problem.mode is Mode.IDENTIFY
        count = len(table.causes)
        self._repairs = tuple((taken + table.trial_minutes) for taken in table.repair_minutes)
        self._cheapest = tuple(
            min((self._repairs[r] for r in bits(cures)), default=FAR) for cures in table.cures
        )
        self._first_cured = sorted((price, j) for j, price in enumerate(self._cheapest) if price < FAR)
        self._groups = [(table.minutes[test], *self._alike(test)) for test in usable]
        apart = self._prices_apart(count)
        self._with = [0] * count  # for each cause, those it need not be parted from
        self._prices: list[list[tuple[float, int]]] = []  # for each cause, (price, other cause) in order of use
        for j in range(count):
            prices = []
            for i in range(count):
                one_remedy = table.cures[i] & table.cures[j] or not (table.cures[i] or table.cures[j])
                if i == j or one_remedy or (self._identify and apart[i][j] == FAR):
                    self._with[j] |= 1 << i
                elif self._identify:
                    prices.append((apart[i][j], 1 << i))
                else:
                    prices.append((min(apart[i][j], self._cheapest[i]), 1 << i))
            prices.sort(key=lambda price: (-price[0] if self._identify else price[0], price[1]))
            self._prices.append(prices)

    def cures(self, causes: int, weights: tuple[float, ...], condition: int) -> float:
        """What the causes pay at least for their own cures; nothing where only the remedy is to be known."""
        if self._identify:
            return 0.0
        lowest = self._table.lowest(condition)
        return sum([weights[j] * lowest[j] for j in bits(causes)])

    def by_cause(self, causes: int, weights: tuple[float, ...]) -> float:
        """What they pay at least besides, counted by cause. Quick."""
        if not causes & (causes - 1):
            return 0.0
        members = bits(causes)
        pays = {}
        for j in members:
            for price, other in self._prices[j]:
                if other & causes:
                    pays[j] = price
                    break
            else:
                pays[j] = 0.0
        least = sum([weights[j] * pays[j] for j in members])
        if self._identify:
            return least
        whole = sum([weights[j] for j in members])
        for price, first in self._first_cured:
            if not causes >> first & 1:
                continue
            free = self._with[first] & causes
            spared = weights[first] if not free & (free - 1) else sum(weights[j] for j in bits(free))
            if price * (whole - spared) < least:
                paid = sum(weights[j] * max(pays[j], price) for j in members if not free >> j & 1)
                least = min(least, paid)
        return least

    def by_pair(self, causes: int, weights: tuple[float, ...]) -> float:
        """What they pay at least besides, counted by pair. Closer as a rule, and slower."""
        members = bits(causes)
        count = len(members)
        heavy = [weights[j] for j in members]
        least = [[FAR] * count for _ in members]
        for minutes, groups, group_of in self._groups:
            if any(causes & group == causes for group in groups):
                continue
            split: dict[int, list[int]] = {}
            for a, j in enumerate(members):
                split.setdefault(group_of[j], []).append(a)
            share = [0.0] * count
            before: list[int] = []
            for group in split.values():
                each = minutes / (count - len(group))
                for a in group:
                    share[a] = mine = each * heavy[a]
                    row = least[a]
                    for b in before:
                        if mine + share[b] < row[b]:
                            row[b] = mine + share[b]
                before += group
        cured = self._cured(causes, members)
        total = 0.0
        for a, j in enumerate(members):
            free, weight, mine, row = self._with[j], heavy[a], cured[a], least[a]
            for b in range(a):
                if not free >> members[b] & 1:
                    total += min(row[b], least[b][a], mine * heavy[b], cured[b] * weight)
        return total

    def _cured(self, causes: int, members: tuple[int, ...]) -> list[float]:
        """For each cause, the least price at which a repair of it parts it from a cause that pays."""
        if self._identify:
            return [FAR] * len(members)
        prices = [
            (minutes / (fixed & causes).bit_count(), fixed)
            for minutes, fixed in zip(self._repairs, self._table.fixes, strict=True)
            if fixed & causes
        ]
        return [min((price for price, fixed in prices if fixed >> j & 1), default=FAR) for j in members]

    def _alike(self, test: int) -> tuple[tuple[int, ...], tuple[int, ...]]:
        """The causes in groups that a test cannot tell apart, and the group of each cause."""
        count = len(self._table.causes)
        rows = [tuple(outcome.shares[j] for outcome in self._table.outcomes[test]) for j in range(count)]
        kinds = list(dict.fromkeys(rows))
        group_of = tuple(kinds.index(row) for row in rows)
        return tuple(sum(1 << j for j in range(count) if group_of[j] == g) for g in range(len(kinds))), group_of

    def _prices_apart(self, count: int) -> list[list[float]]:
        """The minutes of the cheapest test that tells two causes apart, without what prepares it."""
        apart = [[FAR] * count for _ in range(count)]
        for minutes, groups, _ in sorted(self._groups):
            for g, group in enumerate(groups):
                for other in groups[:g]:
                    for i in bits(group):
                        for j in bits(other):
                            if apart[i][j] == FAR:
                                apart[i][j] = apart[j][i] = minutes
        return apart
