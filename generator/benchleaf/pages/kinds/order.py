"""What to order, or to lay ready, for one procedure and what it begins with: parts, supplies, numbers, amounts."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import MachineBook
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.requirements import unchecked_words
from benchleaf.pages.shown import Block, Cell, Line, Note, Row, Section, Table
from benchleaf.pages.spare_lines import spares_of
from benchleaf.pages.step_view import scenes
from benchleaf.records.teardown import SupplyUse, TeardownRecord


def procedure_pages(mbook: MachineBook, procedure: TeardownRecord) -> Iterator[Page]:
    yield page(mbook, procedure)


def page(mbook: MachineBook, procedure: TeardownRecord) -> Page:
    parts = [procedure, *conditions_of(mbook, procedure)]
    opening: list[Block] = []
    for one in parts:
        unchecked = unchecked_words(tuple(scenes(mbook, one)))
        if unchecked:
            opening.append(
                Note(words=f"{one.title}, {unchecked}: prose only, what it uses up is not recorded.", grave=True)
            )
    sections = [
        Section(title="Spares", blocks=(spares_table(mbook, parts),)),
        Section(title="Supplies", blocks=(supplies_table(mbook, parts),)),
    ]
    return list_page(
        mbook.book,
        path=mbook.at.order(procedure.id),
        title=f"Order list: {procedure.title}",
        kind="order",
        sections=sections,
        opening=opening,
        lead="With what the required conditions use up." if len(parts) > 1 else "",
        mbook=mbook,
        place=procedure.place,
        inputs=(procedure.place.file, mbook.machine.file),
        crumbs=((str(procedure.title), mbook.at.procedure(procedure.id)),),
        applies=mbook.applies(procedure.applies),
    )


def conditions_of(mbook: MachineBook, procedure: TeardownRecord) -> list[TeardownRecord]:
    """The procedures done first, theirs before them, each once."""
    seen: dict[str, TeardownRecord] = {}

    def visit(one: TeardownRecord) -> None:
        for name in one.conditions:
            found = mbook.machine.procedures.get(str(name))
            if found is not None and str(name) not in seen and found is not procedure:
                seen[str(name)] = found
                visit(found)

    visit(procedure)
    return list(seen.values())


def spares_table(mbook: MachineBook, parts: list[TeardownRecord]) -> Table:
    rows = []
    for procedure in parts:
        for one in spares_of(scenes(mbook, procedure)):
            item = mbook.record.items.get(one.item)
            alternatives = item.alternatives if item is not None and not one.fastener else None
            path = mbook.at.item(one.item) if item is not None else None
            cells: tuple[Cell, ...] = (
                Line(words=one.words, path=path),
                one.part_number,
                str(one.count),
                None if alternatives is None else ", ".join(alternatives) or "none",
                item.supplier if item is not None and not one.fastener else None,
                f"{procedure.title}: {one.why}",
            )
            rows.append(Row(cells=cells, applies=one.applies))
    heads = ("Part", "Part number", "Count", "Serves as well", "Supplier", "Why")
    return Table(caption="Spares", heads=heads, rows=tuple(rows), nothing="none", quiet=True)


def supplies_table(mbook: MachineBook, parts: list[TeardownRecord]) -> Table:
    rows = []
    recorded = False
    for procedure in parts:
        recorded = recorded or procedure.supplies is not None
        for use, where in _uses(procedure):
            rows.append(Row(cells=_supply_cells(mbook, use, where)))
    heads = ("Supply", "Part number", "Amount", "Data sheet", "Disposal", "For")
    nothing = "none" if recorded else "Supplies are not recorded."
    return Table(caption="Supplies", heads=heads, rows=tuple(rows), nothing=nothing, quiet=True)


def _uses(procedure: TeardownRecord) -> Iterator[tuple[SupplyUse, str]]:
    for use in procedure.supplies or ():
        yield use, str(procedure.title)
    for number, step in enumerate(procedure.steps, 1):
        for use in step.supplies or ():
            yield use, f"{procedure.title}, step {number}"


def _supply_cells(mbook: MachineBook, use: SupplyUse, where: str) -> tuple[Cell, ...]:
    stock = mbook.book.library.supplies.get(str(use.id))
    if stock is None:
        return (str(use.id), None, use.amount, None, None, where)
    line = Line(words=str(stock.name), path=f"supplies.html#supply-{use.id}")
    return (line, stock.part_number, use.amount, stock.sds, stock.disposal, where)
