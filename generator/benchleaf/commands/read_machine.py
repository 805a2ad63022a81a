"""Reads the library for one machine, and refuses to answer from records of it that could not be read whole.

What a mistake keeps from being read is missing from every answer, and a source that is missing looks dead.
"""

from __future__ import annotations

import sys
from pathlib import Path

import click

from benchleaf.commands.configuration_options import machine_named
from benchleaf.derived import Derived
from benchleaf.edges.files import read_library
from benchleaf.link import folder_of, link
from benchleaf.model import Machine
from benchleaf.shape import shape

MOST = 5


def read_machine(content: Path, name: str) -> tuple[Derived, Machine]:
    """The library and the machine; stops with the mistakes when the machine's own records have any."""
    sources, assets, found = read_library(content)
    shaped, misfits = shape(sources)
    library, dead = link(shaped, assets)
    derived = Derived(library)
    errors = [one for one in (*found, *misfits, *dead) if one.is_error]
    if name not in library.machines and errors:
        _stop(f"There is no machine '{name}' among what could be read", [f"{e.place}: {e.message}" for e in errors])
    machine = machine_named(derived, name)
    mine = [one for one in errors if folder_of(one.place.file) == machine.folder]
    if mine:
        why = f"The records of {name} cannot all be read, and what is missing could be live"
        _stop(why, [f"{one.place}: {one.message}" for one in mine])
    return derived, machine


def _stop(why: str, lines: list[str]) -> None:
    click.echo(f"{why}:", err=True)
    for line in lines[:MOST]:
        click.echo(f"  {line}", err=True)
    if len(lines) > MOST:
        click.echo(f"  and {len(lines) - MOST} more", err=True)
    click.echo("Mend them first: benchleaf check", err=True)
    sys.exit(1)
