"""Drawings: an interconnection diagram of 12 boards and 25 cables, kept and not; a connector face of 24 contacts."""

from __future__ import annotations

from time import perf_counter

from benchleaf.drawings.face import Contact, Face, face_view
from benchleaf.drawings.face_values import row_after_row
from benchleaf.drawings.interconnection import Box, Diagram, Link, interconnection
from benchleaf.edges.graphviz_edge import draw

BOARDS, CABLES, ROUNDS = 12, 25, 10


class Kept(dict[str, str]):
    """A cache in memory."""

    def put(self, key: str, text: str) -> None:
        self[key] = text


def machine() -> Diagram:
    """Twelve boards, each board's cables to the next ones in turn."""
    pairs = [(n % BOARDS, (n * 5 + n // BOARDS + 1) % BOARDS) for n in range(CABLES)]
    pairs = [(a, b if a != b else (b + 1) % BOARDS) for a, b in pairs]
    ends: dict[int, list[str]] = {board: [] for board in range(BOARDS)}
    links = []
    for n, pair in enumerate(pairs):
        named = []
        for board in pair:
            ends[board].append(f"A{board + 1}-J{len(ends[board]) + 1}")
            named.append(ends[board][-1])
        links.append(Link(cable=f"W{n + 1}", ends=tuple(named), label="24 V DC, signals", kind="round"))
    boxes = [Box(id=f"A{b + 1}", name=f"Board {b + 1}", connectors=tuple(found)) for b, found in ends.items()]
    return interconnection("bench", boxes, links)


def face() -> Face:
    contacts = tuple(Contact(name=str(n), role="24 V DC", colour="GNWH") for n in range(1, 25))
    return Face(name="A1-J1", half="plug", arrangement="dual row", rows=row_after_row(12), contacts=contacts)


def run() -> list[str]:
    """The printed lines; best of ten, in milliseconds."""
    draw(machine())  # the first start of the program reads it from disk
    drawn, kept = [], []
    cache = Kept()
    for _ in range(ROUNDS):
        start = perf_counter()
        first = draw(machine())
        drawn.append(perf_counter() - start)
        draw(machine(), cache=cache)
        start = perf_counter()
        draw(machine(), cache=cache)
        kept.append(perf_counter() - start)
    size = len(first.drawing.svg) if first.drawing else 0
    start = perf_counter()
    for _ in range(ROUNDS):
        face_view(face())
    each = (perf_counter() - start) / ROUNDS
    return [
        f"diagram, {BOARDS} boards and {CABLES} cables: {min(drawn) * 1e3:.1f} ms ({size} bytes); goal 60 ms",
        f"the same from the cache: {min(kept) * 1e3:.1f} ms",
        f"connector face of 24 contacts: {each * 1e3:.1f} ms",
    ]
