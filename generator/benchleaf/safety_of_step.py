"""Which safety messages stand before a step, so that its author cannot forget one.

A step carries the messages its author names, those of every item it lays hands on (``handling``, ``hazards``), and
those of every item it uncovers; an item of which nobody recorded what it is behind counts as uncovered by whatever is
taken away. One hazard from several items is one message that names them all. A prose step may uncover anything, and
says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import Enum

from benchleaf.applicability import holds
from benchleaf.built import FRAME, Built
from benchleaf.drawings.safety_sign import TITLES
from benchleaf.frozen import dataclass
from benchleaf.model import Library
from benchleaf.records.actions import VERBS, Action, Kind
from benchleaf.records.shared import SIGNALS, SafetyMessage
from benchleaf.records.teardown import Step, TeardownRecord
from benchleaf.records.types import Choices

HANDS_OFF = ("label", "photograph", "inspect", "cover", "prove dead")
"""Verbs that lay no hand on their object; what they come near still shows its hazards."""
UNCOVERS = ("lift off", "move", "slide", "open")
"""Verbs after which what their item stood in front of lies open."""
CARRIES = ("lift off", "install", "move", "renew")
"""Verbs that take in hand all that is in their item as well."""


class Why(Enum):
    """What brings a message to a step."""

    AUTHOR = "the step says so"
    SHOP = "the shop says so before every procedure"
    TOUCHED = "it is handled here"
    EXPOSED = "it lies open from here on"


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason for a message: its id, why, and the item that brings it (empty: nobody's)."""

    safety: str
    why: Why
    item: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Combined:
    """One message with all that brings it. ``at`` names the items in words, in the order met."""

    id: str
    message: SafetyMessage
    reasons: tuple[Reason, ...]
    at: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StepSafety:
    """What stands before a step, most severe first (ANSI Z535.6), then in the order met.

    ``not_recorded`` says aloud that nobody recorded what the step does, and which hazards then count; empty otherwise.
    """

    messages: tuple[Combined, ...]
    not_recorded: str = ""


@dataclass(frozen=True, slots=True)
class HazardKind:
    """A kind of hazard for the summary at the head of a procedure: its worst signal word, its name, its messages."""

    signal: str
    name: str
    symbol: str
    ids: tuple[str, ...]


def safety_of_step(built: Built, library: Library, procedure: TeardownRecord, step: Step) -> StepSafety:
    """The messages of one step on a machine as built; the hazards of a prose step are those of the whole machine."""
    reasons = list(_reasons(built, library, procedure, step))
    unknown = ""
    if step.do is None and step.changes is None:
        every = combined(built, library, _everything(built))
        names = ", ".join(kind.name for kind in hazard_kinds(every)) or "no hazard is recorded on any item"
        unknown = f"what this step exposes is not recorded, so every hazard of the machine counts: {names}"
    return StepSafety(messages=combined(built, library, reasons), not_recorded=unknown)


def safety_of_procedure(built: Built, library: Library, procedure: TeardownRecord) -> tuple[Combined, ...]:
    """Every message of a procedure's own steps, each once, for the summary at its head."""
    steps = _steps(built, procedure)
    return combined(built, library, (why for step in steps for why in _reasons(built, library, procedure, step)))


def hazard_kinds(messages: Iterable[Combined]) -> tuple[HazardKind, ...]:
    """The kinds of hazard among messages, most severe first.

    Messages with the same ISO 7010 warning sign are of one kind and called by its title; any other is its own kind.
    """
    kinds: dict[str, list[Combined]] = {}
    for one in messages:
        symbol = str(one.message.symbol or "")
        kinds.setdefault(symbol if symbol.startswith("W") and symbol in TITLES else one.id, []).append(one)
    made = []
    for key, many in kinds.items():
        signal = min((str(one.message.signal) for one in many), key=SIGNALS.index)
        name = TITLES.get(key) or str(many[0].message.hazard).rstrip(".")
        made.append(HazardKind(signal, name, str(many[0].message.symbol or ""), tuple(one.id for one in many)))
    return tuple(sorted(made, key=lambda kind: SIGNALS.index(kind.signal)))


def combined(built: Built, library: Library, reasons: Iterable[Reason]) -> tuple[Combined, ...]:
    """One message for each hazard with all that brings it, most severe first."""
    by_id: dict[str, dict[Reason, None]] = {}
    for one in reasons:
        if one.safety in library.safety:
            by_id.setdefault(one.safety, {})[one] = None
    made = [
        Combined(
            id=name,
            message=library.safety[name],
            reasons=tuple(many),
            at=tuple(dict.fromkeys(item_words(built, one.item) for one in many if one.item)),
        )
        for name, many in by_id.items()
    ]
    return tuple(sorted(made, key=lambda one: SIGNALS.index(str(one.message.signal))))


def item_words(built: Built, item: str) -> str:
    """``A1 Main board``; an item called by an id is called by its name alone."""
    name = built.items[item].name
    return f"{item} {name}" if item[:1].isupper() else str(name)


def _reasons(built: Built, library: Library, procedure: TeardownRecord, step: Step) -> Iterator[Reason]:
    for one in step.safety:
        yield Reason(str(one), Why.AUTHOR)
    if next(iter(_steps(built, procedure)), None) is step:
        for one in library.shop.standing_safety:
            yield Reason(str(one), Why.SHOP)
    for action in (*(step.do or ()), *(step.on_return or ())):
        yield from _of_action(built, action)


def _steps(built: Built, procedure: TeardownRecord) -> tuple[Step, ...]:
    """The steps that are for this machine; one whose machines cannot be told counts."""
    record, configuration = built.machine.record, built.configuration
    return tuple(step for step in procedure.steps if holds(step.applies, configuration, record) is not False)


def _of_action(built: Built, action: Action) -> Iterator[Reason]:
    touches = action.verb not in HANDS_OFF
    for item in items_of(built, action):
        for name in (*built.chain(item), *(sorted(built.inside(item)) if action.verb in CARRIES else ())):
            yield from _hazards(built, name, Why.TOUCHED if touches else Why.EXPOSED)
        for one in (built.items[item].handling or ()) if touches else ():
            yield Reason(str(one), Why.TOUCHED, item)
        for behind in _behind(built, item) if action.verb in UNCOVERS else ():
            yield from _hazards(built, behind, Why.EXPOSED)


def _hazards(built: Built, item: str, why: Why) -> Iterator[Reason]:
    for one in built.items[item].hazards or () if item in built.items else ():
        yield Reason(str(one), why, item)


def _everything(built: Built) -> Iterator[Reason]:
    for name in built.items:
        yield from _hazards(built, name, Why.EXPOSED)


def _ways_to(built: Built, item: str) -> Iterator[Choices]:
    """What stands in front of an item and of all on it that a hand can go to."""
    yield built.behind(item)
    yield built.reach(item)
    for one in built.sets_of(item):
        yield built.reach_of_set(one.name)
    for connector in built.connectors_of.get(item, ()):
        yield built.reach_of_connector(connector)
    for line in built.lines.values():
        if any(end.at.item == item for end in line.ends):
            yield built.reach_of_joint(str(line.id), item)


def _is_recorded(built: Built, item: str) -> bool:
    """Whether anybody recorded what an item is behind; ``[]`` is a record, too: nothing."""
    told = (built.items[name] for name in built.chain(item))
    return built.items[item].reach is not None or any(one.behind is not None for one in told)


def _behind(built: Built, front: str) -> Iterator[str]:
    """Items with a hazard that stand behind ``front``, alone or among other things, or behind nobody knows what."""
    for name, item in built.items.items():
        if not item.hazards or name == front:
            continue
        ways = _ways_to(built, name)
        if not _is_recorded(built, name) or any(
            one.item == front for way in ways for clause in way for option in clause for one in option
        ):
            yield name


def items_of(built: Built, action: Action) -> tuple[str, ...]:
    """The items an action has to do with: what it names, or what that is part of, on this machine."""
    found = [name for name in _named(built, action) if name in built.items and name != FRAME]
    return tuple(dict.fromkeys(found))


def _named(built: Built, action: Action) -> Iterator[str]:
    kind, target, to = VERBS.get(action.verb), str(action.target), str(action.to)
    if kind in (Kind.SET, Kind.ITEM, Kind.MOVE, Kind.HOST, Kind.ANY):
        yield target.partition(".")[0]
    elif kind is Kind.CONNECTOR:
        yield built.host_item(target) or ""
    elif kind in (Kind.OPENING, Kind.JOINT):
        yield to or target
    elif kind is Kind.LEAD:
        yield built.item_of_contact(to) or ""
    elif kind is Kind.TIE:
        yield built.ties[target].fixed_to.item if target in built.ties else ""
    elif kind is Kind.LINE:
        yield from (end.at.item for end in built.lines[target].ends) if target in built.lines else ()
    elif kind is Kind.CIRCUIT:
        yield from (name for name, item in built.items.items() if item.circuit == target)
    elif kind is Kind.ADJUSTER:
        on = built.adjusters[target].on_item if target in built.adjusters else None
        yield on.item if on is not None else ""
    elif kind is Kind.ENERGY:
        yield from _of_energy(built, action.verb, target)
    elif kind is Kind.MEASURE:
        yield target.partition(".")[0]
        for contact in (action.measure.between or ()) if action.measure is not None else ():
            yield built.item_of_contact(contact) or ""


def _of_energy(built: Built, verb: str, name: str) -> Iterator[str]:
    """The devices that isolate, the stores that are discharged, the places that are probed."""
    energy = built.energy.get(name)
    if energy is None:
        return
    if verb in ("isolate", "energise"):
        yield from (one.device.item for one in energy.isolate or ())
    elif verb == "discharge":
        yield from (one.in_.item for one in energy.stored or () if one.in_ is not None)
    else:
        for proof in energy.prove_dead or ():
            yield from (built.item_of_contact(contact) or "" for contact in proof.between or ())
            yield proof.at.item if proof.at is not None else ""
