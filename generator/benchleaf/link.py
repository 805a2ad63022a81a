"""From records to one model: what belongs together is put together, every name is looked up, none may stand twice."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, TypeVar

from benchleaf.diagnostics import Finding, Place
from benchleaf.model import NO_WIRING, Library, Machine
from benchleaf.records.machine import MachineRecord
from benchleaf.records.shared import ShopRecord
from benchleaf.records.wiring import with_full_contacts
from benchleaf.references import references
from benchleaf.scope import Scope, look_up
from benchleaf.shape import Shaped
from benchleaf.source import AssetInfo
from benchleaf.suggest import closest
from benchleaf.text import Text

T = TypeVar("T")


def link(shaped: Shaped, assets: Iterable[AssetInfo] = ()) -> tuple[Library, tuple[Finding, ...]]:
    """Put the records together and look up every name in them."""
    findings: list[Finding] = []
    machines = {m.id: m for m in _machines(shaped, findings)}
    library = Library(
        shop=_only(shaped.shops, "shop", findings) or ShopRecord(record=Text("shop"), place=Place("shop.yaml")),
        machines=dict(sorted(machines.items())),
        safety=_merged(shaped.safety, "safety message", findings),
        tools=_merged(shaped.tools, "tool", findings),
        supplies=_merged(shaped.supplies, "supply", findings),
        glossary=_merged(shaped.glossaries, "word", findings),
        articles=dict(sorted(shaped.articles)),
        assets={one.path: one for one in assets},
    )
    findings.extend(_dead_references(library))
    return library, tuple(findings)


def folder_of(path: str) -> str:
    """The machine's folder: the first part of the path; empty for shared files."""
    return path.split("/")[0] if "/" in path else ""


def _machines(shaped: Shaped, findings: list[Finding]) -> Iterator[Machine]:
    by_id: dict[str, tuple[str, MachineRecord]] = {}
    by_folder: dict[str, str] = {}
    for path, record in shaped.machines:
        if _twice(record.id, by_id, "machine", findings, lambda one: one[1].id):
            continue
        by_id[record.id] = (path, record)
        by_folder.setdefault(folder_of(path), record.id)

    unread = {folder_of(path) for path in shaped.unread if path.endswith("/machine.yaml")}

    def owner(path: str, told: Text | None, place: Place) -> str | None:
        if told is not None and told in by_id:
            return told
        if folder_of(path) in unread:
            return None  # what is wrong with the machine's own file is told there
        if told is not None:
            findings.append(_unknown("machine", told, tuple(by_id)))
            return None
        if folder_of(path) in by_folder:
            return by_folder[folder_of(path)]
        findings.append(Finding("unknown-machine", "the file belongs to no machine", place, "add `machine: …`"))
        return None

    wirings: dict[str, Any] = {}
    kept: dict[str, dict[str, dict[str, Any]]] = {name: {"p": {}, "c": {}, "s": {}} for name in by_id}
    for path, wiring in shaped.wirings:
        name = owner(path, wiring.machine, wiring.place)
        if name is not None and name in wirings:
            message = f"the wiring of '{name}' stands in two files"
            findings.append(
                Finding(
                    "id-twice", message, wiring.place, "put it in one", related=((wirings[name].place, "here too"),)
                )
            )
        elif name is not None:
            wirings[name] = wiring
    rows: list[tuple[str, str, Text, Any, Text | None]] = [
        *((path, "p", one.id, one, one.machine) for path, one in shaped.teardowns),
        *((path, "c", one.code, one, one.machine) for path, one in shaped.codes),
        *((path, "s", one.id, one, one.machine) for path, one in shaped.symptoms),
    ]
    words = {"p": "procedure", "c": "code", "s": "symptom"}
    for path, shelf, key, one, told in rows:
        name = owner(path, told, one.place)
        if name is None:
            continue
        if not _twice(key, kept[name][shelf], words[shelf], findings, lambda o, s=shelf: o.code if s == "c" else o.id):
            kept[name][shelf][key] = one
    for name, (path, record) in by_id.items():
        yield Machine(
            record=record,
            folder=folder_of(path),
            file=path,
            wiring=with_full_contacts(wirings[name], record.items) if name in wirings else NO_WIRING,
            procedures=dict(sorted(kept[name]["p"].items())),
            codes=dict(sorted(kept[name]["c"].items())),
            symptoms=dict(sorted(kept[name]["s"].items())),
        )


def _twice(key: Text, known: Mapping[str, Any], words: str, findings: list[Finding], name_of: Any) -> bool:
    if key not in known:
        return False
    first: Text = name_of(known[key])
    findings.append(
        Finding(
            "id-twice",
            f"the {words} '{key}' stands twice",
            key.place,
            "rename one of them",
            related=((first.place, "here too"),),
        )
    )
    return True


def _only(rows: tuple[tuple[str, T], ...], words: str, findings: list[Finding]) -> T | None:
    for _, extra in rows[1:]:
        place = getattr(extra, "place", Place(""))
        findings.append(Finding("id-twice", f"there are two {words} records", place, "keep one"))
    return rows[0][1] if rows else None


def _merged(tables: tuple[tuple[str, Mapping[str, T]], ...], words: str, findings: list[Finding]) -> Mapping[str, T]:
    made: dict[str, T] = {}
    for _, rows in tables:
        for name, row in rows.items():
            place = name.place if isinstance(name, Text) else getattr(row, "place", Place(""))
            if name in made:
                findings.append(Finding("id-twice", f"the {words} '{name}' stands twice", place, "rename one of them"))
            else:
                made[name] = row
    return dict(sorted(made.items()))


def _dead_references(library: Library) -> Iterator[Finding]:
    shared = Scope.of_library(library)
    for machine in library.machines.values():
        scope = Scope.of_machine(machine, shared)
        owned: tuple[Any, ...] = (
            machine.record,
            machine.wiring,
            *machine.procedures.values(),
            *machine.codes.values(),
            *machine.symptoms.values(),
        )
        for record in owned:
            for reference in references(record):
                yield from look_up(reference, scope)
    for reference in references(library.shop):
        yield from look_up(reference, shared)


def _unknown(words: str, name: Text, known: tuple[str, ...]) -> Finding:
    near = closest(name, known)
    help = f"did you mean '{near[0]}'?" if near else f"declared are: {', '.join(known) or 'none'}"
    return Finding(f"unknown-{words}", f"there is no {words} '{name}'", name.place, help)
