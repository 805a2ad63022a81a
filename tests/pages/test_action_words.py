"""What a step tells the hands: every verb in a sentence that names thing, count, size, way and limit."""

from __future__ import annotations

import pytest
from tests.pages.library import demo

from benchleaf.pages import action_words
from benchleaf.pages.action_words import told_actions
from benchleaf.pages.book import Book, MachineBook
from benchleaf.records.actions import VERBS, Action, Kind
from benchleaf.text import Text


def machine(name: str = "fp420", *, only: str = "") -> MachineBook:
    mbook = Book(demo().derived).machine(name)
    if not only:
        return mbook
    return mbook.only({one for one in mbook.configurations if one.label == only})


def told(
    verb: str, target: str, to: str = "", *, only: str = "", cable: str = "", part: int | None = None
) -> list[str]:
    action = Action(verb=verb, text=Text(target), target=Text(target), to=Text(to), cable=Text(cable), part=part)
    return [one.text for one in told_actions(machine(only=only), action)]


def test_every_kind_of_object_has_its_sentence() -> None:
    assert set(action_words._WRITERS) == set(Kind)
    assert set(VERBS.values()) <= set(Kind)


@pytest.mark.parametrize(
    ("verb", "target", "to", "sentence"),
    [
        ("loosen", "top-shell.shell-screw", "", "Loosen 4 shell screws (M4 × 12, PH2, captive) of Top shell"),
        ("remove", "right-cover.right-screw", "", "Remove 1 right screw (M3 × 10, PH1) of Right cover"),
        ("slide", "top-shell", "", "Slide Top shell: to the back, away from you; 12 mm"),
        ("lift off", "top-shell", "", "Take off Top shell: lift up"),
        (
            "move", "board-tray", "service",
            "Move Control tray to its service position: pull to the back, away from you; 140 mm",
        ),
        ("move", "board-tray", "seated", "Move Control tray back to where it sits"),
        ("disconnect", "A1-J2", "", "Label, photograph and unplug A1-J2 (W4 Carriage flat cable)"),
        ("cut", "tray-tie", "", "Cut Tie on the supply cable, which holds W3 Supply cable"),
        ("drain", "waste", "", "Drain the waste circuit: Waste tank"),
        ("open", "ink-line", "H1", "Open the nut joint of ink-line (holds film ink) at H1 Print head"),
        ("cap", "ink-line", "H1", "Cap both openings of the joint of ink-line at H1 Print head"),
        ("renew", "damper-seal", "", "Fit new: Damper seal, part number FP-4111"),
        ("mark", "feed-belt", "", "Mark where it stands: Feed belt tension on M2 Feed motor"),
        ("adjust", "feed-belt", "", "Set Feed belt tension on M2 Feed motor: Set the tension of the feed belt"),
        ("stand", "left", "", "Stand the machine on its left"),
        ("energise", "mains", "", "Energise Mains"),
    ],
)  # fmt: skip
def test_a_verb_says_what_the_record_knows(verb: str, target: str, to: str, sentence: str) -> None:
    assert told(verb, target, to) == [sentence]


def test_counts_that_differ_between_machines_stand_with_their_machines() -> None:
    assert told("remove", "A1.board-screw") == [
        "Remove 4 (mk1, bare platen) or 6 (mk2, heated platen with its own cut-out) board screws (M3 × 6, TX10) "
        "of A1 Main board"
    ]
    assert told("remove", "A1.board-screw", only="mk1") == ["Remove 4 board screws (M3 × 6, TX10) of A1 Main board"]


def test_a_partial_count_says_of_how_many() -> None:
    assert told("remove", "rear-plate.rear-screw", part=2) == ["Remove 2 of 6 rear screws (M3 × 6, PH1) of Rear plate"]


def test_an_item_alone_stands_for_all_its_sets() -> None:
    assert len(told("loosen", "right-cover")) == 2


def test_proving_dead_names_every_place_limit_and_meter_and_tries_the_tester_first() -> None:
    first, second = told("prove dead", "roll-supply", only="mk1 with roll")
    assert first.startswith("Try the tester on a source you know, first and again after")
    assert "A9-J1:1 to A9-J1:2: below 1 V DC, with Multimeter with insulated probes" in second
    assert "F9:2 to A9-J1:2" in second


def test_a_discharge_ends_with_a_measurement() -> None:
    (text,) = told("discharge", "mains")
    by_hand, by_itself = text.split("By its bleed path: ")
    assert "PS1:+ and PS1:-" in by_hand and by_hand.lower().count("then measure") == 1
    assert by_itself.startswith("wait 88 s, then measure at PS1:+ and PS1:-")


def test_what_is_not_recorded_is_said_and_never_left_out() -> None:
    mbook = machine()
    assert "direction not recorded" in told("lift off", "S6")[0]
    assert [one.text for one in told_actions(mbook, Action(verb="remove", text=Text("x"), target=Text("no-such")))] == [
        "Remove what holds no-such: not recorded"
    ]
    assert "It counts as energised" in told("isolate", "no-such")[0]
    assert "counts as energised" in told("prove dead", "no-such")[0]
    assert "measure" in told("discharge", "no-such")[0]
