"""What stands beside a path: what lies open by the way, and an author's record against the shortest way."""

from __future__ import annotations

from tests.access.machines import NO_ENERGY, derived_of, the_machine, ways

from benchleaf.access.comparison import comparisons, makes_dead
from benchleaf.access.opened_by_the_way import opened_by_the_way
from benchleaf.access.paths import access_path
from benchleaf.access.ways import ways_of
from benchleaf.derived import Derived

MACHINE = f"""
fasteners: {{a-screw: {{drive: PH1}}, b-screw: {{drive: PH2, renew: always}}}}
{NO_ENERGY}
items:
  frame: Frame
  lid: {{name: Lid, behind: [], held-by: {{a-screw: 4}}, supports: none}}
  side: {{name: Side, behind: [], held-by: {{a-screw: 1}}, supports: none}}
  seal: {{name: Seal, behind: [lid], held-by: none, supports: none, renew: always}}
  A1: {{name: Board, behind: [[lid + seal, side]], held-by: {{b-screw: 2}}, supports: none}}
  belt: {{name: Belt, behind: [lid], held-by: {{a-screw: 1}}, supports: none, renew: 2000 h}}
  brush: {{name: Brush, behind: [], held-by: none, supports: none, renew: 100 h}}
  A2: {{name: Deep, behind: [lid, seal], held-by: none, supports: none}}
"""


def test_wear_items_within_reach_and_what_has_to_be_new_are_listed() -> None:
    made = ways(MACHINE)
    found = opened_by_the_way(made, access_path(made, "A2"))
    assert [(one.what, one.how, one.is_owed, one.extra) for one in found] == [
        ("seal", "taken off on the way", True, 0.0),
        ("belt", "within reach", False, 10 + 30),
    ]
    screws = opened_by_the_way(made, access_path(made, "A1"))
    assert [(one.what, one.is_owed) for one in screws] == [("A1.b-screw", True)]


def test_what_can_be_reached_from_outside_is_not_by_the_way() -> None:
    made = ways(MACHINE)
    assert "brush" not in [one.what for one in opened_by_the_way(made, access_path(made, "A2"))]


def library(steps: str, goal: str = "remove A1", more: str = "") -> Derived:
    head = "record: teardown\nmachine: m\n"
    record = f"{head}id: by-hand\ntitle: By hand\ngoal: {goal}\n{more}steps:\n{steps}"
    return derived_of(MACHINE, **{"by-hand": record})


LONG = """
  - {title: Open the lid, do: [remove: lid.a-screw, lift off: lid]}
  - {title: Open the side, do: [remove: side.a-screw, lift off: side]}
  - {title: Take the seal out, do: [lift off: seal]}
  - {title: Take the board out, do: [remove: A1.b-screw, lift off: A1]}
"""


def test_a_longer_record_is_told_both_times_and_what_it_did_not_need() -> None:
    derived = library(LONG)
    machine = the_machine(derived)
    (one,) = comparisons(derived, machine, ways_of(derived, machine, derived.configurations(machine)[0]), "A1")
    assert (one.written_time, one.least_time) == (40 + 30 + 10 + 30 + 30 + 20 + 30, 10 + 30 + 20 + 30)
    assert one.is_longer
    assert one.superfluous == (
        "Remove the 4 screws of the lid",
        "Take the lid off: direction not recorded",
        "Take the seal off: direction not recorded",
    )
    assert one.instead == ()


def test_another_way_is_told_by_what_it_would_open_instead() -> None:
    around = "".join(line for line in LONG.splitlines(keepends=True) if "side" not in line)
    derived = library(around)
    machine = the_machine(derived)
    (one,) = comparisons(derived, machine, ways_of(derived, machine, derived.configurations(machine)[0]), "A1")
    assert one.superfluous == ()
    assert one.instead == ("Remove the screw of the side", "Take the side off: direction not recorded")


def test_the_shortest_record_has_nothing_said_against_it() -> None:
    short = "".join(line for line in LONG.splitlines(keepends=True) if "lid" not in line and "seal" not in line)
    derived = library(short)
    machine = the_machine(derived)
    made = ways_of(derived, machine, derived.configurations(machine)[0])
    (one,) = comparisons(derived, machine, made, "A1")
    assert not one.is_longer and one.superfluous == one.instead == ()
    assert comparisons(derived, machine, made, "A2") == ()
    assert makes_dead(derived, machine, made, ()) == ()
