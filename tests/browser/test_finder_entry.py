"""What is wrong with it: ticks lead to orders of tests; what is dead leads to what it shares, as in Python."""

from __future__ import annotations

from pathlib import Path
from random import Random
from typing import Any

import pytest
from playwright.sync_api import Page
from tests.browser.conftest import violations
from tests.browser.finder_site import lay_entries
from tests.troubles.demo import derived, machine

from benchleaf.access.ways import ways_of
from benchleaf.troubles.common_path import common_path
from benchleaf.troubles.supply_chain import Supplies, split_words, supplies_of
from benchleaf.troubles.supply_table import supply_tables

MACHINES = sorted(str(one) for one in derived().library.machines)
ASK = """([name, number, asked]) => asked.map(([dead, working]) => {
  const supplies = globalThis.benchleafSupplies;
  const table = supplies.tables(name)[number];
  const found = supplies.commonPath(table, dead, working);
  return {
    suspects: found.suspects.map((link) => [link[0], link[1]]),
    split: found.split ? supplies.splitWords(table, found.split) : [],
    untold: found.untold,
  };
})"""


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("entries")
    lay_entries(folder)
    return folder


def opened(page: Page, site: Path, name: str, address: str = "") -> Page:
    page.goto((site / f"machine/{name}/finder.html").as_uri() + address)
    return page


def sayings(supplies: Supplies, random: Random) -> list[tuple[list[str], list[str]]]:
    """Every pair of dead functions with nothing said to work and with every one other working; and some by chance."""
    items = supplies.functions
    found = [([one], list[str]()) for one in items]
    for one in items:
        for other in items:
            if one != other:
                found.append(([one, other], []))
                found += [([one, other], [third]) for third in items if third not in (one, other)]
    for _ in range(200):
        mixed = random.sample(items, len(items))
        dead = random.randrange(1, len(items))
        found.append((mixed[:dead], mixed[dead : dead + random.randrange(0, len(items) - dead + 1)]))
    return found


@pytest.mark.parametrize("name", MACHINES)
def test_the_page_finds_the_same_shared_path_and_the_same_place_to_measure_as_python(
    page: Page, site: Path, name: str
) -> None:
    opened(page, site, name)
    for number, (_, on, _) in enumerate(supply_tables(derived(), machine(name))):
        for configuration in on:
            supplies = supplies_of(ways_of(derived(), machine(name), configuration))
            chains = {one: supplies.chain(one) for one in supplies.functions}
            asked = sayings(supplies, Random(f"{name} {number}"))
            said: list[dict[str, Any]] = page.evaluate(ASK, [f"{name}/supplies", number, asked])
            halved = 0
            for (dead, working), one in zip(asked, said, strict=True):
                expected = common_path(chains, dead, working)
                where = (configuration.label, dead, working)
                assert one["suspects"] == [[link.id, supplies.words(link.id)] for link in expected.suspects], where
                words = split_words(supplies, expected.split) if expected.split is not None else ()
                assert one["split"] == list(words), where
                assert one["untold"] == list(expected.untold), where
                halved += expected.split is not None
            assert halved > 20


def test_ticked_dead_and_working_functions_show_what_is_left_and_stand_in_the_address(page: Page, site: Path) -> None:
    opened(page, site, "fp420")
    section = page.locator("[data-functions='0']")
    section.get_by_role("group", name="M1 (Carriage motor)").get_by_text("dead").click()
    section.get_by_role("group", name="M2 (Feed motor)").get_by_text("dead").click()
    links = section.locator("[data-suspects] li")
    page.wait_for_function("location.hash.includes('M1') && location.hash.includes('M2')")
    at_once = "all => all.map((one) => one.dataset.link)"  # the list may be written anew while it is read
    assert "source:mains" in links.evaluate_all(at_once)
    section.get_by_role("group", name="M3 (Fan)").get_by_text("works").click()
    page.wait_for_function("document.querySelectorAll('[data-functions=\"0\"] [data-suspects] li').length === 1")
    assert links.first.get_attribute("data-link") == "driver:A1:motor drivers"
    address = page.url.partition("#")[2]
    opened(page, site, "bc300")
    opened(page, site, "fp420", f"#{address}")
    assert page.locator("[data-functions='0'] [data-suspects] li").count() == 1


def test_nothing_shared_is_said_and_clears_nothing(page: Page, site: Path) -> None:
    opened(page, site, "fp420", "#dead=0:M1&works=0:M2&works=0:M1")
    opened(page, site, "fp420", "#dead=0:M3&dead=0:M2&works=0:M1&works=0:A4")
    told = page.locator("[data-functions='0'] [data-functions-result]")
    assert "Nothing recorded is shared" in told.inner_text() and "Nothing is cleared" in told.inner_text()


def test_what_is_ticked_leads_to_codes_first_and_says_what_could_be_behind_all_of_it(page: Page, site: Path) -> None:
    opened(page, site, "fp420")
    page.get_by_label("Beeps and will not feed").check()
    page.get_by_label("08 FEED").check()
    begin = page.locator("[data-entry-begin]")
    begin.get_by_role("heading", name="Begin here").wait_for()
    page.wait_for_function("document.querySelectorAll('[data-entry-begin] li').length === 2")
    links = begin.get_by_role("link")
    assert [one.inner_text() for one in links.all()] == ["code 08 FEED", "Beeps and will not feed"]
    assert links.first.get_attribute("href") == "code/08.html#order-of-tests"
    shared = begin.locator("[data-entry-shared]").get_attribute("data-entry-shared") or ""
    code = machine("fp420").codes["08"]
    assert set(shared.split()) == set(code.causes)
    page.get_by_label("12 HEAD").check()
    begin.get_by_text("No recorded cause is behind all of it").wait_for()


def test_without_script_every_code_and_symptom_leads_on_and_the_table_is_open(browser: Any, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "machine/fp420/finder.html").as_uri())
    one = machine("fp420")
    assert page.locator("[data-tick] a:visible").count() == len(one.codes) + len(one.symptoms)
    assert page.locator("input:visible").count() == 0
    assert page.get_by_text("Ticking needs script").is_visible()
    assert page.locator("[data-functions='0'] table").is_visible()
    context.close()


@pytest.mark.parametrize("width", [390, 820, 1400])
def test_the_ticks_fit_every_width_and_are_accessible(page: Page, site: Path, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    opened(page, site, "fp420", "#seen=code:08&dead=0:M2&dead=0:M1&works=0:M3")
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert violations(page) == []
    page.emulate_media(color_scheme="dark")
    assert violations(page) == []
