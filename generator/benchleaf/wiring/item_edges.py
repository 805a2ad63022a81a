"""The edges inside items: recorded joins, what a conversion joins, and what nobody recorded.

A contact that no join names may be joined to any contact of its item, unless the item's joins are recorded as ``none``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from benchleaf.built import Built
from benchleaf.refs import ContactRef
from benchleaf.wiring.contacts import EMPTY, role_of
from benchleaf.wiring.graph import Edge, Kind, hub_node

_KINDS = {
    "copper": Kind.COPPER, "fuse": Kind.FUSE, "switch": Kind.SWITCH, "relay": Kind.RELAY, "load": Kind.LOAD,
    "driver": Kind.DRIVER,
}  # fmt: skip


def fixed_contacts(built: Built, item: str, contacts: Mapping[str, tuple[str, ...]]) -> list[str]:
    """The contacts fixed on an item that hold a contact: its own and those of its connectors, in their order."""
    owners = (item, *built.connectors_of.get(item, ()))
    found = [f"{owner}.{name}" for owner in owners for name in contacts.get(owner, ())]
    return [node for node in found if role_of(built, node) != EMPTY]


def join_edges(built: Built, contacts: Mapping[str, tuple[str, ...]]) -> Iterator[Edge]:
    """Recorded joins, and for every item with contacts that no join names a hub to all its contacts."""
    told = _told(built)
    for item in built.items:
        for join in built.joins.get(item, ()):
            first, *rest = join.between or ("",)
            for other in rest:
                yield Edge(str(first), str(other), _KINDS[join.kind or "copper"], item, join.place, join)
            if join.coil is not None:
                yield Edge(str(join.coil[0]), str(join.coil[1]), Kind.LOAD, item, join.place, join)
        mine = fixed_contacts(built, item, contacts)
        if built.machine.wiring.joins.get(item) == () or len(mine) < 2:
            continue
        untold = {node for node in mine if node not in told}
        if untold:
            for node in mine:
                yield Edge(
                    hub_node(item), node, Kind.INSIDE_NOT_RECORDED, item, built.items[item].place, untold=node in untold
                )


def _told(built: Built) -> frozenset[str]:
    """The contacts of which something says where they go inside: a join, a coil, an item's exposed metal."""
    found: set[str] = set()
    for joins in built.joins.values():
        for join in joins:
            found.update(str(one) for one in (*join.between, *(join.coil or ())))
    for item in built.items.values():
        if isinstance(item.metal_earth, ContactRef):
            found.add(str(item.metal_earth))
    return frozenset(found)


def conversion_edges(built: Built, contacts: Mapping[str, tuple[str, ...]]) -> Iterator[Edge]:
    """A conversion joins its own outputs and returns; unless it is one-way it also conducts backward.

    Which contacts of its host are its inputs nobody records: backward it may reach every other contact there.
    """
    for name, source in built.sources.items():
        if source.from_ is None or not source.at:
            continue
        first = str(source.at[0])
        outputs = list(dict.fromkeys(str(one) for one in (*source.at, *(source.return_ or ()))))
        for other in outputs:
            if other != first:
                yield Edge(first, other, Kind.CONVERSION, name, source.place)
        if source.one_way:
            continue
        hosts = {item for one in source.at if (item := built.item_of_contact(str(one))) is not None}
        for host in sorted(hosts):
            for node in fixed_contacts(built, host, contacts):
                if node not in outputs:
                    yield Edge(first, node, Kind.CONVERSION, name, source.place)
