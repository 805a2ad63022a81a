"""What to do about stored charge, and what a supply wire loses: sums of the values package as pages show them.

A waiting time never stands without the measurement after it: the sentence is one, and so is its origin.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.built import Built
from benchleaf.pages.book import MachineBook
from benchleaf.pages.readable import sentence_of
from benchleaf.pages.sentences import Piece, Sentence, say
from benchleaf.pages.shown import Block, Cell, Fact, Line, Note, ShownValue, Table
from benchleaf.pages.torque_shown import chain_of
from benchleaf.pages.values_shown import machine_form, reckoned_value
from benchleaf.pages.wiring_tables import Rows, wiring_of
from benchleaf.records.energy import Store
from benchleaf.values.bleed_down import Outcome
from benchleaf.values.stored_of_energy import Stored, not_recorded, stored_of_energy
from benchleaf.values.supply_drop import LoadWire, loads_of


def bleed_blocks(mbook: MachineBook, energy: str) -> Iterator[Block]:
    """What to do about each store of an energy, with its sum; where nobody looked, what that counts as."""
    found, unknown = (
        Rows(mbook),
        dict.fromkeys(not_recorded(built, energy) for built in mbook.builts if energy in built.energy),
    )
    for words in unknown:
        if words:
            yield Note(words=f"{sentence_of(words)}.", grave=True)
    having = {built.configuration for built in mbook.builts if energy in built.energy}
    for built in mbook.builts:
        if energy in built.energy and built.energy[energy].stored:
            for one in _stored_on(mbook, built, energy):
                found.add(_bleed_cells(mbook, one), built.configuration)
    rows = found.rows(having)
    if rows:
        heads = ("Stored in", "Do, then measure", "How it was reckoned")
        yield Table(caption="Before a hand comes near what is stored", heads=heads, rows=rows, nothing="")


def bleed_sentences(mbook: MachineBook, energy: str, store: Store) -> Sentence:
    """What the record of a store lets one say of its bleeding, for the step that discharges it: a time only with the
    measurement after it, or why there is none. Where machines differ, each with its own."""
    said: dict[tuple[str, str], tuple[Stored, list[str]]] = {}
    for built in mbook.builts:
        if energy not in built.energy:
            continue
        for one in _stored_on(mbook, built, energy):
            if one.place == store.place:
                key = (_bleed_words(one), one.result.text)
                said.setdefault(key, (one, []))[1].append(built.configuration.label)
    pieces: list[Piece] = []
    for (words, _), (one, labels) in said.items():
        origin = one.result.origin
        timed = origin is not None and not one.holds_while
        shown = ShownValue(text=words, status="agreed", origins=chain_of(origin)) if origin and timed else None
        on = f" (on {' and '.join(labels)})" if len(said) > 1 else ""
        pieces += say(". ", Piece(words, value=shown), on)
    return tuple(pieces)


def _bleed_words(one: Stored) -> str:
    result = one.result
    match result.outcome:
        case Outcome.NO_PATH:
            return "It does not discharge by itself"
        case Outcome.NO_WAITING_TIME:
            return f"A {one.charge.kind} has no waiting time"
        case Outcome.TIME_UNKNOWN:
            return f"{sentence_of(result.text)} ({result.notes[0]})" if result.notes else sentence_of(result.text)
        case Outcome.WAIT:
            if one.holds_while:  # the step does not know whether somebody has opened it before
                then = result.then.replace("then measure", "and measure", 1)
                return f"Time unknown: discharge {then} (its bleed path runs over {' and '.join(one.holds_while)})"
            return f"By its bleed path: {result.text}"


def _stored_on(mbook: MachineBook, built: Built, energy: str) -> tuple[Stored, ...]:
    def made() -> tuple[Stored, ...]:
        return stored_of_energy(built, energy, mbook.book.shop, graph=wiring_of(mbook, built).graph)

    return mbook.remember(("stored", energy, built.configuration), made)


def _bleed_cells(mbook: MachineBook, one: Stored) -> tuple[Cell, ...]:
    result = one.result
    act: Cell = Fact(sentence_of(result.text))
    if result.origin is not None:
        act = ShownValue(text=sentence_of(result.text), status="agreed", origins=chain_of(result.origin))
    how = tuple(Fact(sentence_of(line)) for line in one.lines[:-1])
    item = Line(words=mbook.item_words(one.item), path=mbook.at.item(one.item))
    return (item, act, how or "–")


def drop_table(mbook: MachineBook, cable: str) -> Table:
    """What each wire of a cable that ends at a load loses at the current the load is recorded to draw."""
    found = Rows(mbook)
    having = {built.configuration for built in mbook.builts if cable in built.cables}
    for built in mbook.builts:
        for one in _loads(mbook, built.configuration.label):
            if one.cable == cable:
                found.add(_drop_cells(mbook, one), built.configuration)
    heads = ("Load", "Wire", "Lost at most", "Against its limit")
    rows = found.rows(having)
    return Table(caption="Voltage lost along it", heads=heads, rows=rows, nothing="", quiet=True)


def _loads(mbook: MachineBook, label: str) -> tuple[LoadWire, ...]:
    def made() -> tuple[LoadWire, ...]:
        built = next(one for one in mbook.builts if one.configuration.label == label)
        return tuple(loads_of(built, wiring_of(mbook, built).graph))

    return mbook.remember(("loads", label), made)


def _drop_cells(mbook: MachineBook, one: LoadWire) -> tuple[Cell, ...]:
    lost: Cell = None
    if one.drop.drop is not None:
        shown = reckoned_value(one.drop.drop.tidy, machine_form(one.drop.drop), "; ".join(one.drop.arithmetic))
        lost = (
            shown
            if one.drop.origin is None
            else ShownValue(
                text=shown.text,
                machine=shown.machine,
                status="agreed",
                origins=(*shown.origins, *chain_of(one.drop.origin)),
            )
        )
    said = [Fact(sentence_of(one.drop.words))]
    if one.is_overloaded:
        said.append(Fact(f"The load draws more than the wire is rated for: {one.rated}"))
    ends = " to ".join(end.replace(".", ":") for end in one.contacts)
    return (Line(words=mbook.item_words(one.load), path=mbook.at.item(one.load)), ends, lost, tuple(said))
