"""What a state of the search costs at least, and what each action in it costs at least.

The bounds stand in ``bound`` (by cause and by pair) and ``information`` (by the bits still missing); here they are
asked for a state, and the better one is kept.
"""

from __future__ import annotations

from heapq import heapify
from operator import mul

from benchleaf.isolation.bound import Bound
from benchleaf.isolation.choices import Action, Choices, State
from benchleaf.isolation.information import Information
from benchleaf.isolation.logs import alike, log2
from benchleaf.isolation.table import Answers, Table, bits

PAIRED = 4  # causes up to which the bound by pair is worth its time beside the one by information
ALONE = 24  # and where that one has nothing to say
FLAT = 0.3  # a price of a bit at which the bound rises no more than this is right
LONGEST = 8  # prices tried in a row

Entry = tuple[float, int, Action | None]  # what it costs at least; a test, or past all tests a remedy


class Estimates(Choices):
    """Lower bounds of the states of one problem. ``values`` are those that are solved."""

    def __init__(self, table: Table, barred: frozenset[int] = frozenset()) -> None:
        super().__init__(table, barred)
        self.values: dict[State, float] = {}
        self._lower: dict[State, float] = {}
        self._besides: dict[tuple[int, Answers], tuple[float, int, float]] = {}
        self._bound = Bound(table, self.usable)
        self._information = Information(table, self.usable)
        self._hint = self._information.usual

    def lower(self, state: State) -> float:
        """No policy costs less from this state."""
        known = self.values.get(state)
        if known is not None:
            return known
        known = self._lower.get(state)
        if known is None:
            causes, answers, condition = state
            weights = self.weights(answers)
            known = self._bound.cures(causes, weights, condition)
            if causes & (causes - 1):
                known += self._beside(causes, answers)[0]
            self._lower[state] = known
        return known

    def _unknown(self, answers: Answers) -> bool:
        """Whether the bounds have nothing to say: where only the remedy is to be known, causes that a test already done
        could not part need not be parted any more."""
        return self.identify and bool(answers)

    def _blind(self, answers: Answers) -> bool:
        """Whether the bound by information has nothing to say."""
        return self._information.silent or self._unknown(answers)

    def _beside(self, causes: int, answers: Answers) -> tuple[float, int, float]:
        """What causes pay at least besides their own cures, the price of a bit (by number) by which that was found, and
        how much more a higher price would give, as a part of it."""
        known = self._besides.get((causes, answers))
        if known is None:
            known = self._besides[causes, answers] = self._worked_out(causes, answers)
        return known

    def _worked_out(self, causes: int, answers: Answers) -> tuple[float, int, float]:
        price = self._hint
        if self._unknown(answers):
            return 0.0, price, 0.0
        weights = self.weights(answers)
        silent = self._information.silent
        few = ALONE if silent else PAIRED
        least = self._bound.by_pair(causes, weights) if causes.bit_count() <= few else 0.0
        if silent:
            return max(least, self._bound.by_cause(causes, weights)), price, 0.0
        here, slope = self._information.least(causes, self.weighing(answers), price)
        return max(here, least), price, slope

    def _closer(self, state: State) -> float:
        """The lower bound by the best price of a bit, for a state about to be looked at."""
        causes, answers, condition = state
        if self._blind(answers):
            return self.lower(state)
        least, price, slope = self._beside(causes, answers)
        weighing = self.weighing(answers)
        way = 1 if slope > 0 else -1
        found, at = least, price
        for _ in range(LONGEST):
            if abs(slope) <= FLAT:
                break
            at += way
            here, slope = self._information.least(causes, weighing, at)
            if here <= found and way * slope < 0:
                break
            if here > found:
                found, price = here, at
            if way * slope <= 0:
                break
        self._besides[causes, answers] = found, price, 0.0
        self._lower[state] = max(self.lower(state), found + self._bound.cures(causes, weighing.weights, condition))
        return self._lower[state]

    def _ranked(self, state: State) -> list[Entry]:
        """Every test and remedy that changes a state, with what it costs at least."""
        causes, answers, condition = state
        table, fixes = self.table, self.table.fixes
        weighing = self.weighing(answers)
        weights, of, logs = weighing.weights, weighing.of, weighing.logs
        weight = of(causes)
        members = bits(causes)
        tests, repairs = table.prices(condition)
        done = {test for test, _ in answers}
        count = len(table.tests)
        minutes, gains = 0.0, [0.0] * len(weights)
        by_test: dict[int, tuple[float, ...]] = {}
        if not self._blind(answers):
            number = self._besides[causes, answers][1]
            minutes = self._information.price(number).minutes
            gains, by_test = self._information.worth(causes, weighing, number)
        gained = [one * other for one, other in zip(weights, gains, strict=True)]
        all_gained = sum([gained[j] for j in members])
        single = self._information.single
        missing = self._information.missing
        cures: dict[int, float] = {}
        lowest = table.lowest
        found: dict[object, Entry] = {}
        dearness: dict[object, float] = {}
        for test in self.usable:
            if test in done:
                continue
            taken, then = tests[test]
            key: object = test
            after = cures.get(then)
            if after is None:
                low = lowest(then)
                after = cures[then] = 0.0 if self.identify else sum([weights[j] * low[j] for j in members])
            total = taken * weight + after
            worth = by_test.get(test)
            if table.sharp[test]:
                parts = [part for outcome in table.outcomes[test] if (part := causes & outcome.mask)]
                if len(parts) < 2:
                    continue
                if len(parts) == 2:
                    key = (min(parts), then)
                if minutes:
                    for part in parts:
                        places = bits(part)
                        more = sum([gained[j] for j in places])
                        part_weight = of(part)
                        if worth:
                            more -= sum([weights[j] * worth[j] for j in places])
                        left = part_weight * log2(part_weight) - logs(part) if single else missing(part, weighing)
                        if left > more:
                            total += (left - more) * minutes
            else:
                if not self.tells_apart_in(test, causes):
                    continue
                if minutes and single:
                    rest = [one - other for one, other in zip(gains, worth, strict=True)] if worth else gains
                    logarithms = weighing.logarithms
                    for outcome in table.outcomes[test]:
                        part = causes & outcome.mask
                        if part & (part - 1):
                            shares, share_logs = outcome.shares, outcome.logs
                            places = bits(part)
                            here = [weights[j] * shares[j] for j in places]
                            whole = sum(here)
                            told = [logarithms[j] + share_logs[j] + rest[j] for j in places]
                            left = whole * log2(whole) - sum(map(mul, here, told))
                            if left > 0:
                                total += left * minutes
            if key not in found or taken < dearness[key]:  # by price, not by what it costs at least: that is a guess
                found[key], dearness[key] = (total, test, None), taken
        if not self.identify:
            for remedy, (taken, then) in enumerate(repairs):
                cured = fixes[remedy] & causes
                if not cured:
                    continue
                after = cures.get(then)
                low = lowest(then)
                if after is None:
                    after = cures[then] = sum([weights[j] * low[j] for j in members])
                total = taken * weight + after
                part = causes & ~cured
                more = all_gained
                for j in bits(cured):
                    total -= weights[j] * low[j]
                    more -= gained[j]
                if minutes and part & (part - 1):
                    part_weight = of(part)
                    left = part_weight * log2(part_weight) - logs(part) if single else missing(part, weighing)
                    if left > more:
                        total += (left - more) * minutes
                repaired = (part, then, 0)
                if repaired not in found or taken < dearness[repaired]:
                    found[repaired], dearness[repaired] = (total, count + remedy, None), taken
        made = [(alike(total), place, action) for total, place, action in found.values()]
        heapify(made)
        return made
