"""The energy-control sheet: every energy isolated in order, locked, discharged, measured, and signed for.

It never says that anything is safe: it says what each device leaves live as recorded, and where to measure.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.applicability import Configuration
from benchleaf.built import Built
from benchleaf.derived import Derived
from benchleaf.pages.action_words import energy_words
from benchleaf.pages.book import MachineBook
from benchleaf.pages.wiring_tables import wiring_of
from benchleaf.paper.bench_parts import BOX, TICK, Part, bench_sheet, head, note, sign, table, write
from benchleaf.paper.merged import by_value, merged
from benchleaf.paper.names import named
from benchleaf.paper.sheet import Paper, Sheet
from benchleaf.paper.subject import Subject
from benchleaf.records.energy import Energy
from benchleaf.values.stored_of_energy import not_recorded, stored_of_energy
from benchleaf.wiring.contacts import shown
from benchleaf.wiring.still_live import LiveMap, live_map
from benchleaf.wiring.wiring import STORED, UNRECORDED

MOST_CONTACTS = 6
LEAD = (
    "In this order: switch off, isolate, lock, discharge, then measure at each point below. Try the tester on a source "
    "you know before the first reading and after the last. What is not recorded counts as energised."
)


def sheet(subject: Subject, paper: Paper = "a4") -> Sheet:
    """Every energy of the machines printed for; hazards are never narrowed by a serial alone."""
    mbook, derived = subject.hazards, subject.full.book.derived
    builts = mbook.narrowed(subject.procedure.applies).builts
    parts: list[Part] = [write("Serial", "Date", "In charge")]
    names = merged((built.configuration, list(built.energy)) for built in builts)
    for name, on in names:
        words = mbook.narrowed(subject.procedure.applies).words_for(on)
        parts += _energy(
            mbook, derived, [one for one in builts if name in one.energy], name, words.words if words else None
        )
    if not names:
        parts.append(
            note("No energy is recorded: everything counts as energised. Find every source and measure.", grave=True)
        )
    parts += list(_still_live(mbook, builts))
    parts += [head("Before energy is put back"), *_back(builts)]
    return bench_sheet(subject, "energy-control", "Energy-control sheet", parts, paper, lead=LEAD)


def _energy(mbook: MachineBook, derived: Derived, builts: list[Built], name: str, only: str | None) -> Iterator[Part]:
    forms = by_value((built.configuration, _Form(built.energy[name])) for built in builts)
    for form, on in forms:
        energy = form.energy
        here = next(one for one in builts if one.configuration in on)
        words = only
        if len(forms) > 1:
            said = mbook.words_for(on)
            words = said.words if said is not None else only
        yield head(f"{energy_words(energy, name)} ({energy.kind})", words)
        yield _isolating(mbook, energy)
        yield from _stored(mbook, derived, here, name)
        yield from _proving(mbook, energy, name)


class _Form:
    """An energy that compares as its facts, wherever it was typed."""

    def __init__(self, energy: Energy) -> None:
        self.energy = energy

    def __eq__(self, other: object) -> bool:
        return (
            isinstance(other, _Form)
            and repr(self.energy.isolate) == repr(other.energy.isolate)
            and (self.energy.prove_dead == other.energy.prove_dead and self.energy.stored == other.energy.stored)
        )

    def __hash__(self) -> int:
        return 0


def _isolating(mbook: MachineBook, energy: Energy) -> Part:
    if energy.isolate is None:
        return note("How it is isolated is not recorded. It counts as energised.", grave=True)
    if not energy.isolate:
        return note("Nothing isolates it: it stays energised.", grave=True)
    lock = str(energy.lock) if energy.lock else None
    rows = [
        [str(n), f"{one.verb} {mbook.item_words(one.device.item)}", lock, TICK, BOX, BOX]
        for n, one in enumerate(energy.isolate, 1)
    ]
    return table(
        ("8mm", 1.4, 1.6, "12mm", "24mm", "26mm"), ("", "Device", "Kept so by", "Done", "Lock no.", "Signed"), rows
    )


def _stored(mbook: MachineBook, derived: Derived, built: Built, name: str) -> Iterator[Part]:
    energy = built.energy[name]
    stores = stored_of_energy(built, name, derived.library.shop)
    rows: list[list[object]] = []
    for one in stores:
        between = " to ".join(shown(str(c)) for c in one.store.between) if one.store.between else None
        said = (
            [[{"t": str(one.store.discharge)}]]
            if one.store.discharge
            else [[{"t": "how to discharge it is not recorded"}]]
        )
        said += [[{"t": line}] for line in one.lines]
        rows.append([mbook.item_words(one.item), between, {"lines": said}, BOX, TICK])
    if rows:
        yield table(
            (1.0, 0.9, 2.4, "24mm", "12mm"), ("Stored in", "Measure at", "What to do", "Measured", "Done"), rows
        )
    missing = not_recorded(built, name)
    if missing and energy.kind == "electrical":
        yield note(missing, grave=True)


def _proving(mbook: MachineBook, energy: Energy, name: str) -> Iterator[Part]:
    if not energy.prove_dead:
        yield note(
            "Where it is proved dead is not recorded: it counts as energised until measured at every point you touch.",
            grave=True,
        )
        return
    tools = mbook.book.library.tools
    rows: list[list[object]] = []
    for one in energy.prove_dead:
        where = (
            " to ".join(c.shown for c in one.between)
            if one.between
            else mbook.item_words(one.at.item)
            if one.at
            else None
        )
        meter = str(tools[str(one.meter)].name) if one.meter in tools else str(one.meter) if one.meter else None
        rows.append([where, one.expect.tidy if one.expect is not None else "limit not recorded", meter, BOX])
    yield table((1.4, 0.9, 1.4, "30mm"), ("Measured at", "Must read", "With", "Reading"), rows)
    yield sign(f"{energy_words(energy, name)}: measured as above")


def _still_live(mbook: MachineBook, builts: tuple[Built, ...]) -> Iterator[Part]:
    """What each device alone leaves live, and all of them together, as the wiring is recorded."""
    yield head("What each device leaves live, as recorded")
    found: dict[tuple[str, str], tuple[list[str], set[Configuration]]] = {}
    for built in builts:
        wiring = wiring_of(mbook, built)
        ways = [(f"only {device.words}", [device.key]) for device in wiring.devices]
        for what, keys in (*ways, ("all of them", [device.key for device in wiring.devices])):
            for source, contacts in _live(mbook, live_map(wiring, keys)):
                most, on = found.setdefault((what, source), ([], set()))
                on.add(built.configuration)
                if len(contacts) > len(most):
                    most[:] = contacts
    order = list(dict.fromkeys(what for what, _ in found))
    rows: list[list[object]] = []
    for (what, source), (most, on) in sorted(found.items(), key=lambda one: order.index(one[0][0])):
        words = mbook.words_for(on)
        rows.append([what, source, _some(most), words.words if words is not None else "all"])
    if builts:
        yield table((0.8, 1.2, 2.4, 1.1), ("With", "Still live from", "At, on the machine with most", "For"), rows)
    yield note(
        "A conversion lives while one of its inputs can live. Stored charge counts as live until it is measured."
    )


def _live(mbook: MachineBook, found: LiveMap) -> list[tuple[str, list[str]]]:
    """What still reaches which contacts: (source, contacts); a conversion goes with what feeds it."""
    if found.nothing_recorded:
        return [("no wiring or source recorded: everything counts as live", [])]
    fed = {feed.name for feed in found.feeds if feed.fed_by}
    at: dict[str, list[str]] = {}
    for contact, ways in found.contacts.items():
        for way in ways:
            if way.source not in fed:
                at.setdefault(_source_words(mbook, way.source), []).append(shown(contact))
    return list(at.items()) or [("no recorded source: measure all the same", [])]


def _some(contacts: list[str]) -> str:
    if not contacts:
        return "see left"
    more = f" and {len(contacts) - MOST_CONTACTS} more" if len(contacts) > MOST_CONTACTS else ""
    return f"{len(contacts)} contacts: {', '.join(contacts[:MOST_CONTACTS])}{more}"


def _source_words(mbook: MachineBook, name: str) -> str:
    """``charge stored under Mains``, ``whatever is plugged at A1-J4: not recorded``, or the source's name."""
    if name.startswith(STORED):
        energy = name.removeprefix(STORED).partition(":")[0]
        return f"charge stored under {named(mbook, energy)}"
    if name.startswith(UNRECORDED):
        return f"whatever is plugged at {name.removeprefix(UNRECORDED)}: not recorded"
    return named(mbook, name)


def _back(builts: tuple[Built, ...]) -> list[Part]:
    said = (
        "Tools out, covers on, ledger closed",
        "Everyone away from the machine and told",
        "Locks off, by those who put them on",
    )
    return [table((1.0, "12mm", "30mm"), ("Check", "Done", "Signed"), [[words, TICK, BOX] for words in said])]
