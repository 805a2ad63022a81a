"""The ledger holds everything that is not as the assembled machine, and closes only when nothing is."""

from __future__ import annotations

from dataclasses import replace

from tests.physical.replayed import action, all_replays, grounds, machine_of

from benchleaf.diagnostics import Place
from benchleaf.physical.acts import act
from benchleaf.physical.effects import attempted
from benchleaf.physical.ledger import changes, ledger
from benchleaf.physical.replay import replay, run_act, start_state
from benchleaf.physical.state import State, StepRef

NO_LINE = {"photographed", "marked", "saved", "renewed", "disturbed", "unchecked"}
"""Parts of a state that nothing has to be put back for."""


def test_an_assembled_machine_has_a_closed_ledger() -> None:
    for ground in grounds("vs20"):
        made = ledger(ground, start_state(ground))
        assert made.is_closed and made.words == "closed"


def test_a_deviation_as_found_is_listed_and_does_not_keep_it_open() -> None:
    made = next(ledger(g, start_state(g)) for g in grounds("vs20") if g.built.configuration.serial == "0107")
    assert made.is_closed
    assert [one.words for one in made.as_found] == [
        "1 missing from side-plate.side-screw when serial 0107 came in (Lower screw gone)"
    ]


def test_every_part_of_a_state_that_differs_has_a_line() -> None:
    """A part of the state without a column would let something be forgotten."""
    one = {
        "counts": ("remove", "side-plate.side-screw", ""), "items": ("lift off", "lid", ""),
        "opened": ("open", "lid", ""),
        "unmated": ("unplug", "A1-J3", "W3"), "lifted": ("lift lead", "W5", "E1.1"), "labelled": ("label", "W3", ""),
        "joints": ("open", "oil-hose", "M1"), "clamped": ("clamp", "oil-hose", ""), "drained": ("drain", "oil", ""),
        "ties": ("cut", "tray-tie", ""), "energies": ("isolate", "mains", ""), "covered": ("cover", "A2", ""),
        "stand": ("stand", "left", ""), "unset": ("remove", "M1.pump-screw", ""), "due": ("remove", "E1.bar-screw", ""),
        "unrestored": ("renew", "A1", ""),
    }  # fmt: skip
    ground = grounds("vs20")[0]
    parts = set(State.__dataclass_fields__) - NO_LINE
    assert {*one, "loosened"} == parts
    released = attempted(ground, State(), action("remove: A1.no-such-screw"))
    assert ledger(ground, replace(State(), loosened=released.loosened)).open
    for part, (verb, what, at) in one.items():
        state = run_act(ground, State(), replace(act(verb, what), at=at)).after
        assert getattr(state, part) != getattr(State(), part), part
        only = replace(State(), **{part: getattr(state, part)})
        assert ledger(ground, only).open, part


def test_an_unchecked_step_keeps_it_open_and_is_counted() -> None:
    state = State(unchecked=(StepRef("p", 1, "Do something", Place("f")),) * 2)
    made = ledger(grounds("vs20")[0], state)
    assert not made.is_closed and made.words == "open: 2 unchecked steps"


def test_what_a_step_opened_and_closed_is_the_difference_of_two_ledgers() -> None:
    procedures = machine_of("fp420").procedures
    one = replay(grounds("fp420")[0], procedures["measure-film-sensor"], procedures)
    step = next(s for s in one.steps if s.of.title == "Close the mains side")
    made = changes(ledger(one.ground, step.before), ledger(one.ground, step.after))
    assert {entry.what for entry in made["closed"]} == {"left-cover", "left-cover.left-screw out"}
    assert made["opened"] == ()


def test_fasteners_balance_against_the_recorded_count() -> None:
    for one in all_replays():
        for name, counts in one.end.counts.items():
            assert counts.there + counts.missing == one.ground.built.sets[name].count, name
