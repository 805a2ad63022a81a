"""``benchleaf torque`` prints limits that say they are limits, and cards that say what is not recorded."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from benchleaf.cli import main

_MACHINE = """record: machine
id: m
name: Machine
fasteners:
  lid-screw: {thread: M3, length: 8 mm, head: pan, drive: PH1, class: "4.8", into: steel, engaged: 3 mm, torque: 2 N·m}
  foot-screw: {thread: M4, drive: hex 3}
items:
  frame: {name: Frame, held-by: none}
  lid: {name: Lid, behind: [], held-by: {lid-screw: 4}}
  foot: {name: Foot, behind: [], held-by: {foot-screw: 1}}
"""
_OPEN = "record: teardown\nid: open\ntitle: Open it\nmachine: m\nsteps:\n  - {title: Take it off, do: [remove: lid]}\n"


@pytest.fixture
def content(tmp_path: Path) -> Path:
    (tmp_path / "m" / "teardown").mkdir(parents=True)
    (tmp_path / "shop.yaml").write_text("record: shop\nname: A shop\n", encoding="utf-8")
    (tmp_path / "m" / "machine.yaml").write_text(_MACHINE, encoding="utf-8")
    (tmp_path / "m" / "teardown" / "open.yaml").write_text(_OPEN, encoding="utf-8")
    return tmp_path


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["torque", *words])


def test_a_limit_is_printed_with_its_label_its_sum_and_its_origin() -> None:
    done = run("M4", "--class", "8.8", "--head", "cap", "--friction", "0.12", "--into", "aluminium", "--engaged", "6mm")
    assert done.exit_code == 0
    assert "limit, not a torque to tighten to: an M4 screw of class 8.8" in done.output
    assert "As = π/4·" in done.output and "class: 8.8, as given" in done.output


def test_json_holds_the_same_limits() -> None:
    done = run("M6", "--class", "8.8", "--into", "steel", "--engaged", "8 mm", "--friction", "0.14", "--json")
    data = json.loads(done.output)
    assert [one["kind"] for one in data["limits"]] == sorted([one["kind"] for one in data["limits"]])
    assert data["label"] == "limit, not a torque to tighten to"
    assert all(one["torque"] > 0 and one["origin"] for one in data["limits"])


@pytest.mark.parametrize("into", ["plastic", "unknown", ""])
def test_plastic_and_unknown_material_get_no_computed_value(into: str) -> None:
    more = ("--into", into) if into else ()
    done = run("M3", "--class", "8.8", "--engaged", "5mm", "--json", *more)
    data = json.loads(done.output)
    assert data["limits"] == [] and data["not_computed"]


def test_a_torque_over_the_limit_leaves_with_one() -> None:
    done = run("M3", "--class", "4.8", "--into", "steel", "--engaged", "3mm", "--torque", "2 Nm")
    assert done.exit_code == 1
    assert "torque-over-limit" in done.output


def test_a_force_that_must_hold_is_compared_with_the_least_preload() -> None:
    steel = ("--class", "4.8", "--into", "steel", "--engaged", "3mm")
    done = run("M3", *steel, "--torque", "0.1Nm", "--must-hold", "900N")
    assert done.exit_code == 1
    assert "torque-too-low" in done.output


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("M3.3",), "not an ISO metric coarse thread"),
        (("M4", "--class", "7.7"), "class '7.7' is not in the table"),
        (("M4", "--head", "mushroom"), "head 'mushroom' is not known"),
        (("M4", "--engaged", "6 mmm"), "did you mean 'mm'?"),
        (("M4", "--torque", "6 mm"), "torque"),
    ],
)
def test_what_cannot_be_read_is_refused_with_the_way_out(words: tuple[str, ...], said: str) -> None:
    done = run(*words)
    assert done.exit_code == 2
    assert said in done.output


def test_a_machines_card_holds_every_screw_recorded_or_not(content: Path) -> None:
    done = run("m", "--content", str(content))
    assert done.exit_code == 0
    assert "Lid: 4 × M3 × 8 mm pan screw, PH1" in done.output
    assert "! 2 N·m is over the limit" in done.output
    assert done.output.rstrip().splitlines()[-1].strip().startswith("what it screws into is not recorded")


def test_a_procedures_card_holds_only_what_it_turns(content: Path) -> None:
    done = run("m/open", "--content", str(content), "--json")
    assert [row["set"] for row in json.loads(done.output)] == ["lid.lid-screw"]


def test_a_machine_that_is_not_there_is_refused(content: Path) -> None:
    done = run("n", "--content", str(content))
    assert done.exit_code == 2
    assert "There is no 'n'" in done.output
