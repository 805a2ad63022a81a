"""Two voltages on one net: what a role says and what a source puts there, two roles, or two sources.

Copper and fuses join the contacts, so they cannot carry different things. One role is a slip, or a wire in the map, or
the two really meet, and then something burns. Measure before you believe either.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.checks.on_machines import on_machines
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place
from benchleaf.frozen import dataclass
from benchleaf.text import Text
from benchleaf.values.quantity import Dimension, Misread, Quantity, conflicts, read_quantity
from benchleaf.wiring.conduction import How
from benchleaf.wiring.contacts import shown
from benchleaf.wiring.graph import Kind
from benchleaf.wiring.nets import Net
from benchleaf.wiring.wiring import Wiring

CODES = ("role-disagrees", "voltages-meet")
BY_MACHINE = True
SAME_WITHIN = 0.1
"""Where no tolerance is recorded (the record language's default)."""
AT, RETURN, EARTH = "live", "return", "earth"


@dataclass(frozen=True, slots=True)
class Said:
    """What one record says of a net: a voltage, ``return`` (0 V) or ``earth``, in words, and where."""

    kind: str
    volts: Quantity | None
    words: str
    place: Place
    is_role: bool


def run(derived: Derived) -> Iterator[Finding]:
    within = derived.library.shop.same_within
    share = within if within is not None else SAME_WITHIN
    yield from on_machines(derived, lambda wiring: _of_machine(wiring, share))


def _of_machine(wiring: Wiring, share: float) -> Iterator[Finding]:
    told: set[Place] = set()
    yield from _joined(wiring, told, share)
    yield from _reached(wiring, told, share)


def _joined(wiring: Wiring, told: set[Place], share: float) -> Iterator[Finding]:
    """What copper and fuses join, and cannot carry two different things."""
    for nets in _behind_fuses(wiring):
        said = [one for net in nets for one in (*_sources(wiring, net), *_roles(wiring, net))]
        firm = next((one for one in said if not one.is_role), None)
        for n, one in enumerate(said):
            for other in said[n + 1 :]:
                if not _disagree(one, other, share) or one.place in told or other.place in told:
                    continue
                if firm is not None and one.is_role and other.is_role:
                    continue  # told against the source
                told.add(other.place)
                code = "role-disagrees" if other.is_role else "voltages-meet"
                message = f"{other.words}, but {one.words}, and recorded copper or a fuse joins the two"
                help = "mend the role, the source or the map that is wrong; if they really meet, part them"
                yield Finding(code, message, other.place, help, related=((one.place, one.words),))


def _reached(wiring: Wiring, told: set[Place], share: float) -> Iterator[Finding]:
    """A voltage that is not that of any source which reaches the contact, switches and relays taken as closed.

    Several sources may reach it by turns, so one that agrees is enough.
    """
    bonded, levels = wiring.closed
    of, level = wiring.pieces.of, levels[How.DIRECT]
    by_group: dict[int, list[Said]] = {}
    for name, source in wiring.built.sources.items():
        for contact in source.at:
            piece = of.get(str(contact))
            if piece is not None and piece not in bonded and source.nominal is not None:
                words = f"{name} ({source.nominal.tidy}) reaches it from {contact.shown}"
                said = Said(AT, source.nominal, words, contact.place, False)
                by_group.setdefault(level[piece], []).append(said)
    for net in wiring.nets:
        for role in _roles(wiring, net):
            here = by_group.get(level[of[net.nodes[0]]], []) if role.kind == AT and role.place not in told else []
            if here and all(_disagree(one, role, share) for one in here):
                message = f"{role.words}, but {here[0].words}"
                help = "mend the role, or the source or map that is wrong"
                yield Finding("role-disagrees", message, role.place, help, related=((here[0].place, here[0].words),))


def _behind_fuses(wiring: Wiring) -> list[list[Net]]:
    """The nets, those joined by fuses together."""
    up = {net.name: net.name for net in wiring.nets}

    def top(name: str) -> str:
        while up[name] != name:
            name = up[name]
        return name

    for edge in wiring.graph.edges:
        if edge.kind is Kind.FUSE:
            one, two = top(wiring.net_of[edge.a].name), top(wiring.net_of[edge.b].name)
            up[two] = one
    found: dict[str, list[Net]] = {}
    for net in wiring.nets:
        found.setdefault(top(net.name), []).append(net)
    return list(found.values())


def _sources(wiring: Wiring, net: Net) -> Iterator[Said]:
    here = set(net.contacts)
    for name, source in wiring.built.sources.items():
        volts = f" ({source.nominal.tidy})" if source.nominal is not None else ""
        for kind, group in ((AT, source.at), (RETURN, source.return_), (EARTH, source.earth)):
            for contact in group or ():
                if str(contact) not in here:
                    continue
                if kind is RETURN and (source.nominal is None or source.nominal.kind != "DC"):
                    continue  # the two poles of an alternating supply are alike
                words = f"{shown(str(contact))} is {'' if kind is AT else f'the {kind} of '}{name}{volts}"
                yield Said(kind, source.nominal if kind is AT else None, words, contact.place, False)
                break


def _roles(wiring: Wiring, net: Net) -> Iterator[Said]:
    for contact in net.contacts:
        owner, _, own = contact.partition(".")
        connector = wiring.built.connectors.get(owner)
        role = (connector.contacts or {}).get(own) if connector is not None else None
        if role is None:
            continue
        kind, volts = read_role(str(role))
        if kind:
            yield Said(kind, volts, f"{shown(contact)} has the role {role}", _place(role), True)


def _place(role: Text) -> Place:
    return role.place


def read_role(role: str) -> tuple[str, Quantity | None]:
    """What a role says: ``live`` with its voltage, ``return`` for 0 V, ``earth`` for PE; nothing for a signal."""
    if role == "PE":
        return EARTH, None
    read = read_quantity(role, expected=Dimension.VOLTAGE) if role else None
    if read is None or isinstance(read, Misread):
        return "", None
    ends = [abs(end) for end in (read.low, read.high, read.nominal) if end is not None]
    return (RETURN, None) if not any(ends) else (AT, read)


def _disagree(one: Said, other: Said, share: float) -> bool:
    kinds = {one.kind, other.kind}
    if kinds == {RETURN, EARTH}:
        return False  # 0 V may be earthed
    if one.kind != other.kind:
        return AT in kinds
    if one.volts is None or other.volts is None:
        return False
    if one.volts.kind and other.volts.kind and one.volts.kind != other.volts.kind:
        return True
    return conflicts(one.volts, other.volts, share)
