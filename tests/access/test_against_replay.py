"""Least paths against exhaustive search with the replay's own rules: no clause is involved there, only what rules say.

Machines are made by chance, up to twelve operations each: nested items, choices, positions, cables with ties and slack,
wet lines. Every state that can be got to is looked at, so the least time is known however the facts compile.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from heapq import heappop, heappush
from itertools import count
from random import Random

import pytest
from tests.access.machines import NO_ENERGY, ways

from benchleaf import nodes
from benchleaf.access.ways import Ways
from benchleaf.diagnostics import Severity
from benchleaf.physical.acts import expand
from benchleaf.physical.least_path import AccessPath, OutOfReach
from benchleaf.physical.operations import named
from benchleaf.physical.replay import run_act, start_state
from benchleaf.physical.state import State
from benchleaf.records.actions import Action, read_object
from benchleaf.records.reading import Desk
from benchleaf.text import NOWHERE

LEAST = 12
SEEDS = range(200)
SHOP = "times: {disconnect: 4 s, lift off: 3 s, move: 2 s, cut: 1 s, open: 3 s, cap: 1 s, drain: 9 s}\n"


@dataclass
class _Made:
    """What is known of the items made so far: those that may be named in a choice, and where they can be drawn to."""

    random: Random
    free: list[str] = field(default_factory=list)
    drawn: set[str] = field(default_factory=set)

    def placed(self) -> str:
        one = self.random.choice(self.free)
        return f"{one}@out" if one in self.drawn and self.random.random() < 0.6 else one

    def choices(self) -> str:
        kind = self.random.random()
        if not self.free or kind < 0.3:
            return "[]"
        if kind < 0.6 or len(self.free) < 2:
            return f"[{self.placed()}]"
        if kind < 0.75:
            return f"[[{self.placed()}, {self.placed()}]]"
        if kind < 0.9:
            return f"[[{self.placed()} + {self.placed()}, {self.placed()}]]"
        return f"[{', '.join(self.free[:2])}]"


def machine(seed: int) -> tuple[str, str]:
    """A machine and its wiring: three to five items."""
    random = Random(seed)
    names = ["lid", "A1", "A2", "plate", "A3"][: random.randint(3, 5)]
    random.shuffle(names)
    made = _Made(random)
    rows, fasteners = ["  frame: Frame"], []
    for n, name in enumerate(names):
        said = [f"name: Item {name}", f"behind: {made.choices()}", "supports: none"]
        if n > 0 and random.random() < 0.3:
            said.append(f"in: {random.choice(names[:n])}")
        if random.random() < 0.3:
            said.append(f"reach: {made.choices()}")
        if random.random() < 0.7:
            captive = random.choice((", captive: yes", ""))
            drive, takes = random.choice(("PH1", "PH2")), random.randint(1, 6)
            fasteners.append(f"  s{n}: {{drive: {drive}, takes: {takes} s, length: {n + 1} mm{captive}}}")
            said.append(f"held-by: {{s{n}: {random.randint(1, 3)}}}")
        else:
            said.append("held-by: none")
        if random.random() < 0.35:
            needs, behind = random.choice(("", ", needs: none")), random.choice(("[]", made.choices()))
            said.append(f"positions: {{out: {{motion: pull front 50 mm{needs}, behind: {behind}}}}}")
            made.drawn.add(name)
        if random.random() < 0.3:
            said.append("comes-off: [slide back 5 mm, lift up]")
        rows.append(f"  {name}: {{{', '.join(said)}}}")
        made.free.append(name)
    wiring, ties = _cables(random, names, made.free)
    head = "fasteners:\n" + "\n".join(fasteners) + "\n" if fasteners else ""
    return f"{head}{NO_ENERGY}items:\n" + "\n".join(rows) + f"\n{ties}{_line(random, names)}", wiring


def _line(random: Random, names: list[str]) -> str:
    if random.random() < 0.7:
        return ""
    one, other = random.sample(names, 2)
    wet = random.choice(("yes", "no"))
    return f"lines:\n  hose: {{ends: [{{at: {one}, drips-on: none}}, {{at: {other}, drips-on: none}}], wet: {wet}}}\n"


def _cables(random: Random, names: list[str], free: list[str]) -> tuple[str, str]:
    connectors, cables, ties = [], [], []
    for n in range(random.randint(0, 2)):
        one, other = random.sample(names, 2)
        ends = []
        for host in (one, other):
            if random.random() < 0.8:
                reach = random.choice(("", "", f", reach: [{random.choice(free)}]", ", reach: []"))
                connectors.append(f"  {host}-J{n + 1}: {{family: f{host}{n}, contacts: 2{reach}}}")
                ends.append(f"{{at: {host}-J{n + 1}, takes: {random.randint(1, 9)} s}}")
            else:
                ends.append(host)
        slack = random.choice(("", ", slack: 60 mm", ", slack: 10 mm"))
        cables.append(f"  W{n + 1}: {{ends: [{', '.join(ends)}]{slack}}}")
        if random.random() < 0.4:
            ties.append(f"  t{n + 1}: {{fixed-to: {random.choice([*names, 'frame'])}, holds: [W{n + 1}]}}")
    wiring = f"connectors:\n{chr(10).join(connectors)}\n" if connectors else ""
    wiring += f"cables:\n{chr(10).join(cables)}\n" if cables else ""
    return wiring, f"ties:\n{chr(10).join(ties)}\n" if ties else ""


# ---- the search: states by the replay, allowed by its rules


def acts_of(made: Ways, operation: str, state: State) -> Iterator[Action]:
    """What hands do for an operation, written from the verbs' table."""
    one, built = named(operation), made.built
    if one.kind == "un":
        yield _action("loosen" if built.sets[one.what].captive else "remove", one.what)
    elif one.kind == "off":
        if len(built.items[one.what].comes_off or ()) > 1 and one.what not in state.items:
            yield _action("slide", one.what)
        yield _action("lift off", one.what)
    elif one.kind == "to":
        yield _action("move", f"{one.what} to {one.at}")
    elif one.kind == "open":
        yield _action("disconnect", one.at)
    elif one.kind == "joint":
        yield _action("open", f"{one.what} at {one.at}")
        if built.lines[one.what].wet is not False:
            yield _action("cap", f"{one.what} at {one.at}")
    else:
        yield _action({"tie": "cut"}.get(one.kind, one.kind), one.what)


def _action(verb: str, text: str) -> Action:
    made = read_object(verb, nodes.Scalar(text, NOWHERE), Desk())
    assert isinstance(made, Action)
    return made


def after(made: Ways, operation: str, state: State) -> State | None:
    """The state after an operation; ``None`` when a rule forbids a part of it."""
    for action in acts_of(made, operation, state):
        acts, problems = expand(made.ground, state, action)
        for one in acts:
            done = run_act(made.ground, state, one)
            problems += done.problems
            state = done.after
        if any(problem.severity is Severity.ERROR for problem in problems):
            return None
    return state


def least_times(made: Ways, operations: list[str]) -> dict[str, float]:
    """Operation → the least time after which it is done, over every order the rules allow."""
    tie = count()
    start = start_state(made.ground)
    heap: list[tuple[float, int, frozenset[str], State]] = [(0.0, next(tie), frozenset(), start)]
    seen: set[tuple[frozenset[str], tuple[tuple[str, str], ...]]] = set()
    found: dict[str, float] = {}
    while heap:
        time, _, done, state = heappop(heap)
        key = (done, tuple(sorted(state.items.items())))
        if key in seen:
            continue
        seen.add(key)
        for one in done:
            found.setdefault(one, time)
        for one in operations:
            if one not in done and (then := after(made, one, state)) is not None:
                heappush(heap, (time + made.network.operations[one].time, next(tie), done | {one}, then))
    return found


def works(made: Ways) -> list[str]:
    return sorted(made.works(made.network.operations))


SMALL = [seed for seed in SEEDS if len(works(ways(*machine(seed), SHOP))) <= LEAST]


def test_most_of_the_machines_are_small_enough_to_be_searched() -> None:
    assert len(SMALL) > len(SEEDS) // 2


@pytest.mark.parametrize("seed", SMALL)
def test_no_order_the_rules_allow_is_quicker_than_the_least_path(seed: int) -> None:
    made = ways(*machine(seed), SHOP)
    operations = works(made)
    found = least_times(made, operations)
    for one in operations:
        if one.startswith("drain:"):
            continue  # no rule says where a circuit is drained; a path gets to a joint of it first
        path = made.path((one,), dead=False)
        if one in found:
            assert isinstance(path, AccessPath), (one, path)
            assert path.time == pytest.approx(found[one]), (one, path)
        else:
            assert isinstance(path, OutOfReach), (one, path)
