"""Deleting a fact never takes a warning about a torque or a stored charge away."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf.pipeline import check_sources
from benchleaf.source import Source

_SHOP = Source("shop.yaml", "record: shop\nname: A shop\n")
_FACTS = {
    "thread": ("M3", "M4", "M6"),
    "class": ('"4.8"', '"8.8"', "A2-70"),
    "head": ("cap", "hex", "pan", "countersunk"),
    "into": ("steel", "aluminium", "brass", "plastic", "unknown"),
    "engaged": ("1.5 mm", "4 mm", "8 mm"),
    "friction": ("0.1", "0.14", "0.2"),
}


def warnings(keys: dict[str, str]) -> set[str]:
    """``torque`` and ``hold``: about which of the two something is said."""
    said = ", ".join(f"{key}: {value}" for key, value in keys.items())
    machine = (
        "record: machine\nid: m\nname: M\n"
        f"fasteners:\n  screw: {{{said}}}\n"
        "items:\n  lid: {name: Lid, held-by: {screw: 4}}\n"
    )
    found = check_sources([_SHOP, Source("m/machine.yaml", machine)]).findings
    kinds = {"torque-over-limit": "torque", "torque-not-checked": "torque", "torque-too-low": "torque or hold",
             "hold-not-checked": "torque or hold", "hold-beyond-limit": "torque or hold"}  # fmt: skip
    return {kinds[one.code] for one in found if one.code in kinds}


@settings(max_examples=120, deadline=None)
@given(st.data())
def test_deleting_any_fact_of_a_screw_takes_no_warning_about_its_torque_away(data: st.DataObject) -> None:
    kept = {key: data.draw(st.sampled_from(values)) for key, values in _FACTS.items() if data.draw(st.booleans())}
    given_ = {"torque": data.draw(st.sampled_from(("0.1 N·m", "0.5 N·m", "1.5 N·m", "5 N·m", "20 N·m")))}
    if data.draw(st.booleans()):
        given_["must-hold"] = data.draw(st.sampled_from(("50 N", "600 N", "5 kN")))
    before = warnings({**kept, **given_})
    for gone in kept:
        less = {key: value for key, value in kept.items() if key != gone}
        assert before <= warnings({**less, **given_}), f"without {gone}: {kept}"


_STORE = {
    "between": "[PS1.a, PS1.b]",
    "capacitance": "100 uF",
    "voltage": "325 V DC",
    "bleed": "{resistance: 390 kohm, between: [PS1.a, PS1.b]}",
    "discharge": "Probe across",
}
_CHARGE = {"bleed-time-unknown", "discharge-missing", "charge-not-measurable", "danger-without-message"}


def charge_codes(keys: dict[str, str]) -> set[str]:
    said = ", ".join(["in: PS1", *(f"{key}: {value}" for key, value in keys.items())])
    machine = (
        "record: machine\nid: m\nname: M\nitems:\n  PS1: {name: Supply, held-by: none}\n"
        f"energy:\n  mains: {{kind: electrical, stored: [{{{said}}}]}}\n"
    )
    return {one.code for one in check_sources([_SHOP, Source("m/machine.yaml", machine)]).findings} & _CHARGE


@pytest.mark.parametrize("many", range(len(_STORE) + 1))
def test_deleting_any_fact_of_a_store_takes_no_warning_away(many: int) -> None:
    for names in combinations(_STORE, many):
        kept = {name: _STORE[name] for name in names}
        before = charge_codes(kept)
        for gone in names:
            assert before <= charge_codes({key: value for key, value in kept.items() if key != gone})
