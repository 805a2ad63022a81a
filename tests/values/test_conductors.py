"""What a wire should read, what a beep proves, and what a supply wire loses."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.values.conductors import (
    Conductor,
    beep_words,
    expected_resistance,
    fuse_words,
    in_series,
    supply_drop,
)
from benchleaf.values.origin import gaps
from benchleaf.values.quantity import Quantity, read_quantity
from benchleaf.values.torque import given as typed_in


def q(text: str) -> Quantity:
    found = read_quantity(text)
    assert isinstance(found, Quantity), found
    return found


_WIRE = Conductor(gauge=q("24 AWG"), length=q("2 m"), origins=typed_in(gauge="24 AWG", length="2 m", current="1 A"))


def _band(conductor: Conductor) -> tuple[float, float]:
    expected = expected_resistance(conductor)
    assert expected.band is not None and expected.band.low is not None and expected.band.high is not None
    return expected.band.low, expected.band.high


def test_the_band_holds_the_wire_the_contacts_and_the_leads() -> None:
    """2 m of 24 AWG are 0.1684 Ω at 20 °C (NBS Circular 31); 2 contacts and leads may add 0.36 Ω."""
    low, high = _band(_WIRE)
    assert low < 0.1684 < 0.1684 + 0.36 < high
    assert high == pytest.approx(2.2 * 0.08422 * 1.1 * 1.039 + 2 * 0.03 + 0.3, rel=0.02)


def test_zeroed_leads_and_fewer_contacts_narrow_the_band_from_above_only() -> None:
    low, high = _band(_WIRE)
    zeroed_low, zeroed_high = _band(replace(_WIRE, leads_zeroed=True))
    assert (zeroed_low, zeroed_high) == (low, pytest.approx(high - 0.3, abs=0.006))
    assert _band(replace(_WIRE, contacts=0))[1] < high


def test_a_band_traces_to_its_records_and_shows_a_missing_one() -> None:
    assert gaps(expected_resistance(_WIRE).origin) == ()
    assert gaps(expected_resistance(replace(_WIRE, origins=typed_in(gauge="24 AWG"))).origin)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"gauge": None}, "gauge not recorded"),
        ({"length": None}, "length not recorded"),
        ({"gauge": None, "length": None}, "gauge and length not recorded"),
    ],
)
def test_without_gauge_or_length_there_is_no_band_and_the_reader_is_told(change: dict[str, None], words: str) -> None:
    expected = expected_resistance(replace(_WIRE, **change))
    assert expected.band is None
    assert words in expected.words


def test_a_cross_section_outside_the_table_gets_the_wider_allowance_and_says_so() -> None:
    expected = expected_resistance(replace(_WIRE, gauge=q("0.3 mm2")))
    assert any("outside the table" in line for line in expected.arithmetic)


def test_resistances_in_series_add_their_bands() -> None:
    total = in_series([q("0.1..0.2 ohm"), q("1 ohm ± 10 %"), q("below 0.5 ohm")])
    assert total is not None
    assert (total.low, total.high) == pytest.approx((1.0, 1.8))
    assert in_series([q("1 ohm"), q("above 1 Mohm")]) is None
    assert in_series([]) is None


def test_a_fuse_reads_its_recorded_cold_resistance_or_is_compared_with_a_new_one() -> None:
    assert fuse_words(q("0.05 ohm")) == "0.05 Ω when cold"
    unknown = fuse_words(None, q("100 mA"))
    assert "not recorded" in unknown and "several ohms" in unknown and "compare with a new one" in unknown


def test_a_beep_is_told_apart_from_a_value() -> None:
    words = " ".join(beep_words(q("24 AWG")))
    assert "594 m of 24 AWG still beeps at 50 Ω" in words
    assert "does not prove a break" in words


def test_the_drop_counts_both_ways_at_the_largest_current_meant() -> None:
    drop = supply_drop(_WIRE, q("1 A"), q("0.5 V"))
    one_way = supply_drop(_WIRE, q("1 A"), q("0.5 V"), both_ways=False)
    assert drop.drop is not None and one_way.drop is not None
    assert drop.drop.nominal == pytest.approx(2 * (one_way.drop.nominal or 0), rel=0.01)
    assert (drop.over, one_way.over) == (True, False)
    assert "may be over the limit of 0.5 V" in drop.words
    assert gaps(drop.origin) == ()


def test_a_drop_without_a_limit_is_not_called_within_it() -> None:
    drop = supply_drop(_WIRE, q("1 A"))
    assert drop.over is None
    assert "no limit recorded" in drop.words


def test_a_drop_without_its_facts_names_them() -> None:
    assert supply_drop(_WIRE, None).words.startswith("current not recorded")
    assert supply_drop(replace(_WIRE, gauge=None, length=None), q("1 A")).words.startswith("gauge and length not")
    assert supply_drop(_WIRE, q("above 1 A")).drop is None


@given(
    st.sampled_from(["24 AWG", "0.25 mm2", "0.3 mm2", "1.5 mm2"]),
    st.decimals("0.05", "50", places=2),
    st.decimals("0.05", "50", places=2),
)
@settings(max_examples=60, deadline=None)
def test_a_longer_wire_never_reads_less(gauge: str, one: object, other: object) -> None:
    short, long = sorted((one, other), key=float)  # type: ignore[arg-type]
    first = _band(replace(_WIRE, gauge=q(gauge), length=q(f"{short} m")))
    second = _band(replace(_WIRE, gauge=q(gauge), length=q(f"{long} m")))
    assert first[0] <= second[0] and first[1] <= second[1]
    assert first[0] < first[1]
