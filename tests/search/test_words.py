"""Text becomes words and codes as the committed vectors say, and in one way however it is written."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.search.vectors import WORDS, read_vectors, vectors

from benchleaf.search.codes import canonical, ends_in, has_digit, short_forms
from benchleaf.search.words import bases, family_prefix, fold, normalise, tokenise


def test_the_tokeniser_makes_what_the_vectors_say() -> None:
    assert vectors() == read_vectors()


def test_all_ways_to_write_a_code_are_one() -> None:
    assert {canonical(fold(text)) for text in ("E-0417", "E0417", "e 0417", "E_0417", "E‑0417", "E.0417")} == {"e0417"}
    assert {canonical(fold(text)) for text in ("A1-J3:7", "a1j3.7", "A1 J3 7")} == {"a1j3-7"}


def test_short_forms_are_what_people_type_of_a_code() -> None:
    assert short_forms("e-0417", "codes") == ["0417", "417", "e417"]
    assert short_forms("f07", "codes") == ["07", "f7"]
    assert short_forms("30-2207-11", "part_numbers") == ["2207-11", "220711", "30220711"]
    assert short_forms("a1-j3:7", "contacts") == ["a1j37", "j3-7"]
    assert short_forms("a1", "designations") == []


def test_a_code_is_known_by_its_end_but_not_by_part_of_a_number() -> None:
    for typed in ("0417", "417", "e417", "e0417"):
        assert ends_in("e0417", typed)
    assert ends_in("30-2207-11", "220711") and ends_in("30-2207-11", "30220711")
    assert not ends_in("124", "24") and not ends_in("j1-12", "j11-2") and not ends_in("e0417", "7")


@given(st.text(max_size=80))
@settings(max_examples=200, deadline=None)
def test_tokens_stand_in_the_text_where_they_say(text: str) -> None:
    text = normalise(text)
    for token in tokenise(text):
        assert 0 <= token.start < token.end <= len(text)
        assert token.term and (token.kind == "code") == has_digit(token.term)
        assert all(sign.isalnum() or sign == "-" for sign in token.term)


def test_all_forms_of_a_word_begin_with_its_family_prefix() -> None:
    for word in WORDS.split():
        for base in bases(word):
            assert base.startswith(family_prefix(word)[:-1]), (word, base)
    for word, form in (
        ("remove", "removal"),
        ("carry", "carried"),
        ("carried", "carry"),
        ("dry", "dried"),
        ("fit", "fitting"),
    ):
        assert form.startswith(family_prefix(word))
