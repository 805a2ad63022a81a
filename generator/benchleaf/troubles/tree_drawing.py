"""The order of tests drawn: a box a test, a double box a remedy, an arrow an answer. The table holds the same and more.

Answers that no recorded cause gives are left out of the drawing and stand in the table. This module writes DOT;
``edges.graphviz_edge`` draws it.
"""

from __future__ import annotations

from collections.abc import Iterable

import graphviz

from benchleaf.access.words import duration
from benchleaf.drawings.diagram_values import Diagram, Part
from benchleaf.drawings.drawing import Table
from benchleaf.drawings.lettering import wrap
from benchleaf.drawings.svg import escape
from benchleaf.troubles.openings import MINUTE
from benchleaf.troubles.problem_of import Case
from benchleaf.troubles.tree import Branch, Place, Tree, plain

FONT = "Arial"
WIDE = 190.0
HEADERS = ("Place", "Do", "First", "Time", "Answers and where they lead", "Causes left")
TEST = "box: a test"
REMEDY = "double box: a remedy, then try the machine"
END = "dashed box: no recorded remedy leads on"
LEFT_OUT = "Answers that no recorded cause gives are in the list, not in the drawing."
KINDS = {"test": "Test", "remedy": "Remedy", "end": "End"}


def tree_diagram(case: Case, tree: Tree) -> Diagram:
    """The tree as a diagram with its table; ``data-place`` of a box is the number of the place."""
    graph = graphviz.Digraph(
        graph_attr={"rankdir": "TB", "nodesep": "0.3", "ranksep": "0.45", "bgcolor": "transparent", "pad": "0.15"},
        node_attr={"shape": "box", "fontname": FONT, "fontsize": "13", "margin": "0.12,0.07"},
        edge_attr={"fontname": FONT, "fontsize": "12"},
    )
    parts: list[Part] = []
    met = _met(tree)
    for place in tree.places:
        if place.number in met:
            node = f"place{place.number}"
            look = {"remedy": {"peripheries": "2"}, "end": {"style": "dashed"}}.get(place.kind, {})
            graph.node(node, label=_label(_lines(place)), id=node, **look)
            words = f"{place.number}. {KINDS[place.kind]}: {place.title}"
            parts.append(Part(id=node, kind="diagram-box", words=words, data=(("place", str(place.number)),)))
    for place in tree.places:
        for n, branch in enumerate(place.branches):
            if place.number in met and branch.probability > 0:
                key = f"place{place.number}answer{n}"
                graph.edge(f"place{place.number}", f"place{branch.to}", id=key, label=_label(_answer(branch)))
                words = f"{place.number}, {branch.words}: {branch.probability:.0%}, go to {branch.to}"
                parts.append(Part(id=key, kind="diagram-arrow", words=words))
    kinds = {place.kind for place in tree.places if place.number in met}
    said = {"test": TEST, "remedy": REMEDY, "end": END}
    title = f"{case.name[:1].upper()}{case.name[1:]}: order of tests, {'; '.join(case.on)}"
    return Diagram(
        dot=graph.source,
        title=title,
        description=_describe(tree),
        table=Table(caption=title, headers=HEADERS, rows=tuple(_row(tree, place) for place in tree.places)),
        parts=tuple(parts),
        legend=(*(said[kind] for kind in said if kind in kinds), LEFT_OUT),
    )


def _met(tree: Tree) -> frozenset[int]:
    """The places that answers of recorded causes lead to."""
    seen: set[int] = set()
    ahead = [1] if tree.places else []
    while ahead:
        number = ahead.pop()
        if number not in seen:
            seen.add(number)
            ahead += [branch.to for branch in tree.at(number).branches if branch.probability > 0]
    return frozenset(seen)


def _lines(place: Place) -> tuple[str, ...]:
    lines = wrap(f"{place.number}. {place.title}", WIDE, 13)
    opens = sum(one.kind == "open" for one in place.before)
    if opens:
        lines += (f"opens first: {opens} operation{'' if opens == 1 else 's'}",)
    if place.warning:
        lines += ("live while open: see the warning",)
    return lines


def _answer(branch: Branch) -> tuple[str, ...]:
    said = f"{branch.words} ({branch.reading})" if branch.reading else branch.words
    return (*wrap(said, 130.0, 12), f"{branch.probability:.0%}")


def _describe(tree: Tree) -> str:
    first = tree.places[0]
    tests = sum(place.kind == "test" for place in tree.places)
    remedies = sum(place.kind == "remedy" for place in tree.places)
    return (
        f"Begin with: {first.title}. {tests} place{'' if tests == 1 else 's'} to test and {remedies} to repair; "
        "the list holds the same facts."
    )


def _row(tree: Tree, place: Place) -> tuple[str, ...]:
    answers = [
        f"{branch.words}{f' ({branch.reading})' if branch.reading else ''}, {branch.probability:.0%}: go to {branch.to}"
        for branch in place.branches
    ]
    left = ", ".join(f"{one.words} {one.probability:.0%}" for one in place.causes)
    return (
        str(place.number),
        f"{KINDS[place.kind]}: {place.title}",
        "; ".join(one.words for one in place.before) or "nothing",
        duration(place.minutes * MINUTE) if place.minutes > 0 else "none",
        "; ".join(answers) or _ending(place),
        left or "none recorded",
    )


def _ending(place: Place) -> str:
    if place.checks is None:
        return "what to check then is not recorded"
    return "check: " + ", ".join(plain(one) for one in place.checks) if place.checks else "nothing leads on"


def _label(lines: Iterable[str]) -> str:
    """Author text in a DOT label: nothing in it may act as an escape."""
    return "<" + "<br/>".join(str(escape(" ".join(line.split()))).replace("\\", r"\\") or "?" for line in lines) + ">"
