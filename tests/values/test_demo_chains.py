"""Every quantity the demo records hold, and every one computed from them, leads back to a line of a record."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from benchleaf.derived import Derived
from benchleaf.diagnostics import Place
from benchleaf.pipeline import Checked, load
from benchleaf.values.callout import callout_of
from benchleaf.values.conductor_of_cable import conductor_of
from benchleaf.values.conductors import expected_resistance
from benchleaf.values.origin import Origin, Recorded, gaps, leaves
from benchleaf.values.stored_of_energy import stored_of_energy
from benchleaf.values.supply_drop import loads_of
from benchleaf.values.torque_of_set import fastener_of, is_driven, judge, limits_of
from benchleaf.values.written import Written, written_in

CONTENT = Path(__file__).parents[2] / "content"


@cache
def demo() -> Checked:
    return load(CONTENT)


def derived() -> Derived:
    return demo().derived


def line_of(place: Place) -> str:
    source = next(one for one in demo().sources if one.path == place.file)
    return source.lines[place.line - 1]


@cache
def everything_written() -> tuple[Written, ...]:
    library = derived().library
    records = [record for machine in library.machines.values() for record in machine.records()]
    shared = [library.shop, library.safety, library.tools, library.supplies]
    return tuple(one for record in (*records, *shared) for one in written_in(record))


def computed() -> list[tuple[str, Origin | None]]:
    """Every number worked out from the demo records, under its name."""
    made: list[tuple[str, Origin | None]] = []
    shop = derived().library.shop
    for machine in derived().library.machines.values():
        for built in derived().all_built(machine):
            for one in built.sets.values():
                if is_driven(one):
                    limits = limits_of(one)
                    every = [*limits.limits, *([limits.screw_alone] if limits.screw_alone else [])]
                    made += [(f"{limit.kind} limit of {one.name}", limit.origin) for limit in every]
                    made += [(f"{found.code} of {one.name}", found.origin) for _, found in judge(one)]
                    made += [(f"callout of {one.name}", origin) for origin in callout_of(one, shop).origins]
            for energy in built.energy:
                for store in stored_of_energy(built, energy, shop):
                    if store.result.origin is not None:
                        made.append((f"wait of {store.item}", store.result.origin))
            made += [(f"drop along {one.cable}", one.drop.origin) for one in loads_of(built) if one.drop.drop]
            for name, cable in built.cables.items():
                expected = expected_resistance(conductor_of(cable, 0))
                made += [(f"resistance of {name}", expected.origin)] if expected.band is not None else []
    return made


def test_the_demo_holds_enough_quantities_for_this_to_mean_something() -> None:
    assert len(everything_written()) > 300
    assert {one.dimension.name for w in everything_written() for o in w.observations if (one := o.quantity)} >= {
        "TORQUE", "LENGTH", "RESISTANCE", "CAPACITANCE", "VOLTAGE", "CURRENT", "TIME", "MASS", "TEMPERATURE", "AREA",
    }  # fmt: skip


def test_every_quantity_of_the_demo_leads_to_the_line_it_is_written_on() -> None:
    for one in everything_written():
        for seen, origin in zip((s for s in one.observations if s.quantity is not None), one.origins, strict=True):
            assert gaps(origin, one.words) == ()
            assert isinstance(origin, Recorded)
            assert seen.quantity is not None
            assert seen.quantity.written in line_of(origin.place), f"{one.words} is not on {origin.place}"


def test_every_number_worked_out_from_the_demo_has_no_gap_in_its_chain() -> None:
    made = computed()
    assert {name.split(" of ")[0].split(" along ")[0] for name, _ in made} >= {
        "screw limit", "thread limit", "torque-over-limit", "callout", "wait", "drop", "resistance",
    }  # fmt: skip
    assert [gap for name, origin in made for gap in gaps(origin, name)] == []


def test_every_recorded_leaf_of_a_chain_is_a_line_that_says_so() -> None:
    for name, origin in computed():
        assert origin is not None
        for leaf in leaves(origin):
            if isinstance(leaf, Recorded):
                assert leaf.value in line_of(leaf.place) or leaf.value.split()[0] in line_of(leaf.place), (name, leaf)


@pytest.mark.parametrize("key", ["thread", "class", "into", "engaged", "friction"])
def test_a_fact_a_limit_rests_on_is_found_at_its_own_place(key: str) -> None:
    pump = derived().all_built(derived().library.machines["fp420"])[0].sets["P1.pump-screw"]
    origin = fastener_of(pump).origins[key]
    assert isinstance(origin, Recorded)
    assert line_of(origin.place)[origin.place.column - 1 :].lstrip('"').startswith(origin.value)
