"""What nobody recorded of a machine, fact by fact, and how deep in the machine each lies.

A key left out is *not recorded*; ``unknown`` in the record is *looked, could not tell* and stands apart. One table says
which keys are worth a look for each kind of thing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import inf

from benchleaf.access.ways import ways_of
from benchleaf.fastener_sets import FastenerSet
from benchleaf.frozen import dataclass
from benchleaf.pages.book import MachineBook
from benchleaf.pages.fastener_words import kind_words
from benchleaf.pages.sentences import plural
from benchleaf.pages.wiring_tables import connectors_of
from benchleaf.physical.least_path import AccessPath
from benchleaf.physical.operations import named
from benchleaf.records.reading import Row
from benchleaf.refs import host_of

AT_ONCE = "Seen at once"
NO_WAY = "No recorded way in"
_ITEM = {
    "part_number": "part number",
    "comes_off": "how it comes off",
    "held_by": "what holds it",
    "supports": "what would fall without it",
    "mass": "mass",
    "rests": "how long it may stay off or open",
}
_SET = {
    "thread": "thread",
    "length": "length",
    "head": "head",
    "drive": "drive",
    "class_": "property class",
    "into": "what it screws into",
    "engaged": "engaged length",
    "torque": "torque",
    "friction": "friction",
}
_CONNECTOR = {
    "family": "family",
    "contacts": "contacts",
    "pins": "which half has the pins",
    "keyed": "keying",
    "latch": "latch",
    "face": "face",
}
_CABLE = {"kind": "kind", "length": "length", "slack": "slack", "wires": "wires"}
_LINE = {"kind": "kind", "clamp": "whether it can be clamped", "slack": "slack"}
_ENERGY = {
    "isolate": "what isolates it",
    "lock": "how it is kept isolated",
    "prove_dead": "where it is proved dead",
    "stored": "what stays stored",
}
_STORE = {
    "between": "where it can be measured",
    "capacitance": "capacitance",
    "voltage": "voltage it is charged to",
    "bleed": "bleed path",
    "discharge": "how to discharge it",
}
_SOURCE = {"nominal": "voltage", "return_": "return contacts"}


@dataclass(frozen=True, slots=True)
class Gap:
    """One fact nobody recorded: of what (in words), which, on which item it is looked for. ``unsure``: looked at."""

    of: str
    what: str
    item: str
    path: str | None = None
    unsure: bool = False


def gaps_of(mbook: MachineBook) -> tuple[Gap, ...]:
    """Everything not recorded of a machine, in the order of the record, each once."""
    return mbook.remember(("gaps",), lambda: tuple(dict.fromkeys(_gaps(mbook))))


def _gaps(mbook: MachineBook) -> Iterator[Gap]:
    yield from _items(mbook)
    yield from _wiring(mbook)
    yield from _lines(mbook)
    yield from _energies(mbook)


def _missing(row: Row, keys: dict[str, str], of: str, item: str, path: str | None) -> Iterator[Gap]:
    for key, what in keys.items():
        if getattr(row, key) is None:
            unsure = key.rstrip("_").replace("_", "-") in row.unsure
            yield Gap(of, what, item, path, unsure)


def _items(mbook: MachineBook) -> Iterator[Gap]:
    for name in mbook.record.items:
        if name == "frame":
            continue
        path = mbook.at.item(name)
        for form in mbook.items(name):
            item = form.value
            yield from _missing(item, _ITEM, mbook.item_words(name), name, path)
            if all(
                built.items[one].behind is None
                for built in mbook.builts
                if name in built.items
                for one in built.chain(name)
            ):
                yield Gap(mbook.item_words(name), "what it is behind", name, path)
        for one in mbook.sets_of(name):
            for found in mbook.sets(one):
                yield from _set(mbook, found.value)


def _set(mbook: MachineBook, one: FastenerSet) -> Iterator[Gap]:
    if one.kind not in ("screw", "nut"):
        return
    words = f"{plural(kind_words(one), one.count)} of {mbook.item_words(one.item)}"
    path = f"{mbook.at.list('fasteners')}#fastener-{one.fastener}"
    for key, what in _SET.items():
        if getattr(one, key) is None:
            yield Gap(words, what, one.item, path)
    if one.count > 1 and one.sequence is None:
        yield Gap(words, "order of tightening", one.item, path)


def _wiring(mbook: MachineBook) -> Iterator[Gap]:
    wiring = mbook.machine.wiring
    if not mbook.machine.has_wiring:
        yield Gap("Wiring", "everything: it counts as live", "", mbook.at.home)
    for name in wiring.connectors:
        for form in mbook.forms(connectors_of, name):
            one = form.value
            path = mbook.at.connector(name)
            yield from _missing(one, _CONNECTOR, f"Connector {name}", host_of(name), path)
            silent = [contact for contact, role in (one.contacts or {}).items() if not role]
            if silent:
                yield Gap(f"Connector {name}", f"role of contact {', '.join(silent)}", host_of(name), path)
    for name, cable in wiring.cables.items():
        items = [built.item_of_end(end) for built in mbook.builts for end in cable.ends]
        item = next((one for one in items if one is not None), "")
        yield from _missing(cable, _CABLE, f"Cable {name}", item, mbook.at.cable(name))
    for name, source in wiring.sources.items():
        item = next((mbook.builts[0].item_of_contact(at) or "" for at in source.at), "")
        yield from _missing(source, _SOURCE, f"Source {source.name or name}", item, mbook.at.home)
    for name, signal in wiring.signals.items():
        if signal.protects is None:
            item = mbook.builts[0].item_of_contact(signal.from_) or "" if signal.from_ is not None else ""
            yield Gap(
                f"Signal {signal.name or name}", "what it protects: it counts as a protection", item, mbook.at.home
            )


def _lines(mbook: MachineBook) -> Iterator[Gap]:
    for name, line in mbook.record.lines.items():
        item = line.ends[0].at.item if line.ends else ""
        words = f"Line {line.name or name}"
        yield from _missing(line, _LINE, words, item, mbook.at.home)
        for end in line.ends:
            if end.drips_on is None:
                yield Gap(
                    words,
                    f"what lies under its joint at {mbook.item_words(end.at.item)}",
                    end.at.item,
                    mbook.at.item(end.at.item),
                )
            if end.joint is None:
                yield Gap(
                    words,
                    f"how it is joined at {mbook.item_words(end.at.item)}",
                    end.at.item,
                    mbook.at.item(end.at.item),
                )
    for name, tie in mbook.record.ties.items():
        if tie.holds is None:
            yield Gap(f"Tie {tie.name or name}", "what it holds", tie.fixed_to.item, mbook.at.item(tie.fixed_to.item))


def _energies(mbook: MachineBook) -> Iterator[Gap]:
    for name, energy in mbook.record.energy.items():
        words = f"Energy {energy.name or name}"
        path = f"{mbook.at.list('energy')}#energy-{name}"
        item = next((one.item for one in energy.at or ()), "")
        keys = (
            _ENERGY
            if energy.kind in ("electrical", "pneumatic", "spring")
            else {k: w for k, w in _ENERGY.items() if k != "stored"}
        )
        yield from _missing(energy, keys, words, item, path)
        for store in energy.stored or ():
            where = store.in_.item if store.in_ is not None else item
            keys = (
                _STORE
                if store.kind in (None, "capacitor")
                else {k: w for k, w in _STORE.items() if k not in ("capacitance", "bleed")}
            )
            yield from _missing(store, keys, f"{words}, stored in {mbook.item_words(where)}", where, path)


def with_depth(mbook: MachineBook, gaps: Iterable[Gap]) -> Iterator[tuple[Gap, float, str]]:
    """Each gap with the seconds of the shortest way to its item, and what is out of the way by then."""
    for gap in gaps:
        depth, way = depth_of(mbook, gap.item)
        yield gap, depth, way


def depth_of(mbook: MachineBook, item: str) -> tuple[float, str]:
    """How deep an item lies: seconds of the shortest way that lets a hand reach it, and what is off by then."""
    return mbook.remember(("depth", item), lambda: _depth(mbook, item))


def _depth(mbook: MachineBook, item: str) -> tuple[float, str]:
    built = next((one for one in mbook.builts if item in one.items), None)
    if built is None:
        return 0.0, AT_ONCE
    ways = ways_of(mbook.book.derived, mbook.machine, built.configuration)
    goal = f"reach:{item}"
    path = ways.path((goal,), dead=False) if goal in ways.network.index else None
    if not isinstance(path, AccessPath):
        return inf, NO_WAY
    away = [named(one).what for one in path.order if named(one).kind in ("off", "to")]
    return (path.time, "Behind " + ", ".join(mbook.item_words(name) for name in away)) if away else (0.0, AT_ONCE)
