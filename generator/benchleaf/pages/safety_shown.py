"""Which safety messages stand before a step: those its author names, and those the things it touches or exposes bring.

An author cannot forget one: what is hot, sharp, charged or live is recorded on the item, and every step that lays hands
on it, or takes away what it is behind, carries the message. Deleting a fact never takes a message away here; a message
is for some machines only when everything that brings it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from benchleaf.applicability import Configuration
from benchleaf.model import Library
from benchleaf.pages.addresses import Addresses
from benchleaf.pages.book import MachineBook
from benchleaf.pages.shown import SIGNALS, Applies, SafetyMessage
from benchleaf.pages.uses import touched
from benchleaf.records import shared
from benchleaf.records.actions import Action
from benchleaf.records.teardown import Step, TeardownRecord

HANDS_OFF = ("label", "photograph", "inspect", "cover", "prove dead")
"""Verbs that touch nothing: what they come near still brings its hazards."""
TAKES_AWAY = ("lift off", "move", "slide", "open")
"""Verbs after which what stood behind their item lies open."""


@dataclass(frozen=True, slots=True)
class Brought:
    """One reason for a message: its id, the item that brings it (empty = the step's author), and on which machines."""

    safety: str
    item: str
    on: frozenset[Configuration]


def message_of(library: Library, id: str, *, applies: Applies | None = None, at: str | None = None) -> SafetyMessage | None:
    """A message of the library in its parts; ``at`` names the things that bring it here."""
    one = library.safety.get(id)
    return None if one is None else _message(one, id, applies, at)


def _message(one: shared.SafetyMessage, id: str, applies: Applies | None, at: str | None) -> SafetyMessage:
    signal = one.signal
    assert signal in SIGNALS
    return SafetyMessage(
        signal=signal,  # type: ignore[arg-type]
        hazard=str(one.hazard),
        consequence=one.consequence,
        avoid=one.avoid,
        where=at or one.where,
        symbol=one.symbol,
        sign=Addresses.sign(one.symbol) if one.symbol else None,
        applies=applies,
        link=f"safety.html#safety-{id}",
    )


def step_messages(mbook: MachineBook, procedure: TeardownRecord, step: Step) -> tuple[SafetyMessage, ...]:
    """The messages that stand directly before a step, most severe first; the same hazard from several things is one."""
    narrow = mbook.narrowed(procedure.applies, step.applies)
    return combined(narrow, brought(narrow, step))


def brought(mbook: MachineBook, step: Step) -> tuple[Brought, ...]:
    """Everything that brings a message to a step, the author's own first."""
    everywhere = frozenset(mbook.configurations)
    found = [Brought(str(id), "", everywhere) for id in step.safety]
    for action in (*(step.do or ()), *(step.on_return or ())):
        found += action_brings(mbook, action)
    return tuple(dict.fromkeys(found))


def action_brings(mbook: MachineBook, action: Action) -> Iterator[Brought]:
    for item in touched(mbook, action).items:
        hands_off = action.verb in HANDS_OFF
        yield from _of_item(mbook, item, handling=not hands_off)
        if action.verb in TAKES_AWAY:
            for behind in exposed_by(mbook).get(item, ()):
                yield from _of_item(mbook, behind, handling=False)


def _of_item(mbook: MachineBook, item: str, *, handling: bool) -> Iterator[Brought]:
    """What an item brings, and what the things it sits in bring: they can move, burn or cut as well."""
    for n, name in enumerate(_chain(mbook, item)):
        for form in mbook.items(name):
            for id in form.value.hazards or ():
                yield Brought(str(id), name, form.on)
            for id in (form.value.handling or ()) if handling and n == 0 else ():
                yield Brought(str(id), name, form.on)


def _chain(mbook: MachineBook, item: str) -> tuple[str, ...]:
    chain = {name: None for built in mbook.builts if item in built.items for name in built.chain(item)}
    return tuple(chain)


def exposed_by(mbook: MachineBook) -> dict[str, tuple[str, ...]]:
    """Item → the items with a hazard that stand behind it on some machine."""

    def found() -> dict[str, tuple[str, ...]]:
        fronts: dict[str, set[str]] = {}
        for built in mbook.builts:
            for name, item in built.items.items():
                if not item.hazards:
                    continue
                ways = [built.behind(name), built.reach(name)]
                ways += [built.reach_of_connector(one) for one in built.connectors_of.get(name, ())]
                ways += [built.reach_of_set(one.name) for one in built.sets_of(name)]
                for front in {one.item for way in ways for clause in way for option in clause for one in option}:
                    fronts.setdefault(front, set()).add(name)
        return {front: tuple(sorted(behind)) for front, behind in fronts.items()}

    return mbook.remember(("exposed by",), found)


def combined(mbook: MachineBook, reasons: Iterable[Brought]) -> tuple[SafetyMessage, ...]:
    """One message a hazard, naming all that brings it; most severe first, then in the order met."""
    by_id: dict[str, list[Brought]] = {}
    for one in reasons:
        by_id.setdefault(one.safety, []).append(one)
    made: list[SafetyMessage] = []
    for id, many in by_id.items():
        items = dict.fromkeys(one.item for one in many if one.item)
        at = f"Here: {'; '.join(mbook.item_words(name) for name in items)}" if items else None
        on = frozenset().union(*(one.on for one in many))
        message = message_of(mbook.book.library, id, applies=mbook.words_for(on), at=at)
        if message is not None:
            made.append(message)
    return in_severity(made)


def in_severity(messages: Iterable[SafetyMessage]) -> tuple[SafetyMessage, ...]:
    """Most severe first (ANSI Z535.6), else in the order they came."""
    return tuple(sorted(messages, key=lambda one: SIGNALS.index(one.signal)))


def general_messages(library: Library) -> tuple[SafetyMessage, ...]:
    """What the shop says before every procedure."""
    found = (message_of(library, str(id)) for id in library.shop.standing_safety)
    return in_severity(one for one in found if one is not None)
