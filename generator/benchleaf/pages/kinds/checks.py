"""The checks owed before a machine goes back to work: what each covers, how it is done, what must be found."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import MachineBook
from benchleaf.pages.links import trouble_line
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.shown import Block, Cell, Fact, Facts, Line, Links, Note, Row, Section
from benchleaf.pages.uses import TroubleUse, uses_of
from benchleaf.records.lines import ReturnCheck


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    yield page(mbook)


def page(mbook: MachineBook) -> Page:
    sections = [_section(mbook, str(id), check) for id, check in mbook.record.checks.items()]
    uncovered = tuple(_uncovered(mbook))
    sections.append(
        Section(
            title="What no check covers",
            anchor="uncovered",
            blocks=(Links(lines=uncovered, nothing="Every item, line and energy on record is covered by a check."),),
        )
    )
    opening: tuple[Block, ...] = (
        ()
        if mbook.record.checks
        else (Note(words="No check is recorded: nothing says when work is done.", grave=True),)
    )
    lead = "Owed after work that disturbed what they cover, before the machine goes back to work."
    return list_page(
        mbook.book,
        path=mbook.at.list("checks"),
        title="Checks",
        kind="checks",
        sections=sections,
        opening=opening,
        lead=lead,
        mbook=mbook,
        place=mbook.record.place,
    )


def _section(mbook: MachineBook, id: str, check: ReturnCheck) -> Section:
    covers = tuple(_covered(mbook, str(one)) for one in check.covers)
    how: Cell = Fact(str(check.text), prose=True) if check.text else None
    if check.do is not None and check.do in mbook.machine.procedures:
        how = Line(words=str(mbook.machine.procedures[check.do].title), path=mbook.at.procedure(check.do))
    rows = (
        Row(cells=("How", how)),
        Row(cells=("Must be found", check.expect)),
        Row(cells=("Covers", covers or None)),
        Row(cells=("Recorded at", f"{check.place.file}:{check.place.line}")),
    )
    troubles = tuple(trouble_line(mbook, TroubleUse(one)) for one in uses_of(mbook).no_fault[id])
    blocks: tuple[Block, ...] = (Facts(rows=rows),)
    if troubles:
        blocks += (Note(words="Done when no fault is found:"), Links(lines=troubles, nothing=""))
    return Section(title=str(check.title), anchor=f"check-{id}", blocks=blocks, applies=mbook.applies(check.applies))


def _covered(mbook: MachineBook, name: str) -> Line:
    record = mbook.record
    if name in record.items:
        return Line(words=mbook.item_words(name), path=mbook.at.item(name))
    if name in record.energy:
        return Line(words=str(record.energy[name].name or name), path=f"{mbook.at.list('energy')}#energy-{name}")
    if name in record.lines:
        return Line(words=str(record.lines[name].name or name), note="line")
    return Line(words=name)


def _uncovered(mbook: MachineBook) -> Iterator[Line]:
    covered = {str(one) for check in mbook.record.checks.values() for one in check.covers}
    for name in (*mbook.record.items, *mbook.record.lines, *mbook.record.energy):
        if name not in covered and name != "frame":
            yield _covered(mbook, str(name))
