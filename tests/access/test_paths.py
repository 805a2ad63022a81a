"""An access path as it is read: price, bound, order, tools, ends, and every gap with what it counts as."""

from __future__ import annotations

import pytest
from tests.access.machines import NO_ENERGY, ways

from benchleaf.access.order import by_hand
from benchleaf.access.paths import Access, access_path
from benchleaf.access.words import duration, listed
from benchleaf.physical.operations import named, subject_of

FASTENERS = """
fasteners: {a-screw: {thread: M3, length: 6 mm, drive: PH1}, b-screw: {drive: PH2}, c-screw: {thread: M4}}
"""
KNOWN = """
  lid: {name: Lid, behind: [], held-by: {a-screw: 2}, supports: none, comes-off: [slide back 5 mm, lift up]}
  A1: {name: Board, behind: [lid], held-by: {b-screw: 1}, supports: none}
  A2: {name: Other, behind: [lid], held-by: {a-screw: 1}, supports: none}
"""
WIRING = "connectors: {A1-J1: {contacts: 2}, A2-J1: {contacts: 2}}\ncables: {W1: {ends: [A1-J1, A2-J1]}}\n"


def path(items: str, item: str, wiring: str = WIRING, more: str = "", goal: str = "remove") -> Access:
    machine = f"{FASTENERS}{NO_ENERGY}items:\n  frame: Frame\n{items}{more}"
    return access_path(ways(machine, wiring), item, goal)  # type: ignore[arg-type]


def test_a_path_says_all_that_is_needed_to_follow_it() -> None:
    access = path(KNOWN, "A1")
    assert access.title == "Remove the board (A1)"
    assert [one.words for one in access.works] == [
        "Remove the 2 M3 × 6 mm screws of the lid",
        "Take the lid off: slide back 5 mm, then lift up",
        "Disconnect W1 at A1-J1",
        "Remove the screw of the board (A1)",
        "Take the board (A1) off: direction not recorded",
    ]
    assert access.time == access.work_time == access.bound == 20 + 30 + 40 + 10 + 30
    assert access.is_least and access.why_not_least == ""
    assert access.tools == ("PH1", "hand", "PH2", "hand") and access.tool_changes == 3
    assert access.ends_opened == ("W1 at A1-J1",)
    assert access.gaps == ()


def test_a_goal_reached_takes_less_than_one_removed() -> None:
    assert [one.id for one in path(KNOWN, "A1", goal="reach").works] == ["un:lid.a-screw", "off:lid"]
    outside = path(KNOWN, "lid", goal="reach")
    assert outside.is_reached and outside.works == () and outside.time == 0


def test_to_replace_an_item_its_own_ends_are_opened() -> None:
    far = WIRING.replace("A1-J1: {contacts: 2}", "A1-J1: {contacts: 2, takes: 10 min}")
    assert path(KNOWN, "A1", far).ends_opened == ("W1 at A2-J1",)
    assert path(KNOWN, "A1", far, goal="replace").ends_opened == ("W1 at A1-J1",)


def test_an_item_nobody_recorded_is_refused() -> None:
    with pytest.raises(KeyError):
        path(KNOWN, "A9")


GAPS = {
    "held-by: {b-screw: 1}, ": "what holds A1 is not recorded",
    "behind: [lid], held-by: {b": "what A1 is behind is not recorded",
    ", supports: none}\n  A2": "what would fall or tip without A1 is not recorded",
}


@pytest.mark.parametrize("left_out", GAPS)
def test_what_is_left_out_is_said_with_what_it_counts_as(left_out: str) -> None:
    keep = {"behind: [lid], held-by: {b": "held-by: {b", ", supports: none}\n  A2": "}\n  A2"}.get(left_out, "")
    items = KNOWN.replace(left_out, keep)
    assert items != KNOWN
    access = path(items, "A1")
    assert any(gap.startswith(GAPS[left_out]) for gap in access.gaps), access.gaps
    assert any(GAPS[left_out] in gap for one in access.works for gap in one.gaps)


def test_a_drive_nobody_recorded_is_a_tool_of_its_own_and_no_name_is_invented() -> None:
    access = path(KNOWN.replace("b-screw: 1", "c-screw: 1"), "A1")
    assert "driver not recorded" in access.tools
    assert "the drive of A1.c-screw is not recorded: the tool is unknown" in access.gaps


def test_slack_and_travel_nobody_recorded_are_gaps_where_a_cable_was_opened_for_them() -> None:
    items = """
  tray:
    {name: Tray, behind: [], held-by: none, supports: none, takes: 1 h, positions: {out: {motion: pull front 50 mm}}}
  A1: {name: Board, in: tray, behind: [], held-by: none, supports: none}
  A2: {name: Other, behind: [], held-by: none, supports: none}
  A3: {name: Goal, behind: [tray@out], held-by: none, supports: none}
"""
    assert path(items, "A3").gaps == ("the slack of W1 is not recorded: it counts as none",)
    slack = WIRING.replace("ends: [A1-J1, A2-J1]", "ends: [A1-J1, A2-J1], slack: 1 m")
    assert path(items, "A3", slack).gaps == ()
    unknown = path(items.replace("{motion: pull front 50 mm}", "{motion: pull front}"), "A3", slack)
    assert unknown.gaps == ("how far tray moves to out is not recorded: no cable counts as long enough",)


def test_a_joint_nobody_described_counts_as_soldered_and_says_so() -> None:
    wiring = "connectors: {A1-J1: {contacts: 2}}\ncables: {W1: {ends: [A1-J1, A2]}}\n"
    assert "how W1 is joined at A2 is not recorded: it counts as soldered" in path(KNOWN, "A2", wiring).gaps
    said = wiring.replace("ends: [A1-J1, A2]", "ends: [A1-J1, A2], joint: solder")
    assert path(KNOWN, "A2", said).gaps == ()


def test_what_lies_under_a_joint_and_whether_a_line_is_soft_are_said() -> None:
    lines = "lines: {hose: {ends: [{at: A1}, {at: A2, reach: [A1]}]}}\n"
    gaps = path(KNOWN, "A1", more=lines).gaps
    assert "what lies under hose at A1 is not recorded: it counts as an electrical part" in gaps
    assert "whether hose is soft enough to clamp is not recorded: it counts as stiff" in gaps


def test_no_wiring_and_no_energy_recorded_are_never_taken_for_none() -> None:
    made = ways(f"{FASTENERS}items:\n  frame: Frame\n{KNOWN}")
    gaps = access_path(made, "lid").gaps
    assert "no wiring is recorded: any cable may still join what is moved" in gaps
    assert "no energy is recorded: everything counts as energised, hot and loaded" in gaps


def test_a_source_no_energy_isolates_counts_as_live() -> None:
    live = f"{WIRING}sources: {{mains: {{at: [A1-J1.1]}}}}\n"
    assert "no recorded energy isolates the source mains: it counts as live" in path(KNOWN, "A1", live).gaps


def test_hands_finish_one_thing_before_the_next_with_the_tools_in_the_same_order() -> None:
    machine = f"{FASTENERS}{NO_ENERGY}items:\n  frame: Frame\n" + "".join(
        f"  c{n}: {{name: Cover {n}, behind: [], held-by: {{a-screw: 1}}}}\n" for n in range(4)
    )
    made = ways(machine + "  A1: {name: Board, behind: [c0, c1, c2, c3], held-by: none}\n")
    found = made.path(("off:A1",), dead=False)
    order = by_hand(made.ground, made.network.operations, getattr(found, "order", ()))
    tools = [made.network.operations[one].tool for one in order]
    assert sorted(order) == sorted(getattr(found, "order", ()))
    assert [one for n, one in enumerate(tools) if n == 0 or tools[n - 1] != one] == ["PH1", "hand"]
    first = next(one for one in order if named(one).kind == "off")
    assert subject_of(made.ground, first) == subject_of(made.ground, order[3])


def test_times_and_lists_in_words() -> None:
    assert [duration(one) for one in (0, 20, 60, 79.2, 3600, 3725)] == [
        "0 s", "20 s", "1 min", "1 min 20 s", "1 h", "1 h 2 min 5 s"
    ]  # fmt: skip
    assert [listed(one) for one in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == ["", "a", "a and b", "a, b and c"]
