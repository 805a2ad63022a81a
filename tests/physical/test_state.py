"""The state keeps only what differs from the assembled machine, and a change leaves the state before as it was."""

from __future__ import annotations

from tests.physical.replayed import grounds

from benchleaf.physical.acts import act
from benchleaf.physical.replay import run_act, start_state
from benchleaf.physical.state import Counts, State


def test_an_assembled_machine_is_an_empty_state() -> None:
    assert start_state(grounds("vs20")[0]) == State()


def test_a_deviation_as_found_starts_the_state_of_its_serial_only() -> None:
    states = {one.built.configuration.serial: start_state(one) for one in grounds("vs20")}
    assert states["0107"].counts == {"side-plate.side-screw": Counts(tight=2, missing=1)}
    assert states["0207"] == State()


def test_counts_move_from_tight_to_out_and_back_by_numbers() -> None:
    ground = grounds("vs20")[0]
    name = "side-plate.side-screw"
    state = State()
    seen = []
    for verb, count in (("loosen", 1), ("remove", 2), ("start", None), ("tighten", None)):
        state = run_act(ground, state, act(verb, name, count=count)).after
        seen.append(ground.counts(state, name))
    assert seen == [Counts(2, 1, 0), Counts(1, 0, 2), Counts(1, 2, 0), Counts(3, 0, 0)]
    assert not state.counts


def test_a_change_leaves_the_state_before_it_untouched() -> None:
    ground = grounds("vs20")[0]
    before = State()
    run_act(ground, before, act("lift off", "lid"))
    assert before == State()


def test_energising_undoes_every_isolation_that_stands_on_the_same_device() -> None:
    ground = grounds("vs20")[0]
    state = State()
    for verb, what in (("isolate", "mains"), ("isolate", "heat"), ("isolate", "lid-force"), ("energise", "mains")):
        state = run_act(ground, state, act(verb, what)).after
    assert state.energies == {"lid-force": "isolated"}
