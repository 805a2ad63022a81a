"""What comes out for the circuits drawn by hand is what was written beside them by hand."""

from __future__ import annotations

import pytest
from tests.wiring import hand_circuits
from tests.wiring.hand_circuits import CIRCUITS, Circuit
from tests.wiring.machines import wired

from benchleaf.records.shared import ShopRecord
from benchleaf.text import Text
from benchleaf.values.bleed_down import Outcome, Path
from benchleaf.values.stored_of_energy import stored_of_energy
from benchleaf.wiring.conduction import How
from benchleaf.wiring.still_live import LiveMap, live_map


def map_of(circuit: Circuit) -> LiveMap:
    return live_map(wired(circuit.machine, circuit.wiring), circuit.isolated, circuit.open_ends, circuit.proved)


def how(live: LiveMap, name: str) -> How | None:
    """A contact alone means either half; ``#fixed`` the half on its host, ``W1@`` that on the cable."""
    if name.endswith("#fixed") or "@" in name:
        node = name.removesuffix("#fixed")
        assert node in live.wiring.pieces.of, f"{node} is no node"
        return live.how(node)
    assert name in live.wiring.pieces.of, f"{name} is no contact"
    ways = live.contacts.get(name, ())
    return ways[0].how if ways else None


@pytest.mark.parametrize("circuit", CIRCUITS, ids=lambda c: c.name)
def test_a_circuit_drawn_by_hand_has_the_answer_written_by_hand(circuit: Circuit) -> None:
    live = map_of(circuit)
    for name in circuit.live.split():
        assert how(live, name) is not None, f"{name} is not live: {circuit.why}"
    for name in circuit.dead.split():
        assert how(live, name) is None, f"{name} is live {live.contacts.get(name)}: {circuit.why}"
    for names, wanted in (
        (circuit.sure, How.DIRECT), (circuit.through, How.THROUGH), (circuit.not_recorded, How.NOT_RECORDED),
    ):  # fmt: skip
        for name in names.split():
            assert how(live, name) is wanted, f"{name} is {how(live, name)}: {circuit.why}"


@pytest.mark.parametrize("circuit", CIRCUITS, ids=lambda c: c.name)
def test_is_live_agrees_with_the_list_of_contacts(circuit: Circuit) -> None:
    live = map_of(circuit)
    for owner, names in live.wiring.graph.contacts.items():
        for name in names:
            assert live.is_live(f"{owner}.{name}") == (f"{owner}.{name}" in live.contacts)


def test_every_circuit_named_in_the_definitions_is_in_the_table() -> None:
    names = " / ".join(circuit.name for circuit in CIRCUITS)
    wanted = (
        "neutral-only switch", "reversible plug", "loose live plug", "needs both inputs", "USB back-feed",
        "transformer fed backward", "normally closed relay", "blown fuse", "broken earth", "one supply with two plugs",
        "wires not recorded",
    )  # fmt: skip
    assert [name for name in wanted if name not in names] == []
    assert all(circuit.why.endswith(".") for circuit in CIRCUITS)


def test_a_bleed_resistor_beyond_a_fuse_gives_no_waiting_time() -> None:
    """A fuse between charge and resistor may be blown: nobody knows how long the charge stays."""
    machine = hand_circuits._STORED_MACHINE % hand_circuits._CAPACITOR
    built = wired(machine, hand_circuits._STORED).built
    shop = ShopRecord(record=Text("shop"))
    (beyond,) = stored_of_energy(built, "mains", shop)
    assert beyond.charge.path is Path.INTERRUPTIBLE
    assert beyond.result.outcome is Outcome.TIME_UNKNOWN
    assert "measure" in beyond.result.text
    at_the_charge = machine.replace("[PS1.R1, PS1.R2]", "[PS1.+, PS1.-]")
    (beside,) = stored_of_energy(wired(at_the_charge, hand_circuits._STORED).built, "mains", shop)
    assert beside.charge.path is Path.COPPER


def test_without_any_wiring_every_contact_counts_as_live() -> None:
    live = live_map(wired("items: {A1: Board}\n"), ("XP1",))
    assert live.nothing_recorded
    assert live.is_live("A1-J1.1")


def test_without_any_source_every_contact_counts_as_live() -> None:
    live = live_map(wired("items: {A1: Board}\n", "connectors:\n  A1-J1: {contacts: 2, cable: none}\n"))
    assert live.nothing_recorded
    assert live.is_live("A1-J1.1")


def test_a_contact_that_no_record_knows_counts_as_live() -> None:
    circuit = next(one for one in CIRCUITS if "both pulled" in one.name)
    live = map_of(circuit)
    assert not live.is_live("A1-J1.1")
    assert live.is_live("A1-J9.1")
    assert live.is_live("A1-J1.9")
