"""Which machine a command is about: its variant and modifications, or every configuration when nothing is said."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Mapping
from typing import Any, NoReturn, TypeVar

import click

from benchleaf.applicability import Configuration
from benchleaf.built import Built
from benchleaf.derived import Derived
from benchleaf.model import Machine
from benchleaf.suggest import closest

NONE = "none"
F = TypeVar("F", bound=Callable[..., Any])


def configuration_options(command: F) -> F:
    """The options ``--variant V`` and ``--with MODIFICATION``."""
    chosen = click.option("--variant", help="Only this variant of the maker.")
    fitted = click.option(
        "--with", "fitted", multiple=True, metavar="MODIFICATION",
        help="With this modification; may be said several times. `none`: as the maker built it.",
    )  # fmt: skip
    return chosen(fitted(command))


def refuse(message: str) -> NoReturn:
    """Say what is wrong with the command line and stop."""
    click.echo(message, err=True)
    sys.exit(2)


def named(what: str, name: str, known: Iterable[str]) -> str:
    """``name`` when it is known; else the command stops with what was probably meant."""
    choices = list(known)
    if name in choices:
        return name
    near = closest(name, tuple(choices))
    help = f" Did you mean '{near[0]}'?" if near else f" Known are: {', '.join(choices) or 'none'}."
    refuse(f"There is no {what} '{name}'.{help}")


def machine_named(derived: Derived, name: str) -> Machine:
    machines: Mapping[str, Machine] = derived.library.machines
    return machines[named("machine", name, machines)]


def chosen_built(derived: Derived, machine: Machine, variant: str | None, fitted: tuple[str, ...]) -> tuple[Built, ...]:
    """The machine as built in every configuration asked about, serials left out where they change nothing more.

    Saying a modification means with exactly those; saying only a variant leaves the modifications open.
    """
    record = machine.record
    if variant is not None:
        variants = list(record.variants) or [one.configuration.variant for one in derived.all_built(machine)[:1]]
        named("variant of " + machine.id, variant, variants)
    wanted = frozenset(one for one in fitted if one != NONE)
    for one in sorted(wanted):
        named("modification of " + machine.id, one, record.modifications)
    return tuple(
        built
        for built in derived.all_built(machine)
        if (variant is None or built.configuration.variant == variant)
        and (not fitted or built.configuration.modifications == wanted)
        and not _is_repeat(derived, machine, built.configuration)
    )


def _is_repeat(derived: Derived, machine: Machine, configuration: Configuration) -> bool:
    """Whether a serial's configuration is the same machine as one without a serial."""
    plain = Configuration(configuration.variant, configuration.modifications)
    return configuration.serial is not None and plain in derived.configurations(machine)
