"""A name that points at nothing is an error at its place, with the name that was meant."""

from __future__ import annotations

import pytest

from benchleaf.pipeline import check_sources
from benchleaf.source import Source

MACHINE = """record: machine
id: m
name: M
modifications: {lift: a lift}
fasteners: {lid-screw: {thread: M3}}
items:
  frame: Frame
  lid: {name: Lid, held-by: {lid-screw: 4}, values: {gap: 2 mm}, positions: {open: {motion: lift up}}}
  A1: {name: Board}
  rear-guard: Rear guard
energy: {mains: {kind: electrical}}
lines: {drain: {circuit: ink, ends: [lid, A1]}}
ties: {tie-1: {fixed-to: lid}}
adjusters: {height: {on-item: lid}}
checks: {run: Run it}
"""
WIRING = """record: wiring
machine: m
connectors: {A1-J1: {contacts: {1: 24 V DC, 2: 0 V}}}
cables: {W1: {ends: [A1-J1, lid]}}
sources: {supply: {at: [A1-J1.1]}}
signals: {closed: {from: A1-J1.1, to: A1-J1.2}}
"""


def findings(machine: str = MACHINE, wiring: str = WIRING, **files: str) -> list[tuple[str, str, str]]:
    sources = [Source("m/machine.yaml", machine), Source("m/wiring.yaml", wiring)]
    sources += [Source(f"m/teardown/{name}.yaml", text) for name, text in files.items()]
    found = check_sources(sources).findings
    return [(one.code, str(one.place), one.help) for one in found if one.code.startswith("unknown-")]


@pytest.mark.parametrize(
    ("line", "code", "wrong", "meant"),
    [
        ("  B1: {name: X, in: rear-gard}", "unknown-item", "rear-gard", "rear-guard"),
        ("  B1: {name: X, behind: [rear-gard]}", "unknown-item", "rear-gard", "rear-guard"),
        ("  B1: {name: X, behind: [lid@opne]}", "unknown-position", "opne", "open"),
        ("  B1: {name: X, behind: [[A1, lid + rear-gard]]}", "unknown-item", "rear-gard", "rear-guard"),
        ("  B1: {name: X, in: nn/lid}", "unknown-machine", "nn", ""),
        ("  B1: {name: X, in: m/rear-gard}", "unknown-item", "rear-gard", "rear-guard"),
        ("  B1: {name: X, held-by: {lid-scrwe: 4}}", "unknown-fastener", "lid-scrwe", "lid-screw"),
        (
            "  B1: {name: X, held-by: {s: {count: 4, fastener: lid-scrwe}}}",
            "unknown-fastener",
            "lid-scrwe",
            "lid-screw",
        ),
        ("  B1: {name: X, hazards: [hot]}", "unknown-safety", "hot", ""),
        ("  B1: {name: X, applies: [lfit]}", "unknown-name", "lfit", "lift"),
        ("  B1: {name: X, metal-earth: A1-J1.3}", "unknown-contact", "3}", ""),
        ("  B1: {name: X, metal-earth: A1-J2.3}", "unknown-connector", "A1-J2", ""),
        ("  B1: {name: X, cut-out: rear-gard}", "unknown-item", "rear-gard", "rear-guard"),
    ],
)
def test_a_dead_name_in_an_item_is_found(line: str, code: str, wrong: str, meant: str) -> None:
    found = findings(MACHINE.replace("energy:", f"{line}\nenergy:"))
    assert [(one[0], one[1]) for one in found] == [(code, f"m/machine.yaml:11:{line.index(wrong) + 1}")]
    assert not meant or found[0][2] == f"did you mean '{meant}'?"


@pytest.mark.parametrize(
    ("do", "code", "wrong", "meant"),
    [
        ("remove: lid.lid-scrwe", "unknown-set", "lid-scrwe", "lid-screw"),
        ("remove: 4 x lid.lid-scrwe", "unknown-set", "lid-scrwe", "lid-screw"),
        ("lift off: rear-gard", "unknown-item", "rear-gard", "rear-guard"),
        ("move: lid to opne", "unknown-position", "opne", "open"),
        ("unplug: A1-J9", "unknown-connector", "A1-J9", ""),
        ("unplug: W9 at A1-J1", "unknown-cable", "W9", ""),
        ("lift lead: W1 at A1-J1.7", "unknown-contact", "7", ""),
        ("cut: tie-2", "unknown-tie", "tie-2", ""),
        ("clamp: drian", "unknown-line", "drian", "drain"),
        ("cap: drain at rear-gard", "unknown-item", "rear-gard", "rear-guard"),
        ("drain: inkk", "unknown-circuit", "inkk", ""),
        ("isolate: mians", "unknown-energy", "mians", "mains"),
        ("label: W9", "unknown-cable", "W9", ""),
        ("mark: heigth", "unknown-adjuster", "heigth", "height"),
        ("measure: lid.gapp", "unknown-value", "gapp", ""),
        ("measure: {between: [A1-J1.1, A1-J1.9]}", "unknown-contact", "9", ""),
    ],
)
def test_a_dead_name_in_a_step_is_found(do: str, code: str, wrong: str, meant: str) -> None:
    text = f"record: teardown\nid: a\ntitle: A\nmachine: m\nsteps:\n  - title: Do it\n    do: [{do}]\n"
    column = text.splitlines()[6].rindex(wrong) + 1
    found = findings(a=text)
    assert [(one[0], one[1]) for one in found] == [(code, f"m/teardown/a.yaml:7:{column}")]
    assert not meant or found[0][2] == f"did you mean '{meant}'?"


def test_the_same_id_in_two_files_is_found_at_the_second() -> None:
    text = "record: teardown\nid: a\ntitle: A\nmachine: m\nsteps: [{title: Look, changes: none}]\n"
    sources = [Source("m/machine.yaml", MACHINE), *(Source(f"m/teardown/{name}.yaml", text) for name in "xy")]
    twice = [one for one in check_sources(sources).findings if one.code == "id-twice"]
    assert [str(one.place) for one in twice] == ["m/teardown/y.yaml:2:5"]
    assert [str(place) for place, _ in twice[0].related] == ["m/teardown/x.yaml:2:5"]


def test_a_record_of_no_machine_is_found() -> None:
    text = "record: teardown\nid: a\ntitle: A\nmachine: mm\nsteps: [{title: Look, changes: none}]\n"
    found = check_sources([Source("m/machine.yaml", MACHINE), Source("m/teardown/a.yaml", text)]).findings
    assert ("unknown-machine", "m/teardown/a.yaml:4:10") in [(one.code, str(one.place)) for one in found]
