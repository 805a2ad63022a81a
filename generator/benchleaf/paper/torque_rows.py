"""The torque card: every screw of a procedure on one table, the way back included."""

from __future__ import annotations

from typing import Any

from benchleaf.pages.shown import Origin
from benchleaf.paper.origins import Footnotes
from benchleaf.paper.subject import Subject
from benchleaf.values.torque_card import CardRow, procedure_card

MOST_LABELS = 3


def torque_rows(subject: Subject, notes: Footnotes) -> list[list[Any]]:
    """Rows of item, fasteners, driver, torque, order, tick."""
    full = subject.mbook
    rows = procedure_card(full.machine, full.builts, full.book.shop, subject.procedure)
    return [_row(subject, row, notes) for row in rows]


def _row(subject: Subject, row: CardRow, notes: Footnotes) -> list[Any]:
    callout = row.callout
    where = [{"t": row.item_name, "s": True}]
    if row.only_on:
        on = [one for one in subject.configurations if one.label in row.only_on]
        where.append({"t": f" (for {subject.only(frozenset(on)) or ', '.join(row.only_on)})"})
    torque: list[list[dict[str, Any]]] = []
    if callout.value is not None:
        text = f"{callout.value} {callout.unit}{f' {callout.tolerance}' if callout.tolerance else ''}"
        marks = notes.marks(Origin(kind=words) for words in callout.origin_words)
        torque.append([{"t": text, "s": True, "n": marks}])
    else:
        torque.append([{"t": "not recorded", "s": True}])
        if callout.limit is not None:
            torque.append([{"t": f"computed limit, no torque to use: {callout.limit.text(callout.unit or 'N·m')}"}])
    torque += [[{"t": words}] for words in callout.warnings]
    return [where, row.what, row.tool, {"lines": torque}, callout.sequence or None, {"tick": True}]
