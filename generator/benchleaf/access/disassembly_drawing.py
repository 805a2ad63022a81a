"""The disassembly map drawn: a box an item, an arrow from what goes first. The table beside it holds the same and more.

Choices meet in a small box that says "or"; every difference of line is told in words too, so a black and white copy
loses nothing. This module writes DOT; ``edges.graphviz_edge`` draws it.
"""

from __future__ import annotations

from collections.abc import Iterable

import graphviz

from benchleaf.access.disassembly_map import Clause, DisassemblyMap, MapRow, Placed, clause_words
from benchleaf.access.words import duration
from benchleaf.drawings.diagram_values import Diagram, Part
from benchleaf.drawings.drawing import NOT_RECORDED, Table
from benchleaf.drawings.lettering import wrap
from benchleaf.drawings.svg import escape

FONT = "Arial"
HEADERS = (
    "Item", "Sits in", "Out of the way before it comes off", "Before it can be touched", "Held by",
    "Opened before it moves", "Positions", "Shortest way to reach it", "Shortest way to take it off",
)  # fmt: skip
FIRST = "arrow: goes first"
TOUCH = "dashed arrow, “touch”: goes first only to touch it"
EITHER = "small box “or”: any one of them is enough"
UNKNOWN = "dashed box, “behind: not recorded”: counts as blocked by something"


def disassembly_diagram(made: DisassemblyMap) -> Diagram:
    """The map as a diagram with its table."""
    return _Drawn(made).finish()


class _Drawn:
    """Collects DOT, parts and the legend while walking the rows once."""

    def __init__(self, made: DisassemblyMap) -> None:
        self.made = made
        self.rows = made.rows
        self.nodes = {row.item: f"item{n}" for n, row in enumerate(made.rows)}
        self.first = {row.item: _single(row.behind) for row in made.rows}
        self.parts: list[Part] = []
        self.legend: list[str] = []
        self.choices = 0
        self.graph = graphviz.Digraph(
            graph_attr={"rankdir": "LR", "nodesep": "0.2", "ranksep": "0.7", "bgcolor": "transparent", "pad": "0.15"},
            node_attr={"shape": "box", "fontname": FONT, "fontsize": "13", "margin": "0.12,0.06"},
            edge_attr={"fontname": FONT, "fontsize": "12"},
        )

    def finish(self) -> Diagram:
        for row in self.rows:
            self._box(row)
        for row in self.rows:
            for n, clause in enumerate(row.behind or ()):
                if not self._is_told(row.item, clause):
                    self._arrow(row, f"{self.nodes[row.item]}behind{n}", clause, touch=False)
            for n, clause in enumerate(row.reach or ()):
                if clause not in (row.behind or ()):
                    self._arrow(row, f"{self.nodes[row.item]}reach{n}", clause, touch=True)
        if not self.rows:
            self.graph.node("none", label="No items recorded.", id="none")
        title = f"{self.made.title}, {self.made.configuration}"
        return Diagram(
            dot=self.graph.source,
            title=title,
            description=self._describe(),
            table=Table(caption=title, headers=HEADERS, rows=tuple(_cells(row) for row in self.rows)),
            parts=tuple(self.parts),
            legend=tuple(dict.fromkeys(self.legend)),
        )

    def _box(self, row: MapRow) -> None:
        lines = [*wrap(row.words[:1].upper() + row.words[1:], 150, 13)]
        lines += [f"in {row.sits_in}"] if row.sits_in else []
        look = {}
        if row.behind is None:
            lines.append(f"behind: {NOT_RECORDED}")
            look["style"] = "dashed"
            self.legend.append(UNKNOWN)
        if row.remove_time is None:
            lines.append("no way recorded")
        node = self.nodes[row.item]
        self.graph.node(node, label=_label(lines), id=node, **look)
        time = f"{duration(row.remove_time)} to take off" if row.remove_time is not None else f"no way: {row.why}"
        words = f"{row.words}; {time}"
        self.parts.append(Part(id=node, kind="diagram-box", words=words, data=(("item", row.item),)))

    def _is_told(self, item: str, clause: Clause) -> bool:
        """Whether another arrow to the item says it already: what goes before something that goes before the item."""
        if len(clause) != 1 or len(clause[0]) != 1 or clause[0][0].position:
            return False
        name = clause[0][0].item
        return any(name in self._before(other) for other in self.first[item] if other != name)

    def _before(self, item: str) -> frozenset[str]:
        seen: set[str] = set()
        ahead = [item]
        while ahead:
            for one in self.first.get(ahead.pop(), ()):
                if one not in seen:
                    seen.add(one)
                    ahead.append(one)
        return frozenset(seen)

    def _arrow(self, row: MapRow, key: str, clause: Clause, *, touch: bool) -> None:
        look = {"style": "dashed"} if touch else {}
        self.legend.append(TOUCH if touch else FIRST)
        does = "be touched" if touch else "come off"
        words = f"{clause_words(clause)} first, before {row.words} can {does}"
        if len(clause) == 1 and len(clause[0]) == 1:
            one = clause[0][0]
            said = " ".join(part for part in ("touch" if touch else "", _at(one)) if part)
            self._edge(self._of(one.item), self.nodes[row.item], key, words, said, look)
            return
        self.legend.append(EITHER)
        meeting = self._meeting("and" if len(clause) == 1 else "or")
        for m, option in enumerate(clause):
            self._option(option, meeting, f"{key}x{m}", words, look)
        self._edge(meeting, self.nodes[row.item], key, words, "touch" if touch else "", look)

    def _meeting(self, word: str) -> str:
        """A small box where the arrows of a choice meet."""
        node = f"choice{self.choices}"
        self.choices += 1
        self.graph.node(node, label=word, id=node, fontsize="11", margin="0.04,0.02", width="0.1", height="0.1")
        return node

    def _option(self, option: Iterable[Placed], meeting: str, key: str, words: str, look: dict[str, str]) -> None:
        parts = tuple(option)
        target = meeting
        if len(parts) > 1:
            target = self._meeting("and")
            self._edge(target, meeting, f"{key}and", words, "", look)
        for k, one in enumerate(parts):
            self._edge(self._of(one.item), target, f"{key}y{k}", words, _at(one), look)

    def _of(self, item: str) -> str:
        """The node of an item; the frame, which never moves, gets one when somebody names it."""
        if item not in self.nodes:
            self.nodes[item] = f"item{len(self.nodes)}"
            self.graph.node(self.nodes[item], label=_label([item, "never moves"]), id=self.nodes[item])
        return self.nodes[item]

    def _edge(self, start: str, end: str, key: str, words: str, said: str, look: dict[str, str]) -> None:
        self.graph.edge(start, end, id=key, **look, **({"label": said} if said else {}))
        self.parts.append(Part(id=key, kind="diagram-arrow", words=words))

    def _describe(self) -> str:
        outside = [row.words for row in self.rows if row.behind == ()]
        unknown = [row.words for row in self.rows if row.behind is None]
        said = [f"What goes before what among {len(self.rows)} items."]
        if outside:
            said.append(f"Nothing stands before {', '.join(outside)}.")
        if unknown:
            said.append(f"What stands before {', '.join(unknown)} is not recorded.")
        same = "Cables and lines are in the table, which holds the same facts."
        said.append(same if self.rows else "No items recorded.")
        return " ".join(said)


def _single(clauses: tuple[Clause, ...] | None) -> tuple[str, ...]:
    """The items that always go first: clauses without a choice and without a position."""
    return tuple(
        clause[0][0].item
        for clause in clauses or ()
        if len(clause) == 1 and len(clause[0]) == 1 and not clause[0][0].position
    )


def _cells(row: MapRow) -> tuple[str, ...]:
    nothing = "nothing"
    times = [duration(time) if time is not None else "no way" for time in (row.reach_time, row.remove_time)]
    if row.remove_time is None and row.why:
        times[1] = f"no way: {row.why}"
    return (
        row.words,
        row.sits_in or "the frame",
        _said(row.behind),
        _said(row.reach),
        NOT_RECORDED if row.held_by is None else "; ".join(row.held_by) or nothing,
        "; ".join(row.parted) or nothing,
        "; ".join(row.moves) or "none",
        *times,
    )


def _at(one: Placed) -> str:
    return f"at {one.position}" if one.position else ""


def _said(clauses: tuple[Clause, ...] | None) -> str:
    return NOT_RECORDED if clauses is None else "; ".join(clause_words(one) for one in clauses) or "nothing"


def _label(lines: Iterable[str]) -> str:
    """Author text in a DOT label: nothing in it may act as an escape."""
    return "<" + "<br/>".join(str(escape(" ".join(line.split()))).replace("\\", r"\\") or "?" for line in lines) + ">"
