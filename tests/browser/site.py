"""A manual written to a folder as the plugin writes it, for tests that open it in a browser."""

from __future__ import annotations

import shutil
from collections.abc import Iterable
from pathlib import Path

from benchleaf.pages.page import Manual, Page
from benchleaf.render import THEME_FOLDER, make_environment, render_page


def lay_site(folder: Path, manual: Manual, only: Iterable[str] | None = None) -> dict[str, Page]:
    """Write pages, assets and the theme's files; returns the pages by path. ``only``: these pages and no others."""
    env = make_environment(manual.frame)
    pages: dict[str, Page] = {}
    wanted = None if only is None else set(only)
    for page in manual.pages:
        pages[page.path] = page
        if wanted is None or page.path in wanted:
            place = folder / page.path
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(render_page(page, env))
    for asset in manual.assets:
        place = folder / asset.path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(asset.data if asset.data is not None else Path(asset.source or "").read_bytes())
    for name in ("css", "js", "img"):
        shutil.copytree(Path(THEME_FOLDER) / name, folder / name, dirs_exist_ok=True)
    return pages


def one_of_each_kind(pages: Iterable[Page]) -> dict[str, str]:
    """The path of one page of every kind, of middling size: something is on it, and it is soon looked at."""
    by_kind: dict[str, list[tuple[int, str]]] = {}
    for page in pages:
        by_kind.setdefault(page.kind, []).append((len(repr(page.context)), page.path))
    return {kind: sorted(found)[len(found) // 2][1] for kind, found in sorted(by_kind.items())}
