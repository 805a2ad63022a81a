"""The facts of a machine compiled a second time, straight from the record, and searched exhaustively.

Nothing of the project's compiler or solver is used: an operation's needs are lists of alternatives, each a set of
operations, and the search tries every alternative of every need.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import product

from benchleaf.built import Built

Op = tuple[str, ...]
Need = list[frozenset[Op]]
SECONDS = {"lift off": 30, "move": 30, "cut": 10, "clamp": 30, "disconnect": 40, "screw": 10, "open": 30}
"""Common practice, no source; label 10, lift a lead 15, cap 10, drain 300, cover 20 likewise."""


def fronts(b: Built, choices: Iterable[Iterable[Iterable[str]]], subject: str) -> Iterator[Need]:
    around = b.chain(subject) if subject in b.items else ()
    for clause in choices:
        need: Need = []
        for option in clause:
            parts: list[list[Op]] = []
            for placed in option:
                item, _, position = placed.partition("@")
                if item not in b.items:
                    continue
                off: list[Op] = [("off", x) for x in b.chain(item) if x == item or x not in around]
                if position in b.items[item].positions:
                    off.append(("to", item, position))
                parts.append(off)
            need += [frozenset(one) for one in product(*parts)]
        if frozenset() not in need:
            yield need


Ends = list[Op | None]
"""Ends as the operations that open them; ``None`` for one that cannot be opened."""


def sides(b: Built, item: str) -> Iterator[tuple[Ends, Ends, list[Op], list[Op], float | None]]:
    """What has hold of both sides of an item: inner ends, outer ends, ties inside, ties outside, slack in metres."""
    moved = {x for x in b.items if item in b.chain(x)}

    def is_in(at: str) -> bool:
        owner = at.split(".")[0]
        host = owner if owner in b.items else owner.rpartition("-")[0]
        if host in b.cables:
            ends = [str(e.at) for e in b.cables[host].ends if e.at != "parked"]
            return bool(ends) and all(is_in(end) for end in ends)
        return host in moved

    things = [("open", n, [str(e.at) for e in c.ends if e.at != "parked"], c.slack) for n, c in b.cables.items()]
    things += [("joint", n, [str(e.at.item) for e in line.ends], line.slack) for n, line in b.lines.items()]
    for kind, name, ends, slack in things:
        inner: Ends = []
        outer: Ends = []
        for at in ends:
            (inner if is_in(at) else outer).append((kind, name, at) if kind == "joint" or opens(b, name, at) else None)
        ties = [t for t, tie in b.ties.items() if tie.holds is not None and name in tie.holds]
        inside: list[Op] = [("tie", t) for t in ties if b.ties[t].fixed_to.item in moved]
        outside: list[Op] = [("tie", t) for t in ties if b.ties[t].fixed_to.item not in moved]
        if (inner or outer) and (inner or inside) and (outer or outside):
            yield inner, outer, inside, outside, slack.least() if slack else None


def opens(b: Built, cable: str, at: str) -> bool:
    end = next(e for e in b.cables[cable].ends if e.at == at)
    return at in b.connectors or (end.joint or b.cables[cable].joint) in ("screw", "spade")


def parted(b: Built, item: str, travel: float | None = None) -> Iterator[Need]:
    for inner, outer, inside, outside, slack in sides(b, item):
        need: Need = []
        for ends, ties in ((inner, inside), (outer, outside)):
            if None not in ends:
                need.append(frozenset([*(e for e in ends if e), *ties]))
        if inner and outer and travel is not None and slack is not None and travel <= slack:
            need.append(frozenset([*inside, *outside]))
        if frozenset() not in need:
            yield need


def needs(b: Built, op: Op) -> list[Need]:
    kind, name, *rest = op
    if kind == "un":
        return list(fronts(b, b.reach_of_set(name), b.sets[name].item))
    if kind in ("off", "to"):
        item = b.items[name]
        position = item.positions[rest[0]] if rest else None
        behind = position.behind if position is not None and position.behind is not None else b.behind(name)
        own = [s for s in b.sets_of(name) if position is None or position.needs is None or s.own in position.needs]
        far = position.motion.distance if position is not None and position.motion is not None else None
        held: list[Need] = [[frozenset([("un", s.name)])] for s in own]
        return [*fronts(b, behind, name), *held, *parted(b, name, far.nominal if far is not None else None)]
    if kind == "open":
        owner = rest[0].split(".")[0]
        if owner in b.items:
            return list(fronts(b, b.reach(owner), owner))
        return list(fronts(b, b.reach_of_connector(owner), owner.rpartition("-")[0]))
    if kind == "joint":
        return _joint(b, name, rest[0])
    if kind == "tie":
        return list(fronts(b, b.reach_of_tie(name), str(b.ties[name].fixed_to.item)))
    if kind == "cover":
        return list(fronts(b, b.reach(name), name))
    return [_at_hand(b, kind, name)]


def circuit(b: Built, line: str) -> str:
    return str(b.lines[line].circuit or line)


def _joint(b: Built, line: str, item: str) -> list[Need]:
    found = list(fronts(b, b.reach_of_joint(line, item), item))
    if b.lines[line].wet is False:
        return found
    held: Need = [frozenset([("drain", circuit(b, line))])]
    beyond = [n for n, o in b.lines.items() if n != line and circuit(b, n) == circuit(b, line)]
    beyond = [n for n in beyond if item in [e.at.item for e in b.lines[n].ends]]
    if beyond and b.items[item].holds is None and all(b.lines[n].clamp for n in (line, *beyond)):
        held.append(frozenset(("clamp", n) for n in (line, *beyond)))
    end = next(e for e in b.lines[line].ends if e.at.item == item)
    electrical = {str(c).rpartition("-")[0] for c in b.connectors} | set(b.joins)
    for below in end.drips_on or ():
        if below.item in electrical:
            away: list[Op] = [("off", x) for x in b.chain(below.item) if x not in b.chain(item)]
            found.append([frozenset([x]) for x in (("cover", str(below.item)), *away)])
    return [*found, held]


def _at_hand(b: Built, kind: str, name: str) -> Need:
    """To clamp a line or drain a circuit, hands are at one of its joints, or at its vessel."""
    lines = [name] if kind == "clamp" else [n for n in b.lines if circuit(b, n) == name]
    ways = [fronts(b, b.reach_of_joint(n, str(e.at.item)), str(e.at.item)) for n in lines for e in b.lines[n].ends]
    if kind == "drain":
        ways += [fronts(b, b.reach(n), n) for n, i in b.items.items() if i.holds and str(i.circuit or n) == name]
    return [frozenset().union(*one) for way in ways for one in product(*way)]


def seconds(b: Built, op: Op) -> float:
    kind, name, *rest = op
    if kind == "un":
        gone = sum(f.missing or 0 for f in b.as_found if str(f.set) == name)
        return SECONDS["screw"] * (b.sets[name].count - gone)
    if kind == "off":
        takes = b.items[name].takes
        return float(takes.nominal) if takes is not None and takes.nominal is not None else SECONDS["lift off"]
    if kind == "open":
        if rest[0] in b.connectors:
            return SECONDS["disconnect"]
        pairs = b.cables[name].wires.map  # type: ignore[union-attr]
        assert not isinstance(pairs, str) and pairs is not None
        leads = {c for pair in pairs for c in pair if c.partition(".")[0] == rest[0]}
        return 10 + 15 * max(len(leads), 1)
    return {"to": 30, "joint": 40 if b.lines.get(name) and b.lines[name].wet is not False else 30, "tie": 10,
            "drain": 300, "clamp": 30, "cover": 20}[kind]  # fmt: skip


def least(b: Built, target: Op) -> float | None:
    """The least time to do ``target``: every alternative of every need is tried, what rests on itself refused."""
    known: dict[Op, list[Need]] = {}

    def of(op: Op) -> list[Need]:
        if op not in known:
            known[op] = sorted(needs(b, op), key=len)
        return known[op]

    best: list[float | None] = [None]
    seen: set[frozenset[Op]] = set()

    def search(chosen: frozenset[Op]) -> None:
        time = sum(seconds(b, op) for op in chosen)
        if (best[0] is not None and time >= best[0]) or chosen in seen:
            return
        open_needs = [need for op in sorted(chosen) for need in of(op) if not any(way <= chosen for way in need)]
        if not open_needs:
            seen.add(chosen)
            if is_founded(chosen):
                best[0] = time
                return
            stuck = [need for op in sorted(chosen) for need in of(op)]
            for need in stuck:  # a ring: widen it by any alternative not yet in it
                for way in need:
                    if not way <= chosen:
                        search(chosen | way)
            return
        seen.add(chosen)
        for way in sorted(min(open_needs, key=len), key=lambda way: sum(seconds(b, op) for op in way - chosen)):
            search(chosen | way)

    def is_founded(chosen: frozenset[Op]) -> bool:
        done: set[Op] = set()
        while True:
            ready = [op for op in chosen - done if all(any(way <= done for way in need) for need in of(op))]
            if not ready:
                return done == chosen
            done.update(ready)

    search(frozenset([target]))
    return best[0]
