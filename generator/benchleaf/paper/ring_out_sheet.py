"""The ring-out sheet: for each cable a procedure opens what must conduct, what to expect, room for the reading."""

from __future__ import annotations

from benchleaf.connectors.book import connector_book
from benchleaf.connectors.ring_out import RingOutTable, head_of_sheet
from benchleaf.paper.bench_parts import BOX, Part, bench_sheet, head, note, sign, table, unchecked_note
from benchleaf.paper.merged import merged
from benchleaf.paper.sheet import Paper, Sheet
from benchleaf.paper.subject import Subject

NOTHING = "No step opens a recorded cable."
HEADS = ("From", "To", "Must", "Expected", "Read", "By")
COLUMNS = (0.9, 0.9, 0.8, 1.6, "26mm", "18mm")


def sheet(subject: Subject, paper: Paper = "a4") -> Sheet:
    """A table a cable, cables in order of opening; of a whole machine every cable with a plug, by designation."""
    derived, procedure = subject.full.book.derived, subject.procedure
    lists = []
    for built in subject.mbook.narrowed(procedure.applies).builts:
        book = connector_book(derived, built)
        cables = book.labels if subject.is_machine else book.of_procedure(procedure).labels
        lists.append((built.configuration, [book.ring_out(cable) for cable in cables]))
    parts: list[Part] = [note(words) for words in head_of_sheet()]
    found = merged(lists)
    for one, on in found:
        parts += _table(one, subject.only(on))
    if not found:
        parts = [note(NOTHING, grave=True)]
    unchecked = max((len(one.end.unchecked) for one in subject.replays), default=0)
    if unchecked:
        parts.insert(0, unchecked_note(unchecked, "may open more cables than are listed."))
    nothing = "" if found or unchecked else NOTHING
    return bench_sheet(subject, "ring-out", "Ring-out sheet", parts, paper, nothing=nothing)


def _table(one: RingOutTable, only: str | None) -> list[Part]:
    rows: list[list[object]] = [[row.start, row.end, row.reading, row.expected.words, BOX, BOX] for row in one.rows]
    rows.append(["all other pairs", "of these contacts", "–", one.others, BOX, BOX])
    return [
        head(one.title, only),
        sign("proved dead before the first reading", *one.how[1:]),
        table(COLUMNS, HEADS, rows),
        *(note(words, grave=True) for words in one.remarks),
    ]
