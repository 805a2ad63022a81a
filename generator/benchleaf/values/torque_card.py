"""All torques of a procedure, or of a machine, on one sheet: what to set the driver to, screw by screw.

A set without a recorded torque stands on the card too and says so; what is tightened more than once stands once, with
every step that does it. One set that differs between variants has a line for each way it can be.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from benchleaf.applicability import holds
from benchleaf.built import Built
from benchleaf.diagnostics import Place
from benchleaf.fastener_sets import FastenerSet
from benchleaf.frozen import dataclass
from benchleaf.model import Machine
from benchleaf.records.shared import ShopRecord
from benchleaf.records.teardown import TeardownRecord
from benchleaf.values.callout import Callout, callout_of
from benchleaf.values.torque_of_set import is_driven

TURNING = ("loosen", "remove", "start", "tighten")
"""Verbs after which a set has to be tightened, or is."""


StepAt = tuple[str, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class CardRow:
    """One line of the card.

    ``only_on`` names the configurations it is for, empty = all; ``steps`` are (procedure, number from 1).
    """

    item: str
    item_name: str
    fastener: str
    tool: str
    count: int
    callout: Callout
    place: Place
    steps: tuple[StepAt, ...] = ()
    only_on: tuple[str, ...] = ()

    @property
    def what(self) -> str:
        """``4 × M3 × 8 mm pan, PH1``."""
        return f"{self.count} × {self.fastener}"


def machine_card(machine: Machine, builts: Iterable[Built], shop: ShopRecord) -> tuple[CardRow, ...]:
    """Every screw and nut of a machine, in the order of its items."""
    here = tuple(builts)
    names = (one.name for item in machine.record.items for built in here for one in built.sets_of(item))
    return _rows(here, shop, dict.fromkeys(names, ()))


def procedure_card(
    machine: Machine, builts: Iterable[Built], shop: ShopRecord, procedure: TeardownRecord
) -> tuple[CardRow, ...]:
    """Every screw and nut that a procedure turns, in the order met: those of its required conditions first."""
    here = tuple(one for one in builts if holds(procedure.applies, one.configuration, machine.record) is not False)
    found: dict[str, dict[StepAt, None]] = {}
    for part in _with_conditions(machine, procedure, []):
        for name, number in _turned(here, part):
            found.setdefault(name, {})[(str(part.id), number)] = None
    return _rows(here, shop, {name: tuple(steps) for name, steps in found.items()})


def _with_conditions(machine: Machine, procedure: TeardownRecord, seen: list[str]) -> Iterator[TeardownRecord]:
    """The conditions of a procedure, theirs before them, then the procedure; each once, a ring walked once."""
    if procedure.id in seen:
        return
    seen.append(procedure.id)
    for condition in procedure.conditions:
        if condition in machine.procedures:
            yield from _with_conditions(machine, machine.procedures[condition], seen)
    yield procedure


def _turned(builts: Iterable[Built], procedure: TeardownRecord) -> Iterator[tuple[str, int]]:
    """(fastener set, number of the step that turns it), in the order met."""
    for number, step in enumerate(procedure.steps, 1):
        for action in (*(step.do or ()), *(step.on_return or ())):
            if action.verb in TURNING:
                for built in builts:
                    yield from ((name, number) for name in _sets_of(built, str(action.target)))


def _sets_of(built: Built, target: str) -> Iterator[str]:
    if target in built.sets:
        yield target
    elif "." not in target:
        yield from (one.name for one in built.sets_of(target))


def _rows(builts: tuple[Built, ...], shop: ShopRecord, names: Mapping[str, tuple[StepAt, ...]]) -> tuple[CardRow, ...]:
    made: list[CardRow] = []
    for name, steps in names.items():
        forms: dict[CardRow, list[str]] = {}
        for built in builts:
            one = built.sets.get(name)
            if one is not None and is_driven(one):
                forms.setdefault(_row(built, one, shop, steps), []).append(built.configuration.label)
        for row, labels in forms.items():
            made.append(replace(row, only_on=() if len(labels) == len(builts) else tuple(labels)))
    return tuple(made)


def _row(built: Built, one: FastenerSet, shop: ShopRecord, steps: tuple[StepAt, ...]) -> CardRow:
    return CardRow(
        item=one.item,
        item_name=str(built.items[one.item].name),
        fastener=fastener_words(one),
        tool=one.tool or "driver not recorded",
        count=one.count,
        callout=callout_of(one, shop),
        place=one.place,
        steps=steps,
    )


def fastener_words(one: FastenerSet) -> str:
    """``M3 × 8 mm pan screw``; what is not recorded of the size is said."""
    length = one.length.quantity if one.length is not None else None
    size = " × ".join(part for part in (one.thread or "", length.tidy if length is not None else "") if part)
    return " ".join(part for part in (size or "size not recorded", one.head or "", one.kind) if part)
