"""Connectors: swaps of 2,000 contacts; a diagram of 12 boards and 25 cables, drawn and kept; ring-out of all cables."""

from __future__ import annotations

from time import perf_counter

from bench.drawings import Kept
from benchleaf.applicability import Configuration
from benchleaf.built import Built, build
from benchleaf.connectors.book import ConnectorBook
from benchleaf.connectors.diagrams import diagram_of
from benchleaf.connectors.swaps import SwapBook
from benchleaf.edges.graphviz_edge import draw
from benchleaf.link import link
from benchleaf.shape import shape
from benchleaf.source import Source

ROLES = ("24 V DC", "0 V", "in", "out", "5 V DC", "in/out", "PE", "12 V DC")
ROUNDS = 5


def machine(boards: int, cables: int, contacts: int, families: int) -> Built:
    """``boards`` boards joined by ``cables`` straight cables of ``contacts`` contacts each, in so many families."""
    items = "".join(f"  A{b}: {{name: Board {b}}}\n" for b in range(1, boards + 1))
    connectors, lines = [], []
    number = dict.fromkeys(range(1, boards + 1), 0)
    for c in range(1, cables + 1):
        one = c % boards + 1
        ends = []
        for board in (one, (one + 1 + (c * 5 + c // boards) % (boards - 1) - 1) % boards + 1):
            number[board] += 1
            ends.append(f"A{board}-J{number[board]}")
            roles = ", ".join(f"{n + 1}: {ROLES[(n * (c % 7 + 1) + c) % len(ROLES)]}" for n in range(contacts))
            connectors.append(f"  {ends[-1]}: {{family: family {c % families}, contacts: {{{roles}}}, keyed: yes}}\n")
        lines.append(f"  W{c}: {{kind: round, ends: [{', '.join(ends)}], wires: {{map: straight}}}}\n")
    wiring = f"record: wiring\nmachine: m1\nconnectors:\n{''.join(connectors)}cables:\n{''.join(lines)}"
    sources = [
        Source("shop.yaml", "record: shop\nname: Bench\n"),
        Source("m1/machine.yaml", f"record: machine\nid: m1\nname: Bench\nitems:\n{items}"),
        Source("m1/wiring.yaml", wiring),
    ]
    library, _ = link(shape(sources)[0])
    return build(library.machines["m1"], Configuration("standard"))


def best(made: list[float]) -> str:
    return f"{min(made) * 1e3:.1f} ms"


def run() -> list[str]:
    """The printed lines; best of a few, in milliseconds."""
    built = machine(boards=20, cables=125, contacts=8, families=10)
    contacts = sum(len(one.contacts or ()) for one in built.connectors.values())
    whole, table = [], None
    for _ in range(ROUNDS):
        start = perf_counter()
        table = SwapBook(built).of_machine()
        whole.append(perf_counter() - start)
    pairs = len(table.pairs) if table is not None else 0
    small = machine(boards=12, cables=25, contacts=6, families=3)
    draw(diagram_of(small))  # the first start of the program reads it from disk
    drawn, kept, ringing = [], [], []
    cache = Kept()
    for _ in range(ROUNDS):
        start = perf_counter()
        draw(diagram_of(small), cache=None)
        drawn.append(perf_counter() - start)
        draw(diagram_of(small), cache=cache)
        start = perf_counter()
        draw(diagram_of(small), cache=cache)
        kept.append(perf_counter() - start)
        book = ConnectorBook(small)
        start = perf_counter()
        for cable in small.cables:
            book.ring_out(cable)
        ringing.append(perf_counter() - start)
    return [
        f"swaps of {contacts} contacts in {len(built.connectors)} connectors, graph included: {best(whole)} "
        f"({pairs} pairs); goal 200 ms",
        f"diagram of 12 boards and 25 cables, records to drawing: {best(drawn)}; goal 60 ms",
        f"the same from the cache: {best(kept)}",
        f"ring-out of its 25 cables: {best(ringing)}",
    ]
