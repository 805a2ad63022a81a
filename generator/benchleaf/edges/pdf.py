"""Sheets as PDF bytes: the only module that knows Typst.

A sheet is a template of ours and plain data; nothing an author typed is ever part of the template. The PDF is tagged
(PDF/UA-1), carries the date it is given and no other, and uses the shipped fonts only: the same sheet, the same bytes.
"""

from __future__ import annotations

import json
import re
import tempfile
from functools import lru_cache
from pathlib import Path
from typing import Any

import typst

from benchleaf import paper
from benchleaf.paper.glyphs import printable
from benchleaf.paper.sheet import Sheet

HERE = Path(paper.__file__).parent
FONTS, TEMPLATES = HERE / "fonts", HERE / "templates"
STANDARD = "ua-1"
ALONE = "alone.typ"
FACE = b"DejaVu Sans"
_FAMILY_ATTRIBUTE = re.compile(rb"""font-family\s*=\s*("[^"]*"|'[^']*')""")
_FAMILY_STYLE = re.compile(rb"font-family\s*:\s*[^;}\"<]+")
_ROOT = re.compile(rb"(<svg)(?=[\s>])")


class NotPrinted(Exception):
    """The sheet could not be set; ``reason`` says what stood in the way, ``picture`` which of its files that is where
    it is one that records name."""

    def __init__(self, message: str, reason: str = "", picture: str | None = None) -> None:
        super().__init__(message)
        self.reason, self.picture = reason or message, picture


@lru_cache(maxsize=1)
def _fonts() -> typst.Fonts:
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[FONTS])


def pdf_of(sheet: Sheet) -> bytes:
    """The sheet as PDF/UA-1. Raises ``NotPrinted`` with Typst's words when it cannot be set."""
    try:
        made: bytes = _set(sheet, "pdf", pdf_standards=[STANDARD])
    except NotPrinted as error:
        raise _at_picture(sheet, error) from error
    return made


def _at_picture(sheet: Sheet, error: NotPrinted) -> NotPrinted:
    """The same error with the picture it is about: Typst does not say, so each is set alone."""
    for name in sorted(sheet.places):
        alone = Sheet(name="", title=name, template=ALONE, data={"file": name}, files={name: sheet.files[name]})
        try:
            _set(alone, "pdf")
        except NotPrinted as found:
            return NotPrinted(str(error), found.reason, name)
    return error


def images_of(sheet: Sheet, dots_per_inch: float) -> list[bytes]:
    """Every page as a PNG, for tests that measure."""
    made = _set(sheet, "png", ppi=dots_per_inch)
    return made if isinstance(made, list) else [made]


def _set(sheet: Sheet, form: str, **more: Any) -> Any:
    """Set the sheet in a folder of its own: nothing but its own files can be reached from there, no link leads out."""
    with tempfile.TemporaryDirectory(prefix="benchleaf-paper-") as folder:
        root = Path(folder).resolve()
        for template in sorted(TEMPLATES.glob("*.typ")):
            (root / template.name).write_bytes(template.read_bytes())
        (root / "data.json").write_text(json.dumps(printable(sheet.data), ensure_ascii=False), encoding="utf-8")
        for name, data in sorted(sheet.files.items()):
            if "/" in name or "\\" in name or name.startswith("."):
                raise NotPrinted(f"'{name}' is no name for a picture of a sheet.")
            (root / name).write_bytes(in_our_face(data) if name.endswith(".svg") else data)
        try:
            return typst.compile(
                root / sheet.template, root=root, format=form, font_paths=_fonts(), ignore_system_fonts=True, **more
            )  # type: ignore[call-overload]
        except typst.TypstError as error:
            reason = f"{error.message} {' '.join(error.hints)}".strip()
            raise NotPrinted(f"{sheet.title}: {reason}", reason) from error


def in_our_face(svg: bytes) -> bytes:
    """A drawing with its lettering in the shipped face: any other one is not there, and its words would be lost."""
    named = _FAMILY_ATTRIBUTE.sub(rb'font-family="' + FACE + b'"', svg)
    named = _FAMILY_STYLE.sub(rb"font-family: '" + FACE + b"'", named)
    return _ROOT.sub(rb'\1 font-family="' + FACE + b'"', named, count=1) if FACE not in named else named
