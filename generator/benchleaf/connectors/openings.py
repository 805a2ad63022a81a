"""In which order a procedure opens and plugs ends, and which of them are open at the same time.

Conditions come first and hand on what they left open; steps that are not for this machine are left out. A step of prose
only may have opened anything: from there on every end may be open, and the reader is told which step leaves it so.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import field

from benchleaf.applicability import holds
from benchleaf.built import Built
from benchleaf.connectors.ends import cable_at
from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass
from benchleaf.records.actions import Action
from benchleaf.records.teardown import Step, TeardownRecord
from benchleaf.text import NOWHERE
from benchleaf.wiring.contacts import named_by_end

OPENS = frozenset({"unplug", "lift lead"})
CLOSES = frozenset({"plug", "land lead"})


@dataclass(frozen=True, slots=True)
class StepRef:
    """Which step: its procedure, its number from 1 as recorded, its title and place."""

    procedure: str
    number: int
    title: str
    place: Place = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One verb of the procedure in its turn; ``cable`` and ``connector`` where it opens, plugs or names an end.

    Of a lifted lead ``connector`` is its contact, ``E1.1``.
    """

    turn: int
    verb: str
    step: StepRef
    cable: str = ""
    connector: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """An end while it is open: from one turn to another, or to the end of the procedure (``closed`` none).

    ``connector`` is the connector, or the contact of a lifted lead.
    """

    cable: str
    connector: str
    opened: Event
    closed: Event | None = None

    def meets(self, other: Span) -> bool:
        """Whether both ends are open at some moment."""
        mine = self.closed.turn if self.closed is not None else None
        its = other.closed.turn if other.closed is not None else None
        return (mine is None or other.opened.turn < mine) and (its is None or self.opened.turn < its)


@dataclass(frozen=True, slots=True, kw_only=True)
class Openings:
    """What a procedure does with ends, on one machine. ``unchecked`` are the steps that do not say what they do."""

    procedure: str
    events: tuple[Event, ...]
    spans: tuple[Span, ...]
    unchecked: tuple[tuple[int, StepRef], ...] = ()
    """Turn before which the unchecked step stands, and the step."""

    def spans_of(self, cable: str, connector: str) -> tuple[Span, ...]:
        return tuple(one for one in self.spans if one.cable == cable and one.connector == connector)

    @property
    def leads(self) -> tuple[Span, ...]:
        """The leads lifted."""
        return tuple(one for one in self.spans if one.opened.verb == "lift lead")

    @property
    def cables(self) -> tuple[str, ...]:
        """The cables opened, in order of their first opening."""
        return tuple(dict.fromkeys(one.cable for one in self.spans))


def openings_of(built: Built, procedure: TeardownRecord) -> Openings:
    """The ends a procedure opens and plugs on a machine as built, its conditions before it."""
    events: list[Event] = []
    spans: list[Span] = []
    unchecked: list[tuple[int, StepRef]] = []
    open_at: dict[tuple[str, str], int] = {}
    for step, ref in steps_in_order(built, procedure):
        if step.do is None:
            if step.changes is None:
                unchecked.append((len(events), ref))
            continue
        for action in step.do:
            for verb, cable, connector in _single(built, action, frozenset(open_at)):
                event = Event(turn=len(events), verb=verb, step=ref, cable=cable, connector=connector)
                events.append(event)
                end = (cable, connector)
                if verb in OPENS and end not in open_at:
                    open_at[end] = len(spans)
                    spans.append(Span(cable=cable, connector=connector, opened=event))
                elif verb in CLOSES and end in open_at:
                    number = open_at.pop(end)
                    was = spans[number]
                    spans[number] = Span(cable=cable, connector=connector, opened=was.opened, closed=event)
    return Openings(procedure=str(procedure.id), events=tuple(events), spans=tuple(spans), unchecked=tuple(unchecked))


def steps_in_order(built: Built, procedure: TeardownRecord) -> Iterator[tuple[Step, StepRef]]:
    """Every step that may be for this machine in the order it is done, conditions first, each procedure once."""
    yield from _steps(built, procedure, set())


def _steps(built: Built, procedure: TeardownRecord, done: set[str]) -> Iterator[tuple[Step, StepRef]]:
    done.add(str(procedure.id))
    machine = built.machine
    for condition in procedure.conditions:
        before = machine.procedures.get(str(condition))
        if before is not None and str(condition) not in done:
            yield from _steps(built, before, done)
    if holds(procedure.applies, built.configuration, machine.record) is False:
        return
    for number, step in enumerate(procedure.steps, 1):
        if holds(step.applies, built.configuration, machine.record) is not False:
            yield step, StepRef(str(procedure.id), number, str(step.title), step.place)


def _single(built: Built, action: Action, open_now: frozenset[tuple[str, str]]) -> Iterator[tuple[str, str, str]]:
    """An action as single verbs with cable and connector: ``disconnect`` is a label, a photograph and a plug pulled."""
    target = str(action.target)
    if action.verb == "disconnect all":
        for connector in built.connectors_of.get(target, ()):
            cable = cable_at(built, connector)
            if cable and (cable, connector) not in open_now:
                yield from _opened(cable, connector)
        return
    if action.verb in ("disconnect", "unplug", "plug", "photograph") and target in built.connectors:
        cable = str(action.cable) or cable_at(built, target)
        if action.verb == "disconnect" and cable:
            yield from _opened(cable, target)
        elif cable or action.verb == "photograph":
            yield action.verb, cable, target
        return
    if action.verb in ("lift lead", "land lead") and target in built.cables:
        yield from ((action.verb, target, lead) for lead in leads_at(built, target, str(action.to)))
        return
    yield action.verb, target if action.verb == "label" else "", ""


def leads_at(built: Built, cable: str, at: str) -> tuple[str, ...]:
    """The leads of a cable at a contact, or all it has at an item; the item alone where none is recorded."""
    if "." in at:
        return (at,)
    ends = built.cables[cable].ends
    named = [names for end, names in zip(ends, named_by_end(built.cables[cable]), strict=True) if end.at == at]
    leads = [f"{at}.{name}" for names in named for name in names]
    leads += [str(end.at) for end in ends if end.at.startswith(f"{at}.")]
    return tuple(dict.fromkeys(leads)) or (at,)


def _opened(cable: str, connector: str) -> Iterator[tuple[str, str, str]]:
    yield "label", cable, connector
    yield "photograph", cable, connector
    yield "unplug", cable, connector
