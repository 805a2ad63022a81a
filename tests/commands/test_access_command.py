"""``benchleaf access``: what it prints, what its JSON promises, how it leaves."""

from __future__ import annotations

import json
from pathlib import Path

from click.testing import CliRunner
from ruamel.yaml import YAML

from benchleaf.cli import main

CONTENT = str(Path(__file__).parents[2] / "content")
KEYS = {
    "machine", "on", "item", "goal", "title", "reached", "out_of_reach", "time", "bound", "exact", "not_proved",
    "time_with_proof", "operations", "priced", "tools", "tool_changes", "ends_opened", "isolate", "prove_dead",
    "not_recorded", "by_the_way", "written",
}  # fmt: skip


def run(*arguments: str) -> tuple[int, str]:
    result = CliRunner().invoke(main, ["access", *arguments, "--content", CONTENT])
    return result.exit_code, result.output


def test_the_path_is_printed_with_time_order_tools_and_bound() -> None:
    code, output = run("fp420", "M2", "--variant", "mk1")
    assert code == 0
    assert "3 min by what is recorded; no way takes less." in output
    assert "4 min 10 s with what is opened to prove mains dead first." in output
    assert "1. PH1" in output and "(for the proof)" in output
    assert "Ends opened: W10 at M2-J1." in output
    assert "Written: replace-feed-motor" in output


def test_json_has_the_promised_keys_and_a_row_for_every_different_way() -> None:
    code, output = run("fp420", "A4", "--json")
    rows = json.loads(output)
    assert code == 0 and all(set(row) == KEYS for row in rows)
    assert len(rows) > 1
    labels = [label for row in rows for label in row["on"]]
    assert len(labels) == len(set(labels)) == 6
    for row in rows:
        assert row["time"] == row["bound"] and row["exact"]
        assert row["time_with_proof"] == sum(one["time"] for one in row["operations"])


def test_one_machine_is_meant_by_its_variant_and_modifications() -> None:
    _, output = run("fp420", "A1", "--variant", "mk2", "--with", "roll", "--json")
    assert [row["on"] for row in json.loads(output)] == [["mk2 with roll"]]
    _, output = run("fp420", "A1", "--with", "roll", "--json")
    assert [label for row in json.loads(output) for label in row["on"]] == ["mk1 with roll", "mk2 with roll"]


def test_the_derived_procedure_is_printed_there_and_back_with_the_checks_owed() -> None:
    code, output = run("fp420", "P1", "--goal", "replace", "--variant", "mk1", "--procedure")
    assert code == 0
    for said in ("Derived and unverified:", "isolate: mains", "The way back:", "Ledger closed.", "Owed before it goes"):
        assert said in output


def test_a_record_to_start_from_is_yaml_that_reads() -> None:
    code, output = run("bc300", "M1", "--goal", "replace", "--record")
    read = YAML(typ="safe").load(output)
    assert code == 0 and read["record"] == "teardown" and read["goal"] == "replace M1"
    assert read["verified"] == "unverified"


def test_what_is_not_known_is_refused_with_a_suggestion() -> None:
    assert run("oven", "M2") == (2, "There is no machine 'oven'.\n")
    code, output = run("fp420", "left-cove")
    assert code == 2 and "Did you mean 'left-cover'?" in output
    code, output = run("fp420", "M2", "--variant", "mk9")
    assert code == 2 and "fp420 has no variant 'mk9'; it has: mk1, mk2." in output
    code, output = run("fp420", "E1", "--variant", "mk1")
    assert code == 2 and "fp420 has no E1 on the machine meant (mk1)." in output


def test_without_a_way_it_says_why_and_leaves_with_1(tmp_path: Path) -> None:
    (tmp_path / "shop.yaml").write_text("record: shop\n", encoding="utf-8")
    (tmp_path / "m").mkdir()
    (tmp_path / "m" / "machine.yaml").write_text(
        "record: machine\nid: m\nname: M\nitems: {frame: Frame, A1: {name: Board, behind: [frame]}}\n", encoding="utf-8"
    )
    result = CliRunner().invoke(main, ["access", "m", "A1", "--content", str(tmp_path)])
    assert result.exit_code == 1
    assert "There is no way: nothing recorded makes way for taking off A1." in result.output
