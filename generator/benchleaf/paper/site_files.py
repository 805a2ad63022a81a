"""PDFs for the site: every sheet of a procedure or a machine by its path beside its page, ready to be set."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place
from benchleaf.frozen import dataclass
from benchleaf.pages.book import Book, MachineBook
from benchleaf.paper import manual
from benchleaf.paper.glyphs import glyph_findings
from benchleaf.paper.pack import pack_of
from benchleaf.paper.sheet import Paper, Sheet
from benchleaf.paper.sheet_kinds import Pictures, kinds_for
from benchleaf.paper.subject import NotFor, Subject, machine_subject, subject_of
from benchleaf.records.teardown import TeardownRecord

PACK = "everything below as one document, the labels last"
MANUAL = "every procedure of this machine, with contents and index"


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperFile:
    """One PDF of the site before it is set: where it goes, what a link calls it, the record files it is from.

    ``procedure`` is empty for a sheet of the whole machine; ``place`` is where its record stands.
    """

    path: str
    title: str
    words: str
    kind: str
    machine: str
    procedure: str
    sheet: Sheet
    inputs: tuple[str, ...]
    place: Place


def paper_files(
    book: Book, machine: str, procedure: TeardownRecord, pictures: Pictures, paper: Paper = "a4"
) -> Iterator[PaperFile]:
    """The pack of a procedure and every sheet of it that holds something, the same for the same records.

    Raises nothing: a procedure that is for no machine gives no file, so that no link is ever dead. Set each with
    ``edges.pdf.pdf_of`` (``NotPrinted`` when a picture is broken); ask ``paper_findings`` for missing characters first.
    """
    mbook = book.machine(machine)
    try:
        subject = subject_of(mbook, procedure)
    except NotFor:
        return
    yield from _files(mbook, subject, pictures, paper)


def machine_files(mbook: MachineBook, pictures: Pictures, paper: Paper = "a4") -> Iterator[PaperFile]:
    """The whole manual of a machine and the sheets that are not of one procedure."""
    subject = machine_subject(mbook)
    yield _file(mbook, subject, "manual", MANUAL, manual.sheet(mbook, pictures, paper))
    yield from _files(mbook, subject, pictures, paper)


def _files(mbook: MachineBook, subject: Subject, pictures: Pictures, paper: Paper) -> Iterator[PaperFile]:
    made = [(kind, kind.make(subject, pictures, paper)) for kind in kinds_for(subject)]
    kept = [(kind, sheet) for kind, sheet in made if not sheet.nothing]
    yield _file(mbook, subject, "pack", PACK, pack_of(subject, (sheet for _, sheet in kept)))
    for kind, sheet in kept:
        yield _file(mbook, subject, kind.name, kind.words, sheet)


def _file(mbook: MachineBook, subject: Subject, kind: str, words: str, sheet: Sheet) -> PaperFile:
    own = "" if subject.is_machine else str(subject.procedure.id)
    home = (mbook.at.procedure(own) if own else mbook.at.home).rpartition("/")[0]
    return PaperFile(
        path=f"{home}/paper/{home.rpartition('/')[2]}-{kind}.pdf",
        title=kind.replace("-", " ").capitalize(),
        words=words,
        kind=kind,
        machine=str(mbook.machine.id),
        procedure=own,
        sheet=sheet,
        inputs=(subject.procedure.place.file, mbook.machine.file) if own else (mbook.machine.file,),
        place=subject.procedure.place,
    )


def paper_findings(derived: Derived, machine: str, sheet: Sheet) -> tuple[Finding, ...]:
    """Characters of a sheet that no shipped font has, each at its place in the records."""
    library = derived.library
    records = (*library.machines[machine].records(), library.shop, library.safety, library.tools, library.supplies)
    return glyph_findings(sheet.data, records)
