"""What is wrong with a text that is no YAML, in the author's words, with the way out and, where it is plain, a repair.

A repair replaces one character so that the rest of the file can be read in the same run: the author hears of every
mistake at once. It is never written anywhere.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from benchleaf.diagnostics import Finding, Place

At = tuple[int, int]


@dataclass(frozen=True, slots=True)
class SyntaxFault:
    """A YAML parser's complaint: ``problem`` and ``context`` as it words them, each at (line, column) from 0."""

    problem: str
    at: At | None
    context: str = ""
    context_at: At | None = None


@dataclass(frozen=True, slots=True)
class Repair:
    """Read on as if ``by`` stood at ``line``, ``column`` (from 0) instead of the one character there."""

    line: int
    column: int
    by: str


_KEY = re.compile(r"\s*(?:- +)*[^\s#\[\]{},'\"][^#\[\]{},'\"]*?:(?= |$)")
_KEY_GLUED = re.compile(r"\s*(?:- +)*([A-Za-z][\w.-]*):(?=[^\s:/])")
_COMMENT = re.compile(r"\s#")


def translate(fault: SyntaxFault, lines: list[str], path: str, first_line: int) -> tuple[Finding, Repair | None]:
    """The finding for a fault, and the repair that lets reading go on, if there is a plain one."""
    return _Page(lines, path, first_line).translate(fault)


class _Page:
    """The lines a fault stands in, and the few questions asked of them."""

    def __init__(self, lines: list[str], path: str, first_line: int) -> None:
        self.lines = lines
        self.path = path
        self.first = first_line

    def text(self, line: int) -> str:
        return self.lines[line] if 0 <= line < len(self.lines) else ""

    def before(self, line: int) -> int:
        """The nearest line above with something on it other than a comment; -1 if there is none."""
        line = min(line, len(self.lines)) - 1
        while line >= 0 and (not self.text(line).strip() or self.text(line).lstrip().startswith("#")):
            line -= 1
        return line

    def place(self, at: At, length: int | None = 1) -> Place:
        line, column = at
        if line >= len(self.lines):  # the end of the file: point at the last line written on
            line = max(self.before(line), 0)
            column = len(self.text(line))
        column = min(column, len(self.text(line)))
        end = None if length is None else column + 1 + length
        return Place(self.path, self.first + line, column + 1, end)

    def whole(self, line: int) -> Place:
        """The written part of a line."""
        text = self.text(line)
        column = len(text) - len(text.lstrip())
        return self.place((line, column), max(len(text.strip()), 1))

    def translate(self, fault: SyntaxFault) -> tuple[Finding, Repair | None]:
        at = fault.at or fault.context_at or (0, 0)
        start = fault.context_at or at
        problem = fault.problem
        if problem.startswith("mapping values are not allowed"):
            return self.colon(at)
        if problem == "found unexpected ':'":
            repair = Repair(at[0], at[1], ".")
            help = "a contact takes a dot (A1-J3.7); a time or a ratio takes quotes (\"1:30\")"
            return self.finding("colon-in-list", "a colon stands inside brackets", self.place(at), help), repair
        if "quoted scalar" in fault.context and "end of stream" in problem:
            return self.open_quote(start), None
        if "document indicator" in problem:
            return self.open_quote(start), None
        if "escape" in problem or "parsing a quoted scalar" in fault.context:
            help = "use single quotes around the text, or write \\\\ for one backslash"
            message = "a backslash in double quotes begins a special character"
            return self.finding("bad-escape", message, self.place(at, 2), help), None
        if "tab" in problem or ("cannot start any token" in problem and self.text(at[0])[at[1] : at[1] + 1] == "\t"):
            line = self.text(at[0])
            column = max(line.find("\t"), 0)
            message = "this line is pushed in with a tab"
            place = self.place((at[0], column), 1)
            return self.finding("tab-indent", message, place, "use spaces: two for each level"), None
        if "cannot start any token" in problem:
            sign = self.text(at[0])[at[1] : at[1] + 1]
            message = f"unquoted text cannot begin with {sign}"
            help = "put quotes around it, or put the text on the lines below 'text: |', two spaces in"
            return self.finding("odd-start", message, self.place(at), help), Repair(at[0], at[1], "x")
        if "flow sequence" in fault.context or "flow mapping" in fault.context:
            return self.bracket(fault, at, start), None
        if "flow node" in fault.context or (problem == "did not find expected node content"):
            return self.stray(at), None
        if "could not find expected ':'" in problem:
            return self.no_colon(start), None
        if "did not find expected key" in problem or "'-' indicator" in problem or "<document start>" in problem:
            return self.misplaced(at), None
        if "block sequence entries are not allowed" in problem:
            help = "begin the list on the next line, or write it in brackets: [a, b]"
            return self.finding("bad-indent", "a list cannot begin on the line of its key", self.place(at), help), None
        if "block scalar" in fault.context:
            help = "nothing else stands on the line of the '|' or '>'; quote the text if it begins with that sign"
            return self.finding("odd-start", "text follows on the line of the sign", self.place(at), help), None
        if "anchor" in fault.context or "alias" in fault.context:
            sign = self.text(start[0])[start[1] : start[1] + 1]
            help = "put quotes around it, or put the text on the lines below 'text: |', two spaces in"
            message = f"unquoted text cannot begin with {sign}"
            return self.finding("odd-start", message, self.place(start), help), Repair(start[0], start[1], "x")
        if "tag" in fault.context:
            help = "put quotes around it, or put the text on the lines below 'text: |', two spaces in"
            message = "unquoted text cannot begin with !"
            return self.finding("odd-start", message, self.place(start), help), Repair(start[0], start[1], "x")
        help = "look for a missing quote, bracket or colon on this line and the one above"
        return self.finding("broken-yaml", f"this cannot be read ({problem or 'no reason given'})", self.place(at), help), None

    def finding(self, code: str, message: str, place: Place, help: str) -> Finding:
        return Finding(code, message, place, help)

    def colon(self, at: At) -> tuple[Finding, Repair | None]:
        """A colon with a space after it, where no key can be."""
        line, column = at
        text = self.text(line)
        key = _KEY.match(text)
        if key and key.end() - 1 < column:
            message = "a colon followed by a space stands inside unquoted text"
            name = text[: key.end()].strip().removeprefix("- ")
            help = f"put the text on the lines below '{name} |', two spaces in; or put quotes around it"
            return self.finding("unquoted-colon", message, self.place(at), help), Repair(line, column, ".")
        above = self.before(line)
        glued = _KEY_GLUED.match(self.text(above))
        if glued:
            message = f"there is no space after '{glued[1]}:'"
            colon = (above, glued.end() - 1)
            return self.finding("missing-space", message, self.place(colon), "put a space after the colon"), None
        upper, own = self.text(above), text
        if above >= 0 and _KEY.match(upper) and _indent(own) > _indent(upper):
            message = "this line is pushed in below a line that already has its value"
            help = "line it up with the key above; or, if it goes on with the text above, use 'text: |'"
            return self.finding("bad-indent", message, self.whole(line), help), None
        if above >= 0 and not _KEY.match(upper):
            return self.no_colon((above, _indent(upper))), None
        message = "a colon followed by a space stands where no key can be"
        return self.finding("unquoted-colon", message, self.place(at), "put quotes around the text"), None

    def no_colon(self, at: At) -> Finding:
        line, _ = at
        above = self.before(line)
        if above >= 0 and _COMMENT.search(self.text(above)) and _indent(self.text(line)) > _indent(self.text(above)):
            return self.cut_off(above)
        help = "a key is followed by a colon and a space; text that goes on over several lines is pushed in under its key"
        return self.finding("missing-colon", "this line has no key", self.whole(line), help)

    def cut_off(self, line: int) -> Finding:
        match = _COMMENT.search(self.text(line))
        column = match.end() - 1 if match else 0
        message = "' #' ends unquoted text, but the text goes on below"
        help = "put the text on the lines below 'text: |', two spaces in"
        return self.finding("comment-in-text", message, self.place((line, column), None), help)

    def open_quote(self, at: At) -> Finding:
        help = "close it with the same sign; inside single quotes an apostrophe is written twice"
        return self.finding("open-quote", "the quote that opens here is never closed", self.place(at), help)

    def bracket(self, fault: SyntaxFault, at: At, start: At) -> Finding:
        sign = "]" if "sequence" in fault.context else "}"
        line, column = at
        rest = self.text(line)[:column]
        if line == start[0] and rest.strip():
            help = f"put a comma between two entries, and {sign} at the end"
            return self.finding("missing-comma", f"a comma or {sign} is missing before this", self.place(at, None), help)
        message = "the bracket that opens here is never closed"
        return self.finding("open-bracket", message, self.place(start), f"close it with {sign}")

    def stray(self, at: At) -> Finding:
        line, column = at
        sign = self.text(line)[column : column + 1]
        if not sign:
            return self.finding("open-bracket", "the file ends inside brackets", self.place(at), "close the brackets")
        if sign == ",":
            help = "delete the comma, or write the entry that is missing before it"
            return self.finding("stray-comma", "there is nothing before this comma", self.place(at), help)
        help = "delete it, or write what is missing before it; quote it if it is text"
        return self.finding("stray-bracket", f"{sign} stands where something else is expected", self.place(at), help)

    def misplaced(self, at: At) -> Finding:
        line, column = at
        text = self.text(line)
        ahead = text[:column].strip()
        if ahead:
            last = ahead[-1]
            if last in "'\"":
                help = "put the quotes around the whole text; inside single quotes an apostrophe is written twice"
                message = "text follows after the closing quote"
                return self.finding("text-after-quote", message, self.place(at, None), help)
            help = "delete it, or put quotes around the whole"
            return self.finding("stray-bracket", "something follows after the closing bracket", self.place(at, None), help)
        above = self.before(line)
        if above >= 0 and _COMMENT.search(self.text(above)) and _indent(text) > _indent(self.text(above)):
            return self.cut_off(above)
        if text.lstrip().startswith("- ") and above >= 0 and not self.text(above).lstrip().startswith("- "):
            help = "a list stands below its key, with nothing after the key's colon"
            return self.finding("bad-indent", "a list item stands among keys", self.whole(line), help)
        help = "lines of one level begin at the same column, two spaces in from the level above"
        return self.finding("bad-indent", "this line is not lined up with the ones above", self.whole(line), help)


def _indent(text: str) -> int:
    return len(text) - len(text.lstrip(" "))
