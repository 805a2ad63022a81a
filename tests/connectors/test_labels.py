"""Labels in order of opening, marks a proper colouring, ends named with where they go; worst risk pictured first."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.connectors.plain_machines import built_of, demo, demo_machine, demo_procedure

from benchleaf.connectors.book import ConnectorBook
from benchleaf.connectors.labels import LETTERS, cables_in_order, labels_of, mark, marks_of
from benchleaf.connectors.openings import openings_of
from benchleaf.connectors.shots import shots_of
from benchleaf.connectors.swaps import Pair, SwapBook
from benchleaf.drawings.marks import SHAPES, outline_of


def pair(one: int, two: int) -> Pair:
    return Pair(one=f"A1-J{one}", two=f"A1-J{two}", cables=(f"W{one}", f"W{two}"), ways=())


@settings(max_examples=100)
@given(st.integers(1, 60), st.lists(st.tuples(st.integers(1, 60), st.integers(1, 60)), max_size=300))
def test_no_two_swappable_cables_share_a_mark(count: int, joined: list[tuple[int, int]]) -> None:
    cables = [f"W{n}" for n in range(1, count + 1)]
    marks = marks_of(cables, [pair(*both) for both in joined])
    assert set(marks) == set(cables)
    for one, two in joined:
        if one != two and max(one, two) <= count:
            assert marks[f"W{one}"] != marks[f"W{two}"]


def test_marks_of_forty_that_all_take_each_others_place_are_all_different() -> None:
    cables = [f"W{n}" for n in range(40)]
    marks = marks_of(cables, [pair(a, b) for a in range(40) for b in range(a)])
    assert len(set(marks.values())) == 40


def test_neighbouring_marks_differ_in_letter_and_in_shape() -> None:
    for number in range(100):
        one, other = mark(number), mark(number + 1)
        assert one.letter != other.letter and one.shape != other.shape
        outline_of(one.shape, 10.0)  # a shape that can be drawn


def test_letters_are_none_that_read_as_a_figure() -> None:
    assert not set("IJOQSZ") & set(LETTERS) and len(set(LETTERS)) == len(LETTERS) > len(SHAPES)


def test_labels_of_every_demo_procedure_are_a_proper_colouring_in_order_of_opening() -> None:
    derived = demo()
    labelled = 0
    for machine in derived.library.machines.values():
        for built in derived.all_built(machine)[:4]:
            book = SwapBook(built)
            for procedure in machine.procedures.values():
                opened, table = openings_of(built, procedure), book.of_procedure(procedure)
                labels = labels_of(built, cables_in_order(built, opened), table.pairs)
                first = {}
                for span in opened.spans:
                    first.setdefault(span.cable, span.opened.turn)
                assert [label.cable for label in labels] == sorted(first, key=first.__getitem__)
                assert [label.number for label in labels] == list(range(1, len(labels) + 1))
                marks = {label.cable: label.mark for label in labels}
                for one in table.pairs:
                    if len(one.cables) == 2 and set(one.cables) <= set(marks):
                        assert marks[one.cables[0]] != marks[one.cables[1]]
                        labelled += 1
    assert labelled > 10


def test_two_labels_a_cable_each_naming_its_own_end_and_where_it_goes() -> None:
    built = demo_machine("fp420", "mk1")
    (label,) = labels_of(built, ["W6"], ())
    assert [end.words for end in label.ends] == ["S2-J1 → A1-J6", "A1-J6 → S2-J1"]
    parked = demo_machine("fp420", "mk1", "roll")
    (label,) = labels_of(parked, ["W9"], ())
    assert [end.words for end in label.ends] == ["S1-J1 → parked", "parked → S1-J1"]
    built = built_of("cables:\n  W1: {ends: [A1, F1.2, M1]}\n", "  A1: {name: Board}\n  F1: Fuse\n  M1: Motor\n")
    (label,) = labels_of(built, ["W1"], ())
    assert [end.words for end in label.ends] == ["A1 → F1:2, M1", "F1:2 → A1, M1", "M1 → A1, F1:2"]


def test_each_lifted_lead_has_a_label_that_says_its_terminal_and_where_it_goes() -> None:
    built = demo_machine("bc300", "two-bank")
    work = ConnectorBook(built).of_procedure(demo_procedure("bc300", "replace-heater-bank"))
    ends = [end.words for end in work.labels["W6"].ends]
    assert {"E1:1 → V1:2", "E1:2 → K1:4", "E1:PE → frame:PE"} <= set(ends)
    shots = {shot.connector: shot for shot in work.shots}
    assert shots["E1:1"].alike == ("E1:2", "E1:PE") and shots["E1:1"].risk.startswith("not recorded")


def test_cables_with_leads_lifted_at_one_item_at_the_same_time_differ_in_their_marks() -> None:
    items = "  A1: {name: Board}\n  X1: Strip\n  X2: Strip\n  M1: Motor\n"
    wiring = (
        "cables:\n  W1: {ends: [A1, X1], joint: screw, wires: {map: [[1, 1], [2, 2]]}}\n"
        "  W2: {ends: [M1, X1], joint: screw, wires: {map: [[1, 3]]}}\n"
        "  W3: {ends: [M1, X2], joint: screw, wires: {map: [[1, 1]]}}\n"
    )
    lift = "  - {title: Lift, do: [lift lead: W1 at X1, lift lead: W2 at X1.3, lift lead: W3 at X2.1]}\n"
    built = built_of(wiring, items, work=lift)
    work = ConnectorBook(built).of_procedure(built.machine.procedures["work"])
    assert [span.connector for span in work.opened.spans] == ["X1.1", "X1.2", "X1.3", "X2.1"]
    assert work.labels["W1"].mark != work.labels["W2"].mark
    assert work.labels["W3"].mark == work.labels["W1"].mark
    turn = "  - {title: In turn, do: [lift lead: W1 at X1, land lead: W1 at X1, lift lead: W2 at X1.3]}\n"
    built = built_of(wiring, items, work=turn)
    work = ConnectorBook(built).of_procedure(built.machine.procedures["work"])
    assert work.labels["W1"].mark == work.labels["W2"].mark


def test_of_a_machine_every_cable_with_a_plug_is_labelled_by_designation() -> None:
    cables = cables_in_order(demo_machine("fp420", "mk1"), None)
    assert cables[:4] == ("W1", "W2", "W3", "W4") and cables.index("W9") < cables.index("W10")
    assert "W17" not in cables  # a lead screwed at both ends


def test_pictures_come_worst_swap_risk_first() -> None:
    built = demo_machine("fp420", "mk1")
    procedure = demo_procedure("fp420", "replace-main-board")
    opened, table = openings_of(built, procedure), SwapBook(built).of_procedure(procedure)
    shots = shots_of(built, opened, table)
    assert {shot.connector for shot in shots} == {span.connector for span in opened.spans}
    risks = [shot.worst.consequence.rank if shot.worst else 99 for shot in shots]
    assert risks == sorted(risks)
    assert [shot.connector for shot in shots[:3]] == ["A1-J2", "A1-J9", "A1-J13"]
    (third,) = [shot for shot in shots if shot.connector == "A1-J7"]
    assert third.alike == ("A1-J6", "A1-J8")
    assert all(shot.risk and shot.must_show for shot in shots)


def test_a_picture_shows_the_neighbours_it_may_be_mistaken_for_and_how_an_unkeyed_plug_lies() -> None:
    built = demo_machine("fp420", "mk1")
    procedure = demo_procedure("fp420", "draw-tray")
    opened, table = openings_of(built, procedure), SwapBook(built).of_procedure(procedure)
    labels = {one.cable: one for one in labels_of(built, cables_in_order(built, opened), table.pairs)}
    shots = {shot.connector: shot for shot in shots_of(built, opened, table, labels)}
    assert any("A1-J7" in words for words in shots["A1-J6"].must_show)
    assert any("which side of the plug faces up" in words for words in shots["A1-J5"].must_show)
    assert any(labels["W4"].mark.words in words for words in shots["A1-J2"].must_show)
    assert shots["A1-J3"].risk == "no swap known"
