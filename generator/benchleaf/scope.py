"""Which names a machine knows, and the finding for one it does not: one row a kind of reference."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import field

from benchleaf import refs
from benchleaf.applicability import ONLY_VARIANT
from benchleaf.diagnostics import Finding
from benchleaf.frozen import dataclass
from benchleaf.model import Library, Machine
from benchleaf.records.types import Applies
from benchleaf.suggest import closest
from benchleaf.text import Text

Names = Mapping[str, object]


@dataclass(frozen=True, slots=True, kw_only=True)
class Scope:
    """The names that can be pointed at from a machine's records. ``machine`` is empty for the shared files."""

    machine: str = ""
    tables: Mapping[str, Names] = field(default_factory=dict)
    contacts: Mapping[str, Mapping[str, Text] | None] = field(default_factory=dict)
    others: Mapping[str, Machine] = field(default_factory=dict)
    codes: Mapping[str, str] = field(default_factory=dict)

    @staticmethod
    def of_library(library: Library) -> Scope:
        return Scope(tables={"safety message": library.safety, "supply": library.supplies}, others=library.machines)

    @staticmethod
    def of_machine(machine: Machine, shared: Scope) -> Scope:
        record, wiring = machine.record, machine.wiring
        circuits = {line.circuit or name: line for name, line in record.lines.items()}
        circuits |= {one.circuit: one for one in record.items.values() if one.circuit}  # type: ignore[misc]
        sets = {f"{i}.{s}": held for i, item in record.items.items() for s, held in (item.held_by or {}).items()}
        values: dict[str, object] = {
            f"{i}.{v}": value for i, item in record.items.items() for v, value in item.values.items()
        }
        for name, joins in wiring.joins.items():
            values |= {f"{name}.{key}": join for join in joins for key in ("cold", "resistance") if getattr(join, key)}
        positions = {f"{i}@{p}": one for i, item in record.items.items() for p, one in item.positions.items()}
        return Scope(
            machine=machine.id,
            tables={
                **shared.tables,
                "item": record.items, "fastener set": sets, "value": values, "position": positions,
                "fastener": record.fasteners, "energy": record.energy, "line": record.lines, "tie": record.ties,
                "adjuster": record.adjusters, "check": record.checks, "fluid circuit": circuits,
                "cable": wiring.cables, "connector": wiring.connectors, "source": wiring.sources,
                "signal": wiring.signals, "procedure": machine.procedures,
                "cable or line": {**wiring.cables, **record.lines},
                "item, line, energy, adjuster or circuit": {
                    **record.items, **record.lines, **record.energy, **record.adjusters, **circuits,
                },
                "variant or modification": {**record.variants, **record.modifications},
            },
            contacts={name: contacts_of(name, wiring.connectors) for name in wiring.connectors},
            others=shared.others,
            codes={plain_code(code): code for code in machine.codes},
        )  # fmt: skip


def contacts_of(name: str, connectors: Mapping[str, object]) -> Mapping[str, Text] | None:
    """The contacts of a connector, through ``like``; ``None`` when not recorded (or the chain runs in a ring)."""
    seen: set[str] = set()
    while name in connectors and name not in seen:
        seen.add(name)
        one = connectors[name]
        own: Mapping[str, Text] | None = getattr(one, "contacts", None)
        if own is not None:
            return own
        name = getattr(one, "like", None) or ""
    return None


def plain_code(code: str) -> str:
    """A code as it is looked up: no case, spaces or dashes."""
    return "".join(code.split()).replace("-", "").upper()


_KINDS: Mapping[type, tuple[str, str]] = {
    refs.FastenerRef: ("fastener", "unknown-fastener"),
    refs.SafetyRef: ("safety message", "unknown-safety"),
    refs.EnergyRef: ("energy", "unknown-energy"),
    refs.LineRef: ("line", "unknown-line"),
    refs.TieRef: ("tie", "unknown-tie"),
    refs.AdjusterRef: ("adjuster", "unknown-adjuster"),
    refs.CheckRef: ("check", "unknown-check"),
    refs.SupplyRef: ("supply", "unknown-supply"),
    refs.SourceRef: ("source", "unknown-source"),
    refs.SignalRef: ("signal", "unknown-signal"),
    refs.ProcedureRef: ("procedure", "unknown-procedure"),
    refs.CircuitRef: ("fluid circuit", "unknown-circuit"),
    refs.CableRef: ("cable", "unknown-cable"),
    refs.CableOrLineRef: ("cable or line", "unknown-cable"),
    refs.CoveredRef: ("item, line, energy, adjuster or circuit", "unknown-item"),
    refs.ConnectorRef: ("connector", "unknown-connector"),
}


def look_up(reference: Text | Applies, scope: Scope) -> Iterator[Finding]:
    """The finding for a name that is not there; nothing when it is."""
    if isinstance(reference, Applies):
        yield from _applies(reference, scope)
        return
    row = _KINDS.get(type(reference))
    if row is not None:
        words, code = row
        if reference not in scope.tables.get(words, {}):
            yield dead(code, words, reference, scope.tables.get(words, {}), scope)
        return
    finder = _FINDERS.get(type(reference))
    if finder is not None:
        yield from finder(reference, scope)


def dead(
    code: str, words: str, name: Text, known: Names, scope: Scope, start: int = 0, length: int | None = None
) -> Finding:
    """The finding for a dead name; the names that nearly match are its help."""
    part = name[start:] if length is None else name[start : start + length]
    place = name.place if start == 0 and length in (None, len(name)) else name.place.part(start, len(part))
    near = closest(part, tuple(known))
    whose = f" of {scope.machine}" if scope.machine else ""
    if near:
        help = f"did you mean '{near[0]}'?"
    elif known:
        few = sorted(known)[:8]
        other = next((kind for kind, names in scope.tables.items() if kind not in words and part in names), "")
        listed = ", ".join(few) + (" …" if len(known) > len(few) else "")
        help = f"declare it first; known are {listed}"
        if other:
            help = f"{part} is recorded as {_article(other)} {other}; what is wanted is one of {listed}"
    else:
        help = f"declare it first: no {words} is recorded yet"
    return Finding(code, f"'{part}' is not {_article(words)} {words}{whose}", place, help)


def _article(words: str) -> str:
    return "an" if words[0] in "aeiou" else "a"


def _applies(applies: Applies, scope: Scope) -> Iterator[Finding]:
    known = scope.tables.get("variant or modification", {})
    for term in applies.terms:
        named = term.name and term.name not in known and term.name != ONLY_VARIANT
        if named and not any(letter.isdigit() for letter in term.name):
            yield dead("unknown-name", "variant or modification", Text(term.name, term.text.place), known, scope)


def _item(name: Text, scope: Scope) -> Iterator[Finding]:
    assert isinstance(name, refs.ItemRef)
    yield from _item_named(name, name.machine, name.item, scope)


def _item_named(name: Text, machine: str, item: str, scope: Scope) -> Iterator[Finding]:
    start = len(machine) + 1 if machine else 0
    if machine and machine not in scope.others:
        yield dead("unknown-machine", "machine", name, scope.others, scope, 0, len(machine))
        return
    items: Names = scope.others[machine].record.items if machine else scope.tables.get("item", {})
    if item not in items:
        yield dead("unknown-item", "item", name, items, scope, start, len(item))


def _set(name: Text, scope: Scope) -> Iterator[Finding]:
    assert isinstance(name, refs.SetRef)
    items = scope.tables.get("item", {})
    if name.item not in items:
        yield dead("unknown-item", "item", name, items, scope, 0, len(name.item))
        return
    words = "value" if isinstance(name, refs.ValueRef) else "fastener set"
    table = scope.tables.get(words, {})
    if name.own and name not in table:
        mine = {one.partition(".")[2]: 0 for one in table if one.startswith(f"{name.item}.")}
        finding = dead(f"unknown-{words.split()[-1]}", words, name, mine, scope, len(name.item) + 1)
        yield Finding(finding.code, f"'{name.own}' is not a {words} of {name.item}", finding.place, finding.help)


def _placed(name: Text, scope: Scope) -> Iterator[Finding]:
    assert isinstance(name, refs.PlacedRef)
    items = scope.tables.get("item", {})
    if name.item not in items:
        yield dead("unknown-item", "item", name, items, scope, 0, len(name.item))
    elif name.position and name not in scope.tables["position"]:
        mine = {one.partition("@")[2]: 0 for one in scope.tables["position"] if one.startswith(f"{name.item}@")}
        finding = dead("unknown-position", "position", name, mine, scope, len(name.item) + 1)
        yield Finding(finding.code, f"'{name.position}' is not a position of {name.item}", finding.place, finding.help)


def _contact(name: Text, scope: Scope) -> Iterator[Finding]:
    assert isinstance(name, refs.ContactRef)
    connectors, items = scope.tables.get("connector", {}), scope.tables.get("item", {})
    if refs.is_connector(name.owner):
        if name.owner not in connectors:
            yield dead("unknown-connector", "connector", name, connectors, scope, 0, len(name.owner))
            return
        contacts = scope.contacts.get(name.owner)
        if contacts is not None and name.contact not in contacts:
            finding = dead("unknown-contact", "contact", name, contacts, scope, len(name.owner) + 1)
            help = f"its contacts are {', '.join(contacts)}"
            yield Finding(finding.code, f"'{name.contact}' is not a contact of {name.owner}", finding.place, help)
    elif name.owner not in items:
        yield dead("unknown-item", "item", name, items, scope, 0, len(name.owner))


def _end(name: Text, scope: Scope) -> Iterator[Finding]:
    assert isinstance(name, refs.EndRef)
    if name.is_parked:
        return
    if "." in name:
        yield from _contact(refs.ContactRef(name, name.place), scope)
    elif refs.is_connector(name) and name not in scope.tables.get("item", {}):
        if name not in scope.tables.get("connector", {}):
            yield dead("unknown-connector", "connector", name, scope.tables.get("connector", {}), scope)
    else:
        yield from _item_named(name, "", str(name), scope)


def _code(name: Text, scope: Scope) -> Iterator[Finding]:
    if plain_code(name) not in scope.codes:
        known = dict.fromkeys(scope.codes.values(), 0)
        yield dead("unknown-code", "code", name, known, scope)


_FINDERS: Mapping[type, Callable[[Text, Scope], Iterator[Finding]]] = {
    refs.ItemRef: _item,
    refs.SetRef: _set,
    refs.ValueRef: _set,
    refs.PlacedRef: _placed,
    refs.ContactRef: _contact,
    refs.EndRef: _end,
    refs.CodeRef: _code,
}
