"""Spares: every part number with what it is, where it is used, what serves as well, and when it must be renewed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchleaf.fastener_sets import FastenerSet
from benchleaf.frozen import dataclass
from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.fastener_words import kind_words, look_words
from benchleaf.pages.links import procedure_line
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.shown import Cell, Line, Note, Row, Section, Table
from benchleaf.pages.spare_lines import ALWAYS, spares_of
from benchleaf.pages.step_view import scenes


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One place a part number is used in."""

    number: str | None
    line: Line
    machine: str
    kind: str
    alternatives: tuple[str, ...] | None = None
    supplier: str | None = None
    renew: str | None = None
    procedures: tuple[Line, ...] = ()


def pages(book: Book) -> Iterator[Page]:
    every = [part for mbook in book.machines() for part in parts_of(mbook)]
    yield list_page(
        book,
        path="spares.html",
        title="Spares",
        kind="spares",
        sections=_sections(every, shared=True),
        lead="By part number. A part number in two machines stands once.",
    )


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    yield list_page(
        mbook.book,
        path=mbook.at.list("spares"),
        title="Spares",
        kind="spares",
        sections=_sections(parts_of(mbook), shared=False),
        mbook=mbook,
        place=mbook.record.place,
    )


def parts_of(mbook: MachineBook) -> tuple[Part, ...]:
    """Every item, fastener, line and cable of a machine as a part, whether its number is recorded or not."""
    return mbook.remember(("parts",), lambda: tuple(_parts(mbook)))


def _parts(mbook: MachineBook) -> Iterator[Part]:
    machine = str(mbook.record.name)
    used = _procedures_by_item(mbook)
    for name in mbook.record.items:
        if name == "frame":
            continue
        seen: set[str | None] = set()
        for form in mbook.items(name):
            item = form.value
            if item.part_number in seen:
                continue
            seen.add(item.part_number)
            yield Part(
                number=item.part_number,
                line=Line(words=mbook.item_words(name), path=mbook.at.item(name), applies=form.applies),
                machine=machine,
                kind="item",
                alternatives=item.alternatives,
                supplier=item.supplier,
                renew=item.renew,
                procedures=used.get(name, ()),
            )
    for one in _fasteners(mbook):
        path = f"{mbook.at.list('fasteners')}#fastener-{one.fastener}"
        words = f"{kind_words(one)} {look_words(one)}".strip()
        yield Part(
            number=one.part_number, line=Line(words=words, path=path), machine=machine, kind="fastener", renew=one.renew
        )
    for id, line in mbook.record.lines.items():
        yield Part(number=line.part_number, line=Line(words=str(line.name or id)), machine=machine, kind="line")
    for id, cable in mbook.machine.wiring.cables.items():
        words = f"{id} {cable.name or ''}".strip()
        yield Part(
            number=cable.part_number, line=Line(words=words, path=mbook.at.cable(id)), machine=machine, kind="cable"
        )


def _fasteners(mbook: MachineBook) -> tuple[FastenerSet, ...]:
    """One set of each fastener, in the order of the items they hold."""
    found: dict[str, FastenerSet] = {}
    for item in mbook.record.items:
        for name in mbook.sets_of(item):
            for form in mbook.sets(name):
                found.setdefault(form.value.fastener, form.value)
    return tuple(found.values())


def _procedures_by_item(mbook: MachineBook) -> dict[str, tuple[Line, ...]]:
    found: dict[str, dict[Line, None]] = {}
    for procedure in mbook.machine.procedures.values():
        for one in spares_of(scenes(mbook, procedure)):
            if not one.fastener:
                found.setdefault(one.item, {})[procedure_line(mbook, procedure, one.why)] = None
    return {item: tuple(lines) for item, lines in found.items()}


def _sections(parts: Iterable[Part], *, shared: bool) -> list[Section]:
    every = list(parts)
    by_number: dict[str, list[Part]] = {}
    for part in every:
        if part.number is not None:
            by_number.setdefault(part.number, []).append(part)
    rows = [_row(number, many, shared) for number, many in sorted(by_number.items())]
    heads = ("Part number", "What and where", "Serves as well", "Supplier", "Renew", "Used up by")
    table = Table(
        caption="Part numbers", heads=heads, rows=tuple(rows), nothing="No part number is recorded.", quiet=True
    )
    return [Section(title="By part number", blocks=(table,)), *_unnumbered(every, shared)]


def _row(number: str, many: list[Part], shared: bool) -> Row:
    alternatives = list(dict.fromkeys(one for part in many for one in part.alternatives or ()))
    looked = any(part.alternatives is not None for part in many)
    suppliers = list(dict.fromkeys(part.supplier for part in many if part.supplier))
    renew = dict.fromkeys(
        "whenever it comes off" if part.renew == ALWAYS else f"after {part.renew}" for part in many if part.renew
    )
    places: Cell = tuple(
        Line(
            words=part.line.words, path=part.line.path, note=part.machine if shared else None, applies=part.line.applies
        )
        for part in many
    )
    cells: tuple[Cell, ...] = (
        number,
        places,
        ", ".join(alternatives) or ("none" if looked else None),
        ", ".join(suppliers) or None,
        ", ".join(renew) or "none",
        tuple(line for part in many for line in part.procedures) or "no recorded procedure",
    )
    return Row(cells=cells, anchor=None)


def _unnumbered(parts: list[Part], shared: bool) -> Iterator[Section]:
    missing = [part for part in parts if part.number is None]
    if not missing:
        return
    by_kind: dict[str, list[str]] = {}
    for part in missing:
        where = f" ({part.machine})" if shared else ""
        by_kind.setdefault(part.kind, []).append(f"{part.line.words}{where}")
    rows = tuple(Row(cells=(f"{kind}s, {len(words)}", "; ".join(words))) for kind, words in by_kind.items())
    table = Table(caption="Part number not recorded", heads=("Kind", "Which"), rows=rows, nothing="", quiet=True)
    yield Section(
        title="Part number not recorded",
        anchor="not-recorded",
        blocks=(Note(words="Not recorded is not the same as not to be had: look at the part."), table),
    )
