"""The demo's codes and symptoms as pages that hold their order of tests and nothing else, with the finder's scripts."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

from tests.troubles.demo import derived

from benchleaf.edges.graphviz_edge import drawn
from benchleaf.pages.book import Book
from benchleaf.pages.finder_files import finder_assets
from benchleaf.pages.isolation_shown import isolation_view
from benchleaf.pages.kinds import finder
from benchleaf.pages.page import Frame, Page
from benchleaf.render import THEME_FOLDER, make_environment, render_page

FOLDERS = (str(Path(__file__).parent / "templates"), THEME_FOLDER)
FRAME = Frame(name="Plover workshop manual")


def lay_finder(folder: Path) -> dict[tuple[str, str], str]:
    """Writes the pages; (machine, code or symptom) → the page's path."""
    book = Book(derived(), drawn)
    env = make_environment(FRAME, FOLDERS)
    found: dict[tuple[str, str], str] = {}
    for mbook in book.machines():
        troubles: list[Any] = [*mbook.machine.codes.items(), *mbook.machine.symptoms.items()]
        for id, trouble in troubles:
            path = mbook.at.code(str(id)) if id in mbook.machine.codes else mbook.at.symptom(str(id))
            context = {"view": isolation_view(mbook, trouble), "choice": mbook.choice, "crumbs": (), "record": None}
            page = Page(path=path, template="finder.html", title=str(id), kind="code", context=context)
            place = folder / path
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(render_page(page, env))
            found[str(mbook.machine.id), str(id)] = path
    _lay_scripts(folder, book)
    return found


def lay_entries(folder: Path) -> None:
    """Writes the pages where ticks begin, one a machine, with their scripts."""
    book = Book(derived(), drawn)
    env = make_environment(FRAME)
    for page in (page for mbook in book.machines() for page in finder.machine_pages(mbook)):
        place = folder / page.path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(render_page(page, env))
    _lay_scripts(folder, book, only="supplies.finder.js")


def _lay_scripts(folder: Path, book: Book, only: str = "") -> None:
    for asset in finder_assets(book):
        assert asset.data is not None
        if asset.path.endswith(only):
            place = folder / asset.path
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(asset.data)
    for name in ("css", "js", "img"):
        shutil.copytree(Path(THEME_FOLDER) / name, folder / name, dirs_exist_ok=True)
