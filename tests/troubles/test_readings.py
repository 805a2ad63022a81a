"""A measurement says what the meter is set to, where each probe goes, what to expect and where that comes from."""

from __future__ import annotations

import pytest
from tests.troubles.demo import case, derived_from, every_case

from benchleaf.access.ways import ways_of
from benchleaf.troubles.openings import Openings
from benchleaf.troubles.readings import Reading, readings_of


def reading(machine: str, trouble: str, test: str, on: str | None = None) -> Reading:
    return case(machine, trouble, on).tests[test].readings[0]


def test_an_opened_plug_is_probed_on_the_mating_side_of_the_half_that_stays() -> None:
    one = reading("fp420", "08", "winding")
    assert [(probe.contact, probe.face.half, probe.face.side) for probe in one.probes if probe.face] == [
        ("M2-J1:1", "receptacle", "mating"), ("M2-J1:2", "receptacle", "mating")
    ]  # fmt: skip
    assert [probe.where for probe in one.probes] == ["1st from the left", "2nd from the left"]


def test_a_plug_that_stays_in_is_probed_from_the_wire_side_left_and_right_changed_over() -> None:
    one = reading("fp420", "05", "switch-click")
    assert [(probe.face.half, probe.face.side) for probe in one.probes if probe.face] == [("plug", "wire")] * 2
    assert [probe.wire for probe in one.probes] == ["WH white", "BK black"]


def test_a_recorded_value_is_expected_with_whoever_measured_it() -> None:
    one = reading("fp420", "08", "winding")
    assert one.expected.words == "4.2 ± 0.3 Ω"
    assert "measured, four-wire meter, cold, serial 0312" in one.expected.origin[0]
    assert one.expected.file == "fp420/machine.yaml"


def test_a_value_of_a_fuse_is_measured_across_it() -> None:
    one = reading("fp420", "printer-dead", "fuse")
    assert [probe.contact for probe in one.probes] == ["F1:1", "F1:2"]
    assert one.setting.startswith("resistance")


def test_a_powered_reading_warns_and_sets_the_meter_to_the_kind_of_voltage() -> None:
    one = reading("fp420", "07", "gate-volts", "mk1")
    assert one.setting == "direct voltage (V DC), in a range that covers 4 V DC"
    assert any("keep your hands out" in note for note in one.notes)


def test_every_measured_test_of_the_demo_says_where_both_probes_go() -> None:
    for one in every_case():
        for plan in one.tests.values():
            for found in plan.readings:
                assert len(found.probes) == 2, (one.id, plan.id)
                assert found.expected.origin, (one.id, plan.id)


_WIRED = """record: wiring
machine: m
connectors:
  A1-J1: {family: round, contacts: {1: in, 2: in}, face: [[1, 2]]}
cables:
  W1: {ends: [A1-J1, B1], length: 100 mm, wires: {map: straight, gauge: 0.5 mm2}}
joins:
  B1: [{kind: load, between: [1, 2], resistance: 100 ± 5 ohm}]
"""


def small(do: str, state: str = "") -> Reading:
    machine = (
        "record: machine\nid: m\nname: M\nitems:\n  frame: {name: Frame, held-by: none}\n"
        "  A1: {name: Board, behind: [], held-by: none}\n  B1: {name: Coil, behind: [], held-by: none}\n"
    )
    code = (
        "---\ncode: E1\ncauses: {a: {remedy: replace A1}, b: {remedy: replace B1}}\n"
        f"tests: {{t: {{do: {do}, at: A1{state}, outcomes: {{bad: [a], good: rest}}}}}}\n---\n"
    )
    files = {
        "shop.yaml": "record: shop\nname: S\n",
        "m/machine.yaml": machine,
        "m/wiring.yaml": _WIRED,
        "m/codes/e1.md": code,
    }
    made = derived_from(files)
    one = made.library.machines["m"]
    openings = Openings(ways_of(made, one, made.configurations(one)[0]))
    return readings_of(openings, openings.graph, one.codes["E1"].tests["t"])[0]


def test_without_a_recorded_value_it_is_computed_from_wires_and_copper_where_there_is_a_path() -> None:
    found = small("{measure: {between: [A1-J1.1, B1.1]}}")
    assert "W1" in found.expected.words and found.expected.origin


def test_where_nothing_follows_it_is_not_recorded_and_never_open() -> None:
    found = small("{measure: {between: [A1-J1.1, A1-J1.2]}}")
    assert found.expected.words == "nothing: what a good one reads is not recorded"
    assert not found.expected.origin


@pytest.mark.parametrize("expect", ["below 5 V AC", "above 24 V DC"])
def test_the_setting_follows_the_kind_of_voltage(expect: str) -> None:
    found = small(f"{{measure: {{between: [A1-J1.1, A1-J1.2], expect: {expect}}}}}", ", state: powered")
    assert expect.split()[-1] in found.setting
