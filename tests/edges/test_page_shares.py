"""Pages are written by several processes: the same pages, every mistake heard, a lost process never overlooked."""

from __future__ import annotations

import gc
import os
import signal
import sys
import weakref
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import pytest

from benchleaf.edges.page_shares import WORTH_SHARING, PagesLost, write_pages
from benchleaf.pages.book import Book
from benchleaf.pages.page import Page, PartedPages
from benchleaf.pages.page_kinds import page_parts
from benchleaf.pipeline import read

DEMO = Path(__file__).parents[2] / "content"
FORKS = pytest.mark.parametrize("cores", [1, 2, 3] if sys.platform == "linux" else [1])


def parted() -> PartedPages:
    return PartedPages(page_parts(Book(read(DEMO)), least=10))


def lay(folder: Path, page: Page) -> None:
    """One file a page, which cannot be laid twice."""
    with (folder / page.path.replace("/", "+")).open("x") as file:
        file.write(f"{page.template}\n{page.title}\n{len(page.documents)}")


def laid(folder: Path) -> dict[str, str]:
    return {one.name: one.read_text() for one in folder.iterdir()}


@FORKS
def test_any_number_of_processes_writes_the_same_pages_each_once(tmp_path: Path, cores: int) -> None:
    alone, shared = tmp_path / "alone", tmp_path / "shared"
    alone.mkdir()
    shared.mkdir()
    one_by_one, pages = parted(), parted()
    parts = len(pages.parts)
    for page in one_by_one:
        lay(alone, page)
    heard: list[tuple[str, int, int]] = []
    write_pages(pages, partial(lay, shared), lambda *told: heard.append(told), cores)
    assert parts >= WORTH_SHARING and laid(shared) == laid(alone)
    assert sorted(map(repr, pages.documents)) == sorted(map(repr, one_by_one.documents))
    assert heard == [("pages", number + 1, parts) for number in range(parts)]


@FORKS
def test_the_records_are_let_go_before_the_search_index_is_made(cores: int) -> None:
    derived = read(DEMO)
    pages = PartedPages(page_parts(Book(derived), least=10))
    held = weakref.ref(derived)
    del derived
    write_pages(pages, lambda page: None, cores=cores)
    gc.collect()
    assert pages.documents and held() is None


def parts_of(count: int) -> PartedPages:
    """``count`` parts of one page each."""

    def part(number: int) -> Iterator[Page]:
        yield Page(path=f"{number}.html", title=str(number), template="home.html", kind="home")

    makers: list[Callable[[], Iterator[Page]]] = [partial(part, number) for number in range(count)]
    return PartedPages(makers)


@FORKS
def test_what_goes_wrong_with_one_page_is_raised_as_it_was(cores: int) -> None:
    def refuse(page: Page) -> None:
        if page.title == "5":
            raise KeyError("page 5")

    with pytest.raises(KeyError, match="page 5"):
        write_pages(parts_of(8), refuse, cores=cores)


@pytest.mark.skipif(sys.platform != "linux", reason="no process is forked elsewhere, so none can be lost")
def test_a_process_that_is_killed_never_passes_for_one_that_is_done() -> None:
    here = os.getpid()

    def write(page: Page) -> None:
        if page.title == "5" and os.getpid() != here:
            os.kill(os.getpid(), signal.SIGKILL)

    with pytest.raises(PagesLost, match="build again"):
        write_pages(parts_of(8), write, cores=2)
