"""What is isolated by the record and still reached by the wiring is found; a proof says nothing beyond copper."""

from __future__ import annotations

from dataclasses import replace

from tests.physical.replayed import grounds, machine_of

from benchleaf import refs
from benchleaf.physical.ground import Ground
from benchleaf.physical.replay import replay
from benchleaf.physical.state_sheet import sheets
from benchleaf.records.energy import Isolator


def with_isolators(ground: Ground, energy: str, *isolators: Isolator) -> Ground:
    built = ground.built
    changed = replace(built.energy[energy], isolate=isolators)
    return Ground(replace(built, energy={**built.energy, energy: changed}), ground.library)


def problems_on(ground: Ground, procedure: str) -> list[tuple[str, str]]:
    procedures = ground.built.machine.procedures
    return [(p.code, p.message) for p in replay(ground, procedures[procedure], procedures).all_problems()]


SWITCH = Isolator("open", refs.ItemRef("Q1"))


def test_a_switch_that_opens_the_neutral_alone_leaves_the_bay_live() -> None:
    """The one-bank oven's main switch breaks only the neutral: with the plug left in, the line stands on the strip."""
    one_bank = next(one for one in grounds("bc300") if one.built.configuration.label == "one-bank")
    assert problems_on(one_bank, "replace-drive-board") == []
    found = problems_on(with_isolators(one_bank, "mains", SWITCH), "replace-drive-board")
    assert (found[0][0], found[-1][0]) == ("exposes-live", "still-live")
    assert "mains still reaches it, with all that isolates it operated" in found[0][1]


def test_a_switch_that_opens_both_poles_does_not() -> None:
    two_bank = next(one for one in grounds("bc300") if one.built.configuration.label == "two-bank")
    found = problems_on(with_isolators(two_bank, "mains", SWITCH), "replace-drive-board")
    assert [message for _, message in found if "still reaches A2" in message or "A2 is touched" in message] == []


def test_the_roll_feed_keeps_the_main_board_live_until_its_own_plugs_are_out() -> None:
    roll = next(one for one in grounds("fp420") if one.built.configuration.label == "mk1 with roll")
    make_dead = machine_of("fp420").procedures["make-dead"]
    steps = tuple(step for step in make_dead.steps if "roll-feed supply and the USB" not in step.title)
    procedures = {**machine_of("fp420").procedures, "make-dead": replace(make_dead, steps=steps)}
    found = [p.message for p in replay(roll, procedures["draw-tray"], procedures).all_problems()]
    assert any("roll-usb is energised" in message and "PS1" in message for message in found)


def test_a_proof_says_nothing_of_what_lies_beyond_a_connector_or_a_fuse() -> None:
    ground = next(one for one in grounds("bc300") if one.built.configuration.label == "one-bank")
    gaps = ground.not_proved_at("mains")
    assert {"E1", "A2", "M2"} <= set(gaps), "beyond the relay and the control fuse"
    assert "XT1" not in gaps, "the probes stand on the strip itself"


def test_the_sheet_names_where_to_measure_again() -> None:
    ground = next(one for one in grounds("bc300") if one.built.configuration.label == "one-bank")
    procedures = machine_of("bc300").procedures
    last = sheets(replay(ground, procedures["replace-drive-board"], procedures))[-1]
    mains = next(one for one in last.energies if one.energy == "mains")
    assert mains.is_proved and "A2" in mains.not_proved_at and mains.state.endswith("measure again")


def test_without_wiring_every_item_of_the_energy_is_to_be_measured_again() -> None:
    ground = grounds("vs20")[0]
    machine = replace(ground.built.machine, wiring=type(ground.built.machine.wiring)(record=None, machine=None))
    bare = Ground(replace(ground.built, machine=machine, sources={}), ground.library)
    assert set(bare.not_proved_at("mains")) == set(bare._at("mains")) != set()
