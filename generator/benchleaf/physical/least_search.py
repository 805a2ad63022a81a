"""The search behind the shortest way to a part: which operations, when facts leave a choice.

Best first over *forced sets*: a set of operations every answer on this branch holds. What a forced set
cannot found (because each waits for the other, or for something not chosen yet) is where the branch forks.
Circular supports therefore are never an answer. The estimate of what is still to be paid never exceeds it,
so the first complete set is a least one, and the first estimate left over when the search is cut short is a
bound.
"""

from __future__ import annotations

from heapq import heappop, heappush

from benchleaf.frozen import dataclass
from benchleaf.physical.least_network import Network, bits, done_with
from benchleaf.physical.least_program import DOUBT, proposal


@dataclass(frozen=True, slots=True)
class LeastSets:
    """The least sets found, as masks of real operations in ascending order, at ``cost``.

    ``bound``: no set costs less. ``exact``: ``cost`` is the least. ``complete``: every least set is listed.
    """

    sets: tuple[int, ...]
    cost: int
    bound: int
    exact: bool
    complete: bool
    expanded: int


def least_sets(net: Network, targets: int, cap: int) -> LeastSets:
    """All sets of least cost that do ``targets`` (a mask of things that can be done), while ``cap`` forced
    sets last.

    When the cap is hit first, a solver of integer programs is asked where one is installed; without it the best
    set found by following cheapest supports is handed back with the bound.
    """
    start = 0
    for place in bits(targets):
        start |= net.must[place]
    everywhere = start | net.virtual
    done = done_with(net, everywhere, 0, bits(everywhere))
    open_sets: list[tuple[int, int, int]] = []
    seen = {start}
    heappush(open_sets, (net.cost_of(start) + _ahead(net, start, done), start, done))
    best: int | None = None
    found: set[int] = set()
    expanded = 0
    while open_sets:
        estimate, forced, done = open_sets[0]
        if best is not None and estimate > best:
            break
        if expanded >= cap:
            return _cut_short(net, targets, open_sets, best, found, expanded)
        heappop(open_sets)
        expanded += 1
        if not forced & ~done:
            best = estimate
            found.add(forced & ~net.virtual)
            continue
        for added in _forks(net, forced, done):
            child = forced
            for place in bits(added):
                child |= net.must[place]
            if child in seen:
                continue
            seen.add(child)
            allowed = child | net.virtual
            reached = done_with(net, allowed, done, bits(child & ~forced))
            heappush(open_sets, (net.cost_of(child) + _ahead(net, child, reached), child, reached))
    assert best is not None, "what can be reached has a founded set"
    return LeastSets(tuple(sorted(found)), best, best, True, True, expanded)


def _unheld(net: Network, forced: int, done: int) -> list[tuple[int, int]]:
    """(place, clause) for every clause of a forced operation that nothing done holds yet."""
    clauses = net.clauses
    waiting = forced & ~done
    return [(place, clause) for place in bits(waiting) for clause in clauses[place] if not clause & done]


def _forks(net: Network, forced: int, done: int) -> list[int]:
    """Single operations of which every founded superset of ``forced`` holds at least one."""
    unheld = _unheld(net, forced, done)
    fewest: int | None = None
    for _, clause in unheld:
        if not clause & forced and (fewest is None or clause.bit_count() < fewest.bit_count()):
            fewest = clause
    if fewest is not None:
        return [1 << place for place in bits(fewest)]
    # Every such clause waits for something forced. The first operation of a closed ring of waiting to be
    # done stands on something outside what is forced, whichever it is.
    ring = _closed_ring(unheld, forced)
    outside: dict[int, int] = {}
    for place, clause in unheld:
        if ring >> place & 1 and place not in outside:
            outside[place] = clause & ~forced
    support = 0
    for clause in outside.values():
        support |= clause
    return [1 << place for place in bits(support)]


def _closed_ring(unheld: list[tuple[int, int]], forced: int) -> int:
    """Operations that wait only for one another: the smallest set closed under waiting."""
    waits: dict[int, int] = {}
    for place, clause in unheld:
        waits[place] = waits.get(place, 0) | clause & forced
    best = 0
    for place in waits:
        closed, ahead = 1 << place, [place]
        while ahead:
            for other in bits(waits[ahead.pop()] & ~closed):
                closed |= 1 << other
                ahead.append(other)
        if not best or closed.bit_count() < best.bit_count():
            best = closed
    return best


def _ahead(net: Network, forced: int, done: int) -> int:
    """No more than what is still to be paid: each clause not held costs at least its cheapest alternative
    with all that alternative must have; clauses whose alternatives have nothing in common add up."""
    prices = []
    for _, clause in _unheld(net, forced, done):
        if clause & forced:
            continue
        cheapest: int | None = None
        around = 0
        for place in bits(clause):
            more = net.must[place] & ~forced
            around |= more
            price = net.cost_of(more)
            if cheapest is None or price < cheapest:
                cheapest = price
        if cheapest:
            prices.append((cheapest, around))
    prices.sort(key=lambda price: (-price[0], price[1]))
    total, taken = 0, 0
    for price, around in prices:
        if not around & taken:
            total += price
            taken |= around
    return total


def _cut_short(
    net: Network,
    targets: int,
    open_sets: list[tuple[int, int, int]],
    best: int | None,
    found: set[int],
    expanded: int,
) -> LeastSets:
    bound = open_sets[0][0]
    if best is not None:  # the least time is known, only not every set that takes it
        return LeastSets(tuple(sorted(found)), best, best, True, False, expanded)
    tried = {complete(net, targets, forced) for _, forced, _ in sorted(open_sets)[:50]}
    program = proposal(net, targets)
    if program is not None:
        bound = max(bound, program.bound)
        if program.chosen:
            tried.add(complete(net, targets, program.chosen))
    cost, chosen = min((net.cost_of(chosen), chosen) for chosen in tried)
    if program is not None and cost - bound <= DOUBT * net.unit + net.unit:  # proved, to a millisecond
        return LeastSets((chosen & ~net.virtual,), cost, cost, True, False, expanded)
    return LeastSets((chosen & ~net.virtual,), cost, bound, cost == bound, False, expanded)


def complete(net: Network, targets: int, forced: int) -> int:
    """A founded set that does ``targets``, by cheapest supports with ``forced`` taken as paid, without what
    it can do without. Not always the cheapest."""
    price: dict[int, int] = {}
    support: dict[int, int] = {}
    agenda: list[tuple[int, int]] = []
    for place in net.founded:
        if not net.clauses[place]:
            heappush(agenda, (0 if forced >> place & 1 else net.cost[place], place))
    settled = 0
    while agenda:
        paid, place = heappop(agenda)
        if settled >> place & 1:
            continue
        settled |= 1 << place
        price[place] = paid
        for user in net.users[place]:
            if settled >> user & 1 or not all(clause & settled for clause in net.clauses[user]):
                continue
            total, stands_on = 0 if forced >> user & 1 else net.cost[user], 0
            for clause in net.clauses[user]:
                cheapest = min(bits(clause & settled), key=lambda other: (price[other], other))
                total += price[cheapest]
                stands_on |= 1 << cheapest
            if user not in support:
                support[user] = stands_on
                heappush(agenda, (max(total, paid), user))
    chosen, ahead = 0, list(bits(targets))
    while ahead:
        place = ahead.pop()
        if not chosen >> place & 1:
            chosen |= 1 << place
            ahead.extend(bits(support.get(place, 0)))
    for place in sorted(bits(chosen), key=lambda other: (-net.cost[other], other)):
        less = chosen & ~(1 << place)
        if not targets & ~done_with(net, less, 0, bits(less)):
            chosen = less
    return chosen
