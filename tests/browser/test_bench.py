"""At the bench: one step a screen, large keys, and progress that is offered and never assumed."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page
from tests.browser.conftest import lay_gallery, violations


def url(site: Path) -> str:
    return (site / "bench/board-out.html").as_uri()


def start(page: Page, site: Path, serial: str = "0221") -> None:
    page.goto(url(site))
    page.fill("#bench-serial", serial)
    page.click("text=Start a new job")


def now(page: Page) -> str:
    shown = page.locator(".bench-step:visible, .bench-end:visible")
    assert shown.count() == 1
    return shown.get_attribute("id") or "end"


def ticked(page: Page) -> bool:
    return page.get_attribute("[data-bench-tick]", "aria-pressed") == "true"


def where(page: Page) -> str:
    return page.inner_text("[data-bench-where]")


def test_before_a_job_every_step_can_be_read(page: Page, site: Path) -> None:
    page.goto(url(site))
    assert page.locator(".bench-step:visible").count() == 4
    assert not page.locator("[data-bench-keys]").is_visible()


@pytest.mark.parametrize(("width", "height"), [(390, 844), (820, 1180), (1400, 900)])
def test_one_step_a_screen_with_keys_for_a_glove(page: Page, site: Path, width: int, height: int) -> None:
    page.set_viewport_size({"width": width, "height": height})
    start(page, site)
    assert now(page) == "step-1"
    for key in ("back", "tick", "next"):
        box = page.locator(f"[data-bench-{key}]").bounding_box()
        assert box is not None
        assert box["height"] >= 64 and box["width"] >= 64
        assert box["y"] + box["height"] <= height
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    assert violations(page) == []
    size = page.evaluate("parseFloat(getComputedStyle(document.querySelector('.now .actions li')).fontSize)")
    assert size >= 22


def test_safety_messages_come_before_their_step_most_severe_first(page: Page, site: Path) -> None:
    start(page, site)
    words = page.inner_text(".bench-step.now")
    assert words.index("DANGER") < words.index("NOTICE") < words.index("Unplug the machine")


def test_keys_pedal_and_buttons_go_on_and_back(page: Page, site: Path) -> None:
    page.set_viewport_size({"width": 1400, "height": 3000})
    start(page, site)
    for key, step in (("ArrowRight", "step-2"), ("ArrowLeft", "step-1"), ("PageDown", "step-2"), ("PageUp", "step-1"),
                      (" ", "step-2"), ("ArrowRight", "step-3"), ("ArrowRight", "step-4")):  # fmt: skip
        page.keyboard.press(key)
        assert now(page) == step, key
    page.click("[data-bench-next]")
    assert now(page) == "end"
    assert page.locator("[data-bench-next]").is_disabled()
    page.click("[data-bench-back]")
    assert now(page) == "step-4"


def test_a_pedal_shows_the_rest_of_a_step_before_it_goes_on(page: Page, site: Path) -> None:
    page.set_viewport_size({"width": 390, "height": 700})
    start(page, site)
    presses = 0
    while now(page) == "step-1":
        before = page.evaluate("scrollY")
        page.keyboard.press("PageDown")
        presses += 1
        page.wait_for_timeout(50)
        if now(page) == "step-1":
            assert page.evaluate("scrollY") > before
    assert presses > 2
    assert page.evaluate("scrollY") == 0


def test_enter_ticks_and_the_end_names_what_is_open(page: Page, site: Path) -> None:
    start(page, site)
    page.keyboard.press("Enter")
    assert ticked(page)
    page.keyboard.press("ArrowRight")
    page.click("[data-bench-tick]")
    assert ticked(page)
    page.click("[data-bench-tick]")
    assert not ticked(page)
    assert "Step 2 of 4, 1 of 4 ticked, serial 0221" in where(page)
    for _ in range(3):
        page.keyboard.press("ArrowRight")
    assert "Not ticked: step 2, 3, 4. The job is open." in page.inner_text(".bench-end")


def test_the_end_of_a_ticked_job_claims_no_proof(page: Page, site: Path) -> None:
    start(page, site)
    for _ in range(4):
        page.keyboard.press("Enter")
        page.keyboard.press("ArrowRight")
    assert "not a proof" in page.inner_text(".bench-end")


def test_progress_is_offered_and_not_assumed(page: Page, site: Path) -> None:
    start(page, site)
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    page.goto(url(site))
    assert page.locator(".bench-step:visible").count() == 4
    assert "Serial 0221, begun" in page.inner_text("[data-bench-jobs]")
    page.click("text=Go on with it")
    assert now(page) == "step-2"
    assert ticked(page)


def test_isolating_discharging_and_proving_dead_come_back_unticked(page: Page, site: Path) -> None:
    start(page, site)
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowRight")
    page.goto(url(site))
    page.click("text=Go on with it")
    assert now(page) == "step-1"
    assert not ticked(page)
    assert "prove dead again" in page.inner_text(".bench-step.now")
    page.keyboard.press("ArrowRight")
    assert ticked(page)


def test_a_changed_procedure_starts_unticked(page: Page, tmp_path: Path) -> None:
    lay_gallery(tmp_path)
    start(page, tmp_path)
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    lay_gallery(tmp_path, content="b2", issue="4")
    page.goto(url(tmp_path))
    assert "The procedure has changed since" in page.inner_text("[data-bench-jobs]")
    page.click("text=Go on with it")
    assert "0 of 4 ticked" in where(page)
    assert "issue 3 then, 4 now" in page.inner_text(".bench-step.now")


def test_two_machines_are_two_jobs_and_each_can_be_forgotten(page: Page, site: Path) -> None:
    start(page, site, "0221")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    start(page, site, "0512")
    assert "0 of 4 ticked, serial 0512" in where(page)
    page.goto(url(site))
    assert page.locator(".bench-job").count() == 2
    page.locator(".bench-job", has_text="0221").get_by_text("Forget it").click()
    assert page.locator(".bench-job").count() == 1
    assert "0512" in page.inner_text("[data-bench-jobs]")


def test_leaving_shows_every_step_again(page: Page, site: Path) -> None:
    start(page, site)
    page.click("text=All steps")
    assert page.locator(".bench-step:visible").count() == 4
    assert page.locator(".bench-job").count() == 1


def test_the_screen_is_kept_on_where_the_browser_allows(page: Page, site: Path) -> None:
    page.add_init_script(
        "Object.defineProperty(navigator, 'wakeLock', {value: {request: async (kind) => {"
        " window.asked = kind; return {addEventListener() {}, release() { window.released = true; }}; }}})"
    )
    start(page, site)
    page.wait_for_function("window.asked === 'screen'")
    assert page.inner_text("[data-bench-awake]") == "Screen kept on."
    page.click("text=All steps")
    assert page.evaluate("window.released") is True


def test_a_browser_that_keeps_nothing_says_so_and_still_works(page: Page, site: Path) -> None:
    page.add_init_script("Storage.prototype.setItem = () => { throw new Error('full'); };")
    start(page, site)
    assert "keeps no progress" in page.inner_text("[data-bench-says]")
    page.keyboard.press("ArrowRight")
    assert now(page) == "step-2"


def test_a_step_for_another_machine_is_shown_and_not_counted_as_open(page: Page, site: Path) -> None:
    page.goto(url(site))
    page.click(".chooser summary")
    page.check("input[name='variant'][value='mk2']")
    page.fill("#bench-serial", "0512")
    page.click("text=Start a new job")
    assert "0 of 3 ticked" in where(page)
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    assert now(page) == "step-3"
    assert "By your answers not for this machine" in page.inner_text(".bench-step.now")
