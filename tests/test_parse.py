"""The parse stage: every refusal at its place, every scalar at its own characters, and nothing that a text can break.

Outside check: ruamel.yaml's pure-Python scanner (written apart from the C one that the parser uses) and examples of the
YAML specification, revision 1.2.2.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from benchleaf import parse
from benchleaf.diagnostics import Finding, Place
from benchleaf.nodes import Mapping, Node, Scalar, Sequence
from benchleaf.parse import parse_front_matter, parse_yaml
from benchleaf.reading_codes import READING_CODES
from benchleaf.source import FILE_LIMIT, Source
from benchleaf.syntax import SyntaxFault, translate

DEEP = 100_000

# (code, line, column, end column or None = not on one line; the text)
REFUSALS: list[tuple[str, int, int, int | None, str]] = [
    ("alias", 1, 4, 6, "a: *x\n"),
    ("alias", 1, 5, 7, "a: [*x, b]\n"),
    ("anchor", 1, 4, 6, "a: &x 012\n"),
    ("anchor", 1, 4, 6, "a: &x\n  b: c\n"),
    ("anchor", 1, 4, 6, "a: &x [b]\n"),
    ("tag", 1, 4, 6, "a: !t b\n"),
    ("tag", 1, 4, 9, "a: !!str 012\n"),
    ("tag", 1, 4, 5, "a: ! b\n"),
    ("tag", 1, 4, 10, "a: !<tag> b\n"),
    ("tag", 1, 1, None, "%TAG ! tag:x,2000:\n---\na: b\n"),
    ("double-key", 2, 1, 2, "a: b\na: c\n"),
    ("double-key", 1, 8, 11, 'a: {b, "b": c}\n'),
    ("double-key", 3, 1, 5, 'aa: b\nc: d\n"aa": e\n'),
    ("merge-key", 1, 1, 3, "<<: b\nc: d\n"),
    ("several-documents", 2, 1, 4, "a: b\n---\nc: d\n"),
    ("several-documents", 3, 1, 5, "a: b\n...\nc: d\n"),
    ("key-not-text", 1, 1, 4, "[a]: b\n"),
    ("key-not-text", 1, 3, 6, "? [a]\n: b\n"),
    ("key-not-text", 1, 1, 7, "{a: b}: c\n"),
    ("key-not-text", 2, 1, 2, "a: b\n: c\n"),
    ("switch-word-key", 1, 1, 3, "on: b\n"),
    ("switch-word-key", 1, 5, 7, "a: {NO: b}\n"),
    ("switch-word-key", 2, 3, 4, "a:\n  Y: b\n"),
    ("too-deep", 1, 41, 42, "[" * DEEP),
    ("too-deep", 1, 41, 42, "[" * DEEP + "]" * DEEP),
    ("too-deep", 1, 41, 42, "{" * DEEP),
    ("too-deep", 1, 161, 162, "{a: " * DEEP),
    ("too-deep", 1, 81, 82, "- " * DEEP),
    ("too-deep", 1, 81, 82, "? " * DEEP),
    ("too-deep", 41, 41, 42, "\n".join(" " * depth + "a:" for depth in range(1_000))),
    ("control-character", 1, 5, 6, "a: b\0c\n"),
    ("control-character", 2, 4, 5, "a: b\nc: \x1b[31m\n"),
    ("control-character", 1, 4, 5, "a: \x85b\n"),
    ("control-character", 1, 5, 6, "a: b\u2028c\n"),
    ("control-character", 1, 5, 6, "a: b\ufeffc\n"),
    ("control-character", 1, 4, 5, "a: \ud800\n"),
    ("merge-conflict", 2, 1, 13, "a: b\n<<<<<<< mine\nc: d\n=======\nc: e\n>>>>>>> yours\n"),
    ("empty-file", 1, 1, None, ""),
    ("empty-file", 1, 1, None, " \n\n"),
    ("empty-file", 1, 1, None, "# nothing yet\n"),
    ("empty-file", 1, 1, None, "---\n"),
    ("file-too-large", 1, 1, None, "a: b\n" * (FILE_LIMIT // 5 + 1)),
    ("tab-indent", 2, 1, 2, "a:\n\tb: c\n"),
    ("tab-indent", 2, 3, 4, "a:\n  \tb: c\n"),
    ("tab-indent", 2, 1, 2, "a: b\n\tc\n"),
    ("tab-indent", 2, 1, 2, "a: [b,\n\tc]\n"),
    ("tab-indent", 2, 1, 2, "a: |\n\tb\n"),
    ("list-in-text", 2, 3, 4, "a: b\n  - c\n"),
    ("unquoted-colon", 1, 16, 17, "text: take care: hot\n"),
    ("unquoted-question", 1, 21, 22, "a: {tell: Is it blue?, b: c}\n"),
    ("unquoted-colon", 2, 13, 14, "steps:\n  - title: a: b\n"),
    ("unquoted-colon", 1, 9, 10, "a: {b: c: d}\n"),
    ("unquoted-colon", 1, 5, 6, "a: b:\n"),
    ("unquoted-colon", 1, 5, 6, "a: b: 1, c: 2, d: 3}\n"),
    ("colon-in-list", 1, 10, 11, "a: [A1-J3:7, b]\n"),
    ("colon-in-list", 1, 6, 7, "a: {b:c}\n"),
    ("missing-space", 1, 2, 3, "a:b\nc: d\n"),
    ("missing-space", 2, 2, 3, "a: b\nc:d\ne: f\n"),
    ("missing-colon", 2, 1, 6, "a: b\ntitle\nc: d\n"),
    ("missing-colon", 1, 1, 6, "title\nc: d\n"),
    ("missing-comma", 1, 9, None, 'a: ["b" c]\n'),
    ("missing-comma", 2, 3, None, "a: ['b'\n  'c']\n"),
    ("open-bracket", 1, 4, 5, "a: [b, c\nd: e\n"),
    ("open-bracket", 1, 4, 5, "a: {b: c\nd: e\n"),
    ("open-bracket", 1, 6, 7, "key: [a, b\n"),
    ("open-bracket", 1, 4, 5, "a: [\n"),
    ("open-bracket", 3, 16, 17, "a:\n  - b: [c]\n    on-return: [\n  - d: e\n"),
    ("stray-comma", 1, 7, 8, "a: [b,,c]\n"),
    ("stray-bracket", 1, 4, 5, "a: ]\n"),
    ("stray-bracket", 1, 8, None, "a: [b] c\n"),
    ("stray-bracket", 1, 16, None, "a: {b: 1, c: 2}}\n"),
    ("open-quote", 1, 4, 5, "a: 'b\nc: d\n"),
    ("open-quote", 1, 4, 5, 'a: "b\nc: d\n'),
    ("open-quote", 1, 4, 5, "a: 'b\nc: 'd'\n"),
    ("text-after-quote", 1, 8, None, "a: 'it's'\n"),
    ("text-after-quote", 1, 8, None, 'a: "5" tall"\n'),
    ("bad-escape", 1, 5, 7, 'a: "\\d"\n'),
    ("odd-start", 1, 4, 5, "a: @b\n"),
    ("odd-start", 1, 4, 5, "a: `b`\n"),
    ("odd-start", 1, 4, 5, "a: %b\n"),
    ("odd-start", 1, 4, 5, "a: & b\n"),
    ("odd-start", 1, 4, 5, "a: > 5 V\n"),
    ("odd-start", 1, 4, 5, "a: ? b\n"),
    ("odd-start", 2, 1, 2, "a: b\n%\n"),
    ("odd-start", 1, 1, 2, "%YAML 3.0\n---\na: b\n"),
    ("odd-start", 2, 1, 2, "%YAML 1.2\n%YAML 1.2\n---\na: b\n"),
    ("bad-indent", 2, 3, 7, "a: b\n  c: d\n"),
    ("bad-indent", 3, 2, 6, "a:\n  b: 1\n c: 2\n"),
    ("bad-indent", 3, 2, 3, "a: |\n  x\n y\n"),
    ("bad-indent", 2, 1, 4, "a: b\n- c\n"),
    ("bad-indent", 1, 4, 5, "a: - b\n"),
    ("comment-in-text", 1, 6, 9, "a: b # c\n  d\n"),
]


@pytest.mark.parametrize(("code", "line", "column", "end", "text"), REFUSALS, ids=lambda value: repr(value)[:30])
def test_what_a_record_may_not_use_is_refused_at_its_place(
    code: str, line: int, column: int, end: int | None, text: str
) -> None:
    _, findings = parse_yaml(Source("oven.yaml", text))
    assert [finding.code for finding in findings] == [code]
    place = findings[0].place
    assert (place.file, place.line, place.column, place.end_column) == ("oven.yaml", line, column, end)
    assert findings[0].is_error
    assert findings[0].help, "a refusal says the way out"


FRONT_MATTER_CODES = {"front-matter-missing", "front-matter-open"}
# Their cases stand in tests/edges/test_files.py.
FOLDER_CODES = {
    *["content-missing", "dead-link", "file-ending", "folder-link", "folder-too-deep", "library-too-large"],
    *["link-leaves-content", "names-clash", "not-a-file", "not-a-picture", "not-utf-8", "odd-file-name"],
    "unreadable-file",
}


def test_every_code_of_reading_is_explained_and_has_a_case_here() -> None:
    own = {case[0] for case in REFUSALS} | FRONT_MATTER_CODES | {"broken-yaml", "more-mistakes"}
    assert own | FOLDER_CODES == set(READING_CODES)


def test_a_fault_nobody_has_words_for_is_still_a_finding_at_its_place() -> None:
    found = translate(SyntaxFault("gone wrong", (1, 2), "", (1, 2)), ["a: b", "  c"], "x.yaml", 5).finding
    assert (found.code, found.place) == ("broken-yaml", Place("x.yaml", 6, 3))


def test_a_hundred_mistakes_are_enough() -> None:
    _, findings = parse_yaml(Source("x.yaml", "a: {" + "b, " * 5_000 + "b}\n"))
    assert len(findings) == 101
    assert {finding.code for finding in findings} == {"double-key", "more-mistakes"}


def test_a_tag_and_an_anchor_before_one_value_are_refused_each_at_its_own_place() -> None:
    _, findings = parse_yaml(Source("x.yaml", "a: !t &x b\n"))
    assert [(f.code, f.place.column, f.place.end_column) for f in findings] == [("tag", 4, 6), ("anchor", 7, 9)]


def test_a_double_key_points_at_the_first() -> None:
    _, findings = parse_yaml(Source("x.yaml", "a:\n  b: 1\n  b: 2\n"))
    assert findings[0].related == ((Place("x.yaml", 2, 3, 4), "first written here"),)


@pytest.mark.parametrize("key", ["on", "off", "yes", "no", "y", "n", "On", "OFF", "Yes", "nO", "Y", "N"])
def test_a_switch_word_is_a_good_key_in_quotes_and_a_good_value_without(key: str) -> None:
    node, findings = parse_yaml(Source("x.yaml", f'"{key}": {key}\n'))
    assert findings == ()
    assert _plain(node) == {key: key}
    _, findings = parse_yaml(Source("x.yaml", f"{key}: a\n"))
    assert [finding.code for finding in findings] == ["switch-word-key"]


def test_nesting_of_forty_is_read() -> None:
    node, findings = parse_yaml(Source("x.yaml", "[" * 40 + "]" * 40))
    assert findings == ()
    assert isinstance(node, Sequence)


# Typed → the scalar's text. Left column of YAML 1.2.2, 10.3.2 (core schema) where it would be something else than text.
TYPED = [
    *["012", "0o14", "0x1F", "1e3", "1_000", "12e03", ".inf", ".NaN", "~", "null", "true", "false", "no", "yes", "on"],
    *["off", "2026-02-11", "2026-02-11T10:00:00Z", "1:30", "0.5", "+12"],
    *["0.6 N·m", "150 uF ± 20 %", "0500..0899", "it's", 'a "b" c', "100 Ω", "a#b", "-5 V", "a:b", "日本語", "Ω" * 300],
]


@pytest.mark.parametrize("typed", TYPED)
def test_a_plain_value_is_the_characters_typed(typed: str) -> None:
    node, findings = parse_yaml(Source("x.yaml", f"a: {typed}\n"))
    assert findings == ()
    assert isinstance(node, Mapping)
    value = node.get("a")
    assert value == Scalar(typed, Place("x.yaml", 1, 4, 4 + len(typed)))
    assert value is not None
    assert value.place.end_column == 4 + len(typed)


# YAML 1.2.2, examples with their number there.
PUBLISHED: list[tuple[str, str, Any]] = [
    ("2.2", "hr:  65    # Home runs\navg: 0.278 # Batting average\nrbi: 147   # Runs Batted In\n",
     {"hr": "65", "avg": "0.278", "rbi": "147"}),
    ("2.13", "# ASCII Art\n--- |\n  \\//||\\/||\n  // ||  ||__\n", "\\//||\\/||\n// ||  ||__\n"),
    ("2.18", "plain:\n  This unquoted scalar\n  spans many lines.\n\nquoted: \"So does this\n  quoted scalar.\\n\"\n",
     {"plain": "This unquoted scalar spans many lines.", "quoted": "So does this quoted scalar.\n"}),
    ("8.2", "- |\n detected\n- >\n \n  \n  # detected\n- |1\n  explicit\n",
     ["detected\n", "\n\n# detected\n", " explicit\n"]),
    ("8.4", "strip: |-\n  text\nclip: |\n  text\nkeep: |+\n  text\n",
     {"strip": "text", "clip": "text\n", "keep": "text\n"}),
]  # fmt: skip


@pytest.mark.parametrize(("number", "text", "expected"), PUBLISHED, ids=[case[0] for case in PUBLISHED])
def test_examples_of_the_yaml_specification_are_read_as_it_says(number: str, text: str, expected: Any) -> None:
    node, findings = parse_yaml(Source("x.yaml", text))
    assert findings == ()
    assert _plain(node) == expected


def test_a_place_covers_the_quotes_of_quoted_text_and_the_sign_of_a_block() -> None:
    node, _ = parse_yaml(Source("x.yaml", "a: 'b c'\nd: |\n  e\nf: \"g\n  h\"\n"))
    assert isinstance(node, Mapping)
    places = [(value.place.line, value.place.column, value.place.end_column) for _, value in node.entries]
    assert places == [(1, 4, 9), (2, 4, 5), (4, 4, None)]
    assert [value.style for _, value in node.entries if isinstance(value, Scalar)] == ["quoted", "block", "quoted"]


def test_a_place_covers_the_brackets_of_a_list_on_one_line() -> None:
    node, _ = parse_yaml(Source("x.yaml", "a: [b, {c: d}]\ne:\n  - f\n"))
    assert isinstance(node, Mapping)
    flow, block = node.get("a"), node.get("e")
    assert isinstance(flow, Sequence)
    assert isinstance(block, Sequence)
    assert (flow.flow, flow.place.column, flow.place.end_column) == (True, 4, 15)
    assert (flow.items[1].place.column, flow.items[1].place.end_column) == (8, 14)
    assert (block.flow, block.place.line, block.place.column, block.place.end_column) == (False, 3, 3, None)


@pytest.mark.parametrize(
    ("text", "column", "end"),
    [
        ("a: b # c d\n", 6, 11),
        ("a: b\t# c\n", 6, 9),
        ("a: # c\n", 4, 7),
        ("a:\n  - b  # c\n", 8, 11),
        ("a: [b # c\n  ]\n", 7, 10),
    ],
)
def test_a_comment_after_unquoted_text_is_noted_where_it_stands(text: str, column: int, end: int) -> None:
    node, findings = parse_yaml(Source("x.yaml", text))
    assert findings == ()
    comments = [scalar.comment_after for scalar in _scalars(node) if scalar.comment_after]
    assert [(comment.column, comment.end_column) for comment in comments] == [(column, end)]


@pytest.mark.parametrize("text", ["a: 'b' # c\n", "a: |  # c\n  b\n", "a: b#c\n", "# c\na: b\n# d\n", "a: [b] # c\n"])
def test_a_comment_that_ends_no_unquoted_text_is_not_noted(text: str) -> None:
    node, findings = parse_yaml(Source("x.yaml", text))
    assert findings == ()
    assert [scalar for scalar in _scalars(node) if scalar.comment_after] == []


def test_every_mistake_of_a_file_is_found_in_one_run() -> None:
    text = (
        "title: Take care: hot\n"
        "at: [A1-J3:7]\n"
        "on: b\n"
        "x: @y\n"
        "steps:\n"
        "  - title: One\n"
        "    do: [loosen: a\n"
        "next: c: d\n"
        "last: 'x' y\n"
    )
    _, findings = parse_yaml(Source("x.yaml", text))
    assert [(finding.code, finding.place.line) for finding in findings] == [
        ("unquoted-colon", 1),
        ("colon-in-list", 2),
        ("switch-word-key", 3),
        ("odd-start", 4),
        ("open-bracket", 7),
        ("unquoted-colon", 8),
        ("text-after-quote", 9),
    ]


def test_mistakes_further_in_are_found_behind_one_that_cannot_be_mended() -> None:
    text = (
        "steps:\n"
        "  - title: One\n"
        "     text: too far in\n"
        "  - title: Two: x\n"
        "    do:\n"
        "      - 'a' b\n"
        "      - c\n"
        "    text: 'd' e\n"
        "    note: f\n"
        "  - title: 'g' h\n"
        "issue: {number: 1\n"
        "last: [a, b\n"
        "end: i\n"
    )
    _, findings = parse_yaml(Source("x.yaml", text))
    assert [(finding.code, finding.place.line) for finding in findings] == [
        ("bad-indent", 3),
        ("unquoted-colon", 4),
        ("text-after-quote", 6),
        ("text-after-quote", 8),
        ("text-after-quote", 10),
        ("open-bracket", 11),
        ("open-bracket", 12),
    ]


def test_what_is_right_behind_a_mistake_is_not_blamed() -> None:
    text = "a: 'b' c\nlist:\n- d: 'e' f\n- g\n# h\n- i: [j\n- k\n\nl:\n- mm\np: |\n  o: 'p' q\nr: s\n"
    _, findings = parse_yaml(Source("x.yaml", text))
    assert [(finding.code, finding.place.line) for finding in findings] == [
        ("text-after-quote", 1),
        ("text-after-quote", 3),
        ("open-bracket", 6),
    ]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("text: a: b\n", "'text: |'"),
        ("  - text: a: b\n", "'text: |'"),
        ("a: {b: c: d}\n", "put quotes around the text"),
        ("do: loosen: a, slide: b]\n", "open the bracket that ] closes"),
        ("a: {b: c #1}\nd: e\n", "put quotes around text with #"),
        ("a: [A1-J3:7]\n", "A1-J3.7"),
        ("a: 'b\n", "close it with '"),
    ],
)
def test_the_way_out_names_what_to_type(text: str, words: str) -> None:
    _, findings = parse_yaml(Source("x.yaml", text))
    assert words in findings[0].help


def test_a_mended_mistake_leaves_the_characters_typed_in_the_node() -> None:
    node, findings = parse_yaml(Source("x.yaml", "text: take care: hot\nat: [A1-J3:7]\nx: @y\n"))
    assert len(findings) == 3
    assert _plain(node) == {"text": "take care: hot", "at": ["A1-J3:7"], "x": "@y"}


def test_a_text_that_is_part_of_a_file_has_the_lines_of_the_file() -> None:
    node, findings = parse_yaml(Source("x.md", "a: b\na: c\nd: *e\n"), first_line=11)
    assert [finding.place.line for finding in findings] == [12, 13]
    assert node is not None
    assert node.place.line == 11


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_a_byte_order_mark_change_nothing(end: str, mark: str) -> None:
    text = "a: |\n  b\n  c\nd: 'e'\n"
    assert parse_yaml(Source("x.yaml", mark + text.replace("\n", end))) == parse_yaml(Source("x.yaml", text))


def test_front_matter_gives_the_record_and_the_prose_with_their_places() -> None:
    node, prose, findings = parse_front_matter(
        Source("e.md", '---\ncode: "07"\nmeans: low\n---\n\nFirst: a # b\n\nx\n\n')
    )
    assert findings == ()
    assert _plain(node) == {"code": "07", "means": "low"}
    assert node is not None
    assert node.place.line == 2
    assert prose == "First: a # b\n\nx"
    assert prose is not None
    assert prose.place == Place("e.md", 6, 1)


@pytest.mark.parametrize(
    ("text", "code", "line"),
    [
        ("code: 07\n", "front-matter-missing", 1),
        ("\n---\ncode: 07\n---\n", "front-matter-missing", 1),
        ("---\ncode: 07\nprose\n", "front-matter-open", 1),
        ("---\n---\nprose\n", "empty-file", 2),
        ("---\ncode: 07\ncode: 08\n---\nprose\n", "double-key", 3),
        ("---\ncode: 07\n---\nprose \x1b\n", "control-character", 4),
        ("---\ncode: 07\n---\na\n<<<<<<< mine\nb\n", "merge-conflict", 5),
        ("", "empty-file", 1),
    ],
)
def test_broken_front_matter_is_refused_at_its_line(text: str, code: str, line: int) -> None:
    _, _, findings = parse_front_matter(Source("e.md", text))
    assert [(finding.code, finding.place.line) for finding in findings] == [(code, line)]


@pytest.mark.parametrize("text", ["---\na: b\n---\n", "---\na: b\n---", "---\na: b\n---\n\n \n"])
def test_a_code_without_prose_has_an_empty_one(text: str) -> None:
    node, prose, findings = parse_front_matter(Source("e.md", text))
    assert (_plain(node), prose, findings) == ({"a": "b"}, "", ())


def test_prose_may_have_lines_of_dashes() -> None:
    _, prose, findings = parse_front_matter(Source("e.md", "---\na: b\n---\nx\n\n---\n\ny\n"))
    assert (prose, findings) == ("x\n\n---\n\ny", ())


# Long lines and many lines that would cost the square of their length if looked at carelessly; a reader that does so
# needs hours for these, so the suite would never end.
BOMBS = [
    "a: b\n  " + "- " * 900_000 + "\n c: d",
    "[" + "a,\t" * 400_000,
    "\ta: b\n" * 300_000,
    "{" + "a," * 600_000,
    "a: " + "b: " * 600_000,
    "a: '" + "x\n" * 900_000,
    "a: b" + " " * 1_900_000 + "#",
    "&a " * 600_000,
    "a:\n" + "  - &x b\n" * 100_000,
    "%TAG " * 300_000,
    '"' * 1_900_000,
    "!" * 1_900_000,
    "<<<<<<<\n" * 200_000,
    "\0" * 1_900_000,
    "a: [\n" * 300_000,
]


@pytest.mark.parametrize("text", BOMBS, ids=lambda text: repr(text[:12]))
def test_no_text_keeps_the_reader_busy(text: str) -> None:
    node, findings = parse_yaml(Source("x.yaml", text))
    assert node is not None or findings
    assert len(findings) <= 101 + parse.READINGS_LIMIT


# --- properties -------------------------------------------------------------------------------------------------------

PIECES = [
    *[
        "a: ",
        "b",
        "- ",
        "\n",
        "\n  ",
        "\n    ",
        "[",
        "]",
        "{",
        "}",
        ", ",
        ": ",
        ":",
        "'",
        '"',
        " # x",
        "#",
        "|\n",
        "> ",
    ],
    *["&x ", "*x", "!t ", "? ", "%", "@", "`", "\\", "\t", "---\n", "...\n", "<<: ", "no", "é", "日", "  ", "1", "\\n"],
    *[
        "|-\n",
        "'a'",
        "~",
        "|2\n",
        "%TAG ! x\n",
        "\r\n",
        "\0",
        "\x85",
        "\u2028",
        "\ufeff",
        "<<<<<<< x\n",
        "🔩",
        "e\u0301",
    ],
]
junk = st.one_of(st.lists(st.sampled_from(PIECES), max_size=16).map("".join), st.text(max_size=60))

words = st.text(st.sampled_from("ab0 1-_.'\"#:,é日"), min_size=1, max_size=12).map(str.strip).filter(bool)


@settings(max_examples=300, deadline=None)
@given(junk)
@example("\ta: \n\t")
@example("- \t")
@example("&x : ")
def test_junk_is_read_or_refused_inside_the_file(text: str) -> None:
    node, findings = parse_yaml(Source("x.yaml", text))
    assert node is not None or findings
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    for finding in findings:
        _inside(finding, lines)
    for scalar in _scalars(node):
        assert 1 <= scalar.place.line <= len(lines)


@settings(max_examples=150, deadline=None)
@given(junk)
def test_junk_before_and_in_front_matter_is_read_or_refused(text: str) -> None:
    for whole in (text, f"---\n{text}\n---\n{text}"):
        node, prose, findings = parse_front_matter(Source("x.md", whole))
        assert (node is not None and prose is not None) or findings


@settings(max_examples=300, deadline=None)
@given(junk)
def test_every_scalar_stands_at_its_own_characters(text: str) -> None:
    node, findings = parse_yaml(Source("x.yaml", text))
    if findings:
        return
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    for scalar in _scalars(node):
        _at_its_characters(scalar, lines)


CONTENT = Path(__file__).parent.parent / "content"
DEMO = [
    Source(path.relative_to(CONTENT).as_posix(), path.read_text("utf-8"))
    for path in sorted(CONTENT.rglob("*"))
    if path.suffix in (".yaml", ".md")
]


def _read(source: Source) -> tuple[Node | None, tuple[Finding, ...]]:
    if source.path.endswith(".md"):
        node, _, findings = parse_front_matter(source)
        return node, findings
    return parse_yaml(source)


@pytest.mark.parametrize("source", DEMO, ids=lambda source: source.path)
def test_every_scalar_of_a_demo_record_stands_at_its_own_characters(source: Source) -> None:
    node, _ = _read(source)
    scalars = list(_scalars(node))
    assert scalars
    for scalar in scalars:
        _at_its_characters(scalar, source.lines)


@settings(max_examples=200, deadline=None)
@given(st.data())
def test_a_slip_in_a_demo_record_is_read_or_refused(data: st.DataObject) -> None:
    source = data.draw(st.sampled_from(DEMO))
    start = data.draw(st.integers(0, len(source.text)))
    length = data.draw(st.sampled_from([0, 0, 1, 2, 10, 200]))
    text = source.text[:start] + data.draw(st.sampled_from(PIECES)) + source.text[start + length :]
    node, findings = _read(Source(source.path, text))
    assert node is not None or findings
    for finding in findings:
        _inside(finding, text.replace("\r\n", "\n").replace("\r", "\n").split("\n"))


@st.composite
def written(draw: st.DrawFn) -> str:
    """A record as somebody might write it: groups, lists, brackets, quotes, blocks and comments."""
    lines: list[str] = []
    for number in range(draw(st.integers(1, 5))):
        key = f"k{number}"
        kind = draw(st.integers(0, 6))
        word = draw(words)
        comment = draw(st.sampled_from(["", " # c", "   # é: x"]))
        if kind == 0:
            lines.append(f"{key}: v{word.replace(': ', ' ').replace(' #', ' ').rstrip(':')}{comment}")
        elif kind == 1:
            lines.append(f"{key}: '{word.replace(chr(39), chr(39) * 2)}'{comment}")
        elif kind == 2:
            lines += [f"{key}: {draw(st.sampled_from(['|', '>', '|-', '>+']))}", f"  {word}", "", f"    {word}", "  z"]
        elif kind == 3:
            lines += [f"{key}:", f"  - {number}{comment}", f"  - {{x: '{number}', \"z\": [a b, 012]}}"]
        elif kind == 4:
            lines += [f"{key}: one", "  two", "", "  three"]
        elif kind == 5:
            lines += [f"{key}:", f"  z{number}:", f"    - w: no{comment}", "      v: 1e3"]
        else:
            lines.append(f"{key}:{comment}")
    return "\n".join(lines) + draw(st.sampled_from(["", "\n", "\n\n# end\n"]))


@settings(max_examples=200, deadline=None)
@given(written())
def test_what_is_read_is_what_another_yaml_reader_reads(text: str) -> None:
    node, findings = parse_yaml(Source("x.yaml", text))
    assert findings == ()
    assert _plain(node) == YAML(typ="base", pure=True).load(text)
    for scalar in _scalars(node):
        _at_its_characters(scalar, text.split("\n"))


def _plain(node: Node | None) -> Any:
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Sequence):
        return [_plain(item) for item in node.items]
    return None if node is None else {key.text: _plain(value) for key, value in node.entries}


def _scalars(node: Node | None) -> Iterator[Scalar]:
    if isinstance(node, Scalar):
        yield node
    elif isinstance(node, Sequence):
        for item in node.items:
            yield from _scalars(item)
    elif node is not None:
        for key, value in node.entries:
            yield key
            yield from _scalars(value)


def _inside(finding: Finding, lines: list[str]) -> None:
    place = finding.place
    assert 1 <= place.line <= len(lines)
    assert 1 <= place.column <= len(lines[place.line - 1]) + 1
    assert place.end_column is None or place.end_column >= place.column


def _at_its_characters(scalar: Scalar, lines: list[str]) -> None:
    place = scalar.place
    rest = lines[place.line - 1][place.column - 1 :] if place.line <= len(lines) else ""
    if place.end_column is None:
        assert scalar.style != "block"
        first = rest.split(" #")[0].strip()
        assert scalar.style == "quoted" or scalar.text.startswith(first)
        return
    shown = rest[: place.end_column - place.column]
    if scalar.style == "plain":
        assert shown == scalar.text
    elif scalar.style == "block":
        assert shown in "|>"
    else:
        assert shown[0] == shown[-1]
        assert shown[0] in "'\""
        assert YAML(typ="base", pure=True).load(shown) == scalar.text
    if scalar.comment_after:
        comment = scalar.comment_after
        assert lines[comment.line - 1][comment.column - 1] == "#"
