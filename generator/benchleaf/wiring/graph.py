"""The wiring of one machine as built, as nodes and edges.

A node is a contact. The two halves of a connector are two nodes: the half fixed on its host bears the contact's name
(``A1-J3.7``), the half on a cable is ``W3@A1-J3.7``. The end of a fixed lead is a node of its own too, landed on its
contact, so that a loose plug and a lifted lead stay on the map. What was not recorded is an edge of its own kind, by
way of a node ``W3@?`` or ``A1@?``: it may conduct, and it never protects.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from enum import Enum

from benchleaf.built import Built
from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass
from benchleaf.records.wiring import Join
from benchleaf.text import NOWHERE
from benchleaf.wiring.contacts import (
    EMPTY,
    UNKNOWN_CONTACT,
    cable_of,
    contact_of,
    contacts_of_owners,
    owner_of,
    role_of,
)

__all__ = [
    "COPPER", "EMPTY", "NOT_RECORDED", "THROUGH", "UNKNOWN_CONTACT", "Edge", "Graph", "Kind", "cable_of", "contact_of",
    "end_node", "hub_node", "is_hub", "make_graph", "owner_of", "role_of",
]  # fmt: skip


class Kind(Enum):
    """What an edge is. The words are what pages and messages say."""

    WIRE = "wire"
    MATED = "connector"
    LANDED = "lead"
    COPPER = "copper"
    FUSE = "fuse"
    SWITCH = "switch"
    RELAY = "relay contact"
    LOAD = "load"
    DRIVER = "driver"
    CONVERSION = "conversion"
    WIRES_NOT_RECORDED = "wires not recorded"
    INSIDE_NOT_RECORDED = "inside not recorded"


COPPER = frozenset({Kind.WIRE, Kind.MATED, Kind.LANDED, Kind.COPPER})
"""What conducts and protects: recorded copper."""
THROUGH = frozenset({Kind.LOAD, Kind.DRIVER, Kind.CONVERSION})
"""What can carry a voltage on, without being a joint of copper."""
NOT_RECORDED = frozenset({Kind.WIRES_NOT_RECORDED, Kind.INSIDE_NOT_RECORDED})


@dataclass(frozen=True, slots=True)
class Edge:
    """What joins two nodes. ``by`` is the cable, item or connector; ``join`` the record of a join inside an item.

    Of an edge that opens by hand (connector, lead) ``a`` is the half on the cable and ``by`` the place it ends at. Of
    one not recorded ``a`` is the hub and ``b`` what it may reach; ``untold`` says that nobody recorded where ``b``
    goes, the others are merely what such a contact may be joined to.
    """

    a: str
    b: str
    kind: Kind
    by: str
    place: Place = NOWHERE
    join: Join | None = field(default=None, compare=False)
    wire: int | None = None
    """The number of the wire in the cable's map, from 0."""
    untold: bool = False

    def other(self, node: str) -> str:
        return self.b if node == self.a else self.a


@dataclass(frozen=True, eq=False)
class Graph:
    """Nodes and edges in a fixed order. ``at`` gives the numbers of the edges at a node; ``contacts`` the contacts of
    each connector and item."""

    nodes: tuple[str, ...]
    edges: tuple[Edge, ...]
    at: Mapping[str, tuple[int, ...]]
    contacts: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


def end_node(cable: str, at: str, contact: str) -> str:
    """The node of a cable's own half of a contact: ``W3@A1-J3.7``."""
    return f"{cable}@{at}.{contact}"


def hub_node(owner: str) -> str:
    """The node by way of which what is not recorded of a cable or item may conduct."""
    return f"{owner}@{UNKNOWN_CONTACT}"


def is_hub(node: str) -> bool:
    return node.endswith(f"@{UNKNOWN_CONTACT}")


def make_graph(built: Built) -> Graph:
    """The graph of a machine as built. Nodes and edges come sorted: same machine, same graph."""
    from benchleaf.wiring.cable_edges import cable_edges
    from benchleaf.wiring.item_edges import conversion_edges, join_edges

    contacts = contacts_of_owners(built)
    edges = [*cable_edges(built, contacts), *join_edges(built, contacts), *conversion_edges(built, contacts)]
    nodes = {f"{owner}.{contact}" for owner, names in contacts.items() for contact in names}
    for edge in edges:
        nodes.add(edge.a)
        nodes.add(edge.b)
    edges.sort(key=lambda e: (e.a, e.b, e.kind.value, e.by, -1 if e.wire is None else e.wire))
    at: dict[str, list[int]] = {node: [] for node in sorted(nodes)}
    for number, edge in enumerate(edges):
        at[edge.a].append(number)
        if edge.b != edge.a:
            at[edge.b].append(number)
    return Graph(tuple(at), tuple(edges), {node: tuple(found) for node, found in at.items()}, contacts)
