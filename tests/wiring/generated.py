"""Machines made by chance, as the facts an author would write; and every fact whose deletion must not make them milder.

A machine is a pair of tables (machine.yaml, wiring.yaml) that JSON can print, for JSON is YAML.
"""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from typing import Any

from hypothesis import strategies as st

from benchleaf.link import link
from benchleaf.model import Machine
from benchleaf.shape import shape
from benchleaf.source import Source

Facts = dict[str, Any]
PLUGS = ("XP1", "XP2")
SWITCHES = ("Q1", "Q2")
BOARDS = ("A1", "A2", "PS1")
TERMINALS = ("T1", "K1", "M1")
ITEMS = ("frame", *PLUGS, *SWITCHES, *BOARDS, *TERMINALS)
JOINTS = ("copper", "copper", "fuse", "switch", "relay", "load", "driver")


def own_contacts(item: str) -> list[str]:
    if item in PLUGS:
        return ["L", "N", "PE"]
    if item in SWITCHES:
        return ["1", "2", "3", "4"]
    return ["PE"] if item == "frame" else ["1", "2", "3"]


@st.composite
def machines(draw: st.DrawFn, whole: bool = False) -> Facts:
    """The facts of a machine; ``whole``: every wire and every inside is recorded."""
    connectors: Facts = {}
    for board in BOARDS:
        for number in range(draw(st.integers(1, 2))):
            roles = draw(st.lists(st.sampled_from(["24 V DC", "0 V", "in", "-", "PE"]), min_size=2, max_size=3))
            names = [str(n + 1) for n in range(len(roles))]
            one: Facts = {"contacts": dict(zip(names, roles, strict=True))}
            if draw(st.booleans()):
                one["cable"] = "none"
            connectors[f"{board}-J{number + 1}"] = one
    free = draw(st.permutations(list(connectors)))
    cables: Facts = {}
    for number in range(draw(st.integers(2, 6))):
        ends: list[str] = []
        for _ in range(draw(st.integers(2, 3))):
            if free and draw(st.integers(0, 2)):
                end = free.pop()
                connectors[end].pop("cable", None)
                ends.append(end)
            else:
                ends.append(
                    draw(st.sampled_from([i for i in ITEMS if i not in BOARDS and i not in ends] or ["parked"]))
                )
        if len(ends) == 2 and draw(st.integers(0, 5)) == 0:
            ends[1] = "parked"
        cables[f"W{number + 1}"] = _cable(draw, ends, connectors, whole)
    joins: Facts = {}
    for item in ITEMS:
        mine = [f"{item}.{own}" for own in own_contacts(item)] if item not in BOARDS else []
        mine += [
            f"{name}.{own}"
            for name in connectors
            if name.startswith(f"{item}-")
            for own in connectors[name]["contacts"]
        ]
        made = _joins(draw, item, mine, whole)
        if made is not None:
            joins[item] = made
    return {"machine": _machine(draw), "wiring": {
        "record": "wiring", "machine": "t", "connectors": connectors, "cables": cables, "joins": joins,
        "sources": _sources(draw, connectors),
    }}  # fmt: skip


def _cable(draw: st.DrawFn, ends: list[str], connectors: Facts, whole: bool) -> Facts:
    made: Facts = {"ends": ends}
    if not whole and draw(st.integers(0, 4)) == 0:
        return made
    places = [
        f"{end}.{own}"
        for end in ends
        for own in (
            connectors[end]["contacts"] if end in connectors else ["1", "2"] if end == "parked" else own_contacts(end)
        )
    ]
    pairs = draw(st.lists(st.tuples(st.sampled_from(places), st.sampled_from(places)), min_size=1, max_size=5))
    pairs = [[a, b] for a, b in pairs if a.partition(".")[0] != b.partition(".")[0]]
    if whole:
        told = {one for pair in pairs for one in pair}
        for place in places:
            if place not in told and place.partition(".")[0] not in ITEMS:
                other = draw(st.sampled_from([p for p in places if p.partition(".")[0] != place.partition(".")[0]]))
                pairs.append([place, other])
    if pairs:
        made["wires"] = {"map": pairs}
    return made


def _joins(draw: st.DrawFn, item: str, mine: list[str], whole: bool) -> Any:
    if item in SWITCHES:
        poles = [{"kind": "switch", "between": ["1", "2"]}, {"kind": "switch", "between": ["3", "4"]}]
        return poles if draw(st.booleans()) else poles[:1]
    kind = draw(st.integers(0, 5))
    if kind == 0:
        return "none"
    if not whole and kind == 1:
        return None
    made: list[Any] = []
    rest = list(mine)
    while len(rest) > 1:
        size = draw(st.integers(2, 3))
        between = [one.removeprefix(f"{item}.").removeprefix(f"{item}-") for one in rest[:size]]
        sort = draw(st.sampled_from(JOINTS))
        made.append(between if sort == "copper" else {"kind": sort, "between": between})
        rest = rest[size - draw(st.integers(0, 1)) :]
    return made or "none"


def _sources(draw: st.DrawFn, connectors: Facts) -> Facts:
    made: Facts = {}
    for number, plug in enumerate(PLUGS):
        if number and draw(st.booleans()):
            continue
        one: Facts = {"at": [f"{plug}.L"], "return": [f"{plug}.N"]}
        if draw(st.booleans()):
            one["plug"] = "polarised"
        earth = draw(st.integers(0, 2))
        if earth:
            one["earth"] = [f"{plug}.PE"] if earth == 1 else "none"
        made[f"mains-{number + 1}"] = one
    for name, board in (("made-1", "PS1"), ("made-2", "A1")):
        outputs = [f"{j}.{own}" for j in connectors if j.startswith(f"{board}-") for own in connectors[j]["contacts"]]
        inputs = draw(st.lists(st.sampled_from(sorted(made)), min_size=1, max_size=2, unique=True))
        one = {"from": inputs, "at": [outputs[-1]], "return": [outputs[-2]]}
        if draw(st.booleans()):
            one["one-way"] = "yes"
        if len(inputs) > 1 and draw(st.booleans()):
            one["needs"] = "all"
        made[name] = one
    return made


def _machine(draw: st.DrawFn) -> Facts:
    energy: Facts = {}
    for number, plug in enumerate(PLUGS):
        devices = draw(
            st.sampled_from([[f"unplug {plug}"], ["open Q1", f"unplug {plug}"], ["open Q1.1+2"], ["open Q2"]])
        )
        one: Facts = {"kind": "electrical", "isolate": devices}
        stored = draw(st.integers(0, 2))
        if stored == 1:
            one["stored"] = "none"
        elif stored:
            one["stored"] = [{"in": "PS1", "between": ["PS1-J1.1", "PS1-J1.2"], "bleed": "none"}]
        energy[f"mains-{number + 1}"] = one
    items: Facts = {item: {"name": f"The {item.lower()}"} for item in ITEMS}
    return {"record": "machine", "id": "t", "name": "Test machine", "items": items, "energy": energy}


def machine_from(facts: Facts) -> Machine:
    """The machine that the facts say; sources of the wiring that are not there take their energies with them."""
    energy = {n: one for n, one in facts["machine"]["energy"].items() if n in facts["wiring"]["sources"]}
    written = {**facts["machine"], "energy": energy}
    sources = [Source("t/machine.yaml", json.dumps(written)), Source("t/wiring.yaml", json.dumps(facts["wiring"]))]
    shaped, misfits = shape(sources)
    library, dead = link(shaped)
    assert not (*misfits, *dead), "\n".join(f"{one.place}: {one.message}" for one in (*misfits, *dead))
    return library.machines["t"]


def mild_facts(facts: Facts) -> Iterator[tuple[str, tuple[Any, ...]]]:
    """Every fact that can make the machine milder, in words and as the way to it: delete it and it must not be."""
    for name, energy in facts["machine"]["energy"].items():
        for number, device in enumerate(energy["isolate"]):
            yield f"isolator {device}", ("machine", "energy", name, "isolate", number)
        if "stored" in energy:
            yield f"stored of {name}", ("machine", "energy", name, "stored")
            if energy["stored"] != "none":
                yield "bleed path", ("machine", "energy", name, "stored", 0, "bleed")
                yield "where the charge stands", ("machine", "energy", name, "stored", 0, "between")
    wiring = facts["wiring"]
    for name, one in wiring["connectors"].items():
        if "cable" in one:
            yield f"nothing plugged into {name}", ("wiring", "connectors", name, "cable")
        for own, role in one["contacts"].items():
            if role == "-":
                yield f"empty place {name}.{own}", ("wiring", "connectors", name, "contacts", own)
    uses = [
        end for cable in wiring["cables"].values() for pair in cable.get("wires", {}).get("map", ()) for end in pair
    ]
    for name, cable in wiring["cables"].items():
        if "wires" in cable:
            yield f"wires of {name}", ("wiring", "cables", name, "wires")
            for number, pair in enumerate(cable["wires"]["map"]):
                if any(uses.count(end) == 1 for end in pair):  # else both ends keep a wire and nothing shows the gap
                    yield f"wire {pair} of {name}", ("wiring", "cables", name, "wires", "map", number)
    for item, joins in wiring["joins"].items():
        yield f"joins of {item}", ("wiring", "joins", item)
        told = [
            end for join in joins if joins != "none" for end in (join if isinstance(join, list) else join["between"])
        ]
        for number, join in enumerate(joins if joins != "none" else ()):
            if len(joins) > 1 and all(
                told.count(end) == 1 for end in (join if isinstance(join, list) else join["between"])
            ):
                yield f"join {number} of {item}", ("wiring", "joins", item, number)
    for name, source in wiring["sources"].items():
        for key in ("plug", "earth", "return", "one-way", "needs"):
            if key in source and not (key == "return" and "from" in source):
                yield f"{key} of {name}", ("wiring", "sources", name, key)


def without(facts: Facts, way: tuple[Any, ...]) -> Facts:
    """The facts without the one at ``way``."""
    made = copy.deepcopy(facts)
    place: Any = made
    for step in way[:-1]:
        place = place[step]
    if way[-2:-1] == ("contacts",):
        place[way[-1]] = ""
    else:
        del place[way[-1]]
    return made
