"""``benchleaf check``: everything that is wrong with the records, in one run."""

from __future__ import annotations

import gc
import sys
from pathlib import Path

import click

from benchleaf.commands.options import content_argument
from benchleaf.pipeline import load
from benchleaf.report import CLEAN, ERRORS, FAILED, exit_code, render_ci, render_json, render_text


@click.command("check", short_help="Check the records.")
@content_argument
@click.option("--format", "form", type=click.Choice(["text", "json", "ci"]), default="text", help="How to say it.")
@click.option("--strict", is_flag=True, help="Leave with 1 on warnings too.")
def command(content: Path, form: str, strict: bool) -> None:
    """Check the records in CONTENT (default: content) and say everything that is wrong.

    Leaves with 0 when nothing is wrong or there are only warnings, 1 on errors, 2 when CONTENT cannot be read.
    """
    gc.disable()  # the process ends with the command
    checked = load(content)
    if form == "json":
        click.echo(render_json(checked.findings), nl=False)
    elif form == "ci":
        click.echo(render_ci(checked.findings, f"{content.as_posix()}/"), nl=False)
    else:
        click.echo(render_text(checked.findings, checked.sources, colour=sys.stdout.isatty()), nl=False)
    if any(one.code == "content-missing" for one in checked.findings):
        sys.exit(FAILED)
    code = exit_code(checked.findings)
    sys.exit(ERRORS if strict and checked.findings and code == CLEAN else code)
