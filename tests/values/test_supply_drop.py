"""Voltage is lost along the wires at a load; a load that draws more than its wire is rated for is found."""

from __future__ import annotations

import pytest
from tests.values.sets import builts_of, derived_of

from benchleaf.values.conductor_of_cable import join_words, wires_of
from benchleaf.values.conductors import temperature_factor
from benchleaf.values.origin import gaps
from benchleaf.values.supply_drop import LoadWire, loads_of

_ITEMS = "items:\n  A1: {name: Board, held-by: none}\n  M1: {name: Motor, held-by: none}\n"
_WIRING = """record: wiring
machine: m
connectors:
  A1-J1: {{contacts: {{1: 24 V DC, 2: 0 V}}}}
cables:
  W1: {{ends: [A1-J1, M1], joint: spade, {cable}}}
joins:
  M1: [{{kind: load, between: [1, 2], {load}}}]
"""
_CABLE = "length: 2 m, wires: {map: straight, gauge: 0.5 mm2, rated: 3 A}"


def wires(cable: str = _CABLE, load: str = "draws: 1 A") -> list[LoadWire]:
    derived = derived_of(_ITEMS, wiring=_WIRING.format(cable=cable, load=load))
    return list(loads_of(builts_of(derived)[0]))


def test_both_wires_of_a_load_are_reckoned_there_and_back() -> None:
    one, other = wires()
    assert [set(w.contacts) for w in (one, other)] == [{"M1.1", "A1-J1.1"}, {"M1.2", "A1-J1.2"}]
    # 2 ways of 2.2 m (length + 10 %) at 0.0401 Ω/m (IEC 60228 class 5, tinned) at 60 °C, two contacts of 0.03 Ω each
    expected = 2 * (2.2 * 0.0401 * temperature_factor(60) + 2 * 0.03) * 1.0
    assert one.drop.drop is not None and one.drop.drop.middle == pytest.approx(expected, rel=0.01)
    assert gaps(one.drop.origin) == ()


def test_the_limit_is_five_percent_of_the_voltage_a_contact_is_recorded_to_carry() -> None:
    supply, back = wires()
    assert str(supply.nominal) == "24 V DC" and supply.nominal_at is not None
    assert supply.drop.over is False and "limit of 1.2 V DC" in supply.words
    assert back.nominal is None and "no limit recorded" in back.words
    assert wires("length: 60 m, wires: {map: straight, gauge: 0.5 mm2}")[0].drop.over is True


@pytest.mark.parametrize(
    ("cable", "missing"),
    [
        ("wires: {map: straight, gauge: 0.5 mm2}", "length not recorded"),
        ("length: 2 m, wires: {map: straight}", "gauge not recorded"),
    ],
)
def test_what_is_not_recorded_gives_no_number(cable: str, missing: str) -> None:
    assert wires(cable)[0].drop.drop is None
    assert missing in wires(cable)[0].words


def test_a_load_that_draws_more_than_its_wire_is_rated_for_is_told() -> None:
    assert [one.is_overloaded for one in wires(load="draws: 4 A")] == [True, True]
    assert [one.is_overloaded for one in wires()] == [False, False]
    assert not wires("length: 2 m, wires: {map: straight, gauge: 0.5 mm2}", "draws: 40 A")[0].is_overloaded


def test_a_load_without_a_recorded_current_is_left_alone() -> None:
    assert wires(load="resistance: 4 ohm") == []


def test_every_recorded_wire_has_what_a_meter_should_read() -> None:
    wiring = _WIRING.format(cable="length: 2 m, wires: {map: straight, gauge: [0.5 mm2, 24 AWG]}", load="draws: 1 A")
    found = list(wires_of(builts_of(derived_of(_ITEMS, wiring=wiring))[0]))
    assert [one.name for one in found] == ["W1 from A1-J1:1 to M1:1", "W1 from A1-J1:2 to M1:2"]
    assert [str(one.conductor.gauge) for one in found] == ["0.5 mm²", "24 AWG"]
    assert all(one.expected.band is not None and gaps(one.expected.origin) == () for one in found)


def test_joins_say_what_to_read_and_what_was_not_recorded() -> None:
    joins = (
        "record: wiring\nmachine: m\njoins:\n"
        "  A1: [[1, 2], {kind: fuse, between: [3, 4], rating: 2 A}, {kind: switch, between: [5, 6], rest: open},\n"
        "    {kind: switch, between: [7, 8]}, {kind: load, between: [9, 10], resistance: 4 ohm},\n"
        "    {kind: load, between: [11, 12]}, {kind: driver, between: [13, 14]}]\n"
    )
    built = builts_of(derived_of(_ITEMS, wiring=joins))[0]
    words = [join_words(join) for join in built.joins["A1"]]
    assert "several ohms" in words[1] and "compare with a new one" in words[1]
    assert words[2] == "open when not operated"
    assert "not recorded" in words[3] and words[4] == "4 Ω"
    assert "not recorded" in words[5] and "not tested" in words[6]
