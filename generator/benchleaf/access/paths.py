"""The shortest way to an item, as it is read: what to do in which order, how long it takes, what nobody recorded.

The price is by the facts alone. What is touched has to be proved dead first, and the points for that may lie behind
other covers: then the way actually gone is told beside it, with what it opens for the proof.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import replace
from typing import Literal

from benchleaf.access.gaps import gaps_of
from benchleaf.access.order import by_hand
from benchleaf.access.ways import Ways
from benchleaf.access.words import Words
from benchleaf.frozen import dataclass
from benchleaf.physical.least_path import AccessPath, OutOfReach
from benchleaf.physical.operations import named

Goal = Literal["reach", "remove", "replace"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """One operation of a path. ``time`` in seconds; ``tool`` is what is in hand, in words.

    ``for_proof``: it is done only so that an energy can be proved dead. ``gaps``: what nobody recorded of it.
    """

    id: str
    words: str
    time: float
    tool: str
    for_proof: bool = False
    gaps: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Access:
    """The shortest way to an item on one machine as built.

    ``time`` is the price by the facts alone, in seconds, and no way takes less than ``bound``; ``works`` is the way
    gone, in order, and ``work_time`` what it takes. The two differ where something is opened only to prove an energy
    dead. ``isolate`` and ``prove`` are energies, in the order of the record. ``is_least``: nothing is quicker, of the
    quickest none needs fewer operations, of those none fewer tool changes; else ``why_not_least`` says what was not
    proved. ``out_of_reach`` says why there is no way; everything else is empty then.
    """

    machine: str
    configuration: str
    item: str
    goal: Goal
    title: str
    targets: tuple[str, ...]
    time: float = 0.0
    bound: float = 0.0
    is_least: bool = False
    why_not_least: str = ""
    priced: tuple[Work, ...] = ()
    works: tuple[Work, ...] = ()
    work_time: float = 0.0
    order: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    tool_changes: int = 0
    ends_opened: tuple[str, ...] = ()
    isolate: tuple[str, ...] = ()
    prove: tuple[str, ...] = ()
    gaps: tuple[str, ...] = ()
    out_of_reach: str = ""

    @property
    def is_reached(self) -> bool:
        return not self.out_of_reach

    @property
    def opens_for_proof(self) -> tuple[Work, ...]:
        """What is opened only to prove an energy dead."""
        return tuple(one for one in self.works if one.for_proof)


def access_path(ways: Ways, item: str, goal: Goal = "remove") -> Access:
    """The shortest way to reach, remove or replace an item. Raises KeyError for an item this machine does not have."""
    words = Words(ways)
    targets = targets_of(ways, item, goal)
    priced = ways.path(targets, dead=False)
    gone = ways.path(targets, dead=True)
    base = Access(
        machine=str(ways.built.machine.id),
        configuration=ways.built.configuration.label,
        item=item,
        goal=goal,
        title=f"{goal.capitalize()} {words.item(item)}",
        targets=targets,
    )
    if isinstance(priced, OutOfReach):
        return replace(base, out_of_reach=words.why_not(priced))
    if isinstance(gone, OutOfReach):
        reason = f"it cannot be proved dead before it is touched: {words.why_not(gone)}"
        return replace(base, time=priced.time, bound=priced.bound, out_of_reach=reason)
    order = by_hand(ways.ground, ways.dead_network.operations, gone.order)
    first = by_hand(ways.ground, ways.network.operations, priced.order)
    done = ways.works(order)
    for_proof = set(done) - ways.needed(targets, done) if gone.time > priced.time else set()
    isolate, prove = _energies(ways, order)
    gaps = gaps_of(ways, item, goal, done, prove)
    return replace(
        base,
        time=priced.time,
        bound=priced.bound,
        is_least=priced.exact and gone.exact,
        why_not_least=priced.reason or gone.reason,
        priced=_works(ways, words, ways.works(first), set(), {}),
        works=_works(ways, words, done, for_proof, gaps.of_work),
        work_time=gone.time,
        order=order,
        tools=tuple(words.tool(one) for one in gone.tools),
        tool_changes=gone.tool_changes,
        ends_opened=tuple(words.end(one) for one in done if named(one).kind in ("open", "joint")),
        isolate=isolate,
        prove=prove,
        gaps=gaps.all,
    )


def targets_of(ways: Ways, item: str, goal: Goal) -> tuple[str, ...]:
    """The operations that a goal is: an item reached, off, or off with every cable out of it that can be.

    A new part comes without the cables of the machine; a lead that is soldered on comes with it.
    """
    if item not in ways.built.items:
        raise KeyError(item)
    if goal == "reach":
        return (f"reach:{item}",)
    off = f"off:{item}"
    if goal == "remove" or off not in ways.network.operations:
        return (off,)
    ends = [
        f"open:{crossing.id}@{end.at}"
        for crossing in ways.ground.crossings(item)
        if crossing.kind == "cable"
        for end in crossing.inner
        if end.opens and end.item == item
    ]
    wanted = (off, *ends)
    return wanted if isinstance(ways.path(wanted, dead=True), AccessPath) else (off,)


def _works(
    ways: Ways, words: Words, done: Iterable[str], for_proof: AbstractSet[str], gaps: Mapping[str, tuple[str, ...]]
) -> tuple[Work, ...]:
    return tuple(
        Work(
            id=one,
            words=words.of(one),
            time=ways.operation(one).time,
            tool=words.tool(ways.operation(one).tool or ""),
            for_proof=one in for_proof,
            gaps=gaps.get(one, ()),
        )
        for one in done
    )


def _energies(ways: Ways, order: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The energies a path isolates, and of these the ones it proves dead.

    Where any is isolated, every electrical one goes with it whose devices can be reached from outside.
    """
    names = [named(one) for one in order]
    prove = {one.what for one in names if one.kind == "proved"}
    isolate = prove | {one.what for one in names if one.kind == "isolated"}
    if isolate:
        energy = ways.built.energy
        outside = ways.done(())
        isolate |= {name for name in energy if energy[name].kind == "electrical" and f"isolated:{name}" in outside}
    return tuple(n for n in ways.built.energy if n in isolate), tuple(n for n in ways.built.energy if n in prove)
