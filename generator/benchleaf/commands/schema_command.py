"""``benchleaf schema``: JSON Schemas for editor completion."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click

from benchleaf.edges.files import write_files
from benchleaf.json_schema import all_schemas
from benchleaf.suggest import closest


@click.command("schema", short_help="Write JSON Schemas for editors.")
@click.argument("kind", required=False)
@click.option(
    "--to", "folder", type=click.Path(path_type=Path, file_okay=False), help="Write every schema into a folder."
)
def command(kind: str | None, folder: Path | None) -> None:
    """Print the JSON Schema of a record KIND, or write those of all kinds into a folder.

    An editor that knows YAML schemas completes keys and shows what each means, if the record's first line is a
    comment such as: # yaml-language-server: $schema=../schema/machine.json
    """
    schemas = all_schemas()
    if folder is not None:
        write_files(folder, {f"{name}.json": _text(schema) for name, schema in schemas.items()})
        click.echo(f"{len(schemas)} schemas written to {folder}")
        return
    if kind is None:
        click.echo("\n".join(schemas))
        return
    if kind not in schemas:
        near = closest(kind, tuple(schemas))
        click.echo(f"There is no record kind '{kind}'." + (f" Did you mean '{near[0]}'?" if near else ""), err=True)
        sys.exit(2)
    click.echo(_text(schemas[kind]), nl=False)


def _text(schema: object) -> str:
    return json.dumps(schema, indent=2, ensure_ascii=False, sort_keys=False) + "\n"
