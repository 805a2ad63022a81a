"""The bypass register names what stands in, which codes can no longer appear, and what is lost."""

from __future__ import annotations

import pytest
from tests.wiring.machines import machine_of

from benchleaf.built import build, configurations_of
from benchleaf.wiring.bypass import COUNTS_AS_PROTECTION, BypassRow, bypass_register, disclosure
from benchleaf.wiring.wiring import Wiring

MACHINE = """
modifications: {lift: {is: a lifting board, by: The workshop}}
items: {A1: Board, S1: Lid switch, S2: Pulse sensor, A9: {name: Lifting board, applies: [lift]}}
"""
WIRING = """
connectors:
  A1-J1: {contacts: {1: in, 2: 0 V}}
  A1-J2: {contacts: {1: in, 2: 0 V}}
  A9-J1: {contacts: {1: out, 2: 0 V}}
  A9-J2: {contacts: {1: in, 2: 0 V}}
  A9-J3: {contacts: {1: out, 2: 0 V}}
cables:
  W1: {ends: [S1, A1-J1], wires: {map: [[1, 1], [2, 2]]}, where: [{applies: [lift], ends: [S1, parked]}]}
  W2: {ends: [S2, A1-J2], wires: {map: [[1, 1], [2, 2]]}, where: [{applies: [lift], ends: [S2, A9-J2]}]}
  W8: {applies: [lift], ends: [A9-J3, A1-J2], wires: {map: straight}}
  W9: {applies: [lift], ends: [A9-J1, A1-J1], wires: {map: straight}}
joins:
  S1: [{kind: switch, between: [1, 2]}]
  S2: [{kind: driver, between: [1, 2]}]
  A1: [[J1.2, J2.2]]
  A9: [[J1.1, J1.2], [J2.1, J3.1], [J2.2, J3.2, J1.2]]
signals:
  lid: {from: S1.1, to: A1-J1.1%s}
  pulse: {from: S2.1, to: A1-J2.1, protects: stops on a jam}
"""
SUBSTITUTIONS = """
substitutions:
  - {signal: lid, by: A9-J1.1, asserts: closed, applies: [lift]%s}
  - {signal: pulse, by: A9-J3.1, asserts: passed on, applies: [lift], compensated-by: nothing changes}
"""
CODES = {
    "t/codes/e5.md": "---\ncode: E5\nmeans: Lid open\nsignals: [lid]\ncauses: {}\n---\n",
    "t/codes/e8.md": "---\ncode: E8\nmeans: No pulse\nsignals: [pulse]\ncauses: {}\n---\n",
}


def wirings(protects: str = ", protects: hands", more: str | None = "") -> tuple[Wiring, Wiring]:
    said = SUBSTITUTIONS % more if more is not None else ""
    machine = machine_of(MACHINE, WIRING % protects + said, CODES)
    before, now = (Wiring.of(build(machine, one)) for one in configurations_of(machine))
    return now, before


def row_of(name: str, protects: str = ", protects: hands", more: str | None = "") -> BypassRow:
    return next(row for row in bypass_register(*wirings(protects, more)) if row.signal == name)


def test_a_signal_held_by_a_link_is_lost_and_its_code_can_no_longer_appear() -> None:
    row = row_of("lid")
    assert (row.source, row.source_item, row.by, row.by_item) == (
        "S1.1",
        "S1 Lid switch",
        "A9-J1.1",
        "A9 Lifting board",
    )
    assert row.passed_on is False
    assert row.tied_to == ("0 V at A1-J1:2",)
    assert row.masked == ("E5",)
    assert row.is_lost
    assert row.is_open


def test_a_signal_passed_on_by_copper_keeps_its_code_and_its_protection() -> None:
    row = row_of("pulse")
    assert row.passed_on is True
    assert (row.masked, row.still_possible) == ((), ("E8",))
    assert not row.is_lost


def test_a_jumper_beside_the_sensor_overrides_it_though_it_is_still_plugged_in() -> None:
    jumper = WIRING.replace(", where: [{applies: [lift], ends: [S1, parked]}]}", "}").replace(
        "  W9: {applies: [lift], ends: [A9-J1, A1-J1], wires: {map: straight}}\n",
        "  W9: {applies: [lift], ends: [S1, A1], wires: {map: [[1, x], [2, y]]}}\n",
    ).replace("A1: [[J1.2, J2.2]]", "A1: [[J1.2, J2.2], [x, y]]")  # fmt: skip
    machine = machine_of(MACHINE, jumper % ", protects: hands", CODES)
    before, now = (Wiring.of(build(machine, one)) for one in configurations_of(machine))
    (row,) = [one for one in bypass_register(now, before) if one.signal == "lid"]
    assert not row.recorded
    assert row.passed_on is False
    assert row.masked == ("E5",)
    assert row.is_open


@pytest.mark.parametrize(
    ("more", "open_"),
    [
        ("", True),
        (", compensated-by: none", True),
        (", compensated-by: a fixed guard", False),
        (", compensated-by: none, acknowledged: {by: RV, date: 2026-01-02, reason: agreed}", False),
    ],
)
def test_a_lost_protection_stays_open_until_it_is_compensated_or_acknowledged(more: str, open_: bool) -> None:
    assert row_of("lid", more=more).is_open is open_


def test_what_a_signal_protects_counts_as_a_protection_when_nobody_recorded_it() -> None:
    row = row_of("lid", protects="")
    assert row.protects == COUNTS_AS_PROTECTION
    assert row.is_open
    assert not row_of("lid", protects=", protects: none").is_open


def test_a_signal_taken_away_without_a_substitution_stands_in_the_register() -> None:
    row = row_of("lid", more=None)
    assert not row.recorded
    assert row.by == ""
    assert row.is_open


def test_an_unmodified_machine_has_an_empty_register() -> None:
    _, before = wirings(more=None)
    assert bypass_register(before, before) == ()


def test_the_owner_is_told_what_is_lost_who_fitted_it_and_that_nobody_accepted_it() -> None:
    told = {title: " ".join(lines) for title, lines in disclosure(*wirings()).parts}
    assert "Fitted by The workshop." in told["Modification lift"]
    assert "It no longer comes from S1 Lid switch." in told["Signal 'lid'"]
    assert "That protection is lost." in told["Signal 'lid'"]
    assert "The machine can no longer show: E5." in told["Signal 'lid'"]
    assert "Nobody has accepted this in writing." in told["Signal 'lid'"]
    assert "It still comes from S2 Pulse sensor" in told["Signal 'pulse'"]


def test_the_name_of_who_accepted_is_told_only_where_the_shop_publishes_names() -> None:
    both = wirings(more=", compensated-by: none, acknowledged: {by: Jo Smith, date: 2026-01-02, reason: agreed}")
    said = [
        " ".join(line for _, lines in disclosure(*both, names_are_published=p).parts for line in lines) for p in (0, 1)
    ]
    assert "Jo Smith" not in said[0]
    assert "Accepted by Jo Smith on 2026-01-02: agreed" in said[1]


def test_a_machine_without_modifications_is_not_told_to_have_none() -> None:
    _, before = wirings(more=None)
    ((title, lines),) = disclosure(before, before).parts
    assert title == "Nothing recorded"
    assert "Not recorded is not none." in lines[0]
