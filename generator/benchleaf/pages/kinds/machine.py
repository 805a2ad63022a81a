"""A machine: what it is and how examples differ, its procedures, codes and symptoms, its items, what can hurt."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.currency_words import currency_of_machine
from benchleaf.drawings.arrangement import Body, arrangement
from benchleaf.pages.applies_words import variant_words
from benchleaf.pages.art import art_of, box_of
from benchleaf.pages.book import MachineBook
from benchleaf.pages.documents import machine_document
from benchleaf.pages.kinds.finder import entry_line
from benchleaf.pages.links import procedure_line, symptom_title
from benchleaf.pages.page import Page
from benchleaf.pages.record_notes import note_of
from benchleaf.pages.shown import Art, Cell, CodeRef, Line, Row, Table
from benchleaf.records.teardown import TeardownRecord


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    yield page(mbook)


def page(mbook: MachineBook) -> Page:
    record = mbook.record
    context = {
        "crumbs": mbook.crumbs(),
        "choice": mbook.choice,
        "record": note_of(record.place),
        "currency": currency_of_machine(mbook),
        "papers": mbook.papers(),
        "note": str(record.note or ""),
        "variants": variants(mbook),
        "modifications": modifications(mbook),
        "as_found": as_found(mbook),
        "procedures": procedures(mbook),
        "codes": tuple(
            CodeRef(code=str(one.shown or one.code), means=str(one.means or ""), path=mbook.at.code(one.code))
            for one in mbook.machine.codes.values()
        ),
        "symptoms": tuple(
            Line(words=symptom_title(one), path=mbook.at.symptom(one.id), applies=mbook.applies(one.applies))
            for one in mbook.machine.symptoms.values()
        ),
        "entry": entry_line(mbook),
        "items": items(mbook),
        "lists": machine_lists(mbook),
        "drawing": place_art(mbook),
        "has_wiring": mbook.machine.has_wiring,
    }
    return Page(
        path=mbook.at.home,
        template="pages/machine.html",
        title=str(record.name),
        kind="machine",
        context=context,
        inputs=(mbook.machine.file,),
        documents=(machine_document(mbook),),
    )


def machine_lists(mbook: MachineBook) -> tuple[Line, ...]:
    """The lists of this machine."""
    at = mbook.at
    return (
        Line(words="Energies", path=at.list("energy"), note="what can hurt, how it is isolated and proved dead"),
        Line(words="Energy-control sheet", path=at.list("energy-control"), note="know, isolate, lock, relieve, verify"),
        Line(
            words="Still-live map", path=at.list("live"), note="what each isolation leaves live, and where to prove it"
        ),
        Line(
            words="Bypass register", path=at.list("bypass"), note="what stands in for what; what a conversion changed"
        ),
        Line(words="Wiring", path=at.list("wiring"), note="sources, connections, signals, wire list"),
        Line(words="Interconnection", path=at.list("interconnection"), note="which board is joined to which, drawn"),
        Line(words="Swap table", path=at.list("swaps"), note="plugs that go into another place, worst first"),
        Line(words="Fasteners", path=at.list("fasteners"), note="every screw with its tool and torque"),
        Line(words="Torque card", path=at.list("torque"), note="what to set the driver to, screw by screw"),
        Line(words="What goes before what", path=at.list("disassembly"), note="the disassembly map, drawn"),
        Line(words="Spares", path=at.list("spares"), note="part numbers, what serves as well, where used"),
        Line(words="Checks", path=at.list("checks"), note="what is owed before it goes back to work"),
        Line(
            words="Next opening", path=at.list("next-opening"), note="what nobody recorded, sorted by how deep it lies"
        ),
    )


def variants(mbook: MachineBook) -> Table:
    rows = []
    for name, one in mbook.record.variants.items():
        serials = ", ".join(str(term.text) for term in one.serials.terms) if one.serials else None
        rows.append(Row(cells=(variant_words(mbook.record, name), serials, one.tell)))
    nothing = "One variant, as far as is recorded."
    return Table(
        caption="Variants of the maker's",
        heads=("Variant", "Serials", "To be told from outside by"),
        rows=tuple(rows),
        nothing=nothing,
    )


def modifications(mbook: MachineBook) -> Table:
    rows = []
    for name, one in mbook.record.modifications.items():
        serials: Cell = ", ".join(one.serials) or "none listed"
        rows.append(Row(cells=(Line(words=str(name), note=one.is_), serials, one.tell, one.by)))
    heads = ("Modification", "Listed serials", "To be told from outside by", "Fitted by")
    return Table(
        caption="Modifications", heads=heads, rows=tuple(rows),
        nothing="No modification is recorded. Anyone may have fitted one: look before you trust a drawing.",
    )  # fmt: skip


def as_found(mbook: MachineBook) -> Table:
    rows = [
        Row(cells=(one.serial, str(one.set), str(one.missing) if one.missing is not None else None, one.note, one.date))
        for one in mbook.record.as_found
    ]
    heads = ("Serial", "Fastener set", "Missing", "Seen", "Date")
    return Table(caption="As found: deviations of single machines", heads=heads, rows=tuple(rows), nothing="")


GOALS = {"reach": "Reach", "remove": "Remove", "replace": "Replace", "text": "Other work"}


def procedures(mbook: MachineBook) -> tuple[tuple[str, tuple[Line, ...]], ...]:
    """Procedures by what they are for."""
    groups: dict[str, list[Line]] = {words: [] for words in ("Replace", "Remove", "Reach", "Other work")}
    for one in mbook.machine.procedures.values():
        groups[GOALS[one.goal.kind if one.goal is not None else "text"]].append(procedure_line(mbook, one, _steps(one)))
    return tuple((words, tuple(lines)) for words, lines in groups.items() if lines)


def _steps(procedure: TeardownRecord) -> str:
    count = len(procedure.steps)
    return f"{count} step{'' if count == 1 else 's'}"


def items(mbook: MachineBook) -> Table:
    rows = []
    for name, item in mbook.record.items.items():
        inside = item.in_.item if item.in_ is not None else ""
        rows.append(
            Row(
                cells=(
                    Line(words=mbook.item_words(name), path=mbook.at.item(name)),
                    item.part_number,
                    Line(words=mbook.item_words(inside), path=mbook.at.item(inside))
                    if inside in mbook.record.items
                    else "frame",
                ),
                applies=mbook.applies(item.applies),
            )
        )
    return Table(
        caption="Items", heads=("Item", "Part number", "Sits in"), rows=tuple(rows), nothing="No item is recorded."
    )


def place_art(mbook: MachineBook) -> Art | None:
    """Where the items with a recorded place sit, seen from above."""
    bodies = [
        Body(id=str(name), name=str(item.name), box=box_of(item))
        for name, item in mbook.record.items.items()
        if item.box is not None
    ]
    return art_of(arrangement(f"{mbook.record.name}: where things sit", bodies)) if bodies else None
