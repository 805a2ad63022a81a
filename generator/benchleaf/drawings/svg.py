"""The few words of SVG our drawings are written in: escaped text, fixed numbers, no style attribute anywhere.

A reader gets a picture that has a title and a description, keeps its text as text (it can be searched,
copied, read aloud), follows the page's ink colour in light, dark and print, and passes a page policy of
``style-src 'self'``. There are no ids in a drawing, so the same drawing may stand twice on a page.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

INK = "currentColor"
NAMESPACE = "http://www.w3.org/2000/svg"

# What XML 1.0 (production 2, Char) does not allow in a document, even escaped.
_NOT_XML = re.compile("[\0-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")


class Markup(str):
    """SVG that is already escaped; any other string put into an element is author text and gets escaped."""

    __slots__ = ()


def escape(text: str) -> Markup:
    """``text`` as XML character data or attribute value; a character XML forbids becomes U+FFFD."""
    if isinstance(text, Markup):
        return text
    clean = _NOT_XML.sub("\ufffd", text)
    for plain, entity in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;"), ("'", "&#39;")):
        clean = clean.replace(plain, entity)
    return Markup(clean)


def number(value: float) -> str:
    """At most two decimals, no trailing zeros, no minus zero: the same bytes on every machine."""
    fixed = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if fixed == "-0" else fixed


def join(parts: Iterable[str]) -> Markup:
    """The parts one after another, author text escaped."""
    return Markup("".join(escape(part) for part in parts))


def element(name: str, *children: str, **attributes: str | float | None) -> Markup:
    """``<name attributes>children</name>``.

    ``stroke_width`` is written ``stroke-width``, ``class_`` is ``class``; ``None`` is left out. A style
    attribute or an event handler is our own mistake and raises ``ValueError``.
    """
    written = [name]
    for key, value in attributes.items():
        if value is None:
            continue
        attribute = key.rstrip("_").replace("_", "-")
        if attribute == "style" or attribute.startswith("on"):
            raise ValueError(f"a drawing carries no {attribute} attribute")
        written.append(f'{attribute}="{escape(value) if isinstance(value, str) else number(value)}"')
    head = " ".join(written)
    inside = join(children)
    return Markup(f"<{head}>{inside}</{name}>" if inside else f"<{head}/>")


def group(*children: str, **attributes: str | float | None) -> Markup:
    """A ``<g>`` with its children, nothing when there are none."""
    return element("g", *children, **attributes) if any(children) else Markup("")


def moved(x: float, y: float, *children: str, scale: float = 1.0, **attributes: str | float | None) -> Markup:
    """The children with their origin at ``x``, ``y``, enlarged by ``scale``."""
    change = f"translate({number(x)} {number(y)})"
    if scale != 1.0:
        change += f" scale({scale:.4f})"
    return group(*children, transform=change, **attributes)


def line(x1: float, y1: float, x2: float, y2: float, **attributes: str | float | None) -> Markup:
    """A straight stroke in ink."""
    drawn = {"stroke": INK, **attributes}
    return element("line", x1=x1, y1=y1, x2=x2, y2=y2, **drawn)


def rect(x: float, y: float, width: float, height: float, **attributes: str | float | None) -> Markup:
    """A rectangle outlined in ink, not filled unless told."""
    drawn = {"fill": "none", "stroke": INK, **attributes}
    return element("rect", x=x, y=y, width=width, height=height, **drawn)


def circle(x: float, y: float, radius: float, **attributes: str | float | None) -> Markup:
    """A circle outlined in ink, not filled unless told."""
    drawn = {"fill": "none", "stroke": INK, **attributes}
    return element("circle", cx=x, cy=y, r=radius, **drawn)


def polygon(points: Iterable[tuple[float, float]], **attributes: str | float | None) -> Markup:
    """A closed outline through ``points``, not filled unless told."""
    drawn = {"fill": "none", "stroke": INK, "stroke-linejoin": "round", **attributes}
    return element("polygon", points=" ".join(f"{number(x)},{number(y)}" for x, y in points), **drawn)


def path(d: str, **attributes: str | float | None) -> Markup:
    """A path in ink; ``d`` is our own path data, not filled unless told."""
    drawn = {"fill": "none", "stroke": INK, **attributes}
    return element("path", d=d, **drawn)


def text(
    x: float,
    y: float,
    words: str,
    *,
    size: float = 13,
    anchor: str = "start",
    **attributes: str | float | None,
) -> Markup:
    """Words with their base line at ``y``; ``anchor`` is ``start``, ``middle`` or ``end``."""
    drawn = {"text-anchor": None if anchor == "start" else anchor, **attributes}
    return element("text", words, x=x, y=y, font_size=size, **drawn)


def document(
    width: float,
    height: float,
    title: str,
    description: str,
    *children: str,
    kind: str,
    unit: str = "",
    left: float = 0.0,
    top: float = 0.0,
) -> str:
    """A whole drawing. ``unit`` ``mm`` makes one user unit one millimetre on paper; ``kind`` becomes a class.

    The accessible name is the ``<title>`` child and the description the ``<desc>`` child (SVG-AAM 1.0,
    8.1), so no id is needed.
    """
    return (
        element(
            "svg",
            element("title", title),
            element("desc", description),
            *children,
            xmlns=NAMESPACE,
            viewBox=f"{number(left)} {number(top)} {number(width)} {number(height)}",
            width=number(width) + unit,
            height=number(height) + unit,
            role="img",
            class_=f"drawing drawing-{kind}",
            fill=INK,
            font_family="sans-serif",
        )
        + "\n"
    )
