"""The library as one read-only model: machines with everything recorded of them, and what the shop shares."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import field, replace

from benchleaf.frozen import dataclass
from benchleaf.records.codes import CodeRecord, SymptomRecord
from benchleaf.records.machine import MachineRecord
from benchleaf.records.reading import Row
from benchleaf.records.shared import ArticleRecord, SafetyMessage, ShopRecord, Stock
from benchleaf.records.teardown import TeardownRecord
from benchleaf.records.wiring import WiringRecord
from benchleaf.source import AssetInfo
from benchleaf.text import Text

NO_WIRING = WiringRecord(record=Text("wiring"), machine=Text(""))


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """One machine: its record, its wiring, its procedures, codes and symptoms by id. ``folder`` holds its files."""

    record: MachineRecord
    folder: str
    file: str
    wiring: WiringRecord = NO_WIRING
    procedures: Mapping[str, TeardownRecord] = field(default_factory=dict)
    codes: Mapping[str, CodeRecord] = field(default_factory=dict)
    symptoms: Mapping[str, SymptomRecord] = field(default_factory=dict)

    @property
    def id(self) -> Text:
        return self.record.id

    @property
    def name(self) -> Text:
        return self.record.name

    def records(self) -> tuple[Row, ...]:
        """Every record of the machine."""
        own = (*self.procedures.values(), *self.codes.values(), *self.symptoms.values())
        return (self.record, self.wiring, *own)

    @property
    def has_wiring(self) -> bool:
        """Whether any wiring is recorded; without it everything counts as live."""
        return self.wiring is not NO_WIRING


@dataclass(frozen=True, slots=True, kw_only=True)
class Library:
    """Everything a shop recorded. ``assets`` are the files that are no records, by path below the content folder."""

    shop: ShopRecord
    machines: Mapping[str, Machine] = field(default_factory=dict)
    safety: Mapping[str, SafetyMessage] = field(default_factory=dict)
    tools: Mapping[str, Stock] = field(default_factory=dict)
    supplies: Mapping[str, Stock] = field(default_factory=dict)
    glossary: Mapping[str, Text] = field(default_factory=dict)
    articles: Mapping[str, ArticleRecord] = field(default_factory=dict)
    assets: Mapping[str, AssetInfo] = field(default_factory=dict)

    def only(self, machines: Collection[str]) -> Library:
        """The library with some of its machines; everything shared stays."""
        return replace(self, machines={name: one for name, one in self.machines.items() if name in machines})

    def procedures(self) -> Iterator[tuple[Machine, TeardownRecord]]:
        """Every procedure with its machine, by machine id and procedure id."""
        for machine in self.machines.values():
            for procedure in machine.procedures.values():
                yield machine, procedure
