"""From nodes to records: every misfit of every file at once, each at its narrowest place."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Mapping
from dataclasses import field
from typing import Any

from benchleaf import nodes
from benchleaf.diagnostics import Finding, Place
from benchleaf.frozen import dataclass
from benchleaf.parse import parse_front_matter, parse_yaml
from benchleaf.records import KINDS, RecordKind
from benchleaf.records.codes import CodeRecord, SymptomRecord
from benchleaf.records.machine import MachineRecord
from benchleaf.records.reading import Desk, Misfit, read_row, shorten, wants
from benchleaf.records.shared import (
    ArticleRecord,
    SafetyMessage,
    ShopRecord,
    Stock,
    glossary_table,
    safety_table,
    stock_table,
)
from benchleaf.records.teardown import TeardownRecord
from benchleaf.records.wiring import WiringRecord
from benchleaf.source import Source
from benchleaf.suggest import closest
from benchleaf.text import Text


@dataclass(frozen=True, slots=True, kw_only=True)
class Shaped:
    """All records of a library as read, each with its file, in the order of the files. Nothing is linked yet."""

    shops: tuple[tuple[str, ShopRecord], ...] = ()
    safety: tuple[tuple[str, Mapping[str, SafetyMessage]], ...] = ()
    tools: tuple[tuple[str, Mapping[str, Stock]], ...] = ()
    supplies: tuple[tuple[str, Mapping[str, Stock]], ...] = ()
    glossaries: tuple[tuple[str, Mapping[str, Text]], ...] = ()
    machines: tuple[tuple[str, MachineRecord], ...] = ()
    wirings: tuple[tuple[str, WiringRecord], ...] = ()
    teardowns: tuple[tuple[str, TeardownRecord], ...] = ()
    codes: tuple[tuple[str, CodeRecord], ...] = ()
    symptoms: tuple[tuple[str, SymptomRecord], ...] = ()
    articles: tuple[tuple[str, ArticleRecord], ...] = ()
    unread: tuple[str, ...] = ()
    """Files from which no record could be made; what they would have declared is not missed twice."""


_SHELF = {
    "shop": "shops", "safety": "safety", "tools": "tools", "supplies": "supplies", "glossary": "glossaries",
    "machine": "machines", "wiring": "wirings", "teardown": "teardowns", "code": "codes", "symptom": "symptoms",
    "article": "articles",
}  # fmt: skip


@dataclass
class _Reading:
    desk: Desk
    shelves: dict[str, list[tuple[str, Any]]] = field(default_factory=dict)
    unread: list[str] = field(default_factory=list)

    def keep(self, kind: str, path: str, record: Any) -> None:
        self.shelves.setdefault(_SHELF[kind], []).append((path, record))


def shape(sources: Iterable[Source]) -> tuple[Shaped, tuple[Finding, ...]]:
    """Read every source. The shop is read first, because it says how numbers are written."""
    reading = _Reading(Desk())
    for source in sorted(sources, key=lambda one: (one.path != "shop.yaml", one.path)):
        if not _read_source(source, reading):
            reading.unread.append(source.path)
        if source.path == "shop.yaml" and reading.shelves.get("shops"):
            reading.desk.decimal_comma = bool(reading.shelves["shops"][0][1].decimal_comma)
    kept: dict[str, Any] = {name: tuple(rows) for name, rows in reading.shelves.items()}
    return Shaped(**kept, unread=tuple(reading.unread)), tuple(reading.desk.findings)


def _read_source(source: Source, reading: _Reading) -> bool:
    """Read one file onto its shelf; whether a record came of it."""
    prose: Text | None = None
    if source.path.endswith(".md"):
        node, prose, findings = parse_front_matter(source)
    else:
        node, findings = parse_yaml(source)
    reading.desk.findings.extend(findings)
    if node is None:
        return False
    if not isinstance(node, nodes.Mapping):
        wants(reading.desk, "a record: keys and values, the first of them `record:`", node)
        return False
    kind = _kind_of_record(source.path, node, reading.desk)
    record = read_record(kind, node, reading.desk) if kind is not None else None
    if kind is None or record is None:
        return False
    if kind.prose:
        record = dataclasses.replace(record, prose=prose or Text("", node.place))
    reading.keep(kind.name, source.path, record)
    return True


def _kind_of_record(path: str, node: nodes.Mapping, desk: Desk) -> RecordKind | None:
    told = node.get("record")
    if isinstance(told, nodes.Scalar) and told.text:
        if told.text in KINDS:
            return KINDS[told.text]
        near = closest(told.text, tuple(KINDS))
        help = f"did you mean '{near[0]}'?" if near else f"the kinds are {', '.join(KINDS)}"
        desk.misfit("unknown-record", f"there is no record of kind '{shorten(told.text)}'", told.place, help)
        return None
    guessed = guess_kind(path)
    if guessed is not None and guessed.prose:
        return guessed
    like = guessed.name if guessed else "machine"
    desk.misfit(
        "missing-record",
        "the file does not say what kind of record it is",
        Place(path, node.place.line, node.place.column),
        f"begin it with the line `record: {like}`",
    )
    return None


def guess_kind(path: str) -> RecordKind | None:
    """The kind that a file's place below the content folder suggests."""
    parts = path.split("/")
    folder = {"codes": "code", "symptoms": "symptom", "articles": "article", "teardown": "teardown"}
    if len(parts) > 1 and parts[-2] in folder:
        return KINDS[folder[parts[-2]]]
    stem = parts[-1].rpartition(".")[0]
    return KINDS.get(stem)


def read_record(kind: RecordKind, node: nodes.Mapping, desk: Desk) -> Any:
    """One record from its nodes; ``None`` when it cannot be made. Its findings are left on the desk."""
    if kind.row is not None and not kind.named:
        made = read_row(kind.row, kind.words, node, desk)
        return None if isinstance(made, Misfit) else made
    rest = nodes.Mapping(tuple(e for e in node.entries if e[0].text != "record"), node.place, node.flow)
    reader: Any = {"safety": safety_table, "glossary": glossary_table}.get(kind.name, stock_table)
    read = reader.read(rest, desk)
    return None if isinstance(read, Misfit) else read
