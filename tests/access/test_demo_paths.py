"""Every item of both demo machines, as built in every way: least paths against exhaustive search, no operation idle."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from tests.access.second_path import least

from benchleaf.access.ways import Ways, all_ways
from benchleaf.physical.least_network import Network, bits
from benchleaf.physical.least_path import AccessPath
from benchleaf.physical.operations import named
from benchleaf.pipeline import load

CONTENT = Path(__file__).parents[2] / "content"


@cache
def demo() -> tuple[Ways, ...]:
    derived = load(CONTENT).derived
    return tuple(ways for machine in derived.library.machines.values() for ways in all_ways(derived, machine).values())


ALL = range(8)


def test_the_demo_has_as_many_machines_as_are_tried_here() -> None:
    assert len(demo()) == len(ALL)


@pytest.mark.parametrize("number", ALL)
def test_no_way_the_facts_allow_is_quicker(number: int) -> None:
    ways = demo()[number]
    for item in ways.removable:
        found = least(ways.built, ("off", item))
        path = ways.path((f"off:{item}",), dead=False)
        assert isinstance(path, AccessPath), item
        assert path.exact, (item, path.reason)
        assert path.time == pytest.approx(found), item


@pytest.mark.parametrize("number", ALL)
@pytest.mark.parametrize("dead", [False, True])
def test_without_any_operation_of_a_path_its_item_is_out_of_reach(number: int, dead: bool) -> None:
    ways = demo()[number]
    net = ways.dead_network if dead else ways.network
    for item in ways.removable:
        path = ways.path((f"off:{item}",), dead=dead)
        assert isinstance(path, AccessPath)
        work = net.mask(one for one in path.operations if named(one).is_work)
        target = net.mask(path.targets)
        assert target & _done(net, work)
        for left_out in bits(work):
            assert not target & _done(net, work & ~(1 << left_out)), (item, net.ids[left_out])


def _done(net: Network, work: int) -> int:
    """What gets done when hands do only ``work``: again and again whatever has become possible."""
    done, before = 0, -1
    while done != before:
        before = done
        for place in bits((work | net.virtual) & ~done):
            if all(clause & done for clause in net.clauses[place]):
                done |= 1 << place
    return done
