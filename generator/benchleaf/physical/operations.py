"""The facts of a machine as operations: what can be undone, with which tool, in what time, after what.

``un:SET`` releases a fastener set, ``off:ITEM`` takes an item off, ``to:ITEM@POSITION`` draws it out,
``open:CABLE@END`` unplugs or lifts one end, ``joint:LINE@ITEM`` opens a joint, ``tie:TIE`` opens a tie. The rest are
virtual: ways of meeting a choice. Isolation is no operation: it comes first, outside the price.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from benchleaf.built import FRAME, Built
from benchleaf.physical.crossing import Crossing, End, crossings
from benchleaf.physical.least_network import Operation
from benchleaf.physical.times import Times
from benchleaf.records.items import Position
from benchleaf.records.types import Choices, Motion, Option

HAND = "hand"
CUTTERS = "side cutters"
Clauses = tuple[tuple[str, ...], ...]


def operations_of(built: Built, times: Times) -> Mapping[str, Operation]:
    """Every operation of the machine in this configuration, by id."""
    return dict(sorted(_Compiler(built, times).all()))


class _Compiler:
    """Writes the operations once; virtual ones are collected on the way."""

    def __init__(self, built: Built, times: Times) -> None:
        self.built = built
        self.times = times
        self.virtual: dict[str, Operation] = {}

    def all(self) -> Iterator[tuple[str, Operation]]:
        built = self.built
        for name, one in built.sets.items():
            tool = one.tool if one.tool is not None else f"driver for {name}"
            time = self.times.of_set(one)
            yield f"un:{name}", Operation(time, tool, self.clauses(built.reach_of_set(name)))
        for name in built.items:
            if name != FRAME:
                yield f"off:{name}", self._off(name)
            for position in built.items[name].positions.values():
                yield f"to:{name}@{position.id}", self._to(name, position)
        for name, cable in built.cables.items():
            for end in cable.ends:
                at = str(end.at)
                if at in built.connectors:
                    time = self.times.of_end(built, name, end)
                    yield f"open:{name}@{at}", Operation(time, HAND, self.clauses(built.reach_of_connector(at)))
                elif not end.at.is_parked and (end.joint or cable.joint) in ("screw", "spade"):
                    item = built.item_of_end(end) or ""
                    time = self.times.of_end(built, name, end)
                    yield f"open:{name}@{at}", Operation(time, HAND, self.clauses(built.reach(item)))
        for name, line in built.lines.items():
            for joint in line.ends:
                item = str(joint.at.item)
                clauses = self.clauses(built.reach_of_joint(name, item))
                yield f"joint:{name}@{item}", Operation(self.times.of("open"), HAND, clauses)
        for name, tie in built.ties.items():
            tool = HAND if tie.opens == "by hand" else CUTTERS
            yield f"tie:{name}", Operation(self.times.of("cut"), tool, self.clauses(built.reach_of_tie(name)))
        yield from self.virtual.items()

    def clauses(self, choices: Choices) -> Clauses:
        """A choice list as clauses: every clause must hold one operation already done."""
        return tuple(tuple(name for option in clause for name in self._option(option)) for clause in choices)

    def _option(self, option: Option) -> tuple[str, ...]:
        """The operations any of which meets an option; ``a + b`` needs a virtual one that waits for both."""
        parts = [self._placed(one.item, one.position) for one in option]
        if len(parts) == 1:
            return parts[0]
        name = "both:" + "+".join(str(one) for one in option)
        self.virtual[name] = Operation(0, None, tuple(parts))
        return (name,)

    def _placed(self, item: str, position: str) -> tuple[str, ...]:
        """Out of the way: off, or drawn to the position named. What is not on this machine is never in the way."""
        if item not in self.built.items:
            self.virtual[f"absent:{item}"] = Operation(0, None, ())
            return (f"absent:{item}",)
        off = () if item == FRAME else (f"off:{item}",)
        return (f"to:{item}@{position}", *off) if position in self.built.items[item].positions else off

    def _off(self, item: str) -> Operation:
        built = self.built
        clauses = [*self.clauses(built.behind(item))]
        clauses += [(f"un:{one.name}",) for one in built.sets_of(item)]
        clauses += [self._parted(one, item) for one in crossings(built, item)]
        return Operation(self.times.of_item(built.items[item]), HAND, tuple(clauses))

    def _to(self, item: str, position: Position) -> Operation:
        built = self.built
        needs = position.needs
        sets = [one.name for one in built.sets_of(item) if needs is None or one.own in needs]
        behind = position.behind if position.behind is not None else built.behind(item)
        clauses = [*self.clauses(behind), *((f"un:{name}",) for name in sets)]
        travel = travel_of(position.motion)
        clauses += [self._parted(one, item) for one in crossings(built, item) if not follows(one, travel)]
        return Operation(self.times.of("move"), HAND, tuple(clauses))

    def _parted(self, one: Crossing, item: str) -> tuple[str, ...]:
        """The two ways to part a crossing: it stays behind, or it travels along."""
        ways = (("stay", one.inner, one.inner_ties), ("travel", one.outer, one.outer_ties))
        made: list[str] = []
        for way, ends, ties in ways:
            if any(not end.opens for end in ends):
                continue
            name = f"{way}:{one.id}|{item}"
            opened = tuple((self._opened(one, end),) for end in ends)
            self.virtual[name] = Operation(0, None, (*opened, *((f"tie:{tie}",) for tie in ties)))
            made.append(name)
        return tuple(made)

    @staticmethod
    def _opened(one: Crossing, end: End) -> str:
        return f"{'joint' if one.kind == 'line' else 'open'}:{one.id}@{end.at}"


def travel_of(motion: Motion | None) -> float | None:
    """How far a motion goes, in metres; ``None`` when not recorded (then no slack is enough)."""
    if motion is None or motion.distance is None:
        return None
    return motion.distance.high if motion.distance.high is not None else motion.distance.nominal


def follows(one: Crossing, travel: float | None) -> bool:
    """Whether a crossing may stay joined on a move of ``travel``: by its ends alone, within its recorded slack."""
    tied_across = (one.inner_ties and not one.inner) or (one.outer_ties and not one.outer)
    return travel is not None and not tied_across and one.slack_recorded and travel <= one.slack + 1e-9
