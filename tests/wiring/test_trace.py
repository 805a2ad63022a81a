"""A trace reaches every end, says through what, and follows open ends and configurations."""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings
from tests.wiring.generated import machine_from, machines
from tests.wiring.machines import machine_of, wired

from benchleaf.built import build, configurations_of
from benchleaf.wiring.contacts import contact_of
from benchleaf.wiring.trace import BEYOND_FUSE, BY_COPPER, MAY_REACH, THROUGH_SOMETHING, WHEN_CLOSED, trace, traces
from benchleaf.wiring.wiring import Wiring

MACHINE = "items: {A1: Board, F1: Fuse, S1: Switch, K1: Relay, M1: Motor, A2: Other}\n"
WIRING = """
connectors:
  A1-J1: {contacts: {1: 24 V DC, 2: out}}
  A2-J1: {contacts: {1: in, 2: out}, cable: none}
cables:
  W1: {ends: [A1-J1, F1, M1], wires: {map: [[A1-J1.1, F1.1], [A1-J1.2, M1.2]]}}
  W2: {ends: [F1, S1], wires: {map: [[F1.2, S1.1]]}}
  W3: {ends: [S1, K1], wires: {map: [[S1.2, K1.1]]}}
  W4: {ends: [K1, M1], wires: {map: [[K1.2, M1.1]]}}
joins:
  A1: [{kind: driver, between: [J1.1, J1.2], label: motor drivers}]
  F1: [{kind: fuse, between: [1, 2]}]
  S1: [{kind: switch, between: [1, 2], rest: open}]
  K1: [{kind: relay, between: [1, 2], rest: closed}]
  M1: [{kind: load, between: [1, 2]}]
"""


def test_a_trace_says_what_lies_between() -> None:
    found = trace(wired(MACHINE, WIRING), "A1-J1.1")
    assert found is not None
    told = {one.contact: (one.sort, one.through) for one in found.reached}
    fuse, switch, relay = "fuse F1", "switch S1 (open at rest)", "relay contact K1 (closed at rest)"
    assert told["F1.1"] == (BY_COPPER, ())
    assert told["S1.1"] == (BEYOND_FUSE, (fuse,))
    assert told["K1.1"] == (WHEN_CLOSED, (fuse, switch))
    assert told["M1.1"] == (WHEN_CLOSED, (fuse, switch, relay))
    assert told["M1.2"] == (THROUGH_SOMETHING, ("driver A1 (motor drivers)",))
    assert told["A1-J1.2"] == (THROUGH_SOMETHING, ("driver A1 (motor drivers)",))


def test_the_way_is_told_step_by_step() -> None:
    found = trace(wired(MACHINE, WIRING), "A1-J1.1")
    assert found is not None
    way = next(one.way for one in found.reached if one.contact == "S1.1")
    assert [step.words for step in way] == ["W1 to F1:1", "through fuse F1 to F1:2", "W2 to S1:1"]


def test_an_open_end_ends_the_trace_and_its_lead_is_another_end() -> None:
    wiring = wired(MACHINE, WIRING)
    found = trace(wiring, "A1-J1.1", [("W1", "A1-J1")])
    assert found is not None
    assert "F1.1" not in [one.contact for one in found.reached]
    loose = trace(wiring, "W1@A1-J1.1", [("W1", "A1-J1")])
    assert loose is not None
    assert [one.contact for one in loose.reached if one.sort == BY_COPPER] == ["F1.1"]
    far = trace(wiring, "S1.2", [("W4", "M1.1")])
    assert far is not None
    assert [(one.contact, one.loose) for one in far.reached if one.contact == "M1.1"] == [("M1.1", True)]


def test_wires_nobody_recorded_may_reach_every_contact_of_their_cable() -> None:
    bare = WIRING.replace("[[A1-J1.1, F1.1], [A1-J1.2, M1.2]]", "[[A1-J1.2, M1.2]]")
    found = trace(wired(MACHINE, bare), "A1-J1.1")
    assert found is not None
    may = {one.contact: one.through for one in found.reached if one.sort == MAY_REACH}
    assert may["F1.1"] == ("wires of W1 not recorded",)
    assert "M1.2" in [one.contact for one in found.reached]


def test_a_contact_that_no_record_names_has_no_trace() -> None:
    assert trace(wired(MACHINE, WIRING), "A1-J9.1") is None


def test_sources_on_the_way_are_told_with_their_contact() -> None:
    fed = f"{WIRING}sources:\n  supply: {{at: [A1-J1.1], nominal: 24 V DC}}\n"
    found = trace(wired(MACHINE, fed), "S1.1")
    assert found is not None
    assert found.sources == (("supply", "A1-J1.1"),)


def test_configurations_with_the_same_trace_are_told_once() -> None:
    moved = WIRING.replace(
        "  W4: {ends: [K1, M1], wires: {map: [[K1.2, M1.1]]}}\n",
        "  W4:\n    ends: [K1, M1]\n    wires: {map: [[K1.2, M1.1]]}\n"
        "    where: [{applies: [lift], ends: [K1, A2], wires: {map: [[K1.2, A2.1]]}}]\n",
    )
    machine = machine_of(f"variants: {{mk1: one, mk2: other}}\nmodifications: {{lift: a lift}}\n{MACHINE}", moved)
    wirings = {c.label: Wiring.of(build(machine, c)) for c in configurations_of(machine)}
    told = traces(wirings, "K1.2")
    assert [labels for labels, _ in told] == [("mk1", "mk2"), ("mk1 with lift", "mk2 with lift")]


@settings(max_examples=60, deadline=None)
@given(machines())
def test_what_copper_reaches_is_the_net(facts: dict[str, Any]) -> None:
    machine = machine_from(facts)
    wiring = Wiring.of(build(machine, configurations_of(machine)[0]))
    for net in wiring.nets:
        found = trace(wiring, net.name)
        assert found is not None
        reached = {one.contact for one in found.reached if one.sort == BY_COPPER and not one.loose}
        free = {contact for contact in net.contacts if contact.startswith("parked")}
        assert reached | {contact_of(net.name)} | free == set(net.contacts)


@settings(max_examples=40, deadline=None)
@given(machines())
def test_every_way_is_made_of_edges_that_follow_each_other(facts: dict[str, Any]) -> None:
    machine = machine_from(facts)
    wiring = Wiring.of(build(machine, configurations_of(machine)[0]))
    for net in wiring.nets[:6]:
        found = trace(wiring, net.name)
        assert found is not None
        for one in found.reached:
            assert one.way or one.loose or one.contact.startswith("parked")
            assert not one.way or one.way[-1].to == one.contact
