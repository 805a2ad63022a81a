"""``benchleaf print``: one procedure as a PDF for the bench."""

from __future__ import annotations

from pathlib import Path

import click

from benchleaf.commands.options import content_option
from benchleaf.commands.paper_options import book_or_refuse, paper_option, subject_or_refuse, variant_options, write_pdf
from benchleaf.commands.procedure_ref import machine_or_procedure, ref_argument
from benchleaf.pipeline import load


@click.command("print", short_help="Print a procedure as a PDF.")
@ref_argument
@content_option
@variant_options
@paper_option
@click.option(
    "-o", "--output", type=click.Path(path_type=Path, dir_okay=False), required=True, help="The PDF to write."
)
def command(ref: str, content: Path, variant: str | None, serial: str | None, paper: str, output: Path) -> None:
    """Print the procedure REF (machine/procedure) with everything a technician needs at the bench.

    REF may be a machine alone: its whole manual, with contents and index. Without --variant or --serial it is for every
    machine, and says at each place which ones it means.
    """
    from benchleaf.paper import manual
    from benchleaf.paper.procedure import sheet

    checked = load(content)
    machine, procedure = machine_or_procedure(checked.derived.library, ref)
    if procedure is None:
        mbook, pictures, size = book_or_refuse(checked, content, machine, variant, serial, paper)
        write_pdf(checked, machine, manual.sheet(mbook, pictures, size, variant=variant, serial=serial), output)
        return
    subject, pictures, size = subject_or_refuse(checked, content, machine, procedure, variant, serial, paper)
    write_pdf(checked, machine, sheet(subject, pictures, size), output)
