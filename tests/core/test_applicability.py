"""Variants, modifications and serials: who something is for, and what stays open when a fact is not known."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchleaf.applicability import (
    Configuration,
    configurations,
    holds,
    modifications_of_serial,
    serial_key,
    term_holds,
    variants_of_serial,
)
from benchleaf.diagnostics import Place
from benchleaf.nodes import Scalar
from benchleaf.records.machine import MachineRecord
from benchleaf.records.reading import Desk, Misfit
from benchleaf.records.types import Applies, for_machines
from benchleaf.shape import shape
from benchleaf.source import Source

TEXT = """record: machine
id: m
name: M
variants:
  mk1: {is: one, serials: [0100..0499]}
  mk2: {is: two, serials: [0500.., 0312]}
modifications:
  lift: {is: a lift, serials: ["0312", "0420"]}
"""


@pytest.fixture
def record() -> MachineRecord:
    return shape([Source("m/machine.yaml", TEXT)])[0].machines[0][1]


def applies(*terms: str) -> Applies:
    from benchleaf.nodes import Sequence

    place = Place("x.yaml", 1, 1)
    read = for_machines.read(Sequence(tuple(Scalar(t, place) for t in terms), place), Desk())
    assert not isinstance(read, Misfit)
    return read


def test_a_single_serial_beats_a_range(record: MachineRecord) -> None:
    assert variants_of_serial(record, "0312") == ("mk2",)
    assert variants_of_serial(record, "0313") == ("mk1",)


def test_a_serial_nobody_recorded_can_be_any_variant(record: MachineRecord) -> None:
    assert variants_of_serial(record, "0001") == ("mk1", "mk2")


def test_a_modification_never_follows_from_a_range(record: MachineRecord) -> None:
    assert modifications_of_serial(record, "0420") == {"lift"}
    assert modifications_of_serial(record, "0421") == frozenset()


@pytest.mark.parametrize(
    ("terms", "configuration", "answer"),
    [
        (("mk1",), Configuration("mk1"), True),
        (("mk1",), Configuration("mk2"), False),
        (("not lift",), Configuration("mk1"), True),
        (("not lift",), Configuration("mk1", frozenset({"lift"})), False),
        (("mk1", "lift"), Configuration("mk2", frozenset({"lift"})), True),
        (("0500..0899",), Configuration("mk2", serial="0899"), True),
        (("0500..0899",), Configuration("mk2", serial="0900"), False),
        (("0500..0899",), Configuration("mk2"), None),
        (("0900..",), Configuration("mk2", serial="1200"), True),
        (("..0200",), Configuration("mk1", serial="0150"), True),
        (("0312",), Configuration("mk2", serial="312"), True),
        (("mk2", "0100..0200"), Configuration("mk1"), None),
        (("mk2", "0100..0200"), Configuration("mk2"), True),
    ],
)
def test_terms_are_joined_by_or_and_stay_open_without_a_serial(
    record: MachineRecord, terms: tuple[str, ...], configuration: Configuration, answer: bool | None
) -> None:
    assert holds(applies(*terms), configuration, record) is answer


@pytest.mark.parametrize(
    ("low", "high"),
    [("2", "10"), ("A2", "A10"), ("0099", "100"), ("A9", "B1"), ("99", "A1"), ("K100-2", "K100-11")],
)
def test_serials_are_compared_group_by_group(low: str, high: str) -> None:
    assert serial_key(low) < serial_key(high)


@given(st.text(), st.text())
def test_any_two_serials_can_be_compared(one: str, other: str) -> None:
    assert (serial_key(one) <= serial_key(other)) or (serial_key(other) <= serial_key(one))


def test_every_configuration_named_is_looked_at_once(record: MachineRecord) -> None:
    every = configurations(record)
    assert len(set(every)) == len(every)
    pairs = {(one.variant, one.modifications) for one in every}
    assert pairs == {(v, m) for v in ("mk1", "mk2") for m in (frozenset(), frozenset({"lift"}))}
    assert Configuration("mk2", frozenset({"lift"}), "0312") in every


def test_a_serial_range_named_anywhere_splits_the_configurations(record: MachineRecord) -> None:
    mentioned = applies("0200..0300")
    answers = {
        term_holds(mentioned.terms[0], one, record)
        for one in configurations(record, [mentioned])
        if one.variant == "mk1"
    }
    assert answers == {True, False}
