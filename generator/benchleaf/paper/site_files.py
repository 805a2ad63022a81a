"""PDFs for the site: every sheet of a procedure by its path beside the procedure's page, ready to be set and linked."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding
from benchleaf.frozen import dataclass
from benchleaf.pages.book import Book
from benchleaf.paper.glyphs import glyph_findings
from benchleaf.paper.sheet import Paper, Sheet
from benchleaf.paper.sheet_kinds import SHEET_KINDS, Pictures
from benchleaf.paper.subject import NotFor, subject_of
from benchleaf.records.teardown import TeardownRecord


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperFile:
    """One PDF of the site before it is set: where it goes, what it is called in a link, the record files it is from."""

    path: str
    words: str
    kind: str
    sheet: Sheet
    inputs: tuple[str, ...]


def paper_files(
    book: Book, machine: str, procedure: TeardownRecord, pictures: Pictures, paper: Paper = "a4"
) -> Iterator[PaperFile]:
    """Every sheet of a procedure that holds something, the same for the same records.

    Raises nothing: a procedure that is for no machine gives no file, so that no link is ever dead. Set each with
    ``edges.pdf.pdf_of`` (``NotPrinted`` when a picture is broken); ask ``paper_findings`` for missing characters first.
    """
    mbook = book.machine(machine)
    try:
        subject = subject_of(mbook, procedure)
    except NotFor:
        return
    home = mbook.at.procedure(procedure.id).rpartition("/")[0]
    for kind in SHEET_KINDS:
        made = kind.make(subject, pictures, paper)
        if not made.nothing:
            yield PaperFile(
                path=f"{home}/paper/{made.name}.pdf",
                words=f"{kind.name.replace('-', ' ').capitalize()}: {kind.words}",
                kind=kind.name,
                sheet=made,
                inputs=(procedure.place.file, mbook.machine.file),
            )


def paper_findings(derived: Derived, machine: str, sheet: Sheet) -> tuple[Finding, ...]:
    """Characters of a sheet that no shipped font has, each at its place in the records."""
    library = derived.library
    records = (*library.machines[machine].records(), library.shop, library.safety, library.tools, library.supplies)
    return glyph_findings(sheet.data, records)
