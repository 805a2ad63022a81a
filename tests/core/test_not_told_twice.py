"""A name that is declared nowhere is told once; a thing that only some machines have is told by the replay."""

from __future__ import annotations

from benchleaf.pipeline import check_sources
from benchleaf.source import Source

MACHINE = """record: machine
id: m1
name: Machine
modifications: {lift: {is: a lift, tell: a column at the back}}
energy: {}
fasteners: {screw: {drive: PH1, into: steel}}
items:
  frame: Frame
  lid: {name: Lid, behind: [], held-by: {screw: 2}, supports: none}
  arm: {name: Arm, behind: [], held-by: none, supports: none, applies: [lift]}
"""
STEPS = """record: teardown
id: p1
machine: m1
title: Take it apart
steps:
  - {title: Take both off, do: [remove: DO]}
"""


def codes(do: str) -> list[tuple[str, int, str]]:
    text = STEPS.replace("[remove: DO]", do)
    sources = [Source("m1/machine.yaml", MACHINE), Source("m1/teardown/p1.yaml", text)]
    told = {"not-there", "unknown-item", "unknown-set"}
    return [(f.code, f.place.column, f.message) for f in check_sources(sources).findings if f.code in told]


def test_a_name_declared_nowhere_is_told_once() -> None:
    for written in ("[lift off: lidd]", "[remove: 2 x lidd]", "[remove: lidd]"):
        found = codes(written)
        assert [code for code, _, _ in found] == ["unknown-item"], found


def test_what_only_some_machines_have_is_still_told_beside_it() -> None:
    found = codes("[lift off: lidd, lift off: arm]")
    assert [code for code, _, _ in found] == ["unknown-item", "not-there"], found
    assert "arm is not on this machine" in found[1][2]
