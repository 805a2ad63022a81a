"""The wiring of a machine: connection table, wire list, sources, signals and what stands in for them."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.book import MachineBook
from benchleaf.pages.kinds.cable import end_line
from benchleaf.pages.kinds.net import net_line
from benchleaf.pages.kinds.plugs import opens_any
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.shown import Applies, Block, Cell, Line, Links, Note, Row, Section, Table
from benchleaf.pages.values_shown import plain_value
from benchleaf.pages.wiring_tables import Rows, cables_of, wire_rows, wiring_of
from benchleaf.refs import ContactRef
from benchleaf.wiring.graph import is_hub
from benchleaf.wiring.nets import label_of


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    yield page(mbook)


def page(mbook: MachineBook) -> Page:
    at = mbook.at
    more = (
        Line(words="Interconnection diagram", path=at.list("interconnection"), note="which board is joined to which"),
        Line(words="Swap table", path=at.list("swaps"), note="plugs that go into another place, worst first"),
        Line(words="Still-live map", path=at.list("live"), note="what each isolation leaves live"),
        Line(words="Energy-control sheet", path=at.list("energy-control"), note="know, isolate, lock, relieve, verify"),
        Line(words="Bypass register and changes", path=at.list("bypass"), note="what stands in for what"),
    )
    opening: tuple[Block, ...] = (Links(lines=more, nothing=""),)
    if not mbook.machine.has_wiring:
        words = "The wiring is not recorded. Everything counts as live until it was proved dead where you touch."
        opening = (Note(words=words, grave=True), *opening)
    sections = (
        Section(title="Sources", anchor="sources", blocks=(sources(mbook),)),
        Section(title="Connection table", anchor="connections", blocks=(connections(mbook),)),
        Section(title="Signals", anchor="signals", blocks=(signals(mbook),)),
        Section(title="Substituted signals", anchor="substitutions", blocks=(substitutions(mbook),)),
        Section(title="Labels, pictures and swaps of each procedure", anchor="plugs", blocks=(plug_pages(mbook),)),
        Section(title="Nets, each with its ring-out", anchor="nets", blocks=(nets(mbook),)),
        Section(title="Wire list", anchor="wires", blocks=(wire_list(mbook),)),
    )
    place = mbook.machine.wiring.place if mbook.machine.has_wiring else mbook.record.place
    return list_page(
        mbook.book, path=mbook.at.list("wiring"), title="Wiring", kind="wiring", sections=sections, opening=opening,
        mbook=mbook, place=place, inputs=(mbook.machine.file, place.file),
    )  # fmt: skip


def contacts_cell(mbook: MachineBook, contacts: tuple[ContactRef, ...] | None) -> Cell:
    if contacts is None:
        return None
    return tuple(Line(words=one.shown, path=mbook.owner_path(one.owner)) for one in contacts) or "none"


def sources(mbook: MachineBook) -> Table:
    rows = []
    for id, one in mbook.machine.wiring.sources.items():
        made = ", ".join(one.from_) if one.from_ else "–"
        plug: Cell = (
            one.plug
            if one.plug
            else ("–" if one.from_ else Line(words="not recorded", note="counts as reversible: both poles live"))
        )
        cells: tuple[Cell, ...] = (
            str(one.name or id),
            plain_value(one.nominal, one.place_of("nominal"), mbook.book.style),
            contacts_cell(mbook, one.at),
            contacts_cell(mbook, one.return_),
            contacts_cell(mbook, one.earth),
            plug,
            made,
        )
        rows.append(Row(cells=cells, anchor=f"source-{id}", applies=mbook.applies(one.applies)))
    heads = ("Source", "Voltage", "At", "Return", "Earth", "Plug", "Made from")
    nothing = "No source is recorded: everything counts as live."
    return Table(caption="Sources", heads=heads, rows=tuple(rows), nothing=nothing, quiet=True)


def connections(mbook: MachineBook) -> Table:
    """Cable by cable: both ends, on the machines that have it so."""
    rows: list[Row] = []
    for name in mbook.machine.wiring.cables:
        gathered = Rows(mbook)
        for form in mbook.forms(cables_of, name):
            one = form.value
            cells: tuple[Cell, ...] = (
                Line(words=str(name), path=mbook.at.cable(name), note=one.name),
                tuple(end_line(mbook, one, end) for end in one.ends),
                one.kind,
                str(_count(mbook, str(name))) if _count(mbook, str(name)) else None,
                Line(words="ring out", path=f"{mbook.at.cable(name)}#ring-out"),
            )
            for configuration in form.on:
                gathered.add(cells, configuration)
        rows += gathered.rows()
    heads = ("Cable", "Ends", "Kind", "Wires", "Contacts that conduct")
    return Table(caption="Connection table", heads=heads, rows=tuple(rows), nothing="No cable is recorded.", quiet=True)


def plug_pages(mbook: MachineBook) -> Links:
    """The procedures that open plugs, each with its labels, its pictures to take and its swaps."""
    lines = tuple(
        Line(words=str(one.title), path=mbook.at.plugs(one.id), applies=mbook.applies(one.applies))
        for one in mbook.machine.procedures.values()
        if opens_any(mbook, one)
    )
    return Links(lines=lines, nothing="No recorded procedure opens a plug or lifts a lead.")


def nets(mbook: MachineBook) -> Table:
    """Every net with its page: where its contacts lead, where it is proved dead, what rings out on it."""
    gathered = Rows(mbook)
    for built in mbook.builts:
        for net in wiring_of(mbook, built).nets:
            count = sum(not is_hub(one) for one in net.contacts)
            cells = (net_line(mbook, net.name), label_of(built, net) or "–", str(count))
            gathered.add(cells, built.configuration)
    heads = ("Net, by its first contact", "Carries", "Contacts")
    nothing = "No contact is recorded: any may be joined to any."
    return Table(caption="Nets", heads=heads, rows=gathered.rows(), nothing=nothing, quiet=True, name="nets")


def _count(mbook: MachineBook, cable: str) -> int:
    return len(wire_rows(mbook, cable))


def signals(mbook: MachineBook) -> Table:
    codes: dict[str, list[Line]] = {}
    for code in mbook.machine.codes.values():
        for signal in code.signals or ():
            codes.setdefault(str(signal), []).append(
                Line(words=str(code.shown or code.code), path=mbook.at.code(code.code))
            )
    rows = []
    for id, one in mbook.machine.wiring.signals.items():
        protects: Cell = one.protects if one.protects else None
        if one.protects is None:
            protects = Line(words="not recorded", note="counts as a protection")
        elif not one.protects:
            protects = "nothing"
        cells: tuple[Cell, ...] = (
            str(one.name or id.replace("-", " ")),
            contacts_cell(mbook, (one.from_,) if one.from_ is not None else None),
            contacts_cell(mbook, one.to),
            protects,
            tuple(codes.get(str(id), ())) or "none",
        )
        rows.append(Row(cells=cells, anchor=f"signal-{id}", applies=mbook.applies(one.applies)))
    heads = ("Signal", "From", "To", "Protects", "Codes that depend on it")
    return Table(caption="Signals", heads=heads, rows=tuple(rows), nothing="No signal is recorded.", quiet=True)


def substitutions(mbook: MachineBook) -> Table:
    rows = []
    for one in mbook.machine.wiring.substitutions:
        instead: Cell = (
            one.compensated_by if one.compensated_by else ("nothing" if one.compensated_by is not None else None)
        )
        restore: Cell = None
        if one.restore is not None and one.restore in mbook.machine.procedures:
            restore = Line(words=str(mbook.machine.procedures[one.restore].title), path=mbook.at.procedure(one.restore))
        cells: tuple[Cell, ...] = (
            Line(words=str(one.signal).replace("-", " "), path=f"{mbook.at.list('wiring')}#signal-{one.signal}"),
            contacts_cell(mbook, (one.by,) if one.by is not None else None),
            one.asserts,
            instead,
            restore,
            f"{one.acknowledged.date}: {one.acknowledged.reason}"
            if one.acknowledged is not None
            else "not acknowledged",
        )
        rows.append(Row(cells=cells, applies=mbook.applies(one.applies)))
    heads = ("Signal", "Supplied by", "Always says", "What protects instead", "Put back by", "Accepted")
    return Table(
        caption="Substituted signals",
        heads=heads,
        rows=tuple(rows),
        nothing="No signal is recorded as substituted.",
        quiet=True,
    )


def wire_list(mbook: MachineBook) -> Table:
    rows = []
    for name in mbook.machine.wiring.cables:
        found = wire_rows(mbook, str(name))
        line = Line(words=str(name), path=mbook.at.cable(name))
        rows += [
            Row(cells=(line, *row.cells), applies=row.applies or _cable_applies(mbook, str(name))) for row in found
        ]
        if not found:
            rows.append(
                Row(
                    cells=(line, "any contact", "any contact", None, None, None),
                    applies=_cable_applies(mbook, str(name)),
                )
            )
    heads = ("Cable", "From", "To", "Colour", "Cross-section", "Rated")
    return Table(
        caption="Wire list", heads=heads, rows=tuple(rows), nothing="No wire is recorded.", quiet=True, name="wires"
    )


def _cable_applies(mbook: MachineBook, name: str) -> Applies | None:
    return mbook.words_for({built.configuration for built in mbook.builts if name in built.cables})
