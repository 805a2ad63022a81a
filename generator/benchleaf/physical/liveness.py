"""Which energies are at which items, as far as anyone recorded: the ground on which touching is allowed or not.

Everything that is wired together counts as one conductor here: switches, fuses, loads, opened connectors, boards. Only
an earth joins nothing. So an energy may be named where it never comes, but it is never left out where it can be.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from benchleaf import refs
from benchleaf.built import Built
from benchleaf.frozen import dataclass
from benchleaf.records.wiring import Cable

ELECTRICAL = "electrical"
EARTH = "PE"
_DESIGNATION = re.compile(refs.DESIGNATION.pattern)


@dataclass(frozen=True, slots=True, kw_only=True)
class Liveness:
    """``at``: item → the energies at it; ``of_connector``: connector on a cable → the energies at it.

    ``unlisted`` are sources of the wiring that no energy isolates; ``nothing_recorded`` = neither an energy nor a
    source is recorded, so that everything counts as energised and nothing can say otherwise.
    """

    at: Mapping[str, tuple[str, ...]]
    of_connector: Mapping[str, tuple[str, ...]]
    unlisted: tuple[str, ...] = ()
    nothing_recorded: bool = False


def liveness(built: Built) -> Liveness:
    """Which energies can be at which item, everything counted as conducting (computations.md, section 0).

    Heat, pressure, springs and loads of which nobody recorded where they are can be anywhere.
    """
    groups = _groups(built)
    electrical = [name for name, one in built.energy.items() if one.kind == ELECTRICAL]
    roots = [name for name, one in built.sources.items() if one.from_ is None]
    found: dict[str, set[str]] = {}

    def everywhere(energy: str) -> None:
        for node in _electrical_things(built, groups):
            found.setdefault(node, set()).add(energy)

    for name in sorted({*electrical, *roots}):
        source = built.sources.get(name)
        if source is None:
            energy = built.energy[name]
            if energy.at is None:
                everywhere(name)
            continue
        starts = {groups.find(_node(built, contact.owner)) for contact in source.at}
        for node in groups.nodes():
            if groups.find(node) in starts:
                found.setdefault(node, set()).add(name)
    for name, energy in built.energy.items():
        anywhere = energy.at is None and energy.kind != ELECTRICAL
        for place in built.items if anywhere else (str(item.item) for item in energy.at or ()):
            found.setdefault(place, set()).add(name)
    sorted_at = {node: tuple(sorted(names)) for node, names in found.items()}
    return Liveness(
        at={node: names for node, names in sorted_at.items() if node in built.items},
        of_connector={node: names for node, names in sorted_at.items() if node in built.connectors},
        unlisted=tuple(sorted(set(roots) - set(electrical))),
        nothing_recorded=not built.energy and not roots and "energy" not in built.machine.record.said,
    )


class _Groups:
    """Things that are joined, as disjoint sets."""

    def __init__(self) -> None:
        self._up: dict[str, str] = {}

    def find(self, node: str) -> str:
        self._up.setdefault(node, node)
        while self._up[node] != node:
            self._up[node] = self._up[self._up[node]]
            node = self._up[node]
        return node

    def join(self, one: str, other: str) -> None:
        self._up[self.find(one)] = self.find(other)

    def nodes(self) -> list[str]:
        return sorted(self._up)


def _groups(built: Built) -> _Groups:
    groups = _Groups()
    for name in built.connectors:
        groups.find(_node(built, name))
    for item, joins in built.joins.items():
        groups.find(item)
        for join in joins:
            for contact in join.between:
                if contact.contact != EARTH:
                    groups.join(item, _node(built, contact.owner))
    for cable in built.cables.values():
        owners = [_node(built, owner) for owner in _joined_by(built, cable)]
        for owner in owners[1:]:
            groups.join(owners[0], owner)
        for name in built.connectors:
            if refs.host_of(name) == cable.id and owners:
                groups.join(_node(built, name), owners[0])
    for source in built.sources.values():
        ends = [_node(built, contact.owner) for contact in (*source.at, *(source.return_ or ()))]
        for end in ends[1:]:
            groups.join(ends[0], end)
    for source in built.sources.values():
        for origin in source.from_ or ():
            if origin in built.sources and source.at and built.sources[origin].at:
                groups.join(_node(built, source.at[0].owner), _node(built, built.sources[origin].at[0].owner))
    return groups


def _joined_by(built: Built, cable: Cable) -> Iterator[str]:
    """The owners of the ends a cable joins by more than its earth wire."""
    ends = [end.at.partition(".")[0] for end in cable.ends if not end.at.is_parked]
    pairs = cable.wires.map if cable.wires is not None else None
    if pairs is None or isinstance(pairs, str):
        yield from ends
        return
    for pair in pairs:
        named = [contact for contact in pair if contact.rpartition(".")[2] != EARTH]
        if len(named) < 2:
            continue
        if any("." in contact for contact in pair):
            yield from (contact.partition(".")[0] for contact in named)
        else:
            yield from ends


def _node(built: Built, owner: str) -> str:
    """The item an owner of contacts is or sits on; the connector itself when it hangs on a cable."""
    return owner if owner in built.items else built.host_item(owner) or owner


def _electrical_things(built: Built, groups: _Groups) -> Iterator[str]:
    """What has contacts; without any wiring recorded, everything with a reference designation."""
    yield from groups.nodes()
    if not built.machine.has_wiring:
        yield from (name for name in built.items if _DESIGNATION.fullmatch(name))
