"""Arguments and options that several subcommands share."""

from __future__ import annotations

from pathlib import Path

import click

content_argument = click.argument(
    "content", type=click.Path(path_type=Path, exists=True, file_okay=False), default="content"
)
content_option = click.option(
    "--content", type=click.Path(path_type=Path, exists=True, file_okay=False), default="content", show_default=True,
    help="The folder of the records.",
)  # fmt: skip
json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON.")
