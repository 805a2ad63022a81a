"""Every procedure of the demo, printed: what the replay says of it stands on the sheet, counted against the replay."""

from __future__ import annotations

from functools import cache

import pytest
from tests.paper.sheets import demo, demo_sheet, demo_subject, pages_of

from benchleaf.edges.pdf import pdf_of
from benchleaf.paper.names import in_words, named
from benchleaf.paper.sheet import Sheet
from benchleaf.physical.ledger import ledger
from benchleaf.physical.owed_checks import owed_checks
from benchleaf.physical.state_sheet import sheets

DEMO = [(str(machine.id), str(one.id)) for machine, one in demo().derived.library.procedures()]
every_procedure = pytest.mark.parametrize(("machine", "name"), DEMO)


@cache
def printed(machine: str, name: str) -> tuple[Sheet, str]:
    made = demo_sheet(machine, name)
    return made, " ".join(pages_of(pdf_of(made)))


@every_procedure
def test_every_part_has_its_heading(machine: str, name: str) -> None:
    made, text = printed(machine, name)
    for heading in ("Before step 1", "Steps", "How the machine stands before step 1", "Ledger after the last step",
                    "The way back", "Before it goes back into service", "Close-up"):  # fmt: skip
        assert heading in text
    assert ("Torque card" in text) == bool(made.data["torques"])
    assert ("Hazards met in this procedure" in text) == bool(made.data["summary"])


@every_procedure
def test_every_hold_point_has_a_box_to_sign(machine: str, name: str) -> None:
    made, text = printed(machine, name)
    steps = {int(step["number"]): step["holds"] for step in made.data["steps"]}
    expected: dict[int, set[str]] = {}
    for replay in demo_subject(machine, name).replays:
        for one in sheets(replay):
            if one.of is not None and one.of.procedure == name:
                expected.setdefault(one.of.number, set()).update(one.holds)
    assert {number: set(holds) for number, holds in steps.items()} == expected
    assert text.count("HOLD") == sum(bool(holds) for holds in steps.values())


@every_procedure
def test_after_every_step_it_says_whether_one_may_stop(machine: str, name: str) -> None:
    made, _ = printed(machine, name)
    for step in made.data["steps"]:
        assert step["stop"]
        assert all(line["words"].startswith("After this step: ") for line in step["stop"])


@every_procedure
def test_every_open_line_of_the_ledger_is_there_to_be_ticked(machine: str, name: str) -> None:
    made, text = printed(machine, name)
    subject = demo_subject(machine, name)
    expected = set()
    for replay in subject.replays:
        found = ledger(replay.ground, replay.end)
        expected |= {named(subject.mbook, one.words) for one in found.open} | {one.words for one in found.as_found}
    assert {row[0] for row in made.data["ledger"]} == expected
    assert all(row[2] == {"tick": True} for row in made.data["ledger"])
    assert expected or "Nothing that was recorded is open." in text


@every_procedure
def test_every_instruction_of_the_way_back_is_there(machine: str, name: str) -> None:
    made, text = printed(machine, name)
    subject = demo_subject(machine, name)
    expected = {
        in_words(subject.mbook, one.words)
        for back in subject.reassemblies
        for step in back.steps
        for one in step.instructions
    }
    assert {action["said"] for step in made.data["back"] for action in step["actions"]} == expected
    assert all(back.words in text for back in subject.reassemblies)


@every_procedure
def test_every_check_owed_is_there_with_room_for_the_finding_and_a_name(machine: str, name: str) -> None:
    made, _ = printed(machine, name)
    expected = set()
    for back in demo_subject(machine, name).reassemblies:
        expected |= {one.title for one in owed_checks(back.replay.ground, back.end).owed}
    rows = made.data["owed"]
    assert {row[0]["lines"][0][0]["t"] for row in rows} == expected
    assert all(row[3] == row[4] == {"box": True} for row in rows)
    assert rows or made.data["owed-notes"]


@every_procedure
def test_no_cell_and_no_sentence_is_empty(machine: str, name: str) -> None:
    """What is not there was not recorded, and is said so."""
    made, _ = printed(machine, name)
    needs = [need for side in made.data["needs"] for need in side]
    assert needs and all(line["words"] for need in needs for line in need["lines"] or ())
    assert all(value for _, value in made.data["emergency"])
    assert all(one["consequence"] and one["avoid"] for step in made.data["steps"] for one in step["safety"])
    assert all(row[1] and row[2] for row in made.data["torques"])
