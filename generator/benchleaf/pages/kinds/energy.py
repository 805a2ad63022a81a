"""What can hurt while it is there: each energy with its isolation, what stays stored, and where it is proved dead."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.pages.action_words import contact_piece
from benchleaf.pages.book import MachineBook
from benchleaf.pages.links import step_lines
from benchleaf.pages.list_page import list_page
from benchleaf.pages.page import Page
from benchleaf.pages.shown import Block, Cell, Fact, Facts, Line, Links, Note, Row, Section, Table
from benchleaf.pages.stored_shown import bleed_blocks
from benchleaf.pages.uses import uses_of
from benchleaf.pages.values_shown import plain_value, shown_value
from benchleaf.records.energy import Bleed, Energy, Store
from benchleaf.refs import ContactRef


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    yield page(mbook)


def page(mbook: MachineBook) -> Page:
    energies = mbook.record.energy
    sections = [_section(mbook, str(id), one) for id, one in energies.items()]
    at = mbook.at
    more = (
        Line(words="Energy-control sheet", path=at.list("energy-control"), note="the six steps in their order"),
        Line(words="Still-live map", path=at.list("live"), note="what each isolation leaves live"),
    )
    opening: tuple[Block, ...] = (Links(lines=more, nothing=""),)
    if not energies:
        opening = (
            *opening,
            Note(words="No energy is recorded. Everything counts as energised until it is proved dead.", grave=True),
        )
    lead = (
        "Know, shut down, isolate, lock, relieve what is stored, prove. What is not recorded here counts as energised."
    )
    return list_page(
        mbook.book,
        path=mbook.at.list("energy"),
        title="Energies",
        kind="energy",
        sections=sections,
        opening=opening,
        lead=lead,
        mbook=mbook,
        place=mbook.record.place,
    )


def _section(mbook: MachineBook, id: str, energy: Energy) -> Section:
    style = mbook.book.style
    limit = plain_value(energy.limit, energy.place_of("limit"), style)
    rows = (
        Row(cells=("Kind", energy.kind)),
        Row(cells=("At", _places(mbook, energy))),
        Row(cells=("Isolated by", _devices(mbook, energy))),
        Row(cells=("Kept isolated by", energy.lock)),
        Row(
            cells=(
                "Counts as gone",
                limit
                or (Line(words="60 V DC, 25 V AC", note="common practice") if energy.kind == "electrical" else None),
            )
        ),
        Row(cells=("Recorded at", f"{energy.place.file}:{energy.place.line}")),
    )
    blocks: tuple[Block, ...] = (
        *((Note(words=str(energy.note)),) if energy.note else ()),
        Facts(rows=rows),
        stored_table(mbook, energy),
        *bleed_blocks(mbook, id),
        proof_table(mbook, energy),
        Links(
            lines=tuple(step_lines(mbook, uses_of(mbook).energies[id])), nothing="No recorded step has to do with it."
        ),
    )
    return Section(
        title=str(energy.name or id), anchor=f"energy-{id}", blocks=blocks, applies=mbook.applies(energy.applies)
    )


def _places(mbook: MachineBook, energy: Energy) -> Cell:
    if energy.at is None:
        return "what the wiring reaches" if energy.kind == "electrical" else None
    return tuple(
        Line(words=mbook.item_words(one.item), path=mbook.at.item(one.item))
        for one in energy.at
        if one.item in mbook.record.items
    )


def _devices(mbook: MachineBook, energy: Energy) -> Cell:
    if energy.isolate is None:
        return None
    if not energy.isolate:
        return "nothing: it stays energised"
    return tuple(
        Line(
            words=f"{n}. {one.verb} {mbook.item_words(one.device.item)}",
            path=mbook.at.item(one.device.item) if one.device.item in mbook.record.items else None,
            note=f"opens pole {', '.join(one.poles)} only" if one.poles else None,
        )
        for n, one in enumerate(energy.isolate, 1)
    )


def stored_table(mbook: MachineBook, energy: Energy) -> Table:
    """What stays when the source is gone; never a time without "then measure"."""
    rows = tuple(Row(cells=_store_cells(mbook, one)) for one in energy.stored or ())
    nothing = (
        "Nothing stays stored: somebody looked."
        if energy.stored is not None
        else "What stays stored is not recorded: discharge and measure."
    )
    heads = ("In", "Between", "Capacitance", "Charged to", "Bleed path", "Discharge, then measure")
    return Table(caption="What stays stored", heads=heads, rows=rows, nothing=nothing)


def _store_cells(mbook: MachineBook, one: Store) -> tuple[Cell, ...]:
    style = mbook.book.style
    bleed: Cell = None
    if isinstance(one.bleed, Bleed):
        bleed = (shown_value(one.bleed.resistance, style), _pair(mbook, one.bleed.between))
    elif one.bleed is not None:
        bleed = "none: discharge by hand"
    item = one.in_.item if one.in_ is not None else ""
    return (
        Line(words=mbook.item_words(item), path=mbook.at.item(item)) if item in mbook.record.items else None,
        _pair(mbook, one.between),
        shown_value(one.capacitance, style)
        if one.capacitance is not None
        else ("battery: no waiting time" if one.kind == "battery" else None),
        shown_value(one.voltage, style),
        bleed,
        Fact(one.discharge),
    )


def _pair(mbook: MachineBook, between: tuple[ContactRef, ContactRef] | None) -> Cell:
    if between is None:
        return None
    pieces = [contact_piece(mbook, str(one)) for one in between]
    return tuple(Line(words=piece.text, path=piece.path) for piece in pieces)


def proof_table(mbook: MachineBook, energy: Energy) -> Table:
    """Where it is proved dead: tester tried on a known source first and again after."""
    tools = mbook.book.library.tools
    rows = []
    for proof in energy.prove_dead or ():
        place: Cell = _pair(mbook, proof.between)
        if proof.between is None and proof.at is not None:
            place = Line(words=mbook.item_words(proof.at.item), path=mbook.at.item(proof.at.item))
        meter: Cell = None
        if proof.meter:
            meter = (
                Line(words=str(tools[proof.meter].name), path=f"tools.html#tool-{proof.meter}")
                if proof.meter in tools
                else proof.meter
            )
        rows.append(Row(cells=(place, plain_value(proof.expect, proof.place_of("expect"), mbook.book.style), meter)))
    caption = "Where it is proved dead"
    if energy.kind == "electrical":
        caption += ": try the tester on a source you know, first and again after the last reading"
    nothing = "Where to prove it dead is not recorded. It counts as energised."
    return Table(caption=caption, heads=("Between", "Must be read", "With"), rows=tuple(rows), nothing=nothing)
