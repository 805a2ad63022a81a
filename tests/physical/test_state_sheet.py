"""The state sheet: folded from the steps, strict where nothing is recorded, never a word that something is safe."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from tests.physical.replayed import Change, all_replays, grounds, machine_of, name_of, replay_changed

from benchleaf.physical.ground import Ground
from benchleaf.physical.replay import Replay, replay, run_step
from benchleaf.physical.state import State
from benchleaf.physical.state_sheet import Stop, may_stop, sheet, sheets, trays

ALL = all_replays()


def of(machine: str, procedure: str, on: int = 0) -> Replay:
    procedures = machine_of(machine).procedures
    return replay(grounds(machine)[on], procedures[procedure], procedures)


@pytest.mark.parametrize("one", ALL[::3], ids=name_of)
def test_the_sheet_after_n_is_that_of_the_fold_of_n_steps(one: Replay) -> None:
    made = sheets(one)
    places = trays(one)
    assert len(made) == len(one.own_steps) + 1
    state = one.start
    number = 0
    for step in one.steps:
        again = run_step(one.ground, state, step.step, step.of, step.procedure, step.is_condition)
        state = again.after
        if not step.is_condition:
            number += 1
            shown = sheet(one.ground, state, places, again)
            assert replace(made[number], is_changed=True) == shown


def test_a_closed_machine_may_be_left() -> None:
    for ground in grounds("vs20"):
        assert may_stop(ground, State()).answer is Stop.PAUSE


def test_how_long_an_item_may_stay_off_limits_the_pause() -> None:
    shown = {one.of.title: one.stop for one in sheets(of("fp420", "replace-print-head")) if one.of is not None}
    assert shown["Take the top shell off"].words == "pause point"
    assert shown["Take the print head out"].words == "pause point, at most 20 min"
    assert shown["Take the print head out"].reasons == ("H1 off: at most 20 min",)


def test_what_nobody_recorded_means_do_not_stop() -> None:
    last = sheets(of("fp420", "replace-print-head"))[-1].stop
    assert last.answer is Stop.DO_NOT
    assert last.not_recorded == ("damper-seal off: how long is not recorded",)


def test_an_unchecked_step_means_do_not_stop() -> None:
    change = Change("vs20", "replace-board", "", "", prose="Free the tray")
    for one in sheets(replay_changed(change))[3:]:
        assert one.stop.answer is Stop.DO_NOT
        assert "says nothing that can be checked" in one.stop.reasons[0]


def test_open_and_not_proved_means_only_attended() -> None:
    change = Change("vs20", "replace-board", "", "", inside="make-dead", without=("prove dead: mains",))
    first = sheets(replay_changed(change))[0].stop
    assert first.answer is Stop.ATTENDED
    assert first.reasons[0].startswith("mains is discharged, not proved dead and A1")


def test_a_powered_test_with_open_covers_is_not_left() -> None:
    shown = {one.of.title: one.stop for one in sheets(of("fp420", "measure-film-sensor")) if one.of is not None}
    assert shown["Plug in and read the meter"].answer is Stop.DO_NOT


def test_after_any_break_everything_is_proved_dead_again() -> None:
    assert sheets(of("vs20", "replace-board"))[-1].stop.before_going_on == ("prove dead again: mains",)


def test_an_item_in_its_place_and_held_by_nothing_is_not_left_alone() -> None:
    change = Change("vs20", "replace-pump", "", "", without=("lift off: M1", "renew: M1"))
    assert "M1 is in its place and held by nothing" in sheets(replay_changed(change))[-1].stop.reasons


def test_every_set_that_is_out_lies_in_a_tray_of_its_own() -> None:
    last = sheets(of("fp420", "draw-tray"))[-1]
    assert len({one.tray for one in last.trays}) == len(last.trays) == 3
    assert [one.set for one in last.trays] == [
        "left-cover.left-screw", "rear-plate.rear-screw", "board-tray.tray-screw"
    ]  # fmt: skip


def test_a_proof_and_an_expectation_are_hold_points() -> None:
    held = {one.of.title: one.holds for one in sheets(of("vs20", "make-dead")) if one.of is not None}
    assert held["Discharge the motor capacitor"] == ("mains discharged, then measured",)
    assert held["Prove the board and the capacitor dead"] == (
        "mains proved dead, A1-J1:1 to A1-J1:2: below 5 V AC", "mains proved dead, C1:1 to C1:2: below 5 V DC"
    )  # fmt: skip
    asleep = next(one for one in sheets(of("fp420", "make-dead")) if one.of is not None and one.of.number == 1)
    assert asleep.holds == ("seen: Carriage parked at the right, display dark",)


def test_the_stop_answer_is_marked_only_where_it_changes() -> None:
    for one in ALL[::5]:
        made = sheets(one)
        for before, after in pairwise(made):
            same = (before.stop.answer, before.stop.at_most, before.stop.reasons) == (
                after.stop.answer, after.stop.at_most, after.stop.reasons
            )  # fmt: skip
            assert after.is_changed is not same


def test_an_energy_that_is_not_proved_is_on_every_sheet() -> None:
    for one in ALL:
        for step in (*one.steps[:1], *one.steps[-1:]):
            shown = {line.energy for line in sheet(one.ground, step.after, {}, step).still_live}
            assert shown == {name for name in one.ground.built.energy if not step.after.is_proved(name)}


def test_without_any_recorded_energy_what_is_open_is_only_attended() -> None:
    ground = grounds("vs20")[0]
    machine = replace(ground.built.machine, record=replace(ground.built.machine.record, energy={}, said={}))
    bare = Ground(replace(ground.built, machine=machine, energy={}, sources={}), ground.library)
    assert may_stop(bare, State(items={"lid": "off"})).answer is Stop.ATTENDED


def test_no_sheet_says_that_anything_is_safe() -> None:
    for one in ALL:
        for made in sheets(one):
            said = " ".join((*made.stop.reasons, *made.holds, made.stop.words, *(line.state for line in made.energies)))
            assert "safe" not in said.lower()
