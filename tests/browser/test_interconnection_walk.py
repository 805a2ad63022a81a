"""The demo's interconnection page walked by keyboard alone, and by fingers alone, as it is written to the site."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from tests.pages.library import demo

from benchleaf.pages.book import Book
from benchleaf.pages.kinds import interconnection, plugs
from benchleaf.render import THEME_FOLDER, make_environment, render_page
from benchleaf.site import drawn, frame_of


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("walk")
    book = Book(demo().derived, drawn)
    machine = book.machine("fp420")
    env = make_environment(frame_of(book))
    for page in (interconnection.page(machine), plugs.page(machine, machine.machine.procedures["draw-tray"])):
        place = made / page.path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(render_page(page, env))
    for name in ("css", "js", "img"):
        shutil.copytree(Path(THEME_FOLDER) / name, made / name, dirs_exist_ok=True)
    return made


@pytest.fixture
def finger(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 390, "height": 800}, has_touch=True, is_mobile=True)
    yield context.new_page()
    context.close()


def seen(page: Page) -> list[float]:
    return [float(n) for n in (page.locator("[data-diagram-view] svg").first.get_attribute("viewBox") or "").split()]


def tab_to(page: Page, what: str) -> None:
    """Press Tab until the focus is there; a walk that never comes there fails."""
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("(what) => document.activeElement.matches(what)", what):
            return
    raise AssertionError(f"Tab never comes to {what}")


def test_by_keyboard_alone_from_the_top_of_the_page_to_the_last_cable_of_a_net_and_out_again(
    page: Page, folder: Path
) -> None:
    page.goto((folder / "machine/fp420/interconnection.html").as_uri())
    tab_to(page, ".diagram-keys button")
    page.keyboard.press("Enter")
    near = seen(page)
    tab_to(page, "select")
    page.keyboard.press("ArrowDown")
    status = page.locator(".diagram-says").first
    expect(status).to_contain_text("Contacts")
    cables = page.locator(".diagram-cable.followed")
    assert cables.count() >= 1
    tab_to(page, ".diagram-keys button")
    page.keyboard.press("Enter")
    expect(status).to_contain_text(f"1 of {cables.count()}")
    walked = {page.evaluate("() => document.activeElement.dataset.cable")}
    for _ in range(cables.count() - 1):
        page.keyboard.press("n")
        walked.add(page.evaluate("() => document.activeElement.dataset.cable"))
    assert walked == set(cables.evaluate_all("all => all.map((one) => one.dataset.cable)"))
    page.keyboard.press("Escape")
    assert page.evaluate("() => document.activeElement.matches('[data-diagram-view]')")
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("0")
    assert seen(page)[2] > near[2]
    tab_to(page, ".diagram-more summary")
    page.keyboard.press("Enter")
    expect(page.locator(".diagram-nets").first).to_be_visible()
    tab_to(page, ".map-table summary")
    page.keyboard.press("Enter")
    expect(page.locator(".map-table table").first).to_be_visible()


def test_by_fingers_alone_a_cable_is_followed_zoomed_and_left(finger: Page, folder: Path) -> None:
    finger.goto((folder / "machine/fp420/interconnection.html").as_uri())
    finger.get_by_role("button", name="Whole drawing").first.tap()
    whole = seen(finger)
    finger.get_by_role("button", name="Zoom in").first.tap()
    assert seen(finger)[2] < whole[2]
    net = finger.get_by_label("Follow").first.locator("option").nth(1).get_attribute("value")
    finger.get_by_label("Follow").first.select_option(net)
    finger.get_by_role("button", name="Next cable").first.tap()
    status = finger.locator(".diagram-says").first
    expect(status).to_contain_text("1 of ")
    named = finger.evaluate("() => document.activeElement.dataset.cable")
    expect(status).to_contain_text(named)
    finger.locator(".diagram-cable.followed text").first.tap()
    expect(status).to_contain_text(named)
    finger.get_by_label("Follow").first.select_option("")
    assert finger.locator(".diagram-cable.followed").count() == 0


def test_of_a_procedure_too_the_drawing_zooms_and_a_tapped_cable_is_told(finger: Page, folder: Path) -> None:
    finger.goto((folder / "machine/fp420/procedure/draw-tray/plugs.html").as_uri())
    finger.get_by_role("button", name="Zoom in").first.tap()
    finger.locator(".diagram-cable[data-cable='W6'] text").first.tap()
    expect(finger.locator(".diagram-says").first).to_contain_text("W6: ")
    assert finger.evaluate("() => document.documentElement.scrollWidth") <= 390


def test_every_drawing_of_the_page_has_its_title_its_description_and_its_table(page: Page, folder: Path) -> None:
    for path in ("machine/fp420/interconnection.html", "machine/fp420/procedure/draw-tray/plugs.html"):
        page.goto((folder / path).as_uri())
        for figure in page.locator("figure.diagram").all():
            svg = figure.locator("svg.drawing")
            assert svg.locator("> title").text_content() and svg.locator("> desc").text_content()
        assert page.locator("figure.diagram").count() == page.locator(".map-table table").count() >= 1
        assert page.locator(".map-table tbody tr").count() >= page.locator("figure.diagram").count()
