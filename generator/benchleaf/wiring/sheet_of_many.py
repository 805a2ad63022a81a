"""One part of the energy-control sheets of several machines, put together: what is common first, then what differs.

Nothing is left out: a line is told for exactly the machines it is true on. Lists that differ in a few things (where an
energy is, what stays live) are told once, and what only some machines have besides stands in a line of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from benchleaf.applicability import Configuration
from benchleaf.frozen import dataclass
from benchleaf.wiring.control_sheet import Listing, SheetLine, more_words


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldLine:
    """A line and the machines it is true on. ``stem`` and ``listed`` where it lists things."""

    words: str
    energy: str
    gap: bool
    on: frozenset[Configuration]
    stem: str = ""
    listed: tuple[str, ...] = ()


def common_first(sheets: Sequence[tuple[Configuration, Iterable[SheetLine]]]) -> tuple[ToldLine, ...]:
    """The lines of one part over all machines: those of every machine first, then those of some, together."""
    everyone = frozenset(on for on, _ in sheets)
    plain: dict[SheetLine, set[Configuration]] = {}
    lists: dict[tuple[str, str, bool], list[tuple[Configuration, Listing]]] = {}
    order: dict[SheetLine | tuple[str, str, bool], None] = {}
    for on, lines in sheets:
        for line in lines:
            if line.listing is None:
                plain.setdefault(line, set()).add(on)
                order[line] = None
            else:
                key = (line.listing.stem, line.energy, line.gap)
                lists.setdefault(key, []).append((on, line.listing))
                order[key] = None
    told: list[ToldLine] = []
    for one in order:
        if isinstance(one, SheetLine):
            told.append(ToldLine(words=one.words, energy=one.energy, gap=one.gap, on=frozenset(plain[one])))
        else:
            told += _together(*one, lists[one])
    first = {on: number for number, on in enumerate(dict.fromkeys(one.on for one in told))}
    return tuple(sorted(told, key=lambda one: (one.on != everyone, first[one.on])))


def _together(stem: str, energy: str, gap: bool, some: Sequence[tuple[Configuration, Listing]]) -> Iterator[ToldLine]:
    """The lists of several machines as one that all of them share, and one for each set of machines that has more."""
    has: dict[str, set[Configuration]] = {}
    for on, listing in some:
        for thing in listing.listed:
            has.setdefault(thing, set()).add(on)
    whole = frozenset(on for on, _ in some)
    groups: dict[frozenset[Configuration], list[str]] = {whole: []}
    for thing, where in has.items():
        groups.setdefault(frozenset(where), []).append(thing)
    colon = "" if stem.endswith(" for") else ":"
    by_kind = list(zip(*(listing.more for _, listing in some), strict=True))
    least = (min(by_kind[0]), min(by_kind[1]), min(by_kind[2]))
    most = (max(by_kind[0]), max(by_kind[1]), max(by_kind[2]))
    for machines, things in groups.items():
        if machines == whole:
            listed = ", ".join(things) or "what differs stands below"
            words = f"{stem}{colon} {listed}{more_words(least, most)}"
        else:
            words = f"{_also(stem)}{colon} {', '.join(things)}"
        yield ToldLine(words=words, energy=energy, gap=gap, on=machines, stem=stem, listed=tuple(things))


def _also(stem: str) -> str:
    """``Mains is also at``, ``1. unplug XP1, also for``; else the stem with ``also`` behind it."""
    for end in (" at", " for"):
        if stem.endswith(end):
            return f"{stem.removesuffix(end)} also{end}"
    return f"{stem}, also"
