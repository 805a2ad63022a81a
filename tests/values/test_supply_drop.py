"""Voltage is lost along the wires at a load; a load that draws more than its wire is rated for is found."""

from __future__ import annotations

import pytest
from tests.values.sets import builts_of, derived_of

from benchleaf.values.conductor_of_cable import conductor_of, rated_of
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


def test_gauge_and_rating_are_one_for_all_wires_or_one_each_in_map_order() -> None:
    wiring = _WIRING.format(
        cable="length: 2 m, wires: {map: straight, gauge: [0.5 mm2, 24 AWG], rated: 3 A}", load="draws: 1 A"
    )
    cable = builts_of(derived_of(_ITEMS, wiring=wiring))[0].cables["W1"]
    assert [str(conductor_of(cable, number).gauge) for number in (0, 1)] == ["0.5 mm²", "24 AWG"]
    assert [str(rated_of(cable, number)) for number in (0, 1)] == ["3 A", "3 A"]
    assert conductor_of(cable, 2).gauge is None
