"""For which machines something is: in words a reader can check at the machine, never narrower than the record."""

from __future__ import annotations

from tests.pages.library import demo

from benchleaf.pages.applies_words import described, shown_applies
from benchleaf.pages.book import Book
from benchleaf.records import types
from benchleaf.text import NOWHERE, Text


def fp420():  # type: ignore[no-untyped-def]
    return Book(demo().derived).machine("fp420")


def shown(*terms: str):  # type: ignore[no-untyped-def]
    read = types.for_machines.read(_node(terms), types.Desk())
    return shown_applies(read, fp420().record)


def _node(terms: tuple[str, ...]):  # type: ignore[no-untyped-def]
    from benchleaf.nodes import Scalar, Sequence

    return Sequence(tuple(Scalar(one, NOWHERE) for one in terms), NOWHERE)


def test_terms_read_as_a_technician_would_say_them() -> None:
    assert shown("mk2").words == "mk2, heated platen with its own cut-out"
    assert shown("roll").words == "machines with roll"
    assert shown("not roll").words == "machines without roll"
    assert shown("0500..0899").words == "serials 0500 to 0899"
    assert shown("0900..").words == "serials from 0900"
    assert shown("0512").words == "serial 0512"
    assert shown("mk1", "roll").words == "mk1, bare platen, or machines with roll"


def test_every_variant_but_one_is_the_others() -> None:
    assert [one.entry for one in shown("not mk1").terms] == [{"kind": "variant", "id": "mk2"}]


def test_what_a_page_cannot_tell_is_never_folded_away() -> None:
    applies = shown("not 0512")
    assert applies.words == "every serial but 0512"
    assert all(term.id == "" and term.kind == "modification" for term in applies.terms)


def test_a_set_of_machines_gets_the_shortest_words() -> None:
    mbook = fp420()
    every = mbook.configurations

    def words(test) -> str | None:  # type: ignore[no-untyped-def]
        found = described([one for one in every if test(one)], every, mbook.record)
        return found.words if found else None

    assert words(lambda one: True) is None
    assert words(lambda one: one.variant == "mk2") == "mk2, heated platen with its own cut-out"
    assert words(lambda one: "roll" in one.modifications) == "machines with roll"
    assert words(lambda one: "roll" not in one.modifications) == "machines without roll"
    assert words(lambda one: one.variant == "mk2" and "roll" in one.modifications) == "mk2 with roll"
    assert words(lambda one: one.serial != "0221") == "every machine but serial 0221"
    without = "machines without roll, but not serial 0221"
    assert words(lambda one: "roll" not in one.modifications and one.serial != "0221") == without


def test_a_variant_with_a_modification_is_said_in_words_alone() -> None:
    mbook = fp420()
    some = [one for one in mbook.configurations if one.variant == "mk2" and "roll" in one.modifications]
    assert described(some, mbook.configurations, mbook.record).terms == ()  # type: ignore[union-attr]


def test_texts_with_places_compare_as_texts() -> None:
    assert Text("mk1") == "mk1"
