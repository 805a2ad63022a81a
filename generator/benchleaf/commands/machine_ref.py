"""The argument REF of commands about a machine or one of its procedures, and which machine as built is meant."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TypeVar

import click

from benchleaf.built import Built
from benchleaf.commands.procedure_ref import refuse
from benchleaf.derived import Derived
from benchleaf.edges.files import write_files
from benchleaf.model import Machine
from benchleaf.records.teardown import TeardownRecord
from benchleaf.suggest import closest

T = TypeVar("T")
svg_option = click.option(
    "--svg", type=click.Path(path_type=Path, dir_okay=False), help="Write the drawing into this file."
)


def machine_of(derived: Derived, name: str) -> Machine:
    """The machine of that id; leaves with 2 and a suggestion when there is none."""
    machines = derived.library.machines
    if name not in machines:
        refuse(f"There is no machine '{name}'.{near(name, machines)}")
    return machines[name]


def machine_and_procedure(derived: Derived, ref: str) -> tuple[Machine, TeardownRecord | None]:
    """``fp420`` is a machine, ``fp420/draw-tray`` one of its procedures; leaves with 2 when there is none."""
    name, _, procedure = ref.partition("/")
    machine = machine_of(derived, name)
    if procedure and procedure not in machine.procedures:
        refuse(f"There is no procedure '{ref}'.{near(procedure, machine.procedures)}")
    return machine, machine.procedures[procedure] if procedure else None


def builts_on(derived: Derived, machine: Machine, on: str | None) -> tuple[Built, ...]:
    """The machine in every configuration, or in the one that ``on`` describes; leaves with 2 when none fits."""
    builts = derived.all_built(machine)
    kept = tuple(one for one in builts if on is None or one.configuration.label == on)
    if not kept:
        refuse(f"{machine.id} is not known as '{on}'. It is: {'; '.join(one.configuration.label for one in builts)}.")
    return kept


def alike(builts: Iterable[Built], make: Callable[[Built], T]) -> list[tuple[T, list[str]]]:
    """What is made of each machine as built, each different result once, with the machines it holds on."""
    found: list[tuple[T, list[str]]] = []
    for built in builts:
        made = make(built)
        same = next((labels for value, labels in found if value == made), None)
        if same is None:
            found.append((made, [built.configuration.label]))
        else:
            same.append(built.configuration.label)
    return found


def near(name: str, known: Iterable[str]) -> str:
    """`` Did you mean '…'?`` for a name that is close, else what there is."""
    names = tuple(map(str, known))
    found = closest(name, names)
    if found:
        return f" Did you mean '{found[0]}'?"
    return f" There are: {', '.join(names)}." if names else ""


def write_drawing(path: Path, svg: str) -> None:
    """Write a drawing and say so."""
    write_files(path.parent, {path.name: svg})
    click.echo(f"{path} written")


def table_lines(headers: Iterable[str], rows: Iterable[Iterable[str]]) -> list[str]:
    """A table for a terminal, columns as wide as their widest cell."""
    cells = [[*headers], *([*row] for row in rows)]
    widths = [max(len(row[n]) for row in cells) for n in range(len(cells[0]))]
    return ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in cells]
