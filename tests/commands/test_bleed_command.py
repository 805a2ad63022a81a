"""``benchleaf bleed`` never says a time without the measurement that follows."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from benchleaf.cli import main

_MACHINE = """record: machine
id: m
name: Machine
items:
  frame: {name: Frame, held-by: none}
  XP1: {name: Plug, held-by: none}
  PS1: {name: Supply, held-by: none}
energy:
  mains:
    kind: electrical
    isolate: [unplug XP1]
    stored:
      - {in: PS1, between: [PS1.+, PS1.n], capacitance: 100 uF ± 20 %, voltage: 325 V DC ± 10 %,
         bleed: {resistance: 390 kohm ± 5 %, between: [PS1.+, PS1.n]}}
  belt: {kind: electrical}
"""


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["bleed", *words])


def test_the_time_is_the_worst_case_and_ends_in_the_measurement() -> None:
    done = run("--capacitance", "100uF ± 20 %", "--voltage", "325 V DC ± 10 %", "--resistance", "390 kohm ± 5 %")
    last = done.output.rstrip().splitlines()[-1]
    assert last.startswith("wait 88 s, then measure")  # 409.5 kΩ · 120 µF · ln(357.5/60) = 87.7 s


@pytest.mark.parametrize("left_out", ["--capacitance", "--voltage", "--resistance"])
def test_what_is_not_given_makes_the_time_unknown(left_out: str) -> None:
    given = {"--capacitance": "100uF", "--voltage": "325 V DC", "--resistance": "390 kohm"}
    done = run(*(word for name, value in given.items() if name != left_out for word in (name, value)))
    assert "time unknown: discharge and measure" in done.output
    assert "wait" not in done.output


@pytest.mark.parametrize("kind", ["battery", "supercapacitor"])
def test_batteries_and_supercapacitors_have_no_waiting_time(kind: str) -> None:
    done = run("--capacitance", "100uF", "--voltage", "12 V DC", "--resistance", "1 kohm", "--kind", kind, "--json")
    data = json.loads(done.output)
    assert data["outcome"] == "no waiting time"
    assert "then measure" in data["text"]


def test_json_has_no_bare_number_of_seconds() -> None:
    done = run("--capacitance", "100uF", "--voltage", "325 V DC", "--resistance", "390 kohm", "--json")
    data = json.loads(done.output)
    assert not [key for key, value in data.items() if isinstance(value, int | float)]
    assert "then measure" in data["text"] and data["origin"]


def test_what_a_machine_stores_is_listed_with_what_nobody_recorded(tmp_path: Path) -> None:
    (tmp_path / "m").mkdir()
    (tmp_path / "shop.yaml").write_text("record: shop\nname: A shop\n", encoding="utf-8")
    (tmp_path / "m" / "machine.yaml").write_text(_MACHINE, encoding="utf-8")
    done = run("m", "--content", str(tmp_path))
    assert "PS1 Supply (m/machine.yaml:13:9)" in done.output
    assert "wait 88 s, then measure at PS1:+ and PS1:n" in done.output
    assert "whether belt leaves charge behind is not recorded: it counts as charged" in done.output
    assert run("k", "--content", str(tmp_path)).exit_code == 2
