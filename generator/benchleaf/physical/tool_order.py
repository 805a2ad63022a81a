"""In what order to do a set of operations so that the fewest tools are laid down and picked up again.

With a tool in hand, doing everything it can do never costs a change (nothing done stands in the way of
anything else), so only the choice of the next tool is searched: best first, exactly, until a cap.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from heapq import heappop, heappush

from benchleaf.frozen import dataclass
from benchleaf.physical.least_network import Network, Operation, bits, network

STATES = 20_000


@dataclass(frozen=True, slots=True)
class ToolOrder:
    """``order`` of all operations asked for; ``changes`` of tool in it (picking up the first is none).

    ``tools`` as they are picked up. No order has fewer than ``bound`` changes; ``exact`` when ``changes``
    is that.
    """

    order: tuple[str, ...]
    tools: tuple[str, ...]
    changes: int
    bound: int
    exact: bool


def tool_order(
    operations: Mapping[str, Operation] | Network, ids: Iterable[str] | None = None, *, cap: int = STATES
) -> ToolOrder:
    """The order of ``ids`` (default: all) with the fewest tool changes; an operation without a tool takes
    none.

    Clauses count within the set. ``cap``: how many states are looked at before the order of most work first
    is taken and labelled. Raises ValueError when the set cannot be done on its own, KeyError for an unknown
    id.
    """
    net = operations if isinstance(operations, Network) else network(operations)
    return order_of(net, net.mask(net.ids if ids is None else ids), cap)


def order_of(net: Network, chosen: int, cap: int = STATES) -> ToolOrder:
    """``tool_order`` for a mask of a prepared network."""
    return _Work(net, chosen).search(cap)


class _Work:
    """The set numbered anew, 0 being what can be done first, so that masks are short and one pass mostly
    suffices."""

    def __init__(self, net: Network, chosen: int) -> None:
        self.places = _possible_order(net, chosen)
        local = {place: i for i, place in enumerate(self.places)}
        names = sorted({tool for place in self.places if (tool := net.tools[place]) is not None})
        number = {tool: i for i, tool in enumerate(names)}
        self.net, self.names = net, names
        self.everything = (1 << len(self.places)) - 1
        self.tool: list[int | None] = []
        self.before: list[int] = []
        self.either: list[tuple[int, ...]] = []
        self.of_tool = [0] * len(names)
        self.free = 0
        for i, place in enumerate(self.places):
            tool = net.tools[place]
            self.tool.append(None if tool is None else number[tool])
            if tool is None:
                self.free |= 1 << i
            else:
                self.of_tool[number[tool]] |= 1 << i
            single, several = 0, []
            for clause in net.clauses[place]:
                within = clause & chosen
                if within & (within - 1):
                    several.append(sum(1 << local[other] for other in bits(within)))
                else:
                    single |= 1 << local[within.bit_length() - 1]
            self.before.append(single)
            self.either.append(tuple(several))
        self.forked = any(self.either)

    def exhaust(self, done: int, tool: int | None) -> int:
        """``done`` and everything the tool in hand, or none, can do after it."""
        mine = self.free if tool is None else self.free | self.of_tool[tool]
        before, either = self.before, self.either
        left = mine & ~done
        if not self.forked:
            while left:
                low = left & -left
                left ^= low
                if not before[low.bit_length() - 1] & ~done:
                    done |= low
            return done
        reached = -1
        while reached != done:
            reached = done
            left = mine & ~done
            while left:
                low = left & -left
                left ^= low
                i = low.bit_length() - 1
                if not before[i] & ~done and all(clause & done for clause in either[i]):
                    done |= low
        return done

    def pick_ups_behind(self) -> list[tuple[int, int]]:
        """(pick-ups, bit), most first: how often a tool is taken up on the longest chain that starts at an
        operation, its own included. Follows only what must come before, so it never says too much."""
        entries: list[list[tuple[int, int]]] = [[] for _ in self.places]  # (pick-ups, tool) behind each
        chains = []
        for i in range(len(self.places) - 1, -1, -1):
            tool = self.tool[i]
            if tool is None:
                hand_on = entries[i]
            else:
                most = max([1, *(count + (other != tool) for count, other in entries[i])])
                chains.append((most, 1 << i))
                hand_on = [(most, tool)]
            for before in bits(self.before[i]):
                entries[before].extend(hand_on)
        return sorted(chains, key=lambda chain: (-chain[0], chain[1]))

    def search(self, cap: int) -> ToolOrder:
        start = self.exhaust(0, None)
        chains = self.pick_ups_behind()

        def ahead(done: int) -> int:
            left = self.everything & ~done
            kinds = 0
            for mine in self.of_tool:
                if mine & left:
                    kinds += 1
            for count, bit in chains:
                if count <= kinds:
                    break
                if bit & left:
                    return count
            return kinds

        heap: list[tuple[int, int, tuple[int, ...], int]] = [(ahead(start), 0, (), start)]
        fewest = {start: 0}
        looked = 0
        while heap:
            estimate, _, taken, done = heap[0]
            if done == self.everything:
                return self.written(taken, max(0, len(taken) - 1))
            if looked >= cap:
                return self.written(self.most_first(taken, done), max(0, estimate - 1))
            heappop(heap)
            looked += 1
            if fewest[done] < len(taken):
                continue
            for tool, mine in enumerate(self.of_tool):
                if not mine & ~done:
                    continue
                after = self.exhaust(done, tool)
                if after == done or fewest.get(after, len(taken) + 2) <= len(taken) + 1:
                    continue
                fewest[after] = len(taken) + 1
                longer = (*taken, tool)
                heappush(heap, (len(longer) + ahead(after), -len(longer), longer, after))
        raise AssertionError("a set that can be done has an order")

    def most_first(self, taken: tuple[int, ...], done: int) -> tuple[int, ...]:
        """``taken`` carried on with the tool that can do the most, each time."""
        while done != self.everything:
            reached = {tool: self.exhaust(done, tool) for tool in range(len(self.names))}
            tool = max(reached, key=lambda other: (reached[other].bit_count(), -other))
            done = reached[tool]
            taken = (*taken, tool)
        return taken

    def written(self, taken: tuple[int, ...], bound: int) -> ToolOrder:
        order: list[int] = []
        done = 0
        for tool in (None, *taken):
            after = self.exhaust(done, tool)
            while done != after:  # one at a time again, so that each stands after what it needs
                mine = after & ~done
                for i in bits(mine):
                    if not self.before[i] & ~done and all(clause & done for clause in self.either[i]):
                        done |= 1 << i
                        order.append(i)
        changes = max(0, len(taken) - 1)
        return ToolOrder(
            order=tuple(self.net.ids[self.places[i]] for i in order),
            tools=tuple(self.names[tool] for tool in taken),
            changes=changes,
            bound=min(bound, changes),
            exact=bound >= changes,
        )


def _possible_order(net: Network, chosen: int) -> tuple[int, ...]:
    """The set in some order that can be done, by place where there is a choice."""
    done, order, left = 0, [], list(bits(chosen))
    while left:
        waiting = []
        for place in left:
            if all(clause & done for clause in net.clauses[place]):
                done |= 1 << place
                order.append(place)
            else:
                waiting.append(place)
        if len(waiting) == len(left):
            stuck = ", ".join(net.ids[place] for place in waiting)
            raise ValueError(f"the set cannot be done on its own; nothing in it makes way for {stuck}")
        left = waiting
    return tuple(order)
