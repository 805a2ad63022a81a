"""An option that takes a quantity, read by the records' own grammar, refused with that grammar's own words."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import click

from benchleaf.values.quantity import Dimension, Quantity, read_quantity

C = TypeVar("C", bound=Callable[..., Any])


def quantity_option(flag: str, dimension: Dimension, help: str) -> Callable[[C], C]:
    """``--engaged 6mm`` as a `Quantity`, or ``None`` when it is left out."""

    def read(ctx: click.Context, param: click.Parameter, given: str | None) -> Quantity | None:
        if given is None:
            return None
        found = read_quantity(given, expected=dimension)
        if isinstance(found, Quantity):
            return found
        raise click.BadParameter(f"{found.message}: {found.help}", ctx, param)

    return click.option(flag, callback=read, metavar="QUANTITY", help=help)
