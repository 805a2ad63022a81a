"""How wide and high a picture stands on paper: the way up the camera noted, and what an SVG says of itself.

Marks are placed by these sizes, so they must be those of the picture as it is set.
"""

from __future__ import annotations

import re

from benchleaf.photo_headers import HEADER_BYTES, read_header
from benchleaf.photo_metadata import orientation

_ROOT = re.compile(rb"<svg\b[^>]*>", re.DOTALL)
_VIEW_BOX = re.compile(rb"""\bviewBox\s*=\s*["']\s*[-+0-9.eE]+[\s,]+[-+0-9.eE]+[\s,]+([0-9.]+)[\s,]+([0-9.]+)""")
_LENGTH = rb"""\s%s\s*=\s*["']\s*([0-9.]+)\s*(?:px|pt|mm|cm|in)?\s*["']"""
ON_ITS_SIDE = (5, 6, 7, 8)
"""Orientations that change width and height over (Exif 2.3, 4.6.4, tag 0x0112)."""


def picture_size(data: bytes) -> tuple[float, float] | None:
    """Width and height of a picture as it is set, in units of its own; ``None`` when it does not say."""
    kind, width, height = read_header(data[:HEADER_BYTES])
    if kind == "svg":
        return _svg_size(data[:HEADER_BYTES])
    if not width or not height:
        return None
    if kind == "jpeg" and orientation(data) in ON_ITS_SIDE:
        return float(height), float(width)
    return float(width), float(height)


def _svg_size(data: bytes) -> tuple[float, float] | None:
    """Width and height where both are said in one unit, else the proportions of the viewBox (SVG 2, 8.2 and 8.12)."""
    root = _ROOT.search(data)
    if root is None:
        return None
    found = [re.search(_LENGTH % name, root.group()) for name in (b"width", b"height")]
    box = _VIEW_BOX.search(root.group())
    sizes = [one.group(1) for one in found if one is not None]
    if len(sizes) < 2 and box is not None:
        sizes = [box.group(1), box.group(2)]
    try:
        width, height = (float(one) for one in sizes)
    except ValueError:
        return None
    return (width, height) if width > 0 and height > 0 else None
