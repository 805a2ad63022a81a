"""The still-live map against a second implementation, and the properties that keep it from ever being mild."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import combinations
from typing import Any

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from tests.wiring.generated import PLUGS, SWITCHES, machine_from, machines, mild_facts, without
from tests.wiring.plain_live import Plain

from benchleaf.built import Built, build, configurations_of
from benchleaf.wiring.contacts import UNKNOWN_CONTACT, contact_of
from benchleaf.wiring.graph import is_hub
from benchleaf.wiring.still_live import LiveMap, live_map
from benchleaf.wiring.wiring import Wiring

DEVICES = [*(f"unplug {plug}" for plug in PLUGS), *(f"open {switch}" for switch in SWITCHES), "open Q1.1+2"]
quick = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)


def built_from(facts: dict[str, Any]) -> Built:
    machine = machine_from(facts)
    return build(machine, configurations_of(machine)[0])


def states(wiring: Wiring) -> list[tuple[str, ...]]:
    """Every set of recorded isolating devices operated."""
    words = [device.words for device in wiring.devices]
    return [chosen for size in range(len(words) + 1) for chosen in combinations(words, size)]


def ends_of(wiring: Wiring) -> list[tuple[str, str]]:
    return sorted(
        {(name, str(end.at)) for name, c in wiring.built.cables.items() for end in c.ends if end.at != "parked"}
    )


def live_nodes(live: LiveMap) -> set[str]:
    return {node for node in live.nodes if not is_hub(node)}


@quick
@given(machines(), st.data())
def test_the_map_equals_plain_reachability_in_every_isolation_state(facts: dict[str, Any], data: st.DataObject) -> None:
    wiring, plain = Wiring.of(built_from(facts)), Plain(facts)
    ends = data.draw(st.lists(st.sampled_from(ends_of(wiring)), max_size=3))
    proved = data.draw(st.sets(st.sampled_from(sorted(wiring.supplies))))
    for isolated in states(wiring):
        mine = live_nodes(live_map(wiring, isolated, ends, proved))
        assert mine == plain.live(set(isolated), set(ends), proved), isolated


def covers(after: LiveMap, contact: str) -> bool:
    """Whether a contact still counts as live; one that no record names any more is covered by its owner's ``?``."""
    owner = contact.partition(".")[0]
    return after.is_live(contact) or after.is_live(f"{owner}.{UNKNOWN_CONTACT}")


@quick
@given(machines(), st.data())
def test_deleting_a_fact_never_takes_a_contact_off_the_map(facts: dict[str, Any], data: st.DataObject) -> None:
    words, way = data.draw(st.sampled_from(list(mild_facts(facts))))
    before, after = Wiring.of(built_from(facts)), Wiring.of(built_from(without(facts, way)))
    ends = data.draw(st.lists(st.sampled_from(ends_of(before)), max_size=2))
    for isolated in states(before):
        was, now = live_map(before, isolated, ends), live_map(after, isolated, ends)
        gone = [contact for contact in was.contacts if not covers(now, contact)]
        assert not gone, f"without {words}, {isolated} opened, {gone} would no longer count as live"


@quick
@given(machines(), st.data())
def test_removing_a_source_never_enlarges_the_map(facts: dict[str, Any], data: st.DataObject) -> None:
    """The same wires with one source less. An earth is no source: only sources that bring none are taken away."""
    removable = [n for n, s in facts["wiring"]["sources"].items() if s.get("earth", "none") == "none"]
    assume(removable)
    name = data.draw(st.sampled_from(removable))
    before = Wiring.of(built_from(facts))
    left = {n: s for n, s in before.built.sources.items() if n != name}
    after = Wiring(replace(before.built, sources=left), before.graph)
    for isolated in states(before):
        assert live_map(after, isolated).contacts.keys() <= live_map(before, isolated).contacts.keys()


@quick
@given(machines())
def test_what_is_no_recorded_isolating_device_isolates_nothing(facts: dict[str, Any]) -> None:
    wiring = Wiring.of(built_from(facts))
    recorded = {device.words for device in wiring.devices} | {device.key for device in wiring.devices}
    strange = [one for one in (*DEVICES, "A1", "M1", "nothing") if one not in recorded and one not in items(wiring)]
    assert live_nodes(live_map(wiring, strange)) == live_nodes(live_map(wiring))


def items(wiring: Wiring) -> Iterable[str]:
    return {device.item for device in wiring.devices}


@quick
@given(machines())
def test_a_way_leads_from_the_source_to_the_contact_over_edges_that_conduct(facts: dict[str, Any]) -> None:
    wiring = Wiring.of(built_from(facts))
    live = live_map(wiring)
    for feed in live.feeds:
        starts = {node for node, _ in feed.starts}
        for node, ways in list(live.nodes.items())[:12]:
            if feed.name not in {way.source for way in ways}:
                continue
            at = node
            way = live.way_to(node, feed.name)
            for edge in reversed(way):
                at = edge.other(at)
            assert at in starts
            assert not set(way) & {wiring.graph.edges[number] for number in live.cut}


@quick
@given(machines())
def test_the_contacts_are_the_halves_put_together(facts: dict[str, Any]) -> None:
    live = live_map(Wiring.of(built_from(facts)))
    assert set(live.contacts) == {contact_of(node) for node in live_nodes(live)}
