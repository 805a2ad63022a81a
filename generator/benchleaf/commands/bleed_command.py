"""``benchleaf bleed``: how long a stored charge takes to fall, always with the measurement that follows."""

from __future__ import annotations

import json
from typing import Any

import click

from benchleaf.commands.options import json_option
from benchleaf.commands.quantity_option import quantity_option
from benchleaf.values.bleed_down import BleedDown, Path, StoredCharge, bleed_down
from benchleaf.values.origin import Given, tell
from benchleaf.values.quantity import Dimension, Quantity

STORES = ("capacitor", "battery", "supercapacitor", "other")


@click.command("bleed", short_help="How long a charge takes to fall.")
@quantity_option("--capacitance", Dimension.CAPACITANCE, 'Such as "100 uF ± 20 %".')
@quantity_option("--voltage", Dimension.VOLTAGE, 'What it is charged to: "325 V DC".')
@quantity_option("--resistance", Dimension.RESISTANCE, 'Of the bleed path: "390 kohm ± 5 %".')
@quantity_option("--limit", Dimension.VOLTAGE, "The voltage to fall to; default 60 V DC.")
@click.option("--kind", type=click.Choice(STORES), default="capacitor", show_default=True, help="What holds it.")
@json_option
def command(
    capacitance: Quantity | None,
    voltage: Quantity | None,
    resistance: Quantity | None,
    limit: Quantity | None,
    kind: str,
    as_json: bool,
) -> None:
    """Compute how long a stored charge takes to fall to 60 V DC (IEC 60204-1 6.2.4), worst case.

    The time holds for copper all the way from the charge to the resistor, and only until something opens that way. It
    replaces no measurement. What is not given makes the time unknown.
    """
    typed = {"capacitance": capacitance, "voltage": voltage, "resistance": resistance, "limit": limit}
    store = StoredCharge(
        name="the store",
        capacitance=capacitance,
        voltage=voltage,
        resistance=resistance,
        path=Path.COPPER if resistance is not None else Path.NOT_RECORDED,
        kind="" if kind == "capacitor" else kind,
        origins={key: Given(one.tidy) for key, one in typed.items() if one is not None},
    )
    found = bleed_down(store, limit)
    click.echo(json.dumps(as_data(found), indent=2, ensure_ascii=False) if as_json else "\n".join(found.lines))


def as_data(found: BleedDown) -> dict[str, Any]:
    """The result as plain data. There is no bare number of seconds in it: ``text`` ends in the measurement."""
    return {
        "outcome": found.outcome.value,
        "text": found.text,
        "limit": found.limit.tidy,
        "charge": found.charge.tidy if found.charge is not None else None,
        "energy": found.energy.tidy if found.energy is not None else None,
        "notes": list(found.notes),
        "arithmetic": list(found.arithmetic),
        "origin": list(tell(found.origin)) if found.origin is not None else [],
    }
