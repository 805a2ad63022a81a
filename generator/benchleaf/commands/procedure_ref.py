"""The argument REF of commands about one procedure: ``machine/procedure``, as ``benchleaf list`` prints it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NoReturn

import click

from benchleaf.model import Library, Machine
from benchleaf.physical.replay import Replay
from benchleaf.records.teardown import TeardownRecord
from benchleaf.report import FAILED
from benchleaf.suggest import closest

ref_argument = click.argument("ref")
on_option = click.option("--on", metavar="WORDS", help="Only the machine described so, such as 'mk2 with lift'.")


def procedure_of(library: Library, ref: str) -> tuple[Machine, TeardownRecord]:
    """The procedure ``ref`` names; leaves with 2 and a suggestion when there is none."""
    known = {f"{machine.id}/{one.id}": (machine, one) for machine, one in library.procedures()}
    if ref not in known:
        near = closest(ref, tuple(known))
        refuse(f"There is no procedure '{ref}'." + (f" Did you mean '{near[0]}'?" if near else ""))
    return known[ref]


def machine_or_procedure(library: Library, ref: str) -> tuple[Machine, TeardownRecord | None]:
    """What ``ref`` names: a machine alone, or a procedure of one; leaves with 2 and a suggestion when it is neither."""
    if ref in library.machines:
        return library.machines[ref], None
    return procedure_of(library, ref)


def chosen(replays: Iterable[Replay], on: str | None) -> tuple[Replay, ...]:
    """The replays on the machine described by ``on``; all when it is left out. Leaves with 2 when none fits."""
    everything = tuple(replays)
    kept = tuple(one for one in everything if on is None or one.ground.built.configuration.label == on)
    if not kept:
        labels = tuple(one.ground.built.configuration.label for one in everything)
        refuse(f"It is for no machine '{on}'. It is for: {'; '.join(labels) or 'none'}.")
    return kept


def refuse(message: str) -> NoReturn:
    """Say why a command cannot be carried out, and leave with 2."""
    click.echo(message, err=True)
    raise SystemExit(FAILED)
