"""``benchleaf print``: one procedure as a PDF for the bench."""

from __future__ import annotations

from pathlib import Path

import click

from benchleaf.commands.options import content_option
from benchleaf.commands.paper_options import paper_option, subject_or_refuse, variant_options, write_pdf
from benchleaf.commands.procedure_ref import procedure_of, ref_argument
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

    Without --variant or --serial it is for every machine, and says at each place which ones it means.
    """
    from benchleaf.paper.procedure import sheet

    checked = load(content)
    machine, procedure = procedure_of(checked.derived.library, ref)
    subject, pictures, size = subject_or_refuse(checked, content, machine, procedure, variant, serial, paper)
    write_pdf(checked, subject, sheet(subject, pictures, size), output)
