"""All that is known of the connectors of a machine as built, each thing worked out once: for pages, paper and commands.

A procedure's part holds what belongs together: the order of opening, the swap table, labels whose marks follow from it,
and the pictures to take. Numbers and marks are the same on every page because they come from here.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from benchleaf.built import Built
from benchleaf.connectors.carried import Contacts
from benchleaf.connectors.diagrams import diagram_of
from benchleaf.connectors.faces import face_of, fixed_form
from benchleaf.connectors.labels import CableLabel, EndLabel, cables_in_order, labels_of
from benchleaf.connectors.openings import Openings, openings_of
from benchleaf.connectors.power_off import PowerOff
from benchleaf.connectors.ring_out import RingOutTable, ring_out_of_cable, ring_out_of_net, ring_out_of_nets
from benchleaf.connectors.shots import Shot, shots_of
from benchleaf.connectors.swaps import Pair, SwapBook, SwapTable
from benchleaf.derived import Derived
from benchleaf.drawings.face_values import Face, Half
from benchleaf.drawings.interconnection import Diagram
from benchleaf.frozen import dataclass
from benchleaf.records.teardown import TeardownRecord
from benchleaf.values.recorded import same_within

NO_SWAP = "No other end that takes this plug is open at the same time, as recorded."


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenEnd:
    """An end that a step opens (``verb`` ``unplug``) or plugs (``plug``).

    ``on_cable`` and ``fixed`` are the faces of its two halves, each on its mating side; ``label``, ``end_label`` what
    its cable and this end of it bear; ``pairs`` its swaps, worst first.
    """

    verb: str
    connector: str
    cable: str
    on_cable: Face
    fixed: Face
    label: CableLabel | None
    end_label: EndLabel | None
    pairs: tuple[Pair, ...]

    @property
    def swap_words(self) -> str:
        """The worst swap in one sentence; never empty."""
        if not self.pairs:
            return NO_SWAP
        more = len(self.pairs) - 1
        return self.pairs[0].warning + (f" {more} more in the swap table." if more else "")


@dataclass(frozen=True, slots=True, kw_only=True)
class ProcedureConnectors:
    """What a procedure does with connectors on one machine as built. ``labels`` by cable, in order of opening."""

    opened: Openings
    swaps: SwapTable
    labels: Mapping[str, CableLabel]
    shots: tuple[Shot, ...]


class ConnectorBook:
    """The connectors of a machine as built. ``within`` is the shop's band of a value without tolerance, as a share."""

    def __init__(self, built: Built, within: float = 0.1) -> None:
        self.built, self.within = built, within
        self.contacts = Contacts(built)
        self.graph = self.contacts.graph
        self._procedures: dict[str, ProcedureConnectors] = {}

    @cached_property
    def _swap_book(self) -> SwapBook:
        return SwapBook(self.built, self.contacts)

    @cached_property
    def swaps(self) -> SwapTable:
        """Every pair of the machine, whatever is open."""
        return self._swap_book.of_machine()

    @cached_property
    def labels(self) -> Mapping[str, CableLabel]:
        """Labels for every cable with a plug, numbered by designation, for work without a procedure."""
        made = labels_of(self.built, cables_in_order(self.built, None), self.swaps.pairs)
        return {label.cable: label for label in made}

    def of_procedure(self, procedure: TeardownRecord) -> ProcedureConnectors:
        """Order of opening, swaps, labels and pictures of a procedure, its conditions included."""
        name = str(procedure.id)
        if name not in self._procedures:
            opened = openings_of(self.built, procedure)
            swaps = self._swap_book.of_procedure(procedure)
            made = labels_of(self.built, cables_in_order(self.built, opened), swaps.pairs, opened)
            labels = {label.cable: label for label in made}
            shots = shots_of(self.built, opened, swaps, labels)
            self._procedures[name] = ProcedureConnectors(opened=opened, swaps=swaps, labels=labels, shots=shots)
        return self._procedures[name]

    def open_ends_of_step(self, procedure: TeardownRecord, number: int) -> tuple[OpenEnd, ...]:
        """The ends that step ``number`` (from 1, as recorded) opens or plugs, in its order, each verb once."""
        work = self.of_procedure(procedure)
        mine = [
            (event.verb, event.cable, event.connector)
            for event in work.opened.events
            if event.step.procedure == procedure.id and event.step.number == number
        ]
        ends = dict.fromkeys(one for one in mine if one[0] in ("unplug", "plug") and one[2] in self.built.connectors)
        return tuple(self._open_end(work, *one) for one in ends)

    def _open_end(self, work: ProcedureConnectors, verb: str, cable: str, connector: str) -> OpenEnd:
        label = work.labels.get(cable)
        fixed = fixed_form(self.built.connectors[connector])
        loose: Half = "receptacle" if fixed == "plug" else "plug"
        return OpenEnd(
            verb=verb,
            connector=connector,
            cable=cable,
            on_cable=face_of(self.built, connector, loose, graph=self.graph, label=label),
            fixed=face_of(self.built, connector, fixed, graph=self.graph, label=label),
            label=label,
            end_label=label.end(connector) if label is not None else None,
            pairs=work.swaps.pairs_of(connector),
        )

    def diagram(self, procedure: TeardownRecord | None = None) -> Diagram:
        """The interconnection diagram of the machine, or of what a procedure opens with its labels."""
        labels = self.of_procedure(procedure).labels if procedure is not None else None
        return diagram_of(self.built, procedure, graph=self.graph, labels=labels)

    def ring_out(self, cable: str) -> RingOutTable:
        """The ring-out table of a cable; raises ``KeyError`` for one the machine has not."""
        return ring_out_of_cable(self.built, cable, self.graph, same_within=self.within)

    @cached_property
    def nets(self) -> tuple[RingOutTable, ...]:
        """The ring-out tables of all nets, and of what lies between them."""
        return ring_out_of_nets(self.built, self.graph, same_within=self.within)

    @cached_property
    def _power_off(self) -> PowerOff:
        return PowerOff(self.graph.edges)

    def net_ring_out(self, contact: str) -> RingOutTable:
        """The ring-out of the net of a fixed contact (``A1-J3.2``), everything plugged in."""
        return ring_out_of_net(contact, self.nets, self._power_off)


def connector_book(derived: Derived, built: Built) -> ConnectorBook:
    """The book of a machine as built, made at the first call."""
    key = ("connectors", str(built.machine.id), built.configuration)
    return derived.remember(key, lambda: ConnectorBook(built, same_within(derived.library.shop)))
