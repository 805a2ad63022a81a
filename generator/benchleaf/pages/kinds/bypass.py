"""The bypass register of a machine, what a conversion changed in its wiring, and what its owner has to be told."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import MachineBook
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.shown import Block, Cell, Facts, Line, Links, Note, Row, Section, Table
from benchleaf.pages.wiring_tables import Rows, contact_cell
from benchleaf.search.documents import Document
from benchleaf.wiring.bypass import BypassRow, bypass_register, disclosure
from benchleaf.wiring.configurations import unmodified, wiring_of
from benchleaf.wiring.difference import Difference, difference

TITLE = "Bypass register and changes"
LEAD = (
    "Signals that no longer come from their own sensor or guard, what a conversion changed, and what the owner of the "
    "machine has to be told."
)
NOT_RECORDED = "The wiring is not recorded: nobody can say here which signals were replaced."


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    yield page(mbook)


def page(mbook: MachineBook) -> Page:
    path = mbook.at.list("bypass")
    register: dict[str, Rows] = {}
    changed: dict[tuple[Block, ...], list[str]] = {}
    owners: dict[tuple[Block, ...], list[str]] = {}
    for built in mbook.builts:
        derived = mbook.book.derived
        now, before = wiring_of(derived, built), unmodified(derived, built)
        for row in bypass_register(now, before):
            facts = register.setdefault(row.name, Rows(mbook))
            for label, cell in zip(LABELS, _cells(mbook, row), strict=True):
                facts.add((label, cell), built.configuration)
        if built.configuration.modifications and built.configuration.serial is None:
            label = built.configuration.label
            changed.setdefault(_changes(difference(before, now)), []).append(label)
            told = disclosure(now, before, names_are_published=bool(mbook.book.shop.publish_names))
            lines = tuple(Line(words=line) for _, part in told.parts for line in part)
            owner = Links(lines=lines, nothing="Nothing is recorded that the owner has to be told.")
            owners.setdefault((owner,), []).append(label)
    opening: tuple[Block, ...] = () if mbook.machine.has_wiring else (Note(words=NOT_RECORDED, grave=True),)
    found = Document(
        url=path, title=TITLE, kind="sheet", machine=str(mbook.record.name), headings=("substituted signals",)
    )
    return list_page(
        mbook.book, path=path, title=TITLE, kind="bypass", lead=LEAD, opening=opening, mbook=mbook,
        sections=(*_register(mbook, register), *_told(changed, "What changed", "change"),
                  *_told(owners, "For the owner", "owner")),
        place=mbook.machine.wiring.place if mbook.machine.has_wiring else mbook.record.place,
        crumbs=(("Wiring", mbook.at.list("wiring")),), documents=(found,),
    )  # fmt: skip


LABELS = ("Protects", "Came from", "Supplied now by", "Always says", "Codes that cannot appear", "Instead", "Accepted")
NONE_RECORDED = "No signal is recorded as supplied by anything but its own source."


def _told(found: dict[tuple[Block, ...], list[str]], title: str, anchor: str) -> Iterator[Section]:
    """One section for all machines of which the same is told."""
    for number, (blocks, labels) in enumerate(found.items(), 1):
        yield Section(title=f"{title}: {'; '.join(labels)}", anchor=f"{anchor}-{number}", blocks=blocks)


def _register(mbook: MachineBook, found: dict[str, Rows]) -> Iterator[Section]:
    """A section a signal, so that every fact of it has the room to be read."""
    if not found:
        yield Section(title="Bypass register", anchor="register", blocks=(Note(words=NONE_RECORDED),))
    for number, (name, rows) in enumerate(found.items(), 1):
        having = set().union(*rows.on.values())
        on = mbook.words_for(having)
        where = Row(cells=("On", on.words if on is not None else "every machine"))
        facts = Facts(rows=(where, *rows.rows(having)))
        yield Section(title=f"Signal: {name}", anchor=f"signal-{number}", blocks=(facts,))


def _cells(mbook: MachineBook, row: BypassRow) -> tuple[Cell, ...]:
    codes: Cell = tuple(
        Line(words=f"code {code}", path=mbook.at.code(code) if code in mbook.machine.codes else None)
        for code in row.masked
    )
    accepted: Cell = None
    if row.acknowledged is not None:
        accepted = f"{row.acknowledged.date}: {row.acknowledged.reason}"
    elif row.is_lost:
        accepted = "not accepted"
    return (
        row.protects,
        (contact_cell(mbook, row.source), Line(words=row.source_item or "on nothing recorded")),
        (contact_cell(mbook, row.by), Line(words=row.by_item or "on nothing recorded")) if row.by else None,
        row.asserts or None,
        codes or "none recorded",
        row.compensation or None,
        accepted,
    )


def _changes(found: Difference) -> tuple[Block, ...]:
    """Added, removed and re-routed connections of one conversion against the maker's wiring."""
    cables = tuple(Line(words=one.words) for one in found.cables)
    rows = (
        *(("added", one.words) for one in found.added),
        *(("removed", one.words) for one in found.removed),
        *(("re-routed", f"{old.words} → {new.words}") for old, new in found.rerouted),
    )
    table = Table(
        caption="Connections changed", heads=("Change", "Connection"), nothing="No connection was changed.",
        rows=tuple(Row(cells=cells) for cells in rows), quiet=True,
    )  # fmt: skip
    return (Links(lines=cables, nothing="No cable was changed."), table)
