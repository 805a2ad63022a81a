"""The disassembly map: every item once, the drawing and the table from the same facts, and it can be drawn."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pytest
from tests.access.machines import NO_ENERGY, ways

from benchleaf.access.disassembly_drawing import disassembly_diagram
from benchleaf.access.disassembly_map import DisassemblyMap, disassembly_map
from benchleaf.access.ways import Ways, all_ways
from benchleaf.drawings.diagram_values import Diagram
from benchleaf.edges.graphviz_edge import draw
from benchleaf.pipeline import load

CONTENT = Path(__file__).parents[2] / "content"
MACHINE = f"""
{NO_ENERGY}
items:
  frame: Frame
  lid: {{name: Lid, behind: [], held-by: none}}
  tray: {{name: Tray, behind: [lid], held-by: none, positions: {{out: {{motion: pull front 50 mm}}}}}}
  A1: {{name: Board, in: tray, behind: [lid, tray@out], reach: [lid, [left, right + lid]], held-by: none}}
  left: {{name: Left, behind: [], held-by: none}}
  right: {{name: "<Right> & \\"co\\" \\\\n", behind: [[left, lid + tray]], held-by: none}}
  A2: {{name: Unknown}}
  A3: {{name: Walled, behind: [frame], held-by: none}}
"""


def drawn(machine: str = MACHINE, wiring: str = "") -> tuple[DisassemblyMap, Diagram]:
    made = disassembly_map(ways(machine, wiring))
    return made, disassembly_diagram(made)


def words_of(diagram: Diagram, kind: str) -> list[str]:
    return [part.words for part in diagram.parts if part.kind == kind]


def test_every_item_but_the_frame_stands_on_the_map_once() -> None:
    made, diagram = drawn()
    assert sorted(row.item for row in made.rows) == ["A1", "A2", "A3", "left", "lid", "right", "tray"]
    assert len(words_of(diagram, "diagram-box")) == len(diagram.table.rows) == 7


def test_every_clause_is_an_arrow_unless_another_arrow_tells_it() -> None:
    _, diagram = drawn()
    arrows = words_of(diagram, "diagram-arrow")
    assert "tray at out first, before board (A1) can come off" in arrows
    assert "lid first, before tray can come off" in arrows
    assert 'left, or <Right> & "co" \\n and lid first, before board (A1) can be touched' in arrows
    # lid goes before A1 too, but where the tray is drawn out by itself no arrow tells that: it stays.
    assert "lid first, before board (A1) can come off" in arrows
    nested = MACHINE.replace("behind: [lid, tray@out]", "behind: [lid, tray]")
    assert "lid first, before board (A1) can come off" not in words_of(drawn(nested)[1], "diagram-arrow")


def test_the_table_says_what_is_not_recorded_and_where_there_is_no_way() -> None:
    _, diagram = drawn()
    rows = {row[0]: row for row in diagram.table.rows}
    assert rows["unknown (A2)"][2] == rows["unknown (A2)"][4] == "not recorded"
    assert rows["walled (A3)"][8].startswith("no way: ")
    assert rows["board (A1)"][2] == "lid; tray at out"
    assert rows["lid"][2] == "nothing"
    assert all(cell for row in diagram.table.rows for cell in row)
    assert "What stands before unknown (A2) is not recorded." in diagram.description


def test_every_difference_of_line_is_told_in_words() -> None:
    _, diagram = drawn()
    assert any("dashed arrow" in one for one in diagram.legend)
    assert any("“or”" in one for one in diagram.legend)
    assert any("not recorded" in one for one in diagram.legend)
    assert 'label="touch' in diagram.dot or "label=touch" in diagram.dot


def test_what_parts_a_cable_stands_in_the_table() -> None:
    wiring = "connectors: {A1-J1: {contacts: 2}}\ncables: {W1: {ends: [A1-J1, left]}, W2: {ends: [right, left]}}\n"
    _, diagram = drawn(wiring=wiring)
    rows = {row[0]: row for row in diagram.table.rows}
    assert rows["board (A1)"][5] == "W1 at A1-J1"
    assert rows["left"][5] == "W1 at A1-J1; W2: nothing recorded of it can be opened"


def test_nothing_a_record_holds_acts_as_markup() -> None:
    _, diagram = drawn()
    made = draw(diagram)
    assert made.drawing is not None, made.problem
    text = "".join(ElementTree.fromstring(made.drawing.svg).itertext())
    assert '<Right> & "co" \\n' in text


def test_an_empty_machine_says_so() -> None:
    _, diagram = drawn(f"{NO_ENERGY}items: {{frame: Frame}}\n")
    assert "No items recorded." in diagram.description
    assert draw(diagram).drawing is not None


@cache
def demo() -> tuple[Ways, ...]:
    derived = load(CONTENT).derived
    return tuple(ways for machine in derived.library.machines.values() for ways in all_ways(derived, machine).values())


@pytest.mark.parametrize("number", [0, 5])
def test_the_maps_of_the_demo_are_drawn_with_every_item_and_the_same_bytes(number: int) -> None:
    made = disassembly_diagram(disassembly_map(demo()[number]))
    assert made == disassembly_diagram(disassembly_map(demo()[number]))
    drawing = draw(made).drawing
    assert drawing is not None
    for item in demo()[number].removable:
        assert re.search(rf'data-item="{re.escape(item)}"', drawing.svg), item
