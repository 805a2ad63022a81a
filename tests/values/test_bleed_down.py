"""No waiting time is ever shown without its measurement, and none is made up."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.values.bleed_down import (
    BleedDown,
    Outcome,
    Path,
    StoredCharge,
    bleed_down,
    wait_words,
)
from benchleaf.values.origin import gaps
from benchleaf.values.quantity import Quantity, read_quantity
from benchleaf.values.torque import given as typed_in


def q(text: str) -> Quantity:
    found = read_quantity(text)
    assert isinstance(found, Quantity), found
    return found


_BULK = StoredCharge(
    name="C1",
    capacitance=q("220 uF ± 20 %"),
    voltage=q("325 V DC ± 0 V"),
    resistance=q("220 kohm ± 5 %"),
    path=Path.COPPER,
    measure_at="PS1:+ and PS1:−",
    origins=typed_in(capacitance="220 uF", voltage="325 V", resistance="220 kohm"),
)


def test_the_time_is_the_worst_case_rounded_up() -> None:
    """Worked by hand: R + 5 %, C + 20 %, 325 V to 60 V is 103.03 s; to 50 V 114.15 s."""
    assert bleed_down(_BULK).do == "wait 104 s"
    assert bleed_down(_BULK, q("50 V DC")).do == "wait 115 s"
    assert bleed_down(_BULK).arithmetic[0].endswith("= 103.0 s")


def test_a_time_is_followed_by_where_to_measure_and_below_what() -> None:
    assert str(bleed_down(_BULK)) == "wait 104 s, then measure at PS1:+ and PS1:−: not above 60 V DC"


def test_where_to_measure_not_recorded_still_asks_for_the_measurement() -> None:
    text = bleed_down(replace(_BULK, measure_at="")).text
    assert "then measure across C1" in text and "not recorded" in text


def test_tolerances_not_recorded_are_assumed_and_printed() -> None:
    found = bleed_down(replace(_BULK, capacitance=q("220 uF"), voltage=q("325 V DC"), resistance=q("220 kohm")))
    for fact, share in (("capacitance", 20), ("voltage", 10), ("resistance", 5)):
        assert f"no tolerance of the {fact} is recorded: +{share} % assumed" in found.notes
    assert found.do == "wait 109 s"  # 231 kΩ · 264 µF · ln(357.5/60)
    assert gaps(found.origin) == ()


def test_an_ac_voltage_charges_to_its_peak() -> None:
    found = bleed_down(replace(_BULK, voltage=q("230 V AC ± 0 V")))
    assert any("peak" in note for note in found.notes)
    assert "ln(325.3 V/60 V)" in found.arithmetic[0]
    assert gaps(found.origin) == ()


def test_a_negative_supply_charges_like_a_positive_one() -> None:
    assert bleed_down(replace(_BULK, voltage=q("-325 V DC ± 0 V"))).do == "wait 104 s"


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"path": Path.NOT_RECORDED}, "the bleed path is not recorded"),
        ({"path": Path.INTERRUPTIBLE}, "something other than copper"),
        ({"capacitance": None}, "no upper value of the capacitance"),
        ({"voltage": None}, "no upper value of the voltage"),
        ({"resistance": None}, "no upper value of the bleed resistance"),
        ({"resistance": q("above 100 kohm")}, "no upper value of the bleed resistance"),
        ({"capacitance": q("220 ohm")}, "no upper value of the capacitance"),
        ({"kind": "flywheel"}, "'flywheel' discharges is not known"),
    ],
)
def test_anything_missing_makes_the_time_unknown_and_says_what(change: dict[str, object], why: str) -> None:
    found = bleed_down(replace(_BULK, **change))  # type: ignore[arg-type]
    assert found.outcome is Outcome.TIME_UNKNOWN
    assert found.text.startswith("time unknown: discharge and measure at PS1:+ and PS1:−")
    assert any(why in note for note in found.notes)


def test_no_path_says_that_it_does_not_discharge_by_itself() -> None:
    found = bleed_down(replace(_BULK, path=Path.NONE, discharge="1 kohm 5 W across C1"))
    assert found.outcome is Outcome.NO_PATH
    assert found.text.startswith("C1 does not discharge by itself: 1 kohm 5 W across C1, then measure at")


@pytest.mark.parametrize("kind", ["battery", "supercapacitor"])
def test_batteries_and_supercapacitors_have_no_waiting_time(kind: str) -> None:
    found = bleed_down(replace(_BULK, kind=kind))
    assert found.outcome is Outcome.NO_WAITING_TIME
    assert "has no waiting time" in found.text and "then measure" in found.text
    assert "wait " not in found.text.replace("waiting", "")


def test_a_store_below_the_limit_is_still_measured() -> None:
    found = bleed_down(replace(_BULK, voltage=q("24 V DC")))
    assert "not above 60 V" in found.text and "then measure" in found.text
    assert gaps(found.origin) == ()


def test_charge_and_energy_are_those_of_the_worst_case() -> None:
    found = bleed_down(_BULK)
    assert found.charge is not None and found.energy is not None
    assert found.charge.nominal == pytest.approx(264e-6 * 325)
    assert found.energy.nominal == pytest.approx(264e-6 * 325**2 / 2)
    assert any("85.8 mC" in line for line in found.lines)


def test_what_the_standard_asks_is_said_where_it_is_longer_than_five_seconds() -> None:
    assert any("IEC 60204-1 6.2.4" in note for note in bleed_down(_BULK).notes)
    quick = bleed_down(replace(_BULK, resistance=q("1 kohm ± 5 %")))
    assert not any("IEC 60204-1" in note for note in quick.notes)
    assert all(any("not leave to touch" in note for note in found.notes) for found in (bleed_down(_BULK), quick))


def test_a_limit_that_is_no_voltage_is_a_mistake_of_the_caller() -> None:
    with pytest.raises(ValueError, match="not a voltage"):
        bleed_down(_BULK, q("60 A"))


def test_waiting_times_are_rounded_up_only() -> None:
    assert [wait_words(seconds) for seconds in (0.2, 81.01, 120, 120.1, 180.0, 180.1)] == [
        "1 s",
        "82 s",
        "120 s",
        "3 min",
        "3 min",
        "4 min",
    ]


def _maybe(texts: list[str]) -> st.SearchStrategy[Quantity | None]:
    return st.one_of(st.none(), st.sampled_from(texts).map(q))


_STORES = st.builds(
    StoredCharge,
    name=st.just("C1"),
    capacitance=_maybe(["220 uF", "1 nF ± 5 %", "above 1 uF", "5 V"]),
    voltage=_maybe(["24 V DC", "230 V AC", "-48 V DC", "400 V DC ± 10 %", "below 400 V", "above 10 V"]),
    resistance=_maybe(["220 kohm", "1..2 Mohm", "above 1 Mohm"]),
    path=st.sampled_from(Path),
    kind=st.sampled_from(["", "capacitor", "battery", "supercapacitor", "magnet"]),
    discharge=st.sampled_from(["", "1 kohm across it"]),
    measure_at=st.sampled_from(["", "PS1:+ and PS1:−"]),
)
_LIMITS = st.sampled_from(["60 V DC", "50 V DC", "below 25 V AC", "0 V", "above 5 V", "-5 V"]).map(q)


@given(_STORES, _LIMITS)
@settings(max_examples=200, deadline=None)
def test_whatever_is_recorded_the_last_word_is_to_measure(store: StoredCharge, limit: Quantity) -> None:
    found = bleed_down(store, limit)
    for shown in (found.text, str(found), f"{found}", found.lines[-1]):
        assert "measure" in shown and shown.rindex("measure") > shown.find("wait ")
    if found.outcome is Outcome.WAIT:
        assert store.path is Path.COPPER and store.kind in ("", "capacitor")
        assert ", then measure" in found.text
    else:
        assert "wait " not in found.text


@given(_STORES, _LIMITS, st.sampled_from(["capacitance", "voltage", "resistance"]))
@settings(max_examples=100, deadline=None)
def test_deleting_a_fact_never_gives_a_time_that_was_unknown(store: StoredCharge, limit: Quantity, key: str) -> None:
    def waits(found: BleedDown) -> bool:
        return found.outcome is Outcome.WAIT

    poorer = replace(store, **{key: None})  # type: ignore[arg-type]
    assert not waits(bleed_down(poorer, limit))
    assert waits(bleed_down(store, limit)) or not waits(bleed_down(replace(store, path=Path.NOT_RECORDED), limit))
