"""Access paths from recorded facts: a machine of 300 items, without choices and with, and every item of the demo.

Times are of the processor, so that what else the machine does is not measured.
"""

from __future__ import annotations

import os
from pathlib import Path
from random import Random
from time import process_time

from benchleaf.access.derived import DerivedProcedure, derived_procedure
from benchleaf.access.disassembly_map import disassembly_map
from benchleaf.access.paths import access_path
from benchleaf.access.ways import Ways, all_ways
from benchleaf.derived import Derived
from benchleaf.link import link
from benchleaf.physical.findings import ground_of
from benchleaf.physical.least_path import AccessPath, least_paths, network
from benchleaf.physical.operations import operations_of
from benchleaf.physical.times import Times
from benchleaf.pipeline import load
from benchleaf.shape import shape
from benchleaf.source import Source

CONTENT = Path(__file__).parents[1] / "content"
DRIVES = ("PH1", "PH2", "TX10", "TX20", "hex 2.5", "hex 4")


def machine(items: int, seed: int, *, choices: bool) -> Derived:
    """A machine of nested items in layers; with choices also cables, ties, positions and two ways in."""
    random = Random(seed)
    fasteners = "".join(f"  s{n}: {{drive: {drive}}}\n" for n, drive in enumerate(DRIVES))
    rows = ["  frame: Frame"]
    for n in range(items):
        layer = range(max(0, n - 12), n)
        behind = [f"i{m}" for m in random.sample(layer, k=min(len(layer), random.choice((0, 1, 1))))]
        if choices and len(layer) > 2 and random.random() < 0.35:
            one, other = random.sample(layer, 2)
            behind.append(f"[i{one}@out, i{other}]" if one % 5 == 0 else f"[i{one}, i{other}]")
        held = f"held-by: {{s{random.randrange(len(DRIVES))}: {random.randint(1, 8)}}}"
        out = ", positions: {out: {motion: pull front 100 mm}}" if choices and n % 5 == 0 else ""
        rows.append(f"  i{n}: {{name: Item {n}, behind: [{', '.join(behind)}], {held}{out}}}")
    text = f"record: machine\nid: m\nname: M\nfasteners:\n{fasteners}energy: {{}}\nitems:\n" + "\n".join(rows) + "\n"
    sources = [Source("shop.yaml", "record: shop\n"), Source("m/machine.yaml", text)]
    if choices:
        ends = [random.sample(range(items), 2) for _ in range(items // 2)]
        connectors = "".join(f"  i{host}-J{n}: {{contacts: 2}}\n" for n, pair in enumerate(ends, 1) for host in pair)
        cables = "".join(f"  W{n}: {{ends: [i{a}-J{n}, i{b}-J{n}]}}\n" for n, (a, b) in enumerate(ends, 1))
        sources.append(
            Source("m/wiring.yaml", f"record: wiring\nmachine: m\nconnectors:\n{connectors}cables:\n{cables}")
        )
    shaped, _ = shape(sources)
    return Derived(link(shaped, ())[0])


def _paths(items: int, choices: bool) -> str:
    derived = machine(items, items, choices=choices)
    one = derived.library.machines["m"]
    ground = ground_of(derived, one, derived.configurations(one)[0])
    start = process_time()
    net = network(operations_of(ground, Times.of_library(derived.library)))
    ready = process_time() - start
    found = least_paths(net, {name: (f"off:{name}",) for name in ground.built.items if name != "frame"})
    spent = process_time() - start
    paths = [path for path in found.values() if isinstance(path, AccessPath)]
    kind = "with choices" if choices else "without choices"
    longest = max((len(path.order) for path in paths), default=0)
    return (
        f"access facts: {items} items {kind}, facts to all paths {spent:.3f} s, {1000 * spent / items:.2f} ms an item "
        f"(of it {ready:.3f} s to compile; {len(paths)} can be reached, {sum(path.exact for path in paths)} exact, "
        f"longest {longest}), {os.cpu_count()} cores"
    )


def _demo() -> list[str]:
    derived = load(CONTENT).derived
    lines = []
    for one in derived.library.machines.values():
        made = [Ways(ways.ground, ways.times) for ways in all_ways(derived, one).values()]
        items = sum(len(ways.removable) for ways in made)
        start = process_time()
        for ways in made:
            for item in ways.removable:
                access_path(ways, item)
        paths = process_time() - start
        start = process_time()
        clean = sum(
            isinstance(found := derived_procedure(ways, item), DerivedProcedure) and found.is_clean
            for ways in made
            for item in ways.removable
        )
        replayed = process_time() - start
        start = process_time()
        for ways in made:
            disassembly_map(ways)
        maps = process_time() - start
        lines.append(
            f"access facts: {one.id}, {items} items over {len(made)} configurations: paths with their words "
            f"{1000 * paths / items:.1f} ms an item, to replace each there and back {1000 * replayed / items:.1f} ms "
            f"({clean} clean), maps {1000 * maps / len(made):.0f} ms each, {os.cpu_count()} cores"
        )
    return lines


def run() -> list[str]:
    """The lines to print."""
    return [_paths(300, False), *(_paths(items, True) for items in (60, 150, 300)), *_demo()]
