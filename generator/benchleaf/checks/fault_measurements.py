"""A test of a code or symptom that measures in a state in which its reading is not there.

A voltage or current is read with power on. On a dead machine such a test always gives the outcome of a fault, and a
good part is thrown away: write `state: powered`, with `covers:`, or measure a resistance instead. A resistance or
capacitance is read on dead parts: with power on the reading is nonsense at best. A test whose state nobody recorded
counts as done on a dead machine.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place, Severity
from benchleaf.model import Machine
from benchleaf.records.actions import Action
from benchleaf.records.codes import FaultTest
from benchleaf.troubles.lookup import Trouble
from benchleaf.troubles.powered_readings import readings_on_dead_parts, readings_with_power

CODES = ("test-without-power", "test-under-power")
BY_MACHINE = True


def run(derived: Derived) -> Iterator[Finding]:
    for machine in derived.library.machines.values():
        troubles: list[Trouble] = [*machine.codes.values(), *machine.symptoms.values()]
        for trouble in troubles:
            for test in trouble.tests.values():
                yield from _of_test(test, machine)


def _of_test(test: FaultTest, machine: Machine) -> Iterator[Finding]:
    if test.state == "powered":
        for action in readings_on_dead_parts(test, machine.record.items):
            message = f"test '{test.id}' measures a resistance or capacitance with power on"
            help = "write `state: dead`, or say under `expect` which voltage or current is read"
            yield Finding("test-under-power", message, _place(action), help)
        return
    for action in readings_with_power(test, machine.record.items):
        help = "write `state: powered` and whether covers are open, or expect what a dead machine reads"
        if test.state == "dead":
            message = f"test '{test.id}' expects a voltage or current on a dead machine, where there is none"
            yield Finding("test-without-power", message, _place(action), help)
        else:
            message = (
                f"test '{test.id}' expects a voltage or current, and whether power is on is not recorded: it counts as "
                "dead, where there is nothing to read"
            )
            yield Finding("test-without-power", message, _place(action), help, Severity.WARNING)


def _place(action: Action) -> Place:
    measure = action.measure
    return measure.place_of("expect") if measure is not None and measure.expect is not None else action.place
