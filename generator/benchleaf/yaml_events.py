"""The one module that knows the YAML library: its parser's events become our nodes, its errors our faults.

Events, not its loader: they keep the characters typed and the place of each, and a nesting bomb is left at
level 41 instead of being built up in memory (100,000 levels crash the loader's C code, or cost the scanner
a minute).
"""

from __future__ import annotations

import re
from typing import Any

from ruamel.yaml.cyaml import CParser  # type: ignore[attr-defined]  # imported there without a stub
from ruamel.yaml.error import YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
    StreamEndEvent,
)

from benchleaf.diagnostics import Finding, Place
from benchleaf.frozen import dataclass
from benchleaf.nodes import Mapping, Node, Scalar, Sequence
from benchleaf.syntax import Repair, SyntaxFault

DEPTH_LIMIT = 40
FINDINGS_LIMIT = 100  # in one file; more is the sign of a file that is no record
_ODD_KEYS = frozenset({"on", "off", "yes", "no", "y", "n", "<<", ""})
_ODD_LENGTH = max(map(len, _ODD_KEYS))

_PROPERTIES = re.compile(r"(?:[&!]\S*[ \t]+)+")
_COMMENT = re.compile(r"[ \t]+(?=#)")
_INDENT = re.compile(r"[ \t]*")
_STYLES = {"": "plain", "'": "quoted", '"': "quoted", "|": "block", ">": "block"}


@dataclass(frozen=True, slots=True)
class Reading:
    """What one pass over a text gave: nodes, or the fault that ended it; and what was refused on the way."""

    node: Node | None
    fault: SyntaxFault | None
    findings: tuple[Finding, ...]


def read_events(path: str, lines: list[str], first_line: int, repairs: list[Repair]) -> Reading:
    """Read ``lines``, each repair replacing one character; plain scalars still show what was typed."""
    builder = _Builder(path, lines, first_line, repairs)
    node: Node | None = None
    fault: SyntaxFault | None = None
    try:
        node = builder.document()
    except _Stop:
        pass
    except YAMLError as error:
        fault = _fault(error)
    return Reading(node, fault, tuple(builder.findings))


def _fault(error: Any) -> SyntaxFault:
    def at(name: str, default: tuple[int, int]) -> tuple[int, int]:
        mark = getattr(error, name, None)
        return default if mark is None else (mark.line, mark.column)

    problem = str(getattr(error, "problem", None) or "")
    context = str(getattr(error, "context", None) or "")
    where = at("problem_mark", at("context_mark", (0, 0)))
    return SyntaxFault(problem, where, context, at("context_mark", where))


class _Stop(Exception):
    """The builder has said what is wrong and cannot go on; never leaves this module."""


class _Builder:
    """Builds the nodes of one text, once."""

    def __init__(self, path: str, lines: list[str], first_line: int, repairs: list[Repair]) -> None:
        self.path = path
        self.first = first_line
        self.lines = lines
        self.findings: list[Finding] = []
        self.repaired = {repair.line for repair in repairs}
        mended = lines
        if repairs:
            mended = list(lines)
            for repair in repairs:
                line = mended[repair.line]
                mended[repair.line] = line[: repair.column] + repair.by + line[repair.column + 1 :]
        text = "\n".join(mended)
        self.tabs = "\t" in text
        # Lines on which a scalar needs a second look: with a comment, a tab or a repair, and the one after the last.
        self.brackets = 0
        self.odd_lines = self.repaired | {len(lines)}
        if self.tabs or "#" in text:
            self.odd_lines |= {number for number, line in enumerate(lines) if "#" in line or "\t" in line}
        self.tabs_seen: int | None = None  # the last line found to be pushed in with a tab
        self.events: Any = CParser(text)

    def document(self) -> Node | None:
        node: Node | None = None
        while True:
            event = self.events.get_event()
            kind = type(event)
            if kind is StreamEndEvent:
                break
            if kind is DocumentStartEvent:
                if node is not None:
                    message = "a second record begins here"
                    self._say("several-documents", message, self._at(event, 3), "one record a file: give it its own")
                    break
                if event.tags:
                    help = "delete the line that begins with %TAG"
                    self._say("tag", "tags are not used in records", Place(self.path, self.first, 1), help)
            elif kind is ScalarEvent or kind is MappingStartEvent or kind is SequenceStartEvent or kind is AliasEvent:
                node = self._node(event, 1)
        if node is None or (isinstance(node, Scalar) and not node.text and node.style == "plain"):
            place = Place(self.path, self.first, 1)
            self._say("empty-file", "there is no record in this file", place, "write the record, or delete the file")
            return None
        return node

    def _node(self, event: Any, depth: int) -> Node:
        kind = type(event)
        if kind is ScalarEvent:
            return self._scalar(event)
        if kind is AliasEvent:
            name = str(event.anchor)
            place = self._at(event, len(name) + 1)
            message = f"'*{name}' stands for text written elsewhere, which records do not allow"
            self._say(
                "alias",
                message,
                place,
                "write it out here; put quotes around it if the star is meant as text",
            )
            return Scalar(f"*{name}", place)
        if depth > DEPTH_LIMIT:
            message = f"lists and keys are nested more than {DEPTH_LIMIT} deep here"
            self._say("too-deep", message, self._at(event, 1), "close the brackets, or write it flatter")
            raise _Stop
        if event.anchor is not None or event.ctag is not None:
            self._properties(event)
        self.brackets += bool(event.flow_style)
        node = self._mapping(event, depth) if kind is MappingStartEvent else self._sequence(event, depth)
        self.brackets -= bool(event.flow_style)
        return node

    def _sequence(self, start: Any, depth: int) -> Sequence:
        items: list[Node] = []
        while True:
            event = self.events.get_event()
            if type(event) is SequenceEndEvent:
                return Sequence(tuple(items), self._span(start, event), bool(start.flow_style))
            items.append(self._node(event, depth + 1))

    def _mapping(self, start: Any, depth: int) -> Mapping:
        entries: list[tuple[Scalar, Node]] = []
        seen: dict[str, Scalar] = {}
        next_event = self.events.get_event
        while True:
            event = next_event()
            if type(event) is MappingEndEvent:
                return Mapping(tuple(entries), self._span(start, event), bool(start.flow_style))
            key = self._scalar(event) if type(event) is ScalarEvent else self._node(event, depth + 1)
            event = next_event()
            value = self._scalar(event) if type(event) is ScalarEvent else self._node(event, depth + 1)
            if not isinstance(key, Scalar):
                help = "a key is a word, followed by a colon and a space"
                self._say(
                    "key-not-text",
                    "a list or a group of keys stands where a key is expected",
                    key.place,
                    help,
                )
                continue
            is_odd = len(key.text) <= _ODD_LENGTH and key.text.lower() in _ODD_KEYS and key.style == "plain"
            if is_odd and not self._good_key(key):
                continue
            first = seen.get(key.text)
            if first is not None:
                help = "put both under one key, or delete one"
                message = f"the key '{key.text}' stands here a second time"
                self._say("double-key", message, key.place, help, ((first.place, "first written here"),))
                continue
            seen[key.text] = key
            entries.append((key, value))

    def _good_key(self, key: Scalar) -> bool:
        """Says what is wrong with an unquoted key; false when its entry means nothing."""
        if key.text == "<<":
            message = "'<<' takes keys over from elsewhere, which records do not allow"
            self._say("merge-key", message, key.place, "write the keys out here")
            return False
        if not key.text:
            self._say(
                "key-not-text",
                "a key is missing before this colon",
                key.place,
                "write the key, or delete the colon",
            )
            return False
        message = f"old editors turn the key {key.text} into true or false"
        self._say("switch-word-key", message, key.place, f'put quotes around it: "{key.text}":')
        return True

    def _scalar(self, event: Any) -> Scalar:
        start, end = event.start_mark, event.end_mark
        line = start.line
        style = _STYLES[event.style or ""]
        plain_case = line == end.line and event.anchor is None and event.ctag is None and line not in self.odd_lines
        if plain_case and style != "block":  # nearly all of them, so the quick way
            return Scalar(event.value, Place(self.path, self.first + line, start.column + 1, end.column + 1), style)
        return self._odd_scalar(event, line, start.column, style)

    def _odd_scalar(self, event: Any, line: int, column: int, style: str) -> Scalar:
        end = event.end_mark
        if event.anchor is not None or event.ctag is not None:
            column = self._properties(event)
        if line >= len(self.lines):  # a value left out at the end of the file
            line = len(self.lines) - 1
            column = len(self.lines[line])
            return Scalar("", Place(self.path, self.first + line, column + 1, column + 1))
        text = str(event.value)
        if self.tabs and line != self.tabs_seen:
            self._tabs(line, column)
        last = max(end.column, column) + 1 if line == end.line else None
        if style == "block":
            last = column + 2
        place = Place(self.path, self.first + line, column + 1, last)
        comment = None
        if style == "plain":
            if line in self.repaired and line == end.line:
                text = self.lines[line][column : end.column]
            if line != end.line and not self.brackets:
                self._list_in_text(line + 1, end.line)
            if end.line < len(self.lines):
                tail = self.lines[end.line]
                match = _COMMENT.match(tail, end.column)
                if match:
                    comment = Place(self.path, self.first + end.line, match.end() + 1, len(tail) + 1)
        return Scalar(text, place, style, comment)

    def _list_in_text(self, line: int, last: int) -> None:
        """Refuses unquoted text that goes on with '- ': to YAML that is more text, to the author a list."""
        for number in range(line, min(last + 1, len(self.lines))):
            text = self.lines[number]
            if text.lstrip().startswith("- "):
                column = text.index("-") + 1
                place = Place(self.path, self.first + number, column, column + 1)
                message = "this is read as more of the text above, not as a list"
                help = "begin the list below a key of its own; or write the text below a '|'"
                self._say("list-in-text", message, place, help)
                return

    def _tabs(self, line: int, column: int) -> None:
        self.tabs_seen = line
        indent = _INDENT.match(self.lines[line])
        if indent and indent.end() == column and "\t" in indent[0]:
            place = Place(self.path, self.first + line, indent[0].index("\t") + 1, column + 1)
            message = "this line is pushed in with a tab"
            self._say("tab-indent", message, place, "use spaces: two for each level")

    def _properties(self, event: Any) -> int:
        """Refuses an anchor or tag; returns the column (from 0) at which the value begins, if on that line."""
        mark = event.start_mark
        line = self.lines[mark.line] if mark.line < len(self.lines) else ""
        if event.anchor is not None:
            column = max(line.find(f"&{event.anchor}", mark.column), mark.column)
            place = Place(self.path, self.first + mark.line, column + 1, column + 2 + len(event.anchor))
            message = f"'&{event.anchor}' names a text to be repeated elsewhere, which records do not allow"
            self._say("anchor", message, place, "delete it; put quotes around the text if the & belongs to it")
        if event.tag is not None:
            column = max(line.find("!", mark.column), mark.column)
            word = re.match(r"\S+", line[column:])
            place = Place(self.path, self.first + mark.line, column + 1, column + 1 + len(word[0] if word else "!"))
            message = "a word beginning with '!' stands before the value, which records do not allow"
            self._say("tag", message, place, "delete it; put quotes around the text if the ! belongs to it")
        match = _PROPERTIES.match(line, mark.column)
        return match.end() if match else int(mark.column)

    def _at(self, event: Any, length: int) -> Place:
        mark = event.start_mark
        return Place(self.path, self.first + mark.line, mark.column + 1, mark.column + 1 + length)

    def _span(self, start: Any, end: Any) -> Place:
        begin, close = start.start_mark, end.end_mark
        last = close.column + 1 if start.flow_style and begin.line == close.line else None
        return Place(self.path, self.first + begin.line, begin.column + 1, last)

    def _say(
        self, code: str, message: str, place: Place, help: str, related: tuple[tuple[Place, str], ...] = ()
    ) -> None:
        self.findings.append(Finding(code, message, place, help, related=related))
        if len(self.findings) >= FINDINGS_LIMIT:
            message = "there are more mistakes in this file than are listed"
            self.findings.append(Finding("more-mistakes", message, place, "mend these, then check again"))
            raise _Stop
