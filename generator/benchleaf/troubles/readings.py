"""How a measurement of a fault test is taken: what the meter is set to, where each probe goes, what to expect and
where that comes from.

A probe on a plug that stays plugged in goes in from the wire side; on one that was opened for the test, on the mating
side of the half that stays on the machine. What is not recorded is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchleaf import refs
from benchleaf.built import Built
from benchleaf.connectors.ends import cable_at
from benchleaf.connectors.expected_path import expected_along
from benchleaf.connectors.faces import face_of, fixed_form
from benchleaf.connectors.power_off import PowerOff
from benchleaf.drawings.face import places_of
from benchleaf.drawings.face_values import Face, Half, Side
from benchleaf.drawings.face_words import colour_words, side_words
from benchleaf.frozen import dataclass
from benchleaf.records.actions import Action, Measure
from benchleaf.records.codes import FaultTest
from benchleaf.records.observed import Value
from benchleaf.records.wiring import Join
from benchleaf.troubles.openings import Openings
from benchleaf.values.origin import tell
from benchleaf.values.quantity import Dimension, Quantity
from benchleaf.values.recorded import counting, observations_of, origin_in, same_within, standing
from benchleaf.wiring.graph import Graph

NOT_RECORDED = "not recorded"
OPENED = frozenset({"disconnect", "unplug", "disconnect all"})
SETTINGS = {
    Dimension.RESISTANCE: "resistance (Ω)",
    Dimension.CURRENT: "current (A)",
    Dimension.CAPACITANCE: "capacitance (F)",
    Dimension.FREQUENCY: "frequency (Hz)",
    Dimension.TEMPERATURE: "temperature (°C)",
    Dimension.PRESSURE: "pressure",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Probe:
    """Where one probe goes. ``face``: the half seen, from the side the probe comes from; ``None`` where the contact is
    in no connector or nobody recorded one. ``where``, ``role`` and ``wire`` in words, empty = not recorded."""

    contact: str
    owner: str
    face: Face | None = None
    where: str = ""
    role: str = ""
    wire: str = ""

    @property
    def words(self) -> str:
        """``A1-J6:2, wire side – latch up, 2nd from the left, in, WH white``."""
        if self.face is None:
            return self.contact
        where = self.where or f"place {NOT_RECORDED}"
        parts = [self.contact, side_words(self.face), where, self.role, self.wire]
        return ", ".join(part for part in parts if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class Expectation:
    """What a good machine reads, in words, and line by line where that comes from (``recorded``: a file and line)."""

    words: str
    origin: tuple[str, ...] = ()
    file: str = ""
    line: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One measurement. ``meter`` is the instrument in the shop's words; ``setting`` what it is set to."""

    what: str
    meter: str
    setting: str
    probes: tuple[Probe, ...]
    expected: Expectation
    notes: tuple[str, ...] = ()

    @property
    def words(self) -> tuple[str, ...]:
        """The same as lines to follow."""
        lines = [f"Set the {self.meter} to {self.setting}." if self.meter else f"Meter {NOT_RECORDED}: {self.setting}."]
        lines += [f"One probe: {probe.words}." for probe in self.probes[:1]]
        lines += [f"The other: {probe.words}." for probe in self.probes[1:]]
        lines.append(f"Expect {self.expected.words}.")
        return (*lines, *self.notes)


def readings_of(openings: Openings, graph: Graph, test: FaultTest) -> tuple[Reading, ...]:
    """The measurements of a test, in order. ``graph``: the wiring of the machine as built."""
    actions = test.do if isinstance(test.do, tuple) else ()
    opened = frozenset(_opened(openings.built, actions))
    return tuple(_reading(openings, graph, action, opened, test) for action in actions if action.measure is not None)


def _opened(built: Built, actions: Iterable[Action]) -> Iterator[str]:
    for action in actions:
        if action.verb in OPENED:
            target = str(action.target)
            yield from built.connectors_of.get(target, (target,))


def _reading(openings: Openings, graph: Graph, action: Action, opened: frozenset[str], test: FaultTest) -> Reading:
    built, row = openings.built, action.measure
    assert row is not None
    item, _, own = str(row.value or action.target).partition(".")
    value, join = recorded_value(built, item, own)
    between = _between(row, value, join)
    quantity = row.expect or _quantity(value, openings) or _outcome(test)
    expected = _expected(openings, graph, row, value, between, opened)
    notes = [] if between else [f"Between which contacts it is measured is {NOT_RECORDED}."]
    if test.state == "powered":
        notes.append("The machine is live while this is read: clip the probes on before, and keep your hands out.")
    return Reading(
        what=f"{own.replace('-', ' ')} of {openings.words.item(item)}" if own else "",
        meter=openings.words.tool(str(row.with_)) if row.with_ is not None else _meter(openings, quantity),
        setting=_setting(quantity),
        probes=tuple(_probe(built, graph, contact, opened) for contact in between),
        expected=expected,
        notes=tuple(notes),
    )


def recorded_value(built: Built, item: str, own: str) -> tuple[Value | None, Join | None]:
    """A value of an item by its name, and the join it is of where it is one (``cold``, ``resistance``)."""
    entry = built.items.get(item)
    if not own or entry is None:
        return None, None
    if own in entry.values:
        return entry.values[own], None
    for join in built.joins.get(item, ()):
        found = getattr(join, own.replace("-", "_"), None)
        if isinstance(found, Value):
            return found, join
    return None, None


def _between(row: Measure, value: Value | None, join: Join | None) -> tuple[str, ...]:
    found = row.between or (value.between if value is not None else None)
    if found is None and join is not None and len(join.between) == 2:
        return tuple(str(one) for one in join.between)
    return tuple(str(one) for one in found or ())


def _probe(built: Built, graph: Graph, contact: str, opened: frozenset[str]) -> Probe:
    owner, _, own = contact.partition(".")
    shown = refs.ContactRef(contact).shown
    if owner not in built.connectors:
        return Probe(contact=shown, owner=owner)
    fixed = fixed_form(built.connectors[owner])
    mated = bool(cable_at(built, owner)) and owner not in opened
    half: Half = ("plug" if fixed == "receptacle" else "receptacle") if mated else fixed
    side: Side = "wire" if mated else "mating"
    face = face_of(built, owner, half, side, graph=graph)
    where = next((one.where for one in places_of(face) if one.name == own), "") if face.placed else ""
    seen = next((one for one in face.contacts if one.name == own), None)
    return Probe(
        contact=shown, owner=owner, face=face, where=where, role=seen.role if seen is not None else "",
        wire=colour_words(seen.colour) if seen is not None and seen.colour and mated else "",
    )  # fmt: skip


def _quantity(value: Value | None, openings: Openings) -> Quantity | None:
    shown = standing(value, same_within(openings.ways.ground.library.shop)).shown
    return shown[0].quantity if shown else None


def _outcome(test: FaultTest) -> Quantity | None:
    return next((one.when for one in test.outcomes.values() if one.when is not None), None)


def _setting(quantity: Quantity | None) -> str:
    if quantity is None:
        return f"what is measured is {NOT_RECORDED}"
    if quantity.dimension is Dimension.VOLTAGE:
        kind = {"AC": "alternating voltage (V AC)", "DC": "direct voltage (V DC)"}.get(quantity.kind)
        return f"{kind or 'voltage, AC or DC not recorded'}, in a range that covers {_limit(quantity)}"
    name = SETTINGS.get(quantity.dimension, quantity.dimension.value.split(" ", 1)[-1])
    return f"{name}, in a range that covers {_limit(quantity)}"


def _limit(quantity: Quantity) -> str:
    """The number a range has to lie above, as written."""
    return quantity.tidy.removeprefix("below ").removeprefix("above ")


def _meter(openings: Openings, quantity: Quantity | None) -> str:
    """The meter of the shop for what is measured electrically, where nobody named one."""
    electrical = quantity is not None and quantity.dimension in (Dimension.RESISTANCE, Dimension.VOLTAGE)
    stock = openings.ways.ground.library.tools
    if electrical and "multimeter" in stock:
        return openings.words.tool("multimeter")
    return "meter" if electrical else ""


def _expected(
    openings: Openings,
    graph: Graph,
    row: Measure,
    value: Value | None,
    between: tuple[str, ...],
    opened: frozenset[str],
) -> Expectation:
    shop = openings.ways.ground.library.shop
    if row.expect is not None:
        place = row.place_of("expect")
        return Expectation(
            words=row.expect.tidy, origin=(f"recorded at {place.file}:{place.line}",), file=place.file, line=place.line
        )
    if value is not None and observations_of(value):
        seen = standing(value, same_within(shop))
        lines = [line for one in counting(value) if (origin := origin_in(one, shop)) for line in tell(origin)]
        first = next((one.place for one in seen.everyone if one.place is not None), None)
        return Expectation(
            words=seen.text, origin=tuple(lines), file=first.file if first else "", line=first.line if first else 0
        )
    if len(between) == 2:
        return _computed(openings.built, graph, between, opened, same_within(shop))
    return Expectation(words=f"nothing: what a good one reads is {NOT_RECORDED}")


def _computed(
    built: Built, graph: Graph, between: tuple[str, ...], opened: frozenset[str], within: float
) -> Expectation:
    """From the wires and parts between the two contacts, power off, what was opened for the test open."""
    kept = tuple(edge for edge in graph.edges if edge.by not in opened)
    off = PowerOff(kept)
    one, other = between
    if off.net_of(one) != off.net_of(other):
        return Expectation(words=f"nothing: what a good one reads is {NOT_RECORDED}")
    found = expected_along(built, off.path(one, other), alone=off.is_only_path(one), same_within=within)
    return Expectation(words=found.words, origin=tuple(tell(found.origin)) if found.origin is not None else ())
