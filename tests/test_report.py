"""Findings as printed: the exact form, the caret below the right column, and nothing an author typed gets obeyed."""

from __future__ import annotations

import json
import re
import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchleaf import report
from benchleaf.diagnostics import Finding, Place, Severity
from benchleaf.report import exit_code, printable, render_ci, render_json, render_text, summary
from benchleaf.source import Source

OVEN = Source("oven.yaml", "record: machine\nitems:\n  belt:\n    behind: [rear-gard]\n")
UNKNOWN = Finding(
    "unknown-item", "'rear-gard' is not an item of b600", Place("oven.yaml", 4, 14, 23), "did you mean 'rear-guard'?"
)
DOUBTFUL = Finding("no-torque", "no torque", Place("oven.yaml", 3, 3), severity=Severity.WARNING)


def test_a_finding_is_printed_with_its_line_a_caret_and_the_way_out() -> None:
    assert render_text([UNKNOWN], [OVEN]) == (
        "oven.yaml:4:14: error[unknown-item]: 'rear-gard' is not an item of b600\n"
        "    4 |     behind: [rear-gard]\n"
        "      |              ^^^^^^^^^\n"
        "  help: did you mean 'rear-guard'?\n"
        "\n"
        "1 error, 0 warnings in 1 file\n"
    )


def test_a_finding_with_other_places_shows_them_too() -> None:
    finding = Finding(
        "double-key", "'a' again", Place("x.yaml", 2, 1, 2), related=((Place("x.yaml", 1, 1, 2), "first here"),)
    )
    assert render_text([finding], [Source("x.yaml", "a: b\na: c")]) == (
        "x.yaml:2:1: error[double-key]: 'a' again\n"
        "    2 | a: c\n"
        "      | ^\n"
        "  x.yaml:1:1: first here\n"
        "    1 | a: b\n"
        "      | ^\n"
        "\n"
        "1 error, 0 warnings in 1 file\n"
    )


def test_findings_stand_in_order_each_once() -> None:
    text = render_text([UNKNOWN, DOUBTFUL, UNKNOWN], [OVEN])
    assert [line.split(" ")[0] for line in text.split("\n") if "[" in line and ": " in line and "|" not in line] == [
        "oven.yaml:3:3:",
        "oven.yaml:4:14:",
    ]
    assert text.endswith("\n\n1 error, 1 warning in 1 file\n")


def test_without_findings_there_is_the_summary() -> None:
    assert render_text([], [OVEN, Source("b.yaml", "")]) == "0 errors, 0 warnings in 2 files\n"


@pytest.mark.parametrize(
    ("findings", "files", "text"),
    [
        ([], 1, "0 errors, 0 warnings in 1 file"),
        ([UNKNOWN, DOUBTFUL], 14, "1 error, 1 warning in 14 files"),
        ([UNKNOWN, UNKNOWN], 14, "1 error, 0 warnings in 14 files"),
        ([Finding("a", str(n), Place("x")) for n in range(1_200)], 10_000, "1,200 errors, 0 warnings in 10,000 files"),
    ],
)
def test_the_summary_counts(findings: list[Finding], files: int, text: str) -> None:
    assert summary(findings, files) == text


def test_a_finding_about_a_file_has_no_line_below_it() -> None:
    finding = Finding("names-clash", "two", Place("photos/A.jpg", 1, 1), "rename one")
    assert render_text([finding], [OVEN]).split("\n")[:2] == [
        "photos/A.jpg:1:1: error[names-clash]: two",
        "  help: rename one",
    ]


def test_a_help_of_several_lines_is_lined_up() -> None:
    finding = Finding("a", "b", Place("x"), "write\ntext: |\n  so")
    lines = render_text([finding], []).split("\n")
    assert lines[1:4] == ["  help: write", "        text: |", "          so"]


# (line of the file, column, end column, what is shown, where the carets stand)
CARETS: list[tuple[str, int, int | None, str, str]] = [
    ("a: b", 4, 5, "a: b", "   ^"),
    ("a: bcd e", 4, None, "a: bcd e", "   ^^^"),
    ("a: [b, c]", 5, None, "a: [b, c]", "    ^"),
    ("a:", 3, 3, "a:", "  ^"),
    ("\ta: b", 2, 3, "    a: b", "    ^"),
    ("a:\tb", 4, 5, "a:  b", "    ^"),
    ("a:\tb", 3, 4, "a:  b", "  ^^"),
    ("日本: b", 5, 6, "日本: b", "      ^"),
    ("日本: b", 1, 3, "日本: b", "^^^^"),
    ("e\u0301e\u0301: b", 7, 8, "e\u0301e\u0301: b", "    ^"),
    ("e\u0301: b", 1, 3, "e\u0301: b", "^"),
    ("e\u0301: b", 2, 3, "e\u0301: b", "^"),
    ("a\x1b[0m: b", 8, 9, "a\\x1b[0m: b", "          ^"),
    ("a: b", 99, 100, "a: b", "    ^"),
    ("a: b", 2, 99, "a: b", " ^^^"),
    ("a: b\x00c", 5, 6, "a: b\\x00c", "    ^^^^"),
    ("🔩: b", 4, 5, "🔩: b", "    ^"),
]


@pytest.mark.parametrize(("line", "column", "end", "shown", "carets"), CARETS, ids=range(len(CARETS)))
def test_the_caret_stands_below_the_characters_meant(
    line: str, column: int, end: int | None, shown: str, carets: str
) -> None:
    finding = Finding("a", "b", Place("x", 1, column, end))
    lines = render_text([finding], [Source("x", line)]).split("\n")
    assert lines[1] == f"    1 | {shown}"
    assert lines[2] == f"      | {carets}"


@pytest.mark.parametrize("at", [0, 1, 40, 150, 298, 299])
@pytest.mark.parametrize("width", [40, 80, 100, 200])
def test_a_long_line_is_cut_around_the_caret(at: int, width: int) -> None:
    text = "".join(f"{number:03x}" for number in range(100))  # no part of it comes twice
    finding = Finding("a", "b", Place("x", 1, at + 1, at + 2))
    _, shown, caret, *_ = render_text([finding], [Source("x", text)], width=width).split("\n")
    assert len(shown) <= width
    assert shown[caret.index("^")] == text[at]
    part = shown[8:].strip("…")
    assert width - 11 <= len(part) <= width - 9
    assert text.startswith(part) != shown[8:].startswith("…")
    assert text.endswith(part) != shown.endswith("…")
    assert caret.count("^") == 1


def test_a_mark_longer_than_the_screen_begins_at_its_first_character() -> None:
    finding = Finding("a", "b", Place("x", 1, 51, 1_000))
    _, shown, caret, *_ = render_text([finding], [Source("x", "x" * 50 + "Y" + "z" * 2_000)], width=60).split("\n")
    assert shown[caret.index("^")] == "Y"
    assert len(caret) <= 60


def test_a_line_of_two_million_characters_is_shown_in_part() -> None:
    finding = Finding("a", "b", Place("x", 1, 1_000_001, 1_000_002))
    text = render_text([finding], [Source("x", "y" * 1_000_000 + "Z" + "y" * 1_000_000)])
    assert len(text) < 400
    assert "Z" in text


@settings(max_examples=300, deadline=None)
@given(st.text(st.sampled_from("ab \t日e\u0301\x1b\u202e🔩,[]"), max_size=120), st.integers(1, 130), st.integers(0, 9))
def test_carets_never_leave_the_screen_and_nothing_is_obeyed(line: str, column: int, length: int) -> None:
    finding = Finding("a", line, Place("x", 1, column, column + length), line)
    text = render_text([finding], [Source("x", line)], width=60)
    for shown in text.split("\n")[1:3]:
        if "|" in shown:
            assert _width(shown) <= 60
    assert not _obeyed(text)


def _width(text: str) -> int:
    return sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in text)


def _obeyed(text: str) -> list[str]:
    return [c for c in text if c != "\n" and unicodedata.category(c) in ("Cc", "Zl", "Zp", "Cs", "Cf")]


HOSTILE = "\x1b[31mred\x07 \r\n::error::no\u202e \u2028 \x9b2J \x7f \ud800 \ufeff"


def test_nothing_an_author_typed_can_be_obeyed_by_a_terminal() -> None:
    place = Place(HOSTILE, 1, 1)
    finding = Finding("code", HOSTILE, place, HOSTILE, related=((place, HOSTILE),))
    for text in (render_text([finding], [Source(HOSTILE, HOSTILE)]), render_ci([finding]), render_json([finding])):
        assert not _obeyed(text)
        text.encode("utf-8")
    assert render_ci([finding]).count("\n") == 1
    assert "\\x1b[31mred\\x07" in render_text([finding], [])


def test_only_what_hides_or_is_obeyed_is_written_out() -> None:
    assert printable("Größe 12 Ω ≤ 日本 🔩 e\u0301") == "Größe 12 Ω ≤ 日本 🔩 e\u0301"
    assert printable("\x1b\x00\x9b\u202e\u2066\ud800\n\t\u00ad") == "\\x1b\\x00\\x9b\\u202e\\u2066\\ud800\\n\\t\\xad"


def test_colours_change_nothing_but_colours() -> None:
    plain = render_text([UNKNOWN, DOUBTFUL], [OVEN])
    coloured = render_text([UNKNOWN, DOUBTFUL], [OVEN], colour=True)
    assert "\x1b[" in coloured
    assert "\x1b" not in plain
    assert re.sub("\x1b\\[[0-9;]*m", "", coloured) == plain


def test_json_has_every_part_of_a_finding() -> None:
    related = Finding("double-key", "again Ω", Place("b.yaml", 2, 1), related=((Place("a.yaml", 1, 2, 3), "first"),))
    value = json.loads(render_json([related, DOUBTFUL, UNKNOWN, related]))
    assert (value["errors"], value["warnings"]) == (2, 1)
    assert [finding["file"] for finding in value["findings"]] == ["b.yaml", "oven.yaml", "oven.yaml"]
    assert value["findings"][0] == {
        "code": "double-key",
        "severity": "error",
        "message": "again Ω",
        "help": "",
        "file": "b.yaml",
        "line": 2,
        "column": 1,
        "end_column": None,
        "related": [{"file": "a.yaml", "line": 1, "column": 2, "end_column": 3, "message": "first"}],
    }
    assert value["findings"][1]["severity"] == "warning"
    assert render_json([UNKNOWN, DOUBTFUL]) == render_json([DOUBTFUL, UNKNOWN])


def test_an_annotation_escapes_what_would_end_it() -> None:
    finding = Finding("a-code", "100 %, or: more\nx", Place("a,b:c%.yaml", 3, 7), "do\rso")
    assert render_ci([finding], prefix="content/") == (
        "::error file=content/a%2Cb%3Ac%25.yaml,line=3,col=7,title=a-code::100 %25, or: more%0Ax%0Ahelp: do%0Dso\n"
    )
    assert render_ci([DOUBTFUL]).startswith("::warning file=oven.yaml,line=3,col=3,title=no-torque::no torque")
    assert render_ci([]) == ""


def test_warnings_alone_end_a_command_well() -> None:
    assert exit_code([]) == report.CLEAN == 0
    assert exit_code([DOUBTFUL]) == 0
    assert exit_code([DOUBTFUL, UNKNOWN]) == report.ERRORS == 1
    assert report.FAILED == 2
