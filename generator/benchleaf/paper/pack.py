"""A pack: the sheets of one job as one document, numbered through, so that one print and one count hold them all.

The cable labels come last: they are printed on another paper, and their sheets are then together.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import Any

from benchleaf.diagnostics import Place
from benchleaf.paper.sheet import Paper, Sheet
from benchleaf.paper.subject import Subject
from benchleaf.paper.title_block import block_of

FILE_KEYS = frozenset({"file", "sign", "qr", "mark", "drawing"})
"""Keys of a sheet's data that name one of its files."""
LABELS = "labels.typ"


def pack_of(subject: Subject, sheets: Iterable[Sheet]) -> Sheet:
    """The sheets that hold something as one document, in their order. Each keeps its title block."""
    kept = [one for one in sheets if not one.nothing]
    paper: Paper = kept[0].data["block"]["paper"] if kept else "a4"
    block = block_of(subject, "Pack", paper)
    parts: list[dict[str, Any]] = []
    files: dict[str, bytes] = dict(block.files)
    places: dict[str, Place] = {}
    for number, one in enumerate(sorted(kept, key=lambda sheet: sheet.template == LABELS), 1):
        prefix = f"s{number}-"
        parts.append(renamed(one.data, prefix, one.files) | {"template": one.template})
        files |= {prefix + name: content for name, content in one.files.items()}
        places |= {prefix + name: place for name, place in one.places.items()}
    return Sheet(
        name=f"{subject.procedure.id}-pack",
        title=str(block.data["full-title"]),
        template="pack.typ",
        data={"block": dict(block.data), "sheets": parts},
        files=files,
        places=places,
        nothing="" if parts else "No sheet holds anything.",
    )


def renamed(data: Any, prefix: str, files: Collection[str], key: str = "") -> Any:
    """The data of a sheet with its files renamed, so that those of two sheets of one document do not meet."""
    if isinstance(data, Mapping):
        return {name: renamed(one, prefix, files, name) for name, one in data.items()}
    if isinstance(data, (list, tuple)):
        return [renamed(one, prefix, files) for one in data]
    return prefix + data if key in FILE_KEYS and isinstance(data, str) and data in files else data
