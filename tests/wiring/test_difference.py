"""A wiring difference turns one configuration into the other, and names what was re-plugged."""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings
from tests.wiring.generated import machine_from, machines
from tests.wiring.machines import machine_of

from benchleaf.built import build, configurations_of
from benchleaf.wiring.difference import connections, difference
from benchleaf.wiring.wiring import Wiring

MACHINE = """
modifications: {lift: a lifting board}
items: {A1: Board, S1: Switch, S2: Sensor, A9: {name: Lifting board, applies: [lift]}}
"""
WIRING = """
connectors:
  A1-J1: {contacts: 2}
  A1-J2: {contacts: 2}
  A9-J1: {contacts: 2}
  A9-J2: {contacts: 2}
cables:
  W1:
    ends: [S1, A1-J1]
    wires: {map: [[1, 1], [2, 2]], colours: [WH, BK]}
    where: [{applies: [lift], ends: [S1, parked]}]
  W2: {ends: [S2, A1-J2], wires: {map: [[1, 1], [2, 2]]}, where: [{applies: [lift], ends: [S2, A9-J2]}]}
  W9: {applies: [lift], ends: [A9-J1, A1-J1], wires: {map: straight}}
joins:
  S1: [{kind: switch, between: [1, 2]}]
  A9: [[J1.1, J1.2]]
"""


def configurations() -> list[Wiring]:
    machine = machine_of(MACHINE, WIRING)
    return [Wiring.of(build(machine, one)) for one in configurations_of(machine)]


def test_re_plugged_parked_and_added_cables_are_told() -> None:
    before, after = configurations()
    found = difference(before, after)
    assert [change.words for change in found.cables] == [
        "W1 re-routed: S1, A1-J1 → S1, parked",
        "W2 re-routed: S2, A1-J2 → S2, A9-J2",
        "W9 added: A9-J1, A1-J1",
    ]
    assert found.items_added == ("A9",)
    assert [(old.a, old.b, new.b) for old, new in found.rerouted] == [
        ("S1.1", "A1-J1.1", "parked.1"), ("S1.2", "A1-J1.2", "parked.2"),
        ("S2.1", "A1-J2.1", "A9-J2.1"), ("S2.2", "A1-J2.2", "A9-J2.2"),
    ]  # fmt: skip
    assert ("copper", "A9-J1.1", "A9-J1.2") in [(one.kind, one.a, one.b) for one in found.added]


def test_the_difference_applied_to_one_configuration_gives_the_other_both_ways() -> None:
    before, after = configurations()
    assert difference(before, after).applied_to(connections(before)) == connections(after)
    assert difference(after, before).applied_to(connections(after)) == connections(before)


def test_a_machine_differs_from_itself_in_nothing() -> None:
    before, _ = configurations()
    assert difference(before, before).is_empty


@settings(max_examples=50, deadline=None)
@given(machines(), machines())
def test_the_difference_of_any_two_machines_turns_one_into_the_other(
    one: dict[str, Any], other: dict[str, Any]
) -> None:
    first, second = (Wiring.of(build(m, configurations_of(m)[0])) for m in (machine_from(one), machine_from(other)))
    found = difference(first, second)
    assert found.applied_to(connections(first)) == connections(second)
    assert not {*found.added} & {*found.removed}
