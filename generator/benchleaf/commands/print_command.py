"""``benchleaf print``: one procedure as a PDF for the bench."""

from __future__ import annotations

from pathlib import Path

import click

from benchleaf.commands.options import content_option
from benchleaf.commands.paper_options import book_or_refuse, paper_option, subject_or_refuse, variant_options, write_pdf
from benchleaf.commands.procedure_ref import machine_or_procedure, ref_argument, refuse
from benchleaf.pipeline import Checked, load


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

    REF may be a machine alone: its whole manual, with contents and index. It may be machine/GOAL-ITEM with reach,
    remove or replace as the goal (fp420/replace-A1): the derived procedure, where no author wrote one of that id.
    Without --variant or --serial it is for every machine, and says at each place which ones it means.
    """
    from benchleaf.paper import manual
    from benchleaf.paper.procedure import sheet

    checked = load(content)
    if _derived(checked, content, ref, variant, serial, paper, output):
        return
    machine, procedure = machine_or_procedure(checked.derived.library, ref)
    if procedure is None:
        mbook, pictures, size = book_or_refuse(checked, content, machine, variant, serial, paper)
        write_pdf(checked, machine, manual.sheet(mbook, pictures, size, variant=variant, serial=serial), output)
        return
    subject, pictures, size = subject_or_refuse(checked, content, machine, procedure, variant, serial, paper)
    write_pdf(checked, machine, sheet(subject, pictures, size), output)


def _derived(
    checked: Checked, content: Path, ref: str, variant: str | None, serial: str | None, paper: str, output: Path
) -> bool:
    """Print the derived procedure ``ref`` names; false when it names none, or what an author wrote."""
    from benchleaf.paper import derived
    from benchleaf.paper.subject import NotFor

    name, _, own = ref.partition("/")
    machine = checked.derived.library.machines.get(name)
    if machine is None or own in machine.procedures or not own.startswith(tuple(f"{goal}-" for goal in derived.GOALS)):
        return False
    mbook, pictures, size = book_or_refuse(checked, content, machine, variant, serial, paper)
    found = derived.goal_and_item(mbook, own)
    if found is None:
        return False
    if serial is not None:
        refuse("A derived procedure is printed for a variant or for all: leave --serial out.")
    try:
        write_pdf(checked, machine, derived.sheet(mbook, *found, pictures, size, variant=variant), output)
    except NotFor as reason:
        refuse(str(reason))
    return True
