"""The facts of a machine as operations: what can be undone, with which tool, in what time, after what.

Work: ``un:SET`` releases a fastener set, ``off:ITEM`` takes an item off, ``to:ITEM@POSITION`` draws it out,
``open:CABLE@END`` opens one end of a cable, ``joint:LINE@ITEM`` opens a joint, ``tie:TIE`` a tie; ``drain:CIRCUIT``,
``clamp:LINE`` and ``cover:ITEM`` make an opened joint harmless. The rest are virtual: goals (``reach:ITEM``) and ways
of meeting a choice. Isolation is no operation: it comes first, outside the price; with ``dead`` the places it has to
get to are asked for (``isolated:ENERGY``, ``proved:ENERGY``).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from benchleaf import refs
from benchleaf.built import FRAME
from benchleaf.fastener_sets import HAND
from benchleaf.frozen import dataclass
from benchleaf.physical.crossing import LIFTABLE, Crossing, End, travel_of
from benchleaf.physical.ground import Ground
from benchleaf.physical.least_network import Operation
from benchleaf.physical.times import Times
from benchleaf.records.items import Position
from benchleaf.records.types import Choices, Option
from benchleaf.records.wiring import Cable, CableEnd

WORK = ("un", "off", "to", "open", "joint", "tie", "drain", "clamp", "cover")
Clause = tuple[str, ...]
Clauses = tuple[Clause, ...]


@dataclass(frozen=True, slots=True)
class Named:
    """An operation by its parts: ``to:tray@service`` is of kind ``to``, of ``tray``, at ``service``."""

    kind: str
    what: str
    at: str

    @property
    def is_work(self) -> bool:
        """Whether hands do it; otherwise it is a goal or a way of meeting a choice."""
        return self.kind in WORK


def named(operation: str) -> Named:
    kind, _, rest = operation.partition(":")
    what, _, at = rest.partition("@")
    return Named(kind, what, at)


def subject_of(ground: Ground, operation: str) -> str:
    """What an operation is done at: an item, or the connector, line or circuit itself where it is at none."""
    one, built = named(operation), ground.built
    if one.kind == "un":
        return one.what.partition(".")[0]
    if one.kind == "open":
        return built.item_of_contact(one.at) or one.at
    if one.kind == "joint":
        return one.at
    return str(built.ties[one.what].fixed_to.item) if one.kind == "tie" else one.what


def short_words(operation: str) -> str:
    """An operation in a few words: ``taking off control-tray``."""
    one = named(operation)
    return {
        "un": f"releasing {one.what}",
        "off": f"taking off {one.what}",
        "to": f"drawing {one.what} to {one.at}",
        "open": f"opening {one.what} at {one.at}",
        "joint": f"opening {one.what} at {one.at}",
        "tie": f"opening tie {one.what}",
        "drain": f"draining {one.what}",
        "clamp": f"clamping {one.what}",
        "cover": f"covering {one.what}",
        "reach": f"reaching {one.what}",
        "isolated": f"isolating {one.what}",
        "proved": f"proving {one.what} dead",
    }.get(one.kind, operation)


def operations_of(ground: Ground, times: Times, *, dead: bool = False) -> Mapping[str, Operation]:
    """Every operation of the machine in this configuration, by id.

    ``dead``: touching what an energy is at waits until it can be proved dead, and taking away what stands before it
    until it can be isolated; both wait for the places where that is done.
    """
    return dict(sorted(_Compiler(ground, times, dead).all()))


class _Compiler:
    """Writes the operations once; virtual ones are collected on the way."""

    def __init__(self, ground: Ground, times: Times, dead: bool) -> None:
        self.ground = ground
        self.built = ground.built
        self.times = times
        self.dead = dead
        self.virtual: dict[str, Operation] = {}

    def all(self) -> Iterator[tuple[str, Operation]]:
        built = self.built
        for name in built.sets:
            yield self._un(name)
        for name, item in built.items.items():
            yield f"reach:{name}", self._virtual((*self.choices(built.reach(name), name), *self._touched(name)))
            if name != FRAME:
                yield f"off:{name}", self._off(name)
                for position in item.positions.values():
                    yield f"to:{name}@{position.id}", self._to(name, position)
        for name, cable in built.cables.items():
            for end in cable.ends:
                yield from self._open(name, cable, end)
        yield from self._lines()
        for name, tie in built.ties.items():
            tool = HAND if tie.opens == "by hand" else self.times.tool("cut")
            on = str(tie.fixed_to.item)
            clauses = (*self.choices(built.reach_of_tie(name), on), *self._touched(on))
            yield f"tie:{name}", Operation(self.times.of("cut"), tool, clauses)
        if self.dead:
            for name in built.energy:
                yield from self._energy(name)
        yield from self.virtual.items()

    # ---- choices

    def choices(self, choices: Choices, subject: str) -> Clauses:
        """A choice list of ``subject`` as clauses; one that an item not on this machine meets is no clause at all."""
        made = []
        for clause in choices:
            options = [self._option(option, subject) for option in clause]
            if () not in options:
                made.append(tuple(dict.fromkeys(name for option in options for name in option or ())))
        return tuple(made)

    def _option(self, option: Option, subject: str) -> Clause | None:
        """The operations any of which meets an option: none needed = ``()``, none possible = ``None``."""
        parts = [self.moved(one.item, one.position, subject) for one in option if one.item in self.built.items]
        if not all(parts):
            return None
        if len(parts) <= 1:
            return parts[0] if parts else ()
        return (self._way("both", " + ".join("/".join(part) for part in parts), parts),)

    def moved(self, item: str, position: str, subject: str) -> Clause:
        """Out of the way of ``subject``: the item off, or drawn to the position named, or off with what it sits in.

        What the subject sits in too takes both along and leaves the one in front of the other.
        """
        drawn = (f"to:{item}@{position}",) if position in self.built.items[item].positions else ()
        return (*drawn, *(f"off:{one}" for one in self.ground.movers(item, subject) if one != FRAME))

    def _way(self, kind: str, name: str, clauses: Iterable[Clause]) -> str:
        """A virtual operation that waits for all of its clauses."""
        self.virtual[f"{kind}:{name}"] = self._virtual(clauses)
        return f"{kind}:{name}"

    @staticmethod
    def _virtual(clauses: Iterable[Clause]) -> Operation:
        return Operation(0, None, tuple(clauses))

    # ---- fasteners and items

    def _un(self, name: str) -> tuple[str, Operation]:
        one = self.built.sets[name]
        tool = one.tool if one.tool is not None else f"driver for {name}"
        time = self.times.of_set(one, missing_of(self.ground, name))
        clauses = (*self.choices(self.built.reach_of_set(name), one.item), *self._touched(one.item))
        return f"un:{name}", Operation(time, tool, clauses)

    def _off(self, item: str) -> Operation:
        built = self.built
        clauses = [*self.choices(built.behind(item), item)]
        clauses += [(f"un:{one.name}",) for one in built.sets_of(item)]
        clauses += [self._parted(one, item) for one in self.ground.crossings(item)]
        clauses += [*self._touched(item), *self._exposed(item)]
        return Operation(self.times.of_item(built.items[item]), HAND, tuple(clauses))

    def _to(self, item: str, position: Position) -> Operation:
        built = self.built
        needs = position.needs
        behind = position.behind if position.behind is not None else built.behind(item)
        clauses = [*self.choices(behind, item)]
        clauses += [(f"un:{one.name}",) for one in built.sets_of(item) if needs is None or one.own in needs]
        for one in self.ground.crossings(item):
            if not one.is_joined_across or not one.follows(travel_of(position.motion)):
                clauses.append(self._parted(one, item))
            elif one.ties:
                freed = self._all("follow", f"{one.id}|{item}@{position.id}", [f"tie:{tie}" for tie in one.ties])
                clauses.append((*self._parted(one, item), freed))
        clauses += [*self._touched(item), *self._exposed(item)]
        return Operation(self.times.of("move"), HAND, tuple(clauses))

    def _parted(self, one: Crossing, item: str) -> Clause:
        """The two ways to part a crossing: it stays behind, or it travels along."""
        made = []
        for way, ends, ties in (("stay", one.inner, one.inner_ties), ("travel", one.outer, one.outer_ties)):
            if all(end.opens for end in ends):
                opened = [*(self._opened(one, end) for end in ends), *(f"tie:{tie}" for tie in ties)]
                made.append(self._all(way, f"{one.id}|{item}", opened))
        return tuple(made)

    def _all(self, kind: str, name: str, operations: list[str]) -> str:
        """One operation that stands for all of these; a single one stands for itself."""
        return operations[0] if len(operations) == 1 else self._way(kind, name, ((one,) for one in operations))

    @staticmethod
    def _opened(one: Crossing, end: End) -> str:
        return f"{'joint' if one.kind == 'line' else 'open'}:{one.id}@{end.at}"

    # ---- cables

    def _open(self, name: str, cable: Cable, end: CableEnd) -> Iterator[tuple[str, Operation]]:
        built, at = self.built, str(end.at)
        time = self.times.of_end(built, name, end)
        if at in built.connectors:
            host = built.host_item(at)
            clauses = (*self.choices(built.reach_of_connector(at), host or ""), *self._touched(host or at))
            yield f"open:{name}@{at}", Operation(time, HAND, clauses)
        elif (item := built.item_of_end(end)) is not None and (end.joint or cable.joint) in LIFTABLE:
            owner = at.partition(".")[0]
            reach = built.reach_of_connector(owner) if refs.is_connector(owner) else built.reach(item)
            tool = self.times.tool("lift lead") if (end.joint or cable.joint) == "screw" else HAND
            yield f"open:{name}@{at}", Operation(time, tool, (*self.choices(reach, item), *self._touched(item)))

    # ---- lines: an opened joint is clamped or drained first, what lies under it covered, and capped after

    def _lines(self) -> Iterator[tuple[str, Operation]]:
        built, ground = self.built, self.ground
        circuits: dict[str, list[str]] = {}
        for name, line in built.lines.items():
            places = [self._place(name, str(end.at.item)) for end in line.ends]
            if ground.is_wet(name):
                circuits.setdefault(ground.circuit(name), []).extend(places)
            if line.clamp:
                yield f"clamp:{name}", Operation(self.times.of("clamp"), HAND, (tuple(places),))
            for end in line.ends:
                yield f"joint:{name}@{end.at.item}", self._joint(name, str(end.at.item), end.joint)
        for name, item in built.items.items():
            if item.holds is not None:
                circuits.setdefault(str(item.circuit or name), []).append(f"reach:{name}")
        for name, places in circuits.items():
            yield f"drain:{name}", Operation(self.times.of("drain"), self.times.tool("drain"), (tuple(places),))

    def _place(self, line: str, item: str) -> str:
        """Being at a joint: the line can be clamped or drained there."""
        return self._way("at", f"{line}@{item}", self.choices(self.built.reach_of_joint(line, item), item))

    def _joint(self, line: str, item: str, joint: str | None) -> Operation:
        clauses = [*self.choices(self.built.reach_of_joint(line, item), item), *self._touched(item)]
        time = self.times.of("open")
        if self.ground.is_wet(line):
            time += self.times.of("cap")
            held = self._clamped(line, item)
            clauses.append((f"drain:{self.ground.circuit(line)}", *((held,) if held else ())))
            for one in beneath(self.ground, line, item):
                self.virtual[f"cover:{one}"] = self._cover(one)
                clauses.append((f"cover:{one}", *self.moved(one, "", item)))
        return Operation(time, self.times.tool("nut") if joint == "nut" else HAND, tuple(clauses))

    def _clamped(self, line: str, item: str) -> str | None:
        """Both sides of a joint clamped; ``None`` where a side is a vessel, unknown, or not soft enough."""
        sides = clamps(self.ground, line, item)
        return self._all("held", f"{line}@{item}", [f"clamp:{one}" for one in sides]) if sides else None

    def _cover(self, item: str) -> Operation:
        """Laying a sheet over an item touches nothing, but taking it away again does."""
        clauses = (*self.choices(self.built.reach(item), item), *self._touched(item))
        return Operation(self.times.of("cover"), HAND, clauses)

    # ---- energies: what has to be got at to isolate and to prove

    def _touched(self, item: str) -> Clauses:
        if not self.dead:
            return ()
        live = self.ground.liveness
        energies = live.at.get(item) or live.of_connector.get(item, ())
        return tuple((f"proved:{one}",) for one in energies if one in self.built.energy)

    def _exposed(self, item: str) -> Clauses:
        if not self.dead:
            return ()
        energies = {energy for energy, _ in self.ground.exposes.get(item, ())}
        return tuple((f"isolated:{one}",) for one in sorted(energies) if one in self.built.energy)

    def _energy(self, name: str) -> Iterator[tuple[str, Operation]]:
        energy = self.built.energy[name]
        devices = [str(one.device.item) for one in energy.isolate or ()]
        yield f"isolated:{name}", self._virtual(self._reached(devices))
        points = [str(one) for proof in energy.prove_dead or () for one in proof.between or ()]
        points += [str(proof.at.item) for proof in energy.prove_dead or () if proof.at is not None]
        points += [str(one) for store in energy.stored or () for one in store.between or (store.in_ or "",)]
        yield f"proved:{name}", self._virtual(((f"isolated:{name}",), *self._reached(points)))

    def _reached(self, points: Iterable[str]) -> Iterator[Clause]:
        for owner in dict.fromkeys(self.ground.owner(one) if "." in one else one for one in points):
            if owner in self.built.connectors:
                yield from self.choices(self.built.reach_of_connector(owner), self.built.host_item(owner) or "")
            elif owner in self.built.items:
                yield from self.choices(self.built.reach(owner), owner)


def missing_of(ground: Ground, name: str) -> int:
    """How many fasteners of a set were missing when the machine came in."""
    one = ground.built.sets[name]
    found = (f for f in ground.built.as_found if f.set.item == one.item and f.set.own in ("", one.own))
    return min(sum(f.missing or 0 for f in found), one.count)


def clamps(ground: Ground, line: str, item: str) -> tuple[str, ...]:
    """The lines to clamp so that both sides of a joint are held; ``()`` where that cannot be done."""
    if ground.built.items[item].holds is not None:
        return ()
    lines = ground.built.lines
    beyond = [
        one
        for one in ground.lines_of(ground.circuit(line))
        if one != line and any(end.at.item == item for end in lines[one].ends)
    ]
    sides = (line, *beyond)
    return sides if beyond and all(lines[one].clamp for one in sides) else ()


def beneath(ground: Ground, line: str, item: str) -> tuple[str, ...]:
    """The electrical items under a joint: as ``drips-on`` says, else by their boxes."""
    built = ground.built
    end = next(end for end in built.lines[line].ends if end.at.item == item)
    if end.drips_on is not None:
        under = [str(one.item) for one in end.drips_on if one.item in built.items]
    else:
        high = built.items[item].box
        under = [
            name
            for name in sorted(built.items)
            if name != item and high is not None and (low := built.items[name].box) is not None and is_under(low, high)
        ]
    return tuple(one for one in under if ground.is_electrical(one))


def is_under(low: tuple[float, ...], high: tuple[float, ...]) -> bool:
    """Whether one box lies, at least partly, straight below another (x right, y back, z up)."""
    across = low[0] < high[0] + high[3] and high[0] < low[0] + low[3]
    deep = low[1] < high[1] + high[4] and high[1] < low[1] + low[4]
    return across and deep and low[2] < high[2] + high[5]
