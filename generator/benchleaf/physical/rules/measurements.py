"""Measurements: reached, on dead parts for resistance, declared and supplied for voltage."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.physical.acts import Problem
from benchleaf.physical.expected_readings import WITH_POWER, expected, value_of
from benchleaf.physical.look import Look, unmet_words, way_out
from benchleaf.physical.state import PROVED
from benchleaf.values.quantity import Dimension, Quantity


def _contacts(look: Look) -> tuple[str, ...]:
    measure = look.act.action.measure
    if measure is None:
        return ()
    if measure.between is not None:
        return tuple(str(one) for one in measure.between)
    value = value_of(measure, look.ground.built.items)
    return tuple(str(one) for one in value.between) if value is not None and value.between is not None else ()


def _expected(look: Look) -> Quantity | None:
    return expected(look.act.action.measure, look.ground.built.items)


def needs_power(look: Look) -> bool:
    """Whether what is measured is there only with power on. Not said: a resistance, so that the dead rules hold."""
    quantity = _expected(look)
    return quantity.dimension in WITH_POWER if quantity is not None else look.is_powered


def _is_electrical(look: Look) -> bool:
    quantity = _expected(look)
    return quantity is None or quantity.dimension in (*WITH_POWER, Dimension.RESISTANCE, Dimension.CAPACITANCE)


def measure_reached(look: Look) -> Iterator[Problem]:
    """Rule 1 for test points."""
    points = _contacts(look) or ((look.act.what.partition(".")[0],) if look.act.what else ())
    told: set[str] = set()
    for point in points:
        owner = look.ground.owner(point) if "." in point else point
        unmet = look.ground.unmet(look.state, look.ground.reach_of(owner))
        if unmet and owner not in told:
            told.add(owner)
            message = f"{point} cannot be reached: {unmet_words(unmet)}"
            yield look.problem("out-of-reach", message, f"first {way_out(unmet)}, or mend `reach` of {owner}")


def dead_first(look: Look) -> Iterator[Problem]:
    """Rule 12: no resistance or continuity test on what is not proved dead."""
    if needs_power(look) or not _is_electrical(look):
        return
    live = look.ground.liveness
    items = {look.ground.item_of(point) or look.ground.owner(point) for point in _contacts(look)}
    items |= {look.act.what.partition(".")[0]} if look.act.what else set()
    for item in sorted(items):
        energies = live.at.get(item) or live.of_connector.get(item, ())
        electrical = [name for name in energies if _kind(look, name) == "electrical"]
        left = [name for name in electrical if look.state.energies.get(name) != PROVED]
        if left:
            said = look.state.energy(left[0]) or "energised"
            message = f"a resistance is measured at {item} while {left[0]} is {said}, not proved dead"
            yield look.problem("measured-live", message, f"first `prove dead: {left[0]}`")
            return


def _kind(look: Look, name: str) -> str:
    energy = look.ground.built.energy.get(name)
    return energy.kind if energy is not None else "electrical"


def powered_first(look: Look) -> Iterator[Problem]:
    """Rule 12: a powered test is declared, and there is power."""
    if not needs_power(look):
        return
    electrical = [name for name, one in look.ground.built.energy.items() if one.kind == "electrical"]
    if not look.is_powered:
        help = "say in the step why it needs power: `powered: …`, and `covers:`"
        message = "a voltage or current is measured in a step that is not `powered`"
        yield look.problem("powered-undeclared", message, help)
    elif electrical and all(look.state.energy(name) for name in electrical):
        help = f"first `energise: {electrical[0]}`"
        yield look.problem("no-power", "a powered test, while every electrical energy is isolated", help)
