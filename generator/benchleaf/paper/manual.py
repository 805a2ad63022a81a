"""A whole machine's manual as one document: contents, every procedure, an index of items, connectors, codes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from benchleaf.diagnostics import Place
from benchleaf.pages.book import MachineBook
from benchleaf.pages.uses import touched
from benchleaf.paper import procedure as procedure_sheet
from benchleaf.paper.pack import renamed
from benchleaf.paper.sheet import Paper, Sheet
from benchleaf.paper.sheet_kinds import Pictures
from benchleaf.paper.subject import NotFor, Subject, subject_of
from benchleaf.paper.title_block import dated, machine_block, machine_files


def sheet(
    mbook: MachineBook,
    pictures: Pictures,
    paper: Paper = "a4",
    *,
    variant: str | None = None,
    serial: str | None = None,
) -> Sheet:
    """Every procedure of the machine, in the order of their ids, required ones included where they stand."""
    files: dict[str, bytes] = {}
    places: dict[str, Place] = {}
    chapters: list[dict[str, Any]] = []
    found: list[Subject] = []
    for one in mbook.machine.procedures.values():
        try:
            subject = subject_of(mbook, one, variant=variant, serial=serial)
        except NotFor:
            continue
        made = procedure_sheet.sheet(subject, pictures, paper)
        prefix = f"c{len(chapters) + 1}-"
        chapters.append(renamed(made.data, prefix, made.files) | {"id": str(one.id)})
        files |= {prefix + name: content for name, content in made.files.items()}
        places |= {prefix + name: place for name, place in made.places.items()}
        found.append(subject)
    block = _block(mbook, found, paper)
    files |= machine_files(mbook)
    data = {"block": block, "chapters": chapters, "index": list(_index(mbook, found)), "title": str(mbook.record.name)}
    title = str(block["full-title"])
    return Sheet(
        name=f"{mbook.machine.id}-manual", title=title, template="manual.typ", data=data, files=files, places=places
    )


def _block(mbook: MachineBook, found: list[Subject], paper: Paper) -> dict[str, Any]:
    """The title block of the whole: its date is that of the latest issue, its words those of all procedures."""
    dates = sorted(
        str(s.procedure.issue.date) for s in found if s.procedure.issue is not None and s.procedure.issue.date
    )
    unverified = sum(one.procedure.verified is None or one.procedure.verified.state == "unverified" for one in found)
    proof = f"{len(found) - unverified} of {len(found)} procedures verified; each says how far"
    data = machine_block(mbook, "Manual", "Whole manual", paper) | {
        "applies": found[0].words if found and len({one.words for one in found}) == 1 else "see each procedure",
        "verified": proof,
        "verified-short": f"{proof} · {mbook.machine.id}",
        "issue": f"Latest issue of {dates[-1]}" if dates else "Date not recorded",
    }
    return data | dated(dates[-1] if dates else None)


def _index(mbook: MachineBook, found: list[Subject]) -> Iterator[list[Any]]:
    """Everything a procedure names, with the steps: ``["A1 Main board", [["draw-tray", "3, 5"], …]]``, by name."""
    entries: dict[str, dict[str, list[str]]] = {}
    for subject in found:
        procedure = subject.procedure
        for number, step in enumerate(procedure.steps, 1):
            for action in step.do or ():
                used = touched(subject.mbook, action)
                names = [mbook.item_words(name) for name in used.items if name in mbook.record.items]
                for name in (*names, *used.connectors, *used.lines):
                    steps = entries.setdefault(str(name), {}).setdefault(str(procedure.id), [])
                    if str(number) not in steps:
                        steps.append(str(number))
    for name in sorted(entries, key=lambda one: (one.casefold(), one)):
        yield [name, [[procedure, ", ".join(steps)] for procedure, steps in entries[name].items()]]
