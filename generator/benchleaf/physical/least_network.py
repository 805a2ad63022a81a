"""What must go before what, in a form that can be searched: operations as bits, clauses as masks.

A person who asks for the shortest way to a part never sees this module. It turns plain operations (a time,
a tool, and what has to be done first) into numbers once for a machine, so that every part can be asked for
quickly, and it finds three things that need no search: what can be done at all, what every way to an
operation has to contain, and why something is out of reach.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field
from typing import TypeAlias

from benchleaf.frozen import dataclass

MICROSECONDS = 1_000_000
Rows: TypeAlias = tuple[tuple[int, ...], ...]
EVERYTHING = -1  # all bits set: "no way to it found yet"


@dataclass(frozen=True, slots=True)
class Operation:
    """One thing that is done: ``time`` in seconds, ``tool`` by id (``hand`` is one).

    ``clauses`` say what is done first: every clause must hold one operation already done (AND of ORs;
    Möhring, Skutella and Stork, "Scheduling with AND/OR precedence constraints", SIAM J. Comput. 33, 2004).
    An empty clause can never hold. ``tool`` None with no time marks a virtual operation: a way of putting
    it, not work.
    """

    time: float
    tool: str | None = None
    clauses: tuple[tuple[str, ...], ...] = ()

    @property
    def is_virtual(self) -> bool:
        return self.tool is None and self.time == 0


@dataclass(frozen=True, slots=True)
class OutOfReach:
    """Why no order of operations does the targets.

    ``missing``: operations that clauses ask for and nobody recorded. ``never``: operations with a clause
    that holds nothing at all. ``ring``: operations of which each waits for the next and the last for the
    first (facts that let nothing begin). All may be given at once.
    """

    targets: tuple[str, ...]
    missing: tuple[str, ...] = ()
    never: tuple[str, ...] = ()
    ring: tuple[str, ...] = ()

    @property
    def reason(self) -> str:
        parts = []
        if self.ring:
            parts.append(f"each waits for the next: {' → '.join((*self.ring, self.ring[0]))}")
        if self.missing:
            parts.append(f"not recorded: {', '.join(self.missing)}")
        if self.never:
            parts.append(f"nothing recorded can make way for: {', '.join(self.never)}")
        return "; ".join(parts)


@dataclass(frozen=True, slots=True, eq=False)
class Network:
    """The operations of one machine, ready to be searched. Bit ``i`` of every mask is ``ids[i]``.

    ``cost`` is an integer that holds time (microseconds) before the number of real operations, so that sums
    compare exactly. ``clauses`` keep only alternatives that can be done and that can help; ``must[i]`` is
    what every way to ``i`` contains, ``i`` with it. ``founded`` lists what can be done, each after what it
    stands on.
    """

    ids: tuple[str, ...]
    index: Mapping[str, int]
    operations: Mapping[str, Operation]
    cost: tuple[int, ...]
    unit: int
    tools: tuple[str | None, ...]
    virtual: int
    clauses: Rows
    users: Rows
    founded: tuple[int, ...]
    reachable: int
    must: tuple[int, ...]
    costs: dict[int, int] = field(default_factory=dict, repr=False)  # a memory of ``cost_of``, nothing more

    def names(self, mask: int) -> tuple[str, ...]:
        """The ids in a mask, as sorted text."""
        return tuple(self.ids[i] for i in bits(mask))

    def mask(self, ids: Iterable[str]) -> int:
        """The mask of known ids. Raises KeyError for one that is not an operation."""
        made = 0
        for name in ids:
            made |= 1 << self.index[name]
        return made

    def cost_of(self, mask: int) -> int:
        """Time and count of all operations in a mask, as one integer."""
        known = self.costs.get(mask)
        if known is None:
            known = self.costs[mask] = sum(self.cost[i] for i in bits(mask))
        return known

    def seconds(self, cost: int) -> float:
        """The time in a cost."""
        return cost // self.unit / MICROSECONDS


def bits(mask: int) -> Iterator[int]:
    """The places of the set bits, lowest first."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


def network(operations: Mapping[str, Operation]) -> Network:
    """Prepare operations for searching. Times are taken to the microsecond.

    Raises ValueError for a time below zero. A clause may name operations that do not exist: they are never
    done.
    """
    ids = tuple(sorted(operations))
    index = {name: i for i, name in enumerate(ids)}
    unit = len(ids) + 1
    cost = []
    for name in ids:
        operation = operations[name]
        if not operation.time >= 0:
            raise ValueError(f"{name}: the time {operation.time} is below zero")
        cost.append(round(operation.time * MICROSECONDS) * unit + (not operation.is_virtual))
    written = tuple(
        tuple(sorted({_mask(clause, index) for clause in operations[name].clauses})) for name in ids
    )
    users = _users(written)
    founded = _founding_order(written, users)
    reachable = sum(1 << i for i in founded)
    within = tuple(tuple(sorted({clause & reachable for clause in row})) for row in written)
    must = _must(within, founded, reachable)
    clauses = tuple(_useful(i, row, must) if reachable >> i & 1 else row for i, row in enumerate(within))
    return Network(
        ids=ids,
        index=index,
        operations=operations,
        cost=tuple(cost),
        unit=unit,
        tools=tuple(operations[name].tool for name in ids),
        virtual=sum(1 << i for i, name in enumerate(ids) if operations[name].is_virtual),
        clauses=clauses,
        users=_users(clauses),
        founded=founded,
        reachable=reachable,
        must=must,
    )


def done_with(net: Network, allowed: int, done: int, fresh: Iterable[int]) -> int:
    """What gets done when only ``allowed`` may be, starting from ``done``; ``fresh`` are places that may
    have become possible. Circular supports found nothing: a thing is done only after what it stands on."""
    waiting = list(fresh)
    clauses, users = net.clauses, net.users
    while waiting:
        place = waiting.pop()
        bit = 1 << place
        if done & bit or not allowed & bit:
            continue
        for clause in clauses[place]:
            if not clause & done:
                break
        else:
            done |= bit
            waiting.extend(users[place])
    return done


def why_not(operations: Mapping[str, Operation], net: Network, targets: Iterable[str]) -> OutOfReach | None:
    """None when all targets can be done, else what stands in the way of them."""
    wanted = tuple(sorted(set(targets)))
    missing = {name for name in wanted if name not in net.index}
    stuck = [name for name in wanted if name in net.index and not net.reachable >> net.index[name] & 1]
    if not missing and not stuck:
        return None
    never: set[str] = set()
    waits: dict[str, tuple[str, ...]] = {}
    ahead = list(reversed(stuck))
    while ahead:
        name = ahead.pop()
        if name in waits:
            continue
        blocked: list[str] = []
        for clause in operations[name].clauses:
            known = [other for other in sorted(set(clause)) if other in net.index]
            if any(net.reachable >> net.index[other] & 1 for other in known):
                continue
            if not clause:
                never.add(name)
            missing.update(other for other in clause if other not in net.index)
            blocked.extend(known)
        waits[name] = tuple(dict.fromkeys(blocked))
        ahead.extend(reversed(waits[name]))
    return OutOfReach(wanted, tuple(sorted(missing)), tuple(sorted(never)), _shortest_ring(waits))


def _mask(clause: Iterable[str], index: Mapping[str, int]) -> int:
    made = 0
    for name in clause:
        if name in index:
            made |= 1 << index[name]
    return made


def _users(clauses: Rows) -> Rows:
    users: list[list[int]] = [[] for _ in clauses]
    for place, row in enumerate(clauses):
        for clause in row:
            for before in bits(clause):
                users[before].append(place)
    return tuple(tuple(dict.fromkeys(found)) for found in users)


def _founding_order(clauses: Rows, users: Rows) -> tuple[int, ...]:
    done = 0
    order: list[int] = []
    wave = list(range(len(clauses)))
    while wave:
        following: set[int] = set()
        for place in wave:
            if not done >> place & 1 and all(clause & done for clause in clauses[place]):
                done |= 1 << place
                order.append(place)
                following.update(users[place])
        wave = sorted(following)
    return tuple(order)


def _must(clauses: Rows, founded: tuple[int, ...], reachable: int) -> tuple[int, ...]:
    """What every founded way to each operation contains: the greatest set that agrees with the clauses, as
    dominators are found in a flow graph."""
    must = [EVERYTHING] * len(clauses)
    changed = True
    while changed:
        changed = False
        for place in founded:
            found = 1 << place
            for clause in clauses[place]:
                if clause & (clause - 1):
                    common = EVERYTHING
                    for before in bits(clause):
                        common &= must[before]
                    found |= common
                else:
                    found |= must[clause.bit_length() - 1]
            if found != must[place]:
                must[place] = found
                changed = True
    return tuple(found & reachable for found in must)


def _useful(place: int, row: tuple[int, ...], must: tuple[int, ...]) -> tuple[int, ...]:
    """The clauses without alternatives that cannot help: one that itself needs ``place``, and one that
    needs another alternative of the same clause, which then holds the clause already."""
    kept = set()
    for clause in row:
        left = clause
        if clause & (clause - 1):
            for other in bits(clause):
                if must[other] >> place & 1 or must[other] & clause != 1 << other:
                    left &= ~(1 << other)
        kept.add(left)
    return tuple(sorted(kept))


def _shortest_ring(waits: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """The shortest ring in "waits for", from its first id as sorted text; () when there is none."""
    best: tuple[str, ...] = ()
    for start in sorted(waits):
        came: dict[str, str] = {}
        wave = [start]
        while wave and start not in came:
            following = []
            for name in wave:
                for other in waits[name]:
                    if other not in came:
                        came[other] = name
                        following.append(other)
            wave = following
        if start in came:
            ring = [came[start]]
            while ring[-1] != start:
                ring.append(came[ring[-1]])
            found = tuple(reversed(ring))
            if not best or len(found) < len(best):
                best = found
    return best
