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
from benchleaf.syntax import Repair, begins_entry, translate
from benchleaf.text import Text
from benchleaf.yaml_events import read_events

READINGS_LIMIT = 20  # of one text: each mends one mistake or begins behind one, to find the next
READINGS_SIZE = 200_000  # characters; a longer text is read once only

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
    reader = _Reader(source.path, text.split("\n"), first_line, 1 if len(text) > READINGS_SIZE else READINGS_LIMIT)
    return reader.whole(), in_order(reader.found)


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


class _Reader:
    """Reads one text, and when something cannot be read, what is behind it, so that every mistake is found at once."""

    def __init__(self, path: str, lines: list[str], first_line: int, readings: int) -> None:
        self.path = path
        self.lines = lines
        self.first = first_line
        self.left = readings
        self.found: list[Finding] = []

    def whole(self) -> Node | None:
        node, broken = self.part(0, len(self.lines))
        if broken is not None:
            self.behind(broken)
        return node

    def part(self, begin: int, end: int) -> tuple[Node | None, int | None]:
        """The nodes of some lines, mended where that is plain; else the number of the line that cannot be read."""
        lines, first = self.lines[begin:end], self.first + begin
        repairs: list[Repair] = []
        while True:
            self.left -= 1
            reading = read_events(self.path, lines, first, repairs)
            if reading.fault is None:
                self.found += reading.findings
                return reading.node, None
            wrong = translate(reading.fault, lines, self.path, first)
            if not self.same_text(wrong.finding):
                self.found.append(wrong.finding)
            if wrong.repair is None or wrong.repair in repairs or self.left <= 0:
                line = wrong.finding.place.line
                self.found += [f for f in reading.findings if f.code != "key-not-text" or f.place.line != line]
                return None, line - self.first
            repairs.append(wrong.repair)

    def same_text(self, finding: Finding) -> bool:
        """Whether this is one more colon in a text of which the first was named."""
        last = self.found[-1] if self.found else None
        code, line = finding.code, finding.place.line
        return last is not None and code == "unquoted-colon" == last.code and line == last.place.line

    def behind(self, broken: int) -> None:
        """Reads on behind a line: its next neighbour and what follows on that level, then the level above."""
        begin = broken + 1
        level = _indent(self.lines[broken])
        while self.left > 0:
            begin = next((n for n in range(begin, len(self.lines)) if self.begins(n, level)), len(self.lines))
            if begin == len(self.lines):
                return
            level = _indent(self.lines[begin])
            end = next((n for n in range(begin + 1, len(self.lines)) if self.leaves(n, begin)), len(self.lines))
            _, again = self.part(begin, end)
            if again is None:
                begin = end
            else:
                begin, level = again + 1, max(level, _indent(self.lines[again]))

    def begins(self, number: int, level: int) -> bool:
        """Whether an entry begins on a line, no further in than ``level``."""
        return _indent(self.lines[number]) <= level and begins_entry(self.lines[number])

    def leaves(self, number: int, begin: int) -> bool:
        """Whether a line belongs no more to the entries of the level that began on line ``begin``."""
        text, level = self.lines[number], _indent(self.lines[begin])
        if not text.strip() or text.lstrip().startswith("#"):
            return False
        own = _indent(text)
        listed = self.lines[begin].lstrip().startswith("-")
        return own < level or (own == level and listed and not text.lstrip().startswith("-"))


def _indent(text: str) -> int:
    return len(text) - len(text.lstrip(" "))
