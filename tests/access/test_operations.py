"""Facts become operations as the record language defines them."""

from __future__ import annotations

import pytest
from tests.access.machines import NO_ENERGY, ways

from benchleaf.access.paths import Access, access_path
from benchleaf.applicability import Configuration
from benchleaf.physical.least_path import OutOfReach

FASTENERS = """
fasteners:
  a-screw: {thread: M3, length: 6 mm, drive: PH1}
  b-screw: {thread: M4, length: 8 mm, drive: PH2, captive: yes}
"""


def done(access: Access) -> set[str]:
    return {one.id for one in access.priced}


def remove(items: str, item: str, wiring: str = "", more: str = "", **options: Configuration) -> Access:
    machine = f"{FASTENERS}{NO_ENERGY}items:\n  frame: {{name: Frame, reach: []}}\n{items}{more}"
    return access_path(ways(machine, wiring, **options), item)


def test_an_item_comes_off_after_its_sets_and_what_it_is_behind() -> None:
    access = remove(
        """
  lid: {name: Lid, behind: [], held-by: {a-screw: 4}}
  A1: {name: Board, behind: [lid], held-by: none}
""",
        "A1",
    )
    assert [one.id for one in access.priced] == ["un:lid.a-screw", "off:lid", "off:A1"]
    assert access.time == 4 * 10 + 30 + 30  # common practice: 10 s a screw, 30 s to lift off


def test_of_a_choice_the_quicker_way_is_taken() -> None:
    items = """
  left: {name: Left, behind: [], held-by: {a-screw: 1}}
  right: {name: Right, behind: [], held-by: {a-screw: 2}}
  top: {name: Top, behind: [], held-by: {a-screw: 1}}
  A1: {name: Board, behind: [[left + top, right]], held-by: none}
"""
    assert done(remove(items, "A1")) == {"un:right.a-screw", "off:right", "off:A1"}
    cheaper = items.replace("Top, behind: [], held-by: {a-screw: 1}", "Top, behind: [], held-by: none, takes: 1 s")
    cheaper = cheaper.replace("a-screw: 2", "a-screw: 5")
    assert done(remove(cheaper, "A1")) == {"un:left.a-screw", "off:left", "off:top", "off:A1"}


def test_a_position_serves_where_the_item_would_have_to_come_off() -> None:
    items = """
  tray:
    name: Tray
    behind: []
    held-by: {a-screw: 2, b-screw: 2}
    positions: {service: {motion: pull front 100 mm, needs: [a-screw]}}
  A1: {name: Board, in: tray, behind: [tray@service], held-by: none}
"""
    access = remove(items, "A1")
    assert done(access) == {"un:tray.a-screw", "to:tray@service", "off:A1"}
    assert done(remove(items, "tray")) == {"un:tray.a-screw", "un:tray.b-screw", "off:tray"}


def test_a_captive_set_is_loosened_and_an_absent_item_is_never_in_the_way() -> None:
    machine = """
variants: {mk1: {is: plain}, mk2: {is: guarded}}
"""
    items = """
  guard: {name: Guard, applies: [mk2], behind: [], held-by: {a-screw: 1}}
  lid: {name: Lid, behind: [guard], held-by: {b-screw: 4}}
"""
    plain = remove(items, "lid", more=machine, on=Configuration("mk1"))
    guarded = remove(items, "lid", more=machine, on=Configuration("mk2"))
    assert done(plain) == {"un:lid.b-screw", "off:lid"}
    assert plain.priced[0].words.startswith("Loosen the 4")
    assert done(guarded) == done(plain) | {"un:guard.a-screw", "off:guard"}


def test_what_sits_in_a_removed_item_is_out_of_the_way_of_others_but_not_of_its_neighbours() -> None:
    items = """
  box: {name: Box, behind: [], held-by: {a-screw: 1}}
  shield: {name: Shield, in: box, behind: [], held-by: {a-screw: 4}}
  A1: {name: Inner, in: box, behind: [shield], held-by: none}
  A2: {name: Outer, behind: [shield], held-by: none}
"""
    assert done(remove(items, "A2")) == {"un:box.a-screw", "off:box", "off:A2"}
    assert done(remove(items, "A1")) == {"un:shield.a-screw", "off:shield", "off:A1"}


def test_fasteners_missing_since_it_came_in_take_no_time() -> None:
    machine = f"""{FASTENERS}{NO_ENERGY}
items:
  frame: Frame
  lid: {{name: Lid, behind: [], held-by: {{a-screw: 4}}}}
as-found: [{{serial: "0221", set: lid.a-screw, missing: 1}}]
"""
    made = ways(machine, on=Configuration("standard", serial="0221"))
    assert access_path(made, "lid").time == 3 * 10 + 30


# ---- crossings

TWO_BOARDS = """
  lid: {name: Lid, behind: [], held-by: {a-screw: 4}}
  A1: {name: One, behind: [], held-by: none}
  A2: {name: Two, behind: [lid], held-by: none}
"""
W1 = """
connectors: {A1-J1: {contacts: 2}, A2-J1: {contacts: 2}}
cables: {W1: {ends: [A1-J1, A2-J1]}}
"""


def test_a_cable_stays_by_its_inner_end_or_travels_by_its_outer() -> None:
    assert done(remove(TWO_BOARDS, "A1", W1)) == {"open:W1@A1-J1", "off:A1"}
    far = W1.replace("A1-J1: {contacts: 2}", "A1-J1: {contacts: 2, reach: [lid]}")
    behind = TWO_BOARDS.replace("Two, behind: [lid]", "Two, behind: []")
    assert done(remove(behind, "A1", far)) == {"open:W1@A2-J1", "off:A1"}


def test_a_tie_is_opened_on_the_side_the_cable_is_taken_from() -> None:
    tie = "ties: {t1: {fixed-to: A1, holds: [W1], opens: by hand}}\n"
    stay = remove(TWO_BOARDS.replace("Two, behind: [lid]", "Two, behind: []"), "A1", W1, tie)
    assert done(stay) in ({"open:W1@A1-J1", "tie:t1", "off:A1"}, {"open:W1@A2-J1", "off:A1"})
    assert stay.time == 40 + 30  # travelling needs no tie opened: it is fixed to what travels
    out = tie.replace("A1", "A2")
    assert done(remove(TWO_BOARDS, "A1", W1, out)) == {"open:W1@A1-J1", "off:A1"}


def test_a_tie_makes_a_cable_cross_that_has_no_end_on_the_item() -> None:
    items = f"{TWO_BOARDS}  bracket: {{name: Bracket, behind: [], held-by: none}}\n"
    tie = "ties: {t1: {fixed-to: bracket, holds: [W1]}}\n"
    assert done(remove(items, "bracket", W1, tie)) == {"tie:t1", "off:bracket"}


def test_ends_of_three_are_opened_on_one_whole_side() -> None:
    wiring = """
connectors: {A1-J1: {contacts: 2}, A2-J1: {contacts: 2}, A3-J1: {contacts: 2}}
cables: {W1: {kind: harness, ends: [A1-J1, A2-J1, A3-J1]}}
"""
    items = """
  A1: {name: One, behind: [], held-by: none}
  A2: {name: Two, behind: [], held-by: none}
  A3: {name: Three, behind: [], held-by: none}
"""
    assert done(remove(items, "A1", wiring)) == {"open:W1@A1-J1", "off:A1"}
    far = wiring.replace("A1-J1: {contacts: 2}", "A1-J1: {contacts: 2, takes: 10 min}")
    assert done(remove(items, "A1", far)) == {"open:W1@A2-J1", "open:W1@A3-J1", "off:A1"}


@pytest.mark.parametrize(
    ("slack", "opened"), [("100 mm", set()), ("99 mm", {"open:W1@A1-J1"}), ("", {"open:W1@A1-J1"})]
)
def test_a_cable_follows_a_move_within_its_recorded_slack(slack: str, opened: set[str]) -> None:
    said = f", slack: {slack}" if slack else ""
    wiring = f"""
connectors: {{A1-J1: {{contacts: 2}}, A2-J1: {{contacts: 2, reach: [A9]}}}}
cables: {{W1: {{ends: [A1-J1, A2-J1]{said}}}}}
"""
    items = """
  tray: {name: Tray, behind: [], held-by: none, takes: 1 h, positions: {out: {motion: pull front 100 mm}}}
  A1: {name: Board, in: tray, behind: [tray@out], reach: [], held-by: none}
  A2: {name: Other, behind: [], held-by: none}
  A9: {name: Far, behind: [], held-by: none}
  A3: {name: Goal, behind: [tray@out], held-by: none}
"""
    assert done(remove(items, "A3", wiring)) == {"to:tray@out", "off:A3", *opened}


def test_a_tie_holds_a_cable_even_within_its_slack() -> None:
    wiring = """
connectors: {A1-J1: {contacts: 2}, A2-J1: {contacts: 2}}
cables: {W1: {ends: [A1-J1, A2-J1], slack: 1 m}}
"""
    items = """
  tray: {name: Tray, behind: [], held-by: none, takes: 1 h, positions: {out: {motion: pull front 100 mm}}}
  A1: {name: Board, in: tray, behind: [], held-by: none}
  A2: {name: Other, behind: [], held-by: none}
  A3: {name: Goal, behind: [tray@out], held-by: none}
"""
    assert done(remove(items, "A3", wiring)) == {"to:tray@out", "off:A3"}
    tie = "ties: {t1: {fixed-to: frame, holds: [W1]}}\n"
    assert done(remove(items, "A3", wiring, tie)) == {"tie:t1", "to:tray@out", "off:A3"}


def test_an_angle_is_no_length_so_no_slack_is_enough_for_it() -> None:
    wiring = """
connectors: {A1-J1: {contacts: 2}, A2-J1: {contacts: 2}}
cables: {W1: {ends: [A1-J1, A2-J1], slack: 9 m}}
"""
    items = """
  tray: {name: Tray, behind: [], held-by: none, takes: 1 h, positions: {out: {motion: tilt front 30 °}}}
  A1: {name: Board, in: tray, behind: [], held-by: none}
  A2: {name: Other, behind: [], held-by: none}
  A3: {name: Goal, behind: [tray@out], held-by: none}
"""
    found = done(remove(items, "A3", wiring))
    assert found in ({"open:W1@A1-J1", "to:tray@out", "off:A3"}, {"open:W1@A2-J1", "to:tray@out", "off:A3"})


def test_a_soldered_lead_is_not_opened_and_a_screwed_one_is_lifted() -> None:
    items = """
  A1: {name: Board, behind: [], held-by: none}
  M1: {name: Motor, behind: [], held-by: none}
"""
    wiring = "connectors: {A1-J1: {contacts: 2}}\ncables: {W1: {ends: [A1-J1, M1]}}\n"
    assert done(remove(items, "M1", wiring)) == {"open:W1@A1-J1", "off:M1"}
    lifted = wiring.replace("ends: [A1-J1, M1]", "ends: [{at: A1-J1, takes: 5 min}, M1], joint: screw")
    assert done(remove(items, "M1", lifted)) == {"open:W1@M1", "off:M1"}
    shut = "cables: {W1: {ends: [A1, M1]}}\n"
    access = remove(items, "M1", shut)
    assert not access.is_reached
    assert "nothing recorded of W1 can be opened" in access.out_of_reach


def test_a_parked_end_joins_nothing() -> None:
    items = "  A1: {name: Board, behind: [], held-by: none}\n"
    wiring = "connectors: {A1-J1: {contacts: 2}}\ncables: {W1: {ends: [A1-J1, parked]}}\n"
    assert done(remove(items, "A1", wiring)) == {"off:A1"}


def test_a_plug_on_another_cable_parts_there() -> None:
    items = """
  lid: {name: Lid, behind: [], held-by: none}
  A1: {name: Board, behind: [lid], held-by: none}
  M1: {name: Motor, behind: [], held-by: none}
"""
    wiring = """
connectors: {A1-J1: {contacts: 2, takes: 10 min}, W1-J1: {contacts: 2}}
cables:
  W1: {ends: [A1-J1]}
  W2: {ends: [W1-J1, M1]}
"""
    # W1 hangs on the board behind the lid, so nobody reaches its free end before that.
    assert done(remove(items, "M1", wiring)) == {"off:lid", "open:W2@W1-J1", "off:M1"}
    outside = wiring.replace("W1-J1: {contacts: 2}", "W1-J1: {contacts: 2, reach: []}")
    assert done(remove(items, "M1", outside)) == {"open:W2@W1-J1", "off:M1"}


# ---- lines

PUMP = """
  P1: {name: Pump, behind: [], held-by: none}
  elbow: {name: Elbow, behind: [], held-by: none}
  tank: {name: Tank, behind: [], held-by: none, holds: ink, circuit: ink, takes: 1 h}
"""


LOWER = """\
  lower: {circuit: ink, ends: [{at: elbow, drips-on: none}, {at: tank, drips-on: none}], clamp: yes}
"""


def lines(clamp: str, drips: str = "none") -> str:
    return f"""
lines:
  upper:
    circuit: ink
    clamp: {clamp}
    ends: [{{at: P1, reach: [tank], drips-on: none}}, {{at: elbow, drips-on: {drips}}}]
{LOWER}"""


def test_a_wet_joint_is_clamped_on_both_sides_or_drained() -> None:
    both = remove(PUMP, "P1", more=lines("yes"))
    assert done(both) == {"clamp:upper", "clamp:lower", "joint:upper@elbow", "off:P1"}
    assert both.time == 30 + 30 + (30 + 10) + 30
    drained = remove(PUMP, "P1", more=lines("no"))
    assert done(drained) == {"drain:ink", "joint:upper@elbow", "off:P1"}


def test_a_vessel_has_no_clamp_on_its_own_side() -> None:
    assert done(remove(PUMP.replace(", takes: 1 h", ""), "tank", more=lines("yes"))) == {
        "clamp:upper", "clamp:lower", "joint:lower@elbow", "off:tank"
    }  # fmt: skip
    assert done(remove(PUMP, "tank", more=f"lines:\n{LOWER}")) >= {"drain:ink", "off:tank"}


def test_a_dry_line_is_only_opened() -> None:
    dry = "lines:\n  air: {ends: [P1, elbow], wet: no}\n"
    access = remove(PUMP, "P1", more=dry)
    assert done(access) in ({"joint:air@P1", "off:P1"}, {"joint:air@elbow", "off:P1"})
    assert access.time == 30 + 30


def test_a_board_under_the_joint_is_covered_or_taken_away() -> None:
    items = f"{PUMP}  A4: {{name: Board, behind: [], held-by: none, takes: 10 min}}\n"
    wiring = "connectors: {A4-J1: {contacts: 2}}\n"
    covered = remove(items, "P1", wiring, lines("yes", "[A4]"))
    assert done(covered) == {"clamp:upper", "clamp:lower", "cover:A4", "joint:upper@elbow", "off:P1"}
    quick = items.replace("takes: 10 min", "takes: 1 s")
    assert "off:A4" in done(remove(quick, "P1", wiring, lines("yes", "[A4]")))
    assert "cover:A4" not in done(remove(items, "P1", "", lines("yes", "[A4]")))  # no contacts: nothing to harm


def test_facts_that_let_nothing_begin_are_no_way_and_name_the_ring() -> None:
    items = """
  tray: {name: Tray, behind: [], held-by: none}
  A1: {name: Board, in: tray, behind: [tray], held-by: none}
  A2: {name: Other, behind: [], held-by: none}
"""
    wiring = "connectors: {A1-J3: {contacts: 2, reach: [tray]}}\ncables: {W3: {ends: [A1-J3, A2]}}\n"
    access = remove(items, "A1", wiring)
    assert not access.is_reached
    assert "taking off tray" in access.out_of_reach and "opening W3 at A1-J3" in access.out_of_reach


def test_behind_the_frame_there_is_no_way() -> None:
    made = ways(f"{NO_ENERGY}items:\n  frame: Frame\n  A1: {{name: Board, behind: [frame], held-by: none}}\n")
    assert isinstance(made.path(("off:A1",), dead=False), OutOfReach)
    assert "nothing recorded makes way" in access_path(made, "A1").out_of_reach
