"""What a measurement has to read: as written in it before the value it names; nothing where neither is recorded."""

from __future__ import annotations

import pytest

from benchleaf.physical.expected_readings import expected, value_of
from benchleaf.shape import shape
from benchleaf.source import Source

MACHINE = "record: machine\nid: m\nname: M\nitems:\n  F1: {name: Fuse, values: {cold: 2 ohm, rated: unknown}}\n"


@pytest.mark.parametrize(
    ("measure", "read", "named"),
    [
        ("F1.cold", "2 Ω", True),
        ("{value: F1.cold, expect: 3 ohm}", "3 Ω", True),
        ("{between: [F1.1, F1.2], expect: 5 V DC}", "5 V DC", False),
        ("{between: [F1.1, F1.2]}", None, False),
        ("F1.warm", None, False),
        ("F2.cold", None, False),
    ],
)
def test_what_is_to_be_read(measure: str, read: str | None, named: bool) -> None:
    head = "record: teardown\nid: p\ntitle: T\nmachine: m\nsteps:\n"
    step = f"{head}  - {{title: Measure it, do: {{measure: {measure}}}}}\n"
    shaped, _ = shape([Source("m/machine.yaml", MACHINE), Source("m/teardown/p.yaml", step)])
    items = shaped.machines[0][1].items
    (action,) = shaped.teardowns[0][1].steps[0].do or ()
    found = expected(action.measure, items)
    assert (found.tidy if found is not None else None) == read
    assert (value_of(action.measure, items) is not None) == named


def test_an_act_that_measures_nothing_has_nothing_to_read() -> None:
    assert expected(None, {}) is None and value_of(None, {}) is None
