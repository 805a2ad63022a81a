"""Deleting a fact that makes things milder never removes a finding, an energy not proved, a hold or an owed check.

The facts are those of computations.md, section 0: an isolator, a wire, a slack, ``held-by``, a ``none``, a rest time, a
key of a connector … taken out of the record one at a time, before procedures that have something wrong with them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.physical.replayed import changed, grounds, machine_of
from tests.physical.test_mutations import CHANGES

from benchleaf.built import build
from benchleaf.model import Machine
from benchleaf.physical.ground import Ground
from benchleaf.physical.owed_checks import owed_checks
from benchleaf.physical.replay import Replay, replay
from benchleaf.physical.state_sheet import Stop, sheets

STRICTNESS = {Stop.PAUSE: 0, Stop.ATTENDED: 1, Stop.DO_NOT: 2}


@dataclass(frozen=True)
class Deletion:
    """One fact taken out: ``table`` of the machine or its wiring, ``name`` of the entry, ``field`` (empty = all)."""

    table: str
    name: str
    field: str = ""


MILDER = {
    "items": ("held_by", "rests", "supports", "mass", "box"),
    "lines": ("clamp", "slack", "wet"),
    "energy": ("isolate", "stored", "prove_dead", "at"),
    "fasteners": ("release", "head", "drive", "thread", "length"),
    "cables": ("slack", "wires", "length", "joint"),
    "connectors": ("family", "contacts", "keyed"),
    "sources": ("plug", "one_way", "needs", "nominal", "earth"),
    "checks": ("",),
    "joins": ("",),
}
WIRING = ("cables", "connectors", "sources", "joins")


def deletions(machine: Machine) -> Iterator[Deletion]:
    """Every deletion of a fact that is recorded and makes something milder."""
    for table, fields in MILDER.items():
        for name, entry in getattr(machine.wiring if table in WIRING else machine.record, table).items():
            for field in fields:
                value = getattr(entry, field) if field else entry
                if value is not None and not (field == "stored" and value):
                    yield Deletion(table, name, field)


def without(machine: Machine, fact: Deletion) -> Machine:
    record: Any = machine.wiring if fact.table in WIRING else machine.record
    entries = dict(getattr(record, fact.table))
    if fact.field:
        entries[fact.name] = replace(entries[fact.name], **{fact.field: None})
    else:
        del entries[fact.name]
    changed_record = replace(record, **{fact.table: entries})
    part = {"wiring": changed_record} if fact.table in WIRING else {"record": changed_record}
    return replace(machine, **part)


@dataclass(frozen=True)
class Outcome:
    """What may never grow milder."""

    steps: frozenset[int]
    """Which steps have a finding, by number."""
    acts: Mapping[tuple[int, str], bool]
    """Which acts have a finding; what a record no longer tells apart into acts is seen by its step."""
    strictness: tuple[int, ...]
    holds: tuple[int, ...]
    unproved: tuple[frozenset[str], ...]
    owed: frozenset[str]


def outcome(one: Replay, leave_out: str = "") -> Outcome:
    made = sheets(one)
    owed = owed_checks(one.ground, one.end)
    because = {words for single in owed.owed for words in single.because if not words.startswith("opened; ")}
    return Outcome(
        steps=frozenset(n for n, step in enumerate(one.steps) if any(p.code != leave_out for p in step.problems)),
        acts={
            (n, done.act.words): any(p.code != leave_out for p in done.problems)
            for n, step in enumerate(one.steps)
            for done in step.done
        },
        strictness=tuple(STRICTNESS[sheet.stop.answer] for sheet in made),
        holds=tuple(len(sheet.holds) for sheet in made),
        unproved=tuple(frozenset(line.energy for line in sheet.still_live) for sheet in made),
        owed=frozenset({*because, *owed.uncovered, *(single.id for single in owed.owed)}),
    )


def replay_on(machine: Machine, ground: Ground, number: int) -> Replay:
    one = CHANGES[number]
    procedures = {**machine.procedures, one.inside or one.procedure: changed(one)}
    built = build(machine, ground.built.configuration)
    return replay(Ground(built, ground.library), procedures[one.procedure], procedures)


def check(number: int, fact: Deletion) -> None:
    one = CHANGES[number]
    ground = grounds(one.machine)[-1]
    machine = machine_of(one.machine)
    # without `held-by` the look of its screws is gone, and every step that names the set is an error of its own
    alike = "screws-alike" if fact.field == "held_by" else ""
    before = outcome(replay_on(machine, ground, number), alike)
    after = outcome(replay_on(without(machine, fact), ground, number))
    words = f"{one.name} without {fact}"
    assert before.steps <= after.steps, f"{words}: steps {before.steps - after.steps}"
    milder = [act for act, is_found in before.acts.items() if is_found and not after.acts.get(act, True)]
    assert not milder, f"{words}: {milder}"
    assert all(a <= b for a, b in zip(before.strictness, after.strictness, strict=True)), words
    assert all(a <= b for a, b in zip(before.holds, after.holds, strict=True)), words
    assert all(a <= b for a, b in zip(before.unproved, after.unproved, strict=True)), words
    if fact.table != "checks":
        assert before.owed <= after.owed, words
    else:
        gone = machine.record.checks[fact.name]
        assert len(after.owed) > 0 and all(str(name) in after.owed for name in gone.covers if str(name) in before.owed
                                           and str(name) in ground.built.items), words  # fmt: skip


FACTS = {name: sorted(deletions(machine_of(name)), key=str) for name in ("vs20", "fp420", "bc300")}


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_deleting_a_fact_never_makes_a_wrong_procedure_look_better(data: st.DataObject) -> None:
    number = data.draw(st.integers(0, len(CHANGES) - 1))
    check(number, data.draw(st.sampled_from(FACTS[CHANGES[number].machine])))


def test_an_item_whose_fasteners_nobody_recorded_still_counts_as_loose_once_they_are_released() -> None:
    held = Deletion(table="items", name="board-tray", field="held_by")
    numbers = [n for n, one in enumerate(CHANGES) if (one.machine, one.procedure) == ("vs20", "replace-board")]
    assert len(numbers) > 5
    for number in numbers:
        check(number, held)


@pytest.mark.parametrize("number", [n for n, one in enumerate(CHANGES) if one.machine == "vs20"][::8])
def test_on_the_third_machine_no_single_deletion_makes_it_look_better(number: int) -> None:
    for fact in FACTS["vs20"]:
        check(number, fact)


def test_deleting_every_wire_leaves_every_item_at_every_energy() -> None:
    ground = grounds("vs20")[0]
    before = ground.liveness.at
    machine = machine_of("vs20")
    cables = {name: replace(one, wires=None) for name, one in machine.wiring.cables.items()}
    bare = replace(machine, wiring=replace(machine.wiring, cables=cables))
    after = Ground(build(bare, ground.built.configuration), ground.library).liveness.at
    assert all(set(energies) <= set(after.get(item, ())) for item, energies in before.items())
