"""Whether a cable is long enough to bring its plug to another place. Only recorded boxes and lengths say no."""

from __future__ import annotations

from math import dist, inf

from benchleaf.built import Built
from benchleaf.connectors.ends import Place, Plug
from benchleaf.values.quantity import Dimension

MM = 1000.0  # boxes are in mm, lengths in m


def reaches(built: Built, plug: Plug, place: Place) -> bool:
    """Whether the plug may reach the place with the rest of its cable where it belongs; not recorded means yes.

    Boxes are taken as they stand assembled; what can be drawn to a position may stand that much nearer.
    """
    cable = built.cables[plug.cable]
    longest = cable.length.greatest() if cable.length is not None else None
    if longest is None or place.cable == plug.cable:
        return True
    host = built.host_item(place.connector)
    if host is None:
        return True
    far = [end for number, end in enumerate(cable.ends) if number != plug.number]
    hosts = [built.item_of_end(end) for end in far]
    return any(one is None or _least_distance(built, one, host) <= longest for one in hosts) or not hosts


def _least_distance(built: Built, one: str, other: str) -> float:
    """The least distance in m between two items; 0 where the place of one is not known."""
    mine, its = _box(built, one), _box(built, other)
    if mine is None or its is None or one == other:
        return 0.0
    gaps = [max(0.0, mine[n] - (its[n] + its[n + 3]), its[n] - (mine[n] + mine[n + 3])) for n in range(3)]
    return max(0.0, dist(gaps, (0.0, 0.0, 0.0)) / MM - _travel(built, one) - _travel(built, other))


def _box(built: Built, item: str) -> tuple[float, ...] | None:
    """The box of an item, else of what it sits in."""
    return next((built.items[name].box for name in built.chain(item) if built.items[name].box is not None), None)


def _travel(built: Built, item: str) -> float:
    """How far an item can be drawn away with what it sits in, in m; without end where no length is recorded."""
    total = 0.0
    for name in built.chain(item):
        moves = [one.motion for one in built.items[name].positions.values()]
        for motion in moves:
            distance = motion.distance if motion is not None else None
            metres = distance.high if distance is not None and distance.dimension is Dimension.LENGTH else None
            total += inf if metres is None else metres
    return total
