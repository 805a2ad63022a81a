"""Nets: the contacts that recorded copper joins with everything plugged in. A fuse, switch or load ends a net."""

from __future__ import annotations

from benchleaf.built import Built
from benchleaf.frozen import dataclass
from benchleaf.wiring.conduction import Pieces
from benchleaf.wiring.contacts import EMPTY, cable_of, contact_of, natural, role_of
from benchleaf.wiring.graph import Graph, is_hub


@dataclass(frozen=True, slots=True)
class Net:
    """One net. ``name`` is its first contact; ``contacts`` are in natural order, ``nodes`` in that of the graph."""

    name: str
    contacts: tuple[str, ...]
    nodes: tuple[str, ...]


def draw_nets(graph: Graph, pieces: Pieces) -> tuple[Net, ...]:
    """Every net of a graph, by name in natural order; hubs belong to none."""
    group: dict[int, int] = {}
    for start in range(len(pieces.members)):
        if start in group:
            continue
        group[start] = start
        waiting = [start]
        while waiting:
            for _, other in pieces.copper[waiting.pop()]:
                if other not in group:
                    group[other] = start
                    waiting.append(other)
    members: dict[int, list[str]] = {}
    for node in graph.nodes:
        if not is_hub(node):
            members.setdefault(group[pieces.of[node]], []).append(node)
    return tuple(sorted((_net(nodes) for nodes in members.values()), key=lambda net: natural(net.name)))


def _net(nodes: list[str]) -> Net:
    contacts = tuple(sorted({contact_of(node) for node in nodes}, key=natural))
    fixed = [node for node in sorted(nodes, key=natural) if not cable_of(node)]
    return Net(fixed[0] if fixed else sorted(nodes, key=natural)[0], contacts, tuple(nodes))


def label_of(built: Built, net: Net) -> str:
    """What a net carries, in the words of its records: its sources, else its roles with a voltage, else its signals."""
    here = set(net.contacts)
    said = [
        f"{name} ({source.nominal.tidy})" if source.nominal is not None else str(name)
        for name, source in built.sources.items()
        if here & {str(one) for one in source.at}
    ]
    returns = [name for name, source in built.sources.items() if here & {str(one) for one in source.return_ or ()}]
    if returns:
        said.append(f"return of {', '.join(returns)}")
    if said:
        return ", ".join(said)
    roles = {role_of(built, contact) for contact in net.contacts} - {"", EMPTY}
    volts = sorted(role for role in roles if role not in ("in", "out", "in/out"))
    if volts:
        return ", ".join(volts)
    signals = [
        str(signal.name or name)
        for name, signal in built.signals.items()
        if here & {str(one) for one in (*((signal.from_,) if signal.from_ else ()), *(signal.to or ()))}
    ]
    return ", ".join(signals or sorted(roles))
