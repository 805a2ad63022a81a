"""A procedure: what it needs first, its steps with their messages, torques and tools, what is owed afterwards."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.currency_words import currency_of
from benchleaf.pages.book import MachineBook
from benchleaf.pages.documents import procedure_document
from benchleaf.pages.kinds.plugs import opens_any
from benchleaf.pages.links import procedure_line, step_lines, trouble_line
from benchleaf.pages.page import Page
from benchleaf.pages.record_notes import procedure_note
from benchleaf.pages.requirements import preliminary, safety_summary, unchecked_words
from benchleaf.pages.shown import Line
from benchleaf.pages.step_view import scenes, step_view
from benchleaf.pages.uses import uses_of
from benchleaf.pages.way_back import way_back
from benchleaf.records.teardown import TeardownRecord


def procedure_pages(mbook: MachineBook, procedure: TeardownRecord) -> Iterator[Page]:
    yield page(mbook, procedure)


def page(mbook: MachineBook, procedure: TeardownRecord) -> Page:
    title = str(procedure.title)
    acts = tuple(scenes(mbook, procedure))
    steps = tuple(step_view(scene) for scene in acts)
    uses = uses_of(mbook)
    context = {
        "crumbs": mbook.crumbs((title, None)),
        "choice": mbook.choice,
        "record": procedure_note(procedure),
        "currency": currency_of(mbook, procedure),
        "text": str(procedure.text or ""),
        "goal": goal_line(mbook, procedure),
        "applies": mbook.applies(procedure.applies),
        "needs": preliminary(mbook, procedure),
        "summary": safety_summary(mbook, procedure),
        "steps": steps,
        "unchecked": unchecked_words(acts),
        "bench": mbook.at.bench(procedure.id),
        "order": mbook.at.order(procedure.id),
        "ledger": mbook.at.ledger(procedure.id),
        "plugs": mbook.at.plugs(procedure.id) if opens_any(mbook, procedure) else None,
        "torque": mbook.at.torque(str(procedure.id)),
        "leads_here": tuple(trouble_line(mbook, use) for use in uses.remedies[str(procedure.id)]),
        "comes_from": tuple(step_lines(mbook, uses.else_of[str(procedure.id)])),
        "condition_of": tuple(procedure_line(mbook, one) for one in uses.conditions[str(procedure.id)]),
        "back": way_back(mbook, procedure),
        "papers": mbook.papers(str(procedure.id)),
    }
    return Page(
        path=mbook.at.procedure(procedure.id),
        template="pages/procedure.html",
        title=title,
        kind="procedure",
        context=context,
        inputs=(procedure.place.file, mbook.machine.file),
        documents=(procedure_document(mbook, procedure, steps),),
    )


def goal_line(mbook: MachineBook, procedure: TeardownRecord) -> Line | None:
    """What the procedure is to end with: an item reached, off or renewed, or words."""
    goal = procedure.goal
    if goal is None:
        return None
    if goal.item is None:
        return Line(words=str(goal.text), note="in words: not checked by the program")
    words = f"{goal.kind} {mbook.item_words(goal.item.item)}"
    path = mbook.at.item(goal.item.item) if goal.item.item in mbook.record.items else None
    return Line(words=words[0].upper() + words[1:], path=path)
