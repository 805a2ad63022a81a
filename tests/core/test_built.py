"""A machine in one configuration: what is there, what replaced what, where each thing is reached."""

from __future__ import annotations

import pytest

from benchleaf.applicability import Configuration
from benchleaf.built import Built, build
from benchleaf.pipeline import check_sources
from benchleaf.source import Source

MACHINE = """record: machine
id: m
name: M
variants: {mk1: one, mk2: two}
modifications: {lift: a lift}
fasteners:
  lid-screw: {thread: M3, drive: PH1, captive: yes, torque: 0.5 N·m, renew: always}
  clip: {kind: clip}
items:
  frame: Frame
  lid: {name: Lid, behind: [], held-by: {lid-screw: 4, rear: {count: 2, fastener: lid-screw, torque: 0.7 N·m}, clip: 1}}
  tray: {name: Tray, behind: [lid], held-by: none, where: [{applies: [mk2], behind: []}]}
  A1: {name: Board, in: tray, reach: [lid]}
  A9: {name: Added board, in: tray, applies: [lift]}
  B9: {name: On the added board, in: A9}
"""
WIRING = """record: wiring
machine: m
connectors:
  A1-J1: {family: small, contacts: {1: 24 V DC, 2: 0 V}, keyed: yes, reach: [tray]}
  A1-J2: {like: A1-J1, latch: hook}
  A1-J10: {contacts: 3}
  A9-J1: {contacts: 2}
cables:
  W1: {ends: [A1-J1, parked], where: [{applies: [lift], ends: [A1-J1, A9-J1]}]}
  W9: {ends: [A9-J1, B9]}
"""


def built(variant: str = "mk1", *modifications: str) -> Built:
    checked = check_sources([Source("m/machine.yaml", MACHINE), Source("m/wiring.yaml", WIRING)])
    machine = checked.derived.library.machines["m"]
    return build(machine, Configuration(variant, frozenset(modifications)))


def test_what_sits_in_something_that_is_not_there_is_not_there() -> None:
    assert {"A9", "B9"} & set(built().items) == set()
    assert {"A9", "B9"} <= set(built("mk1", "lift").items)


def test_a_cable_all_of_whose_ends_are_missing_is_missing() -> None:
    assert "W9" not in built().cables
    assert "W9" in built("mk1", "lift").cables


def test_where_replaces_the_keys_it_names_and_no_other() -> None:
    assert [str(end.at) for end in built().cables["W1"].ends] == ["A1-J1", "parked"]
    assert [str(end.at) for end in built("mk1", "lift").cables["W1"].ends] == ["A1-J1", "A9-J1"]
    assert built("mk2").items["tray"].behind == ()
    assert built("mk2").items["tray"].name == "Tray"


def test_like_copies_everything_but_reach() -> None:
    copied = built().connectors["A1-J2"]
    assert (copied.family, copied.keyed, copied.latch) == ("small", True, "hook")
    assert copied.contacts == {"1": "24 V DC", "2": "0 V"}
    assert copied.reach is None


def test_behind_is_inherited_and_reach_falls_back_to_it() -> None:
    assert built().behind("A1") == built().items["tray"].behind
    assert [str(option[0]) for clause in built().reach("A1") for option in clause] == ["lid"]
    assert built().reach("tray") == built().behind("tray")


def test_an_item_moves_with_all_that_is_in_it() -> None:
    assert built("mk1", "lift").inside("tray") == {"tray", "A1", "A9", "B9"}


def test_a_set_has_its_own_keys_before_those_of_its_fastener() -> None:
    sets = {one.own: one for one in built().sets_of("lid")}
    assert sets["rear"].torque is not None and sets["rear"].torque.quantity is not None
    assert sets["rear"].torque.quantity.nominal == pytest.approx(0.7)
    assert sets["rear"].thread == "M3" and sets["rear"].captive and sets["rear"].release == "loosen"
    assert sets["lid-screw"].tool == "PH1" and sets["clip"].tool == "hand" and sets["clip"].release == "remove"


def test_held_by_left_out_is_held_by_something_unknown_and_none_is_not() -> None:
    assert built().held_unknown("A1")
    assert not built().held_unknown("tray")


def test_connectors_come_in_connector_order() -> None:
    assert built().connectors_of["A1"] == ("A1-J1", "A1-J2", "A1-J10")
