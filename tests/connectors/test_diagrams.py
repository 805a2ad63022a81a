"""The diagram from the records: table and drawing hold the same data, changes are told in words and lines."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest
from tests.connectors.plain_machines import built_of, demo, demo_machine, demo_procedure

from benchleaf.connectors.diagrams import diagram_of, unmodified
from benchleaf.connectors.labels import cables_in_order, labels_of
from benchleaf.connectors.openings import openings_of
from benchleaf.connectors.swaps import SwapBook
from benchleaf.drawings.interconnection import Diagram
from benchleaf.edges.graphviz_edge import draw
from benchleaf.wiring.graph import COPPER, make_graph

STOCK = demo_machine("fp420", "mk2")
ROLL = demo_machine("fp420", "mk2", "roll")


def drawn(diagram: Diagram) -> ET.Element:
    made = draw(diagram)
    assert made.drawing is not None, made.problem
    return ET.fromstring(made.drawing.svg)


def rows(diagram: Diagram, kind: str) -> dict[str, tuple[str, ...]]:
    return {row[1]: row for row in diagram.table.rows if row[0] == kind}


def data(root: ET.Element, name: str) -> list[str]:
    return [found for element in root.iter() if (found := element.get(f"data-{name}"))]


def test_every_cable_and_every_board_with_wiring_is_drawn_and_tabled() -> None:
    derived = demo()
    for machine in derived.library.machines.values():
        for built in derived.all_built(machine)[:3]:
            diagram = diagram_of(built)
            assert set(rows(diagram, "cable")) >= set(built.cables)
            boxes = {part for row in diagram.table.rows if row[0] == "board or part" for part in row[2].split(", ")}
            assert set(built.connectors) <= boxes
            assert "not recorded" not in {row[2] for row in diagram.table.rows}
            assert not re.search(r"stranger\d", diagram.dot)


def test_table_and_drawing_hold_the_same_data() -> None:
    diagram = diagram_of(ROLL)
    root = drawn(diagram)
    assert set(data(root, "cable")) == set(rows(diagram, "cable"))
    assert set(data(root, "signal")) == set(rows(diagram, "bypassed signal"))
    words = " ".join("".join(e.itertext()) for e in root.iter() if e.tag.endswith("}text"))
    for item in data(root, "item"):
        name = ROLL.items[item].name
        (row,) = [r for r in diagram.table.rows if r[0] == "board or part" and r[1] in (f"{item} {name}", name)]
        for connector in row[2].split(", ") if row[2] != "no connectors" else []:
            assert connector.removeprefix(f"{item}-") in words
    for name, (_, _, between, _) in rows(diagram, "cable").items():
        assert between == " – ".join(str(end.at) for end in ROLL.cables[name].ends)


def test_what_the_conversion_added_and_re_plugged_is_told_in_words_and_line() -> None:
    diagram = diagram_of(ROLL)
    cables, boards = rows(diagram, "cable"), rows(diagram, "board or part")
    assert {name for name, row in cables.items() if row[3].endswith("added")} == {"W20", "W21", "W22", "W23", "W24"}
    assert {name for name, row in cables.items() if row[3].endswith("re-routed")} == {"W8", "W9"}
    assert {name.split()[0] for name, row in boards.items() if row[3] == "added"} == {"A9", "M5", "XP3", "XP5"}
    root = drawn(diagram)
    for element in root.iter():
        name = element.get("data-cable")
        if name:
            dashed = any(e.get("stroke-dasharray") for e in element.iter() if e.tag.endswith("path"))
            assert dashed is (name in {"W8", "W9", "W20", "W21", "W22", "W23", "W24"}), name
    assert not any("added" in row[3] for row in diagram_of(STOCK).table.rows)


def test_bypassed_signals_say_what_supplies_them_now() -> None:
    found = rows(diagram_of(ROLL), "bypassed signal")
    assert found["lid-closed"][3] == "A9-J3:1 supplies lid closed, always"
    assert not rows(diagram_of(STOCK), "bypassed signal")


def test_a_cable_taken_out_stays_in_the_drawing_as_removed() -> None:
    wiring = "connectors:\n  A1-J1: {contacts: 2}\ncables:\n  W1: {ends: [A1-J1, M1], applies: [not lift]}\n"
    items = "  A1: {name: Board}\n  M1: {name: Motor, applies: [not lift]}\n"
    built = built_of(wiring, items, modified="lift", modifications="  lift: {is: lift, serials: [1]}\n")
    assert "W1" not in built.cables and "W1" in unmodified(built).cables
    diagram = diagram_of(built)
    assert rows(diagram, "cable")["W1"][3].endswith("removed")
    assert rows(diagram, "board or part")["M1 Motor"][3] == "removed"
    dotted = [e for e in drawn(diagram).iter() if e.get("stroke-dasharray")]
    assert dotted


def test_of_a_procedure_only_what_it_opens_is_drawn() -> None:
    procedure = demo_procedure("fp420", "draw-tray")
    built = demo_machine("fp420", "mk1")
    opened = openings_of(built, procedure)
    labels = {
        one.cable: one
        for one in labels_of(built, cables_in_order(built, opened), SwapBook(built).of_procedure(procedure).pairs)
    }
    diagram = diagram_of(built, procedure, labels=labels)
    cables = rows(diagram, "cable")
    assert set(cables) == {span.cable for span in opened.spans}
    for span in opened.spans:
        assert f"opened at {span.connector}" in cables[span.cable][3]
        assert f"label {labels[span.cable].number} {labels[span.cable].mark.words}" in cables[span.cable][3]
    boards = rows(diagram, "board or part")
    assert boards["A1 Main board"][2] == "A1-J2, A1-J3, A1-J5, A1-J6, A1-J7, A1-J10"
    circles = [e for e in drawn(diagram).iter() if e.tag.endswith("ellipse")]
    assert len(circles) == len(opened.spans)


def test_a_procedure_that_opens_nothing_says_so() -> None:
    diagram = diagram_of(STOCK, demo_procedure("fp420", "clear-film-path"))
    assert "No step of this procedure is recorded to open a connector." in diagram.description
    words = " ".join("".join(e.itertext()) for e in drawn(diagram).iter() if e.tag.endswith("}text"))
    assert "No step of this procedure is recorded to open a connector." in words


def test_a_step_that_does_not_say_what_it_opens_is_named_below_the_drawing() -> None:
    diagram = diagram_of(ROLL, demo_procedure("fp420", "restore-stock-wiring"))
    assert "Step 4 of restore-stock-wiring does not say what it opens." in diagram.legend


@pytest.mark.parametrize(
    ("name", "variant", "cable", "words"),
    [
        ("fp420", "mk2", "W1", "230 V AC, PE"),
        ("fp420", "mk2", "W3", "24 V DC, 0 V"),
        ("fp420", "mk2", "W6", "5 V DC, 0 V, film-present"),
        ("bc300", "two-bank", "W6", "PE, 230 V AC when switched"),
        ("bc300", "two-bank", "W1", "230 V AC, PE"),
    ],
)
def test_what_a_cable_carries_is_said_and_mains_behind_a_relay_too(
    name: str, variant: str, cable: str, words: str
) -> None:
    assert rows(diagram_of(demo_machine(name, variant)), "cable")[cable][3].endswith(words)


def test_wires_of_which_nothing_is_known_are_counted() -> None:
    wiring = (
        "connectors:\n  A1-J1: {contacts: {1: 24 V DC, 2: '', 3: '-'}}\n"
        "cables:\n  W1: {ends: [A1-J1, M1], wires: {map: straight}}\n  W2: {ends: [A1-J1, M1]}\n"
    )
    diagram = diagram_of(built_of(wiring.replace("2: '', ", "2: x, "), "  A1: {name: Board}\n  M1: Motor\n"))
    cables = rows(diagram, "cable")
    assert cables["W1"][3].endswith("24 V DC, 1 not recorded")
    assert cables["W2"][3].endswith("wires not recorded")


def test_nets_are_what_copper_joins_and_cables_name_the_nets_in_them() -> None:
    diagram = diagram_of(STOCK)
    graph = make_graph(STOCK)
    above = {node: node for node in graph.nodes}
    changed = True
    while changed:  # the plainest way: spread the least name until nothing changes
        changed = False
        for edge in graph.edges:
            if edge.kind in COPPER:
                least = min(above[edge.a], above[edge.b])
                changed = changed or {above[edge.a], above[edge.b]} != {least}
                above[edge.a] = above[edge.b] = least
    groups: dict[str, set[str]] = {}
    for node, least in above.items():
        groups.setdefault(least, set()).add(node.rpartition("@")[2].replace(".", ":", 1))
    for net in diagram.nets:
        assert set(net.contacts) in groups.values(), net.name
        assert net.cables
    root = drawn(diagram)
    for element in root.iter():
        if element.get("data-cable"):
            named = set((element.get("data-nets") or "").split())
            assert named == {net.id for net in diagram.nets if element.get("data-cable") in net.cables}


def test_same_records_same_dot() -> None:
    assert diagram_of(ROLL).dot == diagram_of(demo_machine("fp420", "mk2", "roll")).dot
