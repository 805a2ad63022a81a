"""Limits of a torque from what is recorded, and what is said of a torque against them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.values import torque as torques
from benchleaf.values.drives import usual_bits
from benchleaf.values.origin import gaps
from benchleaf.values.quantity import Quantity, read_quantity
from benchleaf.values.threads import CLASSES, THREADS, bearing, find_class, find_head, find_thread
from benchleaf.values.tightening import (
    implied_nut_factor,
    permissible_preload,
    preload_of,
    stripping_force,
    tightening_torque,
)
from benchleaf.values.torque import Fastener, judge_torque, torque_limits


def q(text: str) -> Quantity:
    found = read_quantity(text)
    assert isinstance(found, Quantity), found
    return found


_ORIGINS = torques.given(
    thread="M4", head="cap", into="aluminium", engaged="6 mm", friction="0.12", torque="2 N·m", must_hold="900 N",
    strips_at="0.7 N·m", **{"class": "8.8"},
)  # fmt: skip
_M4 = Fastener(
    thread="M4",
    property_class="8.8",
    head="cap",
    into="aluminium",
    engaged=q("6 mm"),
    friction=0.12,
    origins=_ORIGINS,
)


def _codes(fastener: Fastener, torque: str) -> list[str]:
    return [judged.code for judged in judge_torque(fastener, q(torque))]


def test_the_lower_of_screw_and_thread_is_the_limit_and_says_so() -> None:
    found = torque_limits(_M4)
    assert [limit.kind for limit in found.limits] == ["screw", "thread"]
    assert found.upper is min(found.limits, key=lambda limit: limit.torque)
    assert all("not a torque to tighten to" in limit.label for limit in found.limits)
    assert not found.not_computed


def test_every_limit_can_say_where_each_of_its_numbers_comes_from() -> None:
    recorded = replace(_M4, strips_at=q("4 N·m"))
    for limit in torque_limits(recorded).limits:
        assert gaps(limit.origin, limit.kind) == ()
        assert limit.arithmetic


def test_a_limit_from_a_fact_without_origin_shows_the_gap() -> None:
    for key in ("thread", "class", "engaged", "into", "friction"):
        short = {name: origin for name, origin in _ORIGINS.items() if name != key}
        found = torque_limits(replace(_M4, origins=short))
        assert any(gaps(limit.origin) for limit in found.limits), key


def test_a_torque_over_the_limit_is_found_with_the_arithmetic() -> None:
    limit = torque_limits(_M4).upper
    assert limit is not None
    assert _codes(_M4, f"{limit.torque * 0.98:.3f} N·m") == []
    (judged,) = judge_torque(_M4, q(f"{limit.torque * 1.02:.3f} N·m"))
    assert judged.code == "torque-over-limit"
    assert "over the limit" in judged.message
    assert judged.arithmetic[-1].endswith(f"is more than {limit.torque:.3g} N·m")
    assert gaps(judged.origin) == ()


def test_the_upper_end_of_a_tolerance_counts_against_the_limit() -> None:
    limit = torque_limits(_M4).upper
    assert limit is not None
    assert _codes(_M4, f"{limit.torque * 0.95:.3f} N·m ± 10 %") == ["torque-over-limit"]


def test_the_limit_is_told_in_the_unit_the_torque_was_recorded_in() -> None:
    (judged,) = judge_torque(_M4, q("99 in-lb"))
    assert "99 in·lbf is over the limit of" in judged.message
    assert judged.message.split("limit of ")[1].split(":")[0].endswith("in·lbf")


@pytest.mark.parametrize("material", ["plastic", "unknown", "", "cheese"])
def test_no_limit_is_computed_for_plastic_an_unknown_material_or_none(material: str) -> None:
    found = torque_limits(replace(_M4, into=material))
    assert found.limits == ()
    assert found.upper is None
    assert found.not_computed


def test_in_plastic_only_what_is_recorded_to_strip_it_is_a_limit() -> None:
    boss = replace(_M4, into="plastic", strips_at=q("0.7 ± 0.1 N·m"))
    limit = torque_limits(boss).upper
    assert limit is not None and limit.kind == "recorded"
    assert limit.torque == pytest.approx(0.6)
    assert _codes(boss, "0.65 N·m") == ["torque-over-limit"]


def test_a_torque_no_screw_of_that_size_bears_is_found_whatever_it_goes_into() -> None:
    assert _codes(replace(_M4, into=""), "9 N·m") == ["torque-over-limit"]
    (judged,) = judge_torque(replace(_M4, into="plastic"), q("9 N·m"))
    assert judged.message.endswith("by itself")


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"thread": ""}, "thread not recorded"),
        ({"thread": "M4x0.5"}, "'M4x0.5' is not an ISO metric coarse thread"),
        ({"property_class": ""}, "class not recorded"),
        ({"property_class": "chewing gum"}, "'chewing gum' is not in the table"),
        ({"engaged": None}, "engaged length not recorded"),
        ({"into": ""}, "counts as plastic"),
    ],
)
def test_a_limit_that_cannot_be_computed_names_the_fact_it_lacks(change: dict[str, object], words: str) -> None:
    found = torque_limits(replace(_M4, **change))  # type: ignore[arg-type]
    assert any(words in line for line in found.not_computed), found.not_computed


def test_the_shortest_engaged_length_meant_is_reckoned_with() -> None:
    def thread_limit(engaged: str) -> float:
        return torque_limits(replace(_M4, engaged=q(engaged))).limits[1].torque

    assert thread_limit("6 ± 1 mm") == pytest.approx(thread_limit("5 mm"))
    assert thread_limit("5..9 mm") == pytest.approx(thread_limit("5 mm"))
    assert thread_limit("below 6 mm") == 0.0


def test_too_low_to_hold_is_said_only_where_a_force_to_hold_is_recorded() -> None:
    assert _codes(_M4, "0.05 N·m") == []
    holding = replace(_M4, must_hold=q("900 N"))
    (judged,) = judge_torque(holding, q("0.05 N·m"))
    assert judged.code == "torque-too-low"
    assert "900 N must hold" in judged.message
    assert gaps(judged.origin) == ()
    assert _codes(holding, "2 N·m") == []


def test_the_preload_a_torque_makes_is_judged_at_its_lowest_and_at_the_highest_friction() -> None:
    holding = replace(_M4, must_hold=q("900 N"), friction=None)
    thread = THREADS["M4"]
    edge = tightening_torque(thread, 900, bearing(thread, "cap").largest, 0.24)
    assert _codes(holding, f"{edge * 1.02:.4f} N·m") == []
    assert _codes(holding, f"{edge * 0.98:.4f} N·m") == ["torque-too-low"]
    assert _codes(holding, f"{edge:.4f} ± 0.1 N·m") == ["torque-too-low"]
    assert "torque-too-low" in _codes(holding, "below 2 N·m")


def test_a_force_the_screw_cannot_bear_is_said() -> None:
    assert "hold-beyond-limit" in _codes(replace(_M4, must_hold=q("50 kN")), "2 N·m")


def test_a_force_to_hold_without_a_thread_is_not_passed_over() -> None:
    assert _codes(replace(_M4, thread="", must_hold=q("900 N")), "2 N·m") == ["hold-not-checked"]


def test_judging_anything_but_a_torque_is_a_mistake_of_the_caller() -> None:
    with pytest.raises(ValueError, match="not a torque"):
        judge_torque(_M4, q("2 V"))


def test_friction_not_recorded_gives_a_band_and_recorded_friction_a_point() -> None:
    assert torque_limits(_M4).friction == (0.12, 0.12)
    low, high = torque_limits(replace(_M4, friction=None)).friction
    assert low < 0.12 < high
    assert torque_limits(replace(_M4, friction=None, property_class="A2-70")).friction[1] > high


def test_the_cross_check_by_the_short_form_lies_in_the_published_span() -> None:
    thread = THREADS["M6"]
    preload = permissible_preload(thread, CLASSES["8.8"].yield_min, 0.14)
    factor = implied_nut_factor(thread, tightening_torque(thread, preload, bearing(thread, "hex").least, 0.14), preload)
    assert 0.12 < factor < 0.30
    assert any("short form" in line for line in torque_limits(_M4).cross_checks)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("M3", "M3"),
        ("m3", "M3"),
        ("M 3", "M3"),
        ("M2,5", "M2.5"),
        ("M4x0.7", "M4"),
        ("M10x1.50", "M10"),
        ("M4.0", "M4"),
    ],
)
def test_a_coarse_thread_is_known_by_its_usual_spellings(text: str, name: str) -> None:
    found = find_thread(text)
    assert found is not None and found.name == name


@pytest.mark.parametrize("text", ["", "M", "M7", "M4x0.5", "M3x8", "UNC 4-40", "4", "M99999", "3"])
def test_a_fine_or_unknown_thread_is_not_taken_for_a_coarse_one(text: str) -> None:
    assert find_thread(text) is None


def test_classes_and_heads_are_known_by_their_usual_spellings() -> None:
    assert find_class("a2 70") is CLASSES["A2-70"]
    assert find_class(" 8.8 ") is CLASSES["8.8"]
    assert find_class("strong") is None
    assert (find_head("Cap head"), find_head("hexagon"), find_head("csk"), find_head("odd")) == (
        "cap",
        "hex",
        "countersunk",
        "",
    )


@pytest.mark.parametrize("thread", THREADS.values(), ids=str)
def test_a_head_not_recorded_spans_every_recorded_one(thread: object) -> None:
    unknown = bearing(thread, "")  # type: ignore[arg-type]
    for head in ("hex", "cap", "pan", "countersunk"):
        known = bearing(thread, head)  # type: ignore[arg-type]
        assert unknown.least <= known.least <= known.largest <= unknown.largest


def test_a_bit_is_named_as_a_record_names_a_drive() -> None:
    assert usual_bits("M3", "cap") == ("hex 2.5", "TX10")
    assert usual_bits("M3", "pan") == ("PH1", "TX10")
    assert usual_bits("M4", "hex") == ("spanner 7",)
    assert usual_bits("M3", "") == ()


_SIZES = st.sampled_from(sorted(THREADS, key=lambda name: THREADS[name].d))
_STEEL = st.sampled_from([name for name, row in CLASSES.items() if not row.stainless])
_FRICTION = st.floats(0.04, 0.4)


def _torque(size: str, name: str, friction: float) -> float:
    thread = THREADS[size]
    preload = permissible_preload(thread, CLASSES[name].yield_min, friction)
    return tightening_torque(thread, preload, bearing(thread, "hex").least, friction)


@given(_SIZES, _SIZES, _STEEL, _FRICTION)
@settings(max_examples=80, deadline=None)
def test_torque_grows_with_diameter(one: str, other: str, name: str, friction: float) -> None:
    small, large = sorted((one, other), key=lambda size: THREADS[size].d)
    assert small == large or _torque(small, name, friction) < _torque(large, name, friction)


@given(_SIZES, _STEEL, _STEEL, _FRICTION)
@settings(max_examples=80, deadline=None)
def test_torque_grows_with_class(size: str, one: str, other: str, friction: float) -> None:
    weak, strong = sorted((one, other), key=lambda name: CLASSES[name].yield_min)
    assert weak == strong or _torque(size, weak, friction) < _torque(size, strong, friction)


@given(_SIZES, _STEEL, _FRICTION, _FRICTION)
@settings(max_examples=80, deadline=None)
def test_torque_grows_and_preload_falls_with_friction(size: str, name: str, one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert _torque(size, name, low) <= _torque(size, name, high)
    stress = CLASSES[name].yield_min
    assert permissible_preload(THREADS[size], stress, low) >= permissible_preload(THREADS[size], stress, high)


@given(_SIZES, st.floats(0, 40), st.floats(0, 40), st.one_of(st.none(), st.floats(100, 800)))
@settings(max_examples=80, deadline=None)
def test_longer_engagement_never_lowers_the_stripping_limit(
    size: str, one: float, other: float, screw: float | None
) -> None:
    short, long = sorted((one, other))
    assert stripping_force(THREADS[size], short, 108, screw) <= stripping_force(THREADS[size], long, 108, screw)


@given(_SIZES, st.floats(0.01, 100), _FRICTION)
@settings(max_examples=60, deadline=None)
def test_preload_and_torque_are_each_others_inverse(size: str, torque: float, friction: float) -> None:
    thread = THREADS[size]
    under_head = bearing(thread, "cap").least
    preload = preload_of(thread, torque, under_head, friction)
    assert tightening_torque(thread, preload, under_head, friction) == pytest.approx(torque)


@given(
    _SIZES,
    _STEEL,
    st.sampled_from(["hex", "cap", "pan", "countersunk"]),
    st.floats(0.08, 0.24),
    st.decimals("0.01", "60", places=2),
)
@settings(max_examples=120, deadline=None)
def test_deleting_the_friction_or_the_head_never_removes_a_finding(
    size: str, name: str, head: str, friction: float, torque: object
) -> None:
    full = replace(_M4, thread=size, property_class=name, head=head, friction=friction, must_hold=q("500 N"))
    for poorer in (replace(full, friction=None), replace(full, head=""), replace(full, friction=None, head="")):
        assert set(_codes(full, f"{torque} N·m")) <= set(_codes(poorer, f"{torque} N·m"))
