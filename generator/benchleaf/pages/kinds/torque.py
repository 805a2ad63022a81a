"""Torque cards: every screw and nut of a machine, and of each procedure, on one sheet to set the driver by."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from benchleaf.built import Built
from benchleaf.pages.art import art_of
from benchleaf.pages.book import MachineBook
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.record_notes import procedure_note
from benchleaf.pages.shown import Art, Block, Cell, Line, Note, Origin, Row, Section, ShownValue, Table
from benchleaf.pages.torque_shown import chain_of
from benchleaf.pages.values_shown import STATUS_WORDS
from benchleaf.records.teardown import TeardownRecord
from benchleaf.search.documents import Document
from benchleaf.values.callout import Callout
from benchleaf.values.pattern import tightening_pattern
from benchleaf.values.torque_card import CardRow, StepAt, machine_card, procedure_card

TITLE = "Torque card"
LEAD = (
    "What to set the driver to. Where no torque was recorded the card says so; a computed limit is no torque to "
    "tighten to."
)


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    yield machine_page(mbook)


def procedure_pages(mbook: MachineBook, procedure: TeardownRecord) -> Iterator[Page]:
    yield procedure_page(mbook, procedure)


def machine_page(mbook: MachineBook) -> Page:
    rows = machine_card(mbook.machine, mbook.builts, mbook.book.shop)
    path = mbook.at.list("torque")
    found = Document(url=path, title=f"{TITLE}: {mbook.record.name}", kind="fastener", machine=str(mbook.record.name))
    return list_page(
        mbook.book,
        path=path,
        title=TITLE,
        kind="torque",
        sections=_sections(mbook, rows, "No screw or nut is recorded on this machine."),
        lead=LEAD,
        mbook=mbook,
        place=mbook.record.place,
        documents=(found,),
    )


def procedure_page(mbook: MachineBook, procedure: TeardownRecord) -> Page:
    rows = procedure_card(mbook.machine, mbook.builts, mbook.book.shop, procedure)
    opening: tuple[Block, ...] = ()
    if procedure.conditions:
        opening = (Note(words="What its required conditions turn stands first."),)
    if any(step.do is None and step.changes is None for step in procedure.steps):
        opening = (*opening, Note(words="Some steps are prose only: what they turn is not recorded here.", grave=True))
    page = list_page(
        mbook.book,
        path=mbook.at.torque(str(procedure.id)),
        title=f"{TITLE}: {procedure.title}",
        kind="torque",
        sections=_sections(mbook, rows, "No recorded step of this procedure turns a screw or nut."),
        opening=opening,
        lead=LEAD,
        mbook=mbook,
        place=procedure.place,
        inputs=(procedure.place.file, mbook.machine.file),
        applies=mbook.applies(procedure.applies),
        crumbs=((str(procedure.title), mbook.at.procedure(str(procedure.id))),),
    )
    return _with_note(page, procedure)


def _with_note(page: Page, procedure: TeardownRecord) -> Page:
    """The card of a procedure carries its issue, its proof and a withdrawal, as its other pages do."""
    return replace(page, context={**page.context, "record": procedure_note(procedure)})


def _sections(mbook: MachineBook, rows: tuple[CardRow, ...], nothing: str) -> tuple[Section, ...]:
    has_steps = any(row.steps for row in rows)
    last = ("Friction, sequence", "Turned at") if has_steps else ("Friction", "Sequence")
    heads = ("Fasteners", "On", "Driver", "Torque", *last)
    table = Table(
        caption=TITLE, heads=heads, rows=tuple(_row(mbook, row, has_steps) for row in rows), nothing=nothing,
        name="torque-card", quiet=True,
    )  # fmt: skip
    sections = [Section(title="Every screw and nut", anchor="card", blocks=(table,))]
    arts = patterns(mbook, (row.callout.set for row in rows))
    if arts:
        sections.append(Section(title="Tightening patterns", anchor="patterns", blocks=arts))
    return tuple(sections)


def patterns(mbook: MachineBook, sets: Iterable[str]) -> tuple[Art, ...]:
    """The pattern of every set whose places and order are recorded, each form once."""
    made: dict[str, Art] = {}
    for name in dict.fromkeys(sets):
        for form in mbook.sets(name):
            title = f"Tightening pattern: {form.value.count} of {mbook.item_words(form.value.item)}"
            if form.applies is not None:
                title += f", {form.applies.words}"
            drawing = tightening_pattern(form.value, title)
            if drawing is not None:
                made.setdefault(drawing.svg, art_of(drawing, narrow=True))
    return tuple(made.values())


def _row(mbook: MachineBook, row: CardRow, has_steps: bool) -> Row:
    callout = row.callout
    cells: tuple[Cell, ...] = (
        row.what,
        Line(words=mbook.item_words(row.item), path=mbook.at.item(row.item)),
        row.tool if row.tool != "driver not recorded" else None,
        torque_cell(callout),
        *(
            ((callout.friction, callout.sequence), _steps(mbook, row.steps))
            if has_steps
            else (callout.friction, callout.sequence)
        ),
    )
    on = {built.configuration for built in mbook.builts if _label(built) in row.only_on}
    return Row(cells=cells, applies=mbook.words_for(on) if on else None)


def _label(built: Built) -> str:
    return built.configuration.label


def torque_cell(callout: Callout) -> Cell:
    """The torque with its origins, all sides of a dispute, and what speaks against it; a limit is never the torque."""
    said: list[Cell] = [_torque(callout)]
    said += [Line(words=words) for words in callout.warnings]
    if callout.value is None and callout.limit is not None:
        text = callout.limit.text(callout.unit or "N·m")
        said.append(Line(words="Computed limit, no torque to tighten to:"))
        said.append(ShownValue(text=text, status="agreed", origins=chain_of(callout.limit.origin)))
    return tuple(said) if len(said) > 1 else said[0]


def _torque(callout: Callout) -> ShownValue | None:
    if callout.value is None:
        return None
    origins = tuple(Origin(kind=words) for words in callout.origin_words)
    text = callout.text.removesuffix(" (disputed)")
    return ShownValue(text=text, status=STATUS_WORDS[callout.status], origins=origins)


def _steps(mbook: MachineBook, steps: tuple[StepAt, ...]) -> Cell:
    lines = []
    for id, number in steps:
        title = mbook.machine.procedures[id].title
        lines.append(Line(words=f"Step {number}", path=mbook.at.step(id, number), note=str(title)))
    return tuple(lines) or None
