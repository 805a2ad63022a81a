"""Ring-out tables as pages show them: which contacts conduct, what the meter should read and why, what stays open."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from benchleaf.applicability import Configuration
from benchleaf.connectors.ring_out import RingOutRow, RingOutTable
from benchleaf.pages.book import MachineBook
from benchleaf.pages.plugs_shown import books_of
from benchleaf.pages.shown import Block, Cell, Line, Links, Note, Row, Section, ShownValue, Table
from benchleaf.pages.torque_shown import chain_of
from benchleaf.pages.values_shown import machine_form


def ring_out_sections(mbook: MachineBook, cable: str) -> tuple[Section, ...]:
    """The ring-out of a cable, one section for each form it has."""
    return _sections(
        mbook,
        ((at, book.ring_out(cable)) for at, book in books_of(mbook) if cable in book.built.cables),
    )


def net_ring_out_sections(mbook: MachineBook, net: str, having: Collection[Configuration]) -> tuple[Section, ...]:
    """The ring-out of a net (named by a contact on it), everything plugged in, one section for each form it has."""
    return _sections(mbook, ((at, book.net_ring_out(net)) for at, book in books_of(mbook) if at in having))


def _sections(mbook: MachineBook, tables: Iterable[tuple[Configuration, RingOutTable]]) -> tuple[Section, ...]:
    groups: dict[RingOutTable, set[Configuration]] = {}
    for configuration, table in tables:
        groups.setdefault(table, set()).add(configuration)
    having = {on for many in groups.values() for on in many}
    return tuple(
        Section(
            title="Ring it out, power off",
            anchor="ring-out" if number == 1 else f"ring-out-{number}",
            applies=None if on >= having else mbook.words_for(on),
            blocks=tuple(_blocks(table)),
        )
        for number, (table, on) in enumerate(groups.items(), 1)
    )


def _blocks(table: RingOutTable) -> Iterator[Block]:
    yield Links(lines=tuple(Line(words=words) for words in table.how), nothing="")
    yield Table(
        caption=table.title,
        heads=("From", "To", "Reads", "Expect", "Through"),
        rows=tuple(Row(cells=_cells(row)) for row in table.rows),
        nothing="No pair is recorded to conduct here, and none to read a load.",
        quiet=True,
        name="ring-out",
    )
    yield Note(words=table.others)
    for words in table.remarks:
        yield Note(words=words)


def _cells(row: RingOutRow) -> tuple[Cell, ...]:
    expected = row.expected
    value: Cell = expected.words
    if expected.band is not None:
        origins = chain_of(expected.origin) if expected.origin is not None else ()
        value = ShownValue(
            text=expected.band.tidy, machine=machine_form(expected.band), status="agreed", origins=origins
        )
    return (row.start, row.end, row.reading, value, row.by or "–")
