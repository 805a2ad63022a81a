"""The PDFs of a site: every sheet set and put on the shelf before a page is written, so that no link is dead.

A sheet that cannot be set is a finding at its record like any other error: then nothing of the site is written.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import field
from pathlib import Path
from typing import Any

from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, in_order
from benchleaf.edges.graphviz_edge import drawn
from benchleaf.edges.paper_shelf import Shelf, key_of
from benchleaf.edges.pdf import NotPrinted
from benchleaf.edges.pdf_worker import PdfWorker
from benchleaf.edges.pictures import picture_bytes
from benchleaf.frozen import dataclass
from benchleaf.pages.book import Book
from benchleaf.pages.page import Asset
from benchleaf.pages.papers import PaperLink, Papers
from benchleaf.paper.not_printed import not_printed
from benchleaf.paper.sheet import Paper
from benchleaf.paper.site_files import PaperFile, machine_files, paper_files, paper_findings
from benchleaf.pipeline import Checked

ARTICLES = "articles/"

Progress = Callable[[str, int, int], None]
"""Told what is being set, how much of it is done, and how much there is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperOrder:
    """That PDFs are wanted: on which paper, where they are kept between builds, who is told how far it is
    and, in words, what was made."""

    paper: Paper
    shelf: Path
    progress: Progress
    tell: Callable[[str], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class SitePaper:
    """The PDFs of a site as links and as files to copy. With ``findings`` there are none."""

    links: Papers = field(default_factory=dict)
    assets: tuple[Asset, ...] = ()
    findings: tuple[Finding, ...] = ()


def site_paper(checked: Checked, content: Path, order: PaperOrder) -> SitePaper:
    """Every PDF of the site, from the shelf where nothing it is made from has changed."""
    with PdfWorker() as worker:
        shelf = Shelf(order.shelf, worker.pdf_of)
        key = key_of(_inputs(checked, content, order.paper))
        rows = shelf.listed(key)
        if rows is None:
            rows, findings = _set(checked, content, order, shelf)
            if findings:
                return SitePaper(findings=in_order(findings))
            shelf.keep(key, rows)
        else:
            shelf.kept = len(rows)
    made = _shelved(shelf, rows)
    size = sum(link.size for links in made.links.values() for link in links)
    order.tell(f"{len(rows)} PDFs, {size / 1e6:.1f} MB: {shelf.made} set, {shelf.kept} kept from before")
    return made


def _inputs(checked: Checked, content: Path, paper: Paper) -> Iterator[bytes | str]:
    """All that sheets are made from: the paper, the records, the pictures. Articles are on no sheet."""
    yield paper
    for source in checked.sources:
        if not source.path.startswith(ARTICLES):
            yield source.path
            yield source.text
    assets = checked.derived.library.assets
    for path in sorted(assets):
        if assets[path].kind:
            yield path
            yield picture_bytes(assets, content, path) or b""


Rows = list[dict[str, Any]]


def _set(checked: Checked, content: Path, order: PaperOrder, shelf: Shelf) -> tuple[Rows, list[Finding]]:
    """One sheet after the other, so that none but the one being set stands in memory."""
    rows: Rows = []
    findings: dict[Finding, None] = {}
    done: set[tuple[str, str]] = set()
    total = sum(1 + len(machine.procedures) for machine in checked.derived.library.machines.values())
    for file in _files(checked, content, order.paper):
        if (file.machine, file.procedure) not in done:
            order.progress(f"{file.machine}/{file.procedure}".rstrip("/"), len(done), total)
            done.add((file.machine, file.procedure))
        found = _wrong(checked.derived, file)
        if not found:
            try:
                rows.append(_row(file, shelf.shelve(file.sheet)))
            except NotPrinted as error:
                found = (not_printed(file.sheet, file.place, error.reason, error.picture),)
        findings |= dict.fromkeys(found)
    order.progress("", total, total)
    return rows, list(findings)


def _files(checked: Checked, content: Path, paper: Paper) -> Iterator[PaperFile]:
    book, assets = Book(checked.derived, drawn), checked.derived.library.assets

    def pictures(path: str) -> bytes | None:
        return picture_bytes(assets, content, path)

    for mbook in book.machines():
        for procedure in mbook.machine.procedures.values():
            yield from paper_files(book, str(mbook.machine.id), procedure, pictures, paper)
        yield from machine_files(mbook, pictures, paper)


def _wrong(derived: Derived, file: PaperFile) -> tuple[Finding, ...]:
    return paper_findings(derived, file.machine, file.sheet)


def _row(file: PaperFile, key: str) -> dict[str, Any]:
    kept = ("path", "title", "words", "machine", "procedure")
    return {name: getattr(file, name) for name in kept} | {"inputs": list(file.inputs), "pdf": key}


def _shelved(shelf: Shelf, rows: Rows) -> SitePaper:
    links: dict[tuple[str, str], list[PaperLink]] = {}
    assets = []
    for row in rows:
        file = shelf.pdf(row["pdf"])
        link = PaperLink(path=row["path"], title=row["title"], words=row["words"], size=file.stat().st_size)
        links.setdefault((row["machine"], row["procedure"]), []).append(link)
        assets.append(Asset(path=row["path"], source=str(file), inputs=tuple(row["inputs"])))
    return SitePaper(links={key: tuple(found) for key, found in links.items()}, assets=tuple(assets))
