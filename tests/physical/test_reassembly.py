"""The way back: derived, replayed clean, closed; when a step of it is missing, the ledger names what is not back."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.physical.replayed import Change, all_replays, grounds, machine_of, name_of, replay_changed

from benchleaf import nodes
from benchleaf.physical.acts import Act
from benchleaf.physical.instructions import back_again
from benchleaf.physical.ledger import ledger
from benchleaf.physical.reassembly import BackStep, Reassembly, reassembly
from benchleaf.physical.replay import Replay, replay, run_act
from benchleaf.physical.state import State
from benchleaf.records.reading import Desk
from benchleaf.records.types import Motion, a_motion
from benchleaf.text import NOWHERE

ALL = all_replays()
WITH_A_WAY_BACK = [one for one in ALL if one.end != one.start and not one.end.unchecked]
NOTES = {"adjust", "inspect", "discharge", "prove dead"}
"""Verbs on the way back that put nothing back in its place."""


def back_of(machine: str, procedure: str, on: str = "") -> Reassembly:
    procedures = machine_of(machine).procedures
    ground = next(one for one in grounds(machine) if not on or one.built.configuration.label == on)
    return reassembly(replay(ground, procedures[procedure], procedures))


def acts_of(back: Reassembly) -> list[Act]:
    return [done.act for step in back.steps for done in step.done]


def words_of(back: Reassembly) -> list[str]:
    return [act.words for act in acts_of(back)]


@pytest.mark.parametrize("one", WITH_A_WAY_BACK, ids=name_of)
def test_a_derived_reassembly_replays_clean_and_closes_the_ledger(one: Replay) -> None:
    back = reassembly(one)
    assert not [problem.message for _, problem in back.all_problems()]
    assert back.stopped_at is None and back.ledger.open == () and back.ledger.is_closed


@pytest.mark.parametrize("one", WITH_A_WAY_BACK, ids=name_of)
def test_every_derived_step_says_what_it_came_from(one: Replay) -> None:
    for step in reassembly(one).steps:
        assert step.title and step.why
        assert step.of is not None or step.why in ("energy last", "after energy is back", "left over")


def things_of(act: Act) -> set[str]:
    return {act.what, act.what.partition(".")[0], *([act.at] if act.at else [])}


@pytest.mark.parametrize("one", WITH_A_WAY_BACK[::4], ids=name_of)
def test_leaving_any_step_of_the_way_back_out_names_what_is_not_back(one: Replay) -> None:
    acts = acts_of(reassembly(one))
    for left_out in range(len(acts)):
        if acts[left_out].verb in NOTES:
            continue
        state, said = one.end, []
        for number, act in enumerate(acts):
            if number != left_out:
                done = run_act(one.ground, state, act)
                said += [problem.message for problem in done.problems]
                state = done.after
        said += [entry.words for entry in ledger(one.ground, state).open]
        assert any(name in words for words in said for name in things_of(acts[left_out])), acts[left_out].words


# ---- the written-out cases


def test_the_service_position_is_kept_on_the_way_back() -> None:
    said = words_of(back_of("fp420", "replace-main-board"))
    assert said.index("install: A1") < said.index("plug: A1-J13") < said.index("move: board-tray to seated")
    assert said.index("move: board-tray to seated") < said.index("plug: A1-J2")


def test_the_caps_come_off_just_before_mating() -> None:
    for procedure in ("replace-print-head", "replace-pump", "empty-waste-tank"):
        acts = acts_of(back_of("fp420", procedure))
        for number, act in enumerate(acts):
            if act.verb == "uncap":
                assert (acts[number + 1].verb, acts[number + 1].what) == ("close", act.what)


def test_all_fasteners_of_an_item_are_started_before_one_is_tightened() -> None:
    for one in WITH_A_WAY_BACK:
        tightened: set[str] = set()
        for act in acts_of(reassembly(one)):
            item = act.what.partition(".")[0]
            if act.verb == "tighten":
                tightened.add(item)
            assert not (act.verb == "start" and item in tightened), act.words


def test_filling_comes_after_the_last_joint_and_before_the_covers() -> None:
    said = words_of(back_of("fp420", "replace-print-head"))
    assert said.index("close: ink-line at H1") < said.index("fill: ink") < said.index("install: right-cover")
    oil = words_of(back_of("vs20", "replace-pump"))
    assert oil.index("close: oil-hose at M1") < oil.index("unclamp: oil-hose") < oil.index("fill: oil")
    assert oil.index("fill: oil") < oil.index("install: base-cover")


def test_a_spring_is_fitted_by_its_own_step() -> None:
    back = back_of("vs20", "replace-spring")
    step = next(one for one in back.steps if one.why == "on-return")
    assert [done.act.words for done in step.done] == ["install: lid-spring", "inspect: lid-spring"]
    assert step.of is not None and step.of.title == "Unhook the spring"


def test_settings_are_restored_once_energy_is_back() -> None:
    said = words_of(back_of("vs20", "replace-board"))
    assert said[-1] == "restore: A1" and said.index("energise: mains") < said.index("restore: A1")


def test_a_board_that_goes_back_itself_keeps_its_settings() -> None:
    change = Change("vs20", "replace-board", "", "", without=("renew: A1",))
    assert "restore: A1" not in words_of(reassembly(replay_changed(change)))


def test_a_cut_tie_is_renewed_in_its_place() -> None:
    said = words_of(back_of("vs20", "replace-board"))
    assert said.index("move: board-tray to seated") < said.index("tie: tray-tie")


def test_a_screw_missing_as_found_is_fitted_to_specification_and_no_other() -> None:
    found = back_of("vs20", "replace-board", "single, serial 0107")
    plain = back_of("vs20", "replace-board", "single")
    step = next(s for s in found.steps for i in s.instructions if i.act.what == "side-plate.side-screw")
    new, start, tighten = (i for i in step.instructions if i.act.what == "side-plate.side-screw")
    assert (new.act.verb, new.count, start.count, tighten.count) == ("renew", 1, 3, 3)
    assert "missing when the machine came in" in new.notes[-1] and tighten.torque == "1.0 N·m"
    assert not [act for act in acts_of(plain) if act.verb == "renew" and act.what == "side-plate.side-screw"]
    assert [entry.what for entry in found.ledger.as_found] == ["side-plate.side-screw"]


def test_a_mandatory_replacement_is_taken_to_hand_before_it_is_fitted() -> None:
    said = words_of(back_of("vs20", "replace-seal-bar"))
    assert said.index("renew: E1.bar-screw") < said.index("start: 2 of E1.bar-screw")
    renewed = Change("vs20", "replace-seal-bar", "", "", last=("renew: E1.bar-screw",))
    assert "renew: E1.bar-screw" not in words_of(reassembly(replay_changed(renewed)))


def test_energy_comes_back_last_and_in_reverse_order() -> None:
    acts = acts_of(back_of("vs20", "replace-spring", "twin with gas"))
    back = [act.what for act in acts if act.verb == "energise"]
    assert back == ["lid-force", "gas-pressure", "mains"]
    assert [act.verb for act in acts[-3:]] == ["energise"] * 3


def test_a_disturbed_adjuster_is_set_before_its_screws_are_tightened() -> None:
    said = words_of(back_of("vs20", "replace-pump"))
    adjusted = said.index("adjust: pump-line")
    assert said.index("start: 4 of M1.pump-screw") < adjusted < said.index("tighten: M1.pump-screw")
    instruction = next(
        i for s in back_of("vs20", "replace-pump").steps for i in s.instructions if i.act.verb == "adjust"
    )
    assert instruction.notes == ("begin from the mark",) and "not recorded" in instruction.words


def test_an_adjuster_set_under_power_waits_for_energy() -> None:
    said = words_of(back_of("vs20", "replace-seal-bar"))
    assert said[-2:] == ["energise: heat", "adjust: lid-gap"]


def test_a_supply_that_needs_time_says_how_long_before_the_next_step() -> None:
    steps = [one for one in back_of("vs20", "replace-pump").steps if one.notes]
    assert [one.notes for one in steps] == [("Thread lock: wait 10 min before the next step",)]


def test_the_way_back_stops_at_an_unchecked_step_and_asks_for_on_return() -> None:
    change = Change("vs20", "replace-board", "", "", prose="Free the tray")
    back = reassembly(replay_changed(change))
    assert back.stopped_at is not None and back.stopped_at.title == "Free the tray"
    assert "on-return" in back.words and not back.ledger.is_closed
    assert not [act for act in acts_of(back) if act.what.startswith("side-plate")]


def test_an_unchecked_step_with_on_return_lets_the_way_back_go_on_but_the_ledger_stays_open() -> None:
    back = back_of("fp420", "restore-stock-wiring", "mk1 with roll")
    assert back.stopped_at is None
    assert back.ledger.words == "open: 1 unchecked step"
    assert {entry.what for entry in back.ledger.exceptions} >= {"W21 at A1-J9", "W22 at A1-J8"}


def test_a_temporary_pair_is_not_undone_twice() -> None:
    said = words_of(back_of("fp420", "measure-film-sensor"))
    assert not [words for words in said if "left-cover" in words]
    assert said.count("energise: mains") == 1


# ---- the words


def instructions_of(back: Reassembly) -> list[tuple[BackStep, str, str, str]]:
    return [(step, i.words, i.direction, i.torque) for step in back.steps for i in step.instructions]


def test_every_step_with_hands_on_it_says_tool_count_direction_and_torque_or_not_recorded() -> None:
    for one in WITH_A_WAY_BACK:
        for step in reassembly(one).steps:
            for instruction in step.instructions:
                verb = instruction.act.verb
                if verb in ("start", "tighten", "loosen", "remove"):
                    assert instruction.tool and instruction.count
                if verb in ("install", "slide", "move"):
                    assert instruction.direction
                if verb == "tighten" and instruction.act.what in one.ground.built.sets:
                    kind = one.ground.built.sets[instruction.act.what].kind
                    assert instruction.torque or kind not in ("screw", "nut")


def test_a_torque_nobody_recorded_is_said_to_be_not_recorded() -> None:
    back = back_of("vs20", "replace-board")
    assert [t for _, words, _, t in instructions_of(back) if "A1.board-screw" in words and t] == ["not recorded"]


def test_a_disputed_torque_shows_both_sides_and_what_holds_meanwhile() -> None:
    back = back_of("fp420", "draw-tray")
    torque = next(t for _, words, _, t in instructions_of(back) if "Tighten" in words and "tray-screw" in words)
    assert " or " in torque and "disputed" in torque


@pytest.mark.parametrize(
    ("there", "back"),
    [("slide back 12 mm", "slide front 12 mm"), ("lift up", "lower down"), ("lift down", "lift up"),
     ("pull left", "push right"), ("pull front 140 mm", "push back 140 mm"), ("tilt back 150 mm", "tilt front 150 mm"),
     ("unhook back", "hook front")],
)  # fmt: skip
def test_a_motion_the_other_way(there: str, back: str) -> None:
    motion = a_motion.read(nodes.Scalar(there, NOWHERE), Desk())
    assert isinstance(motion, Motion) and back_again(motion) == back


def test_the_same_replay_gives_the_same_way_back() -> None:
    for one in ALL[::7]:
        assert [s.title for s in reassembly(one).steps] == [s.title for s in reassembly(replace(one)).steps]
        assert reassembly(one).end == reassembly(replace(one)).end


def test_after_the_way_back_only_flags_and_memories_are_left() -> None:
    kept = ("disturbed", "photographed", "marked", "renewed", "saved")
    for one in WITH_A_WAY_BACK:
        back = reassembly(one)
        if back.ledger.exceptions:
            continue
        end = replace(back.end, **{name: frozenset() for name in kept})
        assert end in (State(), replace(one.start, counts=end.counts)), name_of(one)


def test_a_circuit_that_the_record_leaves_empty_is_not_filled() -> None:
    """The waste line of the pump is drawn empty and stays so: `on-return: []` at that step says it."""
    back = back_of("fp420", "replace-pump")
    assert "fill: waste" not in words_of(back)
    assert [entry.words for entry in back.ledger.exceptions] == ["waste is drained"]
    assert back.ledger.words == "closed, 1 declared exception"
