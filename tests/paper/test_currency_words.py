"""Three words: from the linked facts, and from nothing else."""

from __future__ import annotations

from tests.paper.sheets import demo_subject, made_subject

from benchleaf.currency_words import currency_words, word_list
from benchleaf.paper.sheet import Paper
from benchleaf.paper.title_block import block_of

FILES = {
    "shop.yaml": "record: shop\nname: Shop\n",
    "safety.yaml": (
        "record: safety\nhot: {signal: CAUTION, hazard: The lid is hot., avoid: Measure., consequence: Burns.}\n"
    ),
    "lc/machine.yaml": (
        "record: machine\nid: lc\nname: Plover\nvariants: {mk1: {}, mk2: {}}\n"
        "items: {frame: Frame, lid: {name: Lid, mass: 2 kg, hazards: [hot]}}\n"
    ),
    "lc/teardown/first.yaml": (
        "record: teardown\nid: first\ntitle: First\nmachine: lc\nsteps: [{title: Look, do: [inspect: lid]}]\n"
    ),
    "lc/teardown/open.yaml": (
        "record: teardown\nid: open\ntitle: Open\nmachine: lc\nconditions: [first]\n"
        "steps:\n  - title: Look at it\n    do: [inspect: lid]\n"
    ),
    "lc/teardown/other.yaml": (
        "record: teardown\nid: other\ntitle: Other\nmachine: lc\nsteps: [{title: See, do: [inspect: lid]}]\n"
    ),
}


def words(changed: dict[str, str] | None = None, procedure: str = "open") -> tuple[str, ...]:
    subject = made_subject(FILES | (changed or {}), procedure)
    return currency_words(subject.full, subject.procedure)


def test_the_list_is_long_enough_and_plain() -> None:
    listed = word_list()
    assert len(listed) >= 2048
    assert len(set(listed)) == len(listed)
    assert all(word.isascii() and word.islower() and 3 <= len(word) <= 9 for word in listed)


def test_the_same_records_give_the_same_words() -> None:
    assert words() == words()
    assert len(words()) == 3
    assert set(words()) <= set(word_list())


def test_layout_of_a_record_does_not_count() -> None:
    moved = FILES["lc/teardown/open.yaml"].replace("title: Open\n", "# a comment\n\ntitle: 'Open'\n")
    assert words({"lc/teardown/open.yaml": moved}) == words()


def test_a_changed_step_changes_them() -> None:
    assert words({"lc/teardown/open.yaml": FILES["lc/teardown/open.yaml"].replace("at it", "at that")}) != words()


def test_a_changed_shared_message_changes_them() -> None:
    assert words({"safety.yaml": FILES["safety.yaml"].replace("Measure.", "Measure first.")}) != words()


def test_a_changed_required_procedure_changes_them() -> None:
    assert words({"lc/teardown/first.yaml": FILES["lc/teardown/first.yaml"].replace("Look", "Listen")}) != words()


def test_a_procedure_that_is_not_required_does_not_count() -> None:
    assert words({"lc/teardown/other.yaml": FILES["lc/teardown/other.yaml"].replace("See", "Feel")}) == words()


def test_a_fact_of_the_machine_changes_them() -> None:
    assert words({"lc/machine.yaml": FILES["lc/machine.yaml"].replace("2 kg", "3 kg")}) != words()


def test_two_procedures_differ() -> None:
    assert words() != words(procedure="other")


def test_neither_paper_nor_variant_counts() -> None:
    def printed(paper: Paper, **narrow: str) -> str:
        return str(block_of(demo_subject("fp420", "make-dead", **narrow), "Procedure", paper).data["words"])

    assert printed("a4") == printed("us-letter") == printed("a4", variant="mk1") == printed("a4", serial="0512")
