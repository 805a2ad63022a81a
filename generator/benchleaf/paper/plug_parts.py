"""Plugs on paper: what the steps open, drawn, and each opened end with its label, what it can be taken for, its faces.

The faces stand in one section after the steps, two plugs or more a sheet: they are needed there and on the way back.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from benchleaf.applicability import Configuration
from benchleaf.connectors.book import OpenEnd, connector_book
from benchleaf.drawings.drawing import Drawing
from benchleaf.drawings.face import face_view
from benchleaf.pages.diagram_parts import DiagramPart, diagram_parts
from benchleaf.pages.kinds.plugs import opens_any
from benchleaf.pages.plugs_shown import label_words
from benchleaf.pages.shown import Line
from benchleaf.paper.subject import Subject, words_of

UNIT = 0.185
"""Millimetres of a unit of a face drawing: its smallest lettering is then 2 mm high."""
FACE_MOST, DIAGRAM_WIDE, DIAGRAM_HIGH = 118.0, 179.0, 215.0
_SIZE = re.compile(r'viewBox="0 0 ([0-9.]+) ([0-9.]+)"')


def plug_rows(subject: Subject, files: dict[str, bytes]) -> list[dict[str, Any]]:
    """A row for each end the steps open or plug, in their order; an end opened in several steps stands once."""
    rows: dict[tuple[Any, ...], tuple[OpenEnd, list[str], set[Configuration]]] = {}
    derived, procedure = subject.full.book.derived, subject.procedure
    for number, step in enumerate(procedure.steps, 1):
        for built in subject.mbook.narrowed(procedure.applies, step.applies).builts:
            for end in connector_book(derived, built).open_ends_of_step(procedure, number):
                key = (end.connector, end.cable, end.on_cable, end.fixed, end.swap_words)
                _, steps, on = rows.setdefault(key, (end, [], set()))
                on.add(built.configuration)
                if f"step {number}" not in steps:
                    steps.append(f"step {number}")
    return [_row(subject, end, steps, on, files) for end, steps, on in rows.values()]


def _row(
    subject: Subject, end: OpenEnd, steps: list[str], on: set[Configuration], files: dict[str, bytes]
) -> dict[str, Any]:
    cable = subject.full.machine.wiring.cables.get(end.cable)
    name = f" {cable.name}" if cable is not None and cable.name else ""
    only = subject.only(frozenset(on))
    data: dict[str, Any] = {
        "end": end.connector,
        "cable": f"{end.cable}{name}",
        "steps": ", ".join(steps),
        "label": label_words(end.label) if end.label is not None else "",
        "own": end.end_label.words if end.end_label is not None else "",
        "warning": end.swap_words,
        "grave": bool(end.pairs),
        "faces": [_drawn(face_view(one), files, UNIT, FACE_MOST, DIAGRAM_HIGH) for one in (end.on_cable, end.fixed)],
    }
    return data | ({"only": only} if only else {})


def diagrams(subject: Subject, files: dict[str, bytes]) -> list[dict[str, Any]]:
    """What the procedure opens, drawn once for machines on which it is the same; the table where it was not drawn."""
    if not opens_any(subject.mbook, subject.procedure):
        return []
    return [_diagram(part, files) for part in diagram_parts(subject.mbook, subject.procedure)]


def _diagram(part: DiagramPart, files: dict[str, bytes]) -> dict[str, Any]:
    data: dict[str, Any] = {}
    only = words_of(part.applies)
    if only:
        data["only"] = only
    if part.drawing is not None:
        return data | {"drawing": _drawn(part.drawing, files, 0.3, DIAGRAM_WIDE, DIAGRAM_HIGH)}
    rows = [[str(cell) for cell in row.cells] for row in part.table.rows]
    return data | {"problem": part.problem, "heads": list(part.table.heads), "rows": rows}


def _drawn(drawing: Drawing, files: dict[str, bytes], unit: float, wide: float, high: float) -> dict[str, Any]:
    """A drawing as a file of the sheet with its size in mm: ``unit`` mm a unit where it fits, smaller where not."""
    found = _SIZE.search(drawing.svg)
    width, height = (float(found[1]), float(found[2])) if found is not None else (400.0, 300.0)
    scale = min(unit, wide / width, high / height)
    content = drawing.svg.encode()
    name = next((name for name, data in files.items() if data == content), f"drawing-{len(files) + 1}.svg")
    files[name] = content
    return {"file": name, "alt": drawing.title, "width": round(width * scale, 2), "height": round(height * scale, 2)}


def swap_rows(swaps: Iterable[Line]) -> list[dict[str, Any]]:
    """The plugs of a step that go elsewhere too, each with what happens then."""
    made = []
    for one in swaps:
        data = {"end": one.words, "words": one.note or ""}
        made.append(data | ({"only": one.applies.words} if one.applies is not None else {}))
    return made
