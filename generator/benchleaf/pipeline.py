"""read | parse → shape → link → check → derive → plan → render | write: the stages put in a row.

Only ``load`` and ``compile_site`` touch the disk. ``check``, ``explain`` and ``list`` go no further than
``check_sources``, so they never import MkDocs or a drawing library.
"""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

from benchleaf.checks import run_checks
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, in_order
from benchleaf.edges.files import read_library
from benchleaf.edges.shares import check_in_shares
from benchleaf.frozen import dataclass
from benchleaf.link import link
from benchleaf.shape import shape
from benchleaf.source import AssetInfo, Source

if TYPE_CHECKING:
    from benchleaf.pages.page import Manual
    from benchleaf.site_paper import PaperOrder


@dataclass(frozen=True)
class Checked:
    """A library that was read and checked, with everything there is to say about it."""

    derived: Derived
    findings: tuple[Finding, ...]
    sources: tuple[Source, ...]

    @property
    def has_errors(self) -> bool:
        return any(one.is_error for one in self.findings)


def check_sources(
    sources: Iterable[Source],
    assets: Iterable[AssetInfo] = (),
    found: Iterable[Finding] = (),
    run: Callable[[Derived], Iterable[Finding]] = run_checks,
) -> Checked:
    """Everything from text to findings, without a disk. Checks run on what could be read, even beside errors."""
    sources = tuple(sources)
    shaped, misfits = shape(sources)
    library, dead = link(shaped, assets)
    derived = Derived(library)
    findings = in_order((*found, *misfits, *dead, *_not_told_twice(run(derived), dead)))
    return Checked(derived, findings, sources)


def _not_told_twice(findings: Iterable[Finding], dead: Iterable[Finding]) -> Iterator[Finding]:
    """Without the replay's word on what is not on a machine where the name is declared nowhere: that was said."""
    names = {(one.place.file, one.place.line, one.place.column) for one in dead}
    for one in findings:
        file, line, column = one.place.file, one.place.line, one.place.column
        columns = range(column, one.place.end_column or column + 1)
        if one.code != "not-there" or not any((file, line, each) in names for each in columns):
            yield one


def load(content: Path) -> Checked:
    """Read and check the records in a folder."""
    with _nothing_collected():
        return check_sources(*read_library(content), run=check_in_shares)


def read(content: Path) -> Derived:
    """The records in a folder without a single check: for commands that answer one question about what is recorded."""
    with _nothing_collected():
        sources, assets, _ = read_library(content)
        shaped, _ = shape(sources)
        library, _ = link(shaped, assets)
        return Derived(library)


@contextmanager
def _nothing_collected() -> Iterator[None]:
    """Records are trees that all stay: looking for rings in them again and again would take a third of the time."""
    collects = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        gc.freeze()
        gc.unfreeze()  # all there is now counts as old: the next small collection need not walk every record
        if collects:
            gc.enable()


def compile_site(content: Path, paper: PaperOrder | None = None) -> Manual:
    """Read, check and make every page of the manual in a folder; drawing libraries are imported only here.

    With ``paper`` its PDFs are set first: what cannot be printed is an error like any other.
    """
    from benchleaf.site import manual_of

    checked, folder = load(content), content.resolve()
    if paper is None or checked.has_errors:
        return manual_of(checked, folder)
    from benchleaf.site_paper import site_paper

    printed = site_paper(checked, folder, paper)
    found = in_order((*checked.findings, *printed.findings))
    manual = manual_of(replace(checked, findings=found), folder, printed.links)
    return replace(manual, assets=chain(printed.assets, manual.assets))
