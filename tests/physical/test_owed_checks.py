"""The return-to-service list: every disturbed thing has a check or is named as having none; mains always owes one."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.physical.replayed import all_replays, grounds, machine_of, name_of

from benchleaf.built import FRAME
from benchleaf.physical.ground import Ground
from benchleaf.physical.owed_checks import ELECTRICAL_SAFETY, mains_words, owed_checks
from benchleaf.physical.reassembly import reassembly
from benchleaf.physical.replay import Replay, replay
from benchleaf.physical.state import State
from benchleaf.values.quantity import Quantity, read_quantity

ALL = all_replays()


def of(machine: str, procedure: str) -> Replay:
    procedures = machine_of(machine).procedures
    return replay(grounds(machine)[0], procedures[procedure], procedures)


@pytest.mark.parametrize("one", ALL[::4], ids=name_of)
def test_everything_disturbed_is_covered_by_an_owed_check_or_named_as_without_one(one: Replay) -> None:
    end = reassembly(one).end
    owed = owed_checks(one.ground, end)
    covered = {str(name) for single in owed.owed if single.check is not None for name in single.check.covers}
    items = {name.partition(".")[0] for name in end.disturbed} & set(one.ground.built.items) - {FRAME}
    assert items <= covered | set(owed.uncovered)


def test_what_was_put_back_still_owes_its_check() -> None:
    one = of("fp420", "replace-print-head")
    owed = owed_checks(one.ground, reassembly(one).end)
    assert [single.id for single in owed.owed] == [
        "electrical-safety", "ink-side-tight", "lid-stops-carriage", "nozzle-pattern"
    ]  # fmt: skip


def test_a_disturbed_item_without_a_check_is_named() -> None:
    one = of("vs20", "replace-spring")
    owed = owed_checks(one.ground, reassembly(one).end)
    assert owed.uncovered == ("lid-spring",)
    assert "no recorded check covers lid-spring" in owed.words


def without_source(ground: Ground) -> Ground:
    return Ground(replace(ground.built, sources={}), ground.library)


def test_a_machine_without_a_recorded_source_counts_as_mains() -> None:
    ground = without_source(grounds("vs20")[0])
    owed = owed_checks(ground, State(disturbed=frozenset({"lid"})))
    assert [one.id for one in owed.owed] == [ELECTRICAL_SAFETY, "seals-tight"]
    assert "no source is recorded, which counts as mains" in owed.owed[0].because[0]


def test_the_electrical_safety_test_is_owed_even_when_the_record_has_no_such_check() -> None:
    ground = grounds("vs20")[0]
    bare = Ground(replace(ground.built, checks={}), ground.library)
    owed = owed_checks(bare, State(disturbed=frozenset({"lid"})))
    assert [one.id for one in owed.owed] == [ELECTRICAL_SAFETY]
    assert "not recorded how" in owed.owed[0].title and owed.uncovered == ("lid",)


def volts(written: str) -> Quantity:
    made = read_quantity(written)
    assert isinstance(made, Quantity)
    return made


@pytest.mark.parametrize(
    ("written", "is_mains"),
    [
        ("230 V AC", True), ("24 V DC", False), ("24 V AC", False), ("110 V", True), ("100 V DC", False),
        ("325 V DC", True),
    ],
)  # fmt: skip
def test_what_counts_as_mains(written: str, is_mains: bool) -> None:
    """Limits of 50 V AC and 120 V DC: extra-low voltage, IEC 61140 (from memory)."""
    ground = grounds("vs20")[0]
    source = replace(ground.built.sources["mains"], nominal=volts(written))
    assert bool(mains_words(replace(ground.built, sources={"mains": source}))) is is_mains


def test_a_machine_that_was_not_opened_owes_nothing_and_says_so() -> None:
    assert owed_checks(grounds("vs20")[0], State()).words == ("nothing recorded was disturbed",)


def test_a_new_item_whose_settings_belong_with_another_owes_a_check_of_both() -> None:
    ground = grounds("fp420")[0]
    covered = owed_checks(ground, State(renewed=frozenset({"H1"}), disturbed=frozenset({"H1"})))
    assert not [one for one in covered.owed if one.id == "H1-with-A1"]
    checks = {name: one for name, one in ground.built.checks.items() if name != "nozzle-pattern"}
    bare = Ground(replace(ground.built, checks=checks), ground.library)
    left = owed_checks(bare, State(renewed=frozenset({"H1"}), disturbed=frozenset({"H1"})))
    assert [one.id for one in left.owed if one.check is None] == ["H1-with-A1"]


def test_an_unchecked_step_may_have_disturbed_anything() -> None:
    one = of("fp420", "set-head-height")
    owed = owed_checks(one.ground, one.end)
    assert {single.id for single in owed.owed} == set(one.ground.built.checks)
    assert owed.words[-1] == "1 unchecked step may have disturbed more than is listed"
