"""Access paths: every part of a machine of 300 parts without choices, and of machines with choices."""

from __future__ import annotations

import os
from random import Random
from time import perf_counter

from benchleaf.physical.least_path import AccessPath, Operation, least_paths, network

TOOLS = ("PH1", "PH2", "TX10", "TX20", "hex 2.5", "hex 4")


def nested(parts: int, seed: int) -> dict[str, Operation]:
    """Parts behind parts, each held by screws; every clause has one alternative."""
    random = Random(seed)
    operations = {}
    for i in range(parts):
        before = random.sample(range(i), k=min(i, random.choice((0, 1, 1, 2))))
        behind = tuple((f"off-{j}",) for j in before)
        operations[f"screws-{i}"] = Operation(10.0 * random.randint(1, 8), random.choice(TOOLS), behind)
        operations[f"off-{i}"] = Operation(30.0, "hand", (*behind, (f"screws-{i}",)))
    return operations


def machine_like(parts: int, seed: int) -> dict[str, Operation]:
    """Parts in layers, some reached by either of two ways, cables that may be opened at either end."""
    random = Random(seed)
    operations: dict[str, Operation] = {}
    clauses: dict[int, list[tuple[str, ...]]] = {}
    for i in range(parts):
        layer = range(max(0, i - 12), i)
        behind = [(f"off-{j}",) for j in random.sample(layer, k=min(len(layer), random.choice((0, 1, 1))))]
        if len(layer) > 2 and random.random() < 0.35:
            one, other = random.sample(layer, 2)
            behind.append((f"off-{one}", f"off-{other}"))
        clauses[i] = behind
        operations[f"screws-{i}"] = Operation(
            10.0 * random.randint(1, 8), random.choice(TOOLS), tuple(behind)
        )
    for cable in range(parts // 2):
        here, there = random.sample(range(parts), 2)
        for end, host in enumerate((here, there)):
            operations[f"unplug-{cable}-{end}"] = Operation(15.0, "hand", tuple(clauses[host]))
        tie = random.random() < 0.3
        if tie:
            operations[f"cut-{cable}"] = Operation(10.0, "cutter", tuple(clauses[there]))
        for end in (0, 1):
            far = ((f"unplug-{cable}-{1 - end}",), *(((f"cut-{cable}",),) if tie else ()))
            operations[f"stay-{cable}-{end}"] = Operation(0.0, None, ((f"unplug-{cable}-{end}",),))
            operations[f"travel-{cable}-{end}"] = Operation(0.0, None, far)
        for end, host in enumerate((here, there)):
            clauses[host] = [*clauses[host], (f"stay-{cable}-{end}", f"travel-{cable}-{end}")]
    for i in range(parts):
        operations[f"off-{i}"] = Operation(30.0, "hand", (*clauses[i], (f"screws-{i}",)))
    return operations


def run() -> list[str]:
    """The lines to print."""
    lines = []
    cores = os.cpu_count()
    operations = nested(300, 1)
    start = perf_counter()
    net = network(operations)
    ready = perf_counter() - start
    paths = least_paths(net, {f"off-{i}": (f"off-{i}",) for i in range(300)})
    spent = perf_counter() - start
    found = [path for path in paths.values() if isinstance(path, AccessPath)]
    longest = max(len(path.order) for path in found)
    lines.append(
        f"access: 300 parts without choices, all paths with their order {spent:.3f} s (of it {ready:.3f} s "
        f"to prepare; longest {longest} operations; {sum(path.exact for path in found)} exact), {cores} cores"
    )
    for parts in (60, 150, 300):
        start = perf_counter()
        net = network(machine_like(parts, parts))
        paths = least_paths(net, {f"off-{i}": (f"off-{i}",) for i in range(parts)})
        spent = perf_counter() - start
        found = [path for path in paths.values() if isinstance(path, AccessPath)]
        longest = max((len(path.order) for path in found), default=0)
        lines.append(
            f"access: {parts} parts with choices, {1000 * spent / parts:.2f} ms a part ({len(found)} can be "
            f"reached, longest {longest} operations, {sum(path.exact for path in found)} exact), {cores} cores"
        )
    return lines
