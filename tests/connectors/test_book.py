"""The book of a machine's connectors: a step shows the face, the label and the swap of each end it opens or plugs."""

from __future__ import annotations

from tests.connectors.plain_machines import built_of, demo, demo_machine, demo_procedure

from benchleaf.connectors.book import NO_SWAP, ConnectorBook, connector_book
from benchleaf.connectors.everywhere import open_ends_somewhere, swaps_somewhere
from benchleaf.drawings.face import meeting_words

MK1 = ConnectorBook(demo_machine("fp420", "mk1"))


def test_a_step_that_opens_ends_shows_face_label_and_swap_of_each() -> None:
    procedure = demo_procedure("fp420", "draw-tray")
    ends = MK1.open_ends_of_step(procedure, 6)
    assert [end.connector for end in ends] == ["A1-J2", "A1-J3", "A1-J5", "A1-J6", "A1-J7", "A1-J10"]
    labels = MK1.of_procedure(procedure).labels
    for number, end in enumerate(ends, 1):
        assert end.verb == "unplug" and end.label is not None and end.end_label is not None
        assert end.label == labels[end.cable] and end.label.number == number
        assert end.end_label.own == end.connector and end.end_label.goes_to
        assert {end.on_cable.half, end.fixed.half} == {"plug", "receptacle"}
        assert meeting_words(end.on_cable, end.fixed).startswith("Held face to face")
        mark = end.label.mark
        assert end.on_cable.label == end.fixed.label == f"{mark.letter} {mark.shape}"
        assert mark.words == f"{mark.shape} {mark.letter}"  # "1 A circle" would read as an ampere
        assert end.swap_words
    by = {end.connector: end for end in ends}
    assert "A1-J6 and A1-J7 take each other's plugs." in by["A1-J6"].swap_words
    assert "turned round" in by["A1-J2"].swap_words
    assert by["A1-J3"].swap_words == NO_SWAP


def test_a_step_that_plugs_shows_the_same_and_a_step_that_does_neither_shows_none() -> None:
    procedure = demo_procedure("bc300", "sort-circular-plugs")
    book = ConnectorBook(demo_machine("bc300", "two-bank"))
    opens, plugs = book.open_ends_of_step(procedure, 3), book.open_ends_of_step(procedure, 5)
    assert [(end.verb, end.connector) for end in plugs] == [("plug", "M1-J1"), ("plug", "M2-J1")]
    assert [end.pairs for end in plugs] == [end.pairs for end in opens]
    assert plugs[0].label == opens[0].label and plugs[0].pairs
    assert book.open_ends_of_step(procedure, 1) == ()


def test_the_half_on_the_cable_is_the_one_that_is_not_fixed() -> None:
    wiring = "connectors:\n  A1-J1: {form: plug, contacts: 2, face: [[1, 2]]}\ncables:\n  W1: {ends: [A1-J1, M1]}\n"
    items = "  A1: {name: Board}\n  M1: Motor\n"
    built = built_of(wiring, items, work="  - {title: Open, do: [unplug: A1-J1]}\n")
    (end,) = ConnectorBook(built).open_ends_of_step(built.machine.procedures["work"], 1)
    assert end.fixed.half == "plug" and end.on_cable.half == "receptacle"


def test_an_end_whose_label_comes_from_a_condition_keeps_its_number() -> None:
    procedure = demo_procedure("fp420", "replace-main-board")
    labels = MK1.of_procedure(procedure).labels
    before = MK1.of_procedure(demo_procedure("fp420", "draw-tray")).labels
    assert [labels[cable].number for cable in before] == [label.number for label in before.values()]


def test_over_every_configuration_each_swap_says_where_it_holds() -> None:
    derived = demo()
    machine = derived.library.machines["fp420"]
    found = swaps_somewhere(derived, machine)
    ranks = [one.value.worst.consequence.rank for one in found]
    assert ranks == sorted(ranks)
    (lid,) = [one for one in found if one.value.name == "A1-J9 and A1-J13"]
    assert lid.everywhere
    (roll,) = [one for one in found if one.value.name == "A1-J4 and A9-J2"]
    assert not roll.everywhere and all("roll" in one.modifications for one in roll.configurations)
    for built in derived.all_built(machine):
        for pair in connector_book(derived, built).swaps.pairs:
            (same,) = [one for one in found if (one.value.one, one.value.two) == (pair.one, pair.two)]
            assert built.configuration in same.configurations
            assert same.value.worst.consequence.rank <= pair.worst.consequence.rank


def test_an_end_that_differs_between_machines_stands_once_for_each() -> None:
    derived = demo()
    machine = derived.library.machines["fp420"]
    found = open_ends_somewhere(derived, machine, machine.procedures["restore-stock-wiring"], 3)
    assert {one.value.cable for one in found} == {"W21", "W22"} and all(one.everywhere for one in found)
    board = open_ends_somewhere(derived, machine, machine.procedures["replace-main-board"], 1)
    at_j8 = [one for one in board if one.value.connector == "A1-J8"]
    assert {one.value.cable for one in at_j8} == {"W8", "W22"} and not any(one.everywhere for one in at_j8)
    for one in at_j8:
        wants_roll = one.value.cable == "W22"
        assert all(("roll" in configuration.modifications) is wants_roll for configuration in one.configurations)


def test_a_procedure_for_other_machines_says_so() -> None:
    table = MK1.of_procedure(demo_procedure("fp420", "restore-stock-wiring")).swaps
    assert table.remarks[0] == "restore-stock-wiring is not for this machine."


def test_of_a_machine_labels_are_a_proper_colouring_too() -> None:
    for pair in MK1.swaps.pairs:
        if len(pair.cables) == 2:
            assert MK1.labels[pair.cables[0]].mark != MK1.labels[pair.cables[1]].mark
