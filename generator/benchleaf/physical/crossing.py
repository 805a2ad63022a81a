"""What still joins the two sides of a move: cables and lines with ends on both, and ties that hold them.

An item moves with everything in it. A cable or line crosses the move when its ends are on two sides, or when its ends
are on one side and a tie on the other holds it. What crosses is parted in one of two ways: it *stays* (its inner ends
are opened, and the ties inside), or it *travels* along (its outer ends are opened, and the ties outside). On a short
move it may also *follow*: within its recorded slack, both ends joined, once no tie holds it.
"""

from __future__ import annotations

from collections.abc import Mapping

from benchleaf import refs
from benchleaf.built import Built, end_is_there
from benchleaf.frozen import dataclass
from benchleaf.records.observed import Value
from benchleaf.records.types import Motion
from benchleaf.records.wiring import Cable
from benchleaf.values.quantity import Dimension

LIFTABLE = ("screw", "spade")


@dataclass(frozen=True, slots=True)
class End:
    """One end of a cable or line: ``at`` is the connector, contact or item; ``opens`` = it can be opened.

    ``item`` is ``None`` for a plug on another cable.
    """

    at: str
    item: str | None
    opens: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """A cable or line that crosses the move of an item. ``slack`` in metres, 0 when not recorded."""

    id: str
    kind: str
    inner: tuple[End, ...]
    outer: tuple[End, ...]
    inner_ties: tuple[str, ...]
    outer_ties: tuple[str, ...]
    slack: float
    slack_recorded: bool

    @property
    def ties(self) -> tuple[str, ...]:
        return (*self.inner_ties, *self.outer_ties)

    @property
    def is_joined_across(self) -> bool:
        """Whether it has ends on both sides; otherwise only a tie makes it cross."""
        return bool(self.inner and self.outer)

    def follows(self, travel: float | None) -> bool:
        """Whether it is long enough to stay joined on a move of ``travel`` metres, once no tie holds it."""
        return travel is not None and self.slack_recorded and travel <= self.slack + 1e-9


def travel_of(motion: Motion | None) -> float | None:
    """How far a motion goes, in metres; ``None`` when not recorded, or said as an angle (then no slack is enough)."""
    if motion is None or motion.distance is None or motion.distance.dimension is not Dimension.LENGTH:
        return None
    return motion.distance.high if motion.distance.high is not None else motion.distance.nominal


@dataclass(frozen=True, slots=True)
class Joined:
    """Everything that joins items of a machine: each thing with its ends and ties, and the things at each item."""

    built: Built
    things: Mapping[tuple[str, str], tuple[tuple[End, ...], tuple[str, ...], Value | None]]
    at: Mapping[str, frozenset[tuple[str, str]]]

    def crossings(self, item: str) -> tuple[Crossing, ...]:
        """Everything that crosses a move of ``item``, cables first, each by id."""
        moved = self.built.inside(item)
        near = sorted(frozenset().union(*(self.at.get(one, frozenset()) for one in moved)))
        found = (self._crossing(kind, name, moved) for kind, name in near)
        return tuple(one for one in found if crosses(one))

    def _crossing(self, kind: str, name: str, moved: frozenset[str]) -> Crossing:
        ends, ties, slack = self.things[kind, name]
        least = slack.least() if slack is not None else None
        inside = [_side(self.built, end, moved) for end in ends]
        inner_ties = tuple(tie for tie in ties if self.built.ties[tie].fixed_to.item in moved)
        return Crossing(
            id=name,
            kind=kind,
            inner=tuple(end for end, is_in in zip(ends, inside, strict=True) if is_in),
            outer=tuple(end for end, is_in in zip(ends, inside, strict=True) if not is_in),
            inner_ties=inner_ties,
            outer_ties=tuple(tie for tie in ties if tie not in inner_ties),
            slack=least or 0.0,
            slack_recorded=least is not None,
        )


def joined(built: Built) -> Joined:
    """What joins the items of a machine, looked up once."""
    ties = _ties(built)
    things: dict[tuple[str, str], tuple[tuple[End, ...], tuple[str, ...], Value | None]] = {}
    for name, cable in built.cables.items():
        plugs = (cable_end(built, cable, n) for n in range(len(cable.ends)))
        things["cable", name] = (tuple(end for end in plugs if end is not None), ties.get(name, ()), cable.slack)
    for name, line in built.lines.items():
        joints = tuple(End(str(end.at.item), str(end.at.item), True) for end in line.ends)
        things["line", name] = (joints, ties.get(name, ()), line.slack)
    at: dict[str, set[tuple[str, str]]] = {}
    for thing, (ends, held, _) in things.items():
        items = {item for end in ends for item in _items_of(built, end)}
        for item in items | {str(built.ties[tie].fixed_to.item) for tie in held}:
            at.setdefault(item, set()).add(thing)
    return Joined(built, things, {item: frozenset(many) for item, many in at.items()})


def crossings(built: Built, item: str) -> tuple[Crossing, ...]:
    """Everything that crosses a move of ``item``, cables first, each by id."""
    return joined(built).crossings(item)


def crosses(one: Crossing) -> bool:
    """Whether both sides hold it: by ends, or by ends on one and a tie on the other."""
    inner = bool(one.inner) or bool(one.inner_ties)
    outer = bool(one.outer) or bool(one.outer_ties)
    return inner and outer and bool(one.inner or one.outer)


def cable_end(built: Built, cable: Cable, number: int) -> End | None:
    """One end of a cable; ``None`` for a parked one, and for one at a place this machine does not have."""
    end = cable.ends[number]
    if not end_is_there(end, built.connectors, built.items):
        return None
    plugged = end.at in built.connectors
    joint = end.joint or cable.joint or "solder"
    return End(str(end.at), built.item_of_end(end), plugged or joint in LIFTABLE)


def leads(cable: Cable, at: str) -> tuple[str, ...]:
    """The leads of a fixed end: full contacts where the wires are recorded, else the end as it is named."""
    pairs = cable.wires.map if cable.wires is not None else None
    if "." in at or pairs is None or isinstance(pairs, str):
        return (at,)
    named = []
    for pair in pairs:
        for place, contact in enumerate(pair):
            if "." in contact:
                if contact.partition(".")[0] == at:
                    named.append(str(contact))
            elif len(cable.ends) == 2 and cable.ends[place].at == at:
                named.append(f"{at}.{contact}")
    return tuple(dict.fromkeys(named)) or (at,)


def _ties(built: Built) -> Mapping[str, tuple[str, ...]]:
    """Cable or line → the ties that hold it. A tie whose cables are not recorded holds every one at its item."""
    held: dict[str, list[str]] = {}
    for name in sorted(built.ties):
        tie = built.ties[name]
        holds = [str(one) for one in tie.holds] if tie.holds is not None else _at_item(built, tie.fixed_to.item)
        for one in holds:
            held.setdefault(one, []).append(name)
    return {name: tuple(many) for name, many in held.items()}


def _at_item(built: Built, item: str) -> list[str]:
    cables = [n for n, c in built.cables.items() if any(built.item_of_end(end) == item for end in c.ends)]
    lines = [n for n, line in built.lines.items() if any(end.at.item == item for end in line.ends)]
    return sorted([*cables, *lines])


def _side(built: Built, end: End, moved: frozenset[str]) -> bool:
    """Whether an end moves along. A connector on another cable moves along when that cable's own ends all do."""
    if end.item is not None:
        return end.item in moved
    items = _items_of(built, end)
    return bool(items) and all(item in moved for item in items)


def _items_of(built: Built, end: End) -> tuple[str, ...]:
    """The item an end is at; for a connector on another cable, the items at that cable's own ends."""
    if end.item is not None:
        return (end.item,)
    host = refs.host_of(end.at.partition(".")[0])
    if host not in built.cables:
        return ()
    items = (built.item_of_end(one) for one in built.cables[host].ends if not one.at.is_parked and one.at != end.at)
    return tuple(item for item in items if item is not None)
