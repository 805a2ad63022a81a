"""The ring-out table: which contacts must conduct, power off, what the meter should show, and that all else is open.

A cable is rung out with its plugs pulled; the nets of a machine with everything plugged in. Where something is not
recorded or not tested, the table says so instead of calling a pair open.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from benchleaf.built import Built
from benchleaf.connectors.expected_path import expected_along
from benchleaf.connectors.power_off import PowerOff, Reading, around_cable, cable_nodes, reading_of
from benchleaf.drawings.drawing import Table
from benchleaf.frozen import dataclass
from benchleaf.values.conductors import Expected, beep_words
from benchleaf.wiring.contacts import natural, shown
from benchleaf.wiring.graph import EMPTY, Edge, Graph, Kind, contact_of, make_graph, role_of

TO_WRITE_ON = "……………"
JOINED = "Contacts that rows join one after the other count as joined."
DEAD_FIRST = "Prove dead first; measure resistance only on what is proved dead."


@dataclass(frozen=True, slots=True, kw_only=True)
class RingOutRow:
    """Two contacts and what is read between them. ``reading`` is ``conducts`` or ``through a load``; ``by`` names what
    lies between."""

    start: str
    end: str
    reading: str
    by: str
    expected: Expected


@dataclass(frozen=True, slots=True, kw_only=True)
class RingOutTable:
    """The table of a cable or a net. ``contacts`` are all it speaks of; ``others`` says what every other pair reads."""

    subject: str
    title: str
    how: tuple[str, ...]
    contacts: tuple[str, ...]
    rows: tuple[RingOutRow, ...]
    others: str
    remarks: tuple[str, ...] = ()

    @property
    def conducting(self) -> tuple[tuple[str, str], ...]:
        """The pairs that must conduct."""
        return tuple((row.start, row.end) for row in self.rows if row.reading == Reading.CONDUCTS.value)


def ring_out_of_cable(
    built: Built, cable: str, graph: Graph | None = None, *, same_within: float = 0.1
) -> RingOutTable:
    """The table of one cable with its plugs pulled; raises ``KeyError`` for a cable the machine has not."""
    record = built.cables[cable]
    graph = graph if graph is not None else make_graph(built)
    nodes = sorted(cable_nodes(graph, cable), key=_node_order)
    look = _Look(built, around_cable(graph, nodes), same_within)
    leads = [str(end.at) for end in record.ends if end.at not in built.connectors and not end.at.is_parked]
    how = [DEAD_FIRST, f"Pull every plug of {cable}."]
    if leads:
        places = ", ".join(shown(one) for one in leads)
        how.append(f"Its leads at {places} stay joined: what is read includes what they are joined to.")
    name = f"{cable} {record.name}" if record.name else cable
    return look.table(cable, f"Ring out {name}", how, nodes)


def ring_out_of_nets(built: Built, graph: Graph | None = None, *, same_within: float = 0.1) -> tuple[RingOutTable, ...]:
    """A table for each net of two or more fixed contacts, everything plugged in, then one of what lies between nets."""
    graph = graph if graph is not None else make_graph(built)
    look = _Look(built, PowerOff(graph.edges), same_within)
    fixed = [node for node in graph.nodes if "@" not in node and role_of(built, node) != EMPTY]
    nets: dict[str, list[str]] = {}
    for node in sorted(fixed, key=_node_order):
        nets.setdefault(look.off.net_of(node), []).append(node)
    how = [DEAD_FIRST, "Everything stays plugged in."]
    tables = []
    for nodes in nets.values():
        if len(nodes) > 1:
            name = net_name(built, nodes)
            rows = tuple(look.conducting(nodes))
            tables.append(
                RingOutTable(
                    subject=name,
                    title=f"Net {name}",
                    how=tuple(how),
                    contacts=tuple(shown(node) for node in nodes),
                    rows=rows,
                    others="Contacts of other nets: see what lies between nets.",
                )
            )
    firsts = [nodes[0] for nodes in nets.values()]
    between = look.table("between nets", "Between nets", how, firsts)
    return (*tables, replace(between, contacts=tuple(map(shown, fixed)), rows=tuple(look.each_load())))


def ring_out_of_net(contact: str, tables: Sequence[RingOutTable], off: PowerOff) -> RingOutTable:
    """The net of a fixed contact (``A1-J3.2``) by itself: what conducts to it, and what lies between it and other nets.

    ``tables`` are those of ``ring_out_of_nets``, ``off`` is the whole machine with its power off.
    """
    mine = shown(contact)
    whole = next((one for one in tables[:-1] if mine in one.contacts), None)
    contacts = whole.contacts if whole is not None else (mine,)
    loads = tuple(row for row in tables[-1].rows if row.start in contacts or row.end in contacts)
    blank = tuple(_behind(off, off.net_of(contact)))
    return RingOutTable(
        subject=whole.subject if whole is not None else mine,
        title=whole.title if whole is not None else f"Net {mine}",
        how=tables[-1].how,
        contacts=contacts,
        rows=(*(whole.rows if whole is not None else ()), *loads),
        others=f"All contacts of other nets open{', but for those of which nothing can be said' if blank else ''}. "
        + JOINED,
        remarks=blank,
    )


def _behind(off: PowerOff, net: str) -> Iterator[str]:
    """What joins a net, or what loads join to it, to other nets without being tested or recorded."""
    group = off.through.get(net, net)
    for reading in (Reading.NOT_TESTED, Reading.NOT_RECORDED):
        apart = [
            edge
            for edge in off.between_nets
            if reading_of(edge) is reading
            and group in (off.through.get(off.net_of(edge.a)), off.through.get(off.net_of(edge.b)))
        ]
        names = dict.fromkeys(_name_of(edge) for edge in sorted(apart, key=lambda one: natural(one.by)))
        if names:
            what = f"{', '.join(names)} ({reading.value})"
            yield f"Nothing can be said of what lies behind {what}. Write down what you read."


def net_name(built: Built, nodes: Sequence[str]) -> str:
    """What a net is called: the signal on it, else its supply, ``0 V``, ``PE``, with a contact; else its contact."""
    contacts = [contact_of(node) for node in nodes]
    for name, signal in built.signals.items():
        named = {str(one) for one in (signal.from_, *(signal.to or ())) if one is not None}
        if named & set(contacts):
            return f"{signal.name or name} ({shown(contacts[0])})"
    for contact in contacts:
        role = role_of(built, contact)
        if role not in ("", "in", "out", "in/out", EMPTY):
            return f"{role} ({shown(contact)})"
    return shown(contacts[0])


def sheet_of(table: RingOutTable) -> Table:
    """The continuity sheet: the same rows with room to write the reading and who read it."""
    rows = [(row.start, row.end, row.reading, row.expected.words, TO_WRITE_ON, TO_WRITE_ON) for row in table.rows]
    rows.append(("all other pairs", "of these contacts", "", table.others, TO_WRITE_ON, TO_WRITE_ON))
    return Table(
        caption=table.title,
        headers=("From", "To", "Must", "Expected", "Read", "Date, by"),
        rows=tuple(tuple(cell or "–" for cell in row) for row in rows),
    )


def head_of_sheet() -> tuple[str, ...]:
    """What stands above every ring-out table: what a beep proves and what it does not."""
    return beep_words()


class _Look:
    """Builds tables from one power-off state."""

    def __init__(self, built: Built, off: PowerOff, same_within: float) -> None:
        self.built, self.off, self.same_within = built, off, same_within

    def table(self, subject: str, title: str, how: Sequence[str], nodes: Sequence[str]) -> RingOutTable:
        blank = self._not_said(nodes)
        return RingOutTable(
            subject=subject,
            title=title,
            how=tuple(how),
            contacts=tuple(shown(contact_of(node)) for node in nodes),
            rows=(*self.conducting(nodes), *self._loads(nodes)),
            others=self._others(nodes, blank),
            remarks=blank,
        )

    def conducting(self, nodes: Sequence[str]) -> Iterator[RingOutRow]:
        """On each net, a row from its first contact to each other one."""
        first: dict[str, str] = {}
        for node in nodes:
            start = first.setdefault(self.off.net_of(node), node)
            if start != node:
                path = self.off.path(start, node)
                alone = self.off.is_only_path(node)
                expected = expected_along(self.built, path, alone=alone, same_within=self.same_within)
                yield self._row(start, node, Reading.CONDUCTS, path, expected)

    def _loads(self, nodes: Sequence[str]) -> Iterator[RingOutRow]:
        """Through loads, a row from the first net of those they join to each other one."""
        nets = dict.fromkeys(self.off.net_of(node) for node in nodes)
        contact = {net: next(node for node in nodes if self.off.net_of(node) == net) for net in nets}
        first: dict[str, str] = {}
        for net in nets:
            start = first.setdefault(self.off.through.get(net, net), net)
            if start != net:
                loads, alone = self.off.load_path(start, net)
                path = self._whole_path(contact[start], loads, contact[net])
                expected = expected_along(self.built, path, alone=alone, same_within=self.same_within)
                yield self._row(contact[start], contact[net], Reading.LOAD, path, expected)

    def each_load(self) -> Iterator[RingOutRow]:
        """Every load between two nets, at its own contacts."""
        for edge in sorted(self.off.between_nets, key=lambda one: (_node_order(one.a), _node_order(one.b))):
            if reading_of(edge) is Reading.LOAD:
                alone = self.off.is_alone(edge)
                expected = expected_along(self.built, (edge,), alone=alone, same_within=self.same_within)
                yield self._row(edge.a, edge.b, Reading.LOAD, (edge,), expected)

    def _whole_path(self, start: str, loads: Sequence[Edge], end: str) -> tuple[Edge, ...]:
        """The loads with the conducting ways to, between and from them."""
        path: list[Edge] = []
        at = start
        for load in loads:
            near, far = (load.a, load.b) if self.off.net_of(load.a) == self.off.net_of(at) else (load.b, load.a)
            path += [*self.off.path(at, near), load]
            at = far
        return (*path, *self.off.path(at, end))

    def _row(self, start: str, end: str, reading: Reading, path: Sequence[Edge], expected: Expected) -> RingOutRow:
        names = dict.fromkeys(name for edge in path if (name := _name_of(edge)))
        return RingOutRow(
            start=shown(contact_of(start)),
            end=shown(contact_of(end)),
            reading=reading.value,
            by=", ".join(names),
            expected=expected,
        )

    def _not_said(self, nodes: Sequence[str]) -> tuple[str, ...]:
        """What may join contacts without being tested or recorded, one sentence each."""
        groups: dict[str, dict[str, list[str]]] = {}
        for node in nodes:
            net = self.off.net_of(node)
            apart = self.off.through.get(net, net)
            groups.setdefault(self.off.perhaps.get(net, net), {}).setdefault(apart, []).append(node)
        return tuple(self._sentence(group, parts) for group, parts in groups.items() if len(parts) > 1)

    def _sentence(self, group: str, parts: Mapping[str, Sequence[str]]) -> str:
        edges = [edge for edge in self.off.between_nets if self.off.perhaps[self.off.net_of(edge.a)] == group]
        said = []
        for reading in (Reading.NOT_TESTED, Reading.NOT_RECORDED):
            names = dict.fromkeys(_name_of(edge) for edge in edges if reading_of(edge) is reading)
            said += [f"{', '.join(names)} ({reading.value})"] if names else []
        among = [shown(contact_of(node)) for nodes in parts.values() for node in nodes]
        return f"Nothing can be said among {', '.join(among)}: {'; '.join(said)}. Write down what you read."

    def _others(self, nodes: Sequence[str], blank: Sequence[str]) -> str:
        if not nodes:
            return "No contact is recorded: which pairs conduct cannot be said."
        return f"All other pairs open{', but for those of which nothing can be said' if blank else ''}. {JOINED}"


def _name_of(edge: Edge) -> str:
    """What an edge is called in a table; a mated connector and a landed lead are left out."""
    if edge.kind in (Kind.MATED, Kind.LANDED):
        return ""
    if edge.kind is Kind.WIRE:
        return edge.by
    if edge.kind is Kind.WIRES_NOT_RECORDED:
        return f"wires of {edge.by}"
    if edge.kind is Kind.INSIDE_NOT_RECORDED:
        return f"inside of {edge.by}"
    if edge.kind is Kind.COPPER:
        return f"copper in {edge.by}"
    label = edge.join.label if edge.join is not None else None
    return f"{edge.kind.value} {edge.by}" + (f" ({label})" if label else "")


def _node_order(node: str) -> tuple[object, ...]:
    return (natural(contact_of(node)), node)
