"""The quantity grammar: what is taken, what is refused and with which way out."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from benchleaf.values.quantity import (
    Dimension,
    Misread,
    Quantity,
    conflicts,
    dimension_words,
    from_base,
    is_below,
    make_quantity,
    read_quantity,
    show,
    show_with_recorded,
    to_base,
    unit_spellings,
)
from benchleaf.values.units import AWG, BY_SPELLING, UNITS, example_of, unit_named


def read(text: str, expected: Dimension | None = None, *, decimal_comma: bool = False) -> Quantity:
    found = read_quantity(text, expected=expected, decimal_comma=decimal_comma)
    assert isinstance(found, Quantity), found
    return found


def refused(text: str, *expected: Dimension) -> Misread:
    found = read_quantity(text, expected=expected or None)
    assert isinstance(found, Misread), found
    return found


@pytest.mark.parametrize(
    ("text", "tidy"),
    [
        ("0.6 N·m", "0.6 N·m"),
        ("0.6Nm", "0.6 N·m"),
        ("0.6 N.m", "0.6 N·m"),
        ("0.6 N m", "0.6 N·m"),
        ("0.6 N-m", "0.6 N·m"),
        ("0.6 N⋅m", "0.6 N·m"),
        ("60 cN·m", "60 cN·m"),
        ("12 in-lb", "12 in·lbf"),
        ("12 in·lbf", "12 in·lbf"),
        ("12 lbf·in", "12 in·lbf"),
        ("12 in lb", "12 in·lbf"),
        ("5 kgf·cm", "5 kgf·cm"),
        ("5 kgf.cm", "5 kgf·cm"),
        ("5 kg-cm", "5 kgf·cm"),
        ("0.25 mm2", "0.25 mm²"),
        ("0.25 mm²", "0.25 mm²"),
        ("24 AWG", "24 AWG"),
        ("AWG 24", "24 AWG"),
        ("150 uF", "150 µF"),
        ("150 μF", "150 µF"),
        ("4.7 kohm", "4.7 kΩ"),
        ("1 MΩ", "1 MΩ"),
        ("5 V AC", "5 V AC"),
        ("230 VAC", "230 V AC"),
        ("24 V DC", "24 V DC"),
        ("24 Vdc", "24 V DC"),
        ("-12 V DC", "-12 V DC"),
        ("180 °C", "180 °C"),
        ("180 C", "180 °C"),
        ("10 s", "10 s"),
        ("15 min", "15 min"),
        ("2000 h", "2000 h"),
        ("20 kPa", "20 kPa"),
        ("1500 rpm", "1500 rpm"),
        ("20 %", "20 %"),
        ("0.6\u00a0N·m", "0.6 N·m"),
        ("  0.6 N·m  ", "0.6 N·m"),
        ("0.6 ± 0.1 N·m", "0.6 ± 0.1 N·m"),
        ("0.6 +- 0.1 Nm", "0.6 ± 0.1 N·m"),
        ("0.6 +/- 0.1 Nm", "0.6 ± 0.1 N·m"),
        ("0.6 Nm ± 0.1 Nm", "0.6 ± 0.1 N·m"),
        ("150 uF ± 20 %", "150 µF ± 20 %"),
        ("0.5..0.7 N·m", "0.5..0.7 N·m"),
        ("0.5 N·m .. 0.7 N·m", "0.5..0.7 N·m"),
        ("below 0.5 ohm", "below 0.5 Ω"),
        ("above 1 Mohm", "above 1 MΩ"),
        ("22..24 AWG", "22..24 AWG"),
    ],
)
def test_the_spellings_of_the_trade_are_taken(text: str, tidy: str) -> None:
    found = read(text)
    assert found.tidy == tidy
    assert found.written == text.strip()


def test_a_tolerance_gives_the_band_it_says() -> None:
    by_unit, by_share = read("0.6 ± 0.1 N·m"), read("150 uF ± 20 %")
    assert (by_unit.low, by_unit.nominal, by_unit.high) == pytest.approx((0.5, 0.6, 0.7))
    assert (by_share.low, by_share.high) == pytest.approx((120e-6, 180e-6))
    mixed = read("0.6 N·m ± 50 mN·m")
    assert (mixed.low, mixed.high) == pytest.approx((0.55, 0.65))
    assert mixed.tidy == "0.6 N·m ± 50 mN·m"
    assert by_unit.has_tolerance and by_share.has_tolerance


def test_a_share_of_a_share_is_not_taken_for_a_tolerance_of_it() -> None:
    for text in ("40 % ± 5 %", "40 ± 5 %"):
        humidity = read(text, Dimension.RATIO)
        assert (humidity.low, humidity.high) == pytest.approx((0.35, 0.45))
    assert read("0.6 ± 20 % N·m").high == pytest.approx(0.72)


def test_a_limit_has_only_one_end_and_a_range_no_nominal() -> None:
    assert (read("below 0.5 ohm").low, read("below 0.5 ohm").high) == (None, 0.5)
    assert (read("above 1 Mohm").low, read("above 1 Mohm").high) == (1e6, None)
    assert read("0.5..0.7 N·m").nominal is None
    assert [read(text).form for text in ("1 V", "1..2 V", "below 1 V", "above 1 V")] == [
        "value",
        "range",
        "below",
        "above",
    ]


def test_temperatures_convert_with_their_zero_and_their_differences_without() -> None:
    assert read("212 °F").nominal == pytest.approx(100)
    assert read("300 K").nominal == pytest.approx(26.85)
    oven = read("356 °F ± 9 °F")
    assert (oven.low, oven.high) == pytest.approx((175, 185))
    assert read("180 °C ± 5 K").high == pytest.approx(185)


def test_a_higher_gauge_is_a_thinner_wire() -> None:
    thick, thin = read("12 AWG").nominal, read("24 AWG").nominal
    assert thick is not None and thin is not None and thick > thin
    both = read("22..24 AWG")
    assert both.low == pytest.approx(thin) and both.high is not None and both.high > thin


def test_c_and_f_are_degrees_where_heat_is_meant_and_charge_or_capacitance_where_those_are() -> None:
    assert read("50 C").dimension is Dimension.TEMPERATURE
    assert read("50 C", Dimension.CHARGE).dimension is Dimension.CHARGE
    assert read("140 F", Dimension.TEMPERATURE).nominal == pytest.approx(60)
    assert read("1 F", Dimension.CAPACITANCE).dimension is Dimension.CAPACITANCE


def test_a_decimal_comma_is_refused_with_the_point_or_read_by_the_shops_setting() -> None:
    misread = refused("2,5 mm")
    assert "2.5" in misread.help
    assert (misread.start, misread.end) == (0, 3)
    assert read("2,5 mm", decimal_comma=True).nominal == pytest.approx(0.0025)
    assert read("0,5..0,7 N·m", decimal_comma=True).tidy == "0.5..0.7 N·m"


@pytest.mark.parametrize(
    ("text", "expected", "at", "help_has"),
    [
        ("0.6", Dimension.TORQUE, "0.6", "0.6 N·m"),
        ("0.6 nm", Dimension.TORQUE, "nm", "'Nm'"),
        ("0.6 NM", Dimension.TORQUE, "NM", "'Nm'"),
        ("5 kOhms", Dimension.RESISTANCE, "kOhms", "kohms"),
        ("10 k", Dimension.RESISTANCE, "k", "kohm"),
        ("20 celcius", Dimension.TEMPERATURE, "celcius", "celsius"),
        ("1 000 V", Dimension.VOLTAGE, "000 V", "1000 V"),
        ("1e3 V", Dimension.VOLTAGE, "e3 V", "unit"),
        ("1:30", Dimension.TIME, ":30", "90 s"),
        ("1 h 30 min", Dimension.TIME, "h 30 min", "90 min"),
        ("1/2 in", Dimension.LENGTH, "/2 in", "0.5"),
        ("½ turn", Dimension.ANGLE, "½ turn", "0.5"),
        ("0.5-0.7 Nm", Dimension.TORQUE, "-", "0.5..0.7 Nm"),
        ("0.5 to 0.7 Nm", Dimension.TORQUE, "to ", "0.5..0.7 Nm"),
        ("0.7..0.5 Nm", Dimension.TORQUE, "0.7..0.5", "0.5..0.7 N·m"),
        ("< 0.5 ohm", Dimension.RESISTANCE, "<", "below 0.5 ohm"),
        ("max. 5 V", Dimension.VOLTAGE, "max.", "below 5 V"),
        ("≥ 1 Mohm", Dimension.RESISTANCE, "≥", "above 1 Mohm"),
        ("about 0.6 Nm", Dimension.TORQUE, "about", "0.6 Nm"),
        ("infinite", Dimension.RESISTANCE, "infinite", "above 1 Mohm"),
        ("OL", Dimension.RESISTANCE, "OL", "above 1 Mohm"),
        ("nan", Dimension.RESISTANCE, "nan", "above"),
        (".5 V", Dimension.VOLTAGE, ".5 V", "0.5 V"),
        ("-5 mm", Dimension.LENGTH, "-5", "5 mm"),
        ("-300 °C", Dimension.TEMPERATURE, "-300", "check"),
        ("0.6 ± 0.9 Nm", Dimension.TORQUE, "0.9 Nm", "range"),
        ("0.6 ± 0.1 ± 0.2 Nm", Dimension.TORQUE, "± 0.2 Nm", "range"),
        ("0.6 ± -0.1 Nm", Dimension.TORQUE, "-0.1", "±"),
        ("below 24 AWG", Dimension.AREA, "below 24 AWG", "range"),
        ("24.5 AWG", Dimension.AREA, "24.5", "whole"),
        ("99 AWG", Dimension.AREA, "99", "whole"),
        ("below 1..2 V", Dimension.VOLTAGE, "..", "below"),
        ("5 V AC ± 2 V DC", Dimension.VOLTAGE, "5 V AC ± 2 V DC", "AC and DC"),
        ("٣ V", Dimension.VOLTAGE, "٣ V", "0 to 9"),
        ("1.2.3 V", Dimension.VOLTAGE, "1.2.3", "1250.5"),
        ("1234567890123 V", Dimension.VOLTAGE, "1234567890123", "digits"),
        ("5 furlong", None, "furlong", "N·m"),
        ("5 N AC", None, "N AC", "write"),
    ],
)
def test_what_is_not_read_is_refused_where_it_stands_with_a_way_out(
    text: str, expected: Dimension | None, at: str, help_has: str
) -> None:
    misread = refused(text, *([expected] if expected else []))
    assert text[misread.start : misread.end] == at
    assert help_has in misread.help
    assert not misread.wrong_dimension


@pytest.mark.parametrize(
    ("text", "expected", "help_has"),
    [
        ("0.6 mm", Dimension.TORQUE, "a torque such as 0.6 N·m"),
        ("5 m", Dimension.TIME, "5 min"),
        ("40 lb", Dimension.FORCE, "40 lbf"),
        ("0.6 N", Dimension.TORQUE, "0.6 N·m"),
        ("0.25 mm", Dimension.AREA, "0.25 mm2"),
    ],
)
def test_a_quantity_of_another_dimension_says_which_is_wanted(text: str, expected: Dimension, help_has: str) -> None:
    misread = refused(text, expected)
    assert misread.wrong_dimension
    assert expected.value in misread.message
    assert help_has in misread.help


def test_one_of_several_dimensions_will_do() -> None:
    wanted = (Dimension.FORCE, Dimension.MASS)
    assert isinstance(read_quantity("2 kg", expected=wanted), Quantity)
    assert isinstance(read_quantity("2 V", expected=wanted), Misread)


@pytest.mark.parametrize("text", ["", "   ", "\n", "±", "..", "V", "-", "0.6 ±", "..5 V", "5..", "x" * 5000, "5 V\x00"])
def test_scraps_are_refused_inside_their_own_text(text: str) -> None:
    misread = refused(text)
    assert 0 <= misread.start < misread.end <= max(1, len(text))
    assert misread.message and misread.help


def test_no_spelling_stands_for_two_units() -> None:
    spellings = [spelling for unit in UNITS for spelling in (unit.name, *unit.spellings)]
    assert len(spellings) == len(set(spellings)) == len(BY_SPELLING)


@pytest.mark.parametrize("dimension", list(Dimension))
def test_every_dimension_has_units_and_an_example_that_reads(dimension: Dimension) -> None:
    example = example_of(dimension).split(" or ")[0]
    assert read(example, dimension).dimension is dimension
    assert example in dimension_words(dimension)
    for spelling in unit_spellings(dimension):
        assert read(f"24 {spelling}", dimension).dimension is dimension


@pytest.mark.parametrize(
    ("text", "unit", "shown"),
    [
        ("0.6 N·m", "in·lbf", "5.3 in·lbf"),
        ("0.6 N·m", "kgf·cm", "6.1 kgf·cm"),
        ("0.6 N·m", "cN·m", "60 cN·m"),
        ("12 in·lbf", "N·m", "1.36 N·m"),
        ("500 mN·m", "N·m", "0.5 N·m"),
        ("below 500 mN·m", "N·m", "below 0.5 N·m"),
        ("0.6 ± 0.1 N·m", "cN·m", "60 ± 10 cN·m"),
        ("180 °C ± 5 °C", "°F", "356 ± 9 °F"),
        ("5 V AC", "mV", "5000 mV AC"),
        ("24 AWG", "mm²", "0.2 mm²"),
        ("0.25 mm2", "AWG", "about 23 AWG"),
        ("0.6 Nm", "N·m", "0.6 N·m"),
    ],
)
def test_another_unit_is_shown_with_as_many_digits_as_were_typed(text: str, unit: str, shown: str) -> None:
    assert show(read(text), unit) == shown


@pytest.mark.parametrize("unit", ["N·m", "cN·m", "in·lbf", "kgf·cm", "mm", "in"])
def test_every_unit_a_shop_may_choose_is_printed_as_the_shop_spells_it(unit: str) -> None:
    read_as = read("0.6 N·m") if unit_named(unit).dimension is Dimension.TORQUE else read("6 mm")
    assert show(read_as, unit).endswith(f" {unit}")


def test_the_recorded_unit_stands_beside_the_shops() -> None:
    assert show_with_recorded(read("0.6 N·m"), "in·lbf") == "5.3 in·lbf (recorded 0.6 N·m)"
    assert show_with_recorded(read("0.6 N·m"), "N·m") == "0.6 N·m"
    assert show_with_recorded(read("24 V DC"), "N·m") == "24 V DC"


def test_showing_a_quantity_in_a_foreign_unit_is_a_mistake_of_the_caller() -> None:
    with pytest.raises(ValueError, match="not to be shown"):
        show(read("0.6 N·m"), "V")


def test_conflict_is_bands_that_do_not_meet() -> None:
    assert conflicts(read("0.5 N·m"), read("0.9 N·m"), 0.1)
    assert not conflicts(read("0.5 N·m"), read("0.55 N·m"), 0.1)
    assert not conflicts(read("0.5 ± 0.1 N·m"), read("0.7 ± 0.1 N·m"), 0.0)  # they touch
    assert not conflicts(read("12 in·lbf"), read("1.36 N·m"), 0.01)
    assert conflicts(read("below 0.5 ohm"), read("above 1 Mohm"), 0.1)
    assert not conflicts(read("above 0.5 N·m"), read("0.6 N·m"), 0.1)
    assert conflicts(read("24 V DC"), read("24 V AC"), 0.1)
    assert not conflicts(read("24 V DC"), read("24 V"), 0.1)
    assert conflicts(read("24 V"), read("24 mm"), 0.1)


def test_below_means_wholly_below() -> None:
    assert is_below(read("0.5 N·m"), read("0.6 N·m"))
    assert not is_below(read("0.5..0.7 N·m"), read("0.6 N·m"))


def test_a_computed_quantity_reads_like_a_written_one() -> None:
    made = make_quantity(unit="Ω", low=0.08, high=0.2, digits=2)
    again = read(made.tidy)
    assert (again.low, again.high, again.form) == (made.low, made.high, "range")
    assert make_quantity(unit="N·m", high=0.5).form == "below"
    with pytest.raises(ValueError, match="no finite number"):
        make_quantity(unit="V", nominal=float("nan"))


_LINEAR = [unit for unit in UNITS if unit is not AWG]
_NUMBERS = st.decimals("0.001", "9999", places=3, allow_nan=False)


@given(number=_NUMBERS, unit=st.sampled_from(UNITS))
@settings(max_examples=150, deadline=None)
def test_a_number_comes_back_from_every_unit(number: float, unit: object) -> None:
    name = unit.name  # type: ignore[attr-defined]
    value = float(number) if name != "AWG" else float(number) % 50
    assert from_base(to_base(value, name), name) == pytest.approx(value, rel=1e-9, abs=1e-9)


@given(number=_NUMBERS, unit=st.sampled_from(_LINEAR), word=st.sampled_from(["", "below ", "above "]))
@settings(max_examples=150, deadline=None)
def test_a_tidy_text_reads_as_the_same_quantity(number: object, unit: object, word: str) -> None:
    first = read(f"{word}{number} {unit.name}", unit.dimension)  # type: ignore[attr-defined]
    again = read(first.tidy, first.dimension)
    assert (again.nominal, again.low, again.high, again.unit) == (first.nominal, first.low, first.high, first.unit)


@given(
    number=_NUMBERS,
    units=st.sampled_from(_LINEAR).flatmap(
        lambda unit: st.tuples(st.just(unit), st.sampled_from([u for u in _LINEAR if u.dimension is unit.dimension]))
    ),
    word=st.sampled_from(["below", "above"]),
)
@settings(max_examples=150, deadline=None)
def test_a_limit_shown_in_another_unit_never_allows_more(
    number: object, units: tuple[object, object], word: str
) -> None:
    unit, other = units
    assume(1e-5 < unit.factor / other.factor < 1e5)  # type: ignore[attr-defined]  # else more digits than are read
    recorded = read(f"{word} {number} {unit.name}", unit.dimension)  # type: ignore[attr-defined]
    assume(recorded.middle > -200)  # whole degrees near absolute zero would round to below it
    again = read(show(recorded, other.name), recorded.dimension)  # type: ignore[attr-defined]
    if word == "below":
        assert recorded.high is not None and again.high is not None
        assert again.high <= recorded.high + abs(recorded.high) * 1e-9 + 1e-9
    else:
        assert recorded.low is not None and again.low is not None
        assert again.low >= recorded.low - abs(recorded.low) * 1e-9 - 1e-9


_PIECES = ["0.6", "-", "±", "..", "N·m", "below", "1e9", "24", "AWG", " ", "%", "V AC", ",", "٣", "∞", "\x00", "°", "/"]


@given(st.one_of(st.text(max_size=60), st.lists(st.sampled_from(_PIECES), max_size=9).map("".join)), st.booleans())
@settings(max_examples=400, deadline=None)
def test_no_text_crashes_the_reader_or_points_outside_itself(text: str, comma: bool) -> None:
    for expected in (None, Dimension.TEMPERATURE, (Dimension.TORQUE, Dimension.VOLTAGE)):
        found = read_quantity(text, expected=expected, decimal_comma=comma)
        if isinstance(found, Misread):
            assert 0 <= found.start < found.end <= max(1, len(text))
            assert found.message and found.help
        else:
            low, high = found.band(0.1)
            assert low <= high
            assert found.written == text.strip(" \n\t\u00a0\u202f\u2009")
