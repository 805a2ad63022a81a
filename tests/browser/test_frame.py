"""The frame and the shared drawings in a real browser: legible, reachable, quiet, and the same without script."""

from __future__ import annotations

import dataclasses
import http.server
import threading
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page
from tests.browser import gallery
from tests.browser.conftest import lay_gallery, violations

from benchleaf.pages import page as page_values
from benchleaf.render import make_environment, render_page

WIDTHS = (390, 820, 1400)
PAGES = ("gallery/index.html", "bench/board-out.html")


@pytest.mark.parametrize("look", ["light", "dark"])
@pytest.mark.parametrize("width", WIDTHS)
def test_no_wcag_violation_and_nothing_wider_than_the_screen(
    browser: Browser, site: Path, look: Any, width: int
) -> None:
    context = browser.new_context(viewport={"width": width, "height": 900}, color_scheme=look)
    page = context.new_page()
    for name in PAGES:
        page.goto((site / name).as_uri())
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
        assert violations(page) == []
    context.close()


def test_axe_does_find_a_violation(page: Page, site: Path) -> None:
    page.goto((site / PAGES[0]).as_uri())
    page.evaluate("document.querySelector('h1').style.color = '#cccccc'")
    assert any(line.startswith("color-contrast") for line in violations(page))


def test_words_are_large_enough_for_arms_length(page: Page, site: Path) -> None:
    page.goto((site / PAGES[0]).as_uri())
    size = """(selector) => Math.min(...[...document.querySelectorAll(selector)]
        .map(e => parseFloat(getComputedStyle(e).fontSize)))"""
    assert page.evaluate(size, "body") >= 18
    assert page.evaluate(size, ".step-title, .actions li, .step-text p, .expect") >= 22
    assert page.evaluate(size, "main :not(input), footer *") >= 15


def test_controls_are_large_enough_for_a_glove(page: Page, site: Path) -> None:
    page.goto((site / PAGES[0]).as_uri())
    page.click(".chooser summary")
    small = page.evaluate(
        """() => [...document.querySelectorAll('header :is(a, button, input), summary, .choice, .tick, form button')]
            .map(e => [e.outerHTML.slice(0, 60), e.getBoundingClientRect()])
            .filter(([, box]) => box.height && box.height < 48)"""
    )
    assert small == []


def test_the_first_tab_is_the_way_past_the_head_and_focus_is_seen(page: Page, site: Path) -> None:
    page.goto((site / PAGES[0]).as_uri())
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"
    for _ in range(6):
        page.keyboard.press("Tab")
        width = page.evaluate("parseFloat(getComputedStyle(document.activeElement).outlineWidth)")
        assert width >= 3


def test_the_look_is_kept_and_goes_back_to_the_device(page: Page, site: Path) -> None:
    page.goto((site / PAGES[0]).as_uri())
    ground = "getComputedStyle(document.querySelector('.step')).backgroundColor"
    device = page.evaluate(ground)
    page.click("[data-look-switch]")
    page.click("[data-look-switch]")
    assert page.inner_text("[data-look-now]") == "dark"
    dark = page.evaluate(ground)
    assert dark != device
    page.goto((site / PAGES[1]).as_uri())
    assert page.evaluate(ground) == dark
    page.click("[data-look-switch]")
    assert page.inner_text("[data-look-now]") == "as set"
    assert page.evaluate(ground) == device


def test_a_value_says_where_it_comes_from_without_script(browser: Browser, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / PAGES[0]).as_uri())
    slip = page.locator(".origin-slip").first
    assert not slip.is_visible()
    page.locator(".origin-mark").first.click()
    assert slip.is_visible()
    assert "lc30/machine.yaml:41" in slip.inner_text()
    context.close()


def test_without_script_everything_shows_with_its_applicability(browser: Browser, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    for name in PAGES:
        page.goto((site / name).as_uri())
        for step in page.locator("[data-applies]").all():
            assert step.is_visible()
            assert "Only for" in step.inner_text()
        for number in ("1", "2", "3", "4"):
            assert page.locator(".step-number", has_text=number).first.is_visible()
        for control in (
            "[data-chooser-form]",
            "[data-find]",
            "[data-look-switch]",
            "[data-bench-keys]",
            "[data-bench-new]",
        ):
            assert not page.locator(control).is_visible()
        page.locator(".chooser summary").click()
        assert "This page shows everything" in page.locator(".chooser").inner_text()
    context.close()


def test_on_paper_origins_stand_beside_their_values_and_controls_are_gone(page: Page, site: Path) -> None:
    page.goto((site / PAGES[0]).as_uri())
    page.emulate_media(media="print", color_scheme="dark")
    assert page.locator(".origin-slip").first.is_visible()
    for control in (".find", ".look", ".head-lists", ".origin-mark"):
        assert not page.locator(control).first.is_visible()
    assert page.evaluate("getComputedStyle(document.querySelector('.step')).color") == "rgb(0, 0, 0)"
    assert page.evaluate("getComputedStyle(document.querySelector('.step')).backgroundColor") == "rgb(255, 255, 255)"


def test_nothing_is_asked_of_another_host(page: Page, site: Path) -> None:
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    for name in PAGES:
        page.goto((site / name).as_uri())
    page.locator(".picture img").first.scroll_into_view_if_needed()
    assert len(asked) > 8
    assert [url for url in asked if not url.startswith(site.as_uri())] == []


@pytest.fixture
def served(site: Path) -> Iterator[str]:
    class Quiet(http.server.SimpleHTTPRequestHandler):
        def log_message(self, format: str, *args: object) -> None:
            pass

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(site)))
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    thread.join()
    server.server_close()


def test_it_works_from_a_server_as_from_a_folder(page: Page, served: str) -> None:
    page.goto(served + PAGES[0])
    assert page.locator("[data-chooser-form]").get_attribute("hidden") is None
    page.goto(served + PAGES[1])
    page.click("text=Start a new job")
    assert page.locator("#step-1").is_visible() and not page.locator("#step-2").is_visible()


HOSTILE = (
    '"\'><img src=x onerror="window.ran=1"><script>window.ran=1</script><b onmouseover=window.ran=1>{{7*7}}</b>'
    "[x](javascript:window.ran=1)"
)
KEPT = {"path", "anchor", "mark", "signal", "state", "kind", "status", "content", "id", "sign", "later"}


def poisoned(value: Any) -> Any:
    """The same value with every text a reader can have typed made hostile."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        fields = {f.name: getattr(value, f.name) for f in dataclasses.fields(value)}
        return dataclasses.replace(
            value, **{name: one if name in KEPT else poisoned(one) for name, one in fields.items()}
        )
    if isinstance(value, str):
        return HOSTILE
    if isinstance(value, tuple):
        return tuple(poisoned(one) for one in value)
    return value


def test_markup_and_script_in_any_text_stay_text(page: Page, site: Path, tmp_path: Path) -> None:
    lay_gallery(tmp_path)
    env = make_environment(poisoned(dataclasses.replace(gallery.FRAME, find=None, menu=())), gallery.FOLDERS)
    for one in (gallery.gallery_page(), gallery.bench_page()):
        context = {key: poisoned(value) for key, value in one.context.items() if key != "crumbs"}
        hostile = page_values.Page(path=one.path, template=one.template, title=HOSTILE, kind=one.kind, context=context)
        text = render_page(hostile, env).replace(f'lang="{_escaped(HOSTILE)}"'.encode(), b'lang="en"')
        text = text.replace(f'href="../{_escaped(HOSTILE)}"'.encode(), b'href="../index.html"')
        (tmp_path / one.path).write_bytes(text)
        page.goto((tmp_path / one.path).as_uri())
        assert page.evaluate("window.ran") is None
        assert page.locator("main img:not([src*='picture']), main script, main b, main [onmouseover]").count() == 0
        assert page.locator("a[href^='javascript']").count() == 0
        assert "<script>window.ran=1</script>" in page.inner_text("main")
        assert "{{7*7}}" in page.inner_text("main")


def _escaped(text: str) -> str:
    import markupsafe

    return str(markupsafe.escape(text))
