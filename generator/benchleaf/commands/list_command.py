"""``benchleaf list``: what the library holds."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import click

from benchleaf.commands.options import content_argument, json_option
from benchleaf.model import Library
from benchleaf.pipeline import load


@click.command("list", short_help="List what the library holds.")
@content_argument
@json_option
def command(content: Path, as_json: bool) -> None:
    """List the machines, procedures, codes and symptoms in CONTENT, each with the REF that other commands take."""
    listed = listing_of(load(content).derived.library)
    if as_json:
        click.echo(json.dumps(listed, indent=2, ensure_ascii=False))
        return
    for kind, rows in listed.items():
        click.echo(f"{kind} ({len(rows)})")
        width = max((len(row["ref"]) for row in rows), default=0)
        for row in rows:
            click.echo(f"  {row['ref']:<{width}}  {row['title']}")


def listing_of(library: Library) -> dict[str, list[dict[str, Any]]]:
    """``machines``, ``procedures``, ``codes``, ``symptoms``: each row has ``ref``, ``title``, ``file``, ``line``."""
    machines, procedures, codes, symptoms = [], [], [], []
    for machine in library.machines.values():
        record = machine.record
        machines.append(
            _row(machine.id, machine.name, record, variants=[*record.variants], modifications=[*record.modifications])
        )
        procedures += [
            _row(f"{machine.id}/{p.id}", p.title, p, steps=len(p.steps)) for p in machine.procedures.values()
        ]
        codes += [_row(f"{machine.id}/{c.code}", c.means or "meaning not recorded", c) for c in machine.codes.values()]
        symptoms += [
            _row(f"{machine.id}/{s.id}", s.title or (s.heard_as[0] if s.heard_as else s.id), s)
            for s in machine.symptoms.values()
        ]
    return {"machines": machines, "procedures": procedures, "codes": codes, "symptoms": symptoms}


def _row(ref: str, title: str, record: Any, **more: Any) -> dict[str, Any]:
    facts: Mapping[str, Any] = {"ref": ref, "title": str(title), "file": record.place.file, "line": record.place.line}
    return {**facts, **more}
