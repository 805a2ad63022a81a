"""What the commands that print share: for which machine, on which paper, and how a sheet that cannot be set is told."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn, TypeVar

import click

from benchleaf.commands.procedure_ref import refuse
from benchleaf.model import Machine
from benchleaf.pipeline import Checked
from benchleaf.records.teardown import TeardownRecord
from benchleaf.report import ERRORS, render_text

if TYPE_CHECKING:
    from benchleaf.pages.book import MachineBook
    from benchleaf.paper.sheet import Paper, Sheet
    from benchleaf.paper.subject import Subject

F = TypeVar("F", bound=Callable[..., None])

paper_option = click.option(
    "--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="Size of the paper."
)


def variant_options(function: F) -> F:
    """``--variant`` and ``--serial``, of which one may be given."""
    one = click.option("--variant", metavar="V", help="Only for this variant.")
    other = click.option("--serial", metavar="N", help="Only for this serial; hazards stay those of every machine.")
    return one(other(function))


def book_or_refuse(
    checked: Checked, content: Path, machine: Machine, variant: str | None, serial: str | None, paper: str
) -> tuple[MachineBook, Callable[[str], bytes | None], Paper]:
    """The machine to print of, its pictures and the paper; leaves with 2 when records have errors."""
    from benchleaf.edges.graphviz_edge import drawn
    from benchleaf.edges.pictures import picture_bytes
    from benchleaf.pages.book import Book
    from benchleaf.paper.sheet import PAPERS

    if variant is not None and serial is not None:
        refuse("Give --variant or --serial, not both: a serial already says which variant it is.")
    if checked.has_errors:
        refuse("The records have errors, so nothing is printed. `benchleaf check` names them.")
    book, assets = Book(checked.derived, drawn), checked.derived.library.assets
    return book.machine(machine.id), lambda path: picture_bytes(assets, content, path), PAPERS[paper]


def subject_or_refuse(
    checked: Checked,
    content: Path,
    machine: Machine,
    procedure: TeardownRecord | None,
    variant: str | None,
    serial: str | None,
    paper: str,
) -> tuple[Subject, Callable[[str], bytes | None], Paper]:
    """What to print for, without a procedure the whole machine; leaves with 2 when records have errors or the
    procedure is for no such machine."""
    from benchleaf.paper.subject import NotFor, machine_subject, subject_of

    mbook, pictures, size = book_or_refuse(checked, content, machine, variant, serial, paper)
    try:
        if procedure is None:
            return machine_subject(mbook, variant=variant, serial=serial), pictures, size
        return subject_of(mbook, procedure, variant=variant, serial=serial), pictures, size
    except NotFor as reason:
        refuse(str(reason))


def refuse_missing_glyphs(checked: Checked, machine: Machine, sheets: Iterable[Sheet]) -> None:
    """Leaves with 1 and the place of every character no shipped font has."""
    from benchleaf.paper.site_files import paper_findings

    findings = [one for sheet in sheets for one in paper_findings(checked.derived, str(machine.id), sheet)]
    if findings:
        click.echo(render_text(findings, checked.sources), err=True)
        raise SystemExit(ERRORS)


def refuse_not_printed(checked: Checked, machine: Machine, sheet: Sheet, reason: str, picture: str | None) -> NoReturn:
    """Leaves with 2 and the place of what stood in the way of a sheet."""
    from benchleaf.paper.not_printed import not_printed

    refuse(render_text((not_printed(sheet, machine.record.place, reason, picture),), checked.sources).rstrip())


def write_pdf(checked: Checked, machine: Machine, sheet: Sheet, output: Path) -> None:
    """Set the sheet and write it; leaves with 2 and the reason when it cannot be set or written."""
    from benchleaf.edges.pdf import NotPrinted, pdf_of

    if output.is_symlink():
        refuse(f"{output} is a link. Name a file to write.")
    refuse_missing_glyphs(checked, machine, (sheet,))
    try:
        data = pdf_of(sheet)
        output.write_bytes(data)
    except NotPrinted as error:
        refuse_not_printed(checked, machine, sheet, error.reason, error.picture)
    except OSError as error:
        refuse(f"{output} cannot be written: {error.strerror}.")
    click.echo(f"{output}: {sheet.title}")
