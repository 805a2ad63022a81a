"""``benchleaf build``: the manual site, exactly as ``mkdocs build`` makes it."""

from __future__ import annotations

import sys

import click

from benchleaf.report import CLEAN, FAILED

CONFIG = "site_demo/mkdocs.yml"

config_argument = click.argument("config", type=click.Path(exists=True, dir_okay=False), default=CONFIG)


@click.command("build", short_help="Build the manual site.")
@config_argument
@click.option("--strict", is_flag=True, help="Treat warnings as errors.")
@click.option("--paper", is_flag=True, help="PDFs too: every procedure with its sheets, every machine's manual.")
@click.option("--paper-size", type=click.Choice(["a4", "letter"]), help="Size of their paper; means --paper.")
def command(config: str, strict: bool, paper: bool, paper_size: str | None) -> None:
    """Build the manual site that CONFIG (default: site_demo/mkdocs.yml) describes.

    Records are checked first: with an error nothing is written and the last good site stays. Leaves with 0 when the
    site was written, 2 when it was not. With --paper a sheet that cannot be printed is an error too; PDFs are kept in
    .cache beside CONFIG, so that only what changed is made again.
    """
    from mkdocs.exceptions import MkDocsException

    from benchleaf.mkdocs_plugin import build_manual

    try:
        said = build_manual(config, strict=strict, paper=paper_size or ("a4" if paper else None))
    except MkDocsException as error:
        click.echo(str(error), err=True)
        sys.exit(FAILED)
    if said:
        click.echo(said)
    sys.exit(CLEAN)
