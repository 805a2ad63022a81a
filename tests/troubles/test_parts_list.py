"""What to take along is the union over all remedies, with how likely each is wanted and what nobody recorded."""

from __future__ import annotations

import pytest
from tests.troubles.demo import case, derived, every_case

from benchleaf.access.ways import ways_of
from benchleaf.isolation.policy import Leaf, Node, RepairNode, TestNode
from benchleaf.troubles.openings import Openings
from benchleaf.troubles.parts_list import PartsList, chance_of, parts_list, parts_lists
from benchleaf.troubles.problem_of import Case, order_of


def listed(one: Case) -> PartsList:
    machine = derived().library.machines[one.machine]
    openings = Openings(ways_of(derived(), machine, one.configurations[0]))
    return parts_list(openings, one, root(one))


def root(one: Case) -> Node:
    policy = order_of(derived(), one)
    assert policy is not None
    return policy.root


def test_the_spares_of_a_code_are_those_of_all_its_remedies_with_what_is_renewed_with_them() -> None:
    found = listed(case("fp420", "12", "mk1"))
    spares = {part.id: part for part in found.parts if part.kind == "spare"}
    assert {"F2", "A2", "H1"} <= set(spares)
    assert spares["H1"].part_number == "FP-4100"
    assert "damper-seal" in spares  # new whenever the head comes off
    assert "tray-tie" in spares  # cut on the way to the fuse


def test_supplies_come_with_their_amounts_and_tools_with_the_shops_names() -> None:
    found = listed(case("fp420", "08", "mk1"))
    supplies = {part.id: part.amounts for part in found.parts if part.kind == "supply"}
    assert supplies["lint-free-cloth"] == ("1 sheet",)
    assert "multimeter with insulated probes" in {part.words for part in found.parts if part.kind == "tool"}


def test_what_nobody_recorded_is_named() -> None:
    gaps = listed(case("fp420", "08", "mk1")).gaps
    assert any("no author wrote it" in gap for gap in gaps)


def chance_by_paths(node: Node | None, names: frozenset[str]) -> float:
    """The sum over all ways through an order of those that meet one of the names."""

    def ways(at: Node | None, chance: float, met: bool) -> float:
        if at is None or isinstance(at, Leaf):
            return chance if met else 0.0
        if isinstance(at, TestNode):
            return sum(ways(a.then, chance * a.probability, met or at.test in names) for a in at.answers)
        assert isinstance(at, RepairNode)
        here = met or at.remedy in names
        return ways(None, chance * at.cured, here) + ways(at.if_not_fixed, chance * (1 - at.cured), here)

    return ways(node, 1.0, False)


def test_how_likely_a_part_is_wanted_is_the_sum_over_the_ways_that_come_to_it() -> None:
    for one in every_case():
        for part in listed(one).parts:
            names = frozenset(part.wanted_for)
            assert part.chance == pytest.approx(chance_by_paths(root(one), names)), (one.id, part.id)
            assert part.chance == chance_of(root(one), names)


def test_machines_with_other_part_numbers_get_lists_of_their_own() -> None:
    lists = dict(parts_lists(derived(), case("fp420", "11", "mk1")))
    numbers = {on: {part.part_number for part in found.parts if part.id == "A1"} for on, found in lists.items()}
    assert numbers == {("mk1",): {"FP-3001"}, ("mk2",): {"FP-3002"}}
    assert [on for on, _ in parts_lists(derived(), case("fp420", "21", "mk1"))] == [("mk1", "mk2")]
