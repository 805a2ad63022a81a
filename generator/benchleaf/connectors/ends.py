"""The two halves of a connector: which plug was made for which place, and into which other places it goes.

A plug is the half on a cable, a place the half on an item (or on another cable). Only what is recorded on both halves
and differs keeps a plug out of a place: not recorded never does.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from benchleaf import refs
from benchleaf.built import Built
from benchleaf.frozen import dataclass
from benchleaf.records.wiring import Cable, CableEnd, Connector, PlugHalf

PARKED = "parked"


@dataclass(frozen=True, slots=True, kw_only=True)
class Half:
    """What decides whether two halves go together; ``None`` throughout is "not recorded".

    ``keyed``: ``False`` not keyed, ``True`` keyed, a word for its coding. ``pins``: whether this half has the pins.
    ``form``: the form of the fixed half it belongs to. ``contacts``: names in the order recorded.
    """

    family: str | None = None
    contacts: tuple[str, ...] | None = None
    keyed: str | bool | None = None
    pins: bool | None = None
    form: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Plug:
    """The half at one end of a cable. ``number`` is the end's place in the record; ``at`` the connector it belongs in,
    or ``parked``; ``made_for`` the connector whose counterpart it is, empty when nobody recorded one."""

    cable: str
    number: int
    at: str
    made_for: str
    half: Half

    @property
    def name(self) -> str:
        """``W3 at A1-J3``."""
        return f"{self.cable} {PARKED}" if self.at == PARKED else f"{self.cable} at {self.at}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A connector a plug goes into. ``cable`` is the one that belongs there, empty when none does."""

    connector: str
    cable: str
    half: Half


def goes_in(plug: Half, place: Half) -> bool:
    """Whether a plug goes into a place: the same family, contact count and coding, pins to sockets."""
    if None not in (plug.family, place.family) and same_family(plug.family or "") != same_family(place.family or ""):
        return False
    if plug.contacts is not None and place.contacts is not None and len(plug.contacts) != len(place.contacts):
        return False
    if isinstance(plug.keyed, str) and isinstance(place.keyed, str) and plug.keyed != place.keyed:
        return False
    if plug.pins is not None and plug.pins == place.pins:
        return False
    return plug.form is None or place.form is None or plug.form == place.form


def goes_in_turned(plug: Half, place: Half) -> bool:
    """Whether it also goes in turned half round: keyed on both halves keeps it out, not recorded does not."""
    return not (plug.keyed and place.keyed)


def same_family(words: str) -> str:
    """A family as it is compared: without regard to capitals and spaces."""
    return " ".join(words.casefold().split())


def fixed_half(connector: Connector) -> Half:
    """The half on the host."""
    return Half(
        family=connector.family,
        contacts=tuple(connector.contacts) if connector.contacts is not None else None,
        keyed=_word(connector.keyed),
        pins=None if connector.pins is None else connector.pins == "fixed",
        form=connector.form,
    )


def loose_half(connector: Connector | None, plug: PlugHalf | None) -> Half:
    """The half on a cable: the counterpart of the connector it was made for, except where ``plug`` says otherwise."""
    half = fixed_half(connector) if connector is not None else Half()
    half = replace(half, pins=None if half.pins is None else not half.pins)
    if plug is None:
        return half
    return replace(
        half,
        family=plug.family if plug.family is not None else half.family,
        contacts=tuple(plug.contacts) if plug.contacts is not None else half.contacts,
        keyed=_word(plug.keyed) if plug.keyed is not None else half.keyed,
    )


def _word(keyed: str | bool | None) -> str | bool | None:
    return " ".join(keyed.casefold().split()) if isinstance(keyed, str) else keyed


def places_of(built: Built) -> Mapping[str, Place]:
    """Every connector as a place, in connector order of its host."""
    return {
        name: Place(connector=name, cable=cable_at(built, name), half=fixed_half(built.connectors[name]))
        for host in sorted(built.connectors_of)
        for name in built.connectors_of[host]
    }


def cable_at(built: Built, connector: str) -> str:
    """The cable with a plug in ``connector``; empty when there is none. A lead it hangs on is not plugged into it."""
    return next((one for one in built.cables_at.get(connector, ()) if one != refs.host_of(connector)), "")


def plugs_of(built: Built) -> tuple[Plug, ...]:
    """Every plug of the machine, by cable and end: those in a connector and those parked."""
    return tuple(plug for name in sorted(built.cables) for plug in _plugs(built, name))


def _plugs(built: Built, name: str) -> Iterator[Plug]:
    cable = built.cables[name]
    for number, end in enumerate(cable.ends):
        if end.at in built.connectors and refs.host_of(str(end.at)) != name:
            half = loose_half(built.connectors[str(end.at)], end.plug)
            yield Plug(cable=name, number=number, at=str(end.at), made_for=str(end.at), half=half)
        elif end.at.is_parked:
            made_for = _made_for(built, name, number)
            half = loose_half(built.connectors.get(made_for), end.plug)
            yield Plug(cable=name, number=number, at=PARKED, made_for=made_for, half=half)


def _made_for(built: Built, name: str, number: int) -> str:
    """The connector a parked plug was taken from: the same end of the same entry, where it is not parked."""
    entry = built.machine.wiring.cables.get(name)
    if entry is None:
        return ""
    for end in _recorded_ends(entry, number):
        if end.at in built.connectors:
            return str(end.at)
    return ""


def _recorded_ends(entry: Cable, number: int) -> Iterator[CableEnd]:
    said = [entry.ends, *(change.changes.get("ends", ()) for change in entry.where)]
    for ends in said:
        if number < len(ends):
            yield ends[number]


def meeting_contacts(plug: Half, place: Half, made_for: Connector | None, at: Connector) -> Mapping[str, str] | None:
    """Which contact of the place each contact of the plug meets; ``None`` when that cannot be said.

    By their places on the two recorded faces where these have one shape, else by name.
    """
    if plug.contacts is None or place.contacts is None:
        return None
    mine, its = made_for.face if made_for is not None else None, at.face
    if mine is not None and its is not None and [len(row) for row in mine] == [len(row) for row in its]:
        pairs = [(a, b) for row, other in zip(mine, its, strict=True) for a, b in zip(row, other, strict=True)]
        met = {str(a): str(b) for a, b in pairs if a != "-" and b != "-"}
        if set(plug.contacts) == set(met) and set(place.contacts) == set(met.values()):
            return met
    if set(plug.contacts) == set(place.contacts):
        return {name: name for name in plug.contacts}
    return None


def turned_contacts(at: Connector) -> Mapping[str, str] | None:
    """Which contact stands where each stood before the half was turned half round; ``None`` without a recorded face."""
    if at.face is None or at.contacts is None or "circular" in (at.family or "").casefold():
        return None
    turned = [tuple(reversed(row)) for row in reversed(at.face)]
    if [len(row) for row in turned] != [len(row) for row in at.face]:
        return None
    pairs = [(a, b) for row, other in zip(at.face, turned, strict=True) for a, b in zip(row, other, strict=True)]
    met = {str(a): str(b) for a, b in pairs if a != "-"}
    return met if set(met) == set(at.contacts) else None
