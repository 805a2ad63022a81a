"""What is wrong with a text that is no YAML, in the author's words, with the way out and, if plain, a repair.

A repair replaces one character so that the rest of the file can be read in the same run: the author hears
of every mistake at once. It is never written anywhere.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from benchleaf.diagnostics import Finding, Place
from benchleaf.frozen import dataclass

At = tuple[int, int]


@dataclass(frozen=True, slots=True)
class SyntaxFault:
    """A YAML parser's complaint in its words, and where it and its context stand: (line, column) from 0."""

    problem: str
    at: At
    context: str
    start: At


@dataclass(frozen=True, slots=True)
class Repair:
    """Read on as if ``by`` stood at ``line``, ``column`` (from 0) instead of the one character there."""

    line: int
    column: int
    by: str


@dataclass(frozen=True, slots=True)
class Translated:
    finding: Finding
    repair: Repair | None = None


def translate(fault: SyntaxFault, lines: list[str], path: str, first_line: int) -> Translated:
    """The finding for a fault, and the repair that lets reading go on, if there is a plain one."""
    page = _Page(lines, path, first_line)
    for context, problem, rule in _RULES:
        if context in fault.context and problem in fault.problem:
            return rule(page, fault)
    help = "look for a missing quote, bracket or colon on this line and the one above"
    return Translated(page.finding("broken-yaml", f"this cannot be read ({fault.problem})", fault.at, 1, help))


# Possessive, so that a line of a million dashes is looked at once.
_KEY = re.compile(r"\s*+(?:- ++)*+(?:'[^']*'|\"[^\"]*\"|[^\s#\[\]{},'\"][^#\[\]{},'\"]*?):(?= |$)")
_KEY_GLUED = re.compile(r"\s*+(?:- ++)*+([A-Za-z][\w.-]*+):(?=[^\s:/])")
_COMMENT = re.compile(r"\s#")
_QUESTION = re.compile(r"(?<=[\w'\")])\?(?=[,\]}\s])")

_BELOW = "put the text on the lines below '{key} |', two spaces in; or put quotes around it"
_QUOTES = "put quotes around the text"


def begins_entry(line: str) -> bool:
    """Whether a line looks like the beginning of a list item, or has a key."""
    return line.lstrip().startswith("- ") or _KEY.match(line) is not None


class _Page:
    """The lines a fault stands in, and the few questions asked of them."""

    def __init__(self, lines: list[str], path: str, first_line: int) -> None:
        self.lines = lines
        self.path = path
        self.first = first_line

    def text(self, line: int) -> str:
        return self.lines[line] if 0 <= line < len(self.lines) else ""

    def sign(self, at: At) -> str:
        """The character at a place, empty at the end of a line."""
        return self.text(at[0])[at[1] : at[1] + 1]

    def above(self, line: int) -> int:
        """The nearest line above with something on it other than a comment; -1 if there is none."""
        line = min(line, len(self.lines)) - 1
        while line >= 0 and (not self.text(line).strip() or self.text(line).lstrip().startswith("#")):
            line -= 1
        return line

    def indent(self, line: int) -> int:
        text = self.text(line)
        return len(text) - len(text.lstrip(" "))

    def opened(self, line: int) -> At | None:
        """The bracket left open nearest above a line, quotes not looked at; none if none is found near."""
        for number in range(min(line, len(self.lines)) - 1, max(line - 50, -1), -1):
            text = self.text(number)
            if text.count("[") + text.count("{") > text.count("]") + text.count("}"):
                return number, max(text.rfind("["), text.rfind("{"))
        return None

    def way_out(self, at: At) -> str:
        """How to write text that YAML trips over, where ``at`` stands."""
        text = self.text(at[0])
        key = _KEY.match(text)
        if key is None or key.end() > at[1] + 1 or any(sign in text[: at[1]] for sign in "[{"):
            return _QUOTES
        name = text[: key.end()].strip().lstrip("- ")
        if name in ("do:", "on-return:"):
            return f"put the actions in brackets: `{name} [{text[key.end() :].strip()}]`"
        return _BELOW.format(key=name)

    def finding(self, code: str, message: str, at: At, length: int | None, help: str) -> Finding:
        """A finding of ``length`` characters; ``None`` = to the end of the word."""
        line, column = at
        if line >= len(self.lines):  # the end of the file: point behind what was last written
            line = max(self.above(line), 0)
            column = len(self.text(line))
        column = min(column, len(self.text(line)))
        end = None if length is None else column + 1 + length
        return Finding(code, message, Place(self.path, self.first + line, column + 1, end), help)

    def line_finding(self, code: str, message: str, line: int, help: str) -> Finding:
        """A finding about all that is written on a line."""
        text = self.text(line)
        return self.finding(code, message, (line, len(text) - len(text.lstrip())), len(text.strip()) or 1, help)

    def cut_off(self, line: int) -> Finding | None:
        """The finding for unquoted text that a comment ended on the line above, if that is what happened."""
        above = self.above(line)
        comment = _COMMENT.search(self.text(above)) if above >= 0 else None
        if comment is None or self.indent(line) <= self.indent(above):
            return None
        at = (above, comment.end() - 1)
        message = "' #' ends unquoted text, but the text goes on below"
        length = len(self.text(above)) - at[1]
        return self.finding("comment-in-text", message, at, length, self.way_out(at))


def _colon(page: _Page, fault: SyntaxFault) -> Translated:
    """A colon with a space after it, where no key can be."""
    line, column = fault.at
    text = page.text(line)
    key = _KEY.match(text)
    if key and key.end() - 1 < column:
        message = "a colon followed by a space stands inside unquoted text"
        help = page.way_out(fault.at)
        close = text.rstrip()[-1]
        if close in "]}" and "[{"["]}".index(close)] not in text:
            help = f"open the bracket that {close} closes; or {_QUOTES}"
        repair = Repair(line, column, ".")
        return Translated(page.finding("unquoted-colon", message, fault.at, 1, help), repair)
    above = page.above(line)
    glued = _KEY_GLUED.match(page.text(above))
    if glued:
        return _no_space(page, above, glued)
    if above >= 0 and not _KEY.match(page.text(above)):
        return _no_key(page, above)
    if above >= 0 and page.indent(line) > page.indent(above):
        message = "this line is pushed in below a line that already has its value"
        help = "line it up with the key above; if it goes on with the text above, write that text below a '|'"
        return Translated(page.line_finding("bad-indent", message, line, help))
    message = "a colon followed by a space stands where no key can be"
    return Translated(page.finding("unquoted-colon", message, fault.at, 1, _QUOTES))


def _missing_colon(page: _Page, fault: SyntaxFault) -> Translated:
    return _no_key(page, fault.start[0])


def _no_key(page: _Page, line: int) -> Translated:
    cut = page.cut_off(line)
    if cut:
        return Translated(cut)
    glued = _KEY_GLUED.match(page.text(line))
    if glued:
        return _no_space(page, line, glued)
    help = "a key has a colon and a space after it; text that goes on from the line above is pushed in"
    return Translated(page.line_finding("missing-colon", "this line has no key", line, help))


def _no_space(page: _Page, line: int, glued: re.Match[str]) -> Translated:
    message = f"there is no space after '{glued[1]}:'"
    help = f"write '{glued[1]}: ' before the value"
    finding = page.finding("missing-space", message, (line, glued.end() - 1), 1, help)
    return Translated(finding)


def _colon_in_list(page: _Page, fault: SyntaxFault) -> Translated:
    help = 'a contact takes a dot (A1-J3.7), a key a space after the colon, a time quotes ("1:30")'
    finding = page.finding("colon-in-list", "a colon stands inside brackets", fault.at, 1, help)
    return Translated(finding, Repair(*fault.at, "."))


def _open_quote(page: _Page, fault: SyntaxFault) -> Translated:
    return Translated(_quote(page, fault.start))


def _quote(page: _Page, at: At) -> Finding:
    sign = page.sign(at)
    twin = "; inside them an apostrophe is written twice" if sign == "'" else ""
    return page.finding("open-quote", "the quote that opens here is not closed", at, 1, f"close it with {sign}{twin}")


def _escape(page: _Page, fault: SyntaxFault) -> Translated:
    message = "a backslash in double quotes begins a special character, and this is none"
    help = "use single quotes around the text, or write two backslashes for one"
    return Translated(page.finding("bad-escape", message, fault.at, 2, help), Repair(*fault.at, "."))


def _tab(page: _Page, fault: SyntaxFault) -> Translated:
    at = (fault.at[0], max(page.text(fault.at[0]).find("\t"), 0))
    message = "this line is pushed in with a tab"
    return Translated(page.finding("tab-indent", message, at, 1, "use spaces: two for each level"))


def _odd_start(page: _Page, fault: SyntaxFault) -> Translated:
    """A sign that means something in YAML, at the beginning of unquoted text."""
    sign = page.sign(fault.start)
    if sign == "\t":
        return _tab(page, fault)
    message = f"unquoted text cannot begin with {sign}"
    finding = page.finding("odd-start", message, fault.start, 1, page.way_out(fault.start))
    return Translated(finding, Repair(*fault.start, "x"))


def _directive(page: _Page, fault: SyntaxFault) -> Translated:
    message = "a line cannot begin with %"
    at = (fault.at[0], 0)
    return Translated(page.finding("odd-start", message, at, 1, "delete the line; if it is text, push it in"))


def _after_bar(page: _Page, fault: SyntaxFault) -> Translated:
    sign = page.sign(fault.start)
    message = f"nothing else can stand on the line after {sign}"
    help = f"put the text on the lines below, two spaces in; or put quotes around it if {sign} belongs to it"
    return Translated(page.finding("odd-start", message, fault.start, 1, help))


def _list_on_key_line(page: _Page, fault: SyntaxFault) -> Translated:
    help = "begin the list on the next line, or write it in brackets: [a, b]; put quotes around text"
    return Translated(page.finding("bad-indent", "a list cannot begin on the line of its key", fault.at, 1, help))


def _bracket(page: _Page, fault: SyntaxFault) -> Translated:
    sign = "]" if "sequence" in fault.context else "}"
    line = fault.at[0]
    start = fault.start[0]
    inside = line == start or (line < len(page.lines) and page.indent(line) > page.indent(start))
    if inside and page.sign(fault.at) == ":":
        message = "a colon followed by a space stands inside unquoted text"
        finding = page.finding("unquoted-colon", message, fault.at, 1, _QUOTES)
        return Translated(finding, Repair(*fault.at, "."))
    asked = _QUESTION.search(page.text(line)[: fault.at[1] + 2]) if inside else None
    if asked:
        message = "a question mark ends unquoted text between brackets"
        at = (line, asked.start())
        return Translated(page.finding("unquoted-question", message, at, 1, _QUOTES), Repair(*at, "."))
    if inside and page.sign(fault.at):
        message = f"a comma or {sign} is missing before this"
        help = f"put commas between entries and {sign} at the end; quotes stand around a whole text, not a part"
        return Translated(page.finding("missing-comma", message, fault.at, None, help))
    message = "the bracket that opens here is not closed"
    if _COMMENT.search(page.text(start), fault.start[1]):
        help = f"close it with {sign}; a space and # hide the rest of the line, so put quotes around text with #"
        return Translated(page.finding("open-bracket", message, fault.start, 1, help))
    return Translated(page.finding("open-bracket", message, fault.start, 1, f"close it with {sign}"))


def _stray(page: _Page, fault: SyntaxFault) -> Translated:
    sign = page.sign(fault.at)
    opened = None if sign and sign in ",]}" else page.opened(fault.at[0])
    if opened:
        help = f"close it with {']' if page.sign(opened) == '[' else '}'}"
        message = "the bracket that opens here is not closed"
        return Translated(page.finding("open-bracket", message, opened, 1, help))
    if not sign:
        message = "the file ends inside brackets"
        return Translated(page.finding("open-bracket", message, fault.at, 1, "close every bracket"))
    if sign == ",":
        help = "delete the comma, or write the entry that is missing before it"
        return Translated(page.finding("stray-comma", "there is nothing before this comma", fault.at, 1, help))
    help = "delete it, or write what is missing before it; put quotes around it if it is text"
    message = f"{sign} stands where a value is expected"
    return Translated(page.finding("stray-bracket", message, fault.at, 1, help))


def _misplaced(page: _Page, fault: SyntaxFault) -> Translated:
    """Something where only the next key, list item or the end can be."""
    line, column = fault.at
    text = page.text(line)
    ahead = text[:column].strip()
    if ahead and ahead[-1] in "'\"":
        return Translated(_after_quote(page, fault.at, ahead[-1]))
    if ahead:
        message = "something follows after the closing bracket"
        help = "delete it, or put quotes around the whole"
        return Translated(page.finding("stray-bracket", message, fault.at, None, help))
    cut = page.cut_off(line)
    if cut:
        return Translated(cut)
    if text.lstrip().startswith(":"):
        help = "write the key, or delete the colon"
        return Translated(page.finding("key-not-text", "a key is missing before this colon", fault.at, 1, help))
    above = page.text(page.above(line))
    if above.startswith("..."):
        help = "one record a file: give it its own, and delete the dots"
        return Translated(page.line_finding("several-documents", "a second record begins here", line, help))
    if text.lstrip().startswith("- ") and not above.lstrip().startswith("- "):
        help = "a list stands below its key, with nothing after the key's colon"
        return Translated(page.line_finding("bad-indent", "a list item stands among keys", line, help))
    message = "this line is not lined up with the ones above"
    help = "lines of one level begin at the same column, two spaces in from the level above"
    return Translated(page.line_finding("bad-indent", message, line, help))


def _after_quote(page: _Page, at: At, sign: str) -> Finding:
    line, column = at
    if page.text(line).count(sign, 0, column) % 2:  # opened on a line above: that is the one left open
        above = line - 1
        while above >= 0 and page.text(above).count(sign) % 2 == 0:
            above -= 1
        if above >= 0:
            return _quote(page, (above, page.text(above).rfind(sign)))
    help = "put the quotes around the whole text"
    if sign == "'":
        help += "; inside them an apostrophe is written twice, or use double quotes"
    return page.finding("text-after-quote", "text follows after the closing quote", at, None, help)


# (words of the parser's context, words of its problem, what to make of it); the first that fits.
_RULES: tuple[tuple[str, str, Callable[[_Page, SyntaxFault], Translated]], ...] = (
    ("", "mapping values are not allowed", _colon),
    ("", "found unexpected ':'", _colon_in_list),
    ("", "could not find expected ':'", _missing_colon),
    ("quoted scalar", "end of stream", _open_quote),
    ("quoted scalar", "document indicator", _open_quote),
    ("quoted scalar", "", _escape),
    ("", "tab character", _tab),
    ("", "cannot start any token", _odd_start),
    ("directive", "", _directive),
    ("", "directive", _directive),
    ("", "YAML document", _directive),
    ("flow sequence", "", _bracket),
    ("flow mapping", "", _bracket),
    ("", "did not find expected node content", _stray),
    ("", "did not find expected key", _misplaced),
    ("", "'-' indicator", _misplaced),
    ("", "<document start>", _misplaced),
    ("", "block sequence entries are not allowed", _list_on_key_line),
    ("", "mapping keys are not allowed", _odd_start),
    ("block scalar", "", _after_bar),
    ("anchor", "", _odd_start),
    ("alias", "", _odd_start),
    ("tag", "", _odd_start),
)
