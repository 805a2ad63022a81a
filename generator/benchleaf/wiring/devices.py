"""The isolating devices of a machine, and what each really opens as recorded: its own poles and nothing else.

An interlock, an emergency stop, a control switch, a relay and software isolate nothing (29 CFR 1910.147(b), "energy
isolating device"): a record that names one is refused, and everything behind it counts as live. A device of which no
pole is recorded opens nothing either.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from benchleaf.built import Built
from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass
from benchleaf.records.energy import Isolator
from benchleaf.wiring.conduction import BY_HAND
from benchleaf.wiring.graph import Edge, Graph, Kind

ELECTRICAL = "electrical"
_NO_DEVICE = re.compile(r"\b(emergency|e-?stop|interlock\w*|software|firmware|program(?:me)?)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Device:
    """One device of an energy's ``isolate``: ``key`` names it and its poles (``Q1``, ``Q1.1+2``).

    ``opens`` are numbers of edges; ``pulls`` the items and connectors whose own plug leaves its supply; ``blocks`` the
    sources it keeps from being turned. ``refused`` and ``problem`` say in words why it isolates nothing as recorded.
    """

    key: str
    verb: str
    item: str
    energies: tuple[str, ...]
    place: Place
    opens: frozenset[int] = frozenset()
    pulls: frozenset[str] = frozenset()
    blocks: frozenset[str] = frozenset()
    refused: str = ""
    problem: str = ""

    @property
    def words(self) -> str:
        """``unplug XP1``."""
        return f"{self.verb} {self.key}"

    @property
    def isolates(self) -> bool:
        """Whether it isolates anything electrical as recorded."""
        return bool(self.opens or self.pulls or self.blocks)


def devices_of(built: Built, graph: Graph) -> tuple[Device, ...]:
    """Every device that some energy names, each once, in the order of the records."""
    found: dict[tuple[str, str], tuple[Isolator, list[str]]] = {}
    for name, energy in built.energy.items():
        for one in energy.isolate or ():
            known = found.setdefault((one.verb, key_of(one)), (one, []))
            if name not in known[1]:
                known[1].append(name)
    return tuple(_device(built, graph, one, tuple(energies)) for one, energies in found.values())


def key_of(isolator: Isolator) -> str:
    """``Q1``, or ``Q1.1+2`` where poles are named."""
    poles = "+".join(isolator.poles)
    return f"{isolator.device}.{poles}" if poles else str(isolator.device)


def _device(built: Built, graph: Graph, one: Isolator, energies: tuple[str, ...]) -> Device:
    item = str(one.device.item)
    bare = Device(key=key_of(one), verb=one.verb, item=item, energies=energies, place=one.device.place)

    if one.device.machine or item not in built.items:
        return replace(bare, problem="it is no item of this machine as built")
    if one.verb in ("open", "close"):
        refused = refusal(built, item, one.poles)
        if refused:
            return replace(bare, refused=refused)
    electrical = [name for name in energies if built.energy[name].kind == ELECTRICAL]
    if one.verb == "open":
        opened = _poles(built, graph, item, one.poles)
        if not opened and electrical:
            named = f" {' and '.join(one.poles)}" if one.poles else ""
            problem = f"no pole{named} of {item} that it could open is recorded (a switch between two contacts)"
            return replace(bare, problem=problem)
        return replace(bare, opens=opened)
    if one.verb == "unplug":
        return _unplugging(built, graph, bare, one, bool(electrical))
    if one.verb == "block":
        return replace(bare, blocks=frozenset(name for name in electrical if _is_made_here(built, name)))
    return replace(bare, problem=f"to {one.verb} something opens no electrical pole" if electrical else "")


def refusal(built: Built, item: str, poles: tuple[str, ...] = ()) -> str:
    """Why an item is no energy-isolating device; empty when nothing speaks against it."""
    record = built.items[item]
    word = _NO_DEVICE.search(record.name or "")
    if word is not None:
        return f"{item} is called '{record.name}', and that is no isolating device"
    joins = built.joins.get(item, ())
    if any(join.kind == "relay" for join in joins):
        return f"{item} is a relay: what pulls it in or lets it drop is no isolating device"
    switches = [join for join in joins if join.kind == "switch"]
    made = {str(signal.from_): name for name, signal in built.signals.items() if signal.from_ is not None}
    here = [name for contact, name in made.items() if built.item_of_contact(contact) == item]
    if here and all(any(str(c) in made for c in join.between) for join in switches):
        return f"{item} makes the signal '{here[0]}': a control switch or interlock is no isolating device"
    if not switches and any(join.kind == "driver" for join in joins):
        return f"{item} switches by electronics or software"
    return ""


def _poles(built: Built, graph: Graph, item: str, poles: tuple[str, ...]) -> frozenset[int]:
    """The edges of the switch poles it opens: of two contacts each, those named where poles are named, no signal's."""
    signals = {str(signal.from_) for signal in built.signals.values()}
    found = set()
    for number, edge in _edges(graph, item, Kind.SWITCH):
        own = {own_name(item, edge.a), own_name(item, edge.b)}
        plain = edge.join is not None and len(edge.join.between) == 2 and not {edge.a, edge.b} & signals
        if plain and (not poles or own <= set(poles)):
            found.add(number)
    return frozenset(found)


def own_name(item: str, contact: str) -> str:
    """A contact as written under its item: ``1`` of ``Q1.1``, ``J1.1`` of ``Q1-J1.1``."""
    return contact[len(item) + 1 :] if contact.startswith((f"{item}.", f"{item}-")) else contact


def _edges(graph: Graph, item: str, kind: Kind) -> Iterator[tuple[int, Edge]]:
    return ((n, edge) for n, edge in enumerate(graph.edges) if edge.kind is kind and edge.by == item)


def _unplugging(built: Built, graph: Graph, bare: Device, one: Isolator, electrical: bool) -> Device:
    """Pulling a plug: the item itself where a source stands at it, a named connector, or the only one with a cable."""
    item = bare.item
    of_sources = {str(contact).partition(".")[0] for s in built.sources.values() if s.from_ is None for contact in s.at}
    here = built.connectors_of.get(item, ())
    if one.poles:
        named = [f"{item}-{pole}" for pole in one.poles]
        strange = [name for name in named if name not in built.connectors]
        if strange:
            return replace(bare, problem=f"{strange[0]} is no connector of {item}")
    else:
        named = [name for name in here if name in of_sources and name not in built.cables_at]
        if item in of_sources:
            return replace(bare, pulls=frozenset({item, *named}))
        if not named:
            named = [name for name in here if name in built.cables_at]
            if len(named) != 1:
                why = "no source and no plug of it is recorded" if not named else "which of its plugs is not recorded"
                return replace(bare, problem=f"{why}: name it, `unplug {item}.J1`" if electrical else "")
    pulls = frozenset(name for name in named if name not in built.cables_at)
    opens = frozenset(n for n, edge in enumerate(graph.edges) if edge.kind in BY_HAND and edge.by in set(named))
    return replace(bare, pulls=pulls, opens=opens)


def _is_made_here(built: Built, name: str) -> bool:
    """Whether an energy is a source that turning or moving makes: nothing but blocking is recorded to isolate it."""
    source = built.sources.get(name)
    ways = {one.verb for one in built.energy[name].isolate or ()}
    return source is not None and source.from_ is None and ways == {"block"}
