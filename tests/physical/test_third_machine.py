"""The third machine: a small whole library of its own, sound by every check, and no part of the demo."""

from __future__ import annotations

from tests.physical.replayed import FOLDERS, HERE, all_replays

from benchleaf.pipeline import load


def test_the_third_machine_is_sound_by_every_check() -> None:
    assert not [one for one in load(FOLDERS["vs20"]).findings if one.is_error]


def test_the_third_machine_is_no_part_of_the_demo() -> None:
    content = FOLDERS["fp420"]
    assert not any("vs20" in path.read_text(encoding="utf-8") for path in content.rglob("*") if path.suffix == ".yaml")
    assert HERE not in content.parents


def test_it_has_a_line_a_tie_a_tray_a_capacitor_a_spring_pressure_and_heat() -> None:
    """What the rules are about has to be there, or the suite passes over it."""
    built = next(one.ground.built for one in all_replays() if one.ground.built.configuration.label == "twin with gas")
    kinds = {energy.kind for energy in built.energy.values()}
    assert kinds == {"electrical", "thermal", "spring", "pneumatic"}
    assert built.lines and built.ties and built.adjusters and any(item.positions for item in built.items.values())
    assert any(energy.stored for energy in built.energy.values())
    assert any(item.settings for item in built.items.values())
