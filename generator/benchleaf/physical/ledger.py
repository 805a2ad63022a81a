"""The ledger: everything taken off, opened, lifted, cut, drained or switched off, and not put back yet.

It closes to zero, or to what a record declares with ``on-return``. A step that says nothing checkable keeps it open.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from benchleaf.frozen import dataclass
from benchleaf.physical.ground import Ground
from benchleaf.physical.state import CAPPED, FEET, NOT_RECORDED, OFF, SLID, State
from benchleaf.wiring.contacts import shown


@dataclass(frozen=True, slots=True, order=True)
class Entry:
    """One open line. ``kind`` is the column it belongs to, ``key`` tells it from every other."""

    kind: str
    what: str
    words: str

    @property
    def key(self) -> tuple[str, str]:
        return (self.kind, self.what)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ledger:
    """What is open. ``exceptions`` are declared by ``on-return``; ``as_found`` were so before the work began."""

    open: tuple[Entry, ...]
    exceptions: tuple[Entry, ...] = ()
    as_found: tuple[Entry, ...] = ()
    unchecked: int = 0

    @property
    def is_closed(self) -> bool:
        """Nothing is open, and no step left anything unchecked."""
        return not self.open and not self.unchecked

    @property
    def words(self) -> str:
        """``closed``, ``open: 3 lines``, ``open: 2 unchecked steps``."""
        if self.is_closed:
            return "closed" if not self.exceptions else f"closed, {_many(len(self.exceptions), 'declared exception')}"
        said = [_many(len(self.open), "line")] if self.open else []
        said += [_many(self.unchecked, "unchecked step")] if self.unchecked else []
        return f"open: {' and '.join(said)}"


def _many(number: int, words: str) -> str:
    return f"{number} {words}{'' if number == 1 else 's'}"


def ledger(ground: Ground, state: State, declared: frozenset[tuple[str, str]] = frozenset()) -> Ledger:
    """The ledger of a state; ``declared`` are the keys of entries that a record says are left so."""
    entries = tuple(open_entries(ground, state))
    return Ledger(
        open=tuple(one for one in entries if one.key not in declared),
        exceptions=tuple(one for one in entries if one.key in declared),
        as_found=tuple(_as_found(ground)),
        unchecked=len(state.unchecked),
    )


def open_entries(ground: Ground, state: State) -> Iterator[Entry]:
    """Every open line of a state, in the columns of the ledger."""
    yield from _fasteners(ground, state)
    for item, where in sorted(state.items.items()):
        said = where if where == OFF else "slid, not home" if where == SLID else f"at {where}"
        yield Entry("item", item, f"{item} is {said}")
    for item in sorted(state.opened):
        yield Entry("item open", item, f"{item} is open")
    for cable, connector in sorted(state.unmated):
        yield Entry("cable end", f"{cable} at {connector}", f"{cable} is unplugged at {connector}")
    for cable, contact in sorted(state.lifted):
        yield Entry("lead", f"{cable} at {contact}", f"the lead of {cable} at {shown(contact)} is lifted")
    for name in sorted(state.ties):
        yield Entry("tie", name, f"{name} is open")
    yield from _fluids(state)
    for item in sorted(state.covered):
        yield Entry("cover", item, f"{item} is still covered")
    for cable in sorted(state.labelled):
        yield Entry("label", cable, f"{cable} still bears its labels")
    for what in sorted(state.due):
        yield Entry("renewal", what, f"{what} has to be renewed: it was taken off")
    for name in sorted(state.unset):
        yield Entry("adjuster", name, f"{name} was disturbed and is not set")
    for item in sorted(state.unrestored):
        yield Entry("settings", item, f"{item} is new: its settings are not restored")
    if state.stand != FEET:
        yield Entry("stand", "machine", f"the machine lies on its {state.stand}")
    for name, how in sorted(state.energies.items()):
        if how != NOT_RECORDED:
            yield Entry("energy", name, f"{name} is {how}, not back")


def _fasteners(ground: Ground, state: State) -> Iterator[Entry]:
    for name in sorted(state.counts):
        counts, recorded = state.counts[name], ground.built.sets[name].count
        if counts.out:
            yield Entry("fastener", f"{name} out", f"{counts.out} of {recorded} {name} out")
        if counts.loose:
            yield Entry("fastener", f"{name} loose", f"{counts.loose} of {recorded} {name} loose")
    for item in sorted(state.loosened):
        words = f"what holds {item} was released and is not recorded: count it yourself"
        yield Entry("fastener", f"{item} not recorded", words)


def _fluids(state: State) -> Iterator[Entry]:
    for (line, item), how in sorted(state.joints.items()):
        said = "open, its two caps on" if how == CAPPED else "open"
        yield Entry("joint", f"{line} at {item}", f"{line} at {item} is {said}")
    for line in sorted(state.clamped):
        yield Entry("clamp", line, f"{line} is clamped")
    for circuit in sorted(state.drained):
        yield Entry("circuit", circuit, f"{circuit} is drained")


def _as_found(ground: Ground) -> Iterator[Entry]:
    for one in ground.built.as_found:
        said = f" ({one.note})" if one.note else ""
        missing = f"{one.missing} missing from {one.set}" if one.missing else f"a deviation at {one.set}"
        yield Entry("as found", str(one.set), f"{missing} when serial {one.serial} came in{said}")


def changes(before: Ledger, after: Ledger) -> Mapping[str, tuple[Entry, ...]]:
    """What a step opened and closed: ``opened`` and ``closed`` entries."""
    old, new = {one.key for one in before.open}, {one.key for one in after.open}
    return {
        "opened": tuple(one for one in after.open if one.key not in old),
        "closed": tuple(one for one in before.open if one.key not in new),
    }
