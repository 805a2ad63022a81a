"""Something is for no machine at all, or a machine falls between two entries.

An `applies` that can never hold is a slip. Two `where` entries that hold on one machine leave open which counts.
A procedure, remedy or check that leads to a procedure which is not for the same machines leaves some machine without.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from benchleaf.applicability import Configuration, holds, is_no_serial, serial_key, term_holds
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place, Severity
from benchleaf.model import Machine
from benchleaf.records.entry import Entry
from benchleaf.records.types import Applies, Term

CODES = ("applies-never", "where-twice", "applies-gap", "serials-overlap")
BY_MACHINE = True


def run(derived: Derived) -> Iterator[Finding]:
    for machine in derived.library.machines.values():
        every = derived.configurations(machine)
        for one in derived.applicabilities(machine):
            if all(_never(term, every, machine) for term in one.terms):
                words = ", ".join(str(term.text) for term in one.terms)
                help = "mend it, or take the entry out"
                yield Finding("applies-never", f"no {machine.id} is '{words}'", one.place, help)
        yield from _where_twice(machine, every)
        yield from _gaps(machine, every)
        yield from _overlaps(machine)


def _never(term: Term, every: tuple[Configuration, ...], machine: Machine) -> bool:
    record = machine.record
    if all(term_holds(term, one, record) is False for one in every):
        return True
    names_a_machine = term.name in record.variants or term.name in record.modifications
    return not names_a_machine and not term.negated and is_no_serial(term, record)


def _entries(machine: Machine) -> Iterator[Entry]:
    record, wiring = machine.record, machine.wiring
    for table in (record.items, record.fasteners, record.energy, record.lines, record.ties, record.adjusters):
        yield from table.values()
    for item in record.items.values():
        yield from (item.held_by or {}).values()
    for other in (record.checks, wiring.connectors, wiring.cables, wiring.sources, wiring.signals):
        yield from other.values()


def _where_twice(machine: Machine, every: tuple[Configuration, ...]) -> Iterator[Finding]:
    for entry in _entries(machine):
        for n, one in enumerate(entry.where):
            for other in entry.where[n + 1 :]:
                meet = [
                    c
                    for c in every
                    if holds(one.applies, c, machine.record) and holds(other.applies, c, machine.record)
                ]
                if meet and set(one.changes) & set(other.changes):
                    message = f"two `where` entries of '{entry.id}' both hold on {meet[0].label}"
                    related = ((one.place, "the other"),)
                    yield Finding("where-twice", message, other.place, "make them exclude each other", related=related)


def _gaps(machine: Machine, every: tuple[Configuration, ...]) -> Iterator[Finding]:
    def leads(what: str, applies: Applies | None, name: str, place: Place) -> Iterator[Finding]:
        target = machine.procedures.get(name)
        if target is None:
            return
        left = [
            c
            for c in every
            if holds(applies, c, machine.record) is not False and holds(target.applies, c, machine.record) is False
        ]
        if left:
            message = f"{what} is for {left[0].label} too, but '{name}' is not"
            help = "give one of them the same `applies`, or add a procedure for the rest"
            yield Finding("applies-gap", message, place, help, Severity.WARNING)

    for procedure in machine.procedures.values():
        for condition in procedure.conditions:
            yield from leads(f"'{procedure.id}'", procedure.applies, condition, condition.place)
        for c in every:
            for_it = holds(procedure.applies, c, machine.record) is not False
            steps = [s for s in procedure.steps if holds(s.applies, c, machine.record) is not False]
            if for_it and procedure.steps and not steps:
                message = f"'{procedure.id}' is for {c.label}, but none of its steps is"
                yield Finding("applies-gap", message, procedure.id.place, "narrow its `applies`", Severity.WARNING)
                break
    troubles: tuple[Any, ...] = (*machine.codes.values(), *machine.symptoms.values())
    for trouble in troubles:
        for cause in trouble.causes.values():
            remedy = cause.remedy
            if remedy is not None and remedy.procedure is not None:
                both = cause.applies or trouble.applies
                yield from leads(f"cause '{cause.id}'", both, remedy.procedure, remedy.text.place)
    for check in machine.record.checks.values():
        if check.do is not None:
            yield from leads(f"check '{check.id}'", check.applies, check.do, check.do.place)


def _overlaps(machine: Machine) -> Iterator[Finding]:
    spans = [
        (name, term)
        for name, variant in machine.record.variants.items()
        for term in (variant.serials.terms if variant.serials else ())
        if term.is_range
    ]
    for n, (name, one) in enumerate(spans):
        for other, two in spans[n + 1 :]:
            if name == other:
                continue
            low = max(serial_key(one.low or ""), serial_key(two.low or ""))
            highs = [serial_key(term.high) for term in (one, two) if term.high]
            if not highs or low <= min(highs):
                message = f"serials '{one.text}' of {name} and '{two.text}' of {other} overlap"
                yield Finding("serials-overlap", message, two.text.place, "end one range before the other begins")
