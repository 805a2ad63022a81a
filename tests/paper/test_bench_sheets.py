"""Bench sheets: what has to stand on each, and that a machine of which little is recorded still gets every sheet."""

from __future__ import annotations

import pytest
from tests.paper.sheets import demo_pdf, demo_sheet, demo_subject, made_subject, no_pictures, pages_of

from benchleaf.edges.pdf import pdf_of
from benchleaf.paper.sheet_kinds import BY_NAME, SHEET_KINDS

BARE = {
    "shop.yaml": "record: shop\n",
    "bare/machine.yaml": "record: machine\nid: bare\nname: Bare\nitems: {frame: Frame, lid: Lid}\n",
    "bare/teardown/look.yaml": (
        "record: teardown\nid: look\ntitle: Look inside\nmachine: bare\nsteps:\n  - title: Open it somehow\n"
    ),
}


@pytest.mark.parametrize("kind", [one.name for one in SHEET_KINDS])
def test_every_kind_of_sheet_is_tagged_and_names_itself_on_every_page(kind: str) -> None:
    pages = pages_of(demo_pdf("fp420", "replace-print-head", kind))
    plain = {0, *range(len(pages))} - (set(range(1, len(pages))) if kind == "labels" else set())
    for number in plain:
        assert "Merrowby FP420" in pages[number]
        assert "fp420/replace-print-head" in pages[number]
        assert "Issue 2 of 2026-01-30" in pages[number]


@pytest.mark.parametrize("kind", [one.name for one in SHEET_KINDS])
def test_a_machine_of_which_nothing_is_recorded_still_gets_the_sheet(kind: str) -> None:
    made = BY_NAME[kind].make(made_subject(BARE, "look"), no_pictures, "us-letter")
    text = " ".join(pages_of(pdf_of(made)))
    assert len(text) > 200
    assert not made.nothing, "an unchecked step may have done anything, so no sheet is left out"


@pytest.mark.parametrize("kind", ["labels", "screw-mat", "shot-list", "ring-out"])
def test_unchecked_steps_are_said_on_every_list_they_may_add_to(kind: str) -> None:
    made = BY_NAME[kind].make(made_subject(BARE, "look"), no_pictures, "a4")
    assert "1 unchecked step may" in " ".join(pages_of(pdf_of(made)))


@pytest.mark.parametrize("kind", [one.name for one in SHEET_KINDS])
def test_the_same_bytes_twice(kind: str) -> None:
    subject = demo_subject("bc300", "replace-heater-bank")
    make = BY_NAME[kind].make
    assert pdf_of(make(subject, no_pictures, "a4")) == pdf_of(make(subject, no_pictures, "a4"))


def test_the_energy_sheet_has_a_box_for_every_point_of_every_proof() -> None:
    parts = demo_sheet("fp420", "make-dead", "energy-control").data["parts"]
    rows = [row for part in parts if part["k"] == "table" and part["heads"][0] == "Measured at" for row in part["rows"]]
    energies = demo_subject("fp420", "make-dead").full.record.energy.values()
    assert len(rows) == sum(len(one.prove_dead or ()) for one in energies)
    assert all(row[-1] == {"box": True} for row in rows)


def test_no_waiting_time_without_a_measurement() -> None:
    for part in demo_sheet("fp420", "make-dead", "energy-control").data["parts"]:
        if part["k"] == "table" and part["heads"][0] == "Stored in":
            for row in part["rows"]:
                words = " ".join(piece["t"] for line in row[2]["lines"] for piece in line)
                assert "wait" not in words or "then measure" in words


def test_the_energy_sheet_names_what_one_plug_alone_leaves_live() -> None:
    """The demo's roll feed has a supply of its own and feeds back from USB: pulling the mains plug leaves both."""
    parts = demo_sheet("fp420", "make-dead", "energy-control").data["parts"]
    (rows,) = [part["rows"] for part in parts if part["k"] == "table" and part["heads"][0] == "With"]
    left = {row[1] for row in rows if row[0] == "only unplug XP1"}
    assert {"Roll-feed supply", "USB from the computer", "charge stored under Mains"} <= left


def test_no_energy_recorded_counts_as_energised() -> None:
    made = BY_NAME["energy-control"].make(made_subject(BARE, "look"), no_pictures, "a4")
    assert "No energy is recorded: everything counts as energised." in " ".join(pages_of(pdf_of(made)))


def test_the_job_sheet_asks_for_every_reading_and_every_check_owed() -> None:
    data = demo_sheet("fp420", "measure-film-sensor", "job-sheet").data
    tables = {part["heads"][0]: part["rows"] for part in data["parts"] if part["k"] == "table"}
    asked = [row for row in tables["Step"] if row[0]]
    boxes = [
        box
        for step in demo_sheet("fp420", "measure-film-sensor").data["steps"]
        for action in step["actions"]
        for box in action["boxes"]
    ]
    assert len(asked) == len(boxes) > 0
    assert len(tables["Check"]) == len(demo_sheet("fp420", "measure-film-sensor").data["owed"])


def test_the_ring_out_sheet_leaves_room_for_every_reading_of_every_cable() -> None:
    parts = demo_sheet("fp420", "replace-print-head", "ring-out").data["parts"]
    (rows,) = [part["rows"] for part in parts if part["k"] == "table"]
    assert rows[-1][0] == "all other pairs"
    assert all(row[4] == {"box": True} for row in rows)


def test_the_worst_swap_is_photographed_first() -> None:
    parts = demo_sheet("fp420", "replace-main-board", "shot-list", "mk1").data["parts"]
    (rows,) = [part["rows"] for part in parts if part["k"] == "table"]
    risks = [row[3] for row in rows]
    assert risks[0] not in ("no swap known", "a signal of another place")
    assert "no swap known" in risks


def test_the_state_sheet_has_a_part_for_every_step() -> None:
    data = demo_sheet("fp420", "replace-print-head", "state-sheet").data
    heads = [part["of"][0]["t"] for part in data["parts"] if part["k"] == "group"]
    assert heads[0] == "Before step 1"
    assert len(heads) == 10


def test_thread_sizes_are_never_taken_for_items() -> None:
    """The demo has a fan M3 and a roll motor M5; screws are M3 and M5 as well."""
    text = " ".join(pages_of(demo_pdf("fp420", "replace-main-board", "state-sheet")))
    assert "M3 Fan ×" not in text and "M3 Fan pan" not in text
    assert "(M3 × 8, PH1) of Left cover" in text
