"""The ledger of a procedure: what each step opens, and the step of the way back that closes it again."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import MachineBook
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.replayed import entry_words
from benchleaf.pages.shown import Block, Cell, Fact, Line, Note, Section, Table
from benchleaf.pages.wiring_tables import Rows
from benchleaf.physical.findings import reassemblies_of
from benchleaf.physical.ledger import Entry, changes, ledger
from benchleaf.physical.reassembly import Reassembly
from benchleaf.physical.replay import StepDone
from benchleaf.records.teardown import TeardownRecord

LEAD = (
    "Everything taken off, opened, lifted or cut has to be put back. Each line says the step that opened it and the "
    "step of the derived way back that closes it."
)
STILL_OPEN = "still open at the end"


def procedure_pages(mbook: MachineBook, procedure: TeardownRecord) -> Iterator[Page]:
    yield page(mbook, procedure)


def page(mbook: MachineBook, procedure: TeardownRecord) -> Page:
    title = f"Ledger: {procedure.title}"
    narrow = mbook.narrowed(procedure.applies)
    lines, exceptions, as_found, unchecked = Rows(narrow), Rows(narrow), Rows(narrow), Rows(narrow)
    for back in reassemblies_of(mbook.book.derived, mbook.machine, procedure):
        on = back.replay.ground.built.configuration
        for entry, opened, closed in balanced(narrow, back):
            lines.add((entry_words(narrow, entry), opened, closed), on)
        for one in back.ledger.exceptions:
            exceptions.add((entry_words(narrow, one),), on)
        for one in back.ledger.as_found:
            as_found.add((entry_words(narrow, one),), on)
        if back.ledger.unchecked or back.stopped_at is not None:
            unchecked.add((Fact(text=back.words),), on)
    blocks: tuple[Block, ...] = (
        _table("Lines", ("Open", "Opened by", "Closed by"), lines, "Nothing recorded is opened by it."),
    )
    sections = [Section(title="From step to step", anchor="lines", blocks=blocks)]
    if unchecked.on:
        words = "This ledger does not close: a step says nothing that can be checked, so it may have opened anything."
        grave: tuple[Block, ...] = (Note(words=words, grave=True), _table("Where it stops", ("Why",), unchecked, ""))
        sections.insert(0, Section(title="It does not close", anchor="open", blocks=grave))
    if exceptions.on:
        sections.append(
            Section(title="Left so by the record", blocks=(_table("Exceptions", ("What",), exceptions, ""),))
        )
    if as_found.on:
        sections.append(
            Section(title="So when the machine came in", blocks=(_table("As found", ("What",), as_found, ""),))
        )
    return list_page(
        mbook.book,
        path=mbook.at.ledger(procedure.id),
        title=title,
        kind="ledger",
        lead=LEAD,
        sections=sections,
        mbook=mbook,
        place=procedure.place,
        inputs=(mbook.machine.file, procedure.place.file),
        applies=mbook.applies(procedure.applies),
        crumbs=((str(procedure.title), mbook.at.procedure(procedure.id)),),
    )


def balanced(mbook: MachineBook, back: Reassembly) -> Iterator[tuple[Entry, Cell, Cell]]:
    """Each line that is ever open, with the step that opened it and the one that closed it, in the order opened."""
    ground = back.replay.ground
    opened: dict[tuple[str, str], tuple[Entry, Cell]] = {}
    for step in back.replay.steps:
        told = changes(ledger(ground, step.before), ledger(ground, step.after))
        for entry in told["opened"]:
            opened[entry.key] = (entry, _step_line(mbook, step))
        for entry in told["closed"]:
            first, by = opened.pop(entry.key, (entry, "before the first step"))
            yield first, by, _step_line(mbook, step)
    before = ledger(ground, back.replay.end)
    for number, step_back in enumerate(back.steps, 1):
        after = ledger(ground, step_back.after)
        for entry in changes(before, after)["closed"]:
            first, by = opened.pop(entry.key, (entry, "on the way back"))
            yield first, by, Line(words=f"way back {number}: {step_back.title}")
        before = after
    for entry, by in opened.values():
        yield entry, by, STILL_OPEN


def _step_line(mbook: MachineBook, step: StepDone) -> Line:
    """The step with its page; a step of a condition leads to that procedure's own step."""
    known = step.of.procedure in mbook.machine.procedures
    path = mbook.at.step(step.of.procedure, step.of.number) if known else None
    return Line(words=f"step {step.of.number}: {step.of.title}", path=path)


def _table(caption: str, heads: tuple[str, ...], rows: Rows, nothing: str) -> Table:
    return Table(caption=caption, heads=heads, rows=rows.rows(), nothing=nothing, quiet=True, careful=True)
