"""The interconnection diagram of a machine as built, or of what a procedure opens, from the records.

What a conversion added, re-plugged or took out is found by building the same machine without its modifications. The
nets of the diagram are contacts joined by copper: a page follows them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from benchleaf import refs
from benchleaf.built import Built, build
from benchleaf.connectors.cable_words import CableWords
from benchleaf.connectors.labels import CableLabel
from benchleaf.connectors.openings import Openings, openings_of
from benchleaf.connectors.ring_out import net_name
from benchleaf.drawings.diagram_values import ADDED, PARKED, REMOVED, REROUTED
from benchleaf.drawings.interconnection import NOTHING, Box, Bypass, Diagram, Link, Net, interconnection
from benchleaf.records.teardown import TeardownRecord
from benchleaf.records.wiring import Cable
from benchleaf.wiring.contacts import natural, shown
from benchleaf.wiring.graph import COPPER, Graph, Kind, contact_of, make_graph


def diagram_of(
    built: Built,
    procedure: TeardownRecord | None = None,
    *,
    graph: Graph | None = None,
    labels: Mapping[str, CableLabel] | None = None,
) -> Diagram:
    """The diagram of a machine as built, or of the cables a procedure opens and where these end.

    ``graph``: the machine's wiring graph, made here when left out. ``labels``: labels by cable, drawn beside its name.
    """
    graph = graph if graph is not None else make_graph(built)
    opened = openings_of(built, procedure) if procedure is not None else None
    return _Drawn(built, graph, opened, labels or {}).diagram(procedure)


def unmodified(built: Built) -> Built:
    """The same machine as the maker built it."""
    return build(built.machine, replace(built.configuration, modifications=frozenset()))


class _Drawn:
    def __init__(self, built: Built, graph: Graph, opened: Openings | None, labels: Mapping[str, CableLabel]) -> None:
        self.built, self.graph, self.opened, self.labels = built, graph, opened, labels
        self.carried = CableWords(built, graph)
        self.stock = unmodified(built) if built.configuration.modifications else built

    def diagram(self, procedure: TeardownRecord | None) -> Diagram:
        where = f"{self.built.machine.name}, {self.built.configuration.label}"
        title = f"Interconnection: {where}"
        if procedure is not None:
            title = f"What “{procedure.title}” opens: {where}"
        cables = self._cables()
        nets = self._nets(cables)
        links = [self._link(name, cable, change, nets) for name, cable, change in cables]
        bypasses = tuple(self._bypasses())
        boxes = self._boxes(links, bypasses)
        if self.opened is not None:
            drawn = {box.id for box in boxes}
            bypasses = tuple(b for b in bypasses if {_host(b.start), _host(b.end)} <= drawn)
        return interconnection(
            title,
            boxes,
            links,
            bypasses,
            nets=nets,
            nothing=NOTHING if self.opened is None else "No step of this procedure is recorded to open a connector.",
            remarks=self._remarks(),
        )

    def _remarks(self) -> Iterator[str]:
        for _, step in self.opened.unchecked if self.opened is not None else ():
            yield f"Step {step.number} of {step.procedure} does not say what it opens."

    def _cables(self) -> list[tuple[str, Cable, str]]:
        """The cables to draw with what the conversion did to each; of a procedure only those it opens."""
        found = [(name, cable, self._change(name, cable)) for name, cable in self.built.cables.items()]
        found += [(name, cable, REMOVED) for name, cable in self.stock.cables.items() if name not in self.built.cables]
        if self.opened is not None:
            found = [one for one in found if one[0] in self.opened.cables]
        return sorted(found, key=lambda one: natural(one[0]))

    def _change(self, name: str, cable: Cable) -> str:
        before = self.stock.cables.get(name)
        if before is None:
            return ADDED
        return "" if [end.at for end in before.ends] == [end.at for end in cable.ends] else REROUTED

    def _link(self, name: str, cable: Cable, change: str, nets: Sequence[Net]) -> Link:
        ends = tuple(PARKED if end.at.is_parked else str(end.at) for end in cable.ends)
        label = self.labels.get(name)
        spans = [one for one in self.opened.spans if one.cable == name] if self.opened is not None else []
        opened = [one.connector if one.connector in ends else one.connector.partition(".")[0] for one in spans]
        return Link(
            cable=name,
            ends=ends,
            label=", ".join(self.carried.words(name)) if change != REMOVED else str(cable.name or ""),
            kind=str(cable.kind or ""),
            change=change,
            opened=tuple(dict.fromkeys(opened)),
            nets=tuple(net.id for net in nets if name in net.cables),
            mark=f"{label.number} {label.mark.words}" if label is not None else "",
        )

    def _nets(self, cables: Sequence[tuple[str, Cable, str]]) -> tuple[Net, ...]:
        """The nets that run through a drawn cable, in the order of their first contacts."""
        drawn = {name for name, _, _ in cables}
        copper = [edge for edge in self.graph.edges if edge.kind in COPPER]
        roots = self.carried.nets
        contacts: dict[str, dict[str, None]] = {}
        through: dict[str, dict[str, None]] = {}
        for edge in copper:
            for node in (edge.a, edge.b):
                contacts.setdefault(roots[node], {})[contact_of(node)] = None
            if edge.kind is Kind.WIRE and edge.by in drawn:
                through.setdefault(roots[edge.a], {})[edge.by] = None
        found = sorted((sorted(contacts[root], key=natural), sorted(through[root], key=natural)) for root in through)
        found.sort(key=lambda one: natural(one[0][0]))
        return tuple(
            Net(
                id=f"n{number}",
                name=net_name(self.built, names),
                cables=tuple(by),
                contacts=tuple(shown(one) for one in names),
            )
            for number, (names, by) in enumerate(found, 1)
        )

    def _bypasses(self) -> Iterator[Bypass]:
        for one in self.built.substitutions:
            signal = self.built.signals.get(str(one.signal)) or self.stock.signals.get(str(one.signal))
            if signal is None or signal.from_ is None or not signal.to:
                continue
            yield Bypass(
                signal=str(signal.name or one.signal),
                start=str(signal.from_),
                end=str(signal.to[0]),
                by=shown(str(one.by)) if one.by is not None else "",
                asserts=str(one.asserts or ""),
            )

    def _boxes(self, links: Sequence[Link], bypasses: Sequence[Bypass]) -> tuple[Box, ...]:
        """Every item with connectors or cable ends; of a procedure only where its cables end."""
        ends = [end for link in links for end in link.ends if end != PARKED]
        owners = dict.fromkeys(_host(end) for end in ends)
        if self.opened is None:
            owners |= dict.fromkeys(self.built.connectors_of)
            owners |= dict.fromkeys(_host(end) for bypass in bypasses for end in (bypass.start, bypass.end))
        used = {end.partition(".")[0] for end in ends}
        return tuple(self._box(owner, used) for owner in sorted(owners, key=natural))

    def _box(self, owner: str, used: set[str]) -> Box:
        connectors = self.built.connectors_of.get(owner) or self.stock.connectors_of.get(owner, ())
        if self.opened is not None:
            connectors = tuple(name for name in connectors if name in used)
        item = self.built.items.get(owner) or self.stock.items.get(owner)
        cable = self.built.cables.get(owner)
        name = str(item.name) if item is not None else f"on {cable.name or 'this cable'}" if cable is not None else ""
        there = owner in self.built.items or owner in self.built.cables
        before = owner in self.stock.items or owner in self.stock.cables
        return Box(
            id=owner,
            name=name,
            connectors=tuple(connectors),
            added=there and not before,
            removed=before and not there,
        )


def _host(end: str) -> str:
    """The box an end belongs to: ``A1`` of ``A1-J3.7``, ``M1`` of ``M1.2``."""
    owner = end.partition(".")[0]
    return refs.host_of(owner) if refs.is_connector(owner) else owner
