"""Derived procedures: clean there and back for every item of the demo, and what they say of what nobody recorded."""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path

import pytest
from ruamel.yaml import YAML
from tests.access.machines import derived_of, the_machine

from benchleaf.access.derived import (
    DerivedProcedure,
    as_author,
    authors_procedure,
    by_configuration,
    procedure_of,
    remedy_procedure,
)
from benchleaf.access.paths import Access, Goal
from benchleaf.access.ways import all_ways, ways_of
from benchleaf.applicability import Configuration
from benchleaf.derived import Derived
from benchleaf.diagnostics import Severity
from benchleaf.physical.state import PROVED
from benchleaf.pipeline import load
from benchleaf.records.codes import Remedy
from benchleaf.records.teardown import TeardownRecord
from benchleaf.refs import ItemRef, ProcedureRef
from benchleaf.text import Text

CONTENT = Path(__file__).parents[2] / "content"
MACHINES = [
    ("bc300", "one-bank", ()), ("bc300", "two-bank", ()),
    ("fp420", "mk1", ()), ("fp420", "mk1", ("roll",)), ("fp420", "mk2", ()), ("fp420", "mk2", ("roll",)),
]  # fmt: skip


@cache
def demo() -> Derived:
    return load(CONTENT).derived


@pytest.mark.parametrize("goal", ["reach", "remove", "replace"])
@pytest.mark.parametrize(("name", "variant", "modifications"), MACHINES)
def test_every_item_of_the_demo_has_a_clean_way_there_and_back(
    name: str, variant: str, modifications: tuple[str, ...], goal: Goal
) -> None:
    machine = demo().library.machines[name]
    on = Configuration(variant, frozenset(modifications))
    for item in ways_of(demo(), machine, on).removable:
        made = procedure_of(demo(), machine, on, item, goal)
        assert isinstance(made, DerivedProcedure), (item, made)
        assert made.errors == (), item
        assert made.back.stopped_at is None and made.back.ledger.is_closed, (item, made.back.words)
        assert {one.code for one in made.problems} <= {"screws-alike"}, (item, made.problems)
        assert made.record.verified is not None and made.record.verified.state == "unverified"


def test_the_demo_is_tried_in_every_configuration_but_those_of_one_serial() -> None:
    tried = {(name, Configuration(variant, frozenset(many))) for name, variant, many in MACHINES}
    every = {
        (str(machine.id), one)
        for machine in demo().library.machines.values()
        for one in all_ways(demo(), machine)
        if one.serial is None
    }
    assert tried == every


def test_a_derived_record_can_be_copied_by_an_author_and_reads_back_the_same() -> None:
    machine = demo().library.machines["fp420"]
    on = Configuration("mk2", frozenset({"roll"}))
    for item in ("A1", "P1", "E1", "carriage", "ink-tank"):
        made = procedure_of(demo(), machine, on, item, "remove")
        assert isinstance(made, DerivedProcedure)
        text = io.StringIO()
        YAML().dump({**as_author(made.record), "machine": "m", "goal": "as told"}, text)
        read = the_machine(
            derived_of("items: {frame: Frame}\n", no_links=True, **{str(made.record.id): text.getvalue()})
        ).procedures[str(made.record.id)]
        assert [str(step.title) for step in read.steps] == [str(step.title) for step in made.record.steps]
        for ours, theirs in zip(made.record.steps, read.steps, strict=True):
            assert [(one.verb, one.target, one.to, one.cable) for one in ours.do or ()] == [
                (one.verb, one.target, one.to, one.cable) for one in theirs.do or ()
            ]


# ---- isolation

LIVE = """
energy:
  mains:
    kind: electrical
    isolate: [unplug XP1]
    prove-dead: [{between: [A1.1, A1.2], expect: below 5 V AC}]
    stored: none
  heat: {kind: thermal, at: [A3], isolate: [unplug XP1], prove-dead: [{at: A3, expect: below 45 °C}]}
items:
  frame: Frame
  XP1: {name: Plug, behind: [], reach: [], held-by: none, supports: none}
  hatch: {name: Hatch, behind: [], held-by: none, supports: none}
  lid: {name: Lid, behind: [], held-by: none, supports: none}
  A1: {name: Supply, behind: [hatch], held-by: none, supports: none}
  A2: {name: Board, behind: [lid], held-by: none, supports: none, settings: Speed}
  A3: {name: Hot plate, behind: [], reach: [], held-by: none, supports: none}
"""
LIVE_WIRING = """
connectors: {A1-J1: {contacts: 2, takes: 5 min}, A2-J1: {contacts: 2}}
cables:
  W1: {ends: [A1-J1, A2-J1], wires: {map: straight}}
  W2: {ends: [XP1, A1], joint: spade, wires: {map: [[XP1.1, A1.1], [XP1.2, A1.2]]}}
joins: {A1: [{kind: load, between: [1, J1.1]}, {kind: load, between: [2, J1.2]}]}
sources: {mains: {at: [XP1.1], return: [XP1.2], nominal: 230 V AC}}
"""


def derive(item: str, goal: Goal = "remove", machine: str = LIVE) -> DerivedProcedure:
    derived = derived_of(machine, LIVE_WIRING)
    one = the_machine(derived)
    made = procedure_of(derived, one, derived.configurations(one)[0], item, goal)
    assert isinstance(made, DerivedProcedure)
    return made


def verbs(made: DerivedProcedure) -> list[str]:
    return [f"{one.verb} {one.text}" for step in made.record.steps for one in step.do or ()]


def test_the_proof_points_are_laid_open_before_a_hand_comes_near() -> None:
    made = derive("A2")
    order = verbs(made)
    assert order[:2] == ["back up A2", "isolate mains"]
    assert order[-2:] == ["disconnect W1 at A2-J1", "lift off A2"]
    assert order.index("lift off hatch") < order.index("prove dead mains") < order.index("lift off A2")
    assert [one.id for one in made.access.opens_for_proof] == ["off:hatch"]
    assert made.access.time == made.access.work_time - 30
    assert made.errors == ()


def test_what_is_hot_is_measured_and_nothing_is_discharged_there() -> None:
    made = derive("A3")
    assert verbs(made) == ["isolate mains", "isolate heat", "prove dead heat", "lift off A3"]
    assert made.replay.end.energies == {"mains": "isolated", "heat": PROVED}


def test_what_lies_behind_nothing_energised_is_taken_off_without_isolation() -> None:
    nothing_behind_it = LIVE.replace("A2: {name: Board, behind: [lid]", "A2: {name: Board, behind: []")
    assert verbs(derive("lid", machine=nothing_behind_it)) == ["lift off lid"]


def test_deleting_a_proof_or_an_isolator_adds_to_what_is_not_recorded() -> None:
    full = derive("A2").access.gaps
    for key in ("isolate: [unplug XP1]\n    prove", "prove-dead: [{between: [A1.1, A1.2], expect: below 5 V AC}]"):
        left = LIVE.replace(key, key[-5:] if key.startswith("isolate") else "note: none")
        less = derive("A2", machine=left)
        assert set(full) < set(less.access.gaps)
        assert less.errors  # the rules say it as well: nothing was proved dead


def test_a_new_part_is_taken_to_hand_and_goes_in_on_the_way_back() -> None:
    made = derive("A2", "replace")
    assert verbs(made)[-1] == "renew A2"
    assert "A2" in made.replay.end.renewed
    assert any("new board" in one.words for step in made.back.steps for one in step.instructions)
    assert any(one.act.verb == "restore" for step in made.back.steps for one in step.instructions)


def test_where_there_is_no_way_the_reason_is_handed_back() -> None:
    walled = LIVE.replace("A2: {name: Board, behind: [lid]", "A2: {name: Board, behind: [frame]")
    derived = derived_of(walled, LIVE_WIRING)
    machine = the_machine(derived)
    made = procedure_of(derived, machine, derived.configurations(machine)[0], "A2")
    assert isinstance(made, Access) and "nothing recorded makes way" in made.out_of_reach


# ---- odd machines

PLAIN = """
energy: {}
items:
  frame: Frame
"""


def test_an_item_drawn_to_two_positions_is_drawn_back_to_the_first_where_that_is_asked_for() -> None:
    machine = f"""{PLAIN}
  tray:
    name: Tray
    behind: []
    held-by: none
    supports: none
    takes: 1 h
    positions: {{left: {{motion: pull left 5 mm}}, right: {{motion: pull right 5 mm}}}}
  A1: {{name: One, behind: [tray@left], held-by: none, supports: none}}
  A2: {{name: Two, behind: [tray@right, A1], held-by: none, supports: none}}
  A3: {{name: Three, behind: [[tray@left + A2]], held-by: none, supports: none}}
"""
    derived = derived_of(machine)
    one = the_machine(derived)
    made = procedure_of(derived, one, derived.configurations(one)[0], "A3", "remove")
    assert isinstance(made, DerivedProcedure)
    assert verbs(made) == [
        "move tray to left", "lift off A1", "move tray to right", "lift off A2", "move tray to left", "lift off A3"
    ]  # fmt: skip
    assert list(made.replay.all_problems()) == []
    assert any("once more" in (step.text or "") for step in made.record.steps)


def test_a_plug_that_cannot_be_reached_in_place_goes_over_to_the_new_part() -> None:
    machine = f"""{PLAIN}
  A1: {{name: Board, behind: [], held-by: none, supports: none}}
  A2: {{name: Other, behind: [], held-by: none, supports: none}}
"""
    wiring = """
connectors: {A1-J1: {contacts: 2, reach: [A1]}, A2-J1: {contacts: 2}}
cables: {W1: {ends: [A1-J1, A2-J1]}}
"""
    on_the_bench = derived_of(machine, wiring)
    board = the_machine(on_the_bench)
    opened = procedure_of(on_the_bench, board, on_the_bench.configurations(board)[0], "A1")
    assert isinstance(opened, DerivedProcedure)
    assert verbs(opened) == ["disconnect W1 at A2-J1", "lift off A1", "disconnect W1 at A1-J1", "renew A1"]
    wiring = wiring.replace("reach: [A1]", "reach: [frame]")
    derived = derived_of(machine, wiring)
    one = the_machine(derived)
    made = procedure_of(derived, one, derived.configurations(one)[0], "A1")
    assert isinstance(made, DerivedProcedure)
    assert "W1 came off with it, still at A1-J1: it goes over to the new part." in str(made.record.steps[-1].text)


def test_what_stands_on_an_item_is_held_and_two_hands_are_asked_for_what_is_heavy() -> None:
    machine = f"""{PLAIN}
  leg: {{name: Leg, behind: [], held-by: none, supports: [top], mass: 31 kg}}
  top: {{name: Top, behind: [], held-by: none, supports: none}}
"""
    derived = derived_of(machine)
    one = the_machine(derived)
    made = procedure_of(derived, one, derived.configurations(one)[0], "leg", "remove")
    assert isinstance(made, DerivedProcedure)
    assert made.record.steps[0].persons == 3  # 31 kg by 15 kg a person, rounded up
    assert "Hold the top: without the leg it would fall or tip." in str(made.record.steps[0].text)
    assert [one.code for one in made.problems if one.severity is Severity.ERROR] == []


def test_screws_that_look_alike_are_kept_apart_in_words_too() -> None:
    machine = demo().library.machines["fp420"]
    made = procedure_of(demo(), machine, Configuration("mk1"), "X1", "remove")
    assert isinstance(made, DerivedProcedure)
    texts = [str(step.text) for step in made.record.steps]
    assert any("Keep them apart from those of the left cover: they look alike." in text for text in texts)


# ---- remedies


def test_a_remedy_leads_to_the_authors_procedure_and_else_to_the_derived_one() -> None:
    machine = demo().library.machines["fp420"]
    on = Configuration("mk2")
    written = remedy_procedure(demo(), machine, on, Remedy(Text("replace M2"), replace=ItemRef("M2")))
    assert isinstance(written, TeardownRecord) and written.id == "replace-feed-motor"
    assert authors_procedure(machine, on, "M3") is None
    made = remedy_procedure(demo(), machine, on, Remedy(Text("replace M3"), replace=ItemRef("M3")))
    assert isinstance(made, DerivedProcedure) and made.access.goal == "replace"
    named = remedy_procedure(demo(), machine, on, Remedy(Text("make-dead"), procedure=ProcedureRef("make-dead")))
    assert isinstance(named, TeardownRecord) and named.id == "make-dead"
    plain = Configuration("mk1")
    assert remedy_procedure(demo(), machine, plain, Remedy(Text("replace E1"), replace=ItemRef("E1"))) is None


def test_every_remedy_of_the_demo_that_names_an_item_leads_to_a_sound_procedure() -> None:
    found = 0
    for machine in demo().library.machines.values():
        for code in machine.codes.values():
            for cause in code.causes.values():
                if cause.remedy is None or cause.remedy.replace is None:
                    continue
                for on in all_ways(demo(), machine):
                    made = remedy_procedure(demo(), machine, on, cause.remedy)
                    found += 1
                    if isinstance(made, DerivedProcedure):
                        assert not [one for one in made.problems if one.severity is Severity.ERROR]
                    else:
                        assert made is None or isinstance(made, TeardownRecord)
    assert found > 50


def test_configurations_with_the_same_steps_stand_together() -> None:
    machine = demo().library.machines["fp420"]
    groups = by_configuration(demo(), machine, "A4", "remove")
    every = [one for many, _ in groups for one in many]
    assert sorted(every, key=lambda one: one.sort_key) == list(demo().configurations(machine))
    assert 1 < len(groups) < len(every)
