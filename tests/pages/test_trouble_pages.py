"""Codes and symptoms on pages: the order of tests as a list and a drawing, what a test needs, where every way ends."""

from __future__ import annotations

from functools import cache
from posixpath import dirname, join, normpath
from typing import Any

import html5lib
import pytest
from tests.pages.library import book, demo, demo_pages, drawn, words

from benchleaf.isolation.policy import Ending
from benchleaf.pages.book import Book
from benchleaf.pages.isolation_values import IsolationView, TestShown
from benchleaf.pages.kinds import code, codes, finder, home, symptoms
from benchleaf.pages.page import Page
from benchleaf.troubles.causes import causes_of
from benchleaf.troubles.problem_of import cases_of, order_of, quality_of

TROUBLES = sorted(
    (str(machine.id), kind, str(id))
    for machine in demo().derived.library.machines.values()
    for kind, ids in (("code", machine.codes), ("symptom", machine.symptoms))
    for id in ids
)
DEAD_ENDS = (Ending.NO_REMEDY.value, Ending.NOT_TOLD_APART.value)
PLANTED_GROUPS = {("fp420", "07"): {"a1-input-dead", "s2-dead"}, ("fp420", "12"): {"a2-short", "h1-short"}}


@cache
def page_of(name: str, kind: str, id: str) -> Page:
    at = Book(demo().derived).machine(name).at
    return demo_pages()[at.code(id) if kind == "code" else at.symptom(id)]


@cache
def tree_of(name: str, kind: str, id: str) -> Any:
    html = drawn(page_of(name, kind, id))
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(html)


def view_of(name: str, kind: str, id: str) -> IsolationView:
    view: IsolationView = page_of(name, kind, id).context["isolation"]
    return view


def by_id(top: Any, id: str) -> Any:
    return next(one for one in top.iter() if one.get("id") == id)


def hrefs(element: Any) -> list[str]:
    return [one.get("href", "") for one in element.iter("a")]


def leads_to(page: Page, href: str) -> str:
    return normpath(join(dirname(page.path), href.partition("#")[0]))


@pytest.mark.parametrize(("name", "kind", "id"), TROUBLES)
def test_every_way_through_the_list_ends_at_a_procedure_or_a_stated_dead_end(name: str, kind: str, id: str) -> None:
    page, view = page_of(name, kind, id), view_of(name, kind, id)
    assert view.cases
    for case in view.cases:
        assert case.places
        met, ahead = set[int](), [1]
        procedures = 0
        while ahead:
            number = ahead.pop()
            if number in met:
                continue
            met.add(number)
            place = case.places[number - 1]
            shown = by_id(tree_of(name, kind, id), place.anchor)
            ahead += [answer.number for answer in place.answers]
            if place.kind == "remedy":
                linked = [leads_to(page, href) for href in hrefs(shown) if not href.startswith("#")]
                ends = [one for one in linked if "/procedure/" in one or "/derived/" in one]
                assert ends and all(one in demo_pages() for one in ends), place.title
                procedures += 1
            elif place.kind == "end":
                assert not place.answers and words(shown), place.title
                assert place.title.startswith(("No fault found", *DEAD_ENDS)), place.title
                if place.checks is None:
                    assert "not recorded" in words(shown)
            else:
                assert place.answers
        assert procedures and met == set(range(1, len(case.places) + 1))


@pytest.mark.parametrize(("name", "kind", "id"), TROUBLES)
def test_list_drawing_and_search_say_the_same(name: str, kind: str, id: str) -> None:
    machine = demo().derived.library.machines[name]
    trouble = machine.codes[id] if kind == "code" else machine.symptoms[id]
    cases = cases_of(demo().derived, machine, trouble)
    view = view_of(name, kind, id)
    assert len(view.cases) == len(cases)
    for shown, case in zip(view.cases, cases, strict=True):
        policy, quality = order_of(demo().derived, case), quality_of(demo().derived, case)
        assert policy is not None and quality is not None
        assert shown.art is not None and shown.problem == ""
        drawn_places = shown.art.svg.count('data-place="')
        possible = {1} | {a.number for p in shown.places for a in p.answers if a.share != "0%"}
        assert drawn_places >= len(possible & {p.number for p in shown.places if p.kind != "end"})
        assert "No order of these tests and remedies takes less." in " ".join(shown.sums)


@pytest.mark.parametrize(("name", "kind", "id"), TROUBLES)
def test_every_remedy_says_what_it_takes_or_that_nobody_recorded_it(name: str, kind: str, id: str) -> None:
    for case in view_of(name, kind, id).cases:
        remedies = [place for place in case.places if place.kind == "remedy"]
        assert remedies and all(place.time for place in remedies)
        for place in remedies:
            replaces = place.title.startswith("Replace ")
            assert place.parts or not replaces, place.title


def every_test() -> list[tuple[Page, TestShown]]:
    return [
        (page_of(*one), test) for one in TROUBLES for case in view_of(*one).cases for test in case.tests
    ]


def test_a_measurement_says_the_setting_both_probes_the_value_its_origin_and_what_a_reading_means() -> None:
    measured = [(page, test) for page, test in every_test() if test.measured]
    assert len(measured) > 8
    for page, test in measured:
        for one in test.measured:
            text = " ".join(one.lines)
            assert text.startswith(("Set the ", "Meter not recorded")), text
            assert "One probe: " in text and "The other: " in text and "Expect " in text
            assert len(one.probes) == 2
            for probe in one.probes:
                assert probe.path is not None and probe.path in demo_pages(), (page.path, probe.words)
            assert one.origin or "not recorded" in text
            at_plugs = [probe for probe in one.probes if "/connector/" in (probe.path or "")]
            assert bool(one.faces) == bool(at_plugs)
        assert test.means.rows


def test_every_test_names_its_state_and_one_behind_covers_its_way_in() -> None:
    inside = 0
    for page, test in every_test():
        assert test.state.startswith(("Power on;", "Dead and proved dead;", "Power not recorded: dead"))
        if test.reach and "covers open" in test.state and "either" not in test.state:
            inside += bool(test.way)
        for line in test.reach:
            assert line.path in demo_pages(), page.path
    assert inside > 5


def test_a_test_behind_covers_shows_the_operations_of_its_access_path() -> None:
    [test] = [one for one in view_of("fp420", "code", "08").cases[0].tests if one.anchor.endswith("look-at-belt")]
    assert set(test.way) == {
        "Remove the 4 M3 × 8 mm pan screws of the left cover",
        "Remove the 6 M3 × 6 mm pan screws of the rear plate",
        "Take the rear plate off: pull back",
        "Take the left cover off: pull left",
    }
    assert test.way.index("Take the rear plate off: pull back") > test.way.index(
        "Remove the 6 M3 × 6 mm pan screws of the rear plate"
    )
    section = by_id(tree_of("fp420", "code", "08"), test.anchor)
    assert "The way in from a closed machine: 4 operations" in words(section)
    assert "belt slips on the pulley" in words(section) and "in 95% of cases" in words(section)


@pytest.mark.parametrize(("name", "id"), sorted(PLANTED_GROUPS))
def test_the_planted_ambiguity_group_is_reported_on_its_page(name: str, id: str) -> None:
    machine = demo().derived.library.machines[name]
    causes = causes_of(machine.codes[id], machine)
    wanted = {str(causes[one].mode) for one in PLANTED_GROUPS[name, id]}
    said = [line for case in view_of(name, "code", id).cases for line in case.quality if "apart: " in line]
    assert any(all(one in line for one in wanted) for line in said)
    text = words(tree_of(name, "code", id))
    assert "No recorded test tells these apart" in text


def test_the_masked_code_says_so_on_its_page_and_in_the_list() -> None:
    view = view_of("fp420", "code", "05")
    masked = [case for case in view.cases if case.masked]
    assert masked and all("can no longer appear" in case.masked[0] for case in masked)
    assert len(masked) < len(view.cases)
    listed = drawn(next(codes.pages(Book(demo().derived))))
    assert "can no longer appear" in listed


def test_no_fault_found_is_an_ending_with_its_own_checks() -> None:
    ends = [place for case in view_of("fp420", "code", "08").cases for place in case.places if place.kind == "end"]
    assert ends
    for place in ends:
        assert place.title.startswith("No fault found") and place.checks
        assert all((line.path or "").partition("#")[0] in demo_pages() for line in place.checks)


@pytest.mark.parametrize(("name", "kind", "id"), TROUBLES)
def test_the_lists_lead_to_what_to_take_along(name: str, kind: str, id: str) -> None:
    listing = next((codes if kind == "code" else symptoms).pages(Book(demo().derived)))
    top = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(drawn(listing))
    wanted = f"{page_of(name, kind, id).path}#order-1-along"
    assert wanted in hrefs(top)
    assert "What to take along" in words(by_id(tree_of(name, kind, id), "order-1-along"))


def test_the_first_page_and_both_lists_lead_to_the_ticks_of_every_machine() -> None:
    book = Book(demo().derived)
    entries = {page.path for page in (page for mbook in book.machines() for page in finder.machine_pages(mbook))}
    assert entries == {f"machine/{name}/finder.html" for name in book.library.machines}
    for page in (home.page(book), next(codes.pages(book)), next(symptoms.pages(book))):
        top = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(drawn(page))
        assert entries <= set(hrefs(top)), page.path


def test_every_code_symptom_and_function_can_be_ticked() -> None:
    book = Book(demo().derived)
    for page, mbook in ((page, one) for one in book.machines() for page in finder.machine_pages(one)):
        ticks = [tick.key for tick in (*page.context["codes"], *page.context["symptoms"])]
        assert ticks == [f"code:{one}" for one in mbook.machine.codes] + [
            f"symptom:{one}" for one in mbook.machine.symptoms
        ]
        on = [group.on for group in page.context["functions"]]
        labels = {label for one in on for label in one.split("; ")}
        assert labels == {one.label for one in demo().derived.configurations(mbook.machine)}
        assert all(group.table.rows for group in page.context["functions"])


def test_an_order_is_never_folded_away_by_a_serial_alone() -> None:
    top = tree_of("fp420", "code", "08")
    orders = [one for one in top.iter("section") if one.get("class") == "order"]
    careful = next(one for one in top.iter("div") if one.get("data-narrow") == "answered" and orders[0] in one.iter())
    assert len(orders) > 1 and all(one in careful.iter() for one in orders)


BARE = {
    "shop.yaml": "record: shop\nname: Shop\n",
    "m/machine.yaml": "record: machine\nid: m\nname: M\nitems: {frame: {name: Frame, held-by: none}, A1: Board}\n",
    "m/codes/e1.md": "---\nrecord: code\ncode: E1\ncauses: {a: {likely: 2}, b: {remedy: replace A1}}\n---\n",
}


def test_what_nobody_recorded_of_a_code_is_said_and_nothing_is_cleared_by_it() -> None:
    bare = book(BARE)
    mbook = bare.machine("m")
    [made] = [page for one in bare.machines() for page in code.machine_pages(one) if page.path == mbook.at.code("E1")]
    text = words(html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(drawn(made, bare)))
    for said in (
        "Which signals this code depends on is not recorded",
        "Isolate: no energy is recorded, everything counts as live",
        "Where it is proved dead is not recorded: it counts as live. Measure.",
        "Dead end: a, no remedy is recorded",
        "What to do when no fault is found: not recorded",
        "the supplies of 'Replace the A1': no author wrote it",
    ):
        assert said in text or said.replace("the A1", "the board (A1)") in text, said
    entry = finder.page(mbook)
    assert "What uses power here is not recorded" in drawn(entry, bare)
    assert "what it means is not recorded" in drawn(entry, bare)


def test_a_machine_without_a_code_or_symptom_still_has_its_page_to_tick() -> None:
    bare = book({name: text for name, text in BARE.items() if "codes" not in name})
    html = drawn(finder.page(bare.machine("m")), bare)
    assert "No code is recorded." in html and "No symptom is recorded." in html
