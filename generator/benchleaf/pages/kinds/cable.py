"""A cable: where it ends on which machine, its wires contact by contact, how long and how slack it is."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import MachineBook
from benchleaf.pages.documents import cable_document
from benchleaf.pages.links import step_lines
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.ring_out_shown import ring_out_sections
from benchleaf.pages.shown import Cell, Facts, Line, Links, Row, Section
from benchleaf.pages.stored_shown import drop_table
from benchleaf.pages.uses import uses_of
from benchleaf.pages.values_shown import shown_value
from benchleaf.pages.wiring_tables import Rows, cables_of, wire_table
from benchleaf.records.wiring import Cable, CableEnd


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    for name in mbook.machine.wiring.cables:
        yield page(mbook, str(name))


def page(mbook: MachineBook, name: str) -> Page:
    record = mbook.machine.wiring.cables[name]
    title = f"Cable {name}{f', {record.name}' if record.name else ''}"
    steps = tuple(step_lines(mbook, uses_of(mbook).cables[name]))
    drop = drop_table(mbook, name)
    sections = (
        Section(title="What is recorded", blocks=(Facts(rows=facts(mbook, name)),)),
        Section(title="Wires", anchor="wires", blocks=(wire_table(mbook, name),)),
        *((Section(title="Voltage lost along it", anchor="drop", blocks=(drop,)),) if drop.rows else ()),
        Section(
            title="Steps that open, plug or free it",
            blocks=(Links(lines=steps, nothing="No recorded step has to do with it."),),
        ),
    )
    sections = (*sections[:2], *ring_out_sections(mbook, name), *sections[2:])
    return list_page(
        mbook.book,
        path=mbook.at.cable(name),
        title=title,
        kind="cable",
        sections=sections,
        mbook=mbook,
        place=record.place,
        crumbs=(("Wiring", mbook.at.list("wiring")),),
        documents=(cable_document(mbook, name),),
        applies=mbook.words_for({built.configuration for built in mbook.builts if name in built.cables}),
    )


def facts(mbook: MachineBook, name: str) -> tuple[Row, ...]:
    having = {built.configuration for built in mbook.builts if name in built.cables}
    rows: list[Row] = []
    for label, cell in _FACTS:
        gathered = Rows(mbook)
        for form in mbook.forms(cables_of, name):
            for configuration in form.on:
                gathered.add((label, cell(mbook, form.value)), configuration)
        rows += gathered.rows(having)
    return tuple(rows)


def end_line(mbook: MachineBook, cable: Cable, end: CableEnd) -> Line:
    """Where one end is: plugged, fixed, or parked."""
    if end.at.is_parked:
        return Line(words="parked", note="plug tied up, goes nowhere; it can still be live")
    at = str(end.at)
    owner = at.partition(".")[0]
    if owner in mbook.machine.wiring.connectors:
        return Line(words=at, path=mbook.at.connector(owner), note="pluggable")
    joint = end.joint or cable.joint
    words = mbook.item_words(owner) if "." not in at else at.replace(".", ":", 1)
    return Line(
        words=words,
        path=mbook.owner_path(owner),
        note=f"fixed lead, {joint}" if joint else "fixed lead, joint not recorded: soldered",
    )


def _ends(mbook: MachineBook, one: Cable) -> Cell:
    return tuple(end_line(mbook, one, end) for end in one.ends)


_FACTS = (
    ("Ends", _ends),
    ("Kind", lambda mbook, one: one.kind),
    (
        "Length",
        lambda mbook, one: (
            shown_value(one.length, mbook.book.style)
            or Line(words="not recorded", note="counts as long enough to reach any place")
        ),
    ),
    (
        "Slack",
        lambda mbook, one: (
            shown_value(one.slack, mbook.book.style) or Line(words="not recorded", note="counts as none")
        ),
    ),
    ("Part number", lambda mbook, one: one.part_number),
    ("Note", lambda mbook, one: one.note or "–"),
)
