"""The bench view of a procedure: the same steps, one a screen, with ticks that belong to one job."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import replace

from benchleaf.currency_words import currency_of
from benchleaf.pages.book import MachineBook
from benchleaf.pages.page import Page
from benchleaf.pages.plugs_shown import ends_of_step
from benchleaf.pages.record_notes import procedure_note
from benchleaf.pages.shown import BenchView, StepView
from benchleaf.pages.step_view import Scene, scenes, step_view
from benchleaf.records.teardown import TeardownRecord


def procedure_pages(mbook: MachineBook, procedure: TeardownRecord) -> Iterator[Page]:
    yield page(mbook, procedure)


def page(mbook: MachineBook, procedure: TeardownRecord) -> Page:
    steps = tuple(bench_step(scene) for scene in scenes(mbook, procedure))
    before = [
        f"First: [{_plain(mbook.machine.procedures[str(one)].title)}]({mbook.at.procedure(str(one))})."
        for one in procedure.conditions
        if str(one) in mbook.machine.procedures
    ]
    view = BenchView(
        procedure=f"{mbook.machine.id}/{procedure.id}",
        path=mbook.at.procedure(procedure.id),
        title=_plain(procedure.title),
        issue=procedure.issue.number if procedure.issue is not None else None,
        content=content_of(steps),
        steps=steps,
        before=(*before, "Required conditions, tools and spares stand at the head of the procedure."),
        after=("Now the close-up on the procedure's page: what is to be checked before the machine goes back.",),
    )
    return Page(
        path=mbook.at.bench(procedure.id),
        template="pages/bench.html",
        title=f"Bench: {procedure.title}",
        kind="bench",
        context={
            "bench": view,
            "crumbs": mbook.crumbs((str(procedure.title), mbook.at.procedure(procedure.id)), ("Bench", None)),
            "choice": mbook.choice,
            "record": procedure_note(procedure),
            "currency": currency_of(mbook, procedure),
        },
        inputs=(procedure.place.file, mbook.machine.file),
    )


def bench_step(scene: Scene) -> StepView:
    """The step with all it opens or plugs: at the bench nobody turns to another page for a face."""
    return replace(step_view(scene), swaps=(), ends=ends_of_step(scene.mbook, scene.procedure, scene.number))


def content_of(steps: tuple[StepView, ...]) -> str:
    """A short hash of all that a reader acts on: when a word of it changes, ticks are void."""
    return hashlib.sha256(repr(steps).encode()).hexdigest()[:16]


def _plain(text: str) -> str:
    """An author's line with everything CommonMark would read as markup taken literally."""
    return "".join(f"\\{letter}" if letter in "\\`*_[]<>&!()" else letter for letter in text)
