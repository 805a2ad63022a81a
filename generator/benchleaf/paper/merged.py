"""Lists made for several configurations as one list: what is the same stands once, what differs names its machines."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from difflib import SequenceMatcher
from typing import TypeVar

T = TypeVar("T", bound=Hashable)
C = TypeVar("C", bound=Hashable)


def merged(lists: Iterable[tuple[C, Sequence[T]]]) -> list[tuple[T, frozenset[C]]]:
    """Every entry of every list in an order that keeps that of each list, with the configurations it is for.

    ``lists`` are (configuration, entries); equal entries in the same place of the order are one.
    """
    result: list[tuple[T, frozenset[C]]] = []
    for configuration, entries in lists:
        mine = frozenset((configuration,))
        known = [entry for entry, _ in result]
        made: list[tuple[T, frozenset[C]]] = []
        for _, old, old_end, new, new_end in SequenceMatcher(None, known, list(entries), autojunk=False).get_opcodes():
            same = known[old:old_end] == list(entries[new:new_end])
            if same:
                made += [(entry, on | mine) for entry, on in result[old:old_end]]
            else:
                made += result[old:old_end]
                made += [(entry, mine) for entry in entries[new:new_end]]
        result = made
    return result


def by_value(pairs: Iterable[tuple[C, T]]) -> list[tuple[T, frozenset[C]]]:
    """The different values in the order met, each with the configurations that have it."""
    found: dict[T, set[C]] = {}
    for configuration, value in pairs:
        found.setdefault(value, set()).add(configuration)
    return [(value, frozenset(on)) for value, on in found.items()]
