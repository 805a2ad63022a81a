"""Every key of every record kind is read from records that use them all; broken, it is found at its place."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, cast

import pytest

from benchleaf import nodes
from benchleaf.diagnostics import Place
from benchleaf.json_schema import tables_of
from benchleaf.parse import parse_front_matter, parse_yaml
from benchleaf.records import KINDS
from benchleaf.records.reading import Desk, Row, keys_of
from benchleaf.shape import guess_kind, read_record, shape
from benchleaf.source import Source

FULL = Path(__file__).parent / "full"
FILES = {path.stem: path for path in sorted(FULL.iterdir())}


def source_of(kind: str) -> Source:
    path = FILES[kind]
    return Source(path.name, path.read_text(encoding="utf-8"))


def node_of(kind: str) -> nodes.Mapping:
    source = source_of(kind)
    node = parse_front_matter(source)[0] if source.path.endswith(".md") else parse_yaml(source)[0]
    assert isinstance(node, nodes.Mapping)
    return node


def rows_in(value: Any) -> Iterator[Row]:
    if isinstance(value, Row):
        yield value
    if dataclasses.is_dataclass(value):
        for part in dataclasses.fields(value):
            if part.name not in ("said", "place"):
                yield from rows_in(getattr(value, part.name))
    elif isinstance(value, Mapping):
        for one in value.values():
            yield from rows_in(one)
    elif isinstance(value, tuple):
        for one in value:
            yield from rows_in(one)


def read_full(kind: str) -> tuple[Any, Desk]:
    desk = Desk()
    return read_record(KINDS[kind], node_of(kind), desk), desk


def keys_written(node: nodes.Node) -> Iterator[tuple[str, Place]]:
    if isinstance(node, nodes.Mapping):
        for key, value in node.entries:
            yield key.text, value.place
            yield from keys_written(value)
    elif isinstance(node, nodes.Sequence):
        for one in node.items:
            yield from keys_written(one)


def every_key() -> list[tuple[str, str, str, Place]]:
    """(kind, table, key, place of its value) for every key said in a full record; the first of each will do."""
    found: dict[tuple[str, str, str], Place] = {}
    for kind in FILES:
        record, _ = read_full(kind)
        written = set(keys_written(node_of(kind)))
        for row in rows_in(record):
            for key, place in row.said.items():
                if (key, place) in written:  # a short form says a key without writing it
                    found.setdefault((kind, type(row).__name__, key), place)
    return [(*names, place) for names, place in found.items()]


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_a_record_that_uses_every_key_reads_without_a_finding(kind: str) -> None:
    record, desk = read_full(kind)
    assert record is not None
    assert [f"{one.place} {one.code} {one.message}" for one in desk.findings] == []


def test_the_full_records_use_every_key_of_every_table() -> None:
    said: dict[str, set[str]] = {}
    for kind in FILES:
        for one in rows_in(read_full(kind)[0]):
            said.setdefault(type(one).__name__, set()).update(one.said)
    tables = {table for kind in KINDS.values() if kind.row for table in tables_of(kind.row)}
    assert len(tables) > 40
    for table in sorted(tables, key=lambda one: one.__name__):
        lacking = set(keys_of(cast(Any, table))) - said.get(table.__name__, set())
        assert not lacking, f"no full record uses {sorted(lacking)} of {table.__name__}"


def moved(node: nodes.Node, place: Place) -> nodes.Node:
    if isinstance(node, nodes.Scalar):
        return dataclasses.replace(node, place=place)
    if isinstance(node, nodes.Sequence):
        return dataclasses.replace(node, items=tuple(moved(one, place) for one in node.items), place=place)
    entries = tuple((dataclasses.replace(k, place=place), moved(v, place)) for k, v in node.entries)
    return dataclasses.replace(node, entries=entries, place=place)


def with_value(node: nodes.Node, key: str, place: Place, new: nodes.Node) -> nodes.Node:
    """``node`` with the value of ``key`` that stands at ``place`` replaced."""
    if isinstance(node, nodes.Sequence):
        return dataclasses.replace(node, items=tuple(with_value(one, key, place, new) for one in node.items))
    if isinstance(node, nodes.Mapping):
        entries = tuple(
            (k, moved(new, v.place) if k.text == key and v.place == place else with_value(v, key, place, new))
            for k, v in node.entries
        )
        return dataclasses.replace(node, entries=entries)
    return node


def bad_value(table: str, key: str) -> nodes.Node:
    row = next(one for kind in KINDS.values() if kind.row for one in tables_of(kind.row) if one.__name__ == table)
    bad = keys_of(cast(Any, row))[key][1].reader.bad
    node, findings = parse_yaml(Source("bad.yaml", f"bad: {bad}\n"))
    assert isinstance(node, nodes.Mapping) and not findings, (bad, findings)
    return node.entries[0][1]


@pytest.mark.parametrize(("kind", "table", "key", "place"), every_key(), ids=lambda one: str(one).replace("/", "-"))
def test_a_broken_key_is_found_at_its_line_and_column(kind: str, table: str, key: str, place: Place) -> None:
    if key == "record":
        text = source_of(kind).text.replace(f"record: {kind}", "record: zzz", 1)
        _, findings = shape([Source(FILES[kind].name, text)])
        assert ("unknown-record", place) in [(one.code, one.place) for one in findings]
        return
    broken = with_value(node_of(kind), key, place, bad_value(table, key))
    assert broken != node_of(kind)
    desk = Desk()
    read_record(KINDS[kind], cast(nodes.Mapping, broken), desk)
    room = range(place.column, place.column + 20)  # the narrowest place may be within the value
    at = [one for one in desk.findings if one.place.line == place.line and one.place.column in room]
    assert at, f"{table}.{key} broken at {place}, but found only {[str(one.place) for one in desk.findings]}"
    assert all(one.message and one.help for one in at)


@pytest.mark.parametrize(
    ("kind", "table", "key", "place"),
    [one for one in every_key() if len(one[2]) >= 5 and one[2] != "record"],
    ids=lambda one: str(one).replace("/", "-"),
)
def test_a_misspelt_key_is_found_and_the_right_one_is_suggested(kind: str, table: str, key: str, place: Place) -> None:
    misspelt = key[:2] + key[3] + key[2] + key[4:] if key[2] != key[3] else key + "x"

    def renamed(node: nodes.Node) -> nodes.Node:
        if isinstance(node, nodes.Sequence):
            return dataclasses.replace(node, items=tuple(renamed(one) for one in node.items))
        if isinstance(node, nodes.Mapping):
            return dataclasses.replace(
                node,
                entries=tuple(
                    (dataclasses.replace(k, text=misspelt) if k.text == key and v.place == place else k, renamed(v))
                    for k, v in node.entries
                ),
            )
        return node

    desk = Desk()
    read_record(KINDS[kind], cast(nodes.Mapping, renamed(node_of(kind))), desk)
    found = [one for one in desk.findings if one.code == "unknown-key" and f"'{misspelt}'" in one.message]
    assert found and found[0].help == f"did you mean '{key}'?"


def test_the_kind_of_a_file_follows_from_its_place() -> None:
    assert guess_kind("q7/codes/e1.md") is KINDS["code"]
    assert guess_kind("q7/teardown/a.yaml") is KINDS["teardown"]
    assert guess_kind("shop.yaml") is KINDS["shop"]
    assert guess_kind("notes.yaml") is None
