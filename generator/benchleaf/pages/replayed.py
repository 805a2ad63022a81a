"""What replaying a procedure tells a page: how the machine stands after a step, whether to stop, what the ledger holds.

Each machine is replayed by itself; here their answers are put together, each with the machines it is for.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchleaf.applicability import Configuration
from benchleaf.frozen import dataclass
from benchleaf.pages.book import MachineBook
from benchleaf.pages.readable import readable, sentence_of
from benchleaf.pages.shown import ListedState
from benchleaf.physical.findings import replays_of
from benchleaf.physical.ledger import Entry, changes, ledger
from benchleaf.physical.replay import Replay
from benchleaf.physical.state_sheet import EnergyLine, MayStop, StateSheet, Stop, sheets
from benchleaf.records.teardown import TeardownRecord


@dataclass(frozen=True, slots=True, kw_only=True)
class AfterStep:
    """One machine after one step of a procedure."""

    on: Configuration
    sheet: StateSheet
    opened: tuple[Entry, ...]
    closed: tuple[Entry, ...]
    open: int
    unchecked: int


def replays(mbook: MachineBook, procedure: TeardownRecord) -> tuple[Replay, ...]:
    return replays_of(mbook.book.derived, mbook.machine, procedure)


def after_step(mbook: MachineBook, procedure: TeardownRecord, number: int) -> tuple[AfterStep, ...]:
    """How every machine the step is for stands after it."""
    return _after(mbook, procedure).get(number, ())


def _after(mbook: MachineBook, procedure: TeardownRecord) -> dict[int, tuple[AfterStep, ...]]:
    return mbook.remember_lately(("after steps", procedure.id), lambda: after_steps(replays(mbook, procedure)))


def after_steps(some: Iterable[Replay]) -> dict[int, tuple[AfterStep, ...]]:
    """How the machines stand after each step of one procedure, by its number."""
    made: dict[int, list[AfterStep]] = {}
    for one in some:
        before = ledger(one.ground, one.after(0))
        for step, sheet in zip(one.own_steps, sheets(one)[1:], strict=True):
            now = ledger(one.ground, step.after)
            changed = changes(before, now)
            made.setdefault(step.of.number, []).append(
                AfterStep(
                    on=one.ground.built.configuration,
                    sheet=sheet,
                    opened=tuple(changed["opened"]),
                    closed=tuple(changed["closed"]),
                    open=len(now.open),
                    unchecked=now.unchecked,
                )
            )
            before = now
    return {number: tuple(many) for number, many in made.items()}


class _Gathered:
    """Things said of machines one by one, put together: what is true of the same machines stands in one row."""

    def __init__(self) -> None:
        self.on: dict[Said, set[Configuration]] = {}

    def add(self, on: Configuration, mark: str, name: str, *words: str) -> None:
        for one in words:
            self.on.setdefault((mark, name, one), set()).add(on)

    def rows(self, narrow: MachineBook) -> tuple[ListedState, ...]:
        """One row for each mark, name and set of machines, with all its words."""
        grouped: dict[tuple[str, str, frozenset[Configuration]], list[str]] = {}
        for (mark, name, words), on in self.on.items():
            grouped.setdefault((mark, name, frozenset(on)), []).append(words)
        rows = [
            ListedState(mark=mark, name=name, words=f"{sentence_of('; '.join(words))}.", applies=narrow.words_for(on))
            for (mark, name, on), words in grouped.items()
        ]
        return tuple(sorted(rows, key=lambda row: ORDER.index(row.mark)))


Said = tuple[str, str, str]
ORDER = ("live", "hot", "unknown", "hold", "pause", "wet", "off", "open", "lifted", "done")
"""What a reader has to know first stands first."""
MARKS = {Stop.PAUSE: "pause", Stop.ATTENDED: "hold", Stop.DO_NOT: "hold"}
BREAK = "After any break"


def stop_rows(narrow: MachineBook, some: Iterable[AfterStep]) -> tuple[ListedState, ...]:
    """May I stop here: each answer with its reasons, what is done after a break, and the machines it is for."""
    gathered = _Gathered()
    for one in some:
        stop = one.sheet.stop
        gathered.add(one.on, MARKS[stop.answer], sentence_of(stop.words), *_reasons(narrow, stop))
        gathered.add(one.on, "unknown", BREAK, *_again(narrow, stop))
    return tuple(sorted(gathered.rows(narrow), key=lambda row: row.name == BREAK))


def _reasons(mbook: MachineBook, stop: MayStop) -> list[str]:
    return [readable(mbook, reason) for reason in stop.reasons] or ["the machine may stay like this"]


def _again(mbook: MachineBook, stop: MayStop) -> Iterator[str]:
    for words in stop.before_going_on:
        what, colon, names = words.partition(": ")
        yield from (f"{what} {readable(mbook, name)}" for name in names.split(", ")) if colon else (words,)


def has_changed(some: Iterable[AfterStep]) -> bool:
    """Whether the stop answer differs from that of the step before on any machine."""
    return any(one.sheet.is_changed for one in some)


def strictest(narrow: MachineBook, some: tuple[AfterStep, ...]) -> ListedState | None:
    """The strictest answer of all machines, for the card of a step."""
    if not some:
        return None
    order = list(Stop)
    answer = max((one.sheet.stop.answer for one in some), key=order.index)
    those = [one for one in some if one.sheet.stop.answer is answer]
    names = dict.fromkeys(sentence_of(one.sheet.stop.words) for one in those)
    reasons = dict.fromkeys(reason for one in those for reason in _reasons(narrow, one.sheet.stop))
    return ListedState(
        mark=MARKS[answer],
        name=" or ".join(names),
        words=f"{sentence_of('; '.join(reasons))}.",
        applies=narrow.words_for({one.on for one in those}),
    )


def state_rows(narrow: MachineBook, some: Iterable[AfterStep]) -> tuple[ListedState, ...]:
    """How the machine stands: live first, then what is wet, off, open, lifted, and what lies in which tray."""
    gathered = _Gathered()
    for one in some:
        for mark, name, words in _of_sheet(narrow, one.sheet):
            gathered.add(one.on, mark, name, words)
    return gathered.rows(narrow)


BEYOND = "beyond a fuse, switch, relay, diode or connector the proof says nothing: measure again there"


def _of_sheet(mbook: MachineBook, sheet: StateSheet) -> Iterator[Said]:
    for line in sheet.energies:
        yield from _of_energy(mbook, line)
    if not sheet.energies:
        yield "live", "Not recorded", "no energy is recorded: everything counts as energised"
    for item in sheet.off:
        yield "off", "Off", mbook.item_words(item)
    for moved in sheet.moved:
        item, _, where = moved.partition(": ")
        yield "off", "Moved", f"{mbook.item_words(item)} {where}"
    for loose in sheet.loose:
        yield "off", "Loose", readable(mbook, loose)
    for unplugged in sheet.unplugged:
        yield "open", "Unplugged", unplugged
    for lead in sheet.lifted:
        yield "lifted", "Lifted leads", lead.replace(".", ":")
    for wet in sheet.wet:
        yield "wet", "Lines", readable(mbook, wet)
    for tray in sheet.trays:
        yield "off", f"Tray {tray.tray}", f"{tray.count} {readable(mbook, tray.set)}"
    for hold in sheet.holds:
        yield "hold", "Seen before going on", readable(mbook, hold)


def _of_energy(mbook: MachineBook, line: EnergyLine) -> Iterator[Said]:
    title = readable(mbook, line.energy)
    if line.is_proved:
        yield "done", "Proved dead", f"{title}, at its recorded points"
        if line.not_proved_at:
            yield "unknown", "Not everywhere", BEYOND
        for item in line.not_proved_at:
            if item in line.is_open:
                yield "unknown", "In reach: measure first", mbook.item_words(item)
        return
    where = ", ".join(mbook.item_words(item) for item in line.is_open)
    mark = "hot" if _is_thermal(mbook, line.energy) else "live"
    yield (
        mark,
        "Not proved dead",
        f"{title} is {readable(mbook, line.state)}{f'; a hand can reach {where}' if where else ''}",
    )


def _is_thermal(mbook: MachineBook, energy: str) -> bool:
    found = mbook.record.energy.get(energy)
    return found is not None and found.kind == "thermal"


def entry_words(mbook: MachineBook, entry: Entry) -> str:
    """A line of the ledger in words."""
    return sentence_of(readable(mbook, entry.words))


def ledger_rows(narrow: MachineBook, some: tuple[AfterStep, ...]) -> tuple[ListedState, ...]:
    """What a step opened and closed in the ledger, with the machines it is for."""
    gathered = _Gathered()
    for one in some:
        for entry in one.opened:
            gathered.add(one.on, "open", "Opened", entry_words(narrow, entry))
        for entry in one.closed:
            gathered.add(one.on, "done", "Closed", entry_words(narrow, entry))
    return gathered.rows(narrow)


def ledger_words(some: tuple[AfterStep, ...]) -> str:
    """``Open after this step: 12 lines`` (least to most where machines differ)."""
    counts = sorted({one.open for one in some})
    number = str(counts[0]) if len(counts) == 1 else f"{counts[0]} to {counts[-1]}"
    lines = "line" if number == "1" else "lines"
    unchecked = max(one.unchecked for one in some)
    tail = f", and {unchecked} unchecked step{'s' * (unchecked > 1)}" if unchecked else ""
    return f"Open in the ledger after this step: {number} {lines}{tail}."
