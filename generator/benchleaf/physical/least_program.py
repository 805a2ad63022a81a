"""The shortest way when the search was cut short: the same question put to a solver of integer programs.

Only where `highspy`_ (the extra ``exact``) is installed, and imported only when the search gave up. What it answers is
taken as a proposal: the set is founded again from the clauses, its cost is added up again in whole microseconds, and
the bound is trusted to a millisecond.

.. _highspy: an open solver of linear and integer programs.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

from benchleaf.frozen import dataclass
from benchleaf.physical.least_network import MICROSECONDS, Network, bits, done_with

NODES = 20_000  # branches looked at: a count, not a time, so that a faster machine gives no other answer
DOUBT = 1_000  # microseconds a bound in floating point is not trusted with


@dataclass(frozen=True, slots=True)
class Proposal:
    """``chosen``: a founded set of operations that does the targets, 0 for none found. ``bound``: no set costs less."""

    chosen: int
    bound: int


def proposal(net: Network, targets: int) -> Proposal | None:
    """What the solver finds, or None where it is not installed. ``targets`` can be reached.

    The program: a 0-1 variable an operation; each clause of a chosen operation holds a chosen one; along supports
    inside a ring of operations a rank rises (Miller, Tucker and Zemlin, J. ACM 7, 1960), so that nothing holds itself.
    """
    try:
        highspy = import_module("highspy")
    except ImportError:
        return None
    needed = _needed(net, targets)
    solver = highspy.Highs()
    solver.silent()
    for name, value in (("threads", 1), ("random_seed", 0), ("mip_rel_gap", 0.0), ("mip_max_nodes", NODES)):
        solver.setOptionValue(name, value)
    column = _write_program(solver, net, needed, targets)
    solver.run()
    info = solver.getInfo()
    bound = max(0, int(info.mip_dual_bound * MICROSECONDS) - DOUBT) * net.unit
    values = list(solver.getSolution().col_value)
    if not values:
        return Proposal(0, bound)
    allowed = sum(1 << place for place in column if values[column[place]] > 0.5) | net.virtual
    chosen = done_with(net, allowed, 0, bits(allowed))
    return Proposal(0 if targets & ~chosen else chosen, bound)


def _needed(net: Network, targets: int) -> tuple[int, ...]:
    """Every operation some clause on the way to the targets names."""
    seen, ahead = targets, list(bits(targets))
    while ahead:
        for clause in net.clauses[ahead.pop()]:
            fresh = clause & ~seen
            seen |= fresh
            ahead.extend(bits(fresh))
    return tuple(bits(seen))


def _write_program(solver: Any, net: Network, needed: tuple[int, ...], targets: int) -> dict[int, int]:
    """Fill the solver. The column of each operation, by its place."""
    certain = 0
    for place in bits(targets):
        certain |= net.must[place]
    endless = solver.inf
    whole = import_module("highspy").HighsVarType.kInteger
    column: dict[int, int] = {}
    for place in needed:
        column[place] = solver.numVariables
        solver.addCol(net.cost[place] // net.unit / MICROSECONDS, certain >> place & 1, 1, 0, [], [])
        solver.changeColIntegrality(column[place], whole)
    ring_of, size = _rings(net, needed)
    rank: dict[int, int] = {}
    for place in needed:
        if size[ring_of[place]] > 1:
            rank[place] = solver.numVariables
            solver.addCol(0.0, 0.0, size[ring_of[place]] - 1.0, 0, [], [])
    support: dict[tuple[int, int], int] = {}
    for place in needed:
        for clause in net.clauses[place]:
            row: list[int] = []
            for before in bits(clause):
                if ring_of[before] != ring_of[place]:
                    row.append(column[before])
                    continue
                if (place, before) not in support:
                    made = support[place, before] = solver.numVariables
                    solver.addCol(0.0, 0.0, 1.0, 0, [], [])
                    solver.changeColIntegrality(made, whole)
                    solver.addRow(0.0, endless, 2, [column[before], made], [1.0, -1.0])
                    high = float(size[ring_of[place]])
                    solver.addRow(1.0 - high, endless, 3, [rank[place], rank[before], made], [1.0, -1.0, -high])
                row.append(support[place, before])
            solver.addRow(0.0, endless, len(row) + 1, [*row, column[place]], [*([1.0] * len(row)), -1.0])
    return column


def _rings(net: Network, needed: tuple[int, ...]) -> tuple[dict[int, int], dict[int, int]]:
    """(ring of each operation, size of each ring): the strongly connected parts of "may stand on" (Tarjan,
    SIAM J. Comput. 1, 1972, without recursion)."""
    around = {place: sorted({b for clause in net.clauses[place] for b in bits(clause)}) for place in needed}
    number: dict[int, int] = {}
    low: dict[int, int] = {}
    ring_of: dict[int, int] = {}
    size: dict[int, int] = {}
    open_places: list[int] = []
    for start in needed:
        work = [] if start in number else [(start, 0)]
        while work:
            place, at = work.pop()
            if at == 0:
                number[place] = low[place] = len(number)
                open_places.append(place)
            else:
                came_from = around[place][at - 1]
                if came_from not in ring_of:
                    low[place] = min(low[place], low[came_from])
            while at < len(around[place]) and around[place][at] in number:
                other = around[place][at]
                if other not in ring_of:
                    low[place] = min(low[place], number[other])
                at += 1
            if at < len(around[place]):
                work += [(place, at + 1), (around[place][at], 0)]
                continue
            if low[place] == number[place]:
                size[place] = 0
                while place not in ring_of:
                    member = open_places.pop()
                    ring_of[member] = place
                    size[place] += 1
    return ring_of, size
