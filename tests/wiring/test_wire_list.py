"""The wire list and the connection table say what is on each contact, and what is not recorded."""

from __future__ import annotations

from tests.wiring.machines import wired

from benchleaf.wiring.wire_list import connection_table, wire_list

MACHINE = "items: {A1: Board, A2: Other, M1: Motor}\n"
WIRING = """
connectors:
  A1-J1: {contacts: {1: 24 V DC, 2: out, 3: "-"}}
  A1-J2: {contacts: {1: in}}
  A2-J1: {contacts: {1: 24 V DC, 2: in, 3: "-"}}
cables:
  W10: {ends: [A1-J1, A2-J1], wires: {map: straight, colours: [RD, WH], gauge: 0.25 mm2, rated: 2 A}}
  W2: {ends: [A1-J2, M1]}
joins:
  A1: [{kind: driver, between: [J1.1, J1.2], label: output}]
  A2: [[J1.1, J1.2]]
sources:
  supply: {at: [A1-J1.1], nominal: 24 V DC, plug: polarised}
signals:
  run: {from: A1-J1.2, to: A2-J1.2}
"""


def test_a_straight_cable_has_no_wire_on_an_empty_place() -> None:
    rows = wire_list(wired(MACHINE, WIRING))
    assert [(r.cable, r.number, r.a, r.b, r.colour_words, r.gauge, r.rated) for r in rows] == [
        ("W10", 1, "A1-J1.1", "A2-J1.1", "red (RD)", "0.25 mm²", "2 A"),
        ("W10", 2, "A1-J1.2", "A2-J1.2", "white (WH)", "0.25 mm²", "2 A"),
    ]


def test_a_contact_is_told_with_its_wire_its_far_end_its_inside_and_its_signal() -> None:
    one, two, _ = connection_table(wired(MACHINE, WIRING), "A1-J1")
    assert (one.contact, one.role, one.to) == ("A1-J1.1", "24 V DC", ("A2-J1.1",))
    assert two.inside == ("driver A1 (output) to A1-J1:1",)
    assert two.signals == ("run",)
    assert [row.colour_words for row in two.wires] == ["white (WH)"]


def test_what_is_not_recorded_is_told_with_what_it_counts_as() -> None:
    (row,) = connection_table(wired(MACHINE, WIRING), "A1-J2")
    assert row.wires == ()
    assert set(row.gaps) == {
        "inside not recorded: it may reach any contact of A1",
        "wires not recorded: it may reach any contact of W2",
    }
    bare = WIRING.replace("  W2: {ends: [A1-J2, M1]}\n", "")
    (row,) = connection_table(wired(MACHINE, bare), "A1-J2")
    assert "what is plugged in or landed at A1-J2 is not recorded: it counts as live" in row.gaps


def test_an_owner_without_contacts_has_an_empty_table() -> None:
    assert connection_table(wired(MACHINE, WIRING), "A7-J1") == ()
