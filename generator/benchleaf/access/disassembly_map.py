"""What must go before what: the whole machine as built on one page, for planning a way in before a screw is turned."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.access.paths import access_path
from benchleaf.access.ways import Ways
from benchleaf.access.words import Words
from benchleaf.frozen import dataclass
from benchleaf.physical.crossing import Crossing, travel_of
from benchleaf.physical.instructions import NOT_RECORDED, kind_words
from benchleaf.records.types import Choices


@dataclass(frozen=True, slots=True)
class Placed:
    """An item out of the way: off, or drawn to ``position`` where one is named; ``words`` is what it is called."""

    item: str
    words: str
    position: str = ""


Option = tuple[Placed, ...]
Clause = tuple[Option, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MapRow:
    """One item of the map.

    ``behind`` is what is out of the way before it comes off, ``reach`` before it can be touched: all clauses, of each
    any option, of that all items. ``held_by`` and ``parted`` are words; ``None`` = not recorded, ``()`` = nothing.
    ``moves`` are its positions with what they need. Times in seconds, of the shortest way by the facts alone; ``None``
    where there is none, with ``why`` in words. ``never_moves``: the frame.
    """

    item: str
    words: str
    sits_in: str
    behind: tuple[Clause, ...] | None
    reach: tuple[Clause, ...] | None
    held_by: tuple[str, ...] | None
    parted: tuple[str, ...]
    moves: tuple[str, ...]
    reach_time: float | None
    remove_time: float | None
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DisassemblyMap:
    """The map of one machine as built: a row an item, those reached first above."""

    machine: str
    title: str
    configuration: str
    rows: tuple[MapRow, ...]


def disassembly_map(ways: Ways) -> DisassemblyMap:
    """The map of a machine in one configuration."""
    rows = [_row(ways, Words(ways), name) for name in ways.removable]
    name = str(ways.built.machine.name)
    return DisassemblyMap(
        machine=str(ways.built.machine.id),
        title=f"What goes before what: {name}",
        configuration=ways.built.configuration.label,
        rows=tuple(sorted(rows, key=_order)),
    )


def _order(row: MapRow) -> tuple[bool, float, str]:
    return (row.remove_time is None, row.remove_time or 0.0, row.item)


def _row(ways: Ways, words: Words, name: str) -> MapRow:
    built = ways.built
    behind_known = any(built.items[one].behind is not None for one in ways.ground.chain(name))
    reach_known = behind_known or built.items[name].reach is not None
    reached, removed = access_path(ways, name, "reach"), access_path(ways, name, "remove")
    return MapRow(
        item=name,
        words=called(words, name),
        sits_in=called(words, parent) if (parent := built.parent(name)) is not None else "",
        behind=_clauses(words, built.behind(name)) if behind_known else None,
        reach=_clauses(words, built.reach(name)) if reach_known else None,
        held_by=None if built.held_unknown(name) else tuple(_held(ways, name)),
        parted=tuple(_parted(one) for one in ways.ground.crossings(name)),
        moves=tuple(_moves(ways, name)),
        reach_time=reached.time if reached.is_reached else None,
        remove_time=removed.time if removed.is_reached else None,
        why=removed.out_of_reach,
    )


def called(words: Words, name: str) -> str:
    """``feed motor (M2)``."""
    return words.item(name).removeprefix("the ")


def _clauses(words: Words, choices: Choices) -> tuple[Clause, ...]:
    """A choice list for this machine; a clause that an item not on it meets is left out."""
    made = []
    for clause in choices:
        options = tuple(
            tuple(
                Placed(str(one.item), called(words, one.item), str(one.position))
                for one in option
                if one.item in words.built.items
            )
            for option in clause
        )
        if all(options):
            made.append(options)
    return tuple(made)


def _held(ways: Ways, name: str) -> Iterator[str]:
    for one in ways.built.sets_of(name):
        many = f"{one.count} × " if one.count != 1 else ""
        tool = one.tool if one.tool is not None else f"drive {NOT_RECORDED}"
        yield f"{many}{kind_words(one)} ({tool})"


def _parted(one: Crossing) -> str:
    """A cable or line and where it is opened: ``W4 at A1-J2, or at A2-J1 and tie t1``."""
    ways = []
    for ends, ties in ((one.inner, one.inner_ties), (one.outer, one.outer_ties)):
        if all(end.opens for end in ends):
            parts = [*(f"at {end.at}" for end in ends), *(f"tie {tie}" for tie in ties)]
            ways.append(" and ".join(parts))
    return f"{one.id} {', or '.join(ways)}" if ways else f"{one.id}: nothing recorded of it can be opened"


def _moves(ways: Ways, name: str) -> Iterator[str]:
    """A position, how it is got to, and what follows along: ``service: pull back 140 mm, joined: W3, W8``."""
    for position in ways.built.items[name].positions.values():
        way = str(position.motion.text) if position.motion is not None else f"motion {NOT_RECORDED}"
        travel = travel_of(position.motion)
        joined = [c.id for c in ways.ground.crossings(name) if c.is_joined_across and c.follows(travel)]
        stays = f", with {', '.join(joined)} joined" if joined else ""
        yield f"{position.id}: {way}{stays}"


def clause_words(clause: Clause) -> str:
    """``the top shell``, ``A or B``, ``A and B, or C``; what is drawn out says where to."""
    options = [" and ".join(placed_words(one) for one in option) for option in clause]
    joiner = ", or " if any(len(option) > 1 for option in clause) else " or "
    return joiner.join(options)


def placed_words(one: Placed) -> str:
    return f"{one.words} at {one.position}" if one.position else one.words
