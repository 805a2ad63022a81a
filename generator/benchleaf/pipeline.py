"""read | parse → shape → link → check → derive → plan → render | write: the stages put in a row.

Only ``load`` and ``compile_site`` touch the disk. ``check``, ``explain`` and ``list`` go no further than
``check_sources``, so they never import MkDocs or a drawing library.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from benchleaf.checks import run_checks
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, in_order
from benchleaf.edges.files import read_library
from benchleaf.frozen import dataclass
from benchleaf.link import link
from benchleaf.shape import shape
from benchleaf.source import AssetInfo, Source

if TYPE_CHECKING:
    from benchleaf.pages.page import Manual


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
    sources: Iterable[Source], assets: Iterable[AssetInfo] = (), found: Iterable[Finding] = ()
) -> Checked:
    """Everything from text to findings, without a disk. Checks run on what could be read, even beside errors."""
    sources = tuple(sources)
    shaped, misfits = shape(sources)
    library, dead = link(shaped, assets)
    derived = Derived(library)
    findings = in_order((*found, *misfits, *dead, *run_checks(derived)))
    return Checked(derived, findings, sources)


def load(content: Path) -> Checked:
    """Read and check the records in a folder."""
    return check_sources(*read_library(content))


def read(content: Path) -> Derived:
    """The records in a folder without a single check: for commands that answer one question about what is recorded."""
    sources, assets, _ = read_library(content)
    shaped, _ = shape(sources)
    library, _ = link(shaped, assets)
    return Derived(library)


def compile_site(content: Path) -> Manual:
    """Read, check and make every page of the manual in a folder; drawing libraries are imported only here."""
    from benchleaf.site import manual_of

    return manual_of(load(content), content.resolve())
