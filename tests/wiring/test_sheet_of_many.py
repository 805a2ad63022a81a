"""The energy-control sheets of several machines as one: nothing lost, nothing claimed of another machine."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from tests.pages.library import demo

from benchleaf.applicability import Configuration
from benchleaf.wiring.configurations import wiring_of
from benchleaf.wiring.control_sheet import Listing, SheetLine, control_sheet
from benchleaf.wiring.sheet_of_many import common_first

Sheets = list[tuple[Configuration, tuple[SheetLine, ...]]]


def parts_of_the_demo() -> Iterator[Sheets]:
    derived = demo().derived
    for machine in derived.library.machines.values():
        made = [
            (built.configuration, control_sheet(wiring_of(derived, built), derived.library.shop).parts)
            for built in derived.all_built(machine)
        ]
        for number in range(6):
            yield [(on, parts[number].lines) for on, parts in made]


def test_every_line_of_every_machine_is_told_for_that_machine() -> None:
    for sheets in parts_of_the_demo():
        told = common_first(sheets)
        for on, lines in sheets:
            for line in lines:
                mine = [one for one in told if on in one.on and (one.energy, one.gap) == (line.energy, line.gap)]
                if line.listing is None:
                    assert any(one.words == line.words for one in mine)
                else:
                    of_it = [one for one in mine if one.stem == line.listing.stem]
                    assert {thing for one in of_it for thing in one.listed} == set(line.listing.listed)


def test_no_line_is_told_of_a_machine_it_is_not_true_on() -> None:
    for sheets in parts_of_the_demo():
        lines_of = dict(sheets)
        for told in common_first(sheets):
            for on in told.on:
                if told.stem:
                    lists = [one.listing for one in lines_of[on] if one.listing is not None]
                    assert any(one.stem == told.stem and set(told.listed) <= set(one.listed) for one in lists)
                else:
                    assert told.words in {one.words for one in lines_of[on]}


def test_what_is_common_stands_first_and_once() -> None:
    shorter = 0
    for sheets in parts_of_the_demo():
        told = common_first(sheets)
        everyone = {on for on, _ in sheets}
        common = [one.on == everyone for one in told]
        assert common == sorted(common, reverse=True)
        assert len({(one.words, one.energy) for one in told}) == len(told)
        shorter += len({line for _, lines in sheets for line in lines}) - len(told)
    assert shorter > 0


@pytest.fixture
def two() -> tuple[Configuration, Configuration]:
    first, second, *_ = (b.configuration for b in demo().derived.all_built(demo().derived.library.machines["fp420"]))
    return first, second


def line(*listed: str, more: tuple[int, int, int] = (0, 0, 0)) -> SheetLine:
    return SheetLine(words="whole", energy="mains", listing=Listing(stem="Mains is at", listed=listed, more=more))


def told(sheets: Sheets) -> list[tuple[str, int]]:
    return [(one.words, len(one.on)) for one in common_first(sheets)]


def test_lists_that_differ_in_one_thing_are_told_once_and_the_thing_beside(
    two: tuple[Configuration, Configuration],
) -> None:
    sheets: Sheets = [(two[0], (line("XP1", "A1"),)), (two[1], (line("XP1", "E1", "A1"),))]
    assert told(sheets) == [("Mains is at: XP1, A1", 2), ("Mains is also at: E1", 1)]


def test_counts_that_differ_are_told_from_the_least_to_the_most(two: tuple[Configuration, Configuration]) -> None:
    sheets: Sheets = [(two[0], (line("A1", more=(46, 46, 0)),)), (two[1], (line("A1", more=(47, 46, 1)),))]
    assert told(sheets) == [("Mains is at: A1 and 46 to 47 more nets (46 only through loads, 0 to 1 not recorded)", 2)]


def test_lists_with_nothing_in_common_are_both_told(two: tuple[Configuration, Configuration]) -> None:
    sheets: Sheets = [(two[0], (line("A1"),)), (two[1], (line("A2"),))]
    assert told(sheets) == [
        ("Mains is at: what differs stands below", 2), ("Mains is also at: A1", 1), ("Mains is also at: A2", 1)
    ]  # fmt: skip


def test_a_told_line_keeps_whether_something_is_missing() -> None:
    for sheets in parts_of_the_demo():
        gaps = {one.words for _, lines in sheets for one in lines if one.gap and one.listing is None}
        assert gaps == {one.words for one in common_first(sheets) if one.gap and not one.stem}
