"""A diagram in Chromium from the disk: zoom and pan by keys, mouse and two fingers, and following a net."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect
from tests.browser import gallery
from tests.browser.conftest import violations
from tests.connectors.plain_machines import demo_machine, demo_procedure

from benchleaf.connectors.book import ConnectorBook
from benchleaf.drawings.face import face_view, mating_pair
from benchleaf.edges.graphviz_edge import draw
from benchleaf.pages.page import Page as ManualPage
from benchleaf.render import THEME_FOLDER, make_environment, render_page

BOOK = ConnectorBook(demo_machine("fp420", "mk2", "roll"))
DRAWN = draw(BOOK.diagram())
assert DRAWN.drawing is not None, DRAWN.problem
WHOLE = tuple(float(n) for n in re.findall(r'viewBox="([^"]+)"', DRAWN.drawing.svg)[0].split())


def lay_page(folder: Path) -> Path:
    ends = BOOK.open_ends_of_step(demo_procedure("fp420", "draw-tray"), 6)
    context: dict[str, Any] = {
        "crumbs": (),
        "choice": None,
        "record": None,
        "drawing": DRAWN.drawing,
        "nets": BOOK.diagram().nets,
        "faces": (face_view(ends[0].on_cable), mating_pair(ends[3].on_cable, ends[3].fixed)),
    }
    page = ManualPage(path="d/index.html", template="diagram.html", title="Diagram", kind="wiring", context=context)
    (folder / "d").mkdir(parents=True, exist_ok=True)
    env = make_environment(gallery.FRAME, gallery.FOLDERS)
    (folder / page.path).write_bytes(render_page(page, env))
    for name in ("css", "js", "img"):
        shutil.copytree(Path(THEME_FOLDER) / name, folder / name, dirs_exist_ok=True)
    return folder / page.path


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    return lay_page(tmp_path_factory.mktemp("diagram")).as_uri()


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 390, "height": 800}, has_touch=True, is_mobile=True)
    page = context.new_page()
    yield page
    context.close()


def seen(page: Page) -> tuple[float, float, float, float]:
    """The part of the drawing on the screen: left, top, width, height in drawing units."""
    found = page.locator("[data-diagram-view] svg").get_attribute("viewBox") or ""
    left, top, width, height = (float(number) for number in found.split())
    return left, top, width, height


def test_keys_zoom_pan_and_show_all(page: Page, address: str) -> None:
    page.goto(address)
    page.locator("[data-diagram-view]").focus()
    page.keyboard.press("0")
    whole = seen(page)
    page.keyboard.press("+")
    page.keyboard.press("+")
    near = seen(page)
    assert near[2] < whole[2] / 1.5 and near[3] < whole[3] / 1.5
    page.keyboard.press("ArrowRight")
    right = seen(page)
    assert right[0] > near[0] and right[1:] == near[1:]
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowUp")
    assert seen(page)[1] < near[1]
    page.keyboard.press("-")
    assert seen(page)[2] > near[2]
    page.keyboard.press("0")
    assert seen(page) == whole


def test_the_drawing_never_leaves_the_window(page: Page, address: str) -> None:
    page.goto(address)
    page.locator("[data-diagram-view]").focus()
    page.keyboard.press("0")
    for _ in range(5):
        page.keyboard.press("+")
    for _ in range(60):
        page.keyboard.press("ArrowRight")
        page.keyboard.press("ArrowDown")
    seen_left, seen_top, seen_width, seen_height = seen(page)
    left, top, width, height = WHOLE
    assert left <= seen_left and seen_left + seen_width == pytest.approx(left + width, abs=0.1)
    assert top <= seen_top and seen_top + seen_height == pytest.approx(top + height, abs=0.1)


def test_the_buttons_do_what_the_keys_do_by_keyboard_alone(page: Page, address: str) -> None:
    page.goto(address)
    page.get_by_role("button", name="Whole drawing").focus()
    page.keyboard.press("Enter")
    whole = seen(page)
    page.get_by_role("button", name="Zoom in").focus()
    page.keyboard.press("Enter")
    assert seen(page)[2] < whole[2]
    page.keyboard.press("Tab")
    expect(page.get_by_role("button", name="Zoom out")).to_be_focused()


def test_a_net_is_followed_by_keyboard_and_the_focus_walks_along_its_cables(page: Page, address: str) -> None:
    page.goto(address)
    net = next(one for one in BOOK.diagram().nets if one.name.startswith("5 V DC") and len(one.cables) > 3)
    page.get_by_label("Follow").select_option(net.id)
    followed = page.locator(".diagram-cable.followed")
    names = set(followed.evaluate_all("all => all.map(one => one.dataset.cable)"))
    assert names == set(net.cables)
    status = page.get_by_role("status")
    for name in net.cables:
        expect(status).to_contain_text(name)
    page.locator(".diagram-more summary").click()
    expect(page.locator("tr.followed th")).to_have_text(net.name)
    walked = []
    for _ in range(followed.count()):
        page.get_by_role("button", name="Next cable").press("Enter")
        walked.append(page.evaluate("() => document.activeElement.dataset.cable"))
        middle = page.evaluate(
            """() => { const b = document.activeElement.getBoundingClientRect();
                const s = document.querySelector('[data-diagram-view] svg').getBoundingClientRect();
                return [(b.left + b.right) / 2 - s.left, (b.top + b.bottom) / 2 - s.top, s.width, s.height]; }"""
        )
        assert 0 <= middle[0] <= middle[2] and 0 <= middle[1] <= middle[3]
    assert set(walked) == set(net.cables)
    page.keyboard.press("p")
    assert page.evaluate("() => document.activeElement.dataset.cable") == walked[-2]
    page.keyboard.press("Escape")
    assert page.locator(".followed").count() == 0


def test_boards_at_the_ends_of_a_followed_cable_stay_dark_and_others_step_back(page: Page, address: str) -> None:
    page.goto(address)
    page.locator("[data-diagram-view]").focus()
    net = next(one for one in BOOK.diagram().nets if one.cables == ("W12",))
    page.get_by_label("Follow").select_option(net.id)
    boxes = page.locator(".diagram-box.followed").evaluate_all("all => all.map(one => one.dataset.item)")
    assert sorted(boxes) == ["A1", "M1"]
    other = page.locator(".diagram-box:not(.followed)").first
    assert float(other.evaluate("one => getComputedStyle(one).opacity")) < 0.5
    thick = page.locator(".diagram-cable.followed path").first.evaluate("one => getComputedStyle(one).strokeWidth")
    assert float(thick.removesuffix("px")) > 4


def test_a_click_on_a_cable_follows_it_and_a_drag_does_not(page: Page, address: str) -> None:
    page.goto(address)
    page.get_by_role("button", name="Whole drawing").click()
    label = page.locator('.diagram-cable[data-cable="W3"] text').first
    label.click()
    assert set(page.locator(".diagram-cable.followed").evaluate_all("all => all.map(o => o.dataset.cable)")) == {"W3"}
    expect(page.get_by_role("status")).to_contain_text("W3: PS1-J2 – A1-J1")
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Zoom in").click()
    before = seen(page)
    frame = page.locator("[data-diagram-view]").bounding_box()
    assert frame is not None
    x, y = frame["x"] + frame["width"] / 2, frame["y"] + frame["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 120, y - 40, steps=6)
    page.mouse.up()
    after = seen(page)
    assert after[0] > before[0] + 50
    assert page.locator(".diagram-cable.followed").count() == 0


def test_two_fingers_zoom_and_one_pans_once_zoomed(phone: Page, address: str) -> None:
    phone.goto(address)
    fingers = phone.context.new_cdp_session(phone)

    def touch(kind: str, *points: tuple[float, float]) -> None:
        at = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(points)]
        fingers.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": at})

    phone.get_by_role("button", name="Whole drawing").tap()
    whole = seen(phone)
    phone.locator("[data-diagram-view]").scroll_into_view_if_needed()
    frame = phone.locator("[data-diagram-view]").bounding_box()
    assert frame is not None
    x, y = frame["x"] + frame["width"] / 2, frame["y"] + frame["height"] / 2
    touch("touchStart", (x - 20, y), (x + 20, y))
    for far in (40, 60, 80, 100):
        touch("touchMove", (x - far, y), (x + far, y))
    touch("touchEnd")
    near = seen(phone)
    assert near[2] < whole[2] / 2
    scrolled = phone.evaluate("() => window.scrollY")
    touch("touchStart", (x, y))
    for step in (20, 40, 60, 80):
        touch("touchMove", (x - step, y))
    touch("touchEnd")
    assert seen(phone)[0] > near[0]
    assert phone.evaluate("() => window.scrollY") == scrolled


def test_on_a_phone_it_starts_legible_and_the_page_never_scrolls_sideways(phone: Page, address: str) -> None:
    phone.goto(address)
    _, _, width, _ = seen(phone)
    frame = phone.locator("[data-diagram-view] svg").bounding_box()
    assert frame is not None and frame["width"] / width >= 0.7  # a drawing unit in CSS pixels
    assert phone.evaluate("() => document.documentElement.scrollWidth") <= 390
    for button in phone.locator(".diagram-keys button").all():
        box = button.bounding_box()
        assert box is not None and box["height"] >= 44 and box["width"] >= 44


def test_without_the_script_the_drawing_and_every_table_are_there(browser: Browser, address: str) -> None:
    context = browser.new_context(java_script_enabled=False, viewport={"width": 820, "height": 1000})
    page = context.new_page()
    page.goto(address)
    assert page.locator("[data-diagram-view] svg").count() == 1
    assert page.locator(".diagram-nets tbody tr").count() == len(BOOK.diagram().nets)
    view = page.locator("[data-diagram-view]").bounding_box()
    assert view is not None and view["width"] <= 820
    context.close()


@pytest.mark.parametrize("look", ["light", "dark"])
def test_the_page_meets_the_accessibility_rules(page: Page, address: str, look: str) -> None:
    page.emulate_media(color_scheme=look)  # type: ignore[arg-type]
    page.goto(address)
    found = violations(page)
    unjudged = ("overlapped by another element", "only non-text characters", "element contains an image node")
    assert [one for one in found if not one.startswith("color-contrast") or not one.endswith(unjudged)] == []
    # What axe cannot judge (letters over lines, a lone sign) is drawn in the page's ink on the page's card.
    inks = page.evaluate(
        """() => { const ink = getComputedStyle(document.body).color;
            const all = [...document.querySelectorAll('main svg.drawing text, .diagram-keys button')];
            return [all.length, all.every((one) => (one instanceof SVGElement ? getComputedStyle(one).fill
                : getComputedStyle(one).color) === ink)]; }"""
    )
    assert inks[0] > 100 and inks[1] is True
