"""Every fastener of a machine: kind by kind with its size, tool and torque, and every place it sits in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import cast

from benchleaf.drawings.screw import Head, Screw, screw_view
from benchleaf.fastener_sets import FastenerSet
from benchleaf.pages.applies_words import Found
from benchleaf.pages.art import art_of
from benchleaf.pages.book import MachineBook
from benchleaf.pages.documents import fastener_document
from benchleaf.pages.fastener_words import kind_words, size_words
from benchleaf.pages.kinds.step import fastener_cells
from benchleaf.pages.links import step_lines
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.sentences import plural
from benchleaf.pages.shown import Art, Block, Links, Note, Row, Section, Table, Torques
from benchleaf.pages.torque_shown import callout
from benchleaf.pages.uses import uses_of
from benchleaf.values.quantity import from_base
from benchleaf.values.threads import find_thread
from benchleaf.values.torque_of_set import is_driven

HEADS = ("hex", "cap", "pan", "button", "countersunk", "flange")


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    yield page(mbook)


def page(mbook: MachineBook) -> Page:
    kinds = by_fastener(mbook)
    sections = [_section(mbook, id, forms) for id, forms in kinds.items()]
    found = (
        fastener_document(mbook, id, section.title, tuple(form.value for form in forms))
        for (id, forms), section in zip(kinds.items(), sections, strict=True)
    )
    opening: list[Block] = [totals(mbook, kinds)]
    unheld = [
        name
        for name in mbook.record.items
        if name != "frame" and any(f.value.held_by is None for f in mbook.items(name))
    ]
    if unheld:
        words = ", ".join(mbook.item_words(name) for name in unheld)
        opening.append(
            Note(words=f"What holds these is not recorded, and counts as something unknown: {words}.", grave=True)
        )
    return list_page(
        mbook.book,
        path=mbook.at.list("fasteners"),
        title="Fasteners",
        kind="fasteners",
        sections=sections,
        opening=opening,
        mbook=mbook,
        documents=tuple(found),
        place=mbook.record.place,
    )


def by_fastener(mbook: MachineBook) -> dict[str, list[Found[FastenerSet]]]:
    """The forms of every set, under the fastener they are made of, in the order of the record."""
    found: dict[str, list[Found[FastenerSet]]] = {str(id): [] for id in mbook.record.fasteners}
    for item in mbook.record.items:
        for name in mbook.sets_of(item):
            for form in mbook.sets(name):
                found.setdefault(form.value.fastener, []).append(form)
    return found


def totals(mbook: MachineBook, kinds: dict[str, list[Found[FastenerSet]]]) -> Table:
    """How many of each kind there are on the machine that has most of them."""
    rows = []
    for forms in kinds.values():
        if forms:
            one = forms[0].value
            most = max(sum(f.value.count for f in forms if c in f.on) for c in mbook.configurations)
            rows.append(Row(cells=(kind_words(one), size_words(one) or None, str(most), one.tool)))
    heads = ("Fastener", "Size", "At most on one machine", "Tool")
    return Table(caption="All of them", heads=heads, rows=tuple(rows), nothing="No fastener is recorded.")


def _section(mbook: MachineBook, id: str, forms: list[Found[FastenerSet]]) -> Section:
    record = mbook.record.fasteners.get(id)
    place = record.place if record is not None else forms[0].value.place
    blocks: list[Block] = []
    if forms:
        first = forms[0].value
        title = f"{plural(kind_words(first), 2)} {size_words(first)}".strip()
        if is_driven(first):
            blocks += [
                screw_art(first),
                Torques(callouts=tuple(dict.fromkeys(callout(mbook, form.value) for form in forms))),
            ]
        rows = tuple(Row(cells=fastener_cells(mbook, form.value), applies=form.applies) for form in forms)
        heads = ("Fastener", "Count", "Size", "Head", "Tool", "Torque", "Into")
        blocks.append(Table(caption="Where they sit", heads=heads, rows=rows, nothing="", name="fasteners"))
        uses = uses_of(mbook)
        lines = tuple(
            line
            for name in dict.fromkeys(form.value.name for form in forms)
            for line in step_lines(mbook, uses.sets[name])
        )
        blocks.append(Links(lines=lines, nothing="No recorded step turns them."))
    else:
        title = id.replace("-", " ")
        blocks.append(Note(words="Declared, but no item is held by it."))
    blocks.append(Note(words=f"Recorded at {place.file}:{place.line}."))
    return Section(title=title[0].upper() + title[1:], anchor=f"fastener-{id}", blocks=tuple(blocks))


def screw_of(one: FastenerSet) -> Screw:
    """A screw or nut of the set as it is drawn; what is not recorded stays open."""
    thread = find_thread(one.thread or "")
    length = one.length.quantity if one.length is not None else None
    return Screw(
        name=kind_words(one),
        thread=one.thread or "",
        diameter=thread.d if thread is not None else None,
        length=from_base(length.nominal, "mm") if length is not None and length.nominal is not None else None,
        head=cast(Head, one.head if one.head in HEADS else ""),
        drive=one.drive or "",
    )


def screw_art(one: FastenerSet) -> Art:
    """The screw drawn to size; what is not recorded is dashed and said."""
    return art_of(screw_view(screw_of(one)), narrow=True)
