"""A machine whose least paths were worked out elsewhere, written in the record language and compiled by us.

Facts and values: access check values, instance "facts machine" (constructed; times, sets and tool changes verified with
a search over forced sets, OR-tools CP-SAT and HiGHS). The same facts are compiled a second time below, by a short
path that shares nothing with the project's.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import chain
from typing import Any

import pytest
from tests.access.machines import ways

from benchleaf.physical.least_path import AccessPath, Operation, least_path
from benchleaf.physical.operations import named, operations_of

Clauses = list[list[str]]


@dataclass(frozen=True)
class Part:
    """``via`` = ways in, all of one of them; ``blocked`` = clauses, one of each."""

    time: float
    fasteners: tuple[str, int, float, str, Clauses]
    blocked: Clauses
    via: tuple[tuple[str, ...], ...] = ()
    parent: str = ""
    slides: bool = False


COVER, PANELS, OUT = ["front-cover"], ["side-panel", "rear-panel"], ["pump-tray", "slide pump-tray"]
PARTS: Mapping[str, Part] = {
    "front-cover": Part(1, ("FC", 4, 1, "PH2", []), []),
    "rear-panel": Part(2, ("RP", 10, 1, "TX20", []), []),
    "side-panel": Part(1, ("SP", 3, 1, "PH2", []), [COVER]),
    "psu-module": Part(3, ("PM", 4, 1, "TX20", [PANELS]), [], (("front-cover", "side-panel"), ("rear-panel",))),
    "pump-tray": Part(2, ("PT", 2, 1, "PH2", [COVER]), [COVER], slides=True),
    "pump": Part(2, ("PU", 3, 2, "H4", [OUT]), [OUT], parent="pump-tray"),
    "main-board": Part(2, ("MB", 6, 1, "TX10", [["psu-module"]]), [["psu-module"]]),
    "sensor": Part(1, ("SE", 2, 1, "TX10", []), [], (("pump",), ("main-board",))),
    "bracket": Part(1, ("BR", 2, 1, "PH2", []), [["front-cover", "rear-panel"]]),
}
CABLES: Mapping[str, Any] = {  # name: ends (host, time, tool, reach), ties (id, on, reach)
    "W1": (
        [("psu-module", 2, "hand", [PANELS]), ("main-board", 1, "hand", [["psu-module"]])],
        [("t1", "bracket", [COVER])],
    ),
    "W2": ([("pump", 1, "hand", [OUT]), ("main-board", 1, "hand", [["rear-panel", "psu-module"]])], []),
    "H1": ([("pump", 4, "pliers", [COVER]), ("bracket", 6, "pliers", [])], []),
}
EXPECTED = {  # seconds, tool changes, the set: access check values
    "front-cover": (5, 1, "FC front-cover"),
    "rear-panel": (12, 1, "RP rear-panel"),
    "side-panel": (9, 1, "FC SP front-cover side-panel"),
    "psu-module": (18, 3, "FC PM SP W1@psu-module front-cover psu-module side-panel"),
    "pump-tray": (15, 4, "FC H1@pump PT W2@pump front-cover pump-tray slide"),
    "pump": (21, 6, "FC H1@pump PT PU W2@pump front-cover pump slide"),
    "main-board": (
        28, 5, "FC MB PM SP W1@main-board W1@psu-module W2@main-board front-cover main-board psu-module side-panel",
    ),
    "sensor": (24, 7, "FC H1@pump PT PU SE W2@pump front-cover pump sensor slide"),
    "bracket": (12, 3, "BR FC H1@pump bracket front-cover"),
}  # fmt: skip
# The record language reads two facts more widely. Off with the tray it sits in, the pump is out of the sensor's way
# too: the tray's 15 s, 2 s of screws, 1 s for the sensor. And the tie on the bracket holds W1 to it, so it is cut: 1 s.
WIDER = {
    "sensor": (18, 5, "FC H1@pump PT SE W2@pump front-cover pump-tray sensor slide"),
    "bracket": (13, 4, "BR FC H1@pump bracket front-cover t1"),
}

RECORD = """
fasteners:
  fc: {drive: PH2, takes: 1 s}
  rp: {drive: TX20, takes: 1 s}
  sp: {drive: PH2, takes: 1 s}
  pm: {drive: TX20, takes: 1 s}
  pt: {drive: PH2, takes: 1 s}
  pu: {drive: hex 4, takes: 2 s}
  mb: {drive: TX10, takes: 1 s}
  se: {drive: TX10, takes: 1 s}
  br: {drive: PH2, takes: 1 s}
energy: {}
items:
  frame: Frame
  front-cover: {name: Front cover, behind: [], held-by: {fc: 4}, takes: 1 s}
  rear-panel: {name: Rear panel, behind: [], held-by: {rp: 10}, takes: 2 s}
  side-panel: {name: Side panel, behind: [front-cover], reach: [], held-by: {sp: 3}, takes: 1 s}
  psu-module:
    name: Supply
    behind: [[front-cover + side-panel, rear-panel]]
    reach: [[side-panel, rear-panel]]
    held-by: {pm: 4}
    takes: 3 s
  pump-tray:
    name: Pump tray
    behind: [front-cover]
    held-by: {pt: 2}
    takes: 2 s
    positions: {out: {motion: pull front 100 mm, needs: [pt], behind: []}}
  pump: {name: Pump, in: pump-tray, behind: [pump-tray@out], held-by: {pu: 3}, takes: 2 s}
  main-board: {name: Main board, behind: [psu-module], held-by: {mb: 6}, takes: 2 s}
  sensor: {name: Sensor, behind: [[pump, main-board]], reach: [], held-by: {se: 2}, takes: 1 s}
  bracket: {name: Bracket, behind: [[front-cover, rear-panel]], reach: [], held-by: {br: 2}, takes: 1 s}
ties: {t1: {fixed-to: bracket, holds: [W1], reach: [front-cover]}}
"""
WIRING = """
connectors:
  psu-module-J1: {contacts: 2, reach: [[side-panel, rear-panel]]}
  main-board-J1: {contacts: 2, reach: [psu-module]}
  main-board-J2: {contacts: 2, reach: [[rear-panel, psu-module]]}
  pump-J1: {contacts: 2}
  pump-J2: {contacts: 2, reach: [front-cover]}
  bracket-J1: {contacts: 2, reach: []}
cables:
  W1: {ends: [{at: psu-module-J1, takes: 2 s}, {at: main-board-J1, takes: 1 s}]}
  W2: {ends: [{at: pump-J1, takes: 1 s}, {at: main-board-J2, takes: 1 s}], slack: 200 mm}
  H1: {ends: [{at: pump-J2, takes: 4 s}, {at: bracket-J1, takes: 6 s}], slack: 200 mm}
"""
SHOP = "times: {move: 1 s, cut: 1 s}\n"


def ours() -> dict[str, Operation]:
    """The record compiled by the project. The language has no tool for the end of a cable: H1's is put in here."""
    made = ways(RECORD, WIRING, SHOP)
    operations = dict(operations_of(made.ground, made.times))
    for name in ("open:H1@pump-J2", "open:H1@bracket-J1"):
        operations[name] = replace(operations[name], tool="pliers")
    return operations


def short(operation: str) -> str:
    """Our name of an operation as the tables above write it."""
    one = named(operation)
    if one.kind == "un":
        return one.what.partition(".")[2].upper()
    if one.kind == "open":
        return f"{one.what}@{one.at.rpartition('-')[0]}"
    return "slide" if one.kind == "to" else one.what


def second_path(wider: bool) -> dict[str, Operation]:
    """The facts compiled again, without the project: from the tables above straight to clauses."""
    made: dict[str, Operation] = {}
    for name, part in PARTS.items():
        own, count, each, tool, reach = part.fasteners
        made[own] = Operation(count * each, tool, tuple(map(tuple, reach)))
        clauses: Clauses = [[own], *(list(clause) for clause in part.blocked)]
        if part.via:
            clauses.append([_all(made, f"via {name} {n}", [[one] for one in way]) for n, way in enumerate(part.via)])
        moved = {name} | {other for other, one in PARTS.items() if one.parent == name}
        for cable, (ends, ties) in CABLES.items():
            inner = [f"{cable}@{host}" for host, *_ in ends if host in moved]
            outer = [f"{cable}@{host}" for host, *_ in ends if host not in moved]
            inside = [tie for tie, on, _ in ties if on in moved]
            outside = [tie for tie, on, _ in ties if on not in moved]
            if (inner or (wider and inside)) and outer:
                stay = _all(made, f"stay {cable} {name}", [[one] for one in (*inner, *inside)])
                travel = _all(made, f"travel {cable} {name}", [[one] for one in (*outer, *outside)])
                clauses.append([stay, travel])
        made[name] = Operation(part.time, "hand", tuple(map(tuple, clauses)))
        if part.slides:
            made[f"slide {name}"] = Operation(1, "hand", ((own,),))
    for cable, (ends, ties) in CABLES.items():
        for host, time, tool, reach in ends:
            made[f"{cable}@{host}"] = Operation(time, tool, tuple(map(tuple, reach)))
        for tie, _, reach in ties:
            made[tie] = Operation(1, "cutter", tuple(map(tuple, reach)))
    return {name: replace(one, clauses=tuple(_wide(name, one, wider))) for name, one in made.items()}


def _all(made: dict[str, Operation], name: str, clauses: Clauses) -> str:
    made[name] = Operation(0, None, tuple(map(tuple, clauses)))
    return name


def _wide(name: str, one: Operation, wider: bool) -> Iterator[tuple[str, ...]]:
    """A part off with its parent is off too, except for what sits in the same parent."""
    for clause in one.clauses:
        same = PARTS[name].parent if name in PARTS else ""
        more = [PARTS[x].parent for x in clause if wider and x in PARTS and PARTS[x].parent not in ("", same)]
        yield tuple(dict.fromkeys(chain(clause, more)))


def plain(path: object) -> tuple[float, int, str]:
    assert isinstance(path, AccessPath)
    assert path.exact
    real = [one for one in path.operations if not one.startswith(("via ", "stay ", "travel "))]
    return path.time, path.tool_changes, " ".join(sorted(one.split()[0] for one in real))


@pytest.mark.parametrize("part", sorted(PARTS))
def test_the_second_path_gives_the_published_values(part: str) -> None:
    assert plain(least_path(second_path(wider=False), (part,))) == EXPECTED[part]


@pytest.mark.parametrize("part", sorted(PARTS))
def test_the_record_compiled_gives_the_same_times_sets_and_tool_changes(part: str) -> None:
    expected = WIDER.get(part, EXPECTED[part])
    path = least_path(ours(), (f"off:{part}",))
    assert isinstance(path, AccessPath)
    work = " ".join(sorted(short(one) for one in path.operations if named(one).is_work))
    assert (path.time, path.tool_changes, work) == expected
    assert plain(least_path(second_path(wider=True), (part,))) == expected


def test_a_tie_on_the_frame_leaves_the_bracket_as_published() -> None:
    made = ways(RECORD.replace("fixed-to: bracket", "fixed-to: frame"), WIRING, SHOP)
    operations = dict(operations_of(made.ground, made.times))
    assert least_path(operations, ("off:bracket",)).time == EXPECTED["bracket"][0]  # type: ignore[union-attr]
