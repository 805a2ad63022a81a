"""A procedure is replayed there and back on every machine it is for; conditions first, unchecked steps as unknown."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.physical.replayed import (
    FOLDERS,
    Change,
    action,
    all_replays,
    derived_of,
    first_problem,
    grounds,
    library_of,
    machine_of,
    name_of,
    replay_changed,
)

from benchleaf.derived import Derived
from benchleaf.diagnostics import Severity
from benchleaf.physical.acts import Problem
from benchleaf.physical.findings import procedure_findings
from benchleaf.physical.replay import Replay, replay, run_step
from benchleaf.records.teardown import Step
from benchleaf.text import Text

ALL = all_replays()
PLANTED = {"screws-alike"}
"""What the demo has on purpose: two kinds of screw of one look and two lengths in one procedure."""


@pytest.mark.parametrize("one", ALL, ids=name_of)
def test_every_procedure_replays_without_an_error_on_every_machine_it_is_for(one: Replay) -> None:
    found = [problem for problem in one.all_problems() if problem.code not in PLANTED]
    assert not found, [problem.message for problem in found]


def test_the_screws_that_differ_by_their_length_are_found_in_the_demo() -> None:
    found = [problem for one in ALL for problem in one.all_problems() if problem.code == "screws-alike"]
    assert found and all("rear-plate.rear-screw (6 mm)" in one.message for one in found)
    assert {problem.code for one in ALL for problem in one.all_problems()} == PLANTED


def test_conditions_are_replayed_first_and_each_only_once() -> None:
    procedures = machine_of("fp420").procedures
    one = replay(grounds("fp420")[0], procedures["replace-main-board"], procedures)
    order = list(dict.fromkeys(step.of.procedure for step in one.steps))
    assert order == ["save-settings", "make-dead", "draw-tray", "replace-main-board"]
    assert [step.of.procedure for step in one.own_steps] == ["replace-main-board"] * len(one.own_steps)


def test_the_state_after_a_step_is_the_fold_of_the_steps_before_it() -> None:
    for one in ALL:
        state = one.start
        for step in one.steps:
            state = run_step(one.ground, state, step.step, step.of, step.procedure, step.is_condition).after
            assert state == step.after


def test_a_step_that_is_for_other_machines_is_left_out() -> None:
    procedures = machine_of("fp420").procedures
    replays = [replay(ground, procedures["draw-tray"], procedures) for ground in grounds("fp420")]
    titles = {one.ground.built.configuration.label: [step.of.title for step in one.steps] for one in replays}
    assert "Take the clear guard off" in titles["mk2 with roll"]
    assert "Take the clear guard off" not in titles["mk2"]


def test_one_slip_gives_one_finding_not_twenty() -> None:
    one = replay_changed(Change("fp420", "draw-tray", "tie-holds", "", without=("cut: tray-tie",)))
    assert [p.code for p in one.all_problems() if p.severity is Severity.ERROR] == ["tie-holds"]


def test_the_message_of_a_cable_across_a_move_names_ends_distance_and_way_out() -> None:
    one = replay_changed(Change("fp420", "draw-tray", "cable-across", "", without=("disconnect: A1-J7",)))
    found = first_problem(one)
    assert found is not None
    assert found[1].message == "cable W7 is still mated at A1-J7 and S3 when board-tray moves 140 mm"
    assert found[1].help == "unplug one end, or mend its slack: 60 mm is recorded"


def test_a_slack_that_nobody_recorded_counts_as_none() -> None:
    ground = grounds("fp420")[0]
    cables = dict(ground.built.cables)
    cables["W3"] = replace(cables["W3"], slack=None)
    bare = replace(ground, built=replace(ground.built, cables=cables), _known={})
    procedures = machine_of("fp420").procedures
    found = [p for p in replay(bare, procedures["draw-tray"], procedures).all_problems() if p.code == "cable-across"]
    assert [p.help for p in found] == ["unplug one end, or record that much slack"]


# ---- findings of the whole library


def findings(machine: str, derived: Derived | None = None) -> list[tuple[str, str, str]]:
    derived = derived or derived_of(machine)
    return [(f.code, f.message, str(f.place)) for f in procedure_findings(derived, derived.library.machines[machine])]


def with_procedure(change: Change) -> Derived:
    from tests.physical.replayed import changed

    library = library_of(FOLDERS[change.machine]).library
    machine = library.machines[change.machine]
    procedures = {**machine.procedures, change.inside or change.procedure: changed(change)}
    machines = {**library.machines, change.machine: replace(machine, procedures=procedures)}
    return Derived(replace(library, machines=machines))


def test_a_finding_stands_once_at_its_object_and_names_the_machines() -> None:
    change = Change("fp420", "replace-pump", "not-there", "", keys=(("Take the clear guard off", "applies", None),))
    found = [one for one in findings("fp420", with_procedure(change)) if one[0] == "not-there"]
    assert len(found) == 2, found
    assert {one[1] for one in found} == {"guard.guard-screw is not on this machine (on mk1; mk1, serial 0221; mk2)",
                                         "guard is not on this machine (on mk1; mk1, serial 0221; mk2)"}  # fmt: skip
    assert all(one[2].startswith("fp420/teardown/replace-pump.yaml:") for one in found)


def test_a_finding_on_every_machine_names_none() -> None:
    found = [one for one in findings("fp420") if one[0] == "screws-alike"]
    assert [one[1] for one in found] == [
        "rear-plate.rear-screw (6 mm) and left-cover.left-screw (8 mm) are out together and look alike"
    ]


# ---- unchecked steps


def with_prose(change: Change) -> Replay:
    return replay_changed(change)


def test_after_an_unchecked_step_no_energy_counts_as_isolated() -> None:
    change = Change("fp420", "replace-feed-motor", "", "", inside="make-dead", prose="Prove the mains side dead")
    step = next(one for one in with_prose(change).steps if one.is_unchecked)
    assert set(step.after.energies.values()) == {"not recorded"}
    assert [one.title for one in step.after.unchecked] == ["Prove the mains side dead"]


def test_what_an_unchecked_step_may_have_done_is_asked_about_not_refused() -> None:
    change = Change("fp420", "draw-tray", "", "", prose="Take the rear plate off")
    softened = [p for p in with_prose(change).all_problems() if p.code == "blocked"]
    assert softened and all(p.severity is Severity.WARNING for p in softened)
    assert "unless the unchecked step 'Take the rear plate off' saw to that" in softened[0].message


def test_an_unchecked_step_softens_nothing_that_can_hurt() -> None:
    change = Change("fp420", "draw-tray", "", "", prose="Take the rear plate off")
    live = [p for p in with_prose(change).all_problems() if p.code == "still-live"]
    assert live and all(p.severity is Severity.ERROR for p in live)


def test_a_prose_step_that_changes_nothing_says_so_and_leaves_everything_as_it_was() -> None:
    ground = grounds("vs20")[0]
    procedure = machine_of("vs20").procedures["replace-board"]
    first = replay(ground, procedure, machine_of("vs20").procedures).steps[3]
    look = Step(title=Text("Look"), changes="none")
    after = run_step(ground, first.after, look, first.of, procedure, False)
    assert not after.is_unchecked and after.after == first.after


def test_a_record_of_prose_alone_compiles_with_one_warning() -> None:
    derived = derived_of("fp420")
    found = [one for one in procedure_findings(derived, machine_of("fp420")) if "set-head-height" in one.place.file]
    assert [(one.code, one.severity) for one in found] == [("unchecked-steps", Severity.WARNING)]


# ---- single rules that no mutation above shows


def problems_of(machine: str, *written: str, on: int = 0, powered: bool = False) -> list[Problem]:
    """The problems of acts done on the assembled machine, energies proved dead first."""
    from benchleaf.physical.acts import act, expand
    from benchleaf.physical.replay import run_act
    from benchleaf.physical.state import PROVED, State

    ground = grounds(machine)[on]
    state = State(energies=dict.fromkeys(ground.built.energy, PROVED))
    step = Step(title=Text("A step"), powered=Text("why") if powered else None)
    found: list[Problem] = []
    for one in written:
        acts, misfits = expand(ground, state, action(one))
        found.extend(misfits)
        for single in acts:
            done = run_act(ground, state, single, step)
            found.extend(done.problems)
            state = done.after
    del act
    return found


def codes_of(*written: str, machine: str = "vs20") -> list[str]:
    return [one.code for one in problems_of(machine, *written)]


def test_an_item_alone_stands_for_all_its_sets() -> None:
    assert codes_of("loosen: base-cover", "slide: base-cover", "lift off: base-cover") == []


def test_a_stated_count_of_an_item_is_checked_over_all_its_sets() -> None:
    assert codes_of("loosen: 3 x base-cover") == ["count-differs"]
    assert codes_of("loosen: 4 x base-cover") == []


def test_more_than_there_are_cannot_be_removed() -> None:
    assert codes_of("remove: 4 of side-plate.side-screw") == ["count-differs"]


def test_a_hard_line_is_not_clamped_and_a_soldered_lead_not_lifted() -> None:
    assert "cannot-clamp" not in codes_of("clamp: oil-hose")
    assert codes_of("lift lead: W7 at S3", machine="fp420") == ["lead-soldered"]


def test_an_adjuster_is_set_with_power_on_only_in_a_declared_step() -> None:
    assert [p.code for p in problems_of("vs20", "adjust: lid-gap", powered=True)] == []


def test_disconnect_all_opens_what_is_still_plugged_and_says_when_nothing_is() -> None:
    opened = ["loosen: base-cover", "slide: base-cover", "lift off: base-cover", "disconnect: A1-J3"]
    assert codes_of(*opened, "disconnect all: A1", "disconnect all: A1") == ["done-twice"]


def test_a_finding_of_the_way_back_stands_in_a_file() -> None:
    """Energy comes back in a step of its own, which no author wrote: what is wrong with it stands at the procedure."""
    change = Change("fp420", "replace-pump", "", "", keys=(("Take the top shell off", "on_return", ()),))
    found = [one for one in findings("fp420", with_procedure(change)) if one[1].startswith("on the way back")]
    title = machine_of("fp420").procedures["replace-pump"].title.place
    assert ("energised-open", str(title)) in [(one[0], one[2]) for one in found]
