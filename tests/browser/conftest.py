"""The gallery as a folder that Chromium opens from the disk, and what axe finds on a page."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page
from tests.browser import gallery

from benchleaf.render import THEME_FOLDER, make_environment, render_page

PICTURE = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="640" height="400" viewBox="0 0 640 400">'
    '<rect width="640" height="400" fill="#d9d5ca"/></svg>'
)
AXE = (Path(__file__).parents[1] / "vendor/axe/axe.min.js").read_text(encoding="utf-8")
AXE_RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


def lay_gallery(folder: Path, **bench: str) -> Path:
    env = make_environment(gallery.FRAME, gallery.FOLDERS)
    for page in (gallery.gallery_page(), gallery.bench_page(**bench)):
        place = folder / page.path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(render_page(page, env))
    for name in ("css", "js", "img"):
        shutil.copytree(Path(THEME_FOLDER) / name, folder / name, dirs_exist_ok=True)
    (folder / "picture.svg").write_text(PICTURE)
    return folder


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return lay_gallery(tmp_path_factory.mktemp("gallery"))


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A fresh reader: nothing kept, and every word on the console is a failure."""
    context = browser.new_context(viewport={"width": 820, "height": 1000})
    page = context.new_page()
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    yield page
    context.close()
    assert said == []


PLAIN_GROUNDS = """() => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync('*, *::before, *::after { background-image: none !important; }'
        + ' main { background-color: var(--card); } .table-box { overflow: visible; }'
        + ' .order * { content-visibility: visible !important; }');
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
}"""


def violations(page: Page) -> list[str]:
    """What axe finds against WCAG 2.2 A and AA, one line each.

    Contrast over a drawn ground (the grid, the cut corner, a hatch) is what axe cannot judge, so grounds are made
    plain first; what it then still leaves open counts as found, unless it is beyond axe for another reason. What is
    laid out only when it comes into the window is laid out first, since axe measures it.
    """
    page.evaluate(PLAIN_GROUNDS)
    page.evaluate(AXE)
    found = page.evaluate(
        "(tags) => axe.run(document, {preload: false, runOnly: {type: 'tag', values: tags}})", AXE_RULES
    )
    assert len(found["passes"]) > 10, "axe looked at nothing"
    nodes = [(rule["id"], node) for rule in found["violations"] for node in rule["nodes"]]
    left_open = [node for rule in found["incomplete"] if rule["id"] == "color-contrast" for node in rule["nodes"]]
    nodes += [("color-contrast", node) for node in left_open if not is_beyond_axe(node)]
    return [f"{name}: {node['target']} {node['failureSummary']}" for name, node in nodes]


def is_beyond_axe(node: dict[str, Any]) -> bool:
    """A single character, or a table cell at the edge of a narrow screen (judged on the wide one)."""
    keys = {(check["data"] or {}).get("messageKey") for check in node["any"]}
    cell = node["html"].startswith(("<td", "<th"))
    return keys <= {"shortTextContent"} or (cell and keys <= {"elmPartiallyObscured", "bgOverlap", "outsideViewport"})
