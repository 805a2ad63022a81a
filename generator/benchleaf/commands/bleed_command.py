"""``benchleaf bleed``: how long a stored charge takes to fall, always with the measurement that follows."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import click

from benchleaf.commands.options import content_option, json_option
from benchleaf.commands.quantity_option import quantity_option
from benchleaf.pipeline import load
from benchleaf.suggest import closest
from benchleaf.values.bleed_down import BleedDown, StoredCharge, bleed_down
from benchleaf.values.bleed_down import Path as Way
from benchleaf.values.origin import Given, tell
from benchleaf.values.quantity import Dimension, Quantity
from benchleaf.values.stored_of_energy import Stored, not_recorded, stored_of_energy

STORES = ("capacitor", "battery", "supercapacitor", "other")


@click.command("bleed", short_help="How long a charge takes to fall.")
@click.argument("machine", required=False)
@quantity_option("--capacitance", Dimension.CAPACITANCE, 'Such as "100 uF ± 20 %".')
@quantity_option("--voltage", Dimension.VOLTAGE, 'What it is charged to: "325 V DC".')
@quantity_option("--resistance", Dimension.RESISTANCE, 'Of the bleed path: "390 kohm ± 5 %".')
@quantity_option("--limit", Dimension.VOLTAGE, "The voltage to fall to; default 60 V DC.")
@click.option("--kind", type=click.Choice(STORES), default="capacitor", show_default=True, help="What holds it.")
@content_option
@json_option
def command(
    machine: str | None,
    capacitance: Quantity | None,
    voltage: Quantity | None,
    resistance: Quantity | None,
    limit: Quantity | None,
    kind: str,
    content: Path,
    as_json: bool,
) -> None:
    """Compute how long a stored charge takes to fall to 60 V DC (IEC 60204-1 6.2.4), worst case.

    With MACHINE: everything recorded to stay stored in it, and what to do about each.

    The time holds for copper all the way from the charge to the resistor, and only until something opens that way. It
    replaces no measurement. What is not given makes the time unknown.
    """
    if machine is not None:
        _print_stores(content, machine, as_json)
        return
    typed = {"capacitance": capacitance, "voltage": voltage, "resistance": resistance, "limit": limit}
    store = StoredCharge(
        name="the store",
        capacitance=capacitance,
        voltage=voltage,
        resistance=resistance,
        path=Way.COPPER if resistance is not None else Way.NOT_RECORDED,
        kind="" if kind == "capacitor" else kind,
        origins={key: Given(one.tidy) for key, one in typed.items() if one is not None},
    )
    found = bleed_down(store, limit)
    click.echo(json.dumps(as_data(found), indent=2, ensure_ascii=False) if as_json else "\n".join(found.lines))


def _print_stores(content: Path, name: str, as_json: bool) -> None:
    derived = load(content).derived
    machine = derived.library.machines.get(name)
    if machine is None:
        near = closest(name, tuple(derived.library.machines))
        click.echo(f"There is no machine '{name}'." + (f" Did you mean '{near[0]}'?" if near else ""), err=True)
        sys.exit(2)
    builts = derived.all_built(machine)
    stores: dict[tuple[str, ...], tuple[Stored, list[str]]] = {}
    untold: dict[str, list[str]] = {}
    for built in builts:
        for energy in built.energy:
            for one in stored_of_energy(built, energy, derived.library.shop):
                stores.setdefault((str(one.place), *one.lines), (one, []))[1].append(built.configuration.label)
            if words := not_recorded(built, energy):
                untold.setdefault(words, []).append(built.configuration.label)
    if as_json:
        data = [
            {"item": one.item, "energy": one.energy, "place": str(one.place), "only_on": _only(labels, len(builts))}
            | {"holds_while": list(one.holds_while), **as_data(one.result)}
            for one, labels in stores.values()
        ]
        click.echo(json.dumps({"stores": data, "not_recorded": list(untold)}, indent=2, ensure_ascii=False))
        return
    for one, labels in stores.values():
        only = _only(labels, len(builts))
        click.echo(f"{one.charge.name} ({one.place})" + (f", only on {'; '.join(only)}" if only else ""))
        click.echo("\n".join(f"    {line}" for line in one.lines))
    for words in untold:
        click.echo(words)
    if not stores and not untold:
        click.echo(f"Of {machine.name} it is recorded that nothing stays stored, or no electrical energy is recorded.")


def _only(labels: list[str], many: int) -> list[str]:
    return [] if len(labels) == many else labels


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
