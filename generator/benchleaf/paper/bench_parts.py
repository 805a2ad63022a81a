"""The parts bench sheets are made of, as data: headings, notes, tables, lists of lines, lines to write on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from benchleaf.paper.sheet import Paper, Sheet
from benchleaf.paper.subject import Subject
from benchleaf.paper.title_block import block_of

Part = dict[str, Any]
TICK: Mapping[str, bool] = {"tick": True}
BOX: Mapping[str, bool] = {"box": True}


def unchecked_note(count: int, what: str) -> Part:
    """What unchecked steps may add to a list: ``2 unchecked steps may open more than is listed.``"""
    return note(f"{count} unchecked step{'s' * (count > 1)} {what}", grave=True)


def head(text: str, only: str | None = None) -> Part:
    return {"k": "head", "t": text, "only": only}


def note(text: str, *, grave: bool = False) -> Part:
    """A sentence; ``grave`` is one nobody may overlook."""
    return {"k": "note", "t": text, "grave": grave}


def lines(label: str, said: Sequence[str], only: str | None = None) -> Part:
    """A label with what stands behind it, and the machines it is so on."""
    return {"k": "lines", "label": label, "of": list(said), "only": only}


def write(*labels: str, columns: int = 3) -> Part:
    """Lines to write on, each with its label."""
    return {"k": "write", "of": list(labels), "columns": columns}


def sign(*said: str) -> Part:
    """A hold point with room for a signature and the time."""
    return {"k": "sign", "of": list(said)}


def table(columns: Sequence[float | str], heads: Sequence[str], rows: Sequence[Sequence[Any]]) -> Part:
    """Columns are shares of the width (numbers), widths (``24mm``) or ``auto``."""
    wide = [
        {"fr": one} if not isinstance(one, str) else {"mm": float(one[:-2])} if one.endswith("mm") else {}
        for one in columns
    ]
    return {"k": "table", "columns": wide, "heads": list(heads), "rows": [list(row) for row in rows]}


def bench_sheet(
    subject: Subject,
    stem: str,
    kind: str,
    parts: Sequence[Part],
    paper: Paper,
    *,
    lead: str = "",
    files: Mapping[str, bytes] | None = None,
    nothing: str = "",
) -> Sheet:
    """A sheet of parts under the title block; ``nothing`` is why it holds nothing."""
    block = block_of(subject, kind, paper)
    data = {"block": dict(block.data), "title": kind, "lead": lead, "parts": list(parts)}
    return Sheet(
        name=f"{subject.procedure.id}-{stem}",
        title=str(block.data["full-title"]),
        template="bench.typ",
        data=data,
        files={**block.files, **(files or {})},
        nothing=nothing,
    )
