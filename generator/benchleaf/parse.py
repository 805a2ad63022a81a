"""From an author's text to nodes that know their line and column, and findings for what is refused.

What a technician types is what the later stages see: ``012``, ``no``, ``1e3`` and a date stay the
characters typed. YAML allows more than a record may use: anchors, aliases, tags, merge keys, a key twice,
several documents in a file, keys that old editors turn into true and false, endless nesting. They make a
record say something else than it seems to, so each is refused where it stands. Pure: text in, nodes and
findings out; no text makes it raise or hang.
"""

from __future__ import annotations

import re

from benchleaf.diagnostics import Finding, Place, in_order
from benchleaf.nodes import Node
from benchleaf.refusals import refuse
from benchleaf.source import Source
from benchleaf.syntax import Repair, translate
from benchleaf.text import Text
from benchleaf.yaml_events import read_events

REPAIRS_LIMIT = 20  # mistakes mended on the fly, to see what is behind them
REPAIRS_SIZE = 200_000  # characters; a longer file is read once only

_TOP_KEY = re.compile(r"[^\s#\-\[\]{}\"'|>&*!%@`:,][^:#]*:(?:\s|$)")
_BAR = re.compile(r"---[ \t]*$")


def parse_yaml(source: Source, *, first_line: int = 1) -> tuple[Node | None, tuple[Finding, ...]]:
    """The nodes of a YAML text, and everything about its writing that is wrong.

    ``first_line`` is the line of the author's file at which ``source.text`` begins. The node is ``None``
    when the text cannot be read as nodes; with milder findings it is what the author most likely meant, so
    that later stages can go on looking. Anything found is an error, so such a node is never published.
    """
    text = _line_feeds(source.text)
    refused = refuse(source.path, text, first_line)
    if refused:
        return None, refused
    lines = text.split("\n")
    repairs: list[Repair] = []
    found: list[Finding] = []
    long = len(text) > REPAIRS_SIZE
    while True:
        reading = read_events(source.path, lines, first_line, repairs)
        if reading.fault is None:
            return reading.node, in_order([*found, *reading.findings])
        wrong = translate(reading.fault, lines, source.path, first_line)
        found.append(wrong.finding)
        if wrong.repair is None or wrong.repair in repairs or len(repairs) >= REPAIRS_LIMIT or long:
            break
        repairs.append(wrong.repair)
    found += reading.findings
    if not long:
        found += _look_behind(source.path, lines, first_line, wrong.finding.place.line - first_line + 1)
    return None, in_order(found)


def parse_front_matter(source: Source) -> tuple[Node | None, Text | None, tuple[Finding, ...]]:
    """The record between the two ``---`` lines of a code, symptom or article, and the prose after it.

    The prose knows its place, the first line with something on it. It is ``None`` when the file could not
    be taken apart; a file without prose has an empty one.
    """
    text = _line_feeds(source.text)
    refused = refuse(source.path, text, 1)
    if refused:
        return None, None, refused
    lines = text.split("\n")
    if not _BAR.match(lines[0]):
        message = "the file does not begin with a record"
        help = "make the first line '---', write the record below it, then another line '---', then the prose"
        return None, None, (Finding("front-matter-missing", message, Place(source.path, 1, 1), help),)
    close = next((number for number, line in enumerate(lines[1:], 1) if _BAR.match(line)), None)
    if close is None:
        message = "the record that begins here has no end"
        help = "put a line '---' between the record and the prose"
        return None, None, (Finding("front-matter-open", message, Place(source.path, 1, 1, 4), help),)
    node, findings = parse_yaml(Source(source.path, "\n".join(lines[1:close])), first_line=2)
    begin = close + 1
    while begin < len(lines) and not lines[begin].strip():
        begin += 1
    prose = "\n".join(lines[begin:]).rstrip()
    return node, Text(prose, Place(source.path, min(begin, len(lines) - 1) + 1, 1)), findings


def _line_feeds(text: str) -> str:
    return text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")


def _look_behind(path: str, lines: list[str], first_line: int, begin: int) -> list[Finding]:
    """Mistakes behind one that could not be mended: the rest is read from the next top-level key on."""
    found: list[Finding] = []
    for _ in range(REPAIRS_LIMIT):
        begin = next((n for n in range(begin, len(lines)) if _TOP_KEY.match(lines[n])), len(lines))
        if begin >= len(lines):
            break
        rest, first = lines[begin:], first_line + begin
        reading = read_events(path, rest, first, [])
        found += reading.findings
        if reading.fault is None:
            break
        finding = translate(reading.fault, rest, path, first).finding
        found.append(finding)
        begin = max(begin, finding.place.line - first_line) + 1
    return found
