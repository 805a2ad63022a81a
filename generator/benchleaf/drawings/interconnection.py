"""Which board is joined to which part by which cable: the diagram a technician holds beside the open machine.

Boards and parts are boxes with their connectors inside, cables are labelled lines between connectors. What a
conversion added and which signals it bypasses is told by line style *and* words, so a black and white copy
loses nothing. This module writes DOT and the equivalent table; ``edges.graphviz_edge`` draws it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

import graphviz

from benchleaf.drawings.diagram_values import ADDED, PARKED, REMOVED, REROUTED, Box, Bypass, Diagram, Link, Net, Part
from benchleaf.drawings.drawing import NOT_RECORDED, Table, item_words
from benchleaf.drawings.lettering import wrap
from benchleaf.drawings.sides import levels_of
from benchleaf.drawings.svg import escape

__all__ = ["PARKED", "Box", "Bypass", "Diagram", "Link", "Net", "interconnection"]

NOTHING = "No boards or cables recorded."
FONT = "Arial"  # the drawing program has its widths built in, whatever fonts a machine has

# Line of a cable by its kind: DOT attributes and what the legend says.
_KINDS: dict[str, tuple[dict[str, str], str]] = {
    "round": ({"penwidth": "1.6"}, "single line: round cable"),
    "flat": ({"color": "black:invis:black", "penwidth": "1.2"}, "double line: flat cable"),
    "harness": ({"penwidth": "3.2"}, "thick line: harness"),
}
_NO_KIND: dict[str, str] = {"penwidth": "1"}
_CHANGES: dict[str, tuple[dict[str, str], str]] = {
    ADDED: ({"style": "dashed"}, "dashed line, “added”: cable of the conversion"),
    REROUTED: ({"style": "dashed"}, "dashed line, “re-routed”: cable plugged elsewhere by the conversion"),
    REMOVED: ({"style": "dotted"}, "dotted line, “removed”: cable taken out by the conversion"),
}
_ADDED_BOX = "dashed box, “added”: not from the maker"
_REMOVED_BOX = "dotted box, “removed”: taken out by the conversion"
_BYPASSED = "dotted line with bars at its ends: signal bypassed"
_OPENED = "open circle at an end: opened here"


def interconnection(
    title: str,
    boxes: Iterable[Box],
    links: Iterable[Link],
    bypasses: Iterable[Bypass] = (),
    *,
    nets: Iterable[Net] = (),
    nothing: str = NOTHING,
    remarks: Iterable[str] = (),
) -> Diagram:
    """The diagram of ``boxes`` joined by ``links``, in the order given (sort what has none of its own).

    An end that belongs to no box gets a dashed box of its own that says so; nothing is left out silently.
    ``nothing``: what an empty diagram says. ``remarks``: sentences below the legend and in the description.
    """
    drawn = _Drawn(title, tuple(boxes), tuple(links), tuple(bypasses), nothing).finish()
    said = tuple(remarks)
    description = " ".join((drawn.description, *said))
    return replace(drawn, nets=tuple(nets), legend=(*drawn.legend, *said), description=description)


class _Drawn:
    """Collects DOT, parts, table rows and the legend while walking the values once."""

    def __init__(
        self,
        title: str,
        boxes: tuple[Box, ...],
        links: tuple[Link, ...],
        bypasses: tuple[Bypass, ...],
        nothing: str,
    ):
        self.title, self.nothing = title, nothing
        self.boxes, self.links, self.bypasses = boxes, links, bypasses
        self.parts: list[Part] = []
        self.rows: list[tuple[str, ...]] = []
        self.legend: list[str] = []
        self.nodes = {box.id: f"box{n}" for n, box in enumerate(boxes)}
        self.ports = {name: f"port{n}" for box in boxes for n, name in enumerate(box.connectors)}
        self.hosts = {name: box.id for box in boxes for name in box.connectors}
        self.strangers: dict[str, str] = {}
        self.parked = 0
        self.graph = graphviz.Graph(
            graph_attr={"rankdir": "LR", "nodesep": "0.3", "ranksep": "0.9", "bgcolor": "transparent", "pad": "0.15"},
            node_attr={"shape": "plain", "fontname": FONT, "fontsize": "13"},
            edge_attr={"fontname": FONT, "fontsize": "12"},
        )

    def finish(self) -> Diagram:
        for box in self.boxes:
            self._box(box)
        levels = levels_of(tuple(self.nodes), [[self._host(end) for end in link.ends] for link in self.links])
        for n, link in enumerate(self.links):
            self._link(n, link, levels)
        for n, bypass in enumerate(self.bypasses):
            self._bypass(n, bypass)
        if not self.boxes and not self.links:
            self.graph.node("none", label=_html(self.nothing), id="none")
        return Diagram(
            dot=self.graph.source,
            title=self.title,
            description=self._describe(),
            table=Table(caption=self.title, headers=("Kind", "Name", "Between", "Remark"), rows=tuple(self.rows)),
            parts=tuple(self.parts),
            legend=tuple(dict.fromkeys(self.legend)),
        )

    def _box(self, box: Box) -> None:
        words = item_words(box.id, box.name)
        change = "added" if box.added else "removed" if box.removed else ""
        line = {"added": ' style="dashed"', "removed": ' style="dotted"'}.get(change, "")
        designation, name = (box.id, box.name) if words != box.name else (box.name, "")
        head = [f"<b>{_safe(part)}</b>" for part in wrap(designation, 120, 12) or ("",)]
        head += [_safe(part) for part in wrap(name, 120, 12)]
        if change:
            head.append(f"<i>{change}</i>")
            self.legend.append(_ADDED_BOX if box.added else _REMOVED_BOX)
        rows = [f'<tr><td border="0">{"<br/>".join(head)}</td></tr>']
        rows += [
            f'<tr><td port="{self.ports[name]}" border="1"{line}>{_safe(_short(name, box.id))}</td></tr>'
            for name in box.connectors
        ]
        table = f'<table border="{2 if change else 1}" cellborder="0" cellspacing="3" cellpadding="4"{line}>'
        node = self.nodes[box.id]
        self.graph.node(node, label=f"<{table}{''.join(rows)}</table>>", id=node)
        kind = f"diagram-box diagram-{change}" if change else "diagram-box"
        said = f"{words}, {change}" if change else words
        self.parts.append(Part(id=node, kind=kind, words=said, data=(("item", box.id),)))
        self.rows.append(("board or part", words, ", ".join(box.connectors) or "no connectors", change or "–"))

    def _host(self, end: str) -> str:
        """The box an end belongs to; a stranger's own name when it belongs to none."""
        name = _place(end)
        return self.hosts.get(name, name)

    def _end(self, end: str) -> str:
        """The DOT node, with its port, an end is drawn at."""
        if end == PARKED:
            node = f"parked{self.parked}"
            self.parked += 1
            self.graph.node(node, label=_html("parked (free end)"), id=node)
            return node
        name = _place(end)
        host = self.hosts.get(name, name)
        if host in self.nodes:
            port = self.ports.get(name)
            return f"{self.nodes[host]}:{port}" if port else self.nodes[host]
        if name not in self.strangers:
            node = self.strangers[name] = f"stranger{len(self.strangers)}"
            self.graph.node(node, label=_html(f"{name}: {NOT_RECORDED}"), id=node, shape="box", style="dashed")
        return self.strangers[name]

    def _link(self, n: int, link: Link, levels: dict[str, int]) -> None:
        style, said = _KINDS.get(link.kind, (_NO_KIND, ""))
        look = {**style}
        if said:
            self.legend.append(said)
        if link.change in _CHANGES:
            extra, said = _CHANGES[link.change]
            look |= extra
            self.legend.append(said)
        if link.opened:
            self.legend.append(_OPENED)
        ends = (
            sorted(link.ends, key=lambda end: levels.get(self._host(end), 0))
            if len(link.ends) > 1
            else [*link.ends, PARKED]
        )
        label = _link_label(link)
        if len(ends) == 2:
            self._edge(f"cable{n}", link, ends[0], ends[1], label, look)
        else:
            junction = f"branch{n}"
            self.graph.node(junction, label="", shape="point", width="0.1", id=junction)
            middle = sum(levels.get(self._host(end), 0) for end in ends) / len(ends)
            for m, end in enumerate(ends):
                text = label if m == 0 else _html(link.cable, bold=True)
                self._edge(
                    f"cable{n}x{m}", link, end, None, text, look, junction, levels.get(self._host(end), 0) <= middle
                )
        self.rows.append(("cable", link.cable, _between(link.ends), _remark(link)))

    def _edge(
        self,
        key: str,
        link: Link,
        start: str,
        end: str | None,
        label: str,
        look: dict[str, str],
        junction: str = "",
        forward: bool = True,
    ) -> None:
        """One line; a branch of a harness (``end`` none) runs to its junction, on the side its box stands."""
        attributes = {**look, "label": label, "id": key}
        head, tail = ("arrowhead", "arrowtail") if forward or end is not None else ("arrowtail", "arrowhead")
        if start in link.opened:
            attributes |= {tail: "odot", "dir": "both", head: "none"}
            if tail == "arrowtail" and "invis" in look.get("color", ""):
                attributes["color"] = "black:black"  # the circle at a tail is drawn in the second colour of a list
        if end is not None and end in link.opened:
            attributes |= {head: "odot", "dir": "both"}
            attributes.setdefault(tail, "none")
        a, b = self._end(start), junction if end is None else self._end(end)
        if not forward and end is None:
            a, b = b, a
        self.graph.edge(a, b, **attributes)
        words = f"{link.cable}: {_between(link.ends)}; {_remark(link)}"
        data = (("cable", link.cable), *((("nets", " ".join(link.nets)),) if link.nets else ()))
        kind = f"diagram-cable diagram-{link.change}" if link.change else "diagram-cable"
        self.parts.append(Part(id=key, kind=kind, words=words, data=data))

    def _bypass(self, n: int, bypass: Bypass) -> None:
        self.legend.append(_BYPASSED)
        asserted = f"{bypass.by or NOT_RECORDED} supplies {bypass.asserts or f'a value {NOT_RECORDED}'}"
        lines = [f"<b>bypassed: {_safe(bypass.signal)}</b>", *(_safe(part) for part in wrap(asserted, 170, 11))]
        label = _clear("<br/>".join(lines))
        key = f"bypass{n}"
        self.graph.edge(
            self._end(bypass.start),
            self._end(bypass.end),
            label=label,
            id=key,
            style="dotted",
            penwidth="2",
            dir="both",
            arrowhead="tee",
            arrowtail="tee",
            arrowsize="1.3",
            constraint="false",
        )
        words = f"bypassed: {bypass.signal}; {asserted}"
        self.parts.append(Part(id=key, kind="diagram-bypass", words=words, data=(("signal", bypass.signal),)))
        self.rows.append(("bypassed signal", bypass.signal, _between((bypass.start, bypass.end)), asserted))

    def _describe(self) -> str:
        counts = [f"{len(self.boxes)} boards and parts", f"{len(self.links)} cables"]
        if self.bypasses:
            counts.append(f"{len(self.bypasses)} bypassed signals")
        added = [box.id for box in self.boxes if box.added]
        removed = [box.id for box in self.boxes if box.removed]
        sentences = [f"Interconnection of {' and '.join(counts)}."]
        if added:
            sentences.append(f"Added: {', '.join(added)}.")
        if removed:
            sentences.append(f"Removed: {', '.join(removed)}.")
        sentences += [f"Bypassed: {bypass.signal}." for bypass in self.bypasses]
        sentences.append("The table holds the same facts." if self.rows else self.nothing)
        return " ".join(sentences)


def _place(end: str) -> str:
    """A connector or item without the contact behind it: ``A1-J3`` of ``A1-J3:7`` or ``A1-J3.7``."""
    return re.split(r"[.:]", end, maxsplit=1)[0] if end else end


def _short(connector: str, box: str) -> str:
    """``J3`` of ``A1-J3`` inside the box of ``A1``."""
    return connector[len(box) + 1 :] if connector.startswith(f"{box}-") else connector


def _between(ends: tuple[str, ...]) -> str:
    return " – ".join(ends) if ends else NOT_RECORDED


def _remark(link: Link) -> str:
    said = [link.kind or f"kind {NOT_RECORDED}", link.label or f"what it carries: {NOT_RECORDED}"]
    said += [link.change] if link.change else []
    said += [f"label {link.mark}"] if link.mark else []
    said += [f"opened at {', '.join(link.opened)}"] if link.opened else []
    return "; ".join(said)


def _link_label(link: Link) -> str:
    words = " ".join(part for part in (link.kind if link.kind != "round" else "", link.change) if part)
    head = f"<b>{_safe(link.cable)}</b>" + (f" <i>{_safe(words)}</i>" if words else "")
    lines = wrap(link.label, 150, 11)
    shown = [*lines[:2], *(["…"] if len(lines) > 2 else [])]
    mark = [f"label <b>{_safe(link.mark)}</b>"] if link.mark else []
    return _clear("<br/>".join([head, *mark, *(_safe(line) for line in shown)]))


def _clear(words: str) -> str:
    """A label with a little room round it, so that no line runs through its letters."""
    return f'<<table border="0" cellborder="0" cellspacing="0" cellpadding="4"><tr><td>{words}</td></tr></table>>'


def _html(words: str, *, bold: bool = False) -> str:
    return _clear(f"<b>{_safe(words)}</b>" if bold else _safe(words))


def _safe(words: str) -> str:
    """Author text inside an HTML-like label: escaped (a backslash too), never empty: the format allows
    neither.
    """
    return str(escape(" ".join(words.split()))).replace("\\", r"\\") or "?"
