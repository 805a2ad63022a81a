"""Which readings need power, and which dead parts; a state that is not recorded is never guessed from the reading."""

from __future__ import annotations

import pytest

from benchleaf.records.codes import CodeRecord
from benchleaf.shape import shape
from benchleaf.source import Source
from benchleaf.troubles.fault_tests import state_of
from benchleaf.troubles.powered_readings import wants_dead_parts, wants_power
from benchleaf.values.quantity import Quantity, read_quantity


def quantity(text: str) -> Quantity:
    found = read_quantity(text)
    assert isinstance(found, Quantity)
    return found


@pytest.mark.parametrize(
    ("text", "power", "dead"),
    [
        ("5 V DC", True, False), ("above 4 V DC", True, False), ("-12 V DC", True, False), ("0.2 A", True, False),
        ("below 5 V AC", False, False), ("0 V DC", False, False), ("-1..1 V DC", False, False),
        ("below 2 ohm", False, True), ("470 µF", False, True), ("3 mm", False, False),
    ],
)  # fmt: skip
def test_what_a_reading_wants(text: str, power: bool, dead: bool) -> None:
    assert (wants_power(quantity(text)), wants_dead_parts(quantity(text))) == (power, dead)


def test_nothing_recorded_wants_neither() -> None:
    assert not wants_power(None) and not wants_dead_parts(None)


@pytest.mark.parametrize(
    ("expect", "recorded", "state"),
    [("below 2 ohm", "", "dead"), ("5 V DC", "", None), ("5 V DC", "state: powered, ", "powered")],
)
def test_the_state_of_a_test_is_the_recorded_one_or_dead_for_a_resistance(
    expect: str, recorded: str, state: str | None
) -> None:
    do = f"{{measure: {{between: [A1-J1.1, A1-J1.2], expect: {expect}}}}}"
    text = f"---\nrecord: code\ncode: E1\nmachine: m\ntests:\n  t: {{do: {do}, {recorded}outcomes: {{}}}}\n---\n"
    shaped, findings = shape([Source("m/codes/e1.md", text)])
    assert findings == ()
    ((_, record),) = shaped.codes
    assert isinstance(record, CodeRecord) and state_of(record.tests["t"], {}) == state
