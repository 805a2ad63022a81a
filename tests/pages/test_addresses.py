"""Pages lie where every desk can open them, no two on one file, and the same name always in the same place."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.file_names import odd_name
from benchleaf.pages.addresses import anchor, slug, slugs


def test_names_become_small_letters_digits_and_hyphens() -> None:
    assert slug("E-0417") == "e-0417"
    assert slug("Ölstand hoch!") == "olstand-hoch"
    assert slug("../../etc/passwd") == "etc-passwd"
    assert slug("日本") == ""


def test_two_names_that_differ_in_case_alone_lie_on_two_files() -> None:
    made = slugs(["A1", "a1"])
    assert made["a1"] == "a1"
    assert made["A1"].startswith("a1-")
    assert slugs(["a1", "A1"]) == made


def test_names_a_system_keeps_for_itself_are_given_another() -> None:
    made = slugs(["con", "aux", "index", "nul"])
    assert not {"con", "aux", "index", "nul"} & set(made.values())


@settings(max_examples=80, deadline=None)
@given(st.sets(st.text(max_size=20), max_size=12))
def test_every_name_has_a_file_of_its_own_that_works_everywhere(names: set[str]) -> None:
    made = slugs(names)
    assert set(made) == names
    assert len(set(made.values())) == len(names)
    for one in made.values():
        assert odd_name(f"{one}.html") == ""
        assert one == one.lower() and "/" not in one and ".." not in one
    assert slugs(sorted(names, reverse=True)) == made


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=20), st.text(max_size=20))
def test_two_places_on_a_page_never_share_an_id(one: str, other: str) -> None:
    assert (anchor(one) == anchor(other)) is (one == other)
    assert not any(letter.isspace() for letter in anchor(one))
