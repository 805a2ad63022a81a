"""An item: what it is and where it sits, what holds and joins it, its values, and everything that has to do with it."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.drawings.arrangement import Body, arrangement
from benchleaf.pages.applies_words import Found
from benchleaf.pages.art import art_of, box_of
from benchleaf.pages.book import MachineBook
from benchleaf.pages.documents import item_document
from benchleaf.pages.item_access import access_sections
from benchleaf.pages.kinds.step import fastener_cells
from benchleaf.pages.kinds.torque import patterns
from benchleaf.pages.links import procedure_line, step_lines, trouble_line
from benchleaf.pages.page import Page
from benchleaf.pages.record_notes import note_of
from benchleaf.pages.safety_shown import item_messages
from benchleaf.pages.shown import Art, Cell, Fact, Line, Row, Table
from benchleaf.pages.uses import uses_of
from benchleaf.pages.values_shown import shown_value
from benchleaf.pages.wiring_tables import connectors_of
from benchleaf.records.items import Item
from benchleaf.records.teardown import TeardownRecord
from benchleaf.records.types import Choices


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    for name in mbook.record.items:
        yield page(mbook, str(name))


def page(mbook: MachineBook, name: str) -> Page:
    item, uses = mbook.record.items[name], uses_of(mbook)
    title = mbook.item_words(name)
    context = {
        "crumbs": mbook.crumbs(("Items", f"{mbook.at.home}#items"), (title, None)),
        "choice": mbook.choice,
        "record": note_of(item.place),
        "applies": mbook.applies(item.applies),
        "note": str(item.note or ""),
        "safety_list": item_messages(mbook, name),
        "facts": facts(mbook, name),
        "fasteners": fasteners(mbook, name),
        "unheld": any(form.value.held_by is None for form in mbook.items(name)),
        "connectors": connectors(mbook, name),
        "values": values(mbook, name),
        "within": tuple(_item_line(mbook, one) for one in _within(mbook, name)),
        "goals": tuple(procedure_line(mbook, one, _goal_words(one)) for one in uses.goals[name]),
        "steps": tuple(step_lines(mbook, uses.items[name])),
        "troubles": tuple(trouble_line(mbook, use) for use in (*uses.replaced[name], *uses.tested[name])),
        "checks": tuple(_checks(mbook, name)),
        "place": place_art(mbook, name),
        "patterns": patterns(mbook, mbook.sets_of(name)),
        "access": access_sections(mbook, name),
    }
    return Page(
        path=mbook.at.item(name),
        template="pages/item.html",
        title=title,
        kind="item",
        context=context,
        inputs=(mbook.machine.file,),
        documents=(item_document(mbook, name),),
    )


def _goal_words(procedure: TeardownRecord) -> str | None:
    kinds = {"reach": "reaches it", "remove": "takes it off", "replace": "renews it"}
    return kinds.get(procedure.goal.kind) if procedure.goal is not None else None


def _item_line(mbook: MachineBook, name: str) -> Line:
    return Line(
        words=mbook.item_words(name), path=mbook.at.item(name), applies=mbook.applies(mbook.record.items[name].applies)
    )


def facts(mbook: MachineBook, name: str) -> tuple[Row, ...]:
    """What is recorded of it, key by key; forms that differ between machines stand one below the other."""
    rows: list[Row] = []
    for label, cell in _FACTS:
        seen: dict[Cell, list[Found[Item]]] = {}
        for form in mbook.items(name):
            seen.setdefault(cell(mbook, name, form.value), []).append(form)
        for value, many in seen.items():
            on = frozenset().union(*(one.on for one in many))
            everyone = frozenset().union(*(one.on for one in mbook.items(name)))
            rows.append(Row(cells=(label, value), applies=None if on == everyone else mbook.words_for(on)))
    return tuple(rows)


def choice_cell(mbook: MachineBook, choices: Choices) -> Cell:
    """What must be out of the way: all of these, each with its alternatives."""
    if not choices:
        return "nothing"
    return tuple(
        Line(
            words=" or ".join(
                " with ".join(_placed(mbook, one.item, one.position) for one in option) for option in clause
            )
        )
        for clause in choices
    )


def _placed(mbook: MachineBook, item: str, position: str) -> str:
    return f"{mbook.item_words(item)} at {position}" if position else f"{mbook.item_words(item)} off"


def _sits_in(mbook: MachineBook, name: str, item: Item) -> Cell:
    if item.in_ is None:
        return "the frame, which never moves" if name != "frame" else "–"
    return _item_line(mbook, item.in_.item) if item.in_.item in mbook.record.items else str(item.in_)


def _behind(mbook: MachineBook, name: str, item: Item) -> Cell:
    if item.behind is None and item.in_ is not None and item.in_.item in mbook.record.items:
        return Line(words=f"as for {mbook.item_words(item.in_.item)}", path=mbook.at.item(item.in_.item))
    return None if item.behind is None else choice_cell(mbook, item.behind)


def _reach(mbook: MachineBook, name: str, item: Item) -> Cell:
    return "as for taking it off" if item.reach is None else choice_cell(mbook, item.reach)


def _motions(mbook: MachineBook, name: str, item: Item) -> Cell:
    return None if item.comes_off is None else ", then ".join(str(one.text) for one in item.comes_off)


def _positions(mbook: MachineBook, name: str, item: Item) -> Cell:
    if not item.positions:
        return "none"
    return tuple(
        Line(words=id, note=str(one.motion.text) if one.motion is not None else "motion not recorded")
        for id, one in item.positions.items()
    )


def _supports(mbook: MachineBook, name: str, item: Item) -> Cell:
    if item.supports is None:
        return None
    return tuple(_item_line(mbook, one.item) for one in item.supports if one.item in mbook.record.items) or "none"


def _persons(mbook: MachineBook, name: str, item: Item) -> Cell:
    return str(item.persons) if item.persons is not None else Line(words="1", note="default")


def _rests(mbook: MachineBook, name: str, item: Item) -> Cell:
    return str(item.rests) if item.rests is not None else Line(words="not recorded", note="counts as: do not stop")


def _renew(mbook: MachineBook, name: str, item: Item) -> Cell:
    if item.renew is None:
        return "none"
    return (
        Line(words="always", note="mandatory whenever it comes off")
        if item.renew == "always"
        else f"after {item.renew}"
    )


def _earth(mbook: MachineBook, name: str, item: Item) -> Cell:
    return None if item.metal_earth is None else str(item.metal_earth)


def _cut_out(mbook: MachineBook, name: str, item: Item) -> Cell:
    return None if item.cut_out is None else str(item.cut_out)


def _alternatives(mbook: MachineBook, name: str, item: Item) -> Cell:
    return None if item.alternatives is None else ", ".join(item.alternatives) or "none"


_FACTS = (
    ("Part number", lambda mbook, name, item: item.part_number),
    ("Serves as well", _alternatives),
    ("Supplier", lambda mbook, name, item: item.supplier),
    ("Sits in", _sits_in),
    ("Out of the way before it comes off", _behind),
    ("Out of the way before it can be touched", _reach),
    ("Comes off by", _motions),
    ("Positions", _positions),
    ("Mass", lambda mbook, name, item: shown_value(item.mass, mbook.book.style)),
    ("People", _persons),
    ("Would fall without it", _supports),
    ("May stay off or open", _rests),
    ("Renew", _renew),
    ("Settings kept in it", lambda mbook, name, item: Fact(item.settings) if item.settings else "none recorded"),
    ("Protective conductor of exposed metal", _earth),
)


def fasteners(mbook: MachineBook, name: str) -> Table:
    """What holds it."""
    rows = [
        Row(cells=fastener_cells(mbook, form.value), applies=form.applies)
        for one in mbook.sets_of(name)
        for form in mbook.sets(one)
    ]
    heads = ("Fastener", "Count", "Size", "Head", "Tool", "Torque", "Into")
    rests = all(form.value.held_by is not None for form in mbook.items(name))
    nothing = (
        "Nothing holds it: it rests."
        if rests
        else "What holds it is not recorded: it counts as held by something unknown."
    )
    return Table(caption="What holds it", heads=heads, rows=tuple(rows), nothing=nothing, name="fasteners")


def connectors(mbook: MachineBook, name: str) -> Table:
    """Its connectors and what is plugged there."""
    names = dict.fromkeys(one for built in mbook.builts for one in built.connectors_of.get(name, ()))
    rows = []
    for one in names:
        cables = sorted({c for built in mbook.builts for c in built.cables_at.get(one, ())})
        for form in mbook.forms(connectors_of, one):
            found = form.value
            cells: tuple[Cell, ...] = (
                Line(words=one, path=mbook.at.connector(one)),
                tuple(Line(words=c, path=mbook.at.cable(c), note=mbook.machine.wiring.cables[c].name) for c in cables)
                or "nothing",
                found.family,
                str(len(found.contacts)) if found.contacts is not None else None,
            )
            rows.append(Row(cells=cells, applies=form.applies))
    nothing = (
        "No connector is recorded on it."
        if mbook.machine.has_wiring
        else "Wiring not recorded: everything counts as live."
    )
    return Table(
        caption="Connectors", heads=("Connector", "Cable", "Family", "Contacts"), rows=tuple(rows), nothing=nothing
    )


def values(mbook: MachineBook, name: str) -> Table:
    """Its recorded values and those of what joins its contacts inside."""
    rows = []
    for id, value in mbook.record.items[name].values.items():
        between = " to ".join(one.shown for one in value.between) if value.between else None
        rows.append(
            Row(cells=(id.replace("-", " "), between, shown_value(value, mbook.book.style)), anchor=f"value-{id}")
        )
    for join in mbook.machine.wiring.joins.get(name, ()):
        for label, found in (("cold resistance", join.cold), ("resistance", join.resistance), ("draws", join.draws)):
            if found is not None:
                between = " to ".join(one.shown for one in join.between)
                cells: tuple[Cell, ...] = (f"{join.kind}: {label}", between, shown_value(found, mbook.book.style))
                rows.append(Row(cells=cells, applies=mbook.applies(join.applies)))
    heads = ("Value", "Between", "Recorded")
    return Table(caption="Values", heads=heads, rows=tuple(rows), nothing="No value of it is recorded.")


def _within(mbook: MachineBook, name: str) -> list[str]:
    return [str(one) for one, item in mbook.record.items.items() if item.in_ is not None and item.in_.item == name]


def _checks(mbook: MachineBook, name: str) -> Iterator[Line]:
    for id, check in mbook.record.checks.items():
        if name in {str(one) for one in check.covers}:
            yield Line(
                words=str(check.title),
                path=f"{mbook.at.list('checks')}#check-{id}",
                applies=mbook.applies(check.applies),
            )


def place_art(mbook: MachineBook, name: str) -> Art | None:
    """Where it sits, seen from above, among what has a recorded place; ``None`` when its own place is not recorded."""
    if mbook.record.items[name].box is None or name == "frame":
        return None
    bodies = [
        Body(id=str(one), name=str(item.name), box=box_of(item), marked=one == name)
        for one, item in mbook.record.items.items()
        if item.box is not None and (one == name or one == "frame")
    ]
    return art_of(arrangement(f"Where {mbook.item_words(name)} sits", bodies))
