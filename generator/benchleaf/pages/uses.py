"""Where each thing of a machine is used, down to the step: the references back, so that every link has its return.

Built once a machine from its procedures, codes and symptoms.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Generic, TypeAlias, TypeVar

from benchleaf.frozen import dataclass
from benchleaf.model import Machine
from benchleaf.pages.book import MachineBook
from benchleaf.records.actions import VERBS, Action, Kind
from benchleaf.records.codes import Cause, CodeRecord, FaultTest, SymptomRecord
from benchleaf.records.teardown import Step, TeardownRecord
from benchleaf.refs import host_of

Trouble: TypeAlias = CodeRecord | SymptomRecord
K = TypeVar("K")
V = TypeVar("V")


@dataclass(frozen=True, slots=True)
class StepUse:
    """A step that has to do with something, and by which verbs."""

    procedure: TeardownRecord
    number: int
    step: Step
    verbs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class TroubleUse:
    """A code or symptom that leads somewhere: by a cause's remedy, or by a test."""

    trouble: Trouble
    cause: Cause | None = None
    test: FaultTest | None = None


class _Many(Generic[K, V]):
    def __init__(self) -> None:
        self._kept: dict[K, list[V]] = {}

    def add(self, key: K, value: V) -> None:
        self._kept.setdefault(key, []).append(value)

    def __getitem__(self, key: K) -> tuple[V, ...]:
        return tuple(self._kept.get(key, ()))


@dataclass(frozen=True, slots=True)
class Touched:
    """What one action names, by the kind of thing."""

    items: tuple[str, ...] = ()
    sets: tuple[str, ...] = ()
    connectors: tuple[str, ...] = ()
    cables: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()
    ties: tuple[str, ...] = ()
    energies: tuple[str, ...] = ()
    adjusters: tuple[str, ...] = ()


class Uses:
    """Who uses what on one machine. Every table gives an empty tuple for what nobody uses."""

    def __init__(self, mbook: MachineBook) -> None:
        self.machine: Machine = mbook.machine
        self.items: _Many[str, StepUse] = _Many()
        self.sets: _Many[str, StepUse] = _Many()
        self.connectors: _Many[str, StepUse] = _Many()
        self.cables: _Many[str, StepUse] = _Many()
        self.lines: _Many[str, StepUse] = _Many()
        self.ties: _Many[str, StepUse] = _Many()
        self.energies: _Many[str, StepUse] = _Many()
        self.adjusters: _Many[str, StepUse] = _Many()
        self.supplies: _Many[str, StepUse] = _Many()
        self.else_of: _Many[str, StepUse] = _Many()
        self.conditions: _Many[str, TeardownRecord] = _Many()
        self.goals: _Many[str, TeardownRecord] = _Many()
        self.remedies: _Many[str, TroubleUse] = _Many()
        self.replaced: _Many[str, TroubleUse] = _Many()
        self.tested: _Many[str, TroubleUse] = _Many()
        self.no_fault: _Many[str, Trouble] = _Many()
        for procedure in self.machine.procedures.values():
            self._procedure(mbook, procedure)
        troubles: list[Trouble] = [*self.machine.codes.values(), *self.machine.symptoms.values()]
        for trouble in troubles:
            self._trouble(trouble)

    def _procedure(self, mbook: MachineBook, procedure: TeardownRecord) -> None:
        for condition in procedure.conditions:
            self.conditions.add(str(condition), procedure)
        if procedure.goal is not None and procedure.goal.item is not None:
            self.goals.add(procedure.goal.item.item, procedure)
        for number, step in enumerate(procedure.steps, 1):
            verbs: dict[tuple[str, str], dict[str, None]] = {}
            for action in (*(step.do or ()), *(step.on_return or ())):
                found = touched(mbook, action)
                for kind in ("items", "sets", "connectors", "cables", "lines", "ties", "energies", "adjusters"):
                    for name in getattr(found, kind):
                        verbs.setdefault((kind, name), {})[action.verb] = None
            for photo in step.photos:
                for mark in photo.marks:
                    if mark.is_ is not None:
                        verbs.setdefault(("items", mark.is_.item), {})
            for (kind, name), said in verbs.items():
                table: _Many[str, StepUse] = getattr(self, kind)
                table.add(name, StepUse(procedure, number, step, tuple(said)))
            for use in step.supplies or ():
                self.supplies.add(str(use.id), StepUse(procedure, number, step))
            if step.else_ is not None:
                target = step.else_.procedure or (f"code {step.else_.code}" if step.else_.code else None)
                if target is not None:
                    self.else_of.add(str(target), StepUse(procedure, number, step))

    def _trouble(self, trouble: Trouble) -> None:
        for cause in trouble.causes.values():
            remedy = cause.remedy
            if remedy is not None and remedy.procedure is not None:
                self.remedies.add(str(remedy.procedure), TroubleUse(trouble, cause=cause))
            if remedy is not None and remedy.replace is not None:
                self.replaced.add(remedy.replace.item, TroubleUse(trouble, cause=cause))
        for test in trouble.tests.values():
            if test.at is not None:
                self.tested.add(test.at.item, TroubleUse(trouble, test=test))
        if isinstance(trouble.no_fault_found, tuple):
            for check in trouble.no_fault_found:
                self.no_fault.add(str(check), trouble)


def uses_of(mbook: MachineBook) -> Uses:
    return mbook.remember(("uses",), lambda: Uses(mbook))


def touched(mbook: MachineBook, action: Action) -> Touched:
    """What an action has to do with: what it names, and the item that is part of."""
    kind = VERBS.get(action.verb)
    finder = _FINDERS.get(kind) if kind is not None else None
    return finder(mbook, action) if finder is not None else Touched()


def _known(mbook: MachineBook, *names: str | None) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for name in names if name and name in mbook.record.items))


def _of_set(mbook: MachineBook, action: Action) -> Touched:
    item, _, own = str(action.target).partition(".")
    sets = (str(action.target),) if own else mbook.sets_of(item) if action.verb in SET_VERBS else ()
    return Touched(items=_known(mbook, item), sets=sets)


SET_VERBS = ("loosen", "remove", "start", "tighten")


def _of_item(mbook: MachineBook, action: Action) -> Touched:
    return Touched(items=_known(mbook, str(action.target)))


def _of_opening(mbook: MachineBook, action: Action) -> Touched:
    if action.to:
        return Touched(items=_known(mbook, str(action.to)), lines=(str(action.target),))
    return _of_item(mbook, action)


def _of_connector(mbook: MachineBook, action: Action) -> Touched:
    name = str(action.target)
    cables = {cable for built in mbook.builts for cable in built.cables_at.get(name, ())}
    return Touched(items=_known(mbook, host_of(name)), connectors=(name,), cables=tuple(sorted(cables)))


def _of_host(mbook: MachineBook, action: Action) -> Touched:
    host = str(action.target)
    names = sorted({name for built in mbook.builts for name in built.connectors_of.get(host, ())})
    cables = sorted({c for built in mbook.builts for name in names for c in built.cables_at.get(name, ())})
    return Touched(items=_known(mbook, host), connectors=tuple(names), cables=tuple(cables))


def _of_lead(mbook: MachineBook, action: Action) -> Touched:
    return Touched(items=_known(mbook, item_of_contact(mbook, str(action.to))), cables=(str(action.target),))


def _of_tie(mbook: MachineBook, action: Action) -> Touched:
    tie = mbook.record.ties.get(str(action.target))
    return Touched(
        items=_known(mbook, tie.fixed_to.item if tie is not None else None),
        ties=(str(action.target),),
        cables=tuple(str(one) for one in (tie.holds or ()) if one in mbook.machine.wiring.cables) if tie else (),
        lines=tuple(str(one) for one in (tie.holds or ()) if one in mbook.record.lines) if tie else (),
    )


def _of_line(mbook: MachineBook, action: Action) -> Touched:
    return Touched(lines=(str(action.target),))


def _of_circuit(mbook: MachineBook, action: Action) -> Touched:
    circuit = str(action.target)
    vessels = [name for name, item in mbook.record.items.items() if item.circuit == circuit]
    lines = [name for name, line in mbook.record.lines.items() if (line.circuit or name) == circuit]
    return Touched(items=_known(mbook, *vessels), lines=tuple(lines))


def _of_energy(mbook: MachineBook, action: Action) -> Touched:
    energy = mbook.record.energy.get(str(action.target))
    items: list[str] = []
    if energy is not None and action.verb in ("isolate", "energise"):
        items += [one.device.item for one in energy.isolate or ()]
    if energy is not None and action.verb == "discharge":
        items += [one.in_.item for one in energy.stored or () if one.in_ is not None]
    if energy is not None and action.verb == "prove dead":
        for proof in energy.prove_dead or ():
            items += [item_of_contact(mbook, contact) or "" for contact in proof.between or ()]
            items += [proof.at.item] if proof.at is not None else []
    return Touched(items=_known(mbook, *items), energies=(str(action.target),))


def _of_cable(mbook: MachineBook, action: Action) -> Touched:
    return Touched(cables=(str(action.target),))


def _of_adjuster(mbook: MachineBook, action: Action) -> Touched:
    adjuster = mbook.record.adjusters.get(str(action.target))
    on = adjuster.on_item.item if adjuster is not None and adjuster.on_item is not None else None
    return Touched(items=_known(mbook, on), adjusters=(str(action.target),))


def _of_measure(mbook: MachineBook, action: Action) -> Touched:
    row = action.measure
    names = [str(action.target).partition(".")[0]] if action.target else []
    if row is not None and row.between is not None:
        names += [item_of_contact(mbook, contact) or "" for contact in row.between]
    return Touched(items=_known(mbook, *names))


def item_of_contact(mbook: MachineBook, contact: str) -> str | None:
    """The item a contact belongs to, or whose connector it is in."""
    owner = contact.partition(".")[0]
    return owner if owner in mbook.record.items else host_of(owner)


_FINDERS: dict[Kind, Callable[[MachineBook, Action], Touched]] = {
    Kind.SET: _of_set, Kind.ANY: _of_set, Kind.ITEM: _of_item, Kind.MOVE: _of_item, Kind.OPENING: _of_opening,
    Kind.JOINT: _of_opening, Kind.CONNECTOR: _of_connector, Kind.HOST: _of_host, Kind.LEAD: _of_lead,
    Kind.TIE: _of_tie, Kind.LINE: _of_line, Kind.CIRCUIT: _of_circuit, Kind.ENERGY: _of_energy,
    Kind.CABLE: _of_cable, Kind.ADJUSTER: _of_adjuster, Kind.MEASURE: _of_measure,
}  # fmt: skip


def in_record_order(uses: tuple[StepUse, ...]) -> Iterator[tuple[TeardownRecord, list[StepUse]]]:
    """Uses gathered under their procedure."""
    by: dict[str, tuple[TeardownRecord, list[StepUse]]] = {}
    for one in uses:
        by.setdefault(str(one.procedure.id), (one.procedure, []))[1].append(one)
    yield from by.values()
