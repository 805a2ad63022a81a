"""``benchleaf pack``: a procedure with all its bench sheets, each a PDF and all of them as one, in a folder."""

from __future__ import annotations

from pathlib import Path

import click

from benchleaf.commands.options import content_option
from benchleaf.commands.paper_options import (
    paper_option,
    refuse_missing_glyphs,
    refuse_not_printed,
    subject_or_refuse,
    variant_options,
)
from benchleaf.commands.procedure_ref import machine_or_procedure, ref_argument, refuse
from benchleaf.pipeline import load


@click.command("pack", short_help="Print a procedure with all its bench sheets.")
@ref_argument
@content_option
@variant_options
@paper_option
@click.option("--sheet", "names", multiple=True, metavar="KIND", help="Only this kind of sheet; may be repeated.")
@click.option("--labels", "label_name", metavar="FORMAT", help="The format of the label sheet, such as a4-3x8.")
@click.option(
    "-o", "--output", type=click.Path(path_type=Path, file_okay=False), required=True, help="The folder to write to."
)
def command(
    ref: str,
    content: Path,
    variant: str | None,
    serial: str | None,
    paper: str,
    names: tuple[str, ...],
    label_name: str | None,
    output: Path,
) -> None:
    """Print the procedure REF (machine/procedure) with every bench sheet.

    Labels, screw mat, job sheet, ring-out sheet, shot list, energy-control sheet, state sheet: each a PDF, and all of
    them as one, the labels last. REF may be a machine alone: its energy-control sheet, labels and ring-out sheet.
    """
    from benchleaf.edges.files import OutsideFolder, write_files
    from benchleaf.edges.pdf import NotPrinted, pdf_of
    from benchleaf.paper.label_formats import LABEL_FORMATS
    from benchleaf.paper.labels import sheet as label_sheet
    from benchleaf.paper.pack import pack_of
    from benchleaf.paper.sheet_kinds import kinds_for

    if label_name is not None and label_name not in LABEL_FORMATS:
        refuse(f"There is no label format '{label_name}'. There are: {', '.join(LABEL_FORMATS)}.")
    checked = load(content)
    machine, procedure = machine_or_procedure(checked.derived.library, ref)
    subject, pictures, size = subject_or_refuse(checked, content, machine, procedure, variant, serial, paper)
    kinds = {kind.name: kind for kind in kinds_for(subject)}
    for name in names:
        if name not in kinds:
            refuse(f"There is no sheet '{name}'. There are: {', '.join(kinds)}.")
    sheets = [
        label_sheet(subject, size, LABEL_FORMATS[label_name])
        if name == "labels" and label_name is not None
        else kind.make(subject, pictures, size)
        for name, kind in kinds.items()
        if not names or name in names
    ]
    if not names:
        for one in sheets:
            if one.nothing:
                click.echo(f"{one.name} is left out. {one.nothing}")
        sheets = [one for one in sheets if not one.nothing]
        sheets.append(pack_of(subject, sheets))
    refuse_missing_glyphs(checked, machine, sheets)
    made: dict[str, bytes] = {}
    for one in sheets:
        try:
            made[f"{one.name}.pdf"] = pdf_of(one)
        except NotPrinted as error:
            refuse_not_printed(checked, machine, one, error.reason, error.picture)
    try:
        for path in write_files(output, made):
            click.echo(str(path))
    except OutsideFolder as reason:
        refuse(str(reason))
    except OSError as error:
        refuse(f"{output} cannot be written to: {error.strerror}.")
