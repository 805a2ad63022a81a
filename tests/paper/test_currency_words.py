"""Three words: from the linked facts, and from nothing else."""

from __future__ import annotations

import pytest
from tests.paper.sheets import demo, demo_book, demo_pdf, demo_subject, made_subject, pages_of

from benchleaf.currency_words import currency_of, currency_words, word_list
from benchleaf.pages.book import Book
from benchleaf.pages.kinds import bench, procedure
from benchleaf.pages.page import Frame
from benchleaf.paper.sheet import Paper
from benchleaf.paper.title_block import block_of
from benchleaf.render import make_environment, render_page

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


DEMO = [(str(machine.id), str(one.id)) for machine, one in demo().derived.library.procedures()]


def shown_on(page: object) -> str:
    return render_page(page, make_environment(Frame(name="Shop"))).decode()  # type: ignore[arg-type]


@pytest.mark.parametrize(("machine", "name"), DEMO)
def test_print_page_and_bench_view_of_a_procedure_show_the_same_words_and_dates(machine: str, name: str) -> None:
    printed = block_of(demo_subject(machine, name), "Procedure", "a4").data
    mbook = demo_book().machine(machine)
    record = mbook.machine.procedures[name]
    dates = currency_of(mbook, record).dates
    assert len(printed["words"].split()) == 3
    assert printed["words-mean"].endswith(f"{dates}.")
    for page in (procedure.page(mbook, record), bench.page(mbook, record)):
        html = shown_on(page)
        assert f"<strong>{printed['words']}</strong>" in html
        assert f"same records as this copy of the site; with other words it was not. {dates}." in html


def test_no_two_procedures_of_the_demo_share_their_words() -> None:
    found = [block_of(demo_subject(*one), "Procedure", "a4").data["words"] for one in DEMO]
    assert len(set(found)) == len(found) == 29


def test_every_sheet_of_a_print_carries_words_and_dates() -> None:
    mbook = demo_book().machine("fp420")
    found = currency_of(mbook, mbook.machine.procedures["draw-tray"])
    pages = pages_of(demo_pdf("fp420", "draw-tray"))
    assert len(pages) > 1
    assert all(found.words in page and found.dates in page for page in pages)


def dates(changed: dict[str, str]) -> str:
    subject = made_subject(FILES | changed, "open")
    return currency_of(subject.full, subject.procedure).dates


def test_dates_come_from_the_issue_and_the_newest_linked_fact() -> None:
    assert dates({}) == "Date of the issue not recorded, no date in the records"
    first = FILES["lc/teardown/first.yaml"].replace("steps:", "issue: {number: 1, date: 2026-05-04}\nsteps:")
    mass = "mass: [{value: 2 kg, origin: measured, date: 2026-05-20}]"
    machine = FILES["lc/machine.yaml"].replace("mass: 2 kg", mass)
    issued = FILES["lc/teardown/open.yaml"].replace("steps:", "issue: {number: 2, date: 2026-03-02}\nsteps:")
    assert dates({"lc/teardown/open.yaml": issued}) == "Issue of 2026-03-02, records up to 2026-03-02"
    both = {"lc/teardown/open.yaml": issued, "lc/teardown/first.yaml": first}
    assert dates(both) == "Issue of 2026-03-02, records up to 2026-05-04"
    assert dates({**both, "lc/machine.yaml": machine}) == "Issue of 2026-03-02, records up to 2026-05-20"
    other = FILES["lc/teardown/other.yaml"].replace("steps:", "issue: {number: 9, date: 2026-09-09}\nsteps:")
    assert dates({**both, "lc/teardown/other.yaml": other}) == dates(both)


def test_a_date_that_is_no_date_does_not_count() -> None:
    first = FILES["lc/teardown/first.yaml"].replace("steps:", "verified: {state: at the table, date: Tuesday}\nsteps:")
    assert dates({"lc/teardown/first.yaml": first}).endswith("no date in the records")


def test_the_words_of_a_code_a_step_leads_to_change_them() -> None:
    leads = FILES["lc/teardown/open.yaml"] + "    expect: nothing\n    else: code E1\n"
    code = "---\nrecord: code\nmachine: lc\ncode: E1\nmeans: Lid open\n---\n"
    files = {"lc/teardown/open.yaml": leads, "lc/codes/e1.md": code}
    assert words(files) != words({**files, "lc/codes/e1.md": code.replace("Lid open", "Lid ajar")})
    assert words({"lc/codes/e1.md": code}) == words()


def test_the_order_of_asking_makes_no_difference() -> None:
    book = Book(demo().derived)
    mbook = book.machine("fp420")
    late = [currency_words(mbook, mbook.machine.procedures[name]) for name in ("draw-tray", "make-dead")]
    again = Book(demo().derived).machine("fp420")
    early = [currency_words(again, again.machine.procedures[name]) for name in ("make-dead", "draw-tray")]
    assert late == early[::-1]
