"""Wiring: a machine of some 2,000 contacts, its nets and every single and combined recorded isolation."""

from __future__ import annotations

import json
from itertools import pairwise
from random import Random
from time import perf_counter
from typing import Any

from benchleaf.built import Built, build, configurations_of
from benchleaf.link import link
from benchleaf.shape import shape
from benchleaf.source import Source
from benchleaf.wiring.isolation_states import isolation_states
from benchleaf.wiring.nets import Net
from benchleaf.wiring.wiring import Wiring

BOARDS, CONTACTS, PLUGS, ROUNDS = 24, 40, 6, 5
GOAL = 0.3


def machine(seed: int) -> Built:
    """Boards with two connectors each, joined in a row and fed by plugs with a switch behind each of them."""
    random = Random(seed)
    connectors: dict[str, Any] = {}
    cables: dict[str, Any] = {}
    joins: dict[str, Any] = {}
    sources: dict[str, Any] = {}
    energy: dict[str, Any] = {}
    items = [f"A{n}" for n in range(1, BOARDS + 1)]
    names = [str(n) for n in range(1, CONTACTS + 1)]
    for board in items:
        for number in (1, 2):
            roles = {one: random.choice(("24 V DC", "0 V", "in", "out", "")) for one in names}
            connectors[f"{board}-J{number}"] = {"contacts": roles, "cable": "none"}
        ends = [f"J{j}.{n}" for j in (1, 2) for n in names]
        random.shuffle(ends)
        kinds = ("copper", "load", "driver", "fuse", "relay")
        joins[board] = [
            {"kind": random.choice(kinds), "between": ends[n : n + 3]} for n in range(0, len(ends) - 3, 3)
        ]  # fmt: skip
    for n, (one, two) in enumerate(pairwise(items), start=1):
        pairs = list(zip(names, random.sample(names, len(names)), strict=True))
        cables[f"W{n}"] = {"ends": [f"{one}-J2", f"{two}-J1"], "wires": {"map": pairs}}
    for n in range(1, PLUGS + 1):
        board = random.choice(items)
        items += [f"XP{n}", f"Q{n}"]
        joins[f"XP{n}"] = "none"
        joins[f"Q{n}"] = [{"kind": "switch", "between": ["1", "2"]}, {"kind": "switch", "between": ["3", "4"]}]
        poles = [[f"XP{n}.L", f"Q{n}.1"], [f"XP{n}.N", f"Q{n}.3"]]
        cables[f"W{100 + n}"] = {"ends": [f"XP{n}", f"Q{n}"], "wires": {"map": poles}}
        joins[board] = [*joins[board], {"kind": "copper", "between": ["J1.1", "in-L", f"Q{n}.2"]}]
        sources[f"mains-{n}"] = {"at": [f"XP{n}.L"], "return": [f"XP{n}.N"], "earth": "none", "nominal": "230 V AC"}
        sources[f"made-{n}"] = {"from": f"mains-{n}", "at": [f"{board}-J2.1"], "return": [f"{board}-J2.2"]}
        energy[f"mains-{n}"] = {"kind": "electrical", "isolate": [f"open Q{n}", f"unplug XP{n}"], "stored": [
            {"in": board, "between": [f"{board}-J2.3", f"{board}-J2.4"]}
        ]}  # fmt: skip
    named = {item: f"Item {item}" for item in items}
    record = {"record": "machine", "id": "b", "name": "Bench", "items": named, "energy": energy}
    wiring = {
        "record": "wiring", "machine": "b", "connectors": connectors, "cables": cables, "joins": joins,
        "sources": sources,
    }  # fmt: skip
    texts = [Source("b/machine.yaml", json.dumps(record)), Source("b/wiring.yaml", json.dumps(wiring))]
    shaped, misfits = shape(texts)
    library, dead = link(shaped)
    assert not (*misfits, *dead), (*misfits, *dead)
    made = library.machines["b"]
    return build(made, configurations_of(made)[0])


def run() -> list[str]:
    """The printed lines; the best of five."""
    built = machine(1)
    times = {"graph": [], "nets": [], "states": []}  # type: dict[str, list[float]]
    wiring = Wiring.of(built)
    states: tuple[Any, ...] = ()
    nets: tuple[Net, ...] = ()
    for _ in range(ROUNDS):
        start = perf_counter()
        wiring = Wiring.of(built)
        times["graph"].append(perf_counter() - start)
        start = perf_counter()
        nets = wiring.nets
        times["nets"].append(perf_counter() - start)
        start = perf_counter()
        states = isolation_states(wiring)
        live = sum(len(state.live.contacts) + len(state.fed.contacts) for state in states)
        times["states"].append(perf_counter() - start)
    contacts = sum(len(names) for names in wiring.graph.contacts.values())
    whole = sum(min(one) for one in times.values())
    best = {name: f"{min(one) * 1e3:.0f} ms" for name, one in times.items()}
    return [
        f"wiring of {contacts} contacts, {len(wiring.graph.edges)} edges: graph {best['graph']}",
        f"all {len(nets)} nets: {best['nets']}",
        f"{len(states)} isolation states, each before and after stored charge is proved gone: {best['states']} "
        f"({live} live contacts)",
        f"graph, nets and every recorded isolation: {whole * 1e3:.0f} ms; goal {GOAL * 1e3:.0f} ms",
    ]
