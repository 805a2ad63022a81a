"""The state lines and hold points of the steps, joined over the machines printed for."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from benchleaf.applicability import Configuration
from benchleaf.paper.merged import by_value
from benchleaf.paper.names import named
from benchleaf.paper.subject import Subject
from benchleaf.physical.state_sheet import EnergyLine, MayStop, StateSheet, sheets

MOST_REASONS = 4
_PLACES = re.compile(r", at [^;]*, measure again")


def sheets_after(subject: Subject, number: int) -> list[tuple[Configuration, StateSheet]]:
    """The state sheet after a step of the procedure on every machine that has the step; 0 = before step 1."""
    found = []
    for on, made in _all_sheets(subject):
        found += [
            (on, one) for one in (made[:1] if number == 0 else made[1:]) if one.of is None or one.of.number == number
        ]
    return found


def _all_sheets(subject: Subject) -> tuple[tuple[Configuration, tuple[StateSheet, ...]], ...]:
    def make() -> tuple[tuple[Configuration, tuple[StateSheet, ...]], ...]:
        return tuple((one.ground.built.configuration, sheets(one)) for one in subject.replays)

    return subject.mbook.remember_lately(("state sheets", subject.procedure.id), make)


def stop_lines(subject: Subject, number: int) -> list[dict[str, Any]]:
    """Whether one may stop after a step: each different answer with its machines; reasons where they changed."""
    answers: dict[str, dict[Configuration, StateSheet]] = {}
    for on, one in sheets_after(subject, number):
        answers.setdefault(one.stop.words, {})[on] = one
    lines = []
    every = {on for found in answers.values() for on in found}
    for words, found in answers.items():
        changed = any(one.is_changed for one in found.values())
        line: dict[str, Any] = {
            "words": f"After this step: {words}.",
            "reasons": _reasons(subject, found) if changed else [],
        }
        only = subject.only(frozenset(found)) if set(found) != every else None
        lines.append(line | ({"only": only} if only else {}))
    return lines


def _reasons(subject: Subject, found: dict[Configuration, StateSheet]) -> list[str]:
    stops: list[MayStop] = [one.stop for one in found.values()]
    said = list(dict.fromkeys(reason for stop in stops for reason in stop.reasons))
    more = len(said) - MOST_REASONS
    shown = [*said[:MOST_REASONS], f"and {more} more reasons: see the state sheet"] if more > 1 else said
    again = _again(words for stop in stops for words in stop.before_going_on)
    return [*(f"– {named(subject.mbook, one)}" for one in shown), *(named(subject.mbook, one) for one in again)]


def _again(before_going_on: Iterable[str]) -> list[str]:
    """What is done after a break, joined over the machines: the more there is to prove, the stricter."""
    parts: dict[str, dict[str, None]] = {}
    for words in before_going_on:
        head, _, names = words.partition(": ")
        parts.setdefault(head, {}).update(dict.fromkeys(name for name in names.split(", ") if name))
    return [
        f"After any break, {head}: {', '.join(names)}" if names else f"After any break, {head}"
        for head, names in parts.items()
    ]


def start_lines(subject: Subject) -> list[dict[str, Any]]:
    """How each energy stands before step 1, after the required conditions, with the machines it is so on."""
    found = sheets_after(subject, 0)
    states = by_value((on, (line.energy, state_of(subject, line))) for on, one in found for line in one.energies)
    bare = frozenset(on for on, one in found if not one.energies)
    lines = [_start(subject, named(subject.mbook, energy), state, on) for (energy, state), on in states]
    if bare:
        lines.append(_start(subject, "Energy", "none is recorded, so everything counts as energised", bare))
    return lines


def state_of(subject: Subject, line: EnergyLine) -> str:
    """How an energy stands; on a sheet for several machines without the first few places, which differ from one to the
    next: what lies beyond the recorded points is measured again on all of them."""
    if len(subject.configurations) == 1:
        return line.state
    return _PLACES.sub(", measure again", line.state)


def _start(subject: Subject, energy: str, state: str, on: frozenset[Configuration]) -> dict[str, Any]:
    only = subject.only(on)
    return {"energy": energy, "words": state} | ({"only": only} if only else {})


def hold_lines(subject: Subject, number: int) -> list[str]:
    """What has to be seen and signed for before the work goes on."""
    return list(dict.fromkeys(hold for _, one in sheets_after(subject, number) for hold in one.holds))
