"""Instances whose least paths are known, and solvers that share nothing with ours.

An operation is a line: id, seconds, tool (``-`` for a virtual one), then its clauses; ``/`` between alternatives.
Unless a source is named, an instance was made for these tests' purpose and its value found by exhaustive search,
OR-tools CP-SAT and HiGHS independently of this project (access check values, constructed).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations, pairwise

import networkx

from benchleaf.physical.least_path import Operation


def table(text: str) -> dict[str, Operation]:
    operations = {}
    for line in text.strip().splitlines():
        name, time, tool, *clauses = line.split()
        operations[name] = Operation(
            float(time), None if tool == "-" else tool, tuple(tuple(clause.split("/")) for clause in clauses)
        )
    return operations


# No choices: the answer is all that stands before the board. 26 s, 6 changes; feet and rear_panel must not appear.
NO_CHOICE = table("""
cover_screws 4 PH2
cover 1 hand cover_screws
fan_plug 1 hand cover
fan_screws 3 PH2 cover
fan 1 hand fan_plug fan_screws
psu_plug 1 hand fan
psu_screws 4 TX20 cover
psu 2 hand psu_plug psu_screws
board_plug_a 1 hand cover
board_plug_b 1 hand psu
board_screws 6 PH2 psu
board 1 hand board_plug_a board_plug_b board_screws
feet 2 PH2
rear_panel 5 TX20
""")

# {lid, panel, core} holds every clause for 4 s and is circular; the least that can be begun takes 10 s.
MUTUAL_BLOCK = table("""
lid 1 hand panel/hinge_pins
panel 1 hand lid/rear_screws
hinge_pins 9 punch
rear_screws 6 PH2
core 2 hand lid panel
""")

# Set cover inside (textbook counterexample to the greedy choice): largest first takes S3, S4, S5; two are enough.
SET_COVER = table("""
S1 1 hand
S2 1 hand
S3 1 hand
S4 1 hand
S5 1 hand
e1 0 hand S1/S3
e2 0 hand S1/S3
e3 0 hand S1/S4
e4 0 hand S2/S3
e5 0 hand S2/S3
e6 0 hand S2/S5
goal 0 hand e1 e2 e3 e4 e5 e6
""")

# One operation that serves two clauses (7 s) against the cheapest of each clause (5 s and 5 s): 13 s against 16 s.
# Worked out by hand.
SHARED_SUPPORT = table("""
shared 7 PH1
left 5 PH1
right 5 PH1
item 6 hand shared/left shared/right
""")

# Two chains of operations whose tools are X = ABCBDAB and Y = BDCABA: Cormen, Leiserson, Rivest, Stein,
# "Introduction to Algorithms", longest common subsequence example, length 4 (from memory). Pick-ups = shortest
# common supersequence = 7 + 6 - 4 = 9, so 8 changes; the tool with most to do each time needs 10.
SUPERSEQUENCE = table("""
x0 1 A
x1 1 B x0
x2 1 C x1
x3 1 B x2
x4 1 D x3
x5 1 A x4
x6 1 B x5
y0 1 B
y1 1 D y0
y2 1 C y1
y3 1 A y2
y4 1 B y3
y5 1 A y4
""")

# A machine with service positions (slide), ways (via), cables and a hose opened at either end (stay, travel).
CABLED_MACHINE = table("""
un:FC 4 PH2
un:RP 10 TX20
un:SP 3 PH2
un:PM 4 TX20 rm:side_panel/rm:rear_panel
un:PT 2 PH2 rm:front_cover
un:PU 6 H4 rm:pump_tray/slide:pump_tray
un:MB 6 TX10 rm:psu_module
un:SE 2 TX10
un:BR 2 PH2
unplug:W1:0 2 hand rm:side_panel/rm:rear_panel
unplug:W1:1 1 hand rm:psu_module
cut:T1 1 cutter rm:front_cover
unplug:W2:0 1 hand rm:pump_tray/slide:pump_tray
unplug:W2:1 1 hand rm:rear_panel/rm:psu_module
unplug:H1:0 4 pliers rm:front_cover
unplug:H1:1 6 pliers
rm:front_cover 1 hand un:FC
rm:rear_panel 2 hand un:RP
rm:side_panel 1 hand un:SP rm:front_cover
via:psu_module:0 0 - rm:front_cover rm:side_panel
via:psu_module:1 0 - rm:rear_panel
stay:W1|psu_module 0 - unplug:W1:0
travel:W1|psu_module 0 - unplug:W1:1 cut:T1
rm:psu_module 3 hand un:PM via:psu_module:0/via:psu_module:1 stay:W1|psu_module/travel:W1|psu_module
stay:W2|pump_tray 0 - unplug:W2:0
travel:W2|pump_tray 0 - unplug:W2:1
stay:H1|pump_tray 0 - unplug:H1:0
travel:H1|pump_tray 0 - unplug:H1:1
rm:pump_tray 2 hand un:PT rm:front_cover stay:W2|pump_tray/travel:W2|pump_tray stay:H1|pump_tray/travel:H1|pump_tray
slide:pump_tray 1 hand un:PT
stay:W2|pump 0 - unplug:W2:0
travel:W2|pump 0 - unplug:W2:1
stay:H1|pump 0 - unplug:H1:0
travel:H1|pump 0 - unplug:H1:1
rm:pump 2 hand un:PU rm:pump_tray/slide:pump_tray stay:W2|pump/travel:W2|pump stay:H1|pump/travel:H1|pump
stay:W1|main_board 0 - unplug:W1:1
travel:W1|main_board 0 - unplug:W1:0 cut:T1
stay:W2|main_board 0 - unplug:W2:1
travel:W2|main_board 0 - unplug:W2:0
rm:main_board 2 hand un:MB rm:psu_module stay:W1|main_board/travel:W1|main_board stay:W2|main_board/travel:W2|main_board
via:sensor:0 0 - rm:pump
via:sensor:1 0 - rm:main_board
rm:sensor 1 hand un:SE via:sensor:0/via:sensor:1
stay:H1|bracket 0 - unplug:H1:1
travel:H1|bracket 0 - unplug:H1:0
rm:bracket 1 hand un:BR rm:front_cover/rm:rear_panel stay:H1|bracket/travel:H1|bracket
""")

# part: seconds, tool changes, the least set
CABLED_MACHINE_ANSWERS = {
    "front_cover": (5, 1, "rm:front_cover un:FC"),
    "rear_panel": (12, 1, "rm:rear_panel un:RP"),
    "side_panel": (9, 1, "rm:front_cover rm:side_panel un:FC un:SP"),
    "psu_module": (
        18,
        3,
        "rm:front_cover rm:psu_module rm:side_panel stay:W1|psu_module un:FC un:PM un:SP unplug:W1:0 via:psu_module:0",
    ),
    "pump_tray": (
        15,
        4,
        "rm:front_cover rm:pump_tray slide:pump_tray stay:H1|pump_tray stay:W2|pump_tray un:FC un:PT unplug:H1:0 "
        "unplug:W2:0",
    ),
    "pump": (
        21,
        6,
        "rm:front_cover rm:pump slide:pump_tray stay:H1|pump stay:W2|pump un:FC un:PT un:PU unplug:H1:0 unplug:W2:0",
    ),
    "main_board": (
        28,
        5,
        "rm:front_cover rm:main_board rm:psu_module rm:side_panel stay:W1|main_board stay:W1|psu_module "
        "stay:W2|main_board un:FC un:MB un:PM un:SP unplug:W1:0 unplug:W1:1 unplug:W2:1 via:psu_module:0",
    ),
    "sensor": (
        24,
        7,
        "rm:front_cover rm:pump rm:sensor slide:pump_tray stay:H1|pump stay:W2|pump un:FC un:PT un:PU un:SE "
        "unplug:H1:0 unplug:W2:0 via:sensor:0",
    ),
    "bracket": (12, 3, "rm:bracket rm:front_cover travel:H1|bracket un:BR un:FC unplug:H1:0"),
}


def can_follow(operations: Mapping[str, Operation], done: Iterable[str], name: str) -> bool:
    done = set(done)
    return all(done & set(clause) for clause in operations[name].clauses)


def can_be_done(operations: Mapping[str, Operation], order: Iterable[str]) -> bool:
    """Whether each operation of an order stands after what it needs, and none stands twice."""
    done: list[str] = []
    for name in order:
        if name in done or not can_follow(operations, done, name):
            return False
        done.append(name)
    return True


def reached_with(operations: Mapping[str, Operation], allowed: Iterable[str]) -> set[str]:
    """What can be done when only ``allowed`` may be: again and again through the list, nothing clever."""
    allowed, done, before = set(allowed), set(), None
    while before != len(done):
        before = len(done)
        done |= {name for name in allowed if can_follow(operations, done, name)}
    return done


def changes_in(operations: Mapping[str, Operation], order: Iterable[str]) -> int:
    tools = [tool for name in order if (tool := operations[name].tool) is not None]
    return sum(one != other for one, other in pairwise(tools))


def subsets(names: Iterable[str]) -> Iterator[frozenset[str]]:
    names = sorted(names)
    for size in range(len(names) + 1):
        yield from map(frozenset, combinations(names, size))


def least_by_exhaustion(
    operations: Mapping[str, Operation], targets: Iterable[str]
) -> tuple[float, int, int] | None:
    """(time, real operations, tool changes) over all sets of real operations, virtual ones done whenever they can
    be; None when no set does the targets. Up to about twelve real operations."""
    virtual = {name for name, operation in operations.items() if operation.is_virtual}
    best: tuple[float, int] | None = None
    least: list[frozenset[str]] = []
    for real in subsets(set(operations) - virtual):
        price = (sum(operations[name].time for name in sorted(real)), len(real))
        if best is not None and price > best:
            continue
        if real | set(targets) <= reached_with(operations, real | virtual):
            least = [*least, real] if price == best else [real]
            best = price
    if best is None:
        return None
    return (*best, min(fewest_changes_by_graph(operations, real | virtual) for real in least))


def fewest_changes_by_graph(operations: Mapping[str, Operation], allowed: Iterable[str]) -> int:
    """Dijkstra (networkx) over (what is done, tool in hand), one operation at a time, no dominance used; to where
    everything in ``allowed`` that can be done is done."""
    allowed = frozenset(allowed)
    end = frozenset(reached_with(operations, allowed))
    graph = networkx.DiGraph()
    start = (frozenset[str](), None)
    graph.add_node(start)
    ahead = [start]
    while ahead:
        done, tool = state = ahead.pop()
        if done == end:
            graph.add_edge(state, "end", weight=0)
            continue
        for name in sorted(end - done):
            if can_follow(operations, done, name):
                needed = operations[name].tool
                after = (done | {name}, needed or tool)
                if after not in graph:
                    ahead.append(after)
                graph.add_edge(state, after, weight=int(needed is not None and tool not in (None, needed)))
    return networkx.dijkstra_path_length(graph, start, "end")
