"""The shot list: pictures to take before connectors are opened, the worst risk of a swap first."""

from __future__ import annotations

from benchleaf.connectors.book import connector_book
from benchleaf.paper.bench_parts import TICK, Part, bench_sheet, note, table, unchecked_note
from benchleaf.paper.merged import by_value
from benchleaf.paper.sheet import Paper, Sheet
from benchleaf.paper.subject import Subject

HEADS = ("Done", "Connector", "Before", "If it changes places", "The picture must show")
NOTHING = "No step opens a recorded connector."
LEAD = "Take each picture before its connector is opened. Look at it on the camera: can the label be read?"


def sheet(subject: Subject, paper: Paper = "a4") -> Sheet:
    """A line a connector; the same picture on several machines stands once."""
    derived, procedure = subject.full.book.derived, subject.procedure
    pairs = []
    unchecked = 0
    for built in subject.mbook.narrowed(procedure.applies).builts:
        work = connector_book(derived, built).of_procedure(procedure)
        unchecked = max(unchecked, len(work.opened.unchecked))
        for shot in work.shots:
            step = f"step {shot.step.number}" + (
                "" if shot.step.procedure == procedure.id else f" of {shot.step.procedure}"
            )
            pairs.append((built.configuration, (shot.connector, shot.cable, step, shot.risk, shot.must_show)))
    rows: list[list[object]] = []
    for (connector, cable, step, risk, must), on in by_value(pairs):
        only = subject.only(on)
        where = [[{"t": connector, "s": True}], [{"t": cable}]] + ([[{"t": f"for {only}"}]] if only else [])
        rows.append([TICK, {"lines": where}, step, risk, {"lines": [[{"t": f"– {words}"}] for words in must]}])
    parts: list[Part] = []
    if unchecked:
        parts.append(unchecked_note(unchecked, "may open more than is listed: photograph first."))
    if rows:
        parts.append(table(("12mm", 0.8, 0.7, 1.1, 2.4), HEADS, rows))
    else:
        parts.append(note(NOTHING, grave=True))
    nothing = "" if rows or unchecked else NOTHING
    return bench_sheet(subject, "shot-list", "Shot list", parts, paper, lead=LEAD, nothing=nothing)
