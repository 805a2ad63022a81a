"""A fuse larger than the wire behind it bears, one of which that cannot be said, an added board without its own fuse.

A fuse protects the wire behind it: its rated current is no larger than that of the thinnest wire up to the next fuse.
What is not recorded counts as too thin. A board that somebody added, fed from a supply that was made for something
else, needs a fuse of its own.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.applicability import Configuration, holds
from benchleaf.checks.on_machines import on_machines
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Severity
from benchleaf.records.items import Item
from benchleaf.wiring.conduction import How
from benchleaf.wiring.contacts import cable_of, natural
from benchleaf.wiring.graph import COPPER, Edge, Kind
from benchleaf.wiring.wire_list import rated_of
from benchleaf.wiring.wiring import Wiring

CODES = ("fuse-too-large", "fuse-not-rated", "wire-not-rated", "added-board-unfused")
CONDUCTS = COPPER | {Kind.SWITCH, Kind.RELAY}


def run(derived: Derived) -> Iterator[Finding]:
    yield from on_machines(derived, _of_machine)


def _of_machine(wiring: Wiring) -> Iterator[Finding]:
    for edge in wiring.graph.edges:
        if edge.kind is Kind.FUSE:
            yield from _of_fuse(wiring, edge)
    for name, item in wiring.built.items.items():
        if _is_added(wiring, item) and _is_board(wiring, name) and not _has_fuse(wiring, name):
            message = f"{name} {item.name} was added, and no fuse of its own is recorded"
            help = "record the fuse in it, or in the lead that feeds it; if there is none, fit one"
            yield Finding("added-board-unfused", message, item.place, help, Severity.WARNING)


def _of_fuse(wiring: Wiring, fuse: Edge) -> Iterator[Finding]:
    join = fuse.join
    rating = join.rating.high if join is not None and join.rating is not None else None
    if rating is None:
        message = f"the rating of fuse {fuse.by} is not recorded: it counts as too large for every wire"
        yield Finding(
            "fuse-not-rated", message, fuse.place, "add `rating:`, read from the fuse itself", Severity.WARNING
        )
        return
    unrated: set[str] = set()
    told: set[str] = set()
    for number in sorted(_behind(wiring, fuse)):
        wire = wiring.graph.edges[number]
        wires = wiring.built.cables[wire.by].wires
        if wires is None or wire.wire is None:
            continue
        bears = rated_of(wires, wire.wire)
        if bears is None:
            unrated.add(wire.by)
        elif bears < rating and wire.by not in told:
            told.add(wire.by)
            message = (
                f"fuse {fuse.by} of {rating:g} A is larger than wire {wire.wire + 1} of {wire.by} bears ({bears:g} A)"
            )
            help = "fit the smaller fuse or the thicker wire; where the record is wrong, mend it"
            related = ((fuse.place, "the fuse"),)
            yield Finding("fuse-too-large", message, wires.place_of("rated"), help, related=related)
    if unrated:
        names = ", ".join(sorted(unrated, key=natural))
        message = (
            f"how much the wires behind fuse {fuse.by} of {rating:g} A bear is not recorded: {names} count as too thin"
        )
        yield Finding("wire-not-rated", message, fuse.place, "add `rated:` to their `wires`", Severity.WARNING)


def _behind(wiring: Wiring, fuse: Edge) -> set[int]:
    """The wires that a fuse protects, up to the next fuse: on the side that nothing feeds round it, else on both."""
    sources = {
        node
        for source in wiring.built.sources.values()
        for node, how in wiring.starts_of(source)
        if how is How.DIRECT
    }  # fmt: skip
    fed = _reached(wiring, sources, CONDUCTS | {Kind.FUSE}, fuse)
    sides = [node for node in (fuse.a, fuse.b) if node not in fed] or [fuse.a, fuse.b]
    nodes = _reached(wiring, set(sides), CONDUCTS, fuse)
    return {
        number
        for node in nodes
        for number in wiring.graph.at[node]
        if wiring.graph.edges[number].kind is Kind.WIRE
    }  # fmt: skip


def _reached(wiring: Wiring, starts: set[str], kinds: frozenset[Kind], but: Edge) -> set[str]:
    graph = wiring.graph
    seen = {start for start in starts if start in graph.at}
    waiting = sorted(seen)
    while waiting:
        node = waiting.pop()
        for number in graph.at[node]:
            edge = graph.edges[number]
            there = edge.other(node)
            if edge.kind in kinds and edge is not but and there not in seen:
                seen.add(there)
                waiting.append(there)
    return seen


def _is_added(wiring: Wiring, item: Item) -> bool:
    """Whether an item is there because of a modification, and not on the machine as the maker built it."""
    built = wiring.built
    plain = Configuration(built.configuration.variant, frozenset(), built.configuration.serial)
    return item.applies is not None and holds(item.applies, plain, built.machine.record) is False


def _is_board(wiring: Wiring, name: str) -> bool:
    """An item with connectors of its own and with something in it that draws current."""
    own = {name, *wiring.built.connectors_of.get(name, ())}
    draws = any(
        edge.kind in (Kind.LOAD, Kind.DRIVER, Kind.CONVERSION, Kind.INSIDE_NOT_RECORDED)
        and {edge.a.partition(".")[0], edge.b.partition(".")[0]} & own
        for edge in wiring.graph.edges
    )
    return bool(wiring.built.connectors_of.get(name)) and draws


def _has_fuse(wiring: Wiring, name: str) -> bool:
    """Whether a fuse that came with it is on it, in it, or joined to it by copper."""
    built = wiring.built
    mine = {net.name for net in wiring.nets if any(built.item_of_contact(c) == name for c in net.contacts)}
    for edge in wiring.graph.edges:
        if edge.kind is not Kind.FUSE or cable_of(edge.a):
            continue
        host = built.items.get(edge.by)
        if name in built.chain(edge.by):
            return True
        near = {wiring.net_of[edge.a].name, wiring.net_of[edge.b].name} & mine
        if host is not None and _is_added(wiring, host) and near:
            return True
    return False
