"""What stays stored when an energy is isolated, and what to do about it: for the energy sheet and for every procedure.

A waiting time is given only while recorded copper, and nothing else, joins the charge to its bleed resistor: in this
configuration, with these ends open. A fuse, switch, relay, diode or board between them ends the path, and so does a
step that opens it.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable
from functools import cache

from benchleaf.built import Built
from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass
from benchleaf.records.energy import Bleed, Energy, Store
from benchleaf.records.shared import ShopRecord
from benchleaf.refs import ContactRef
from benchleaf.values.bleed_down import BleedDown, Path, StoredCharge, bleed_down
from benchleaf.values.observations import Observation
from benchleaf.values.origin import Origin, Recorded
from benchleaf.values.quantity import Dimension, Quantity
from benchleaf.values.recorded import highest, origin_in
from benchleaf.wiring.graph import COPPER, Graph, Kind, make_graph

Wires = Callable[[], Graph]
OpenEnds = frozenset[tuple[str, str]]
"""(cable, place) of every end that is open, as in `benchleaf.wiring.still_live.live_map`."""
_OPENED_BY_HAND = (Kind.MATED, Kind.LANDED)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stored:
    """One store of one energy. ``result`` says what to do and always ends in the measurement.

    ``holds_while`` names the ends that have to stay closed for the waiting time to hold, empty where nothing that can
    be opened lies in the path.
    """

    energy: str
    item: str
    place: Place
    store: Store
    charge: StoredCharge
    result: BleedDown
    holds_while: tuple[str, ...] = ()

    @property
    def lines(self) -> tuple[str, ...]:
        """Everything for a page, the sentence to act on last."""
        ends = " and ".join(self.holds_while)
        are = "is" if len(self.holds_while) == 1 else "are"
        return (*((f"the time holds only while {ends} {are} closed",) if ends else ()), *self.result.lines)


def stored_of_energy(
    built: Built,
    energy: str,
    shop: ShopRecord,
    *,
    graph: Graph | None = None,
    open_ends: Iterable[tuple[str, str]] = (),
) -> tuple[Stored, ...]:
    """Every store recorded under an energy of a machine as built, in the order written.

    ``graph`` is ``make_graph(built)`` where the caller has it; ``open_ends`` as in ``live_map``. Where nothing is
    recorded under ``stored`` the result is empty: ask `not_recorded` what that means.
    """
    record = built.energy[energy]
    stores = [one for one in record.stored or () if one.in_ is not None and one.in_.item in built.items]
    if not stores:
        return ()

    @cache
    def wires() -> Graph:
        return graph if graph is not None else make_graph(built)

    return tuple(_stored(built, energy, record, one, shop, wires, frozenset(open_ends)) for one in stores)


def not_recorded(built: Built, energy: str) -> str:
    """What to say where nobody recorded whether charge stays; empty when the record says so or is not electrical."""
    record = built.energy[energy]
    if record.kind != "electrical" or record.stored is not None:
        return ""
    name = record.name or energy
    return f"whether {name} leaves charge behind is not recorded: it counts as charged; discharge and measure"


def _stored(
    built: Built, energy: str, record: Energy, store: Store, shop: ShopRecord, wires: Wires, open_ends: OpenEnds
) -> Stored:
    assert store.in_ is not None
    item = str(store.in_.item)
    path, ends = bleed_path(wires, store, open_ends)
    seen = {
        "capacitance": highest(store.capacitance),
        "voltage": highest(store.voltage),
        "resistance": highest(store.bleed.resistance) if isinstance(store.bleed, Bleed) else None,
    }
    limit = record.limit
    if limit is not None and (limit.dimension is not Dimension.VOLTAGE or limit.kind == "AC"):  # a charge is DC
        limit = None
    limit_origin = Recorded(limit.tidy, record.place_of("limit")) if limit is not None else None
    origins: dict[str, Origin | None] = {key: origin_in(one, shop) for key, one in seen.items()}
    charge = StoredCharge(
        name=f"{item} {built.items[item].name}",
        capacitance=_quantity(seen["capacitance"]),
        voltage=_quantity(seen["voltage"]),
        resistance=_quantity(seen["resistance"]),
        path=path,
        kind="" if store.kind in (None, "capacitor") else str(store.kind),
        discharge=_phrase(store.discharge),
        measure_at=" and ".join(ContactRef(one).shown for one in store.between or ()),
        origins={k: o for k, o in {**origins, "limit": limit_origin}.items() if o is not None},
    )
    return Stored(
        energy=energy,
        item=item,
        place=store.place,
        store=store,
        charge=charge,
        result=bleed_down(charge, limit),
        holds_while=ends,
    )


def _quantity(one: Observation | None) -> Quantity | None:
    return one.quantity if one is not None else None


def _phrase(text: str | None) -> str:
    """An author's sentence as the middle of one: ``Hold the probe …`` → ``hold the probe …``."""
    if not text:
        return ""
    first = text.split()[0]
    return text if first.isupper() or any(c.isdigit() for c in first) else text[0].lower() + text[1:]


def bleed_path(wires: Wires, store: Store, open_ends: OpenEnds = frozenset()) -> tuple[Path, tuple[str, ...]]:
    """What is known of the way from the charge to its resistor, and the ends that have to stay closed for it.

    ``wires()`` gives the machine's graph; it is asked only where the resistor is not at the contacts of the charge.
    """
    bleed = store.bleed
    if bleed is None:
        return Path.NOT_RECORDED, ()
    if not isinstance(bleed, Bleed):
        return Path.NONE, ()
    if store.between is None or bleed.between is None:
        return Path.NOT_RECORDED, ()
    here, there = [str(one) for one in store.between], [str(one) for one in bleed.between]
    for ends in (there, there[::-1]):
        ways = [() if a == b else _copper(wires(), a, b, open_ends) for a, b in zip(here, ends, strict=True)]
        if all(way is not None for way in ways):
            return Path.COPPER, tuple(dict.fromkeys(end for way in ways for end in way or ()))
    return Path.INTERRUPTIBLE, ()


def _copper(graph: Graph, start: str, goal: str, open_ends: OpenEnds) -> tuple[str, ...] | None:
    """The ends that can be opened on the shortest way of recorded copper; ``None`` when there is no such way."""
    if start not in graph.at or goal not in graph.at:
        return None
    before: dict[str, tuple[str, int]] = {}
    waiting = deque([start])
    while waiting:
        node = waiting.popleft()
        for number in graph.at[node]:
            edge = graph.edges[number]
            other = edge.other(node)
            is_open = edge.kind in _OPENED_BY_HAND and (edge.a.partition("@")[0], edge.by) in open_ends
            if edge.kind in COPPER and not is_open and other != start and other not in before:
                before[other] = (node, number)
                waiting.append(other)
    if goal not in before:
        return None
    ends = []
    at = goal
    while at != start:
        at, number = before[at]
        edge = graph.edges[number]
        if edge.kind in _OPENED_BY_HAND:
            ends.append(f"{edge.a.partition('@')[0]} at {edge.by}")
    return tuple(reversed(ends))
