"""``benchleaf isolate`` leads from what is seen to the remedy, on the machine meant."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from benchleaf.cli import main

CONTENT = str(Path(__file__).parents[2] / "content")


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["isolate", *words, "--content", CONTENT])


def test_a_code_however_it_is_spelled_prints_its_order() -> None:
    said = run("fp420", "0x8", "--variant", "mk1").output
    assert said.startswith("code 08: fp420, mk1\n")
    assert "1. Test: Turn the feed roller by hand" in said
    assert said == run("fp420", "08", "--variant", "mk1").output


def test_the_customers_sentence_will_do() -> None:
    said = run("fp420", "it", "beeps", "and", "won't", "feed", "--variant", "mk1")
    assert said.exit_code == 0
    assert "Look at the display first: 07, 08" in said.output


def test_what_is_done_before_a_remedy_names_isolation_covers_and_proof_in_their_order() -> None:
    said = run("fp420", "11", "--variant", "mk1").output
    part = said[said.index("2. Remedy: Seat the cables") :]
    order = ["Isolate", "4 M3 × 8 mm pan screws of the left cover", "Prove dead", "Take the top shell off", "left:"]
    order.append("Torque:")
    assert [part.index(words) for words in order] == sorted(part.index(words) for words in order)


def test_a_machine_is_meant_by_its_modification() -> None:
    said = run("fp420", "05", "--variant", "mk1", "--with", "roll").output
    assert "Code 05 can no longer appear on this machine" in said
    assert "can no longer appear" not in run("fp420", "05", "--variant", "mk1").output


def test_json_says_the_same_as_the_text() -> None:
    rows = json.loads(run("fp420", "08", "--json").output)
    assert rows[0]["on"] == ["mk1", "mk2"]
    first = rows[0]["places"][0]
    assert first["kind"] == "test" and first["key"] == "turn-roller"
    for row in rows:
        for place in row["places"]:
            if place["kind"] == "test":
                assert sum(one["probability"] for one in place["branches"]) == pytest.approx(1)
            if place["kind"] != "end":
                assert sum(one["probability"] for one in place["causes"]) == pytest.approx(1)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["fp421", "08"], "There is no machine 'fp421'."),
        (["fp420", "99"], "fp420 has no code or symptom '99'."),
        (["fp420", "08", "--variant", "mk9"], "fp420 has no variant 'mk9'"),
        (["fp420", "14", "--variant", "mk1"], "It is not for fp420 mk1."),
    ],
)
def test_what_is_not_there_is_said_and_leaves_with_two(words: list[str], said: str) -> None:
    result = run(*words)
    assert result.exit_code == 2
    assert said in result.output


def test_what_dead_functions_share_is_listed_with_where_to_measure_next() -> None:
    said = run("fp420", "--dead", "H1", "--works", "M1", "--variant", "mk1").output
    assert said.startswith("dead: H1; works: M1: fp420, mk1\n")
    assert "fuse F2 (Head supply fuse)" in said and "Measure at" in said
    row = json.loads(run("fp420", "--dead", "H1", "--works", "M1", "--variant", "mk1", "--json").output)[0]
    assert {one["id"] for one in row["suspects"]} == {*row["before"], *row["beyond"]}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["fp420", "--dead", "lid"], "Nothing is recorded that lid does with power."),
        (["fp420", "--works", "M1"], "Say what is dead."),
        (["fp420", "--dead", "M1", "--works", "M1"], "M1 cannot be dead and work."),
        (["fp420"], "Say a code or symptom, or what is dead with --dead."),
    ],
)
def test_what_cannot_be_asked_is_said_and_leaves_with_two(words: list[str], said: str) -> None:
    result = run(*words)
    assert result.exit_code == 2
    assert said in result.output
