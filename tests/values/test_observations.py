"""Two who disagree are both kept, and nobody's disagreement is settled silently."""

from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.diagnostics import Place
from benchleaf.values.observations import (
    NO_INTERIM,
    Observation,
    Status,
    careful_span,
    origin_of,
    origin_words,
    standing_of,
)
from benchleaf.values.quantity import Quantity, read_quantity


def q(text: str) -> Quantity:
    found = read_quantity(text)
    assert isinstance(found, Quantity), found
    return found


_MEASURED = Observation(
    quantity=q("0.5 N·m"),
    origin="measured",
    by="RV",
    serial="0221",
    date="2026-02-11",
    method="click driver",
    place=Place("lc30/machine.yaml", 12, 7),
)
_NOTE = Observation(quantity=q("0.9 N·m"), origin="service note", source="bulletin 12", condition="dry")
_DECIDED = Observation(
    quantity=q("0.5 N·m"), adjudicated=True, reason="the bush cracked at 0.8", by="RV", date="2026-03-01"
)


def test_nothing_written_is_not_recorded() -> None:
    assert standing_of([]).status is Status.NOT_RECORDED
    assert standing_of([]).text == "not recorded"
    assert standing_of([Observation(interim="leave it")]).status is Status.NOT_RECORDED


def test_one_entry_is_a_single_observation() -> None:
    one = standing_of([_MEASURED])
    assert (one.status, one.text) == (Status.SINGLE, "0.5 N·m")
    assert one.quantity == _MEASURED.quantity


def test_entries_whose_bands_meet_agree_and_the_narrowest_is_shown() -> None:
    wide = Observation(quantity=q("0.4..0.8 N·m"))
    agreed = standing_of([wide, _MEASURED])
    assert agreed.status is Status.AGREED
    assert agreed.shown == (_MEASURED,)
    assert agreed.everyone == (wide, _MEASURED)


def test_a_dispute_shows_every_side_and_what_to_do_meanwhile() -> None:
    disputed = standing_of([_MEASURED, _NOTE, Observation(interim="take 0.5 N·m")])
    assert disputed.status is Status.DISPUTED
    assert disputed.shown == (_MEASURED, _NOTE)
    assert disputed.quantity is None
    assert disputed.text == "0.5 N·m or 0.9 N·m (disputed: take 0.5 N·m)"
    assert standing_of([_MEASURED, _NOTE]).interim == NO_INTERIM


def test_the_shops_band_decides_what_a_conflict_is() -> None:
    near = Observation(quantity=q("0.6 N·m"))
    assert standing_of([_MEASURED, near], same_within=0.10).status is Status.AGREED
    assert standing_of([_MEASURED, near], same_within=0.05).status is Status.DISPUTED


def test_a_decision_with_its_reason_settles_the_matter_and_keeps_everyone() -> None:
    settled = standing_of([_MEASURED, _NOTE, _DECIDED])
    assert (settled.status, settled.shown, settled.decided) == (Status.AGREED, (_DECIDED,), _DECIDED)
    assert settled.everyone == (_MEASURED, _NOTE, _DECIDED)


def test_a_decision_without_a_reason_settles_nothing() -> None:
    bare = Observation(quantity=q("0.5 N·m"), adjudicated=True)
    assert standing_of([_MEASURED, _NOTE, bare]).status is Status.DISPUTED


def test_a_later_observation_against_the_decision_opens_it_again() -> None:
    later = Observation(quantity=q("0.9 N·m"), origin="measured", date="2026-04-01")
    opened = standing_of([_MEASURED, _NOTE, _DECIDED, later])
    assert opened.status is Status.DISPUTED
    assert opened.shown == (_DECIDED, later)
    same_day = Observation(quantity=q("0.9 N·m"), date=_DECIDED.date)
    assert standing_of([same_day, _DECIDED]).status is Status.AGREED
    assert standing_of([_DECIDED, Observation(quantity=q("0.52 N·m"), date="2026-04-01")]).status is Status.AGREED


def test_of_two_decisions_the_last_dated_counts() -> None:
    newer = Observation(quantity=q("0.9 N·m"), adjudicated=True, reason="new bush", date="2026-05-01")
    assert standing_of([newer, _NOTE, _DECIDED]).decided == newer


def test_a_computed_torque_is_kept_aside_and_never_fills_a_callout() -> None:
    computed = Observation(quantity=q("0.8 N·m"), origin="computed")
    alone = standing_of([computed])
    assert (alone.status, alone.quantity, alone.set_aside) == (Status.NOT_RECORDED, None, (computed,))
    assert standing_of([_MEASURED, computed]).status is Status.SINGLE
    assert standing_of([Observation(quantity=q("5 ohm"), origin="computed")]).status is Status.SINGLE


def test_a_name_is_published_only_when_the_shop_says_so() -> None:
    assert "RV" not in origin_words(_MEASURED) and "RV" not in origin_words(_DECIDED)
    assert origin_words(_MEASURED, publish_names=True).endswith("by RV")
    assert origin_words(_MEASURED) == "measured, click driver, serial 0221, 2026-02-11"
    assert origin_words(Observation(quantity=q("1 V"))) == "origin not recorded"


def test_an_observation_ends_an_origin_chain_only_with_its_place() -> None:
    found = origin_of(_MEASURED)
    assert found is not None and found.place.line == 12
    assert origin_of(_NOTE) is None


def test_a_limit_reckons_with_every_side_of_a_dispute() -> None:
    assert careful_span(standing_of([_MEASURED, _NOTE])) == pytest.approx((0.5, 0.9))
    assert careful_span(standing_of([])) is None


@given(st.lists(st.sampled_from(["0.5 N·m", "0.55 N·m", "0.9 N·m", "0.4..1 N·m", "below 0.6 N·m"]), max_size=4))
@settings(max_examples=60, deadline=None)
def test_the_status_does_not_depend_on_the_order_of_writing(texts: list[str]) -> None:
    entries = [Observation(quantity=q(text), serial=str(number)) for number, text in enumerate(texts)]
    statuses = {standing_of(order).status for order in permutations(entries)}
    assert len(statuses) == 1
