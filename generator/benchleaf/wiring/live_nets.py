"""The live nets of one state, surest first, each with where to prove it dead or what is missing.

A page shows the first few and counts the rest: directly from a supply, then through loads, then what nobody recorded.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from benchleaf.frozen import dataclass
from benchleaf.wiring.conduction import How
from benchleaf.wiring.contacts import contact_of, natural, shown
from benchleaf.wiring.nets import Net, label_of
from benchleaf.wiring.still_live import Live, LiveMap, rank
from benchleaf.wiring.wiring import STORED, UNRECORDED, Wiring

NO_POINT = "no point to prove it dead is recorded: it counts as live"


@dataclass(frozen=True, slots=True, kw_only=True)
class ProofPoint:
    """Where an energy is proved dead: the two contacts, what must be read, and with what."""

    energy: str
    between: tuple[str, str]
    expect: str
    meter: str

    @property
    def words(self) -> str:
        """``between A9-J1:1 and A9-J1:2: below 1 V DC, with multimeter``."""
        with_ = f", with {self.meter}" if self.meter else ""
        return f"between {shown(self.between[0])} and {shown(self.between[1])}: {self.expect}{with_}"


@dataclass(frozen=True, slots=True, kw_only=True)
class LiveNet:
    """A net of which some contact can be live. ``loose`` are nodes in it that hang free; ``gap`` is empty where a point
    to prove it dead is recorded."""

    net: Net
    label: str
    how: How
    ways: tuple[Live, ...]
    surely_from: tuple[str, ...]
    """What is behind the surest ways: sources from outside, stored charge, what nobody recorded."""
    behind: tuple[str, ...]
    """What is behind any way."""
    contacts: tuple[str, ...]
    loose: tuple[str, ...]
    proofs: tuple[ProofPoint, ...]

    @property
    def gap(self) -> str:
        return "" if self.proofs else NO_POINT


def live_nets(live: LiveMap) -> tuple[LiveNet, ...]:
    """Every net with a live contact, surest first."""
    wiring = live.wiring
    found: dict[str, tuple[Net, list[str]]] = {}
    for node in live.nodes:
        net = wiring.net_of[node]
        found.setdefault(net.name, (net, []))[1].append(node)
    proofs = proof_points(wiring)
    made = [_live_net(live, net, nodes, proofs) for net, nodes in found.values()]
    return tuple(sorted(made, key=_order))


def _order(one: LiveNet) -> tuple[object, ...]:
    return (min(rank(name)[0] for name in one.surely_from), one.how, -len(one.contacts), natural(one.net.name))


def _live_net(live: LiveMap, net: Net, nodes: list[str], proofs: Mapping[str, tuple[ProofPoint, ...]]) -> LiveNet:
    ways: dict[str, Live] = {}
    for node in nodes:
        for way in live.ways(node):
            if way.source not in ways or way.how < ways[way.source].how:
                ways[way.source] = way
    surest = min(way.how for way in ways.values())
    behind: dict[str, None] = {}
    surely: dict[str, None] = {}
    for way in ways.values():
        roots = dict.fromkeys(live.behind(way.source))
        behind.update(roots)
        if way.how is surest:
            surely.update(roots)
    return LiveNet(
        net=net,
        label=label_of(live.wiring.built, net),
        how=surest,
        ways=tuple(sorted(ways.values(), key=lambda way: (way.how, rank(way.source)))),
        surely_from=tuple(sorted(surely, key=rank)),
        behind=tuple(sorted(behind, key=rank)),
        contacts=tuple(sorted({contact_of(node) for node in nodes}, key=natural)),
        loose=tuple(node for node in nodes if node in live.loose),
        proofs=proofs.get(net.name, ()),
    )


def proof_points(wiring: Wiring) -> Mapping[str, tuple[ProofPoint, ...]]:
    """Net → the recorded points at which it is proved dead, by name of the net."""
    found: dict[str, dict[ProofPoint, None]] = {}
    for name, energy in wiring.built.energy.items():
        for proof in energy.prove_dead or ():
            if proof.between is None:
                continue
            expect = proof.expect.tidy if proof.expect is not None else "what must be read is not recorded"
            one, two = str(proof.between[0]), str(proof.between[1])
            point = ProofPoint(energy=name, between=(one, two), expect=expect, meter=str(proof.meter or ""))
            for contact in (one, two):
                if contact in wiring.net_of:
                    found.setdefault(wiring.net_of[contact].name, {})[point] = None
    return {net: tuple(points) for net, points in found.items()}


def words_of_source(wiring: Wiring, name: str) -> str:
    """What puts a voltage on something, in words: ``mains (230 V AC)``, ``charge stored in PS1``."""
    built = wiring.built
    if name.startswith(STORED):
        energy, _, number = name.removeprefix(STORED).rpartition(":")
        if number == "?":
            return f"charge that may stay after {energy} is isolated (not recorded)"
        store = (built.energy[energy].stored or ())[int(number)]
        return f"charge stored in {store.in_.item if store.in_ is not None else 'something'} ({energy})"
    if name.startswith(UNRECORDED):
        owner = name.removeprefix(UNRECORDED)
        if owner.startswith("energy "):
            return f"{owner.removeprefix('energy ')}, of which no source is recorded"
        return f"whatever is plugged in or landed at {owner} (not recorded)"
    source = built.sources.get(name)
    said = str(source.name) if source is not None and source.name else name
    return f"{said} ({source.nominal.tidy})" if source is not None and source.nominal is not None else said


def kind_of_source(wiring: Wiring, name: str) -> str:
    """``AC``, ``DC`` or empty where the source does not say."""
    source = wiring.built.sources.get(name)
    return str(source.nominal.kind) if source is not None and source.nominal is not None else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnionNet:
    """A net over several configurations: live in those of ``on``, by every way of any of them."""

    name: str
    label: str
    how: How
    sources: tuple[str, ...]
    surely_from: tuple[str, ...]
    behind: tuple[str, ...]
    contacts: tuple[str, ...]
    loose: tuple[str, ...]
    proofs: tuple[ProofPoint, ...]
    gaps_on: tuple[str, ...]
    """The configurations in which no point to prove it dead is recorded."""
    on: tuple[str, ...]


def union_of(by_configuration: Mapping[str, Iterable[LiveNet]]) -> tuple[UnionNet, ...]:
    """The live nets of several configurations (label → its live nets) put together: live in one is live."""
    found: dict[str, list[tuple[str, LiveNet]]] = {}
    for label, nets in by_configuration.items():
        for one in nets:
            found.setdefault(one.net.name, []).append((label, one))
    made = [_union(name, many) for name, many in found.items()]
    return tuple(
        sorted(made, key=lambda u: (min(rank(b)[0] for b in u.surely_from), u.how, -len(u.contacts), natural(u.name)))
    )


def _union(name: str, many: list[tuple[str, LiveNet]]) -> UnionNet:
    nets = [one for _, one in many]

    def all_of(parts: Iterable[Iterable[str]]) -> list[str]:
        return list(dict.fromkeys(one for part in parts for one in part))

    surest = min(one.how for one in nets)
    return UnionNet(
        name=name,
        label=max((one.label for one in nets), key=len),
        how=surest,
        sources=tuple(all_of((way.source for way in one.ways) for one in nets)),
        surely_from=tuple(sorted(all_of(one.surely_from for one in nets if one.how is surest), key=rank)),
        behind=tuple(sorted(all_of(one.behind for one in nets), key=rank)),
        contacts=tuple(sorted(all_of(one.contacts for one in nets), key=natural)),
        loose=tuple(sorted(all_of(one.loose for one in nets), key=natural)),
        proofs=tuple(dict.fromkeys(point for one in nets for point in one.proofs)),
        gaps_on=tuple(label for label, one in many if one.gap),
        on=tuple(label for label, _ in many),
    )
