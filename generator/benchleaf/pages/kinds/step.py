"""A page for each step: everything that is true there, so that a link from anywhere can point at the very step."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from benchleaf.fastener_sets import FastenerSet
from benchleaf.pages.book import MachineBook
from benchleaf.pages.fastener_words import kind_words, size_words, tool_words
from benchleaf.pages.kinds.plugs import opens_any
from benchleaf.pages.links import trouble_line
from benchleaf.pages.page import Page
from benchleaf.pages.plugs_shown import ends_of_step
from benchleaf.pages.record_notes import procedure_note
from benchleaf.pages.replayed import after_step, ledger_rows, ledger_words, state_rows, stop_rows
from benchleaf.pages.requirements import spare_line
from benchleaf.pages.shown import Cell, Line, Row, Table
from benchleaf.pages.spare_lines import spares_of
from benchleaf.pages.step_amounts import handled
from benchleaf.pages.step_view import Scene, scenes, sets_of_step, step_view
from benchleaf.pages.support import tool_path
from benchleaf.pages.uses import touched, uses_of
from benchleaf.pages.values_shown import shown_value
from benchleaf.pages.wiring_tables import connectors_of, keyed_cell
from benchleaf.records.teardown import TeardownRecord


def procedure_pages(mbook: MachineBook, procedure: TeardownRecord) -> Iterator[Page]:
    count = len(procedure.steps)
    for scene in scenes(mbook, procedure):
        yield page(scene, count)


def page(scene: Scene, count: int) -> Page:
    mbook, procedure = scene.mbook, scene.procedure
    view = replace(step_view(scene), stop=None, swaps=())
    after = after_step(mbook, procedure, scene.number)
    title = f"{procedure.title}, step {scene.number}: {scene.step.title}"
    context = {
        "crumbs": mbook.crumbs(
            (str(procedure.title), mbook.at.procedure(procedure.id)), (f"Step {scene.number}", None)
        ),
        "choice": mbook.choice,
        "record": procedure_note(procedure, scene.step.place),
        "step_view": view,
        "procedure": Line(words=str(procedure.title), path=mbook.at.procedure(procedure.id)),
        "procedure_applies": mbook.applies(procedure.applies),
        "count": count,
        "before": step_link(scene, scene.number - 1),
        "after": step_link(scene, scene.number + 1),
        "bench": f"{mbook.at.bench(procedure.id)}#{view.anchor}",
        "tables": tuple(
            table for table in (fasteners_table(scene), items_table(scene), connectors_table(scene)) if table.rows
        ),
        "ends": ends_of_step(mbook, procedure, scene.number),
        "plugs": mbook.at.plugs(procedure.id) if opens_any(mbook, procedure) else None,
        "stops": stop_rows(scene.narrow, after),
        "states": state_rows(scene.narrow, after),
        "ledger": ledger_rows(scene.narrow, after),
        "ledger_words": ledger_words(after) if after else "",
        "spares": tuple(spare_line(mbook, one) for one in spares_of((scene,))),
        "leads_here": tuple(trouble_line(mbook, use) for use in uses_of(mbook).remedies[str(procedure.id)]),
        "has_spares": not scene.is_unchecked,
    }
    return Page(
        path=mbook.at.step(procedure.id, scene.number),
        template="pages/step.html",
        title=title,
        kind="step",
        context=context,
        inputs=(procedure.place.file, mbook.machine.file),
    )


def step_link(scene: Scene, number: int) -> Line | None:
    steps = scene.procedure.steps
    if not 1 <= number <= len(steps):
        return None
    return Line(words=str(steps[number - 1].title), path=scene.mbook.at.step(scene.procedure.id, number))


def fasteners_table(scene: Scene) -> Table:
    """What is turned here: how many, of what size, with what, at what torque."""
    rows = [
        Row(cells=fastener_cells(scene.mbook, form.value), applies=form.applies)
        for name in sets_of_step(scene)
        for form in scene.narrow.sets(name)
    ]
    heads = ("Fastener", "Count", "Size", "Head", "Tool", "Torque", "Into")
    return Table(caption="Fasteners", heads=heads, rows=tuple(rows), nothing="", name="fasteners")


def fastener_cells(mbook: MachineBook, one: FastenerSet) -> tuple[Cell, ...]:
    """One set in a row: name and item, count, size, head, tool, torque, material."""
    driven = one.kind in ("screw", "nut")
    name = Line(words=f"{kind_words(one)}{', captive' if one.captive else ''}", note=f"of {mbook.item_words(one.item)}")
    tool: Cell = tool_words(one)
    if isinstance(tool, str) and one.tool in mbook.book.library.tools:
        tool = Line(words=str(mbook.book.library.tools[str(one.tool)].name), path=tool_path(str(one.tool)))
    torque: Cell = shown_value(one.torque, mbook.book.style) if driven else "–"
    return (
        name,
        str(one.count),
        _size(one) if driven else "–",
        one.head if driven else "–",
        tool,
        torque,
        one.into if driven else "–",
    )


def _size(one: FastenerSet) -> Cell:
    size = size_words(one)
    if not size:
        return None
    return size if one.length is not None else (size, Line(words="length", note="not recorded"))


def items_table(scene: Scene) -> Table:
    """What comes off or is drawn out, and how long it may stay so."""
    rows = []
    for name in handled(scene):
        for form in scene.narrow.items(name):
            item = form.value
            rests: Cell = str(item.rests) if item.rests is not None else Line(words="not recorded", note="do not stop")
            cells: tuple[Cell, ...] = (
                Line(words=scene.mbook.item_words(name), path=scene.mbook.at.item(name)),
                item.part_number,
                shown_value(item.mass, scene.mbook.book.style),
                str(item.persons or 1),
                rests,
            )
            rows.append(Row(cells=cells, applies=form.applies))
    heads = ("Part", "Part number", "Mass", "People", "May stay off or open")
    return Table(caption="Parts handled", heads=heads, rows=tuple(rows), nothing="")


def connectors_table(scene: Scene) -> Table:
    """Which connectors open here: their family, contacts, keying and latch, and what is plugged there."""
    mbook, rows = scene.mbook, []
    names = dict.fromkeys(name for a in scene.actions for name in touched(scene.narrow, a).connectors)
    for name in names:
        for form in scene.narrow.forms(connectors_of, name):
            one = form.value
            cables = sorted({c for built in scene.narrow.builts for c in built.cables_at.get(name, ())})
            cells: tuple[Cell, ...] = (
                Line(words=name, path=mbook.at.connector(name)),
                tuple(cable_line(mbook, cable) for cable in cables) or None,
                one.family,
                str(len(one.contacts)) if one.contacts is not None else None,
                keyed_cell(one),
                one.latch,
            )
            rows.append(Row(cells=cells, applies=form.applies))
    heads = ("Connector", "Cable", "Family", "Contacts", "Keyed", "Latch")
    return Table(caption="Connectors", heads=heads, rows=tuple(rows), nothing="")


def cable_line(mbook: MachineBook, cable: str) -> Line:
    record = mbook.machine.wiring.cables.get(cable)
    return Line(words=cable, path=mbook.at.cable(cable) if record else None, note=record.name if record else None)
