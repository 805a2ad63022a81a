"""Every verb of the record language has its row, and a verb and its inverse leave the machine as it was."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.physical.replayed import grounds

from benchleaf.physical.acts import Act, act
from benchleaf.physical.replay import run_act
from benchleaf.physical.state import State
from benchleaf.physical.verbs import VERBS
from benchleaf.records.actions import VERBS as WRITTEN

SHORT_FORMS = {"disconnect", "disconnect all"}
"""Written for several acts each, so they have no row of their own."""
DERIVED = {"take label off"}


def test_every_written_verb_has_a_row_and_no_row_is_without_a_verb() -> None:
    assert set(VERBS) == (set(WRITTEN) - SHORT_FORMS) | DERIVED


def test_the_inverse_of_a_verb_is_a_verb_whose_inverse_it_is() -> None:
    pairs = {name: row.inverse for name, row in VERBS.items() if row.inverse}
    assert all(inverse in VERBS for inverse in pairs.values())
    assert {name for name, inverse in pairs.items() if pairs.get(inverse) != name} <= {"back up"}


SIDE = "side-plate.side-screw"
UNDONE: tuple[tuple[tuple[Act, ...], tuple[Act, ...]], ...] = (
    ((act("remove", SIDE),), (act("start", SIDE), act("tighten", SIDE))),
    ((act("loosen", "base-cover.base-screw"),), (act("tighten", "base-cover.base-screw"),)),
    ((act("lift off", "lid"),), (act("install", "lid"),)),
    (
        (act("slide", "base-cover"), act("lift off", "base-cover")),
        (act("install", "base-cover"), act("slide", "base-cover")),
    ),
    ((act("move", "board-tray", "drawn"),), (act("move", "board-tray", "seated"),)),
    ((replace(act("unplug", "A1-J3"), at="W3"),), (replace(act("plug", "A1-J3"), at="W3"),)),
    ((act("lift lead", "W5", "E1.1"),), (act("land lead", "W5", "E1.1"),)),
    ((act("cut", "tray-tie"),), (act("tie", "tray-tie"),)),
    ((act("clamp", "oil-hose"),), (act("unclamp", "oil-hose"),)),
    (
        (act("open", "oil-hose", "M1"), act("cap", "oil-hose", "M1")),
        (act("uncap", "oil-hose", "M1"), act("close", "oil-hose", "M1")),
    ),
    ((act("drain", "oil"),), (act("fill", "oil"),)),
    ((act("isolate", "mains"), act("discharge", "mains"), act("prove dead", "mains")), (act("energise", "mains"),)),
    ((act("cover", "A2"),), (act("uncover", "A2"),)),
    ((act("stand", "left"),), (act("stand", "feet"),)),
    ((act("label", "W3"),), (act("take label off", "W3"),)),
)


@pytest.mark.parametrize("there,back", UNDONE, ids=lambda acts: "-".join(one.verb for one in acts))
def test_a_verb_and_its_inverse_leave_the_machine_as_it_was(there: tuple[Act, ...], back: tuple[Act, ...]) -> None:
    ground = grounds("vs20")[0]
    state = State()
    for one in there:
        state = run_act(ground, state, one).after
    assert replace(state, disturbed=frozenset()) != State()
    for one in back:
        state = run_act(ground, state, one).after
    kept = {"disturbed": frozenset(), "photographed": frozenset(), "due": frozenset(), "unset": frozenset()}
    assert replace(state, **kept) == State()
