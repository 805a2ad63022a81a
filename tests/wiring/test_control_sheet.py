"""The energy-control sheet follows the standard's order, covers every kind of energy and never lacks a measurement."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from tests.wiring.machines import wired

from benchleaf.derived import Derived
from benchleaf.pipeline import load
from benchleaf.records.shared import ShopRecord
from benchleaf.text import Text
from benchleaf.wiring.configurations import wiring_of
from benchleaf.wiring.control_sheet import TESTER_AFTER, TESTER_BEFORE, ControlSheet, control_sheet

DEMO = Path(__file__).parents[2] / "content"
SHOP = ShopRecord(record=Text("shop"))

# 29 CFR 1910.147(d)(1) to (6): the order of a procedure for the control of energy.
ORDER = ["(d)(1)", "(d)(2)", "(d)(3)", "(d)(4)", "(d)(5)", "(d)(6)"]


@pytest.fixture(scope="module")
def demo() -> Derived:
    return load(DEMO).derived


def sheets(demo: Derived) -> list[ControlSheet]:
    machines = demo.library.machines.values()
    return [control_sheet(wiring_of(demo, b), demo.library.shop) for m in machines for b in demo.all_built(m)]


def lines_of(sheet: ControlSheet, clause: str) -> list[str]:
    return [line.words for part in sheet.parts if part.clause == clause for line in part.lines]


def test_the_parts_stand_in_the_order_of_the_standard(demo: Derived) -> None:
    for sheet in sheets(demo):
        assert [part.clause for part in sheet.parts] == ORDER
        assert all(part.lines for part in sheet.parts)


def test_the_tester_is_proved_before_and_after_whatever_is_measured(demo: Derived) -> None:
    for sheet in sheets(demo):
        words = lines_of(sheet, "(d)(6)")
        before, after = words.index(TESTER_BEFORE), words.index(TESTER_AFTER)
        measured = [n for n, line in enumerate(words) if line.startswith(("Mains:", "USB", "Roll", "Belt"))]
        assert measured
        assert before < min(measured)
        assert max(measured) < after


def test_no_wait_stands_without_its_measurement(demo: Derived) -> None:
    for sheet in sheets(demo):
        for part in sheet.parts:
            for line in part.lines:
                if re.search(r"\b(wait|cool|discharge[ds]?)\b", line.words) and part.clause == "(d)(5)":
                    assert "measure" in line.words


def test_every_kind_of_energy_has_its_way_of_relief() -> None:
    kinds = "".join(
        f"  {kind}-one: {{kind: {kind}, at: [A1], isolate: [block A1], lock: chain it}}\n"
        for kind in ("thermal", "pneumatic", "spring", "gravity")
    )
    sheet = control_sheet(wired(f"items: {{A1: Press}}\nenergy:\n{kinds}"), SHOP)
    told = lines_of(sheet, "(d)(5)")
    for kind, word in (("thermal", "cool"), ("pneumatic", "vent"), ("spring", "spring"), ("gravity", "block")):
        assert any(line.startswith(f"{kind}-one:") and word in line for line in told)
    assert "electrical" in " ".join(line.words for line in sheet.gaps)


def test_what_is_not_recorded_stands_as_a_gap() -> None:
    sheet = control_sheet(wired("items: {A1: Board}\n"), SHOP)
    gaps = " / ".join(line.words for line in sheet.gaps)
    for words in ("no energy is recorded", "no source is recorded", "no procedure shuts", "wiring not recorded"):
        assert words in gaps
    bare = "items: {XP1: Plug}\nenergy:\n  mains: {kind: electrical}\n"
    told = control_sheet(wired(bare, "sources:\n  mains: {at: [XP1.L]}\n  other: {at: [XP1.M]}\n"), SHOP)
    gaps = " / ".join(line.words for line in told.gaps)
    for words in (
        "other has no entry under `energy`",
        "how mains is isolated is not recorded",
        "whether mains leaves charge behind is not recorded",
        "where mains is proved gone is not recorded",
    ):
        assert words in gaps


def test_what_each_device_alone_leaves_live_is_told(demo: Derived) -> None:
    sheet = next(s for s in sheets(demo) if (s.machine, s.configuration) == ("bc300", "one-bank"))
    told = next(line for line in lines_of(sheet, "(d)(3)") if line.startswith("after open Q1 alone"))
    assert "still live from" in told
    assert "mains (230 V AC)" in told
    assert "A1-J1:L" in told


def test_nothing_on_a_sheet_says_that_anything_is_safe(demo: Derived) -> None:
    for sheet in sheets(demo):
        assert not [line for part in sheet.parts for line in part.lines if re.search(r"\bsafe", line.words, re.I)]


def test_metal_without_recorded_earth_stands_as_a_gap_and_deleting_the_record_leaves_one() -> None:
    machine = "items: {A1: {name: Board%s}}\n"
    live = "sources:\n  mains: {at: [A1.L], nominal: 230 V AC, earth: none}\n"
    for said in (", metal-earth: none", ", metal-earth: A1.PE", ""):
        sheet = control_sheet(wired(machine % said, live), SHOP)
        assert any("metal" in line.words and "A1" in line.words for line in sheet.gaps), said


def test_a_lock_recorded_for_the_same_device_holds_for_both_energies(demo: Derived) -> None:
    sheet = next(s for s in sheets(demo) if s.configuration == "mk2")
    assert "Platen heat: kept isolated as Mains" in lines_of(sheet, "(d)(4)")
