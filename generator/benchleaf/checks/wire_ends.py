"""A plug that does not fit where it is plugged in, a wire that leads nowhere, a contact that is used twice.

One of the two records is a slip: the end, the family, the number in the map. Look at the plug in your hand. A contact
that is recorded as empty (`-`) holds nothing, so no wire can be on it. Two wires in one crimp are usual in a harness
and nowhere else.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.checks.on_machines import on_machines
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Severity
from benchleaf.records.wiring import Cable, CableEnd, Connector
from benchleaf.wiring.contacts import EMPTY, end_of, shown
from benchleaf.wiring.wiring import Wiring

CODES = ("end-misfit", "wire-nowhere", "contact-twice")
BY_MACHINE = True


def run(derived: Derived) -> Iterator[Finding]:
    yield from on_machines(derived, _of_machine)


def _of_machine(wiring: Wiring) -> Iterator[Finding]:
    for cable in wiring.built.cables.values():
        for end in cable.ends:
            connector = wiring.built.connectors.get(str(end.at))
            if connector is not None and end.plug is not None:
                yield from _misfits(cable, end, connector)
        if cable.wires is not None and isinstance(cable.wires.map, tuple):
            yield from _of_map(wiring, cable, cable.wires.map)
        elif cable.wires is not None and cable.wires.map == "straight":
            yield from _left_over(wiring, cable)


def _misfits(cable: Cable, end: CableEnd, at: Connector) -> Iterator[Finding]:
    plug = end.plug
    assert plug is not None

    def finding(what: str, mine: object, its: object, key: str) -> Finding:
        message = f"the plug of {cable.id} at {end.at} has {what} {mine}, the place has {its}: it does not fit"
        help = "look at both halves, and mend the one that is wrong or say where the cable is really plugged in"
        return Finding("end-misfit", message, plug.place_of(key), help)

    if plug.family is not None and at.family is not None and plug.family != at.family:
        yield finding("the family", f"'{plug.family}'", f"'{at.family}'", "family")
    if plug.contacts is not None and at.contacts is not None and not set(plug.contacts) <= set(at.contacts):
        yield finding("the contacts", ", ".join(plug.contacts), ", ".join(at.contacts), "contacts")
    if isinstance(plug.keyed, str) and isinstance(at.keyed, str) and plug.keyed != at.keyed:
        yield finding("the key", f"'{plug.keyed}'", f"'{at.keyed}'", "keyed")


def _of_map(wiring: Wiring, cable: Cable, pairs: tuple[tuple[str, str], ...]) -> Iterator[Finding]:
    seen: dict[tuple[int, str], int] = {}
    told: set[frozenset[object]] = set()
    for n, pair in enumerate(pairs, start=1):
        ends = [end_of(cable, contact, number) for number, contact in enumerate(pair)]
        for contact, end in zip(pair, ends, strict=True):
            why = _why_nowhere(wiring, cable, contact, end)
            if why:
                place = getattr(contact, "place", cable.place)
                help = "mend the contact in the map, or the ends of the cable"
                yield Finding("wire-nowhere", f"wire {n} of {cable.id} leads nowhere: {why}", place, help)
        if frozenset(ends) in told:
            message = f"wire {n} of {cable.id} is written twice: {' to '.join(shown(one) for one in pair)}"
            yield Finding("contact-twice", message, getattr(pair[0], "place", cable.place), "take one of them out")
        else:
            yield from _twice(wiring, cable, pair, ends, seen, n)
        told.add(frozenset(ends))


def _why_nowhere(wiring: Wiring, cable: Cable, contact: str, end: tuple[int, str] | None) -> str:
    if end is None:
        return f"{cable.id} has no end at '{contact}'"
    at = cable.ends[end[0]]
    connector = wiring.built.connectors.get(str(at.at))
    told = at.plug.contacts if at.plug is not None else None
    known = told if told is not None else connector.contacts if connector is not None else None
    if known is None:
        return ""
    if end[1] not in known:
        return f"{at.at} has no contact '{end[1]}'"
    return f"{shown(f'{at.at}.{end[1]}')} is recorded as empty" if known[end[1]] == EMPTY else ""


def _twice(
    wiring: Wiring,
    cable: Cable,
    pair: tuple[str, str],
    ends: list[tuple[int, str] | None],
    seen: dict[tuple[int, str], int],
    n: int,
) -> Iterator[Finding]:
    for contact, end in zip(pair, ends, strict=True):
        if end is None:
            continue
        at = cable.ends[end[0]].at
        if end in seen and cable.kind != "harness" and at in wiring.built.connectors:
            message = f"wires {seen[end]} and {n} of {cable.id} are both on {shown(f'{at}.{end[1]}')}"
            help = (
                "mend the number that is wrong; where two wires really share a crimp, it is a harness: `kind: harness`"
            )
            place = getattr(contact, "place", cable.place)
            yield Finding("contact-twice", message, place, help, Severity.WARNING)
        seen.setdefault(end, n)


def _left_over(wiring: Wiring, cable: Cable) -> Iterator[Finding]:
    """Contacts of a straight cable that have no counterpart at any other end."""
    sides = []
    for end in cable.ends:
        connector = wiring.built.connectors.get(str(end.at))
        told = end.plug.contacts if end.plug is not None else None
        known = told if told is not None else connector.contacts if connector is not None else None
        if known is None:
            return
        sides.append((end, {own for own, role in known.items() if role != EMPTY}, set(known)))
    for number, (end, mine, _) in enumerate(sides):
        others = set().union(*(every for other, (_, _, every) in enumerate(sides) if other != number))
        left = sorted(mine - others)
        if left:
            names = ", ".join(shown(f"{end.at}.{own}") for own in left)
            message = f"{cable.id} is recorded as straight, but no other end has a contact for {names}"
            help = "write the map in pairs, or mark the place as empty: `-`"
            assert cable.wires is not None
            yield Finding("wire-nowhere", message, cable.wires.place_of("map"), help)
