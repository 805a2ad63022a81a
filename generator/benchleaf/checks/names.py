"""A name is used twice within one item, or a name points at something that cannot be what is meant.

An item's fastener sets, values and contacts share one name space, because a record writes all three as `item.name`. A
position needs sets of its own item; an item cannot sit in itself; a screw hole count must be as long as its list.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place
from benchleaf.model import Machine
from benchleaf.references import references
from benchleaf.refs import ContactRef
from benchleaf.suggest import closest
from benchleaf.text import Text

CODES = (
    "name-twice", "unknown-set", "inside-itself", "unknown-tool", "host-missing", "unknown-position",
    "unknown-fastener",
)  # fmt: skip


def run(derived: Derived) -> Iterator[Finding]:
    for machine in derived.library.machines.values():
        yield from _names_twice(machine)
        yield from _positions(machine)
        yield from _rings_of_in(machine)
        yield from _hosts(machine)
        yield from _moves(machine)
        yield from _fasteners(machine)
    tools = derived.library.tools
    for name in derived.library.shop.tools_at_hand or ():
        if name not in tools:
            near = closest(name, tuple(tools))
            help = f"did you mean '{near[0]}'?" if near else "declare it in tools.yaml"
            yield Finding("unknown-tool", f"'{name}' is not a tool of tools.yaml", name.place, help)


def _names_twice(machine: Machine) -> Iterator[Finding]:
    contacts: dict[str, dict[str, Text]] = {}
    for one in references(machine.wiring):
        if isinstance(one, ContactRef):
            contacts.setdefault(one.owner, {}).setdefault(one.contact, one)
    for name, item in machine.record.items.items():
        seen: dict[str, tuple[str, Place]] = {}
        sets = {own: held.place for own, held in (item.held_by or {}).items()}
        values = {own: value.place for own, value in item.values.items()}
        points: Mapping[str, Place] = {own: one.place for own, one in contacts.get(name, {}).items()}
        for words, names in (("fastener set", sets), ("value", values), ("contact", points)):
            for own, place in names.items():
                if own in seen:
                    first, where = seen[own]
                    message = f"'{own}' is a {first} and a {words} of {name}"
                    yield Finding("name-twice", message, place, "rename one of them", related=((where, first),))
                else:
                    seen[own] = (words, place)


def _positions(machine: Machine) -> Iterator[Finding]:
    for name, item in machine.record.items.items():
        for position in item.positions.values():
            for need in position.needs or ():
                sets = item.held_by or {}
                if need not in sets:
                    near = closest(need, tuple(sets))
                    help = f"did you mean '{near[0]}'?" if near else f"its sets are {', '.join(sets) or 'not recorded'}"
                    yield Finding("unknown-set", f"'{need}' is not a fastener set of {name}", need.place, help)


def _rings_of_in(machine: Machine) -> Iterator[Finding]:
    items = machine.record.items
    reported: set[str] = set()
    for name in items:
        path = [name]
        while (inside := items[path[-1]].in_) is not None and inside.item in items and inside.item not in path:
            path.append(inside.item)
        if inside is not None and inside.item in path and path[path.index(inside.item)] not in reported:
            ring = path[path.index(inside.item) :]
            reported.update(ring)
            way = " in ".join([*ring, ring[0]])
            yield Finding(
                "inside-itself", f"an item cannot sit in itself: {way}", items[ring[0]].place_of("in"), "mend one `in`"
            )


def _hosts(machine: Machine) -> Iterator[Finding]:
    known = (*machine.record.items, *machine.wiring.cables)
    for name, connector in machine.wiring.connectors.items():
        host = name.rpartition("-")[0]
        if host not in known:
            near = closest(host, known)
            help = f"did you mean '{near[0]}'?" if near else f"declare '{host}' under `items` or `cables`"
            yield Finding(
                "host-missing", f"'{host}' of connector {name} is no item and no cable", connector.place, help
            )


def _moves(machine: Machine) -> Iterator[Finding]:
    """``move: tray to service``: the position is one of that very item; ``seated`` is one of every item."""
    for procedure in machine.procedures.values():
        for action in (one for step in procedure.steps for one in (*(step.do or ()), *(step.on_return or ()))):
            item = machine.record.items.get(action.target)
            if action.verb != "move" or item is None or action.to in ("seated", *item.positions):
                continue
            near = closest(action.to, ("seated", *item.positions))
            known = ", ".join(item.positions) or "none recorded"
            help = f"did you mean '{near[0]}'?" if near else f"its positions are: seated, {known}"
            message = f"'{action.to}' is not a position of {action.target}"
            yield Finding("unknown-position", message, action.to.place, help)


def _fasteners(machine: Machine) -> Iterator[Finding]:
    """A set named after no fastener, that does not say itself what its fasteners are."""
    known = machine.record.fasteners
    for name, item in machine.record.items.items():
        for own, held in (item.held_by or {}).items():
            if held.fastener is None and own not in known and not (held.thread or held.drive or held.kind):
                near = closest(own, tuple(known))
                help = (
                    f"did you mean '{near[0]}'?" if near else f"declare '{own}' under `fasteners`, or add `fastener:`"
                )
                yield Finding("unknown-fastener", f"set '{own}' of {name} names no fastener", held.place, help)
