"""What nobody recorded and a path rests on: each gap says what it counts as, and none is taken for nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from benchleaf.access.ways import Ways
from benchleaf.frozen import dataclass
from benchleaf.physical.crossing import Crossing, travel_of
from benchleaf.physical.operations import Named, clamps, named


@dataclass(frozen=True, slots=True)
class Gaps:
    """The gaps by operation, and all of them in order, each once."""

    of_work: Mapping[str, tuple[str, ...]]
    all: tuple[str, ...]


def gaps_of(ways: Ways, item: str, goal: str, works: Iterable[str], prove: Iterable[str]) -> Gaps:
    """What is not recorded of the operations of a path to ``item``, of the energies it proves, and of the item."""
    done = tuple(works)
    of_work = {one: found for one in done if (found := tuple(_of(ways, named(one), frozenset(done))))}
    general = [*_of_machine(ways), *_of_goal(ways, item, goal)]
    general += [gap for one in prove for gap in _of_energy(ways, one)]
    every = [*general, *(gap for found in of_work.values() for gap in found)]
    return Gaps(of_work, tuple(dict.fromkeys(every)))


def _of_machine(ways: Ways) -> Iterator[str]:
    live = ways.ground.liveness
    if not ways.built.machine.has_wiring:
        yield "no wiring is recorded: any cable may still join what is moved"
    if live.nothing_recorded:
        yield "no energy is recorded: everything counts as energised, hot and loaded"
    for source in live.unlisted:
        yield f"no recorded energy isolates the source {source}: it counts as live"


def _of_goal(ways: Ways, item: str, goal: str) -> Iterator[str]:
    own = ways.built.items[item]
    if goal == "reach" and own.reach is None and _is_behind_unknown(ways, item):
        yield f"what {item} is behind is not recorded: it counts as blocked by something"


def _is_behind_unknown(ways: Ways, item: str) -> bool:
    return all(ways.built.items[one].behind is None for one in ways.ground.chain(item))


def _of_energy(ways: Ways, name: str) -> Iterator[str]:
    energy = ways.built.energy[name]
    if not energy.isolate:
        yield f"what isolates {name} is not recorded: it counts as energised"
    if not energy.prove_dead:
        yield f"where {name} is proved dead is not recorded: it counts as live"
    if energy.stored is None and energy.kind in ("electrical", "pneumatic", "spring"):
        yield f"whether {name} stores anything is not recorded: it counts as charged"


def _of(ways: Ways, one: Named, done: frozenset[str]) -> Iterator[str]:
    if one.kind == "un" and ways.built.sets[one.what].tool is None:
        yield f"the drive of {one.what} is not recorded: the tool is unknown"
    elif one.kind == "off":
        yield from _of_item(ways, one)
        if ways.built.items[one.what].supports is None:
            yield f"what would fall or tip without {one.what} is not recorded"
        yield from _of_joints(ways, one.what)
    elif one.kind == "to":
        yield from _of_item(ways, one)
        yield from _of_travel(ways, one, done)
    elif one.kind == "joint":
        yield from _of_line(ways, one)
    elif one.kind == "open" and _hangs_unknown(ways, one.at):
        yield f"where {one.at} hangs is not recorded: it counts as reached where an end of its cable is"


def _hangs_unknown(ways: Ways, name: str) -> bool:
    """Whether a connector hangs on a cable, and nobody recorded what is before it."""
    connector = ways.built.connectors.get(name)
    return connector is not None and connector.reach is None and ways.built.host_item(name) is None


def _of_item(ways: Ways, one: Named) -> Iterator[str]:
    item = ways.built.items[one.what]
    if ways.built.held_unknown(one.what):
        yield f"what holds {one.what} is not recorded: it counts as held, and the time for it is not in the total"
    position = item.positions.get(one.at)
    if (position is None or position.behind is None) and _is_behind_unknown(ways, one.what):
        yield f"what {one.what} is behind is not recorded: it counts as blocked by something"


def _of_joints(ways: Ways, item: str) -> Iterator[str]:
    """An end on the item that nobody said how it is joined counts as soldered: the far end is opened for it."""
    for crossing in ways.ground.crossings(item):
        if crossing.kind == "cable":
            cable = ways.built.cables[crossing.id]
            joints = {str(end.at): end.joint or cable.joint for end in cable.ends}
            for inner in crossing.inner:
                if not inner.opens and joints.get(inner.at) is None:
                    yield f"how {crossing.id} is joined at {inner.at} is not recorded: it counts as soldered"


def _of_travel(ways: Ways, one: Named, done: frozenset[str]) -> Iterator[str]:
    travel = travel_of(ways.built.items[one.what].positions[one.at].motion)
    opened = [c for c in ways.ground.crossings(one.what) if c.is_joined_across and _is_opened(c, done)]
    if travel is None and opened:
        yield f"how far {one.what} moves to {one.at} is not recorded: no cable counts as long enough"
    for crossing in opened:
        if travel is not None and not crossing.slack_recorded:
            yield f"the slack of {crossing.id} is not recorded: it counts as none"


def _is_opened(crossing: Crossing, done: frozenset[str]) -> bool:
    kind = "joint" if crossing.kind == "line" else "open"
    return any(f"{kind}:{crossing.id}@{end.at}" in done for end in (*crossing.inner, *crossing.outer))


def _of_line(ways: Ways, one: Named) -> Iterator[str]:
    built = ways.built
    if not ways.ground.is_wet(one.what):
        return
    end = next(end for end in built.lines[one.what].ends if end.at.item == one.at)
    if end.drips_on is None:
        electrical = [name for name in built.items if name != one.at and ways.ground.is_electrical(name)]
        if built.items[one.at].box is None or any(built.items[name].box is None for name in electrical):
            yield f"what lies under {one.what} at {one.at} is not recorded: it counts as an electrical part"
    if not clamps(ways.ground, one.what, one.at) and built.lines[one.what].clamp is None:
        yield f"whether {one.what} is soft enough to clamp is not recorded: it counts as stiff"
