"""A page in Chromium with the search scripts and the small manual's index beside it, opened from a file."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

THEME = Path(__file__).parents[2] / "themes" / "benchleaf_theme"
SCRIPTS = ("search-recent.js", "search-words.js", "search-index.js", "search-rank.js", "search-page.js")
POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'"


def lay_site(folder: Path, files: Mapping[str, bytes], extra_head: str = "") -> Path:
    """Writes a search page, the scripts, the style and an index to ``folder``; returns the page's path."""
    for name in SCRIPTS:
        (folder / name).write_bytes((THEME / "js" / name).read_bytes())
    (folder / "search.css").write_bytes((THEME / "css" / "search.css").read_bytes())
    (folder / "search").mkdir(exist_ok=True)
    for name, content in files.items():
        (folder / "search" / name).write_bytes(content)
    tags = "".join(f'<script defer src="{name}"></script>' for name in SCRIPTS)
    page = folder / "search.html"
    page.write_text(
        f"""<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Search</title>
<meta http-equiv="Content-Security-Policy" content="{POLICY}">
<meta name="viewport" content="width=device-width, initial-scale=1"><link rel="stylesheet" href="search.css">
{extra_head}{tags}</head><body><h1>Search</h1><div data-search data-base=""></div></body></html>
""",
        encoding="utf-8",
    )
    return page


@pytest.fixture(scope="session")
def search_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The search page of the small manual."""
    from tests.search.manual import files

    return lay_site(tmp_path_factory.mktemp("search"), files())


@pytest.fixture
def open_page(browser: Browser, search_site: Path) -> Iterator[Callable[..., Page]]:
    """Opens the search page from its file; fails the test when anything was thrown or refused in it."""
    context = browser.new_context(viewport={"width": 390, "height": 844})
    complaints: list[str] = []

    def open_it(path: Path = search_site, query: str = "") -> Page:
        page = context.new_page()
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.on("console", lambda said: complaints.append(said.text) if said.type == "error" else None)
        page.goto(path.as_uri() + query)
        return page

    yield open_it
    context.close()
    assert not complaints
