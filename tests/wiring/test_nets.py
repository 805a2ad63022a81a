"""Nets are the connected components of recorded copper."""

from __future__ import annotations

from typing import Any

import networkx
from hypothesis import given, settings
from tests.wiring.generated import machine_from, machines
from tests.wiring.machines import wired

from benchleaf.built import build, configurations_of
from benchleaf.wiring.contacts import natural
from benchleaf.wiring.graph import Kind, is_hub
from benchleaf.wiring.wiring import Wiring

COPPER = {Kind.WIRE, Kind.MATED, Kind.LANDED, Kind.COPPER}


@settings(max_examples=60, deadline=None)
@given(machines())
def test_the_nets_are_the_connected_components_that_networkx_finds(facts: dict[str, Any]) -> None:
    machine = machine_from(facts)
    wiring = Wiring.of(build(machine, configurations_of(machine)[0]))
    graph: networkx.Graph[str] = networkx.Graph()
    graph.add_nodes_from(node for node in wiring.graph.nodes if not is_hub(node))
    graph.add_edges_from((edge.a, edge.b) for edge in wiring.graph.edges if edge.kind in COPPER)
    theirs = {frozenset(part) for part in networkx.connected_components(graph)}
    assert {frozenset(net.nodes) for net in wiring.nets} == theirs
    assert sum(len(net.nodes) for net in wiring.nets) == len(graph)


def test_a_fuse_a_switch_and_a_load_each_end_a_net() -> None:
    wiring = wired(
        "items: {A1: Board}\n",
        "joins:\n  A1:\n    - [a, b]\n    - {kind: fuse, between: [b, c]}\n    - {kind: switch, between: [c, d]}\n"
        "    - {kind: load, between: [d, e]}\n    - [e, f]\n",
    )
    assert [net.contacts for net in wiring.nets] == [
        ("A1.a", "A1.b"), ("A1.c",), ("A1.d",), ("A1.e", "A1.f"),
    ]  # fmt: skip


def test_a_net_is_named_by_its_first_contact_in_natural_order() -> None:
    wiring = wired(
        "items: {A1: Board}\n",
        "connectors:\n  A1-J10: {contacts: 1, cable: none}\n  A1-J2: {contacts: 1, cable: none}\n"
        "joins: {A1: [[J10.1, J2.1]]}\n",
    )
    assert [net.name for net in wiring.nets] == ["A1-J2.1"]
    assert sorted(["A1-J10.1", "A1-J2.10", "A1-J2.9"], key=natural) == ["A1-J2.9", "A1-J2.10", "A1-J10.1"]
