"""Connectors at the bench: the faces, the label and the swap of each end a step opens or plugs; labels and pictures."""

from __future__ import annotations

from collections.abc import Iterable

from benchleaf.applicability import Configuration
from benchleaf.connectors.book import ConnectorBook, OpenEnd, connector_book
from benchleaf.connectors.everywhere import open_ends_somewhere
from benchleaf.connectors.labels import CableLabel
from benchleaf.connectors.meeting import Consequence
from benchleaf.connectors.shots import Shot
from benchleaf.drawings.face import face_view
from benchleaf.pages.art import art_of
from benchleaf.pages.book import MachineBook
from benchleaf.pages.shown import Cell, EndShown, Line, Table
from benchleaf.pages.wiring_tables import Rows
from benchleaf.records.teardown import TeardownRecord
from benchleaf.refs import is_connector


def ends_of_step(mbook: MachineBook, procedure: TeardownRecord, number: int) -> tuple[EndShown, ...]:
    """The ends a step opens or plugs, each with the machines it is so on."""

    def found() -> tuple[EndShown, ...]:
        narrow = mbook.narrowed(procedure.applies, procedure.steps[number - 1].applies)
        some = open_ends_somewhere(mbook.book.derived, mbook.machine, procedure, number)
        return tuple(_end(mbook, narrow, one.value, frozenset(one.configurations)) for one in some)

    return mbook.remember_lately(("open ends", procedure.id, number), found)


def _end(mbook: MachineBook, narrow: MachineBook, end: OpenEnd, on: frozenset[Configuration]) -> EndShown:
    cable = mbook.machine.wiring.cables.get(end.cable)
    return EndShown(
        connector=Line(words=end.connector, path=mbook.at.connector(end.connector)),
        cable=Line(
            words=end.cable, path=mbook.at.cable(end.cable) if cable else None, note=cable.name if cable else None
        ),
        verb="Unplugged" if end.verb == "unplug" else "Plugged",
        label=label_words(end.label) if end.label is not None else "",
        own=end.end_label.words if end.end_label is not None else "",
        warning=end.swap_words,
        takes_another=bool(end.pairs),
        faces=(art_of(face_view(end.on_cable), narrow=True), art_of(face_view(end.fixed), narrow=True)),
        applies=narrow.words_for(on & frozenset(narrow.configurations)),
    )


def label_words(label: CableLabel) -> str:
    """``3, B triangle``: the number in order of opening, and the mark no swappable cable shares."""
    return f"{label.number}, {label.mark.words}"


def swap_lines(mbook: MachineBook, procedure: TeardownRecord, number: int) -> tuple[Line, ...]:
    """The warnings for the card of a step: only ends that another plug goes into."""
    return tuple(
        Line(words=one.connector.words, path=one.connector.path, note=one.warning, applies=one.applies)
        for one in ends_of_step(mbook, procedure, number)
        if one.takes_another
    )


def end_line(mbook: MachineBook, end: str) -> Line:
    """``A1-J3``, or ``W9 parked``, with its page."""
    if is_connector(end) and end in mbook.machine.wiring.connectors:
        return Line(words=end, path=mbook.at.connector(end))
    cable = end.partition(" ")[0]
    return Line(words=end, path=mbook.at.cable(cable) if cable in mbook.machine.wiring.cables else None)


def books_of(mbook: MachineBook) -> Iterable[tuple[Configuration, ConnectorBook]]:
    for built in mbook.builts:
        yield built.configuration, connector_book(mbook.book.derived, built)


def label_table(mbook: MachineBook, procedure: TeardownRecord) -> Table:
    """The labels of the cables a procedure opens, two a cable, in order of opening."""
    narrow = mbook.narrowed(procedure.applies)
    gathered = Rows(narrow)
    for configuration, book in books_of(narrow):
        for label in book.of_procedure(procedure).labels.values():
            line = Line(words=label.cable, path=mbook.at.cable(label.cable), note=label.name or None)
            ends: Cell = tuple(Line(words=end.words) for end in label.ends)
            gathered.add((str(label.number), label.mark.words, line, ends), configuration)
    rows = sorted(gathered.rows(), key=lambda row: int(str(row.cells[0])))
    heads = ("Number", "Mark", "Cable", "One label an end")
    nothing = "No cable is opened."
    return Table(caption="Labels", heads=heads, rows=tuple(rows), nothing=nothing, quiet=True, name="labels")


def shot_table(mbook: MachineBook, procedure: TeardownRecord) -> Table:
    """Pictures to take before something is opened, the worst risk of a swap on any machine first."""
    narrow = mbook.narrowed(procedure.applies)
    gathered = Rows(narrow)
    risk: dict[tuple[Cell, ...], tuple[object, ...]] = {}
    for configuration, book in books_of(narrow):
        for turn, shot in enumerate(book.of_procedure(procedure).shots):
            cells = _shot_cells(mbook, shot)
            gathered.add(cells, configuration)
            risk.setdefault(cells, (shot.worst.sort_key[:2] if shot.worst is not None else NO_SWAP_KNOWN, turn))
    rows = tuple(sorted(gathered.rows(), key=lambda row: risk[row.cells]))
    heads = ("Before opening", "Must be in the picture", "If it goes wrong", "Step")
    nothing = "No connector is opened."
    return Table(caption="Pictures to take", heads=heads, rows=rows, nothing=nothing, quiet=True, name="shots")


NO_SWAP_KNOWN = (len(Consequence), 0.0)
"""After every swap that is known: nothing known is not none."""


def _shot_cells(mbook: MachineBook, shot: Shot) -> tuple[Cell, ...]:
    known = shot.step.procedure in mbook.machine.procedures
    path = mbook.at.step(shot.step.procedure, shot.step.number) if known else None
    return (
        end_line(mbook, shot.connector),
        tuple(Line(words=words) for words in shot.must_show),
        shot.risk,
        Line(words=f"{shot.step.number}: {shot.step.title}", path=path),
    )
