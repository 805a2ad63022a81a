"""Causes joined in from the codes a symptom sends to: one rule for the order of tests and for the page."""

from __future__ import annotations

import pytest
from tests.troubles.demo import derived, derived_from

from benchleaf.pages.book import Book
from benchleaf.pages.trouble import trouble_context
from benchleaf.troubles.causes import causes_of
from benchleaf.troubles.problem_of import cases_of

FILES = {
    "shop.yaml": "record: shop\nname: Shop\n",
    "m/machine.yaml": "record: machine\nid: m\nname: M\nitems: {frame: {name: Frame, held-by: none}, A1: Board}\n",
    "m/codes/e1.md": "---\nrecord: code\ncode: E1\ncauses: {both: {likely: 2, mode: as E1 has it}, own: {}}\n---\n",
    "m/codes/e2.md": "---\nrecord: code\ncode: E2\ncauses: {both: {likely: 9, mode: as E2 has it}, own: {}}\n---\n",
    "m/symptoms/dead.md": "---\nrecord: symptom\nid: dead\nsee: [E2, E1]\ncauses: {own: {mode: mine}}\n---\n",
}


def test_a_cause_recorded_twice_counts_as_the_symptom_has_it_else_as_the_code_named_first() -> None:
    machine = derived_from(FILES).library.machines["m"]
    found = causes_of(machine.symptoms["dead"], machine)
    assert {id: str(cause.mode) for id, cause in found.items()} == {"own": "mine", "both": "as E2 has it"}


def test_the_page_and_the_order_of_tests_mean_the_same_causes() -> None:
    made = derived_from(FILES)
    machine = made.library.machines["m"]
    [case] = cases_of(made, machine, machine.symptoms["dead"])
    context = trouble_context(Book(made).machine("m"), machine.symptoms["dead"])
    assert {row.anchor: row.cells[0] for row in context["causes"].rows} == {
        f"cause-{id}": str(cause.mode) for id, cause in case.causes.items()
    }
    assert case.weights == {"own": 1.0, "both": 9.0}


@pytest.mark.parametrize("name", sorted(derived().library.machines))
def test_every_cause_of_the_demo_is_on_the_page_of_its_trouble(name: str) -> None:
    mbook = Book(derived()).machine(name)
    for trouble in (*mbook.machine.codes.values(), *mbook.machine.symptoms.values()):
        shown = {row.anchor for row in trouble_context(mbook, trouble)["causes"].rows}
        assert shown == {f"cause-{id}" for id in causes_of(trouble, mbook.machine)}
