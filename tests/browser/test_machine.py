"""Which machine is in front of the reader: folds away what is certainly not for it, and nothing else."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from benchleaf.applicability import serial_key

MK1, MK2 = [{"kind": "variant", "id": "mk1"}], [{"kind": "variant", "id": "mk2"}]
LIFT, NO_LIFT = [{"kind": "modification", "id": "lift"}], [{"kind": "without", "id": "lift"}]
LATE = [{"kind": "serials", "first": "0500", "last": "0899"}]


def known(variant: str | None = None, lift: bool | None = None, serial: str = "") -> dict[str, Any]:
    return {"variant": variant, "modifications": {"lift": lift}, "serial": serial}


@pytest.mark.parametrize(
    ("terms", "what", "fits"),
    [
        (MK1, known(), None),
        (MK1, known("mk1"), True),
        (MK1, known("mk2"), False),
        (LIFT, known("mk2"), None),
        (LIFT, known(lift=True), True),
        (LIFT, known(lift=False), False),
        (NO_LIFT, known(), None),
        (NO_LIFT, known(lift=True), False),
        (NO_LIFT, known(lift=False), True),
        (LATE, known(), None),
        (LATE, known(serial="0500"), True),
        (LATE, known(serial="0900"), False),
        (MK1 + LIFT, known("mk2"), None),
        (MK1 + LIFT, known("mk2", lift=False), False),
        (MK1 + LIFT, known("mk1"), True),
        ([{"kind": "modification", "id": "other"}], known("mk1", lift=False), None),
        ([], known("mk1"), None),
    ],
)
def test_three_answers_and_unknown_is_never_no(
    page: Page, site: Path, terms: Any, what: Any, fits: bool | None
) -> None:
    page.goto((site / "gallery/index.html").as_uri())
    assert page.evaluate("([terms, known]) => benchleaf.fits(terms, known)", [terms, what]) is fits


def test_serials_compare_in_the_page_as_in_the_compiler(page: Page, site: Path) -> None:
    page.goto((site / "gallery/index.html").as_uri())
    serials = ["0312", "312", "0500", "5", "A7", "a10", "B2-9", "B2-10", "", "0500A", "99999999999999999999", "A"]
    for one in serials:
        for other in serials:
            mine, theirs = serial_key(one), serial_key(other)
            order = (mine > theirs) - (mine < theirs)
            there = page.evaluate("([a, b]) => Math.sign(benchleaf.compareSerials(a, b))", [one, other])
            assert there == order, (one, other)


def choose(page: Page, **answers: str) -> None:
    if not page.locator("[data-chooser-form]").is_visible():
        page.click(".chooser summary")
    for name, value in answers.items():
        if name == "serial":
            page.fill("#chooser-serial", value)
        else:
            page.check(f"input[name='{name.replace('_', '-')}'][value='{value}']")


def says(page: Page) -> str:
    return page.inner_text("[data-chooser-says]")


@pytest.fixture
def gallery_page(page: Page, site: Path) -> Page:
    page.goto((site / "gallery/index.html").as_uri())
    return page


def test_before_any_answer_everything_shows_and_says_so(gallery_page: Page) -> None:
    assert gallery_page.locator("[data-applies]").count() > 4
    assert gallery_page.locator("[data-applies]:not(:visible)").count() == 0
    assert "both cases are shown: lifting-motor board" in says(gallery_page)


def test_the_variant_of_a_serial_folds_steps_away_but_no_condition_and_no_live_place(gallery_page: Page) -> None:
    choose(gallery_page, serial="0512")
    assert not gallery_page.locator("#step-3").is_visible()
    assert "Step 3 is folded away: only for mk1" in gallery_page.inner_text("main")
    assert gallery_page.locator("#step-4").is_visible()
    choose(gallery_page, serial="0221")
    assert gallery_page.locator("#step-3").is_visible()
    assert not gallery_page.locator("#step-4").is_visible()
    assert gallery_page.locator(".state-open").is_visible()  # only for mk2, and 0221 is mk1 by its serial alone
    assert "not narrowed by the serial alone" in says(gallery_page)


def test_an_answer_at_the_machine_narrows_live_places_too(gallery_page: Page) -> None:
    choose(gallery_page, variant="mk1")
    assert not gallery_page.locator(".state-open").is_visible()


def test_a_safety_message_is_never_hidden_whatever_is_answered(gallery_page: Page) -> None:
    choose(gallery_page, serial="0221", variant="mk1", m_lift="no")
    warning = gallery_page.locator(".safety-warning")
    assert warning.count() == 2
    for one in warning.all():
        assert one.is_visible()
        assert "By your answers not for this machine" in one.inner_text()
    assert gallery_page.locator(".safety:not(:visible)").count() == 0
    choose(gallery_page, m_lift="yes")
    assert "By your answers" not in warning.first.inner_text()


def test_a_listed_serial_carries_its_modification_and_any_other_leaves_the_question_open(gallery_page: Page) -> None:
    choose(gallery_page, serial="0312")
    assert "with: lifting-motor board" in says(gallery_page)
    choose(gallery_page, serial="0313")
    assert "Not answered, so both cases are shown" in says(gallery_page)


def test_answers_that_contradict_the_serial_narrow_nothing(gallery_page: Page) -> None:
    choose(gallery_page, serial="0221", variant="mk2")
    assert "two variants" in says(gallery_page)
    assert gallery_page.locator("#step-3").is_visible()
    choose(gallery_page, serial="0312", m_lift="no", variant="mk1")
    assert "this serial is listed with" in says(gallery_page)


def test_the_machine_is_kept_for_other_pages_and_forgotten_on_demand(gallery_page: Page, site: Path) -> None:
    choose(gallery_page, serial="0512", m_lift="no")
    gallery_page.goto((site / "bench/board-out.html").as_uri())
    assert "serial 0512" in says(gallery_page)
    assert gallery_page.input_value("#bench-serial") == "0512"
    gallery_page.click(".chooser summary")
    gallery_page.click("text=Forget this machine")
    gallery_page.goto((site / "gallery/index.html").as_uri())
    assert "serial" not in says(gallery_page)
    assert gallery_page.locator("#step-3").is_visible()


def test_what_was_folded_away_can_be_shown(gallery_page: Page) -> None:
    choose(gallery_page, variant="mk2")
    gallery_page.click(".chooser-unfold")
    assert gallery_page.locator("#step-3").is_visible()
    gallery_page.click(".chooser-unfold")
    assert not gallery_page.locator("#step-3").is_visible()


def test_spoilt_memory_is_no_answer(gallery_page: Page) -> None:
    gallery_page.evaluate("localStorage.setItem('benchleaf.machine.lc30', '{\"serial\": 7, \"variant\": [1')")
    gallery_page.reload()
    assert "every variant" in says(gallery_page)
