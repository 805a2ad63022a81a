"""Ring-out: pairs are components of the power-off graph, values are bands, unknown is never called open."""

from __future__ import annotations

from dataclasses import replace

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.connectors.plain_machines import built_of, demo, demo_machine

from benchleaf.built import Built
from benchleaf.connectors.book import ConnectorBook
from benchleaf.connectors.ring_out import (
    TO_WRITE_ON,
    RingOutRow,
    RingOutTable,
    head_of_sheet,
    ring_out_of_cable,
    ring_out_of_nets,
    sheet_of,
)
from benchleaf.wiring.graph import Kind, make_graph

ALWAYS = {Kind.WIRE, Kind.MATED, Kind.LANDED, Kind.COPPER, Kind.FUSE}


def power_off(built: Built, without_plugs_of: str = "") -> nx.MultiGraph:
    """The power-off graph by networkx: recorded copper, fuses, contacts closed at rest."""
    graph = make_graph(built)
    made: nx.MultiGraph = nx.MultiGraph()
    made.add_nodes_from(graph.nodes)
    own = {n for e in graph.edges if e.kind is Kind.WIRE and e.by == without_plugs_of for n in (e.a, e.b)}
    own |= {n for n in graph.nodes if n.startswith(f"{without_plugs_of}@")} if without_plugs_of else set()
    for edge in graph.edges:
        closed = edge.kind in (Kind.SWITCH, Kind.RELAY) and edge.join is not None and edge.join.rest == "closed"
        pulled = edge.kind is Kind.MATED and own & {edge.a, edge.b}
        if (edge.kind in ALWAYS or closed) and not pulled:
            made.add_edge(edge.a, edge.b)
    return made


def shown(node: str) -> str:
    return node.rpartition("@")[2].replace(".", ":", 1)


def components(pairs: list[tuple[str, str]], contacts: list[str]) -> set[frozenset[str]]:
    made: nx.Graph = nx.Graph()
    made.add_nodes_from(contacts)
    made.add_edges_from(pairs)
    return {frozenset(part) for part in nx.connected_components(made)}


def cable_oracle(built: Built, cable: str, contacts: tuple[str, ...]) -> set[frozenset[str]]:
    made = power_off(built, cable)
    own = [n for n in made if n.startswith(f"{cable}@") and not n.endswith("@?")]
    own += [n for n in made if n.partition(".")[0].rpartition("-")[0] == cable]
    parts = ({shown(n) for n in part if n in own} for part in nx.connected_components(made))
    found = {frozenset(part) for part in parts if part}
    assert {one for part in found for one in part} == set(contacts)
    return found


def test_pairs_of_every_demo_cable_are_the_components_of_its_power_off_graph() -> None:
    derived, seen = demo(), 0
    for machine in derived.library.machines.values():
        for built in derived.all_built(machine)[:4]:
            for cable in built.cables:
                table = ring_out_of_cable(built, cable)
                joined = components(list(table.conducting), list(table.contacts))
                assert joined == cable_oracle(built, cable, table.contacts), cable
                seen += len(table.conducting)
    assert seen > 100


def test_nets_of_the_demo_are_the_components_of_the_power_off_graph() -> None:
    for name, variant in (("fp420", "mk2"), ("bc300", "two-bank")):
        built = demo_machine(name, variant)
        fixed = {node for node in make_graph(built).nodes if "@" not in node}
        roles = {
            f"{c}.{own}": role for c, one in built.connectors.items() for own, role in (one.contacts or {}).items()
        }
        parts = nx.connected_components(power_off(built))
        wanted = {frozenset(shown(n) for n in part if n in fixed and roles.get(n) != "-") for part in parts}
        found = {frozenset(table.contacts) for table in ring_out_of_nets(built)[:-1]}
        assert found == {part for part in wanted if len(part) > 1}
        for table in ring_out_of_nets(built)[:-1]:
            assert components(list(table.conducting), list(table.contacts)) == {frozenset(table.contacts)}


def test_the_ring_out_of_a_net_is_the_component_of_its_contact_with_every_load_that_leaves_it() -> None:
    book = ConnectorBook(demo_machine("fp420", "mk2"))
    graph = power_off(book.built)
    whole = book.nets[-1]
    seen = 0
    for table in book.nets[:-1]:
        for contact in table.contacts[:2]:
            net = book.net_ring_out(contact.replace(":", ".", 1))
            part = nx.node_connected_component(graph, contact.replace(":", ".", 1))
            assert set(net.contacts) == {shown(node) for node in part if "@" not in node} & set(net.contacts)
            assert set(net.contacts) == set(table.contacts)
            loads = {(row.start, row.end) for row in net.rows} - {(row.start, row.end) for row in table.rows}
            leaving = {(r.start, r.end) for r in whole.rows if {r.start, r.end} & set(net.contacts)}
            assert loads == leaving - {(row.start, row.end) for row in table.rows}
            seen += len(loads)
    assert seen > 5


def test_what_is_not_tested_beside_a_net_is_named_and_never_called_open() -> None:
    board = "  A1: {name: Board}\n"
    wiring = "connectors:\n  A1-J1: {contacts: {1: in, 2: out, 3: 0 V, 4: 0 V}}\njoins:\n"
    chip = wiring + "  A1: [[J1.3, J1.4], {kind: driver, between: [J1.1, J1.2], label: logic}]\n"
    net = ConnectorBook(built_of(chip, board)).net_ring_out("A1-J1.1")
    assert net.others.startswith("All contacts of other nets open, but for those of which nothing can be said")
    assert "driver A1 (logic) (not tested)" in net.remarks[0]
    ground = ConnectorBook(built_of(chip, board)).net_ring_out("A1-J1.3")
    assert ground.remarks == () and [(row.start, row.end) for row in ground.rows] == [("A1-J1:3", "A1-J1:4")]


@st.composite
def wirings(draw: st.DrawFn) -> str:
    """Two connectors of five contacts and a cable with any map between them."""
    pairs = draw(st.lists(st.tuples(st.integers(1, 5), st.integers(1, 5)), min_size=1, max_size=8, unique=True))
    joins = draw(st.lists(st.sampled_from(("[J2.1, J2.2]", "[J2.2, J2.3]", "{kind: load, between: [J2.4, J2.5]}"))))
    wiring = "connectors:\n  A1-J1: {contacts: 5}\n  A2-J2: {contacts: 5}\ncables:\n"
    wiring += f"  W1: {{ends: [A1-J1, A2-J2], wires: {{map: [{', '.join(f'[{a}, {b}]' for a, b in pairs)}]}}}}\n"
    return wiring + (f"joins:\n  A2: [{', '.join(dict.fromkeys(joins))}]\n" if joins else "")


@settings(max_examples=40, deadline=None)
@given(wirings())
def test_pairs_of_any_map_are_the_components_of_its_wires(wiring: str) -> None:
    built = built_of(wiring, "  A1: {name: Board}\n  A2: {name: Other board}\n")
    table = ring_out_of_cable(built, "W1")
    assert components(list(table.conducting), list(table.contacts)) == cable_oracle(built, "W1", table.contacts)


ITEMS = "  A1: {name: Board}\n  M1: Motor\n  F1: Fuse\n  S1: Switch\n  XP1: Plug\n"
WIRING = """connectors:
  A1-J1: {contacts: 3}
cables:
  W1: {ends: [A1-J1, M1], length: 1000 mm, wires: {map: straight, gauge: 0.5 mm2}}
  W2: {ends: [XP1, F1], length: 100 mm, joint: screw, wires: {map: [[L, 1]], gauge: 0.75 mm2}}
joins:
  M1: [{kind: load, between: [1, 2], resistance: 4.0 ± 0.2 ohm}]
  F1: [{kind: fuse, between: [1, 2], cold: 0.06 ± 0.03 ohm, rating: 2 A}]
"""


def row(table: RingOutTable, start: str, end: str) -> RingOutRow:
    (found,) = [one for one in table.rows if {one.start, one.end} == {start, end}]
    return found


def test_a_wire_reads_its_computed_resistance() -> None:
    # 1 m of 0.5 mm² copper: IEC 60228 class 5 allows at most 40.1 mΩ tinned at 20 °C; 1.7241e-8 Ω·m / 0.5 mm² is
    # 34.5 mΩ at least; the meter's leads and one joint are common practice.
    table = ring_out_of_cable(built_of(WIRING, ITEMS), "W1")
    band = row(table, "A1-J1:1", "M1:1").expected.band
    assert 0.02 <= band.low <= 0.0345 * 0.98 and 0.0401 < band.high <= 0.0401 * 1.2 + 0.33 + 0.01


def test_a_motor_at_the_end_reads_through_the_cable() -> None:
    found = row(ring_out_of_cable(built_of(WIRING, ITEMS), "W1"), "A1-J1:1", "A1-J1:2")
    assert found.reading == "through a load" and "M1" in found.by
    assert found.expected.band.low <= 3.8 and 4.2 < found.expected.band.high <= 4.75


def test_a_fuse_reads_its_cold_resistance_and_says_where_it_comes_from() -> None:
    table = next(one for one in ring_out_of_nets(built_of(WIRING, ITEMS)) if "F1:2" in one.contacts)
    found = row(table, table.contacts[0], "F1:2")
    assert found.expected.band.low <= 0.03 and found.expected.band.high >= 0.09
    assert "fuse F1" in found.by


@pytest.mark.parametrize(("rest", "conducts"), [("open", False), ("closed", True)])
def test_a_switch_conducts_as_it_rests(rest: str, conducts: bool) -> None:
    wiring = f"joins:\n  S1: [{{kind: switch, between: [1, 2], rest: {rest}}}]\n"
    tables = ring_out_of_nets(built_of(wiring, ITEMS))
    assert any(("S1:1", "S1:2") in table.conducting for table in tables) is conducts


def test_a_switch_whose_rest_is_not_recorded_is_not_called_open() -> None:
    wiring = "joins:\n  S1: [{kind: switch, between: [1, 2]}]\n"
    last = ring_out_of_nets(built_of(wiring, ITEMS))[-1]
    assert any("switch S1 (not recorded)" in remark for remark in last.remarks)
    assert "nothing can be said" in last.others


@pytest.mark.parametrize("fact", ["wires", "gauge", "length"])
def test_without_a_fact_no_value_is_made_up_and_nothing_is_called_open(fact: str) -> None:
    built = built_of(WIRING, ITEMS)
    cable = built.cables["W1"]
    assert cable.wires is not None
    less = {
        "wires": replace(cable, wires=None),
        "gauge": replace(cable, wires=replace(cable.wires, gauge=None)),
        "length": replace(cable, length=None),
    }[fact]
    table = ring_out_of_cable(replace(built, cables={**built.cables, "W1": less}), "W1")
    if fact == "wires":
        assert not table.conducting and "nothing can be said" in table.others
        assert any("wires of W1" in remark for remark in table.remarks)
    else:
        words = row(table, "A1-J1:1", "M1:1").expected
        assert words.band is None and f"{fact} not recorded" in words.words


def test_a_chip_is_not_tested_and_named() -> None:
    table = ring_out_of_cable(demo_machine("fp420", "mk2"), "W7")
    assert any("light gate" in remark and "not tested" in remark for remark in table.remarks)


def test_a_load_beside_other_paths_is_only_a_limit() -> None:
    wiring = "joins:\n  M1: [{kind: load, between: [1, 2], resistance: 4 ohm}, {kind: load, between: [1, 2]}]\n"
    (found, _) = ring_out_of_nets(built_of(wiring, ITEMS))[-1].rows
    assert found.expected.band is not None and found.expected.band.low == 0
    assert "other paths beside it may lower it" in found.expected.words


def test_the_sheet_has_room_for_every_reading_and_the_pairs_that_stay_open() -> None:
    table = ring_out_of_cable(demo_machine("fp420", "mk2"), "W6")
    sheet = sheet_of(table)
    assert len(sheet.rows) == len(table.rows) + 1
    assert all(cells[4] == cells[5] == TO_WRITE_ON for cells in sheet.rows)
    assert "All other pairs open" in sheet.rows[-1][3]
    assert any("beep" in words for words in head_of_sheet())


def test_deleting_a_wire_never_turns_a_pair_of_which_nothing_is_said_into_an_open_one() -> None:
    built = demo_machine("fp420", "mk2")
    for name, cable in built.cables.items():
        if cable.wires is not None:
            bare = replace(built, cables={**built.cables, name: replace(cable, wires=None)})
            assert "nothing can be said" in ring_out_of_cable(bare, name).others, name
