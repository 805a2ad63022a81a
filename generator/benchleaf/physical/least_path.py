"""The shortest way to a part: the fewest minutes of work that bring a person to it.

Facts about screws, covers and cables have become operations elsewhere; here are only operations. An answer
names every operation in an order that can be done, its time, its tool changes, and whether it is proved to
be the least; if not, the bound says how much could still be saved.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import fsum

from benchleaf.frozen import dataclass
from benchleaf.physical.least_network import (
    Network,
    Operation,
    OutOfReach,
    bits,
    done_with,
    network,
    why_not,
)
from benchleaf.physical.least_search import LeastSets, least_sets
from benchleaf.physical.tool_order import ToolOrder, order_of

__all__ = ["AccessPath", "Network", "Operation", "OutOfReach", "least_path", "least_paths", "network"]

STATES = 20_000
ORDERS = 64  # equally quick sets whose tool changes are compared


@dataclass(frozen=True, slots=True, kw_only=True)
class AccessPath:
    """What to do, in ``order``, to have every target done; ``operations`` is the same set as sorted text.

    ``time`` and ``bound`` in seconds: no way takes less than ``bound``. ``tools`` as they are picked up.
    ``exact`` says that nothing is quicker, of the quickest none has fewer real operations, of those none
    fewer tool changes; otherwise ``reason`` says which of these was not proved.
    """

    targets: tuple[str, ...]
    order: tuple[str, ...]
    operations: tuple[str, ...]
    time: float
    tools: tuple[str, ...]
    tool_changes: int
    exact: bool
    bound: float
    reason: str = ""


def least_path(
    operations: Mapping[str, Operation] | Network, targets: Iterable[str], *, cap: int = STATES
) -> AccessPath | OutOfReach:
    """The least total time in which all ``targets`` are done, each operation once.

    Ties: fewer real operations, fewer tool changes over all least sets, ids as sorted text. Every real
    operation in the answer is needed: without it the targets are out of reach. Virtual operations are those
    its order rests on. ``cap`` limits the states looked at, for the set and for the order. Without choices
    the answer takes no search.
    """
    net = operations if isinstance(operations, Network) else network(operations)
    wanted = tuple(sorted(set(targets)))
    barred = why_not(net.operations, net, wanted)
    if barred is not None:
        return barred
    goal = net.mask(wanted)
    least = least_sets(net, goal, cap)
    best: tuple[int, tuple[str, ...], ToolOrder] | None = None
    for chosen in least.sets[:ORDERS]:
        order = _ordered(net, goal, chosen, cap)
        key = (order.changes, tuple(sorted(order.order)), order)
        if best is None or key[:2] < best[:2]:
            best = key
    assert best is not None
    changes, ids, order = best
    reason = _reason(net, least, order)
    time = fsum(net.operations[name].time for name in ids)
    return AccessPath(
        targets=wanted,
        order=order.order,
        operations=ids,
        time=time,
        tools=order.tools,
        tool_changes=changes,
        exact=not reason,
        bound=time if least.exact else net.seconds(least.bound),
        reason=reason,
    )


def least_paths(
    operations: Mapping[str, Operation] | Network, targets: Mapping[str, Sequence[str]], *, cap: int = STATES
) -> dict[str, AccessPath | OutOfReach]:
    """``least_path`` for many goals of one machine, by the names given to them."""
    net = operations if isinstance(operations, Network) else network(operations)
    return {name: least_path(net, wanted, cap=cap) for name, wanted in targets.items()}


def _ordered(net: Network, goal: int, chosen: int, cap: int) -> ToolOrder:
    """The order of a set of real operations, with the virtual ones it rests on and no others."""
    if not net.virtual:
        return order_of(net, chosen, cap)
    allowed = _leaning_on(net, goal | chosen)
    around = done_with(net, allowed, 0, bits(allowed))
    order = order_of(net, around, cap)
    places = [net.index[name] for name in order.order]
    kept = around
    for place in sorted(bits(around & net.virtual & ~goal), reverse=True):
        less = kept & ~(1 << place)
        if _holds(net, places, less):
            kept = less
    within = tuple(name for name in order.order if kept >> net.index[name] & 1)
    return ToolOrder(within, order.tools, order.changes, order.bound, order.exact)


def _leaning_on(net: Network, chosen: int) -> int:
    """A set with every virtual operation that a clause in it, or a clause of such a one, asks for."""
    ahead = list(bits(chosen))
    while ahead:
        for clause in net.clauses[ahead.pop()]:
            fresh = clause & net.virtual & ~chosen
            chosen |= fresh
            ahead.extend(bits(fresh))
    return chosen


def _holds(net: Network, places: Sequence[int], kept: int) -> bool:
    """Whether the order can still be done when only ``kept`` of it is."""
    done = 0
    for place in places:
        if kept >> place & 1:
            if not all(clause & done for clause in net.clauses[place]):
                return False
            done |= 1 << place
    return True


def _reason(net: Network, least: LeastSets, order: ToolOrder) -> str:
    if not least.exact:
        return f"the search was cut short: no way takes less than {net.seconds(least.bound):g} s"
    if not least.complete or len(least.sets) > ORDERS:
        compared = min(len(least.sets), ORDERS)
        counted = "one was looked at" if compared == 1 else f"{compared} were compared"
        return f"no way is quicker; of the equally quick ones only {counted} for tool changes"
    if not order.exact:
        return f"no way is quicker; the order was cut short: it needs at least {order.bound} tool changes"
    return ""
