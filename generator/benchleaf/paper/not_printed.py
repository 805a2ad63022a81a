"""A sheet that could not be set, as a finding at the picture or the record that stands in the way."""

from __future__ import annotations

from benchleaf.diagnostics import Finding, Place
from benchleaf.paper.sheet import Sheet

CODE = "not-printed"


def not_printed(sheet: Sheet, place: Place, reason: str, picture: str | None) -> Finding:
    """``place`` is the sheet's record, ``picture`` the file of the sheet that is to blame, ``reason`` the setter's
    words. The same picture on two sheets gives the same finding."""
    if picture is not None and picture in sheet.places:
        message = f"this picture cannot be printed: {reason}"
        help = "export it again as PNG, JPEG, WebP or SVG, or leave it out"
        return Finding(CODE, message, sheet.places[picture], help)
    return Finding(CODE, f"no PDF can be made of it: {sheet.title}: {reason}", place)
