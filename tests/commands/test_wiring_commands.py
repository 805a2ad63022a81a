"""``benchleaf live``, ``trace`` and ``wiring``: what they print, what their JSON promises, how they leave."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from benchleaf.cli import main

CONTENT = str(Path(__file__).parents[2] / "content")


def run(*arguments: str, content: str = CONTENT) -> tuple[int, str]:
    result = CliRunner().invoke(main, [*arguments, "--content", content])
    return result.exit_code, result.output


def data_of(*arguments: str) -> Any:
    code, output = run(*arguments, "--json")
    assert code == 0, output
    return json.loads(output)


def test_the_back_feed_is_the_first_thing_told_with_the_mains_plug_out() -> None:
    code, output = run("live", "fp420", "--variant", "mk1", "--with", "roll", "--isolated", "XP1")
    assert code == 0
    first = output.split("After XP1:")[1].splitlines()[1:3]
    assert first[0].strip() == "directly, from roll-supply (12 V DC), roll-usb (5 V DC): 1 net"
    assert first[1].strip().startswith("A1-J2:5, logic-5 (5 V DC), roll-5 (5 V DC), roll-usb (5 V DC)")


def test_without_a_configuration_the_union_is_told_and_said() -> None:
    _, output = run("live", "fp420")
    assert "Which machine it is was not said: this is the union of 4 configurations." in output
    assert "[only mk1 with roll, mk2 with roll]" in output


def test_a_single_configuration_says_nothing_of_a_union() -> None:
    _, output = run("live", "fp420", "--variant", "mk1", "--with", "none")
    assert "union" not in output
    assert output.startswith("fp420: mk1\n")


def test_live_as_json_lists_states_nets_and_contacts() -> None:
    data = data_of("live", "bc300", "--variant", "one-bank")
    assert [state["state"] for state in data["states"]] == [
        "nothing isolated", "open Q1", "unplug XP1", "block belt-roller", "open Q1 and unplug XP1", "all together",
    ]  # fmt: skip
    open_q1 = data["states"][1]
    assert open_q1["contacts"]["XT1:1"]["how"] == "directly"
    assert "mains" in open_q1["contacts"]["XT1:1"]["sources"]
    strip = next(net for net in open_q1["nets"] if "XT1:1" in net["contacts"])
    assert strip["still_fed"]
    assert {
        "energy": "mains",
        "between": ["XT1:1", "XT1:2"],
        "expect": "below 5 V AC",
        "meter": "two-pole-tester",
    } in strip["prove_dead"]
    assert not any(net["still_fed"] for net in data["states"][-1]["nets"])


def test_the_energy_control_sheet_is_printed_in_its_order() -> None:
    _, output = run("live", "bc300", "--variant", "one-bank", "--sheet")
    places = [output.index(f"(d)({n})") for n in range(1, 7)]
    assert places == sorted(places)
    (sheet,) = data_of("live", "bc300", "--variant", "one-bank", "--sheet")
    assert [part["clause"] for part in sheet["parts"]] == [f"(d)({n})" for n in range(1, 7)]


def test_a_device_that_is_not_recorded_is_refused_with_what_is_recorded() -> None:
    code, output = run("live", "fp420", "--isolated", "XP11")
    assert code == 2
    assert "'XP11' is no recorded isolating device. Recorded are: XP1, XP3, XP5" in output


def test_a_machine_without_wiring_says_not_recorded_counts_as_live(tmp_path: Path) -> None:
    (tmp_path / "t").mkdir()
    (tmp_path / "t" / "machine.yaml").write_text("record: machine\nid: t\nname: Bare\nitems: {A1: Board}\n")
    code, output = run("live", "t", content=str(tmp_path))
    assert code == 0
    assert "Wiring not recorded: every contact counts as live." in output
    assert "no recorded source reaches" not in output


@pytest.mark.parametrize("command", ["live", "wiring"])
def test_records_that_cannot_all_be_read_get_no_answer(tmp_path: Path, command: str) -> None:
    """A source with a misspelt key is not read; without it the map would be milder."""
    (tmp_path / "t").mkdir()
    (tmp_path / "t" / "machine.yaml").write_text("record: machine\nid: t\nname: Bare\nitems: {A1: Board}\n")
    text = "record: wiring\nmachine: t\nsources: {mains: {att: [A1.L]}}\n"
    (tmp_path / "t" / "wiring.yaml").write_text(text)
    code, output = run(command, "t", content=str(tmp_path))
    assert code == 1
    assert "cannot all be read, and what is missing could be live" in output
    assert "t/wiring.yaml:3:" in output


def test_a_trace_lists_ends_by_what_lies_between() -> None:
    code, output = run("trace", "fp420", "F1:2", "--variant", "mk1", "--with", "none")
    assert code == 0
    assert "PS1-J1:L (230 V AC): W2 to PS1-J1:L" in output
    assert "beyond a fuse:" in output
    assert "through fuse F1" in output


def test_a_trace_with_an_open_end_says_so() -> None:
    (one,) = data_of("trace", "fp420", "A1-J8.2", "--with", "roll", "--open", "W22@A1-J8")
    assert one["open"] == [["W22", "A1-J8"]]
    assert not any(row["contact"] == "S4-J1:2" for row in one["reached"])
    (closed,) = data_of("trace", "fp420", "A1-J8.2", "--with", "roll")
    assert any(row["contact"] == "S4-J1:2" and row["how"] == "copper" for row in closed["reached"])


def test_configurations_with_different_traces_are_told_apart() -> None:
    found = data_of("trace", "fp420", "A1-J8:2")
    assert [one["on"] for one in found] == [["mk1", "mk2"], ["mk1 with roll", "mk2 with roll"]]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("trace", "fp420", "A1-J99:1"), "There is no contact 'A1-J99.1'."),
        (("trace", "fp421", "A1-J1:1"), "There is no machine 'fp421'. Known are: bc300, fp420."),
        (("trace", "fp420", "A1-J1:1", "--open", "W99@A1-J1"), "No cable has an end at 'W99@A1-J1'"),
        (("live", "fp420", "--variant", "mk9"), "There is no variant of fp420 'mk9'."),
        (("wiring", "fp420", "--with", "rolls"), "Did you mean 'roll'?"),
    ],
)
def test_a_name_that_is_not_there_leaves_with_help(arguments: tuple[str, ...], words: str) -> None:
    code, output = run(*arguments)
    assert code == 2
    assert words in output


def test_the_wire_list_is_the_plain_answer_of_wiring() -> None:
    _, output = run("wiring", "fp420", "--variant", "mk1", "--with", "none")
    assert "W3 1: PS1-J2:1 – A1-J1:1, red (RD), 0.75 mm²" in output
    (one,) = data_of("wiring", "fp420", "--variant", "mk1", "--with", "none")
    assert {"cable", "number", "from", "to", "colour", "words", "gauge", "rated"} == set(one["wires"][0])


def test_the_difference_names_what_a_conversion_re_plugged_and_parked() -> None:
    _, output = run("wiring", "fp420", "--variant", "mk1", "--with", "roll", "--difference")
    assert "W8 re-routed: S4-J1, A1-J8 → S4-J1, A9-J6" in output
    assert "W9 re-routed: S1-J1, A1-J9 → S1-J1, parked" in output
    _, plain = run("wiring", "fp420", "--variant", "mk1", "--with", "none", "--difference")
    assert "no difference in the recorded wiring" in plain


def test_the_bypass_register_tells_the_lost_lid_switch_and_its_code() -> None:
    (one,) = data_of("wiring", "fp420", "--variant", "mk1", "--with", "roll", "--bypass")
    rows = {row["signal"]: row for row in one["bypass"]}
    assert rows["lid-closed"]["masked_codes"] == ["05"]
    assert rows["lid-closed"]["lost"]
    assert rows["lid-closed"]["acknowledged"]
    assert rows["feed-pulse"]["passed_on"]
    assert rows["feed-pulse"]["masked_codes"] == []


def test_the_owner_is_told_in_plain_sentences() -> None:
    _, output = run("wiring", "fp420", "--variant", "mk1", "--with", "roll", "--disclosure")
    assert "It no longer comes from S1 Lid switch." in output
    assert "Accepted on 2026-02-18" in output
