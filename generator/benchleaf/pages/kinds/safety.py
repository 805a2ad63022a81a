"""The library of safety messages: each in full, and everything that brings it."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.drawings.safety_sign import sign_title
from benchleaf.pages.book import Book
from benchleaf.pages.links import step_lines
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.safety_shown import gather, message_of
from benchleaf.pages.shown import Line, Links, Messages, Note, Section
from benchleaf.pages.step_view import scenes
from benchleaf.pages.uses import StepUse
from benchleaf.records.shared import SIGNALS as SIGNAL_WORDS


def pages(book: Book) -> Iterator[Page]:
    steps = _steps_by_message(book)
    sections = []
    order = sorted(book.library.safety.items(), key=lambda pair: SIGNAL_WORDS.index(pair[1].signal))
    for id, message in order:
        shown = message_of(book.library, id)
        assert shown is not None
        items = tuple(_items(book, id))
        sign = (
            f"Sign ISO 7010-{message.symbol}: {sign_title(str(message.symbol))}."
            if message.symbol
            else "No sign is recorded."
        )
        place = f"{sign} Recorded at {message.place.file}:{message.place.line}."
        sections.append(
            Section(
                title=id.replace("-", " "),
                anchor=f"safety-{id}",
                blocks=(
                    Messages(messages=(shown,)),
                    Note(words=place),
                    Links(lines=items, nothing="No item brings it by itself; steps name it."),
                    Links(lines=steps.get(id, ()), nothing="It stands before no recorded step."),
                ),
            )
        )
    lead = "Most severe first. DANGER, WARNING and CAUTION are for injury, NOTICE for damage alone (ANSI Z535.4)."
    nothing = (
        ()
        if sections
        else (Note(words="No safety message is recorded. That is no statement that there is no hazard.", grave=True),)
    )
    yield list_page(
        book, path="safety.html", title="Safety messages", kind="safety", sections=sections, opening=nothing, lead=lead,
        inputs=("safety.yaml",),
    )  # fmt: skip


def _items(book: Book, id: str) -> Iterator[Line]:
    for mbook in book.machines():
        for name, item in mbook.record.items.items():
            if any(id in (*(form.value.hazards or ()), *(form.value.handling or ())) for form in mbook.items(name)):
                yield Line(
                    words=mbook.item_words(name),
                    path=mbook.at.item(name),
                    note=str(mbook.record.name),
                    applies=mbook.applies(item.applies),
                )


def _steps_by_message(book: Book) -> dict[str, tuple[Line, ...]]:
    found: dict[str, list[Line]] = {}
    for mbook in book.machines():
        by: dict[str, list[StepUse]] = {}
        for procedure in mbook.machine.procedures.values():
            for scene in scenes(mbook, procedure):
                for one in gather(scene.narrow, procedure, scene.step).gathered:
                    by.setdefault(one.id, []).append(StepUse(procedure, scene.number, scene.step))
        for id, uses in by.items():
            found.setdefault(id, []).extend(step_lines(mbook, uses))
    return {id: tuple(lines) for id, lines in found.items()}
