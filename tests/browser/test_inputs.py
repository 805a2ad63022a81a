"""How many inputs it takes from the customer's sentence to the torque of the first screw: every press and click counts.

The sentence is typed on the first page and the likeliest answer is given to every test. The remedy says the torque of
the first screw taken out on the way; where none was, its procedure is opened. Typing a sentence is one input.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page
from tests.browser.site import lay_site
from tests.troubles.demo import derived, machine

from benchleaf.isolation.policy import RepairNode, TestNode
from benchleaf.pipeline import compile_site
from benchleaf.troubles.problem_of import cases_of, order_of

CONTENT = Path(__file__).parents[2] / "content"
MOST = 6
SENTENCES = [
    (str(one.id), str(symptom.id), str(symptom.heard_as[0]))
    for one in derived().library.machines.values()
    for symptom in one.symptoms.values()
]
NO_SCREW = {"belt-creeps", "oven-dead"}
"""Symptoms whose likeliest remedy touches no screw: an adjuster sets the belt, the breaker is an electrician's."""


@dataclass
class Hand:
    """Somebody at the page, counted."""

    page: Page
    inputs: list[str] = field(default_factory=list)

    def type(self, field: Locator, words: str) -> None:
        self.inputs.append(f"type “{words}”")
        field.fill(words)

    def press(self, what: Locator, words: str) -> None:
        self.inputs.append(f"press {words}")
        what.click()


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("inputs")
    lay_site(folder, compile_site(CONTENT))
    return folder


def likeliest(name: str, id: str) -> list[str]:
    """The outcomes on the way with the likeliest answer to every test, down to the first remedy."""
    case = cases_of(derived(), machine(name), machine(name).symptoms[id])[0]
    policy = order_of(derived(), case)
    assert policy is not None
    node, told = policy.root, list[str]()
    while isinstance(node, TestNode):
        answer = max(node.answers, key=lambda one: one.probability)
        told.append(answer.outcome)
        node = answer.then
    assert isinstance(node, RepairNode)
    return told


@pytest.mark.parametrize(("name", "id", "sentence"), SENTENCES, ids=lambda one: str(one))
def test_from_the_customers_sentence_to_the_torque_of_the_first_screw_in_at_most_six_inputs(
    page: Page, site: Path, name: str, id: str, sentence: str
) -> None:
    hand = Hand(page)
    page.goto((site / "index.html").as_uri())
    hand.type(page.get_by_label("Code, part number, contact or words"), sentence)
    hit = page.locator(f".search-results a[href*='machine/{name}/symptom/{id}.html']").first
    hit.wait_for()
    hand.press(hit, "the symptom")
    finder = page.locator("[data-finder][data-case='0']")
    finder.locator("button").first.wait_for()
    if not finder.locator("[data-finder-next]").count():
        hand.press(finder.get_by_role("button", name="Begin"), "Begin")
    opened = list[str]()
    for outcome in likeliest(name, id):
        card = finder.locator("[data-finder-next][data-kind='test']")
        card.wait_for()
        opened += card.locator("[data-doing='open']").all_inner_texts()
        hand.press(card.locator(f"button[data-outcome='{outcome}']"), outcome)
    remedy = finder.locator("[data-finder-next][data-kind='remedy']")
    remedy.wait_for()
    opened += remedy.locator("[data-doing='open']").all_inner_texts()
    first = next((found[0] for line in opened if (found := re.findall(r"screws? of .*(?= \()", line))), None)
    closing = remedy.locator("[data-doing='close']", has_text="Torque:")
    if first is None or not closing.filter(has_text=first).count():
        hand.press(remedy.locator(".finder-do").get_by_role("link").first, "the procedure")
        page.wait_for_url(lambda url: "/symptom/" not in url)
        shown = page.locator("main .torque").first.is_visible()
        assert shown == (id not in NO_SCREW), (page.url, hand.inputs)
    assert len(hand.inputs) <= MOST, hand.inputs
