"""``swaps``, ``ringout``, ``face``, ``diagram`` print what the pages show, as text and JSON, for one machine or all."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from benchleaf.cli import main

CONTENT = str(Path(__file__).parents[2] / "content")


def run(*words: str) -> Result:
    return CliRunner().invoke(main, [*words, "--content", CONTENT])


def test_swaps_of_a_procedure_come_with_labels_and_pictures() -> None:
    done = run("swaps", "fp420/draw-tray", "--on", "mk1")
    assert done.exit_code == 0
    assert "A1-J6 and A1-J7 take each other's plugs." in done.output
    assert "labels" in done.output and "5  square B     W7" in done.output
    assert "pictures to take before opening" in done.output


def test_swaps_as_json_stand_contact_by_contact_worst_first_with_the_machines_they_hold_on() -> None:
    rows = json.loads(run("swaps", "fp420", "--json").output)
    assert sum(len(row["on"]) for row in rows) > len(rows) > 1
    contacts = rows[0]["pairs"][0]["ways"][0]["contacts"]
    assert contacts and set(contacts[0]) == {"contact", "meets", "as", "so"}


def test_a_ring_out_has_its_band_its_sum_and_its_origin() -> None:
    found = json.loads(run("ringout", "fp420", "W6", "--on", "mk1", "--json").output)
    assert any("beep" in words for words in found["head"])
    (table,) = found["machines"][0]["tables"]
    (pair,) = [one for one in table["pairs"] if one["from"] == "A1-J6:1"]
    assert pair["to"] == "S2-J1:1" and 0 < pair["ohm"][0] < pair["ohm"][1] < 1
    assert pair["arithmetic"] and any("wiring.yaml" in words for words in pair["origin"])
    assert "All other pairs open" in table["others"]


def test_a_sheet_has_room_for_readings_and_nets_are_asked_for_by_an_option() -> None:
    assert "……………" in run("ringout", "fp420", "W6", "--on", "mk1", "--sheet").output
    assert "Between nets" in run("ringout", "bc300", "--nets", "--on", "one-bank").output


@pytest.mark.parametrize("half", ["plug", "receptacle", "both"])
def test_a_face_is_printed_and_drawn(half: str, tmp_path: Path) -> None:
    target = tmp_path / "face.svg"
    done = run("face", "fp420/A1-J6", "--half", half, "--on", "mk1", "--svg", str(target))
    assert done.exit_code == 0 and "Mating side" in done.output and "RD red" in done.output
    assert ET.fromstring(target.read_text(encoding="utf-8")).tag.endswith("svg")


def test_the_wire_side_is_the_mirror_in_print_too() -> None:
    sides = {
        side: json.loads(run("face", "fp420/A1-J6", "--half", "plug", "--side", side, "--on", "mk1", "--json").output)
        for side in ("mating", "wire")
    }
    order = {side: [one["Contact"] for one in found[0]["contacts"]] for side, found in sides.items()}
    assert order["mating"] == order["wire"][::-1] == ["3", "2", "1"]


def test_a_diagram_is_printed_and_drawn(tmp_path: Path) -> None:
    target = tmp_path / "diagram.svg"
    done = run("diagram", "fp420/draw-tray", "--on", "mk1", "--svg", str(target))
    assert done.exit_code == 0 and "opened at A1-J6" in done.output
    assert 'data-cable="W6"' in target.read_text(encoding="utf-8")
    rows = json.loads(run("diagram", "bc300", "--json").output)
    assert {label for row in rows for label in row["on"]} >= {"one-bank", "two-bank"}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("swaps", "fp421"), "There are: bc300, fp420."),
        (("swaps", "fp420/draw-trey"), "Did you mean 'draw-tray'?"),
        (("ringout", "fp420", "W99"), "has no cable 'W99'"),
        (("face", "fp420/A1-J99"), "has no connector 'A1-J99'"),
        (("diagram", "fp420", "--on", "mk9"), "is not known as 'mk9'"),
    ],
)
def test_what_is_not_there_is_refused_with_what_there_is(words: tuple[str, ...], said: str) -> None:
    done = run(*words)
    assert done.exit_code == 2 and said in done.output
