"""What dead functions share, against cutting the graph with networkx, and the half-split by playing every fault."""

from __future__ import annotations

from math import ceil, log2

import networkx as nx
import pytest
from tests.troubles.demo import derived, derived_from

from benchleaf.access.ways import ways_of
from benchleaf.derived import Derived
from benchleaf.troubles.common_path import common_path, half_split
from benchleaf.troubles.supply_chain import CONDUCTS, Chain, Link, Supplies, split_words, supplies_of
from benchleaf.wiring.graph import Kind

KINDS = {Kind.FUSE: "fuse", Kind.SWITCH: "switch", Kind.RELAY: "relay-contact", Kind.MATED: "plug", Kind.LANDED: "lead"}


def supplies(name: str, label: str | None = None, made: Derived | None = None) -> Supplies:
    library = made or derived()
    machine = library.library.machines[name]
    configurations = library.configurations(machine)
    chosen = next(one for one in configurations if label is None or one.label == label)
    return supplies_of(ways_of(library, machine, chosen))


def every_supplies() -> list[Supplies]:
    return [
        supplies_of(ways_of(derived(), machine, one))
        for machine in derived().library.machines.values()
        for one in derived().configurations(machine)
    ]


def name_of(edge) -> str:  # type: ignore[no-untyped-def]
    kind = "cable" if edge.kind is Kind.WIRE else KINDS.get(edge.kind, "copper")
    return f"{kind}:{edge.by}"


def conducting(one: Supplies, without: str = "") -> nx.MultiGraph:
    graph = nx.MultiGraph()
    graph.add_nodes_from(one.graph.nodes)
    graph.add_edges_from((e.a, e.b) for e in one.graph.edges if e.kind in CONDUCTS and name_of(e) != without)
    return graph


def is_fed(one: Supplies, source: str, contact: str, without: str = "") -> bool:
    """Whether a contact gets the voltage of a source when one thing has failed, by networkx alone."""
    made = one.built.sources[source]
    if without == f"source:{source}":
        return False
    graph = conducting(one, without)
    if not any(nx.has_path(graph, str(at), contact) for at in made.at if str(at) in graph and contact in graph):
        return False
    if made.from_ is None:
        return True
    hosts = {one.built.item_of_contact(str(at)) for at in made.at}
    inputs = [
        any(is_fed(one, str(name), node, without) for node in graph if one.built.item_of_contact(node) in hosts)
        if any(
            nx.has_path(conducting(one), str(at), node)
            for at in one.built.sources[str(name)].at
            for node in graph
            if "@" not in node and one.built.item_of_contact(node) in hosts and str(at) in graph
        )
        else is_fed(one, str(name), str(one.built.sources[str(name)].at[0]), without)
        for name in made.from_
    ]
    return all(inputs) if made.needs == "all" else any(inputs)


def test_a_function_fed_by_one_source_stops_without_each_link_of_its_chain_and_without_no_other() -> None:
    one = supplies("fp420", "mk1")
    chain = one.chain("M3")  # the fan: one load, fed by 24 V through copper alone
    assert chain.known
    everything = {name_of(edge) for edge in one.graph.edges if edge.kind in CONDUCTS} | {
        "source:mains",
        "source:supply-24",
    }
    stops = {name for name in everything if not is_fed(one, "supply-24", "M3.1", name)}
    assert {link.id for link in chain.links} == stops


def test_the_chain_of_the_fan_is_as_written_by_hand() -> None:
    assert [link.id for link in supplies("fp420", "mk1").chain("M3").links] == [
        "source:mains", "lead:XP1", "cable:W1", "plug:X1-J1", "copper:X1", "lead:X1", "cable:W2", "lead:F1", "fuse:F1",
        "plug:PS1-J1", "source:supply-24", "plug:PS1-J2", "cable:W3", "plug:A1-J1", "copper:A1", "plug:A1-J13",
        "cable:W13", "lead:M3",
    ]  # fmt: skip


def test_every_link_that_is_no_driver_cuts_the_way_to_the_contact_beyond_it() -> None:
    for one in every_supplies():
        for item in one.functions:
            for link in one.chain(item).links:
                if link.id.startswith(("source:", "driver:")) or not one.conducts(link.source, link.after):
                    continue
                assert is_fed(one, link.source, link.after), (item, link)
                assert not is_fed(one, link.source, link.after, link.id), (item, link)


def test_a_head_that_is_dead_while_a_motor_runs_leads_to_its_own_fuse() -> None:
    one = supplies("fp420", "mk1")
    found = common_path({item: one.chain(item) for item in one.functions}, ["H1"], ["M1", "A3"])
    assert [link.id for link in found.suspects[:3]] == ["copper:F2", "fuse:F2", "plug:A1-J2"]
    assert "source:supply-24" not in {link.id for link in found.suspects}


def test_both_motors_dead_while_the_fan_runs_leaves_their_driver() -> None:
    one = supplies("fp420", "mk1")
    found = common_path({item: one.chain(item) for item in one.functions}, ["M1", "M2"], ["M3"])
    assert [link.id for link in found.suspects] == ["driver:A1:motor drivers"]
    assert found.split is None


def test_what_two_supplies_feed_hangs_on_neither() -> None:
    stock, roll = supplies("fp420", "mk1"), supplies("fp420", "mk1 with roll")
    assert "source:logic-5" in {link.id for link in stock.chain("S2").links}
    assert "source:logic-5" not in {link.id for link in roll.chain("S2").links}  # USB feeds it backward


def test_one_function_dead_and_working_at_once_is_refused_and_so_is_nothing_dead() -> None:
    chains = {"A": Chain(item="A", links=(Link("fuse:F1", "F1.2", "s"),), known=True)}
    with pytest.raises(ValueError, match="cannot be dead and work"):
        common_path(chains, ["A"], ["A"])
    with pytest.raises(ValueError, match="say what is dead"):
        common_path(chains, [], ["A"])


def test_a_function_nobody_recorded_the_feed_of_says_nothing_and_is_named() -> None:
    chains = {
        "A": Chain(item="A", links=(Link("fuse:F1", "F1.2", "s"),), known=True),
        "B": Chain(item="B", links=(), known=False),
    }
    found = common_path(chains, ["A", "B"], [])
    assert [link.id for link in found.suspects] == ["fuse:F1"] and found.untold == ("B",)
    assert not common_path(chains, ["B"], []).fits


@pytest.mark.parametrize("many", [2, 3, 7, 16])
def test_the_half_split_finds_every_single_fault_in_as_few_measurements_as_halving_needs(many: int) -> None:
    chain = tuple(Link(f"cable:W{n}", f"X{n}.1", "s") for n in range(many))
    for fault in chain:
        left, measured = chain, 0
        while len(left) > 1:
            split = half_split(left)
            assert split is not None
            measured += 1
            is_good = fault.id in split.beyond  # power gets to the contact when the fault lies beyond it
            left = tuple(link for link in left if link.id in (split.beyond if is_good else split.before))
        assert left == (fault,)
        assert measured <= ceil(log2(many))


def test_a_measurement_at_the_split_tells_before_from_beyond_on_the_demo() -> None:
    one = supplies("fp420", "mk1")
    found = common_path({item: one.chain(item) for item in one.functions}, ["H1"], ["M1"])
    split = found.split
    assert split is not None and one.conducts(split.source, split.contact)
    for fault in (*split.before, *split.beyond):
        assert is_fed(one, split.source, split.contact, fault) is (fault in split.beyond), fault


def test_the_measurement_is_dead_first_and_powered_only_as_a_written_test() -> None:
    one = supplies("fp420", "mk1")
    found = common_path({"H1": one.chain("H1"), "M1": one.chain("M1")}, ["H1"], ["M1"])
    assert found.split is not None
    words = split_words(one, found.split)
    assert "Dead and proved first" in words[0] and "Only as a powered test your shop has written" in words[1]


_MACHINE = """record: machine
id: m
name: Machine
items:
  frame: {name: Frame, held-by: none}
  XP1: {name: Plug, behind: [], held-by: none}
  F1: {name: Fuse, behind: [], held-by: none}
  E1: {name: Lamp, behind: [], held-by: none}
  E2: {name: Fan, behind: [], held-by: none}
"""
_WIRING = """record: wiring
machine: m
cables:
  W1: {ends: [XP1, F1], wires: {map: [[L, 1]]}}
  W2: {ends: [F1, E1], wires: {map: [[2, 1]]}}
  W3: {ends: [XP1, E2], wires: {map: [[L, 1]]}}
joins:
  F1: [{kind: fuse, between: [1, 2]}]
  E1: [{kind: load, between: [1, 2]}]
  E2: [{kind: load, between: [1, 2]}]
sources:
  mains: {at: [XP1.L], return: [XP1.N], nominal: 230 V AC}
"""


def small(wiring: str) -> Supplies:
    files = {"shop.yaml": "record: shop\nname: S\n", "m/machine.yaml": _MACHINE, "m/wiring.yaml": wiring}
    return supplies("m", None, derived_from(files))


def test_a_lamp_behind_a_fuse_and_a_fan_beside_it() -> None:
    one = small(_WIRING)
    found = common_path({item: one.chain(item) for item in ("E1", "E2")}, ["E1"], ["E2"])
    assert [link.id for link in found.suspects] == ["cable:W1", "lead:F1", "fuse:F1", "cable:W2", "lead:E1"]


def test_wires_nobody_recorded_lead_nowhere_and_that_is_said() -> None:
    one = small(_WIRING.replace(", wires: {map: [[2, 1]]}", ""))
    assert not one.chain("E1").known and one.chain("E2").known
