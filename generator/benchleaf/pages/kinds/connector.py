"""A connector: its face, its contacts with role and where they lead, what is plugged there, the steps that open it."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.applicability import Configuration
from benchleaf.connectors.faces import face_of, fixed_form
from benchleaf.drawings.face import face_view
from benchleaf.pages.art import art_of
from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.documents import connector_document
from benchleaf.pages.links import step_lines
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.shown import Applies, Art, Block, Cell, Facts, Line, Links, Row, Section
from benchleaf.pages.uses import uses_of
from benchleaf.pages.values_shown import plain_value, shown_value
from benchleaf.pages.wiring_tables import connectors_of, contact_table, keyed_cell, wiring_of
from benchleaf.refs import host_of


def pages(book: Book) -> Iterator[Page]:
    for mbook in book.machines():
        for name in mbook.machine.wiring.connectors:
            yield page(mbook, str(name))


def page(mbook: MachineBook, name: str) -> Page:
    record = mbook.machine.wiring.connectors[name]
    host = host_of(name)
    way: tuple[tuple[str, str | None], ...] = (("Wiring", mbook.at.list("wiring")),)
    if mbook.owner_path(host) is not None:
        way += ((host, mbook.owner_path(host)),)
    sections = (
        Section(title="What is recorded", blocks=(Facts(rows=facts(mbook, name)),)),
        Section(title="Face", blocks=tuple(faces(mbook, name))),
        Section(title="Contacts", anchor="contacts", blocks=(contact_table(mbook, name),)),
        Section(
            title="Steps that open or plug it",
            blocks=(
                Links(
                    lines=tuple(step_lines(mbook, uses_of(mbook).connectors[name])),
                    nothing="No recorded step opens it.",
                ),
            ),
        ),
    )
    return list_page(
        mbook.book, path=mbook.at.connector(name), title=f"Connector {name}", kind="connector", sections=sections,
        mbook=mbook, place=record.place, crumbs=way, applies=_applies(mbook, name),
        documents=(connector_document(mbook, name),),
    )  # fmt: skip


def _applies(mbook: MachineBook, name: str) -> Applies | None:
    return mbook.words_for({built.configuration for built in mbook.builts if name in built.connectors})


def facts(mbook: MachineBook, name: str) -> tuple[Row, ...]:
    rows: list[Row] = []
    host = host_of(name)
    rows.append(
        Row(
            cells=(
                "On",
                Line(
                    words=mbook.item_words(host) if host in mbook.record.items else f"cable {host}",
                    path=mbook.owner_path(host),
                ),
            )
        )
    )
    for cable, on in plugged(mbook, name).items():
        record = mbook.machine.wiring.cables[cable]
        having = {built.configuration for built in mbook.builts if name in built.connectors}
        applies = None if on >= having else mbook.words_for(on)
        rows.append(
            Row(
                cells=("Plugged here", Line(words=cable, path=mbook.at.cable(cable), note=record.name)), applies=applies
            )
        )
    for label, cell in _FACTS:
        seen: dict[Cell, set[Configuration]] = {}
        for form in mbook.forms(connectors_of, name):
            seen.setdefault(cell(mbook, form.value), set()).update(form.on)
        everyone: set[Configuration] = set().union(*seen.values())
        for value, on in seen.items():
            rows.append(Row(cells=(label, value), applies=None if on == everyone else mbook.words_for(on)))
    return tuple(rows)


def plugged(mbook: MachineBook, name: str) -> dict[str, set[Configuration]]:
    """Cable → the machines on which it is plugged in here."""
    found: dict[str, set[Configuration]] = {}
    for built in mbook.builts:
        for cable in built.cables_at.get(name, ()):
            found.setdefault(cable, set()).add(built.configuration)
    return found


_FACTS = (
    ("Family", lambda mbook, one: one.family),
    ("Fixed half", lambda mbook, one: one.form or "receptacle"),
    (
        "Half with the pins",
        lambda mbook, one: {"fixed": "the fixed one", "loose": "the loose one", None: None}[one.pins],
    ),
    ("Contacts", lambda mbook, one: str(len(one.contacts)) if one.contacts is not None else None),
    ("Keyed", lambda mbook, one: keyed_cell(one)),
    ("Latch", lambda mbook, one: one.latch),
    (
        "Hangs on a lead of",
        lambda mbook, one: shown_value(one.tail, mbook.book.style) if one.tail is not None else "none recorded",
    ),
    (
        "Time to open",
        lambda mbook, one: plain_value(one.takes, one.place_of("takes"), mbook.book.style) or "as the shop's `times`",
    ),
    ("Note", lambda mbook, one: one.note or "–"),
)


def faces(mbook: MachineBook, name: str) -> Iterator[Block]:
    """The fixed half on its mating side, in each of its forms."""
    arts: dict[str, Art] = {}
    for built in mbook.builts:
        if name in built.connectors:
            face = face_of(built, name, fixed_form(built.connectors[name]), graph=wiring_of(mbook, built).graph)
            drawing = face_view(face)
            arts.setdefault(drawing.svg, art_of(drawing, narrow=True))
    yield from arts.values()
