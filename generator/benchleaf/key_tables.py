"""The key tables of the record language as Markdown, drawn from the tables that read the records."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, cast

from benchleaf.json_schema import tables_of
from benchleaf.records import KINDS, RecordKind
from benchleaf.records.reading import Row, keys_of


def key_tables(kind: RecordKind) -> str:
    """Every table a record of this kind can hold, each key with its type, meaning and what leaving it out means."""
    if kind.row is None:
        return "Any word: its explanation, a text.\n"
    return "\n".join(_table(table) for table in sorted_tables(kind.row))


def sorted_tables(start: type[Row]) -> list[type[Row]]:
    """The record's own table first, then the tables it uses, by name."""
    first, *rest = tables_of(start)
    return [first, *sorted(rest, key=lambda table: table.__name__)]


def title_of(table: type[Row]) -> str:
    """``HeldBy`` → ``held by``: the table's name in words."""
    return "".join(f" {c.lower()}" if c.isupper() else c for c in table.__name__).strip()


def _table(table: type[Row]) -> str:
    doc = (table.__doc__ or "").strip().split("\n")[0]
    lines = [
        f"### {title_of(table).capitalize()}",
        "",
        doc,
        "",
        "| Key | Type | Meaning | Left out |",
        "|---|---|---|---|",
    ]
    lines += _rows(table)
    return "\n".join(lines) + "\n"


def _rows(table: type[Row]) -> Iterator[str]:
    for name, (_, key) in keys_of(cast(Any, table)).items():
        left_out = "**required**" if key.required else key.left_out
        yield f"| `{name}` | {_cell(key.reader.words)} | {_cell(key.doc)} | {_cell(left_out)} |"


def _cell(text: str) -> str:
    return text.replace("|", "\\|").replace("\n", " ")


def whole_reference() -> str:
    """The tables of every record kind, one chapter each."""
    chapters = []
    shown: set[type[Row]] = set()
    for kind in KINDS.values():
        chapters.append(f"## `{kind.where}` – record: {kind.name}\n")
        if kind.row is None:
            chapters.append(key_tables(kind))
            continue
        fresh = [table for table in sorted_tables(kind.row) if table not in shown]
        chapters += [_table(table) for table in fresh]
        shown.update(fresh)
    return "\n".join(chapters)
