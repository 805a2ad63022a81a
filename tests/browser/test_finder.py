"""The finder in the page says what Python says: for every path of the demo's trees, for skipped tests, answers in any
order and answers that fit nothing. It works from the disk, keeps its state in the address, and prints."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any
from urllib.parse import urlencode

import pytest
from playwright.sync_api import Page
from tests.browser.conftest import violations
from tests.browser.finder_site import lay_finder
from tests.troubles.demo import derived, machine, trouble

from benchleaf.isolation.decisions import Decisions, Moment, weights_of
from benchleaf.isolation.policy import Leaf, Node, RepairNode, TestNode
from benchleaf.isolation.table import bits
from benchleaf.isolation.test_order import NOT_FIXED, next_best, posterior
from benchleaf.troubles.problem_of import Case, cases_of, order_of

Answers = list[tuple[str, str, str]]  # (t test outcome | x test "" | n remedy "")
ASK = """async (addresses) => {
  const said = [];
  for (const address of addresses) {
    const changed = new Promise((done) => window.addEventListener('hashchange', done, { once: true }));
    location.hash = '#begin';
    await changed;
    const again = new Promise((done) => window.addEventListener('hashchange', done, { once: true }));
    location.hash = address;
    await again;
    for (let n = 0; n < 200 && !document.querySelector('[data-finder-next]'); n += 1) {
      await new Promise((done) => setTimeout(done, 10));
    }
    const next = document.querySelector('[data-finder-next]');
    const left = Array.from(document.querySelectorAll('[data-finder-left] li'));
    said.push({
      kind: next.dataset.kind,
      id: next.dataset.id || '',
      title: next.querySelector('h4').textContent,
      shares: Object.fromEntries(left.map((one) => [one.dataset.cause, Number(one.dataset.share)])),
    });
  }
  return said;
}"""
DRAWN = "() => document.querySelectorAll('.art svg text, .diagram svg text').forEach((one) => one.remove())"
"""Letters over lines, whose ground axe cannot judge; drawings have tests of their own."""
EVERY = sorted(
    (str(one.id), str(id)) for one in derived().library.machines.values() for id in (*one.codes, *one.symptoms)
)


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[tuple[str, str], str]]:
    folder = tmp_path_factory.mktemp("finder")
    return folder, lay_finder(folder)


def opened(page: Page, site: tuple[Path, dict[tuple[str, str], str]], name: str, id: str, address: str = "") -> Page:
    folder, paths = site
    page.goto((folder / paths[name, id]).as_uri() + address)
    return page


def cases(name: str, id: str) -> tuple[Case, ...]:
    return cases_of(derived(), machine(name), trouble(name, id))


def address(case: int, answers: Answers) -> str:
    pairs = [("find", str(case))]
    for kind, what, outcome in answers:
        pairs.append((kind, f"{what}:{outcome}" if kind == "t" else what))
    return "#" + urlencode(pairs)


def in_python(answers: Answers) -> tuple[list[tuple[str, str]], list[str]]:
    given = [(what, outcome if kind == "t" else NOT_FIXED) for kind, what, outcome in answers if kind != "x"]
    return given, [what for kind, what, _ in answers if kind == "x"]


def asked(page: Page, case: int, every: list[Answers]) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = page.evaluate(ASK, [address(case, answers) for answers in every])
    return found


def paths(node: Node | None, before: Answers) -> Iterator[tuple[Answers, Node | None]]:
    """Every way from the start of a tree to every place in it."""
    yield before, node
    if isinstance(node, TestNode):
        for answer in node.answers:
            yield from paths(answer.then, [*before, ("t", node.test, answer.outcome)])
    elif isinstance(node, RepairNode):
        yield from paths(node.if_not_fixed, [*before, ("n", node.remedy, "")])


@pytest.mark.parametrize(("name", "id"), EVERY, ids=lambda one: str(one))
def test_the_finder_walks_every_path_of_the_tree_and_shows_the_same_probabilities(
    page: Page, site: tuple[Path, dict[tuple[str, str], str]], name: str, id: str
) -> None:
    opened(page, site, name, id)
    for number, case in enumerate(cases(name, id)):
        policy = order_of(derived(), case)
        assert policy is not None
        ways = list(paths(policy.root, []))
        for (answers, node), said in zip(ways, asked(page, number, [way for way, _ in ways]), strict=True):
            where = (case.on, answers)
            if node is None:
                assert (said["kind"], said["shares"]) == ("dealt", {}), where
                continue
            assert not isinstance(node, Leaf) or not node.causes or said["kind"] == "stuck", where
            if isinstance(node, TestNode):
                assert (said["kind"], said["id"]) == ("test", node.test), where
            elif isinstance(node, RepairNode):
                assert (said["kind"], said["id"]) == ("remedy", node.remedy), where
            assert said["shares"] == pytest.approx(dict(node.causes), abs=1e-12), where


def moments(made: Decisions, random: Random, many: int) -> Iterator[tuple[Answers, Moment]]:
    """Interviews in any order: answers, tests that cannot be done, remedies that did not help."""
    table = made.table
    for _ in range(many):
        moment, answers = made.start(), Answers()
        for _ in range(random.randrange(1, 6)):
            telling = made.telling(moment)
            kind = random.random()
            if telling and kind < 0.3:
                test = random.choice(telling)
                moment = made.without_test(moment, test)
                answers.append(("x", table.tests[test], ""))
            elif telling and kind < 0.8:
                test = random.choice(telling)
                outcome = random.randrange(len(table.outcomes[test]))
                moment = made.after_test(moment, test, outcome)
                answers.append(("t", table.tests[test], table.outcomes[test][outcome].name))
            else:
                useful = [r for r in range(len(table.remedies)) if table.fixes[r] & moment.causes]
                if useful:
                    remedy = random.choice(useful)
                    moment = made.after_remedy(moment, remedy)
                    answers.append(("n", table.remedies[remedy], ""))
            if not moment.causes:
                break
        yield answers, moment


@pytest.mark.parametrize(("name", "id"), EVERY, ids=lambda one: str(one))
def test_answers_in_any_order_and_tests_that_cannot_be_done_are_followed_as_in_python(
    page: Page, site: tuple[Path, dict[tuple[str, str], str]], name: str, id: str
) -> None:
    opened(page, site, name, id)
    for number, case in enumerate(cases(name, id)):
        assert case.problem is not None
        made = Decisions(case.problem)
        in_table, _ = made.gather()
        every = list(moments(made, Random(f"{name} {id}"), 25))
        for (answers, moment), said in zip(every, asked(page, number, [a for a, _ in every]), strict=True):
            where = (case.on, answers)
            given, barred = in_python(answers)
            after = posterior(case.problem, given)
            assert said["shares"] == pytest.approx(dict(after.causes), abs=1e-12), where
            assert after.fits == bool(moment.causes), where
            if not moment.causes:
                assert said["kind"] in ("unfit", "dealt"), where
                continue
            told = in_table.get(moment) or made.by_rule(moment)
            names = {"test": made.table.tests, "remedy": made.table.remedies, "none": ("",)}[told.kind]
            assert (said["kind"], said["id"]) == ({"none": "stuck"}.get(told.kind, told.kind), names[told.place]), where
            if moment in in_table:
                assert told.expected == pytest.approx(next_best(case.problem, given, barred).expected), where


def test_answers_that_contradict_each_other_fit_no_recorded_cause_and_say_what_to_check(
    page: Page, site: tuple[Path, dict[tuple[str, str], str]]
) -> None:
    opened(page, site, "fp420", "08", address(0, [("t", "turn-roller", "heavy"), ("t", "winding", "open")]))
    card = page.locator("[data-finder-next]")
    card.get_by_role("heading", name="These answers fit no recorded cause").wait_for()
    assert "Feed length" in card.inner_text()
    page.get_by_role("button", name="Take back").last.click()
    page.locator("[data-finder-next][data-kind='remedy']").wait_for()


def test_an_outcome_no_recorded_cause_gives_fits_none(
    page: Page, site: tuple[Path, dict[tuple[str, str], str]]
) -> None:
    shadow = [("t", "turn-roller", "counts"), ("t", "look-at-belt", "shadow")]
    opened(page, site, "fp420", "08", address(0, [(k, w, o) for k, w, o in shadow]))
    page.get_by_role("heading", name="These answers fit no recorded cause").wait_for()


def test_a_click_goes_on_from_the_sentence_to_the_cure_and_back_takes_an_answer_back(
    page: Page, site: tuple[Path, dict[tuple[str, str], str]]
) -> None:
    opened(page, site, "fp420", "08")
    page.get_by_role("button", name="Begin").first.click()
    card = page.locator("[data-finder-next]")
    card.get_by_role("button", name="counts").click()
    card.get_by_role("heading", name="Press the belt").wait_for()
    assert page.evaluate("document.activeElement.tagName") == "H4"
    assert "Prove dead" in card.inner_text() and "Remove the 4 M3 × 8 mm pan screws" in card.inner_text()
    card.get_by_role("button", name="slack").click()
    card.get_by_role("button", name="It runs").click()
    card.get_by_role("heading", name="It runs after: Set the tension of the feed belt").wait_for()
    page.go_back()
    card.get_by_role("button", name="It runs").wait_for()
    page.go_back()
    card.get_by_role("button", name="slack").wait_for()


def test_the_address_alone_brings_the_answers_back(page: Page, site: tuple[Path, dict[tuple[str, str], str]]) -> None:
    opened(page, site, "fp420", "08", address(0, [("t", "turn-roller", "counts")]))
    page.locator("[data-finder-next]").get_by_role("heading", name="Press the belt").wait_for()
    said = page.get_by_role("link", name="link to them").get_attribute("href")
    assert said == address(0, [("t", "turn-roller", "counts")])


def test_a_link_to_how_a_test_is_done_leaves_the_interview_as_it_stands(
    page: Page, site: tuple[Path, dict[tuple[str, str], str]]
) -> None:
    opened(page, site, "fp420", "08", address(0, [("t", "turn-roller", "counts")]))
    card = page.locator("[data-finder-next]")
    card.get_by_role("link", name="how it is done").click()
    page.wait_for_url("**#order-1-test-look-at-belt")
    page.wait_for_timeout(50)
    card.get_by_role("heading", name="Press the belt").wait_for()
    page.go_back()
    card.get_by_role("button", name="slack").click()
    card.get_by_role("heading", name="Set the tension").wait_for()


def test_where_all_machines_are_alike_the_first_test_is_shown_at_once(
    page: Page, site: tuple[Path, dict[tuple[str, str], str]]
) -> None:
    assert len(cases("bc300", "E2")) == 1 and len(cases("fp420", "08")) > 1
    opened(page, site, "bc300", "E2").locator("[data-finder-next] h4").wait_for()
    opened(page, site, "fp420", "08").get_by_role("button", name="Begin").first.wait_for()
    assert page.locator("[data-finder-next]").count() == 0


def test_where_the_machine_was_said_its_first_test_is_shown_at_once(
    page: Page, site: tuple[Path, dict[tuple[str, str], str]]
) -> None:
    assert len(cases("bc300", "E3")) == 2
    opened(page, site, "bc300", "E3")
    assert page.locator("[data-finder-next]").count() == 0
    page.locator(".chooser summary").click()
    page.locator("fieldset[data-question='variant'] input[value='two-bank']").check()
    page.locator("[data-finder-next] h4").wait_for()
    assert page.locator("section.order:visible").count() == 1
    assert page.locator("[data-finder-next]").count() == 1


def test_another_test_is_answered_out_of_order_and_its_list_stays_open(
    page: Page, site: tuple[Path, dict[tuple[str, str], str]]
) -> None:
    opened(page, site, "fp420", "08", address(0, []))
    page.get_by_text("I know the answer to another test").click()
    page.locator(".finder-other[data-test='look-at-belt']").get_by_role("button", name="good").click()
    assert page.url.endswith(address(0, [("t", "look-at-belt", "good")]))
    page.locator(".finder-other").first.wait_for()
    page.locator(".finder-other").first.get_by_role("button", name="This test cannot be done").click()
    page.get_by_text("cannot be done.").wait_for()


def test_an_answer_of_another_issue_is_left_out_and_said(
    page: Page, site: tuple[Path, dict[tuple[str, str], str]]
) -> None:
    opened(page, site, "fp420", "08", address(0, [("t", "turn-roller", "sings"), ("x", "no-such-test", "")]))
    page.get_by_text("2 answers in this address are not known here").wait_for()
    page.locator("[data-finder-next]").get_by_role("heading", name="Turn the feed roller").wait_for()


def test_a_powered_test_in_an_open_machine_warns_in_the_finder_too(
    page: Page, site: tuple[Path, dict[tuple[str, str], str]]
) -> None:
    opened(page, site, "fp420", "07", address(0, []))
    page.locator("[data-finder-next]").wait_for()
    for number, case in enumerate(cases("fp420", "07")):
        policy = order_of(derived(), case)
        assert policy is not None
        for answers, node in paths(policy.root, []):
            if isinstance(node, TestNode) and node.live_behind:
                page.goto(page.url.split("#")[0] + address(number, answers))
                page.get_by_text("The machine is live while it is open here").first.wait_for()


def test_without_script_the_list_serves_and_nothing_of_the_finder_is_seen(
    browser: Any, site: tuple[Path, dict[tuple[str, str], str]]
) -> None:
    folder, where = site
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((folder / where["fp420", "08"]).as_uri())
    assert not page.locator("[data-finder]").first.is_visible()
    assert page.get_by_text("The finder needs script").first.is_visible()
    places = page.locator("#order-1 .order-place")
    assert places.count() > 5 and places.first.is_visible()
    places.first.get_by_role("link", name="go to 2").click()
    assert page.url.endswith("#order-1-2")
    context.close()


def test_the_list_and_the_finder_are_accessible_in_light_and_dark(
    page: Page, site: tuple[Path, dict[tuple[str, str], str]]
) -> None:
    opened(page, site, "fp420", "08", address(0, [("t", "turn-roller", "counts")]))
    page.locator("[data-finder-next]").wait_for()
    page.evaluate(DRAWN)
    assert violations(page) == []
    page.emulate_media(color_scheme="dark")
    assert violations(page) == []


def test_paper_shows_the_answers_and_no_buttons(page: Page, site: tuple[Path, dict[tuple[str, str], str]]) -> None:
    opened(page, site, "fp420", "08", address(0, [("t", "turn-roller", "counts")]))
    page.locator("[data-finder-next]").wait_for()
    page.emulate_media(media="print")
    assert page.get_by_text("watch the film counter on the display: counts.").is_visible()
    assert not page.get_by_role("button", name="slack").first.is_visible()
    assert not page.get_by_role("button", name="Take back").is_visible()


def test_a_weight_shown_is_that_of_the_decision(page: Page, site: tuple[Path, dict[tuple[str, str], str]]) -> None:
    case = cases("fp420", "11")[0]
    assert case.problem is not None
    made = Decisions(case.problem)
    said = asked(opened(page, site, "fp420", "11"), 0, [[]])[0]
    assert said["shares"] == pytest.approx(weights_of(made.table, made.start()))
    assert len(said["shares"]) == len(list(bits(made.table.everything)))
