"""Findings as a reader meets them: on a terminal with the line and a caret, as JSON, or as annotations of a CI run.

Nothing an author typed can move a cursor, change a colour or pass for a line of ours: control characters and
those that turn the reading direction are written out.
"""

from __future__ import annotations

import json
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from benchleaf.diagnostics import Finding, Place, in_order
from benchleaf.source import Source

CLEAN, ERRORS, FAILED = 0, 1, 2
"""What a command ends with: nothing or warnings only; errors; it could not be carried out."""

_TAB = 4
_COLOURS = {"error": "\x1b[1;31m", "warning": "\x1b[1;33m", "help": "\x1b[36m", "dim": "\x1b[2m"}
_PLAIN = "\x1b[0m"
_WORD_ENDS = " \t,[]{}\"'"


def exit_code(findings: Iterable[Finding]) -> int:
    """``CLEAN`` or ``ERRORS``; ``FAILED`` is for a command that could not be carried out, which no finding says."""
    return ERRORS if any(finding.is_error for finding in findings) else CLEAN


def summary(findings: Iterable[Finding], files: int) -> str:
    """``2 errors, 1 warning in 14 files``."""
    found = in_order(findings)
    errors = sum(finding.is_error for finding in found)
    return f"{_count(errors, 'error')}, {_count(len(found) - errors, 'warning')} in {_count(files, 'file')}"


def render_text(
    findings: Iterable[Finding], sources: Iterable[Source], *, colour: bool = False, width: int = 100
) -> str:
    """Each finding with its line, a caret below, and the way out; a summary last. ``width`` is that of the terminal."""
    files = {source.path: source for source in sources}
    page = _Page(files, colour, max(width, 40))
    found = in_order(findings)
    blocks = [page.block(finding) for finding in found]
    return "\n\n".join([*blocks, summary(found, len(files))]) + "\n"


def render_json(findings: Iterable[Finding]) -> str:
    """``{"errors": n, "warnings": n, "findings": [...]}``, in ASCII, with the same bytes for the same findings.

    A finding has ``code severity message help file line column end_column related``; lines and columns from 1,
    ``end_column`` one past the last character or null, ``related`` a list of places with a ``message``.
    """
    found = in_order(findings)
    errors = sum(finding.is_error for finding in found)
    value = {
        "errors": errors,
        "warnings": len(found) - errors,
        "findings": [
            {
                "code": finding.code,
                "severity": finding.severity.value,
                "message": finding.message,
                "help": finding.help,
                **_place(finding.place),
                "related": [{**_place(place), "message": words} for place, words in finding.related],
            }
            for finding in found
        ],
    }
    return json.dumps(value, indent=2) + "\n"


def render_ci(findings: Iterable[Finding], prefix: str = "") -> str:
    """A line ``::error file=…,line=…,col=…,title=…::message`` a finding; ``prefix`` leads to the content folder."""
    lines = []
    for finding in in_order(findings):
        place = finding.place
        message = finding.message + (f"\nhelp: {finding.help}" if finding.help else "")
        for other, words in finding.related:
            message += f"\n{other}: {words}"
        properties = {"file": prefix + place.file, "line": place.line, "col": place.column, "title": finding.code}
        written = ",".join(f"{name}={_property(str(value))}" for name, value in properties.items())
        lines.append(f"::{finding.severity.value} {written}::{_data(message)}")
    return "".join(line + "\n" for line in lines)


def printable(text: str) -> str:
    """``text`` with every character that hides, or that a terminal obeys, written out: ``\\x1b``, ``\\u202e``."""
    return "".join(_shown(character) for character in text)


def _shown(character: str) -> str:
    if " " <= character <= "~":
        return character
    if character in "\u200c\u200d":  # joiners: scripts and composed signs need them, and they move nothing
        return character
    if unicodedata.category(character) in ("Cc", "Cf", "Cs", "Zl", "Zp"):
        return character.encode("unicode_escape", "backslashreplace").decode("ascii")
    return character


def _columns(character: str) -> int:
    """Columns of a terminal that one character takes (UAX #11: wide and full-width ones take two, marks none)."""
    if unicodedata.category(character) in ("Mn", "Me") or character in "\u200c\u200d":
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1


def _count(number: int, word: str) -> str:
    return f"{number:,} {word}{'' if number == 1 else 's'}"


def _place(place: Place) -> dict[str, Any]:
    return {"file": place.file, "line": place.line, "column": place.column, "end_column": place.end_column}


def _data(text: str) -> str:
    kept = text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")
    return printable(kept)


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")


class _Page:
    """One report being written."""

    def __init__(self, files: Mapping[str, Source], colour: bool, width: int) -> None:
        self.files = files
        self.colour = colour
        self.width = width
        self.lines: dict[str, Sequence[str]] = {}

    def block(self, finding: Finding) -> str:
        kind = finding.severity.value
        head = self.paint(kind, f"{kind}[{printable(finding.code)}]")
        out = [f"{printable(str(finding.place))}: {head}: {printable(finding.message)}"]
        out += self.excerpt(finding.place, kind)
        if finding.help:
            first, *more = finding.help.split("\n")
            out.append(f"  {self.paint('help', 'help:')} {printable(first)}")
            out += [f"        {printable(line)}" for line in more]
        for place, words in finding.related:
            out.append(f"  {printable(str(place))}: {printable(words)}")
            out += self.excerpt(place, "dim")
        return "\n".join(out)

    def paint(self, kind: str, text: str) -> str:
        return f"{_COLOURS[kind]}{text}{_PLAIN}" if self.colour else text

    def line(self, place: Place) -> str | None:
        source = self.files.get(place.file)
        if source is None:
            return None
        lines = self.lines.get(place.file)
        if lines is None:
            lines = self.lines[place.file] = source.lines
        return lines[place.line - 1] if 1 <= place.line <= len(lines) else None

    def excerpt(self, place: Place, kind: str) -> list[str]:
        """The line and the caret below it; nothing when the finding is about a file, or a line with nothing on it."""
        text = self.line(place)
        if text is None or not text.strip():
            return []
        start = min(max(place.column, 1) - 1, len(text))
        end = _word_end(text, start) if place.end_column is None else place.end_column - 1
        end = max(min(end, len(text)), start + 1)
        shown, caret = _window(text, start, end, self.width - 9)
        gutter = self.paint("dim", f"{place.line:>5} |")
        blank = self.paint("dim", "      |")
        return [f"{gutter} {shown}", f"{blank} {caret[0]}{self.paint(kind, caret[1])}"]


def _word_end(text: str, start: int) -> int:
    end = start
    while end < len(text) and text[end] not in _WORD_ENDS:
        end += 1
    return max(end, start + 1)


def _window(text: str, start: int, end: int, room: int) -> tuple[str, tuple[str, str]]:
    """A line cut to ``room`` columns around ``start``, and (blanks before the caret, carets)."""
    while 0 < start < len(text) and _columns(text[start]) == 0:  # a mark stands with the character before it
        start -= 1
    near, far = max(0, start - 4 * room), start + 4 * room  # of a line of two million characters, look at these
    cells: list[str] = []
    widths: list[int] = []
    for character in text[near:far]:
        cell = " " * (_TAB - sum(widths) % _TAB) if character == "\t" else _shown(character)
        cells.append(cell)
        widths.append(len(cell) if len(cell) > 1 else _columns(character) if character != "\t" else 1)
    at, stop = start - near, min(end - near, len(cells))
    first, last = 0, len(cells)
    if near > 0 or far < len(text) or sum(widths) > room:
        first, last = _part(widths, at, stop, room - 2)
    cut_left, cut_right = near + first > 0, near + last < len(text)
    shown = ("…" if cut_left else "") + "".join(cells[first:last]) + ("…" if cut_right else "")
    lead = cut_left + sum(widths[first:at])
    return shown.rstrip(), (" " * lead, "^" * max(sum(widths[at : min(stop, last)]), 1))


def _part(widths: Sequence[int], at: int, stop: int, room: int) -> tuple[int, int]:
    """Which cells to show, first and one past the last: those from ``at`` to ``stop`` in the middle if they fit."""
    first, used = at, 0
    half = max(room - sum(widths[at:stop]), 0) // 2
    while first > 0 and used + widths[first - 1] <= half:
        first -= 1
        used += widths[first]
    last = at
    while last < len(widths) and used + widths[last] <= room:
        used += widths[last]
        last += 1
    while first > 0 and used + widths[first - 1] <= room:
        first -= 1
        used += widths[first]
    return first, last
