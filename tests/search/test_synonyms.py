"""A shop's own words: written one rule a line, used both ways or one way, and refused with a remedy."""

from __future__ import annotations

import pytest
from tests.search.manual import documents

from benchleaf.search import DEFAULT_SYNONYMS, SynonymRule, build_index, open_index, read_synonyms, rules_of, search


def urls(rules: tuple[SynonymRule, ...], query: str) -> list[str]:
    return [hit.url for hit in search(open_index(build_index(documents(), rules)), query).hits]


def test_the_default_list_has_no_faults() -> None:
    rules, errors = read_synonyms(DEFAULT_SYNONYMS)
    assert not errors and len(rules) > 300


def test_an_equals_sign_works_both_ways_and_an_arrow_one_way() -> None:
    rules, errors = read_synonyms(["gubbins = drive belt", "racket > squeals"])
    assert not errors
    assert SynonymRule(("gubbins",), (("drive", "belt"),)) in rules
    assert SynonymRule(("drive", "belt"), (("gubbins",),)) in rules
    assert SynonymRule(("racket",), (("squeals",),)) in rules
    assert not any(rule.asked == ("squeals",) for rule in rules)


def test_a_shop_adds_its_own_words_to_the_default_ones() -> None:
    assert urls((), "gubbins") == []
    rules, _ = read_synonyms([*DEFAULT_SYNONYMS, "gubbins = drive belt"])
    assert urls(rules, "gubbins")[0] == "lc30/drive-belt.html"
    assert "power-supply" in urls(rules, "psu")[0]


@pytest.mark.parametrize(
    ("line", "remedy"),
    [
        ("psu power supply", "write 'psu = power supply'"),
        ("a = b > c", "write 'psu = power supply'"),
        ("", "write 'psu = power supply'"),
        ("psu = PSU", "the same words"),
        ("of the = belt", "one to four words"),
        ("one two three four five = belt", "one to four words"),
        ("noise >", "one to four words"),
    ],
)
def test_a_rule_that_cannot_be_read_is_said_with_a_remedy(line: str, remedy: str) -> None:
    rules, errors = read_synonyms(["fine = well", line])
    assert [error.number for error in errors] == [1] and remedy in errors[0].message
    assert len(rules) == 2


def test_rules_that_lead_nowhere_in_this_manual_are_left_out_of_the_page() -> None:
    rules, _ = read_synonyms(["gubbins = drive belt", "gubbins = trebuchet"])
    assert open_index(build_index(documents(), rules)).root["synonyms"]["gubbins"] == ["drive belt"]


def test_each_phrase_of_a_group_finds_every_other_whatever_signs_are_in_it() -> None:
    rules = rules_of([["gubbins", "drive belt", "what > ever"], ["of the", "lonely"], ["PSU", "psu"]])
    assert rules == (
        SynonymRule(("drive", "belt"), (("gubbins",), ("what", "ever"))),
        SynonymRule(("gubbins",), (("drive", "belt"), ("what", "ever"))),
        SynonymRule(("what", "ever"), (("drive", "belt"), ("gubbins",))),
    )
    assert urls(rules, "gubbins")[0] == "lc30/drive-belt.html"
