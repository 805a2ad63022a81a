"""No input crashes the program, hangs it, or gets a file outside: junk, broken demo records, hostile names and text."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from benchleaf.diagnostics import Finding
from benchleaf.edges.files import read_library
from benchleaf.pipeline import check_sources, load
from benchleaf.source import Source

CONTENT = Path(__file__).parents[2] / "content"
SOURCES = read_library(CONTENT)[0]
LIBRARIES = [[s for s in SOURCES if s.path.startswith(start) or "/" not in s.path] for start in ("bc300", "fp420")]
"""The shared files with one machine each: half the demo is enough to break, and twice as quick."""
YAML_SIGNS = st.sampled_from(
    [*"{}[]:,-#&*!|>%@`'\"?\n \t\\", "  - ", ": ", " #", "---\n", "\x00", "\u2028", "yes", "~"]
)
KEYS = st.sampled_from(
    [
        "record",
        "id",
        "name",
        "items",
        "behind",
        "reach",
        "held-by",
        "applies",
        "where",
        "ends",
        "wires",
        "do",
        "steps",
        "causes",
    ]
)
WORDS = st.sampled_from(["none", "unknown", "yes", "A1-J1.1", "3 mm", "../x", "lid@", "a+b", "0500.."])
SHAPES = st.recursive(
    st.text(max_size=12) | WORDS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=4),
    max_leaves=12,
)


def whole(findings: tuple[Finding, ...], sources: list[Source]) -> None:
    """Every finding has words and stands inside a file that was read."""
    lengths = {one.path: one.text.count("\n") + 2 for one in sources}
    for one in findings:
        assert one.message and one.code
        if one.place.file in lengths:
            assert 1 <= one.place.line <= lengths[one.place.file] and one.place.column >= 1


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_a_broken_demo_record_is_told_and_never_crashes(data: st.DataObject) -> None:
    sources = list(data.draw(st.sampled_from(LIBRARIES)))
    number = data.draw(st.integers(0, len(sources) - 1))
    text = sources[number].text
    start = data.draw(st.integers(0, len(text)))
    length = data.draw(st.integers(0, 12))
    put_in = "".join(data.draw(st.lists(YAML_SIGNS | st.characters(codec="utf-8"), max_size=4)))
    sources[number] = Source(sources[number].path, text[:start] + put_in + text[start + length :])
    whole(check_sources(sources).findings, sources)


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_a_demo_record_with_a_line_moved_or_doubled_never_crashes(data: st.DataObject) -> None:
    sources = list(data.draw(st.sampled_from(LIBRARIES)))
    number = data.draw(st.integers(0, len(sources) - 1))
    lines = sources[number].text.split("\n")
    one, other = (data.draw(st.integers(0, len(lines) - 1)) for _ in range(2))
    lines.insert(other, lines[one] if data.draw(st.booleans()) else lines.pop(one))
    sources[number] = Source(sources[number].path, "\n".join(lines))
    whole(check_sources(sources).findings, sources)


@settings(max_examples=150, deadline=None)
@given(st.sampled_from([one.path for one in SOURCES]), SHAPES)
def test_any_shape_of_keys_and_values_is_told_and_never_crashes(path: str, value: object) -> None:
    record = {"record": path.split("/")[-1].partition(".")[0], "junk": value}
    if isinstance(value, dict):
        record |= value
    text = json.dumps(record)
    source = Source(path, f"---\n{text}\n---\n" if path.endswith(".md") else text)
    whole(check_sources([source]).findings, [source])


def test_hostile_names_are_refused_and_stay_text(tmp_path: Path) -> None:
    (tmp_path / "m").mkdir()
    (tmp_path / "m" / "machine.yaml").write_text(
        'record: machine\nid: ../../etc\nname: <script>alert(1)</script>\nitems: {"../x": X, A1: {name: "<b>"}}\n'
    )
    found = load(tmp_path).findings
    assert ("bad-id", 2) in [(one.code, one.place.line) for one in found]
    assert ("bad-id", 4) in [(one.code, one.place.line) for one in found]
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["m", "machine.yaml"]


@pytest.mark.parametrize("size", [2_000_001, 200_000_000])
def test_a_huge_file_is_refused_by_its_size(tmp_path: Path, size: int) -> None:
    with (tmp_path / "shop.yaml").open("wb") as file:
        file.truncate(size)
    assert [one.code for one in load(tmp_path).findings] == ["file-too-large"]


def test_a_library_of_a_thousand_findings_is_told_whole() -> None:
    rows = "\n".join(f"  A{n}: {{nmae: x}}" for n in range(1000))
    found = check_sources([Source("m/machine.yaml", f"record: machine\nid: m\nname: M\nitems:\n{rows}\n")]).findings
    assert len([one for one in found if one.code == "unknown-key"]) == 1000
