"""A waiting time only where recorded copper joins the charge to its resistor, here and now; always the measurement."""

from __future__ import annotations

import pytest

from benchleaf.built import Built
from benchleaf.derived import Derived
from benchleaf.pipeline import check_sources
from benchleaf.source import Source
from benchleaf.values.bleed_down import Outcome
from benchleaf.values.origin import gaps
from benchleaf.values.stored_of_energy import Stored, not_recorded, stored_of_energy

_MACHINE = """record: machine
id: m
name: Machine
items:
  frame: {{name: Frame, held-by: none}}
  PS1: {{name: Supply, held-by: none, hazards: [shock]}}
  A1: {{name: Board, held-by: none}}
energy:
  mains:
    kind: electrical
    isolate: [unplug PS1]
    stored: {stored}
"""
_WIRING = """record: wiring
machine: m
connectors:
  PS1-J2: {contacts: {1: 24 V DC, 2: 0 V}}
  A1-J1: {contacts: {1: 24 V DC, 2: 0 V}}
cables:
  W1: {ends: [PS1-J2, A1-J1], wires: {map: straight}}
joins:
  PS1: [[+, J2.1], ["-", J2.2]]
  A1: [%s, [J1.2, b]]
"""
_STORE = (
    '{{in: PS1, between: [PS1.+, "PS1.-"], capacitance: 100 uF, voltage: 325 V DC, discharge: Probe across, bleed: {}}}'
)
_AT_THE_CHARGE = '{resistance: 390 kohm, between: [PS1.+, "PS1.-"]}'
_ON_THE_BOARD = "{resistance: 390 kohm, between: [A1.a, A1.b]}"


def built_of(stored: str, join: str = "[J1.1, a]") -> tuple[Built, Derived]:
    sources = [
        Source("shop.yaml", "record: shop\nname: A shop\n"),
        Source("m/machine.yaml", _MACHINE.format(stored=stored)),
        Source("m/wiring.yaml", _WIRING % join),
    ]
    checked = check_sources(sources)
    assert not [one for one in checked.findings if one.is_error and one.code != "unknown-safety"], checked.findings
    return checked.derived.all_built(checked.derived.library.machines["m"])[0], checked.derived


def stored_of(bleed: str, join: str = "[J1.1, a]", **more: frozenset[tuple[str, str]]) -> Stored:
    built, derived = built_of(f"[{_STORE.format(bleed)}]", join)
    (one,) = stored_of_energy(built, "mains", derived.library.shop, **more)
    return one


def test_a_resistor_at_the_charge_itself_gives_a_time_with_the_measurement() -> None:
    one = stored_of(_AT_THE_CHARGE)
    assert one.result.outcome is Outcome.WAIT
    assert one.result.text.endswith("then measure at PS1:+ and PS1:-: not above 60 V DC")
    assert one.holds_while == ()
    assert gaps(one.result.origin) == ()


def test_a_resistor_across_a_plug_gives_a_time_that_holds_while_it_is_plugged() -> None:
    one = stored_of(_ON_THE_BOARD)
    assert one.result.outcome is Outcome.WAIT
    assert one.holds_while == ("W1 at PS1-J2", "W1 at A1-J1")
    assert one.lines[0] == "the time holds only while W1 at PS1-J2 and W1 at A1-J1 are closed"
    assert "then measure" in one.lines[-1]


@pytest.mark.parametrize("end", [("W1", "PS1-J2"), ("W1", "A1-J1")])
def test_the_time_is_unknown_as_soon_as_a_step_opens_the_way(end: tuple[str, str]) -> None:
    one = stored_of(_ON_THE_BOARD, open_ends=frozenset({end}))
    assert one.result.outcome is Outcome.TIME_UNKNOWN
    assert one.result.text.startswith("time unknown: discharge and measure")


@pytest.mark.parametrize("kind", ["fuse", "switch", "load", "driver"])
def test_anything_but_copper_between_charge_and_resistor_makes_the_time_unknown(kind: str) -> None:
    one = stored_of(_ON_THE_BOARD, f"{{kind: {kind}, between: [J1.1, a]}}")
    assert one.result.outcome is Outcome.TIME_UNKNOWN


def test_the_resistor_may_be_recorded_the_other_way_round() -> None:
    assert stored_of("{resistance: 390 kohm, between: [A1.b, A1.a]}").result.outcome is Outcome.WAIT


def test_no_path_and_none_recorded_are_not_the_same() -> None:
    assert stored_of("none").result.outcome is Outcome.NO_PATH
    left_out, derived = built_of(f"[{_STORE.format('unknown')}]")
    (one,) = stored_of_energy(left_out, "mains", derived.library.shop)
    assert one.result.outcome is Outcome.TIME_UNKNOWN


def test_stored_not_recorded_counts_as_charged_and_none_is_said_to_be_none() -> None:
    unknown, _ = built_of("unknown")
    assert "counts as charged" in not_recorded(unknown, "mains")
    none, derived = built_of("none")
    assert not_recorded(none, "mains") == ""
    assert stored_of_energy(none, "mains", derived.library.shop) == ()
