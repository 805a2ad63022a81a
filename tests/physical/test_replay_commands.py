"""The commands about one procedure: replay, reassembly, state; text and JSON, one machine or all, a wrong name."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner, Result
from tests.physical.replayed import FOLDERS

from benchleaf.cli import main

CONTENT = str(FOLDERS["vs20"])


def run(*words: str) -> Result:
    return CliRunner().invoke(main, [*words, "--content", CONTENT])


def test_replay_prints_each_step_with_its_ledger_and_its_stop_answer() -> None:
    made = run("replay", "vs20/replace-spring", "--on", "single")
    assert made.exit_code == 0, made.output
    assert "vs20/replace-spring on single" in made.output
    assert "  make-dead 1. Pull the plug  [1 open]" in made.output
    assert "  3. Unhook the spring  [7 open; pause point]" in made.output


def test_replay_as_json_has_every_machine_and_every_act() -> None:
    rows = json.loads(run("replay", "vs20/replace-board", "--json").output)
    assert [row["on"] for row in rows] == [
        "single", "single, serial 0107", "single with gas", "twin", "twin with gas", "twin with gas, serial 0207"
    ]  # fmt: skip
    acts = [act for step in rows[0]["steps"] for act in step["acts"]]
    assert "move: board-tray to drawn" in acts and "cut: tray-tie" in acts


def test_reassembly_prints_tool_direction_torque_and_the_checks_owed() -> None:
    made = run("reassembly", "vs20/replace-board", "--on", "single, serial 0107")
    assert made.exit_code == 0, made.output
    assert "Move the board tray (board-tray) back to its seat; tool: hand; direction: push right 90 mm" in made.output
    assert "tool: PH2; torque: 1.0 N·m" in made.output and "torque: not recorded" in made.output
    assert "1 missing when the machine came in; fitted to specification" in made.output
    assert "owed: Electrical safety test" in made.output and "Ledger closed." in made.output


def test_reassembly_as_json_says_where_each_step_comes_from() -> None:
    (row,) = json.loads(run("reassembly", "vs20/replace-board", "--on", "single", "--json").output)
    assert row["steps"][0]["from"] == "replace-board 6" and row["steps"][-1]["why"] == "after energy is back"
    assert row["ledger"]["words"] == "closed" and row["stopped_at"] is None


def test_reassembly_leaves_with_one_when_the_ledger_stays_open() -> None:
    made = CliRunner().invoke(
        main, ["reassembly", "fp420/set-head-height", "--on", "mk1", "--content", str(FOLDERS["fp420"])]
    )
    assert made.exit_code == 1 and "It needs `on-return`" in made.output


def test_state_shows_the_machine_after_a_step() -> None:
    made = run("state", "vs20/replace-board", "--after", "4", "--on", "single")
    assert made.exit_code == 0, made.output
    assert "after step 4 'Draw the tray': only attended" in made.output
    assert "  moved: board-tray: drawn" in made.output and "tray 1: 3 M4 × 8 mm" in made.output
    assert "  lid-force: isolated, not proved dead" in made.output


def test_state_before_the_first_step_is_that_after_the_conditions() -> None:
    (row,) = json.loads(run("state", "vs20/replace-board", "--after", "0", "--on", "single", "--json").output)
    assert row["off"] == ["base-cover"] and row["title"] == ""


@pytest.mark.parametrize("words", [("replay", "vs20/replace-bord"), ("state", "vs20/replace-bord", "--after", "1")])
def test_a_wrong_name_gets_a_suggestion(words: tuple[str, ...]) -> None:
    made = run(*words)
    assert made.exit_code == 2 and "Did you mean 'vs20/replace-board'?" in made.output


def test_a_machine_it_is_not_for_and_a_step_it_does_not_have_are_said() -> None:
    assert "It is for: single; " in run("replay", "vs20/make-dead", "--on", "triple").output
    assert "has 6 steps" in run("state", "vs20/replace-board", "--after", "7").output
