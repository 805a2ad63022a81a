"""The record kinds, one row each: what the file is called, where it lies, and the table that reads it."""

from __future__ import annotations

from benchleaf.frozen import dataclass
from benchleaf.records.codes import CodeRecord, SymptomRecord
from benchleaf.records.machine import MachineRecord
from benchleaf.records.reading import Row
from benchleaf.records.shared import ArticleRecord, SafetyMessage, ShopRecord, Stock
from benchleaf.records.teardown import TeardownRecord
from benchleaf.records.wiring import WiringRecord


@dataclass(frozen=True, slots=True)
class RecordKind:
    """A kind of record. ``row`` is its table; ``named`` kinds are a table of the author's ids, each one ``row``."""

    name: str
    words: str
    row: type[Row] | None
    where: str
    named: bool = False
    prose: bool = False


KINDS: dict[str, RecordKind] = {
    kind.name: kind
    for kind in (
        RecordKind("shop", "a shop", ShopRecord, "shop.yaml"),
        RecordKind("safety", "the safety messages", SafetyMessage, "safety.yaml", named=True),
        RecordKind("tools", "the tools", Stock, "tools.yaml", named=True),
        RecordKind("supplies", "the supplies", Stock, "supplies.yaml", named=True),
        RecordKind("glossary", "the glossary", None, "glossary.yaml", named=True),
        RecordKind("machine", "a machine", MachineRecord, "<machine>/machine.yaml"),
        RecordKind("wiring", "the wiring", WiringRecord, "<machine>/wiring.yaml"),
        RecordKind("teardown", "a teardown record", TeardownRecord, "<machine>/teardown/*.yaml"),
        RecordKind("code", "an error code", CodeRecord, "<machine>/codes/*.md", prose=True),
        RecordKind("symptom", "a symptom", SymptomRecord, "<machine>/symptoms/*.md", prose=True),
        RecordKind("article", "an article", ArticleRecord, "articles/*.md", prose=True),
    )
}
