"""A code is found however it is read out, and a symptom by what the customer says."""

from __future__ import annotations

import pytest
from tests.troubles.demo import machine

from benchleaf.records.codes import CodeRecord
from benchleaf.troubles.lookup import codes_like, same_code, troubles_like


def ids(machine_id: str, typed: str) -> list[str]:
    found = troubles_like(machine(machine_id), typed)
    return [str(one.code if isinstance(one, CodeRecord) else one.id) for one in found]


@pytest.mark.parametrize(
    "typed", ["07", "7", "007", "0x07", "0X7", "O7", "o7", " 0 7 ", "0-7", "code 07", "0\u20137", "07 film", "07 FILM"]
)
def test_a_code_is_the_same_in_every_spelling(typed: str) -> None:
    assert ids("fp420", typed) == ["07"]


@pytest.mark.parametrize("typed", ["E4", "e4", "E-4", "e 04", "E-O4", "E004"])
def test_a_code_with_a_letter_is_the_same_in_every_spelling(typed: str) -> None:
    assert ids("bc300", typed) == ["E4"]


@pytest.mark.parametrize(("typed", "found"), [("1", []), ("11", ["11"]), ("70", []), ("0x", []), ("E40", [])])
def test_another_number_is_another_code(typed: str, found: list[str]) -> None:
    assert ids("fp420", typed) == found


def test_what_is_spelled_exactly_so_comes_before_what_is_merely_the_same() -> None:
    assert codes_like(("E07", "E7", "e-7"), "E7") == ("E7",)
    assert codes_like(("E07", "E-7"), "e7") == ("E-7",)
    assert codes_like(("E07", "E007"), "E7") == ("E07", "E007")


def test_a_code_of_zeros_keeps_one() -> None:
    assert same_code("000") == "0" == same_code("0x0")
    assert same_code("0x") != same_code("")


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("beeps-wont-feed", "beeps-wont-feed"),
        ("it beeps and won't feed", "beeps-wont-feed"),
        ("It beeps and won\u2019t feed!", "beeps-wont-feed"),
        ("three beeps, nothing happens", "beeps-wont-feed"),
        ("there's a puddle", "ink-under-printer"),
        ("banding", "bands-on-film"),
    ],
)
def test_a_symptom_is_found_by_what_the_customer_says(typed: str, found: str) -> None:
    assert ids("fp420", typed)[0] == found


def test_words_nobody_recorded_find_nothing() -> None:
    assert ids("fp420", "my cat sat on the scanner") == []
    assert ids("fp420", "") == []
