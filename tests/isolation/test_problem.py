"""What a problem refuses, in words."""

from __future__ import annotations

import math

import pytest

from benchleaf.isolation.problem import Cover, Needs, PowerMinutes, Problem, Remedy, Start, Test, stated


def test_what_is_missing_to_one_goes_to_the_rest() -> None:
    test = Test(1, {"a": {"open": 0.25, "low": 0.25}, "b": {"open": 1.0}}, "good")
    assert test.row("a") == {"open": 0.25, "low": 0.25, "good": 0.5}
    assert test.row("b") == {"open": 1.0}
    assert test.row("c") == {"good": 1.0}
    assert test.outcomes == ("good", "low", "open")


def test_a_share_of_the_rest_may_be_written_too() -> None:
    assert Test(1, {"a": {"open": 0.5, "good": 0.25}}, "good").row("a") == {"open": 0.5, "good": 0.5}


@pytest.mark.parametrize(
    ("made", "says"),
    [
        (lambda: Problem(causes={"a": 0}), "the weight of a is 0"),
        (lambda: Problem(causes={"a": math.nan}), "the weight of a is nan"),
        (lambda: Problem(causes={"a": math.inf}), "the weight of a is inf"),
        (lambda: Problem(causes={"a": 1}, tests={"t": Test(1, {"a": {"x": 0.5}})}), "test t: the shares of a are 0.5"),
        (lambda: Problem(causes={"a": 1}, tests={"t": Test(1, {})}), "test t: the shares of a are 0 together"),
        (lambda: Problem(causes={"a": 1}, tests={"t": Test(1, {"a": {"x": 1.5}}, "y")}), "the shares of a are 1.5"),
        (lambda: Problem(causes={"a": 1}, tests={"t": Test(1, {"a": {"x": 2, "y": -1}})}), "the shares of a"),
        (lambda: Problem(causes={"a": 1}, tests={"t": Test(-1, {}, "y")}), "test t takes -1 minutes"),
        (lambda: Problem(causes={"a": 1}, remedies={"r": Remedy(-1, ("a",))}), "remedy r takes -1 minutes"),
        (lambda: Problem(causes={"a": 1}, power=PowerMinutes(prove=-2)), "proving dead takes -2 minutes"),
        (lambda: Problem(causes={"a": 1}, covers={"x": Cover(1, -1)}), "closing x takes -1 minutes"),
        (lambda: Problem(causes={"a": 1}, remedies={"r": Remedy(1, ("b",))}), "remedy r is for b"),
        (lambda: Problem(causes={"a": 1}, remedies={"r": Remedy(1, (), Needs(frozenset("x")))}), "x has to be opened"),
        (lambda: Problem(causes={"a": 1}, start=Start(frozenset({"x"}))), "x has to be opened and is not a cover"),
        (lambda: Problem(causes={"a": 1}, covers={"x": Cover(1, within="y")}), "y has to be opened"),
        (
            lambda: Problem(causes={"a": 1}, covers={"x": Cover(1, within="y"), "y": Cover(1, within="x")}),
            "the covers are within each other: x in y in x",
        ),
        (
            lambda: Problem(causes={"a": 1}, tests={"r": Test(1, {}, "y")}, remedies={"r": Remedy(1, ())}),
            "r is a test and a remedy",
        ),
        (lambda: stated("ajar", None), "covers are open, closed or either, not 'ajar'"),
        (lambda: stated(None, "warm"), "the state is dead or powered, not 'warm'"),
    ],
)
def test_what_makes_no_sense_is_refused(made: object, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        made()  # type: ignore[operator]
