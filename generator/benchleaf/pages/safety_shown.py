"""The safety messages of a step as pages show them: gathered on every machine the step is for, and joined.

Which messages a step carries is worked out in ``benchleaf.safety_of_step`` for one machine as built. Here the machines
are put together: a message is for some of them only when it comes up on those alone, and nothing takes one away.
"""

from __future__ import annotations

from collections.abc import Iterable

from benchleaf.applicability import Configuration
from benchleaf.frozen import dataclass
from benchleaf.model import Library
from benchleaf.pages.addresses import Addresses
from benchleaf.pages.book import MachineBook
from benchleaf.pages.shown import SIGNALS, Applies, SafetyMessage
from benchleaf.records.teardown import Step, TeardownRecord
from benchleaf.safety_of_step import Combined, Reason, Why, combined, safety_of_step


@dataclass(frozen=True, slots=True)
class Gathered:
    """A message with the items that bring it and the machines it comes up on."""

    id: str
    items: tuple[str, ...]
    on: frozenset[Configuration]


@dataclass(frozen=True, slots=True)
class StepMessages:
    """What stands before a step; ``not_recorded`` says aloud what a prose step may expose."""

    gathered: tuple[Gathered, ...]
    not_recorded: str = ""


def gather(mbook: MachineBook, procedure: TeardownRecord, step: Step) -> StepMessages:
    """The messages of a step on the machines ``mbook`` holds."""

    def found() -> StepMessages:
        library = mbook.book.library
        made = [(one.configuration, safety_of_step(one, library, procedure, step)) for one in mbook.builts]
        unknown = next((safety.not_recorded for _, safety in made if safety.not_recorded), "")
        return StepMessages(joined((on, safety.messages) for on, safety in made), unknown)

    number = next((n for n, one in enumerate(procedure.steps) if one is step), step.place)
    return mbook.remember_lately(("step safety", procedure.id, procedure.place, number), found)


def joined(by_machine: Iterable[tuple[Configuration, tuple[Combined, ...]]]) -> tuple[Gathered, ...]:
    """The same message on several machines as one, in the order met."""
    items: dict[str, dict[str, None]] = {}
    on: dict[str, set[Configuration]] = {}
    for configuration, messages in by_machine:
        for one in messages:
            items.setdefault(one.id, {}).update((why.item, None) for why in one.reasons if why.item)
            on.setdefault(one.id, set()).add(configuration)
    return tuple(Gathered(id, tuple(names), frozenset(on[id])) for id, names in items.items())


def together(some: Iterable[Gathered]) -> tuple[Gathered, ...]:
    """Messages of several steps, each once, with everything that brings it."""
    items: dict[str, dict[str, None]] = {}
    on: dict[str, frozenset[Configuration]] = {}
    for one in some:
        items.setdefault(one.id, {}).update(dict.fromkeys(one.items))
        on[one.id] = on.get(one.id, frozenset()) | one.on
    return tuple(Gathered(id, tuple(names), on[id]) for id, names in items.items())


def item_messages(mbook: MachineBook, name: str) -> tuple[SafetyMessage, ...]:
    """What an item brings to every step that touches or uncovers it."""
    library = mbook.book.library
    by_machine = []
    for built in mbook.builts:
        item = built.items.get(name)
        if item is not None:
            ids = (*(item.hazards or ()), *(item.handling or ()))
            reasons = [Reason(str(id), Why.TOUCHED, name) for id in ids]
            by_machine.append((built.configuration, combined(built, library, reasons)))
    return shown(mbook, joined(by_machine))


def shown(mbook: MachineBook, some: Iterable[Gathered]) -> tuple[SafetyMessage, ...]:
    """Messages in full, most severe first."""
    made = []
    for one in some:
        at = f"at {', '.join(mbook.item_words(name) for name in one.items)}" if one.items else None
        message = message_of(mbook.book.library, one.id, applies=mbook.words_for(one.on), at=at)
        if message is not None:
            made.append(message)
    return in_severity(made)


def message_of(
    library: Library, id: str, *, applies: Applies | None = None, at: str | None = None
) -> SafetyMessage | None:
    """A message of the library in its parts; ``at`` names the things that bring it here."""
    one = library.safety.get(id)
    if one is None:
        return None
    return SafetyMessage(
        signal=one.signal,  # type: ignore[arg-type]
        hazard=str(one.hazard),
        consequence=one.consequence,
        avoid=one.avoid,
        where=at or one.where,
        symbol=one.symbol,
        sign=Addresses.sign(one.symbol) if one.symbol else None,
        applies=applies,
        link=f"safety.html#safety-{id}",
    )


def in_severity(messages: Iterable[SafetyMessage]) -> tuple[SafetyMessage, ...]:
    """Most severe first (ANSI Z535.6), else in the order they came."""
    return tuple(sorted(messages, key=lambda one: SIGNALS.index(one.signal)))
