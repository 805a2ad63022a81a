"""An error code: what it means and depends on, the order of tests and the finder, its causes and remedies."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import MachineBook
from benchleaf.pages.documents import code_document
from benchleaf.pages.isolation_shown import isolation_view
from benchleaf.pages.links import step_lines
from benchleaf.pages.page import Page
from benchleaf.pages.record_notes import note_of
from benchleaf.pages.shown import Line
from benchleaf.pages.trouble import trouble_context
from benchleaf.pages.uses import uses_of
from benchleaf.pages.wiring_tables import Rows
from benchleaf.records.codes import CodeRecord
from benchleaf.wiring.bypass import bypass_register
from benchleaf.wiring.configurations import unmodified, wiring_of


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    for code in mbook.machine.codes.values():
        yield page(mbook, code)


def page(mbook: MachineBook, code: CodeRecord) -> Page:
    shown = str(code.shown or code.code)
    title = f"Code {shown}"
    context = {
        "crumbs": mbook.crumbs((title, None)),
        "choice": mbook.choice,
        "record": note_of(code.place),
        "shown": shown,
        "code": str(code.code),
        "means": code.means,
        "signals": signals(mbook, code),
        "masked": masked(mbook, code),
        "from_steps": tuple(step_lines(mbook, uses_of(mbook).else_of[f"code {code.code}"])),
        "seen_by": tuple(
            Line(words=str(one.title or one.id), path=mbook.at.symptom(one.id))
            for one in mbook.machine.symptoms.values()
            if code.code in one.see
        ),
        "isolation": isolation_view(mbook, code),
        **trouble_context(mbook, code),
    }
    return Page(
        path=mbook.at.code(code.code), template="pages/code.html", title=title, kind="code", context=context,
        inputs=(code.place.file, mbook.machine.file),
        documents=(code_document(mbook, code),),
    )  # fmt: skip


def masked(mbook: MachineBook, code: CodeRecord) -> tuple[Line, ...]:
    """The signals of this code that something else supplies, each with the machines on which it cannot appear."""
    found = Rows(mbook)
    for built in mbook.builts:
        derived = mbook.book.derived
        for row in bypass_register(wiring_of(derived, built), unmodified(derived, built)):
            if code.code in row.masked:
                words = f"The signal '{row.name}' is supplied by {row.by_item or row.by or 'something not recorded'}"
                found.add((words,), built.configuration)
    path = mbook.at.list("bypass")
    return tuple(
        Line(words=str(row.cells[0]), path=path, note="this code can no longer appear", applies=row.applies)
        for row in found.rows()
    )


def signals(mbook: MachineBook, code: CodeRecord) -> tuple[Line, ...] | None:
    """The signals the code depends on; ``None`` = not recorded."""
    if code.signals is None:
        return None
    known = mbook.machine.wiring.signals
    lines = []
    for id in code.signals:
        one = known.get(str(id))
        path = mbook.owner_path(one.from_.owner) if one is not None and one.from_ is not None else None
        note = f"from {one.from_.shown}" if one is not None and one.from_ is not None else None
        lines.append(Line(words=str(one.name or id) if one is not None else str(id), path=path, note=note))
    return tuple(lines)
