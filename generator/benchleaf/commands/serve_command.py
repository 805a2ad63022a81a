"""``benchleaf serve``: build, show, and build again whenever a record is saved."""

from __future__ import annotations

import sys

import click

from benchleaf.commands.build_command import config_argument
from benchleaf.report import FAILED


@click.command("serve", short_help="Show the site and rebuild it on every change.")
@config_argument
@click.option("--address", metavar="IP:PORT", help="Where to serve it [default: 127.0.0.1:8000].")
def command(config: str, address: str | None) -> None:
    """Build the site that CONFIG (default: site_demo/mkdocs.yml) describes, serve it, and rebuild on every change.

    While a record is wrong the last good site is served and the findings are printed.
    """
    from mkdocs.exceptions import MkDocsException

    from benchleaf.mkdocs_plugin import serve_manual

    try:
        serve_manual(config, address=address)
    except MkDocsException as error:
        click.echo(str(error), err=True)
        sys.exit(FAILED)
