"""What a wrong meeting of contacts leads to: written out by hand for the roles, and never milder for lack of a fact."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchleaf.connectors.carried import SIGNALS, UNKNOWN, Carried, Sort, carried_by
from benchleaf.connectors.meeting import Consequence, meet

LOGIC_OUT = Carried(Sort.OUT, "out", gives=5.0)
LOGIC_IN = Carried(Sort.IN, "in", takes=5.0)
MOTOR_OUT = Carried(Sort.OUT, "out", gives=24.0)
DRY = Carried(Sort.OUT, "out", gives=0.0)

BY_HAND = [
    (carried_by("24 V DC"), LOGIC_IN, Consequence.SUPPLY_ON_SIGNAL),
    (carried_by("24 V DC"), carried_by("PE"), Consequence.SUPPLY_ON_EARTH),
    (carried_by("24 V DC"), carried_by("0 V"), Consequence.REVERSED),
    (carried_by("24 V DC"), carried_by("5 V DC"), Consequence.OTHER_VOLTAGE),
    (carried_by("24 V DC"), carried_by("24 V AC"), Consequence.OTHER_VOLTAGE),
    (carried_by("24 V DC"), carried_by("-24 V DC"), Consequence.OTHER_VOLTAGE),
    (carried_by("24 V DC"), carried_by("24 V DC"), Consequence.NOTHING),
    (carried_by("0 V"), carried_by("0 V"), Consequence.NOTHING),
    (carried_by("PE"), carried_by("PE"), Consequence.NOTHING),
    (carried_by("-"), carried_by("-"), Consequence.NOTHING),
    (carried_by("-"), carried_by("PE"), Consequence.EARTH_LOST),
    (carried_by("0 V"), carried_by("PE"), Consequence.EARTH_LOST),
    (carried_by("-"), carried_by("24 V DC"), Consequence.LEFT_OPEN),
    (LOGIC_OUT, LOGIC_OUT, Consequence.TWO_OUTPUTS),
    (LOGIC_OUT, carried_by("0 V"), Consequence.TWO_OUTPUTS),
    (LOGIC_OUT, LOGIC_IN, Consequence.EXCHANGED),
    (LOGIC_IN, LOGIC_IN, Consequence.EXCHANGED),
    (LOGIC_IN, carried_by("0 V"), Consequence.EXCHANGED),
    (MOTOR_OUT, LOGIC_IN, Consequence.SUPPLY_ON_SIGNAL),
    (MOTOR_OUT, LOGIC_OUT, Consequence.SUPPLY_ON_SIGNAL),
    (DRY, LOGIC_IN, Consequence.EXCHANGED),
    (DRY, replace(LOGIC_IN, takes=None), Consequence.EXCHANGED),
    (MOTOR_OUT, replace(LOGIC_IN, takes=None), Consequence.NOT_RECORDED),
    (replace(LOGIC_OUT, gives=None), LOGIC_IN, Consequence.NOT_RECORDED),
    (carried_by(""), carried_by("0 V"), Consequence.NOT_RECORDED),
    (carried_by("clock"), LOGIC_IN, Consequence.NOT_RECORDED),
]


@pytest.mark.parametrize(("one", "other", "expected"), BY_HAND)
def test_the_consequences_written_by_hand(one: Carried, other: Carried, expected: Consequence) -> None:
    assert meet(one, other).consequence is expected
    assert meet(other, one).consequence is expected


levels = st.sampled_from([None, 0.0, 3.3, 5.0, 24.0, 230.0])
carried = st.one_of(
    st.sampled_from(["24 V DC", "5 V DC", "230 V AC", "0 V", "PE", "-", "", "tacho"]).map(carried_by),
    st.builds(
        Carried, st.sampled_from(sorted(SIGNALS, key=lambda s: s.value)), st.just("x"), gives=levels, takes=levels
    ),
)


@given(carried, carried)
def test_a_role_not_recorded_is_never_milder(one: Carried, other: Carried) -> None:
    known = meet(one, other).consequence.rank
    assert meet(UNKNOWN, other).consequence.rank <= known
    assert meet(one, UNKNOWN).consequence.rank <= known


@given(carried, carried)
def test_a_level_not_recorded_is_never_milder(one: Carried, other: Carried) -> None:
    known = meet(one, other).consequence.rank
    blank = replace(one, gives=None, takes=None) if one.sort in SIGNALS else one
    assert meet(blank, other).consequence.rank <= known or (one.sort is Sort.IN and other.gives == 0)


def test_not_recorded_is_the_worst_there_is() -> None:
    assert Consequence.NOT_RECORDED.rank == 0
    assert Consequence.NOTHING.rank == len(Consequence) - 1
