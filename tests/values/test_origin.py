"""A number's origin is followed to its end, and a chain that ends in nothing is found."""

from __future__ import annotations

import pytest

from benchleaf.diagnostics import Place
from benchleaf.values.origin import (
    BrokenChain,
    CommonPractice,
    Computed,
    Given,
    Input,
    Origin,
    Published,
    Recorded,
    gaps,
    leaves,
    require_whole,
    say,
    tell,
)

_RECORDED = Recorded("4 mm", Place("b600/machine.yaml", 18, 9), "measured")
_WHOLE = Computed(
    "2.9 kN",
    "τ·A",
    (
        Input("m", "4 mm", _RECORDED),
        Input("τ", "108 MPa", Computed("108 MPa", "0.6·Rm", (Input("Rm", "180 MPa", Published("180 MPa", "EN 755")),))),
        Input("C", "0.9", CommonPractice("0.9", "common practice, no source")),
    ),
    "VDI 2230",
)


def test_a_chain_ends_in_what_was_seen_written_or_known_to_the_trade() -> None:
    assert [type(leaf).__name__ for leaf in leaves(_WHOLE)] == ["Recorded", "Published", "CommonPractice"]
    assert gaps(_WHOLE) == ()
    assert require_whole(_WHOLE) is _WHOLE


def test_a_chain_is_told_with_its_places_one_line_a_link() -> None:
    assert say(_RECORDED) == "4 mm, recorded at b600/machine.yaml:18 (measured)"
    told = tell(_WHOLE)
    assert told[0] == "2.9 kN = τ·A (VDI 2230)"
    assert told[1] == "  m: 4 mm, recorded at b600/machine.yaml:18 (measured)"
    assert "    Rm: 180 MPa, EN 755" in told


@pytest.mark.parametrize(
    "broken",
    [
        None,
        Recorded("4 mm", Place("", 0, 0)),
        Recorded("4 mm", Place("a.yaml", 0, 0)),
        Given("  "),
        Published("180 MPa", ""),
        CommonPractice("0.9", " "),
        Computed("1", "x", ()),
        Computed("1", "", (Input("m", "4 mm", _RECORDED),)),
        Computed("1", "x", (Input("m", "4 mm", None),)),
        Computed("1", "x", (Input("m", "4 mm", Computed("2", "y", (Input("n", "3", None),))),)),
    ],
)
def test_every_way_a_chain_can_break_is_found(broken: Origin | None) -> None:
    assert gaps(broken)
    with pytest.raises(BrokenChain):
        require_whole(broken)


def test_every_gap_of_a_chain_is_named_not_only_the_first() -> None:
    two = Computed("1", "a·b", (Input("a", "1", None), Input("b", "2", None)))
    assert gaps(two, "the torque") == ("a of the torque has no origin", "b of the torque has no origin")
