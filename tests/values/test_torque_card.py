"""The torque card holds every screw that the work turns, once, with what is recorded of it."""

from __future__ import annotations

from tests.values.sets import builts_of, derived_of

from benchleaf.derived import Derived
from benchleaf.values.torque_card import CardRow, machine_card, procedure_card

_MACHINE = """variants: {mk1: {is: one}, mk2: {is: two}}
fasteners:
  lid-screw: {thread: M3, length: 8 mm, head: pan, drive: PH1, torque: 0.5 N·m}
  foot-screw: {thread: M4, drive: hex 3}
  clip: {kind: clip}
items:
  frame: {name: Frame, held-by: none}
  lid: {name: Lid, behind: [], held-by: {lid-screw: 4, clip: 2}}
  A1:
    name: Board
    behind: [lid]
    held-by: {lid-screw: 4}
    where: [{applies: [mk2], held-by: {lid-screw: 6}}]
  foot: {name: Foot, behind: [], held-by: {foot-screw: 1}}
"""
_OPEN = """record: teardown
id: open
title: Open the lid
machine: m
steps:
  - {title: Take the lid off, do: [remove: lid, lift off: lid]}
"""
_BOARD = """record: teardown
id: board
title: Take the board out
machine: m
conditions: [open]
steps:
  - {title: Look at it, changes: none}
  - {title: Loosen it, do: [loosen: A1.lid-screw]}
  - {title: Take it out, do: [remove: A1, lift off: A1]}
"""


def library() -> Derived:
    return derived_of(_MACHINE, teardown__open=_OPEN, teardown__board=_BOARD)


def card_of(procedure: str) -> tuple[CardRow, ...]:
    derived = library()
    machine = derived.library.machines["m"]
    return procedure_card(machine, builts_of(derived), derived.library.shop, machine.procedures[procedure])


def test_a_machines_card_holds_every_screw_and_no_clip() -> None:
    derived = library()
    rows = machine_card(derived.library.machines["m"], builts_of(derived), derived.library.shop)
    assert [(row.item, row.count) for row in rows] == [("lid", 4), ("A1", 4), ("A1", 6), ("foot", 1)]


def test_a_set_that_differs_has_a_line_for_each_way_with_the_machines_it_is_for() -> None:
    rows = [row for row in card_of("board") if row.item == "A1"]
    assert [(row.count, row.only_on) for row in rows] == [(4, ("mk1",)), (6, ("mk2",))]


def test_a_procedures_card_holds_what_its_conditions_turn_and_names_the_steps() -> None:
    rows = card_of("board")
    assert rows[0].item == "lid"
    assert rows[0].steps == (("open", 1),)
    assert rows[1].steps == (("board", 2), ("board", 3))
    assert all(row.item != "foot" for row in rows)


def test_a_screw_without_a_torque_stands_on_the_card_and_says_so() -> None:
    derived = library()
    foot = machine_card(derived.library.machines["m"], builts_of(derived), derived.library.shop)[-1]
    assert foot.callout.text == "not recorded"
    assert (foot.what, foot.tool) == ("1 × M4 screw", "hex 3")


def test_a_procedure_that_turns_nothing_has_an_empty_card() -> None:
    record = "record: teardown\nid: look\ntitle: Look\nmachine: m\nsteps:\n  - {title: Look, changes: none}\n"
    derived = derived_of(_MACHINE, teardown__look=record)
    machine = derived.library.machines["m"]
    assert procedure_card(machine, builts_of(derived), derived.library.shop, machine.procedures["look"]) == ()
