"""Which contacts there are on a machine as built: those recorded, and those that any record of the wiring names.

A connector of which nobody listed the contacts has the contact ``?`` beside those that are named: something may be
there that nobody wrote down.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchleaf.built import Built
from benchleaf.records.wiring import Cable
from benchleaf.refs import ContactRef

UNKNOWN_CONTACT = "?"
EMPTY = "-"
"""The role of a place in a connector that holds no contact."""
Pair = tuple[tuple[int, str], tuple[int, str]]
"""A wire as its cable's map writes it: (end number, contact) at both ends."""


def contact_of(node: str) -> str:
    """The contact a node is at, without the cable whose half it is: ``A1-J3.7``."""
    return node.rpartition("@")[2]


def cable_of(node: str) -> str:
    """The cable whose half a node is; empty for the fixed half."""
    return node.rpartition("@")[0]


def owner_of(node: str) -> str:
    """The connector or item a node is a contact of."""
    return contact_of(node).partition(".")[0]


def shown(contact: str) -> str:
    """A contact as pages print it, after IEC 61666: ``A1-J3:7``."""
    return contact.replace(".", ":", 1)


def role_of(built: Built, contact: str) -> str:
    """The recorded role of a contact; empty when not recorded."""
    owner, _, own = contact.partition(".")
    connector = built.connectors.get(owner)
    return str((connector.contacts or {}).get(own, "")) if connector is not None else ""


def natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """Sort key in which ``J2`` comes before ``J10``: runs of digits as numbers, everything else as text."""
    key: list[tuple[int, int, str]] = []
    run = ""
    for letter in text:
        if run and letter.isdigit() != run[-1].isdigit():
            key.append((0, int(run), "") if run[0].isdigit() else (1, 0, run))
            run = ""
        run += letter
    if run:
        key.append((0, int(run), "") if run[0].isdigit() else (1, 0, run))
    return tuple(key)


def contacts_of_owners(built: Built) -> dict[str, tuple[str, ...]]:
    """Connector or item → its contacts: those recorded, then those that other records of the wiring name."""
    found: dict[str, dict[str, None]] = {}
    for name, connector in built.connectors.items():
        on_face = [own for row in connector.face or () for own in row if own != EMPTY]
        found[name] = dict.fromkeys(connector.contacts or on_face)

    def add(owner: str, names: Iterable[str]) -> None:
        if owner in built.connectors or owner in built.items:
            found.setdefault(owner, {}).update(dict.fromkeys(names))

    for contact in named_contacts(built):
        owner, _, own = contact.partition(".")
        add(owner, (own,))
    for cable in built.cables.values():
        for number, names in enumerate(named_by_end(cable)):
            add(str(cable.ends[number].at), names)
        for end in cable.ends:
            if end.plug is not None and end.at in built.connectors and built.connectors[str(end.at)].contacts is None:
                add(str(end.at), end.plug.contacts or ())
    _fill_along_straight_cables(built, found)
    for name, connector in built.connectors.items():
        if not found[name] or (connector.contacts is None and connector.face is None):
            found[name][UNKNOWN_CONTACT] = None
    return {owner: tuple(names) for owner, names in sorted(found.items())}


def _fill_along_straight_cables(built: Built, found: dict[str, dict[str, None]]) -> None:
    """A straight cable tells the contacts of its ends: an item has those of the connectors at the other ends, and a
    connector of which none is known those of any other end."""
    for cable in built.cables.values():
        if cable.wires is None or not isinstance(cable.wires.map, str):
            continue
        owners = [str(end.at) for end in cable.ends if end.at in built.connectors or end.at in built.items]
        if cable.wires.map == "straight":
            plugged = {own: None for at in owners if at in built.connectors for own in found.get(at, {})}
            for owner in owners:
                if owner in built.items:
                    found.setdefault(owner, {}).update(plugged)
        known = next((found[owner] for owner in owners if found.get(owner)), {})
        for owner in owners:
            if not found.get(owner):
                found.setdefault(owner, {}).update(known)


def named_contacts(built: Built) -> Iterator[ContactRef]:
    """Every contact named by a join, source, signal, energy, value, earth or lead, wherever it stands."""
    for joins in built.joins.values():
        for join in joins:
            yield from join.between
            yield from join.coil or ()
    for source in built.sources.values():
        for group in (source.at, source.return_, source.earth):
            yield from group or ()
    for signal in built.signals.values():
        yield from (*((signal.from_,) if signal.from_ else ()), *(signal.to or ()))
    for energy in built.energy.values():
        for proof in energy.prove_dead or ():
            yield from proof.between or ()
        for store in energy.stored or ():
            yield from store.between or ()
            if store.bleed is not None and not isinstance(store.bleed, str | tuple):
                yield from store.bleed.between or ()
    for item in built.items.values():
        for value in item.values.values():
            yield from value.between or ()
        if isinstance(item.metal_earth, ContactRef):
            yield item.metal_earth
    for substitution in built.substitutions:
        if substitution.by is not None:
            yield substitution.by
    for cable in built.cables.values():
        yield from (ContactRef(end.at, end.at.place) for end in cable.ends if "." in end.at)


def wire_pairs(cable: Cable) -> tuple[Pair | None, ...]:
    """The wires of a map written as pairs, in its order; ``None`` for one that names no end of the cable."""
    if cable.wires is None or not isinstance(cable.wires.map, tuple):
        return ()
    return tuple(_pair(cable, one, two) for one, two in cable.wires.map)


def _pair(cable: Cable, one: str, two: str) -> Pair | None:
    first, second = end_of(cable, one, 0), end_of(cable, two, 1)
    return (first, second) if first is not None and second is not None else None


def end_of(cable: Cable, contact: str, otherwise: int) -> tuple[int, str] | None:
    """Which end a contact of the map stands at, and its own name: ``A1-J3.1`` at that end, a bare one by its place."""
    owner, dot, own = contact.rpartition(".")
    if not dot:
        return (otherwise, contact) if otherwise < len(cable.ends) else None
    for number, end in enumerate(cable.ends):
        if end.at in (owner, contact):
            return number, own
    return None


def named_by_end(cable: Cable) -> tuple[tuple[str, ...], ...]:
    """For each end, the contacts that the cable's map names there."""
    made: list[dict[str, None]] = [{} for _ in cable.ends]
    for pair in wire_pairs(cable):
        for number, contact in pair or ():
            made[number][contact] = None
    if cable.wires is not None and isinstance(cable.wires.map, tuple):
        for one, two in cable.wires.map:  # one end of a broken pair may still be known
            for contact, otherwise in ((one, 0), (two, 1)):
                known = end_of(cable, contact, otherwise)
                if known is not None:
                    made[known[0]][known[1]] = None
    return tuple(tuple(names) for names in made)
