"""A good procedure with one thing changed: the first finding is the rule that was meant, at the step that was meant."""

from __future__ import annotations

import pytest
from tests.physical.replayed import Change, first_problem, machine_of, name_of, replay_changed

from benchleaf.physical.replay import replay

OUT = "Draw the tray out"
SHORT = "Open the short cables"
SHELL = "Take the top shell off"

CHANGES = (
    # ---- demo: what is in the way, what holds
    Change("fp420", "draw-tray", "tie-holds", OUT, without=("cut: tray-tie",)),
    Change("fp420", "draw-tray", "cable-across", OUT, without=("disconnect: A1-J5",)),
    Change("fp420", "draw-tray", "not-labelled", SHORT, instead=("disconnect: A1-J6", "unplug: A1-J6")),
    Change("fp420", "draw-tray", "wrong-cable", SHORT, instead=("disconnect: A1-J6", "disconnect: W9 at A1-J6")),
    Change("fp420", "draw-tray", "done-twice", OUT, before=("disconnect: A1-J5", "move: board-tray to service")),
    Change("fp420", "draw-tray", "still-held", OUT, without=("remove: 2 x board-tray.tray-screw",)),
    Change("fp420", "draw-tray", "count-differs", OUT,
           instead=("remove: 2 x board-tray.tray-screw", "remove: 3 x board-tray.tray-screw")),
    Change("fp420", "draw-tray", "still-held", OUT,
           instead=("remove: 2 x board-tray.tray-screw", "remove: 1 of board-tray.tray-screw")),
    Change("fp420", "draw-tray", "not-slid", SHELL, without=("slide: top-shell",)),
    Change("fp420", "draw-tray", "captive-removed", SHELL,
           instead=("loosen: top-shell.shell-screw", "remove: top-shell.shell-screw")),
    Change("fp420", "draw-tray", "still-held", SHELL, without=("loosen: top-shell.shell-screw",)),
    Change("fp420", "draw-tray", "out-of-reach", "Cut the tie on the supply cable",
           without=("loosen: top-shell.shell-screw", "slide: top-shell", "lift off: top-shell")),
    Change("fp420", "draw-tray", "still-held", "Take the rear plate off", without=("remove: rear-plate.rear-screw",)),
    Change("fp420", "draw-tray", "nothing-to-slide", "Take the rear plate off",
           instead=("lift off: rear-plate", "slide: rear-plate")),
    Change("fp420", "draw-tray", "out-of-reach", SHELL, on="mk1 with roll",
           without=("remove: guard.guard-screw", "lift off: guard")),
    Change("fp420", "draw-tray", "not-there", "Take the clear guard off",
           keys=(("Take the clear guard off", "applies", None),)),
    Change("fp420", "draw-tray", "goal-not-met", "", without=(
        "loosen: top-shell.shell-screw", "slide: top-shell", "lift off: top-shell", "cut: tray-tie",
        "disconnect: A1-J2", "disconnect: A1-J3", "disconnect: A1-J5", "disconnect: A1-J6", "disconnect: A1-J7",
        "disconnect: A1-J10", "remove: 2 x board-tray.tray-screw", "move: board-tray to service",
        "remove: rear-plate.rear-screw", "lift off: rear-plate")),
    Change("fp420", "draw-tray", "laid-wet", "Added", last=("stand: on left",)),
    # ---- demo: energy
    Change("fp420", "draw-tray", "exposes-live", "Take the left cover off", inside="make-dead",
           without=("isolate: mains",)),
    Change("fp420", "draw-tray", "not-discharged", "Prove the mains side dead", inside="make-dead",
           without=("discharge: mains",)),
    Change("fp420", "draw-tray", "still-live", SHORT, inside="make-dead", without=("prove dead: mains",)),
    Change("fp420", "draw-tray", "still-live", SHORT, inside="make-dead", on="mk1 with roll",
           without=("prove dead: roll-usb",)),
    Change("fp420", "make-dead", "isolation-order", "Discharge the power supply",
           inside="make-dead", instead=("isolate: mains", "inspect: XP1"), keys=(
               ("Take the left cover off", "do", ()),)),
    Change("fp420", "replace-feed-motor", "measured-live", "Measure a winding before you condemn the motor",
           inside="make-dead", without=("prove dead: mains",), keys=()),
    Change("fp420", "replace-feed-motor", "energised-open", "Added", last=("energise: mains",)),
    Change("fp420", "replace-feed-motor", "exposes-live", SHELL, inside="make-dead", prose="Prove the mains side dead"),
    Change("fp420", "measure-film-sensor", "no-power", "Plug in and read the meter", without=("energise: mains",)),
    Change("fp420", "measure-film-sensor", "energised-open", "Plug in and read the meter",
           keys=(("Plug in and read the meter", "covers", None),)),
    Change("fp420", "measure-film-sensor", "powered-undeclared", "Plug in and read the meter",
           keys=(("Plug in and read the meter", "powered", None),
                 ("Plug in and read the meter", "covers", "open")), without=("energise: mains",)),
    Change("fp420", "measure-film-sensor", "fastener-into-nothing", "Close the mains side",
           without=("install: left-cover",)),
    Change("fp420", "measure-film-sensor", "not-started", "Close the mains side",
           without=("start: left-cover.left-screw",)),
    # ---- demo: fluids
    Change("fp420", "replace-print-head", "board-under-joint", "Open the ink joint at the head",
           without=("cover: A2",)),
    Change("fp420", "replace-print-head", "wet-line-opened", "Open the ink joint at the head", without=("drain: ink",)),
    Change("fp420", "replace-print-head", "joint-left-open", "Open the ink joint at the head",
           without=("cap: ink-line at H1",)),
    Change("fp420", "replace-print-head", "cable-across", "Take the print head out", without=("disconnect: H1-J1",)),
    Change("fp420", "empty-waste-tank", "wet-line-opened", "Open the lower joint", without=("clamp: waste-upper",)),
    Change("fp420", "replace-pump", "cap-left-on", "Added", last=("close: waste-upper at P1",)),
    Change("fp420", "replace-pump", "filled-open", "Added", last=("fill: waste",)),
    Change("fp420", "replace-pump", "fastener-into-nothing", "Added", last=("start: P1.pump-screw",)),
    # ---- demo: the work
    Change("fp420", "replace-main-board", "settings-not-saved", "Take the main board out", conditions=("draw-tray",)),
    Change("bc300", "lift-hood", "too-heavy", "Lift the hood off", keys=(("Lift the hood off", "persons", 1),)),
    Change("bc300", "lift-hood", "cable-across", "Lift the hood off",
           without=("label: W16", "lift lead: W16 at hood.PE")),
    Change("bc300", "lift-hood", "still-live", "Lift the earth strap off the hood", inside="make-dead",
           without=("prove dead: heat",)),
    # ---- the third machine
    Change("vs20", "replace-board", "tie-holds", "Draw the tray", without=("cut: tray-tie",)),
    Change("vs20", "replace-board", "blocked", "Draw the tray",
           without=("remove: side-plate.side-screw", "lift off: side-plate")),
    Change("vs20", "replace-board", "cable-across", "Draw the tray", without=("disconnect: A1-J3",)),
    Change("vs20", "replace-board", "exposes-live", "Take the side plate off", without=("isolate: lid-force",)),
    Change("vs20", "replace-board", "count-differs", "Free the tray",
           instead=("remove: 2 x board-tray.tray-screw", "remove: 4 x board-tray.tray-screw")),
    Change("vs20", "replace-board", "cable-across", "Take the board out", without=("lift lead: W5 at A1.6",)),
    Change("vs20", "replace-board", "settings-not-saved", "Take the board out", conditions=("make-dead",)),
    Change("vs20", "replace-board", "not-discharged", "Prove the board and the capacitor dead", inside="make-dead",
           without=("discharge: mains",)),
    Change("vs20", "replace-board", "not-slid", "Take the base cover off", inside="make-dead",
           without=("slide: base-cover",)),
    Change("vs20", "replace-board", "captive-removed", "Take the base cover off", inside="make-dead",
           instead=("loosen: base-cover", "remove: base-cover")),
    Change("vs20", "replace-pump", "board-under-joint", "Open the oil hose", without=("cover: A2",)),
    Change("vs20", "replace-pump", "wet-line-opened", "Open the oil hose", without=("drain: oil",)),
    Change("vs20", "replace-pump", "joint-left-open", "Open the oil hose", without=("cap: oil-hose at M1",)),
    Change("vs20", "replace-pump", "still-held", "Take the pump out", without=("loosen: M1.pump-clip",)),
    Change("vs20", "replace-pump", "still-live", "Measure the winding", inside="make-dead",
           without=("prove dead: mains",)),
    Change("vs20", "replace-pump", "measured-live", "Measure the winding", inside="make-dead",
           without=("prove dead: mains",), keys=()),
    Change("vs20", "replace-pump", "cap-left-on", "Added", last=("close: oil-hose at M1",)),
    Change("vs20", "replace-spring", "still-live", "Unhook the spring", without=("prove dead: lid-force",)),
    Change("vs20", "replace-spring", "not-discharged", "Take the side plate off", without=("discharge: lid-force",)),
    Change("vs20", "replace-seal-bar", "still-live", "Take the bar off", without=("prove dead: heat",)),
    Change("vs20", "replace-seal-bar", "still-live", "Take the bar off", prose="Measure the bar"),
)  # fmt: skip
MEASURED = [one for one in CHANGES if one.code == "measured-live"]
FIRST = [one for one in CHANGES if one.code != "measured-live"]


@pytest.mark.parametrize("one", FIRST, ids=lambda one: one.name)
def test_the_first_finding_of_a_mutation_is_the_rule_that_was_meant(one: Change) -> None:
    found = first_problem(replay_changed(one))
    assert found is not None
    title, problem = found
    assert (problem.code, title) == (one.code, one.at), problem.message


@pytest.mark.parametrize("one", MEASURED, ids=lambda one: one.name)
def test_a_resistance_on_a_live_net_is_refused(one: Change) -> None:
    """Touching the connector before it is found first; the measurement is refused for itself as well."""
    found = [(step.of.title, p.code) for step in replay_changed(one).steps for p in step.problems]
    assert (one.at, one.code) in found


def test_there_are_at_least_thirty_mutations_and_the_third_machine_has_its_own() -> None:
    assert len(CHANGES) >= 30
    assert sum(one.machine == "vs20" for one in CHANGES) >= 12
    assert len({one.name for one in CHANGES}) == len(CHANGES)


@pytest.mark.parametrize("one", FIRST, ids=lambda one: one.name)
def test_the_procedure_that_is_changed_was_good(one: Change) -> None:
    procedures = machine_of(one.machine).procedures
    there = replay_changed(one).ground
    before = replay(there, procedures[one.procedure], procedures)
    assert not [p for p in before.all_problems() if p.code == one.code], name_of(before)


@pytest.mark.parametrize("one", FIRST, ids=lambda one: one.name)
def test_a_message_names_the_thing_and_the_way_out(one: Change) -> None:
    found = first_problem(replay_changed(one))
    assert found is not None
    _, problem = found
    assert problem.help and len(problem.message) > 20
    assert any(name in problem.message for name in there_names(one)), problem.message


def there_names(one: Change) -> set[str]:
    """What a message may name: the things of the machine, or the verb where the thing is a state of the step."""
    built = replay_changed(one).ground.built
    things = {*built.items, *built.cables, *built.lines, *built.ties, *built.energy, *built.connectors}
    return things | {"powered", "machine", "guard"}
