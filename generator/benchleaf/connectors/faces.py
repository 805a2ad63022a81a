"""The face of any connector end from its records: rows, roles, wire colours, keying, latch, label.

The recorded rows are those of the half fixed on its host, seen on its mating side with the latch up. The half on the
cable is its mirror. What is not recorded stays so, and the drawing says it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from benchleaf.built import Built
from benchleaf.connectors.ends import cable_at, fixed_half
from benchleaf.connectors.labels import CableLabel
from benchleaf.drawings import face_values as drawn
from benchleaf.drawings.face_values import Contact, Face, arrangement_of, contact_side_of, counterpart, seen_from
from benchleaf.records.wiring import Connector, PlugHalf
from benchleaf.text import Text
from benchleaf.wiring.graph import UNKNOWN_CONTACT, Graph, Kind, end_node, make_graph

EMPTY_ROLE = "empty"


def face_of(
    built: Built,
    connector: str,
    half: drawn.Half,
    side: drawn.Side = "mating",
    *,
    graph: Graph | None = None,
    label: CableLabel | None = None,
) -> Face:
    """One half of a connector of the machine as built, seen from a side; raises ``KeyError`` for one it has not.

    ``graph``: the machine's wiring graph, made here when left out. ``label``: the label of its cable.
    """
    record = built.connectors[connector]
    graph = graph if graph is not None else make_graph(built)
    cable = cable_at(built, connector)
    told = _told(built, cable, connector)
    contacts = _contacts(built, connector, cable, graph)
    kind = built.cables[cable].kind if cable else None
    rows = tuple(tuple(str(name) for name in row) for row in record.face or ())
    fixed = Face(
        name=connector,
        half=fixed_form(record),
        rows=rows,
        contacts=tuple(contacts.values()),
        arrangement=arrangement_of(rows, str(record.family or ""), str(kind or "")),
        keyed=_plain(record.keyed),
        latch=str(record.latch) if record.latch is not None else None,
        has_pins=fixed_half(record).pins,
        contact_side=contact_side_of(str(record.family or "")),
        cable=cable,
        label=f"{label.mark.letter} {label.mark.shape}" if label is not None else "",
    )
    if half == fixed.half:
        return seen_from(fixed, side)
    other = counterpart(fixed)
    if told is not None and told.keyed is not None:
        other = replace(other, keyed=_plain(told.keyed))
    if told is not None and told.contacts is not None:
        own = tuple(contacts.get(str(name), Contact(name=str(name))) for name in told.contacts)
        other = replace(other, contacts=own)
    return seen_from(other, side)


def both_faces(
    built: Built, connector: str, *, graph: Graph | None = None, label: CableLabel | None = None
) -> tuple[Face, Face]:
    """The plug and the receptacle of a connector, each on its mating side, as a mating pair is drawn."""
    graph = graph if graph is not None else make_graph(built)
    plug = face_of(built, connector, "plug", graph=graph, label=label)
    return plug, face_of(built, connector, "receptacle", graph=graph, label=label)


def fixed_form(connector: Connector) -> drawn.Half:
    """Which half is fixed on the host: a receptacle unless recorded otherwise."""
    return "plug" if connector.form == "plug" else "receptacle"


def _plain(keyed: str | bool | None) -> str | bool | None:
    return str(keyed) if isinstance(keyed, str) else keyed


def _told(built: Built, cable: str, connector: str) -> PlugHalf | None:
    """What is recorded of the cable's half where it differs from its receptacle."""
    ends = built.cables[cable].ends if cable else ()
    return next((end.plug for end in ends if end.at == connector), None)


def _contacts(built: Built, connector: str, cable: str, graph: Graph) -> Mapping[str, Contact]:
    """Every contact of a connector, by name: those recorded, those its face shows, those a wire names."""
    record = built.connectors[connector]
    names = dict.fromkeys(str(name) for name in record.contacts or ())
    names |= dict.fromkeys(str(name) for row in record.face or () for name in row if name != drawn.EMPTY)
    if not names:
        at = f"{connector}."
        found = [node[len(at) :] for node in graph.nodes if node.startswith(at)]
        names = dict.fromkeys(sorted((name for name in found if name != UNKNOWN_CONTACT), key=_name_order))
    roles = record.contacts or {}
    colours = colours_at(built, cable, connector, names, graph) if cable else {}
    return {
        name: Contact(name=name, role=_role(str(roles.get(name, ""))), colour=colours.get(name, "")) for name in names
    }


def _role(role: str) -> str:
    return EMPTY_ROLE if role == drawn.EMPTY else role


def _name_order(name: str) -> tuple[int, int, str]:
    return (0, int(name), "") if name.isdigit() else (1, 0, name)


def colours_at(built: Built, cable: str, connector: str, names: Iterable[str], graph: Graph) -> Mapping[str, str]:
    """Contact → the colour code of its wire at a cable's end; two wires of two colours are joined by ``+``."""
    wires = built.cables[cable].wires
    if wires is None or not wires.colours:
        return {}
    found: dict[str, str] = {}
    for name in names:
        edges = [graph.edges[number] for number in graph.at.get(end_node(cable, connector, name), ())]
        numbers = sorted(edge.wire for edge in edges if edge.kind is Kind.WIRE and edge.wire is not None)
        codes = dict.fromkeys(code for number in numbers if (code := _one_of(wires.colours, number)))
        if codes:
            found[name] = "+".join(codes)
    return found


def _one_of(values: tuple[Text, ...], number: int) -> str:
    """One value for all wires, or one a wire in map order."""
    if len(values) == 1:
        return str(values[0])
    return str(values[number]) if number < len(values) else ""
