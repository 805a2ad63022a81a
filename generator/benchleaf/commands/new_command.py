"""``benchleaf new``: a small library to begin from."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from benchleaf.edges.files import write_files
from benchleaf.starter import files


@click.command("new", short_help="Make a starter library.")
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False))
def command(folder: Path) -> None:
    """Make a starter library in FOLDER: one machine, one procedure, one code, one symptom. It checks clean.

    Nothing that is there already is touched: FOLDER has to be new or empty.
    """
    if folder.exists() and any(folder.iterdir()):
        click.echo(f"{folder} is not empty; nothing was written. Name a new folder.", err=True)
        sys.exit(2)
    write_files(folder, files())
    click.echo(f"A starter library is in {folder}. Next:\n")
    click.echo(f"    cd {folder}\n    benchleaf check\n    benchleaf build mkdocs.yml\n")
    click.echo("Then open site/index.html, and change content/my-machine/machine.yaml into a machine of yours.")
