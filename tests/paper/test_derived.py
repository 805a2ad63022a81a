"""A derived procedure on paper: said to be derived on every sheet, with every message, there and back."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from tests.paper.sheets import CONTENT, demo, demo_book, demo_pictures, pages_of

from benchleaf.access.derived import DerivedProcedure, by_configuration
from benchleaf.access.paths import Goal
from benchleaf.cli import main
from benchleaf.connectors.openings import openings_of
from benchleaf.edges.pdf import pdf_of
from benchleaf.pages.kinds import derived as derived_page
from benchleaf.paper.derived import BROKEN, DerivedSubject, goal_and_item, sheet, subjects_of
from benchleaf.paper.procedure import sheet as procedure_sheet

SAMPLE: tuple[tuple[str, Goal, str], ...] = (
    ("fp420", "replace", "A1"), ("fp420", "remove", "left-cover"), ("fp420", "reach", "M2"), ("bc300", "reach", "C1"),
    ("bc300", "replace", "E1"), ("bc300", "remove", "hood"),
)  # fmt: skip
sample = pytest.mark.parametrize(("machine", "goal", "item"), SAMPLE)


@cache
def subjects(machine: str, goal: Goal, item: str) -> tuple[DerivedSubject, ...]:
    return tuple(subjects_of(demo_book().machine(machine), goal, item))


@sample
def test_every_kind_of_machine_that_has_a_way_has_its_part(machine: str, goal: Goal, item: str) -> None:
    mbook = demo_book().machine(machine)
    groups = by_configuration(demo().derived, mbook.machine, item, goal)
    ways = [on for on, one in groups if isinstance(one, DerivedProcedure)]
    made = subjects(machine, goal, item)
    assert [one.configurations for one in made] == ways
    whole = sheet(mbook, goal, item, demo_pictures)
    assert len(whole.data.get("sheets", [whole.data])) == len(ways)


@sample
def test_every_sheet_says_derived_and_unverified(machine: str, goal: Goal, item: str) -> None:
    for page in pages_of(pdf_of(sheet(demo_book().machine(machine), goal, item, demo_pictures))):
        assert "Derived, unverified" in page
        assert f"{machine}/{goal}-{item}" in page


@sample
def test_its_steps_and_messages_are_those_of_its_page(machine: str, goal: Goal, item: str) -> None:
    parts = [one for one in derived_page.parts(demo_book().machine(machine), item, goal) if not one.barred]
    for part, subject in zip(parts, subjects(machine, goal, item), strict=True):
        data = procedure_sheet(subject, demo_pictures).data
        assert [step["title"] for step in data["steps"]] == [step.title for step in part.steps]
        for printed, shown in zip(data["steps"], part.steps, strict=True):
            assert [one["hazard"] for one in printed["safety"]] == [one.hazard for one in shown.safety]
        assert (BROKEN in data["warnings"]) == part.broken


@sample
def test_a_step_of_the_way_back_carries_the_messages_of_the_step_it_undoes(
    machine: str, goal: Goal, item: str
) -> None:
    carried = 0
    for subject in subjects(machine, goal, item):
        data = procedure_sheet(subject, demo_pictures).data
        forward = {step["number"]: {one["hazard"] for one in step["safety"]} for step in data["steps"]}
        for step in data["back"]:
            if step["why"].startswith("puts back step "):
                number = step["why"].removeprefix("puts back step ").split(" ")[0]
                assert {one["hazard"] for one in step["safety"]} == forward[number]
                carried += bool(forward[number])
    assert carried


@sample
def test_the_plugs_are_those_of_its_own_machines(machine: str, goal: Goal, item: str) -> None:
    """Two kinds of machine whose steps differ are replayed apart: what one opens never stands with the other."""
    for subject in subjects(machine, goal, item):
        rows = procedure_sheet(subject, demo_pictures).data["plugs"]
        assert {row["end"] for row in rows} == {end for one in subject.many for end in opened_by(one)}


def opened_by(one: DerivedProcedure) -> set[str]:
    built = one.replay.ground.built
    events = openings_of(built, one.record).events
    return {one.connector for one in events if one.verb in ("unplug", "plug") and one.connector in built.connectors}


def test_the_same_bytes_twice() -> None:
    mbook = demo_book().machine("bc300")
    one, again = (pdf_of(sheet(mbook, "remove", "hood", demo_pictures)) for _ in range(2))
    assert one == again


@pytest.mark.parametrize("name", ["replace-nothing", "mend-A1", "replace-", "reach-frame", "A1"])
def test_what_names_no_goal_and_item_is_none(name: str) -> None:
    assert goal_and_item(demo_book().machine("fp420"), name) is None


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def test_print_takes_a_goal_and_an_item(tmp_path: Path) -> None:
    out = tmp_path / "out.pdf"
    result = run("print", "bc300/reach-C1", "--content", CONTENT, "-o", out)
    assert result.exit_code == 0, result.output
    assert "Derived procedure: Reach the fan capacitor (C1)" in result.output
    assert "Reach the fan capacitor (C1)" in pages_of(out.read_bytes())[0]


def test_an_authors_procedure_of_that_name_goes_first(tmp_path: Path) -> None:
    content = tmp_path / "content"
    files = {
        "shop.yaml": "record: shop\nname: Shop\n",
        "lc/machine.yaml": "record: machine\nid: lc\nname: Plover\nitems: {frame: Frame, lid: Lid}\n",
        "lc/teardown/own.yaml": (
            "record: teardown\nid: reach-lid\ntitle: Written by hand\nmachine: lc\n"
            "steps: [{title: Look, do: [inspect: lid]}]\n"
        ),
    }
    for name, text in files.items():
        (content / name).parent.mkdir(parents=True, exist_ok=True)
        (content / name).write_text(text)
    result = run("print", "lc/reach-lid", "--content", content, "-o", tmp_path / "out.pdf")
    assert result.exit_code == 0, result.output
    assert "Written by hand" in result.output


def test_what_cannot_be_printed_is_refused_with_the_reason(tmp_path: Path) -> None:
    out = tmp_path / "out.pdf"
    variant = run("print", "fp420/replace-A1", "--content", CONTENT, "--variant", "mk9", "-o", out)
    serial = run("print", "fp420/replace-A1", "--content", CONTENT, "--serial", "0221", "-o", out)
    assert (variant.exit_code, serial.exit_code) == (2, 2)
    assert "mk1, mk2" in variant.output and "leave --serial out" in serial.output
    assert not out.exists()
