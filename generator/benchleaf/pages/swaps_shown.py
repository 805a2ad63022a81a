"""The swap table as pages show it: pairs by what the worst of them leads to, each with every way, contact by contact.

A reader sees first what goes wrong and between which contacts; whether it can happen at their step, and whether another
order of the steps takes it away, stands beside it. All other contacts are one keystroke off, without a script.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from benchleaf.applicability import Configuration
from benchleaf.connectors.everywhere import PairEverywhere, Somewhere, pairs_everywhere
from benchleaf.connectors.meeting import Consequence
from benchleaf.connectors.swaps import Pair
from benchleaf.connectors.ways import NO_CONTACT, NOT_KNOWN, Effect, Way
from benchleaf.frozen import dataclass
from benchleaf.pages.addresses import slugs
from benchleaf.pages.book import MachineBook
from benchleaf.pages.plugs_shown import end_line
from benchleaf.pages.shown import Applies, Line, Row, Table
from benchleaf.records.teardown import TeardownRecord

PERHAPS = "only if an unchecked step opened one of them"
NO_PROCEDURE = (
    "Where no procedure is named, none whose steps all say what they open has both ends open at the same time. "
    "Whoever has both open can still mistake them."
)
NOTHING = "No two ends that go into each other's place are recorded to be open at the same time."
_MET = {NO_CONTACT: "none", NOT_KNOWN: "not known which"}


@dataclass(frozen=True, slots=True, kw_only=True)
class WayShown:
    """One plug in one wrong place: what the worst contact leads to, and all contacts."""

    words: str
    consequence: str
    applies: Applies | None
    table: Table


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeShown:
    """When both ends are open: the steps or the procedures; ``order`` says how another order takes the pair away."""

    lines: tuple[Line, ...]
    order: str
    applies: Applies | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapShown:
    """Two ends, or one turned round. ``worst`` is what meets at its worst contact, ``ways`` every way it goes in."""

    anchor: str
    ends: tuple[Line, ...]
    turned: bool
    worst: str
    applies: Applies | None
    times: tuple[TimeShown, ...]
    ways: tuple[WayShown, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapGroup:
    """All pairs whose worst contact leads to the same."""

    title: str
    anchor: str
    swaps: tuple[SwapShown, ...]


def swap_groups(mbook: MachineBook, procedure: TeardownRecord | None = None) -> tuple[SwapGroup, ...]:
    """Every pair of ends of a machine, or of those a procedure opens together: worst first, all ways and contacts."""
    narrow = mbook if procedure is None else mbook.narrowed(procedure.applies)
    found = pairs_everywhere(mbook.book.derived, mbook.machine, procedure)
    anchors = anchors_of(found)
    groups: dict[Consequence, list[SwapShown]] = {}
    for one in found:
        times = tuple(_times(mbook, narrow, one, procedure) if procedure is not None else _procedures(mbook, one))
        pair = one.pair.value
        shown = SwapShown(
            anchor=anchors[pair.name],
            ends=tuple(end_line(mbook, end) for end in dict.fromkeys((pair.one, pair.two))),
            turned=pair.is_turned,
            worst=worst_words(one.ways[0].value),
            applies=_words(narrow, one.pair, narrow.configurations),
            times=times,
            ways=tuple(_way(narrow, way, one.pair.configurations) for way in one.ways),
        )
        groups.setdefault(pair.worst.consequence, []).append(shown)
    return tuple(
        SwapGroup(title=_capital(what.value), anchor=f"swaps-{what.name.lower().replace('_', '-')}", swaps=tuple(many))
        for what, many in groups.items()
    )


def anchors_of(found: Iterable[PairEverywhere]) -> Mapping[str, str]:
    """Pair → where it stands on its page."""
    return {name: f"swap-{made}" for name, made in slugs(one.pair.value.name for one in found).items()}


def swap_lines_of_end(mbook: MachineBook, end: str) -> tuple[Line, ...]:
    """The pairs an end belongs to, worst first, each with its place in the machine's swap table."""

    def make() -> tuple[tuple[PairEverywhere, ...], Mapping[str, str]]:
        found = pairs_everywhere(mbook.book.derived, mbook.machine)
        return found, anchors_of(found)

    found, anchors = mbook.remember(("pairs everywhere",), make)
    lines = []
    for one in found:
        pair = one.pair.value
        if end in (pair.one, pair.two):
            lines.append(
                Line(
                    words="turned round" if pair.is_turned else pair.two if end == pair.one else pair.one,
                    path=f"{mbook.at.list('swaps')}#{anchors[pair.name]}",
                    note=f"{pair.worst.consequence.value}: {worst_words(one.ways[0].value)}",
                    applies=_words(mbook, one.pair, mbook.configurations),
                )
            )
    return tuple(lines)


def worst_words(way: Way) -> str:
    """``W6 in A9-J7, contact 2 on 2: out (up to 5 V) meets out (level not recorded)``."""
    worst = min(way.effects, key=lambda one: one.meeting.sort_key)
    return f"{way.words}, contact {worst.contact} on {_met(worst)}: {worst.meeting.words}"


def _met(effect: Effect) -> str:
    return _MET.get(effect.meets, effect.meets)


def _way(mbook: MachineBook, some: Somewhere[Way], on: Iterable[Configuration]) -> WayShown:
    way = some.value
    rows = tuple(
        Row(cells=(f"{one.contact} on {_met(one)}", one.meeting.words, one.meeting.consequence.value))
        for one in way.effects
    )
    return WayShown(
        words=way.words,
        consequence=way.worst.consequence.value,
        applies=_words(mbook, some, on),
        table=Table(
            caption=f"{way.words}: contact by contact",
            heads=("Contact", "What meets", "Leads to"),
            rows=rows,
            nothing="",
            name="contacts-met",
        ),
    )


def _words(mbook: MachineBook, some: Somewhere[Any], on: Iterable[Configuration]) -> Applies | None:
    """For which machines: nothing where it is so on all that have the thing."""
    here = frozenset(some.configurations)
    return None if here >= frozenset(on) else mbook.words_for(here)


def _times(
    mbook: MachineBook, narrow: MachineBook, one: PairEverywhere, procedure: TeardownRecord
) -> Iterator[TimeShown]:
    """In a procedure: the steps that open the ends."""
    for time in one.times:
        yield TimeShown(
            lines=tuple(_step_lines(mbook, time.value, procedure)),
            order=time.value.removed_by,
            applies=_words(narrow, time, one.pair.configurations),
        )


def _step_lines(mbook: MachineBook, pair: Pair, procedure: TeardownRecord) -> Iterator[Line]:
    for step in pair.steps:
        mine = step.procedure == procedure.id
        known = step.procedure in mbook.machine.procedures
        yield Line(
            words=f"step {step.number}" if mine else f"step {step.number} of {step.procedure}",
            path=mbook.at.step(step.procedure, step.number) if known else None,
            note=None if pair.certain else PERHAPS,
        )


def _procedures(mbook: MachineBook, one: PairEverywhere) -> Iterator[TimeShown]:
    """On the machine: the procedures whose own steps open both."""
    name = one.pair.value.name
    for id, times in _opened_together(mbook).get(name, {}).items():
        procedure = mbook.machine.procedures[id]
        for time in times:
            line = Line(words=str(procedure.title), path=f"{mbook.at.plugs(procedure.id)}#{_anchor(mbook, id, name)}")
            yield TimeShown(
                lines=(line,), order=time.value.removed_by, applies=_words(mbook, time, one.pair.configurations)
            )


def _opened_together(mbook: MachineBook) -> Mapping[str, Mapping[str, tuple[Somewhere[Pair], ...]]]:
    """Pair → the procedures whose own steps open both ends at the same time."""

    def make() -> Mapping[str, Mapping[str, tuple[Somewhere[Pair], ...]]]:
        found: dict[str, dict[str, tuple[Somewhere[Pair], ...]]] = {}
        for id, procedure in mbook.machine.procedures.items():
            for one in pairs_everywhere(mbook.book.derived, mbook.machine, procedure):
                certain = tuple(time for time in one.times if time.value.certain)
                if certain:
                    found.setdefault(one.pair.value.name, {})[str(id)] = certain
        return found

    return mbook.remember(("opened together",), make)


def _anchor(mbook: MachineBook, id: str, name: str) -> str:
    procedure = mbook.machine.procedures[id]

    def make() -> Mapping[str, str]:
        return anchors_of(pairs_everywhere(mbook.book.derived, mbook.machine, procedure))

    return mbook.remember(("swap anchors", id), make)[name]


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
