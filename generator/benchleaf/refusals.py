"""What makes a text unfit to be read at all: size, invisible characters, an open merge, nothing in it."""

from __future__ import annotations

import re

from benchleaf.diagnostics import Finding, Place
from benchleaf.source import FILE_LIMIT

# YAML 1.2.2, production 1 (c-printable), less the three that YAML 1.1 took for line ends, less the byte
# order mark. Written as what is left out: the set of all others takes ten times as long to compile.
_UNPRINTABLE = re.compile("[\0-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufeff\ufffe\uffff]")
_CONFLICT = re.compile(r"^<{7}(?: .*)?$", re.MULTILINE)
_SHOWN = 20  # of one kind in one file


def refuse(path: str, text: str, first_line: int) -> tuple[Finding, ...]:
    """The findings that stop a text (with line feeds only) from being read; none = it can be read."""
    start = Place(path, first_line, 1)
    if len(text) > FILE_LIMIT:
        message = f"the file has {len(text):,} characters; a record has at most {FILE_LIMIT:,}"
        return (Finding("file-too-large", message, start, "split it: one record a file"),)
    if not text.strip():
        return (Finding("empty-file", "there is nothing in this file", start, "write the record, or delete the file"),)
    found = []
    for match in _UNPRINTABLE.finditer(text):
        message = f"an invisible character ({_name(match[0])}) stands here"
        help = "delete it; such characters come in by copying from another program"
        found.append(Finding("control-character", message, _place(path, text, match, first_line), help))
        if len(found) == _SHOWN:
            break
    for match in _CONFLICT.finditer(text):
        message = "two versions of this file were merged, and nobody has chosen between them"
        help = "keep the lines that are right, and delete the lines beginning with <<<<<<<, ======= and >>>>>>>"
        found.append(Finding("merge-conflict", message, _place(path, text, match, first_line), help))
        if len(found) >= 2 * _SHOWN:
            break
    return tuple(found)


def _name(character: str) -> str:
    return {"\0": "NUL", "\x1b": "ESC", "\x7f": "DEL"}.get(character, f"U+{ord(character):04X}")


def _place(path: str, text: str, match: re.Match[str], first_line: int) -> Place:
    begin = match.start()
    column = begin - text.rfind("\n", 0, begin)
    return Place(path, first_line + text.count("\n", 0, begin), column, column + len(match[0]))
