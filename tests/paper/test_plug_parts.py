"""Plugs on a printed procedure: every opened end with its faces, every wrong place said, what is joined to what."""

from __future__ import annotations

import re
from functools import cache

import pytest
from tests.paper.sheets import demo, demo_book, demo_pdf, demo_pictures, demo_sheet, pages_of

from benchleaf.connectors.everywhere import open_ends_somewhere
from benchleaf.edges.graphviz_edge import drawn
from benchleaf.edges.pdf import pdf_of
from benchleaf.pages.book import Book
from benchleaf.paper.procedure import sheet
from benchleaf.paper.sheet import Sheet
from benchleaf.paper.subject import subject_of

LEAST_LETTERS = 1.8
"""Millimetres of the smallest lettering that is read at arm's length on a bench (common practice, no source)."""
OPENING = [
    (str(machine.id), str(one.id))
    for machine, one in demo().derived.library.procedures()
    if any(open_ends_somewhere(demo().derived, machine, one, n) for n in range(1, len(one.steps) + 1))
]


@cache
def with_diagrams(machine: str, name: str, variant: str | None = None) -> Sheet:
    mbook = Book(demo().derived, drawn).machine(machine)
    return sheet(subject_of(mbook, mbook.machine.procedures[name], variant=variant), demo_pictures)


def test_the_demo_has_procedures_that_open_plugs() -> None:
    assert len(OPENING) >= 10


@pytest.mark.parametrize(("machine", "name"), OPENING)
def test_every_end_a_step_opens_or_plugs_is_there_with_both_faces(machine: str, name: str) -> None:
    mbook = demo_book().machine(machine)
    procedure = mbook.machine.procedures[name]
    made = demo_sheet(machine, name)
    rows = made.data["plugs"]
    for number in range(1, len(procedure.steps) + 1):
        for some in open_ends_somewhere(demo().derived, mbook.machine, procedure, number):
            end = some.value
            mine = [one for one in rows if one["end"] == end.connector and f"step {number}" in one["steps"].split(", ")]
            assert mine, (end.connector, number)
            assert any(one["warning"] == end.swap_words for one in mine)
    assert rows
    for row in rows:
        assert [("plug" in f["alt"], "receptacle" in f["alt"]) for f in row["faces"]].count((False, False)) == 0
        assert len({face["alt"] for face in row["faces"]}) == 2
        assert all(face["file"] in made.files and face["alt"] for face in row["faces"])


@pytest.mark.parametrize(("machine", "name"), OPENING)
def test_the_lettering_of_a_face_can_be_read_and_the_face_lies_on_the_sheet(machine: str, name: str) -> None:
    made = demo_sheet(machine, name)
    for row in made.data["plugs"]:
        for face in row["faces"]:
            svg = made.files[face["file"]].decode()
            units = float(re.search(r'viewBox="0 0 ([0-9.]+)', svg)[1])  # type: ignore[index]
            smallest = min(float(size) for size in re.findall(r'font-size="([0-9.]+)"', svg))
            assert smallest * face["width"] / units >= LEAST_LETTERS
            assert face["width"] <= 179  # A4 less its margins of 18 and 13 mm


def test_a_plug_that_goes_elsewhere_is_said_at_its_step_and_at_its_faces() -> None:
    pages = pages_of(demo_pdf("fp420", "draw-tray"))
    words = "A1-J6 and A1-J7 take each other's plugs."
    assert [f"A1-J6: {words}" in page for page in pages].count(True) == 1
    (at_step,) = [page for page in pages if f"A1-J6: {words}" in page]
    assert "Open the short cables" in at_step
    steps, faces = " ".join(pages).split("Plugs of these steps")
    assert words in steps and words in faces


def test_what_the_steps_open_is_drawn_with_its_words() -> None:
    made = with_diagrams("fp420", "draw-tray")
    (one,) = made.data["diagrams"]
    assert "Draw the control tray to its service position" in one["drawing"]["alt"]
    svg = made.files[one["drawing"]["file"]].decode()
    assert all(f">{cable}<" in svg for cable in ("W4", "W5", "W6", "W7", "W12", "W14"))
    assert "What these steps open" in " ".join(pages_of(pdf_of(made)))


def test_machines_on_which_other_cables_are_opened_have_a_drawing_each() -> None:
    everywhere = with_diagrams("fp420", "restore-stock-wiring").data["diagrams"]
    assert everywhere
    assert len(everywhere) == 1 or all("only" in one for one in everywhere)


def test_a_diagram_that_cannot_be_drawn_is_a_table_of_the_same_facts() -> None:
    made = demo_sheet("fp420", "draw-tray")  # its book has no program to draw with
    (one,) = made.data["diagrams"]
    assert "was not drawn" in one["problem"]
    assert {"W4", "W5", "W6", "W7", "W12", "W14"} <= {word for row in one["rows"] for word in row[1].split()}
    assert "The same facts as a table" in " ".join(pages_of(demo_pdf("fp420", "draw-tray")))


def test_a_variant_has_its_own_ends_only() -> None:
    whole = {(row["end"], row["cable"]) for row in with_diagrams("fp420", "replace-main-board").data["plugs"]}
    narrow = with_diagrams("fp420", "replace-main-board", "mk1").data["plugs"]
    assert {(row["end"], row["cable"]) for row in narrow} <= whole
    assert not any("mk2" in row.get("only", "") for row in narrow)


def test_a_procedure_that_opens_no_plug_has_neither() -> None:
    data = demo_sheet("fp420", "save-settings").data
    assert data["plugs"] == [] and data["diagrams"] == []


def test_the_same_drawings_twice_are_the_same_bytes() -> None:
    mbook = Book(demo().derived, drawn).machine("bc300")
    again = sheet(subject_of(mbook, mbook.machine.procedures["sort-circular-plugs"]), demo_pictures)
    assert pdf_of(again) == pdf_of(with_diagrams("bc300", "sort-circular-plugs"))
