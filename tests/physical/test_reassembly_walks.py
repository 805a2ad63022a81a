"""Any legal way of taking a machine apart has a way back that replays clean and closes the ledger.

The walks are drawn at random: at every turn one act that breaks no rule. Nobody chose their order, so they take apart
what no written procedure ever would.
"""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.physical.replayed import action, grounds

from benchleaf.physical.ground import Ground
from benchleaf.physical.owed_checks import owed_checks
from benchleaf.physical.reassembly import Reassembly, reassembly
from benchleaf.physical.replay import Replay, replay, run_step
from benchleaf.physical.state import State, StepRef
from benchleaf.physical.state_sheet import sheets
from benchleaf.records.actions import Action
from benchleaf.records.teardown import Step, TeardownRecord
from benchleaf.text import NOWHERE, Text

MACHINES = ("vs20", "fp420", "bc300")


def candidates(ground: Ground) -> list[list[Action]]:
    """Everything that takes something apart on this machine, as steps of one or two actions."""
    built = ground.built
    steps: list[list[str]] = []
    for name, one in built.sets.items():
        steps.append([f"{'loosen' if one.captive else 'remove'}: {name}"])
        if not one.captive and one.count > 1:
            steps += [[f"remove: 1 of {name}"], [f"loosen: {name}"]]
    for name, item in built.items.items():
        steps.append([f"lift off: {name}"])
        steps += [[f"slide: {name}"]] if ground.slides(name) else []
        steps += [[f"move: {name} to {position}"] for position in item.positions]
        steps += [[f"back up: {name}"]] if item.settings is not None else []
        steps += [[f"renew: {name}"]]
    for name, cable in built.cables.items():
        for end in cable.ends:
            if end.at in built.connectors:
                steps.append([f"disconnect: {end.at}"])
            elif not end.at.is_parked and ground.joint_of_lead(name, str(end.at)) in ("screw", "spade"):
                steps.append([f"lift lead: {name} at {lead}" for lead in ground.leads(name, str(end.at))])
    for name, line in built.lines.items():
        steps.append([f"clamp: {name}"])
        for joint in line.ends:
            steps += [[f"cover: {one}"] for one in joint.drips_on or ()]
            steps.append([f"open: {name} at {joint.at}", f"cap: {name} at {joint.at}"])
        steps.append([f"drain: {ground.circuit(name)}"])
    steps += [[f"cut: {name}"] for name in built.ties]
    steps += [[f"{verb}: {name}"] for name in built.energy for verb in ("isolate", "discharge", "prove dead")]
    return [[action(written) for written in one] for one in steps]


def walk(ground: Ground, seed: int, length: int) -> Replay:
    """A walk of legal steps, each drawn from all that would break no rule in its place."""
    random = Random(seed)
    possible = candidates(ground)
    bare = TeardownRecord(record=Text("teardown"), id=Text("walk"), title=Text("Walk"), machine=Text("m"), steps=())
    steps: list[Step] = []
    state = replay(ground, bare, {}).start
    while len(steps) < length:
        for number in random.sample(range(len(possible)), len(possible)):
            step = Step(title=Text(f"Step {len(steps) + 1}"), do=tuple(possible[number]))
            made = run_step(ground, state, step, StepRef("walk", 1, "", NOWHERE), bare, False)
            if not made.problems and made.after != state and not _too_early(ground, state, step):
                break
        else:
            break
        steps.append(step)
        state = made.after
    return replay(ground, replace(bare, steps=tuple(steps)), {})


def _too_early(ground: Ground, state: State, step: Step) -> bool:
    """A sheet is laid on a live board and taken off it again only by hands that touch it."""
    covers = [one.target for one in step.do or () if one.verb == "cover"]
    return any(not state.is_proved(name) for item in covers for name in ground.liveness.at.get(item, ()))


def check_back(one: Replay) -> Reassembly:
    assert not list(one.all_problems())
    back = reassembly(one)
    written = [[done.act.words for done in step.done] for step in one.steps]
    assert not [problem.message for _, problem in back.all_problems()], written
    assert back.ledger.open == () and back.ledger.is_closed, (back.ledger.open, written)
    assert len(sheets(one)) == len(one.own_steps) + 1
    assert owed_checks(one.ground, back.end).words
    return back


@pytest.mark.parametrize("machine", MACHINES)
@given(number=st.integers(0, 5), seed=st.integers(0, 10**6), length=st.integers(1, 70))
@settings(max_examples=12, deadline=None)
def test_a_random_legal_teardown_has_a_clean_way_back(machine: str, number: int, seed: int, length: int) -> None:
    everywhere = grounds(machine)
    check_back(walk(everywhere[number % len(everywhere)], seed, length))


INVERSES = {
    "remove": ("start", "tighten"), "loosen": ("tighten",), "lift off": ("install",), "clamp": ("unclamp",),
    "open": ("close",), "cap": ("uncap",), "drain": ("fill",), "cut": ("tie",), "cover": ("uncover",),
    "isolate": ("energise",), "lift lead": ("land lead",),
}  # fmt: skip


@pytest.mark.parametrize("machine", MACHINES)
@given(number=st.integers(0, 5), seed=st.integers(0, 10**6), length=st.integers(1, 60))
@settings(max_examples=12, deadline=None)
def test_no_procedure_however_wrong_stops_the_replay(machine: str, number: int, seed: int, length: int) -> None:
    """Acts in any order, there and back, twice, of what is off or gone: found, counted, never an exception."""
    random = Random(seed)
    ground = grounds(machine)[number % len(grounds(machine))]
    possible = candidates(ground)
    back = [
        [replace(one, verb=verb) for one in acts for verb in INVERSES.get(one.verb, ())]
        for acts in possible
        if any(one.verb in INVERSES for one in acts)
    ]
    steps = []
    for title in range(length):
        do = tuple(random.choice(random.choice((possible, back))))
        prose = random.random() < 0.05
        steps.append(Step(title=Text(f"Step {title}"), do=None if prose else do))
    record = TeardownRecord(
        record=Text("teardown"), id=Text("walk"), title=Text("Walk"), machine=Text("m"), steps=tuple(steps)
    )  # fmt: skip
    one = replay(ground, record, {})
    for name, counts in one.end.counts.items():
        assert counts.there + counts.missing == ground.built.sets[name].count
        assert min(counts.tight, counts.loose, counts.out, counts.missing) >= 0
    made = reassembly(one)
    assert made.stopped_at is not None or not one.end.unchecked
    assert all(problem.help and problem.message for problem in one.all_problems())
    assert len(sheets(one)) == len(one.own_steps) + 1 and owed_checks(ground, made.end).words
