"""Turns the SVG a drawing program writes into one of ours: page ink, no styles, no ids, nothing but what we
know.

Every element and attribute is copied from a short list, so that nothing a program or a record put in can
act on a page. Groups are named again from the diagram's own values.
"""

from __future__ import annotations

import xml.etree.ElementTree as ET

from benchleaf.drawings import svg
from benchleaf.drawings.diagram_values import Diagram, Part
from benchleaf.drawings.drawing import Drawing
from benchleaf.drawings.lettering import wrap
from benchleaf.drawings.svg import Markup

_SVG = "{http://www.w3.org/2000/svg}"
_SHAPES = {"path": ("d",), "polygon": ("points",), "polyline": ("points",), "ellipse": ("cx", "cy", "rx", "ry")}
_PAINT = ("fill", "stroke", "stroke-width", "stroke-dasharray")
_INK = {"black": svg.INK, "none": "none", "transparent": "none"}
SHRINK = 0.94  # letters a little smaller than laid out: a page's own face may be wider than the program's
LEGEND = 13.0


def redraw(diagram: Diagram, written: str) -> Drawing:
    """The drawing made of the program's ``written`` SVG. Raises ``ValueError`` when that is not an SVG."""
    try:
        root = ET.fromstring(written)
        left, top, width, height = (float(value) for value in root.get("viewBox", "").split())
    except (ET.ParseError, ValueError) as wrong:
        raise ValueError(f"the drawing program did not write an SVG: {wrong}") from wrong
    parts = {part.id: part for part in diagram.parts}
    art = [_copy(child, parts) for child in root if child.tag == f"{_SVG}g"]
    width = max(width, 260.0)
    lines = [line for said in diagram.legend for line in wrap(said, width - 16, LEGEND)]
    legend = [svg.text(left + 8, top + height + 18 + 18 * n, line, size=LEGEND) for n, line in enumerate(lines)]
    picture = svg.document(
        width,
        height + 18 * len(lines) + (12 if lines else 0),
        diagram.title,
        diagram.description,
        *art,
        svg.group(*legend, class_="diagram-legend"),
        kind="interconnection",
        left=left,
        top=top,
    )
    return Drawing(svg=picture, title=diagram.title, description=diagram.description, table=diagram.table)


def _copy(node: ET.Element, parts: dict[str, Part]) -> Markup:
    name = node.tag.removeprefix(_SVG)
    if name == "g":
        part = parts.get(node.get("id", ""))
        inside = [_copy(child, parts) for child in node]
        if part is None:
            return svg.group(*inside, transform=node.get("transform"))
        data = {f"data-{key}": value for key, value in part.data}
        return svg.group(svg.element("title", part.words), *inside, class_=part.kind, **data)
    if name == "text":
        return _text(node)
    if name in _SHAPES:
        kept = {key: node.get(key) for key in _SHAPES[name]}
        paint = {key: _paint(key, value) for key in _PAINT if (value := node.get(key)) is not None}
        return svg.element(name, **kept, **paint)
    return Markup("")


def _paint(key: str, value: str) -> str:
    return _INK.get(value, svg.INK) if key in ("fill", "stroke") else value


def _text(node: ET.Element) -> Markup:
    words = "".join(node.itertext())
    return svg.element(
        "text",
        words,
        x=node.get("x"),
        y=node.get("y"),
        text_anchor=node.get("text-anchor"),
        font_size=float(node.get("font-size", "12")) * SHRINK,
        font_weight=node.get("font-weight"),
        font_style=node.get("font-style"),
    )
