"""Messages before a step come from its author, from what it touches and from what it uncovers; none is forgotten."""

from __future__ import annotations

import pytest

from benchleaf.pipeline import check_sources
from benchleaf.safety_of_step import Combined, StepSafety, Why, hazard_kinds, safety_of_procedure, safety_of_step
from benchleaf.source import Source

_SHOP = "record: shop\nname: A shop\nstanding-safety: [apron]\n"
_SAFETY = """record: safety
apron: {signal: CAUTION, hazard: Loose sleeves, consequence: They pull hands in., avoid: Roll them up.}
mains: {signal: WARNING, hazard: Mains, consequence: A shock here can kill., avoid: Pull the plug., symbol: W012}
charge: {signal: DANGER, hazard: Charge, consequence: It kills., avoid: Discharge it., symbol: W012}
hot: {signal: CAUTION, hazard: Hot block, consequence: Burns., avoid: Wait and measure., symbol: W017}
esd: {signal: NOTICE, hazard: Static charge, consequence: The board dies., avoid: Wear the strap.}
"""
_MACHINE = """record: machine
id: m
name: Machine
variants: {mk1: {is: one}, mk2: {is: two}}
items:
  frame: {name: Frame, held-by: none}
  lid: {name: Lid, behind: [], held-by: none}
  inner: {name: Inner cover, behind: [lid], held-by: none}
  PS1: {name: Supply, behind: [lid], held-by: none, hazards: [mains]}
  PS2: {name: Second supply, behind: [[lid, inner]], held-by: none, hazards: [mains, charge]}
  E1: {name: Heater, behind: [inner], held-by: none, hazards: [hot], applies: [mk2]}
  tray: {name: Tray, behind: [inner], held-by: none, positions: {out: {motion: pull front 10 mm}}}
  A1: {name: Board, in: tray, behind: ["tray@out"], held-by: none, handling: [esd], hazards: [charge]}
energy:
  line: {kind: electrical, isolate: [unplug lid], stored: [{in: PS2, between: [PS2.1, PS2.2]}]}
"""
_PROCEDURE = "record: teardown\nid: p\ntitle: Open it\nmachine: m\nsteps:\n"


def safety_of(steps: str, number: int = 1, variant: str = "mk2", machine: str = _MACHINE) -> StepSafety:
    built, library, procedure = read(steps, variant, machine)
    return safety_of_step(built, library, procedure, procedure.steps[number])


def read(steps: str, variant: str = "mk2", machine: str = _MACHINE):  # type: ignore[no-untyped-def]
    files = {"shop.yaml": _SHOP, "safety.yaml": _SAFETY, "m/machine.yaml": machine}
    files["m/teardown/p.yaml"] = _PROCEDURE + "  - {title: Look at it, changes: none}\n" + steps
    checked = check_sources(Source(path, text) for path, text in files.items())
    library = checked.derived.library
    made = library.machines["m"]
    built = next(one for one in checked.derived.all_built(made) if one.configuration.variant == variant)
    return built, library, made.procedures["p"]


def step(do: str, more: str = "") -> str:
    return f"  - {{title: Do it, do: [{do}]{more}}}\n"


def ids(found: StepSafety) -> list[str]:
    return [one.id for one in found.messages]


def one_of(found: StepSafety, name: str) -> Combined:
    return next(one for one in found.messages if one.id == name)


def test_a_step_that_takes_a_cover_off_shows_the_hazards_behind_it() -> None:
    assert ids(safety_of(step("lift off: lid"))) == ["charge", "mains"]
    assert ids(safety_of(step("lift off: inner"))) == ["charge", "mains", "hot"]


def test_drawing_a_tray_out_uncovers_what_is_in_it() -> None:
    found = safety_of(step("move: tray to out"))
    assert one_of(found, "charge").at == ("A1 Board",)


def test_one_hazard_from_several_items_is_one_message_that_names_them_all() -> None:
    mains = one_of(safety_of(step("lift off: lid")), "mains")
    assert mains.at == ("PS1 Supply", "PS2 Second supply")
    assert {why.why for why in mains.reasons} == {Why.EXPOSED}


def test_the_most_severe_stands_first_whatever_order_they_came_in() -> None:
    found = safety_of(step("lift off: A1", ", safety: [hot]"))
    assert [one.message.signal for one in found.messages] == ["DANGER", "CAUTION", "NOTICE"]


def test_handling_is_for_hands_and_hazards_for_eyes_too() -> None:
    assert ids(safety_of(step("lift off: A1"))) == ["charge", "esd"]
    assert ids(safety_of(step("inspect: A1"))) == ["charge"]


@pytest.mark.parametrize("do", ["discharge: line", "measure: {between: [PS2.1, PS2.2]}"])
def test_what_is_discharged_or_probed_shows_its_hazards(do: str) -> None:
    assert ids(safety_of(step(do))) == ["charge", "mains"]


def test_an_item_that_is_not_on_this_machine_brings_nothing() -> None:
    assert "hot" not in ids(safety_of(step("lift off: inner"), variant="mk1"))


def test_the_shop_speaks_before_the_first_step_only() -> None:
    built, library, procedure = read(step("inspect: lid"))
    assert ids(safety_of_step(built, library, procedure, procedure.steps[0])) == ["apron"]
    assert ids(safety_of_step(built, library, procedure, procedure.steps[1])) == []


def test_the_shop_speaks_before_the_first_step_this_machine_has() -> None:
    steps = "  - {title: Do it, do: [inspect: lid]}\n"
    built, library, procedure = read(steps)
    first = "  - {title: Look at it, changes: none, applies: [mk1]}\n"
    assert procedure.steps[0].title == "Look at it"
    files = {"shop.yaml": _SHOP, "safety.yaml": _SAFETY, "m/machine.yaml": _MACHINE}
    files["m/teardown/p.yaml"] = _PROCEDURE + first + steps
    checked = check_sources(Source(path, text) for path, text in files.items())
    procedure = checked.derived.library.machines["m"].procedures["p"]
    assert ids(safety_of_step(built, library, procedure, procedure.steps[1])) == ["apron"]


def test_a_prose_step_says_that_every_hazard_counts() -> None:
    found = safety_of("  - {title: Do something}\n")
    assert "not recorded" in found.not_recorded
    assert "Electricity" in found.not_recorded and "Hot surface" in found.not_recorded
    assert safety_of("  - {title: Look, changes: none}\n").not_recorded == ""


@pytest.mark.parametrize("gone", [", behind: [lid]", ", behind: [[lid, inner]]", ", behind: [inner]"])
def test_deleting_what_an_item_is_behind_takes_no_message_away(gone: str) -> None:
    for do in ("lift off: lid", "lift off: inner", "move: tray to out", "lift off: A1"):
        before = set(ids(safety_of(step(do))))
        assert before <= set(ids(safety_of(step(do), machine=_MACHINE.replace(gone, ""))))


def test_the_summary_at_the_head_names_each_kind_once_with_its_worst_signal_word() -> None:
    built, library, procedure = read(step("lift off: lid") + step("lift off: inner"))
    kinds = hazard_kinds(safety_of_procedure(built, library, procedure))
    assert [(kind.signal, kind.name) for kind in kinds] == [
        ("DANGER", "Electricity"),
        ("CAUTION", "Loose sleeves"),
        ("CAUTION", "Hot surface"),
    ]
    assert kinds[0].ids == ("charge", "mains")
