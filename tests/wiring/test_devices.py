"""A device opens its own recorded poles and nothing else; what is no isolating device is refused."""

from __future__ import annotations

import pytest
from tests.wiring.machines import wired

from benchleaf.wiring.devices import Device
from benchleaf.wiring.still_live import live_map

MACHINE = """
items: {{XP1: Plug, Q1: {name}, S1: Start button, M1: Motor, roller: Roller}}
energy:
  mains: {{kind: electrical, isolate: [{device}], stored: none}}
"""
WIRING = """
cables:
  W1: {ends: [XP1, Q1], wires: {map: [[XP1.L, Q1.1], [XP1.N, Q1.3]]}}
  W2: {ends: [Q1, M1], wires: {map: [[Q1.2, M1.1], [Q1.4, M1.2]]}}
joins:
  XP1: none
  Q1: [%s]
  S1: [{kind: switch, between: [1, 2]}]
  M1: [{kind: load, between: [1, 2]}]
sources:
  mains: {at: [XP1.L], return: [XP1.N], earth: none, nominal: 230 V AC}
signals:
  start: {from: S1.1, to: M1.3}
"""
TWO_POLES = "{kind: switch, between: [1, 2]}, {kind: switch, between: [3, 4]}"


def device_of(device: str, joins: str = TWO_POLES, name: str = "Main switch") -> Device:
    (found,) = wired(MACHINE.format(name=name, device=device), WIRING % joins).devices
    return found


def test_a_switch_opens_all_its_recorded_poles() -> None:
    device = device_of("open Q1")
    assert (device.key, device.words, len(device.opens)) == ("Q1", "open Q1", 2)
    assert not device.refused
    assert not device.problem


def test_named_poles_are_the_only_ones_opened() -> None:
    assert len(device_of("open Q1.1+2").opens) == 1
    assert len(device_of("open Q1.1+2+3+4").opens) == 2


def test_one_contact_of_a_pole_names_no_pole() -> None:
    device = device_of("open Q1.1+3")
    assert not device.opens
    assert "no pole 1 and 3 of Q1" in device.problem


def test_a_changeover_contact_opens_nothing_for_one_way_stays_closed() -> None:
    assert not device_of("open Q1", "{kind: switch, between: [1, 2, 5]}, [3, 4]").opens


@pytest.mark.parametrize(
    ("device", "joins", "name", "why"),
    [
        ("open Q1", "{kind: relay, between: [1, 2]}, {kind: relay, between: [3, 4]}", "Contactor", "is a relay"),
        ("open Q1", TWO_POLES, "Emergency stop", "no isolating device"),
        ("open Q1", TWO_POLES, "Door interlock switch", "no isolating device"),
        ("open Q1", TWO_POLES, "Software switch", "no isolating device"),
        ("open Q1", "{kind: driver, between: [1, 2, 3, 4]}", "Electronic switch", "electronics or software"),
        ("open S1", TWO_POLES, "Main switch", "makes the signal 'start'"),
    ],
)
def test_what_is_no_isolating_device_is_refused_and_opens_nothing(device: str, joins: str, name: str, why: str) -> None:
    found = device_of(device, joins, name)
    assert why in found.refused
    assert not found.isolates
    wiring = wired(MACHINE.format(name=name, device=device), WIRING % joins)
    assert live_map(wiring, [device]).nodes.keys() == live_map(wiring).nodes.keys()


def test_pulling_the_plug_takes_the_source_away() -> None:
    device = device_of("unplug XP1")
    assert device.pulls == {"XP1"}
    wiring = wired(MACHINE.format(name="Switch", device="unplug XP1"), WIRING % TWO_POLES)
    live = live_map(wiring, ["XP1"])
    assert not {"XP1.L", "XP1.N", "Q1.1", "Q1.2", "M1.1"} & live.contacts.keys()
    assert live.contacts.keys() == {"S1.1", "S1.2"}  # of the button nobody recorded where its leads go


def test_a_source_is_pulled_only_with_every_plug_it_comes_in_by() -> None:
    wiring = wired(
        "items: {XP1: Plug, XP2: Other plug}\n"
        "energy: {mains: {kind: electrical, isolate: [unplug XP1, unplug XP2], stored: none}}\n",
        "joins: {XP1: none, XP2: none}\n"
        "sources: {mains: {at: [XP1.L, XP2.L], return: none, earth: none, nominal: 230 V AC}}\n",
    )
    assert live_map(wiring, ["XP1"]).contacts.keys() == {"XP1.L", "XP2.L"}
    assert live_map(wiring, ["XP1", "XP2"]).contacts == {}


PLUGS = """
items: {XP1: Plug, X1: Inlet, A1: Board}
energy: {mains: {kind: electrical, isolate: [%s], stored: none}}
"""
INLET = """
connectors:
  X1-J1: {contacts: {1: 24 V DC}}
  X1-J2: {contacts: {1: 24 V DC}}
  A1-J1: {contacts: {1: 24 V DC}}
cables:
  W1: {ends: [XP1, X1-J1], wires: {map: [[1, 1]]}}
  W2: {ends: [X1-J2, A1-J1], wires: {map: [[1, 1]]}}
joins:
  XP1: none
  A1: none
  X1: [[J1.1, J2.1]]
sources: {mains: {at: [XP1.1], return: none, earth: none, nominal: 24 V DC, plug: polarised}}
"""


def test_a_named_plug_at_an_item_is_pulled_and_stays_live_in_the_air() -> None:
    live = live_map(wired(PLUGS % "unplug X1.J1", INLET), ["X1.J1"])
    assert set(live.nodes) == {"XP1.1", "W1@XP1.1", "W1@X1-J1.1"}
    assert set(live.loose) == {"W1@X1-J1.1"}


def test_pulling_one_of_two_plugs_without_saying_which_isolates_nothing() -> None:
    wiring = wired(PLUGS % "unplug X1", INLET)
    assert "which of its plugs is not recorded" in wiring.devices[0].problem
    assert "A1-J1.1" in live_map(wiring, ["X1"]).contacts


def test_the_only_plug_at_an_item_needs_no_name() -> None:
    live = live_map(wired(PLUGS % "unplug A1", INLET), ["A1"])
    assert live.how("W2@A1-J1.1") is not None
    assert live.how("A1-J1.1") is None


def test_blocking_what_turns_takes_away_what_turning_makes() -> None:
    turning = (
        "items: {M1: Motor, roller: Roller}\n"
        "energy: {turning: {kind: electrical, isolate: [%s], stored: none}}\n"
    )  # fmt: skip
    wiring_text = (
        "joins: {M1: [{kind: load, between: [1, 2]}]}\n"
        "cables: {W1: {ends: [M1, parked], wires: {map: [[1, 1], [2, 2]]}}}\n"
        "sources: {turning: {at: [M1.1], return: [M1.2], earth: none, nominal: 40 V DC}}\n"
    )
    wiring = wired(turning % "block roller", wiring_text)
    assert live_map(wiring).contacts.keys() >= {"M1.1", "M1.2"}
    assert live_map(wiring, ["roller"]).contacts == {}
    mixed = wired(turning % "block roller, unplug M1", wiring_text)
    assert live_map(mixed, ["roller"]).contacts.keys() >= {"M1.1"}


def test_a_device_of_another_machine_isolates_nothing_here() -> None:
    assert wired("items: {A1: Board}\n", "").devices == ()
