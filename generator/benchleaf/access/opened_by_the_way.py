"""While you are in there: wear items that a way lays open, and what has to be new because it was taken off."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from benchleaf.access.paths import Access
from benchleaf.access.ways import Ways
from benchleaf.access.words import Words
from benchleaf.frozen import dataclass
from benchleaf.physical.effects import ALWAYS
from benchleaf.physical.instructions import kind_words
from benchleaf.physical.least_path import AccessPath, least_path

How = Literal["taken off on the way", "within reach"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ByTheWay:
    """Something to look at, or to renew, while a machine is open.

    ``what`` is an item or a fastener set; ``renew`` its wear life as recorded (``2000 h``), or ``always``: then
    ``is_owed``, it goes back new whatever its age. ``extra`` is the time to take it off as well, in seconds; ``None``
    where there is no way.
    """

    what: str
    words: str
    renew: str
    how: How
    is_owed: bool
    extra: float | None


def opened_by_the_way(ways: Ways, access: Access) -> tuple[ByTheWay, ...]:
    """What a path lays open besides its own item: owed first, then what is off, then what is within reach, by name."""
    works = frozenset(one.id for one in access.works)
    done = ways.done(works) if access.is_reached else frozenset()
    words = Words(ways)
    found = []
    for name, item in ways.built.items.items():
        if item.renew is None or name == access.item:
            continue
        is_off = f"off:{name}" in works
        is_always = item.renew == ALWAYS
        is_inside = bool(ways.built.reach(name))
        if is_off or (is_inside and not is_always and f"reach:{name}" in done):
            how: How = "taken off on the way" if is_off else "within reach"
            extra = 0.0 if is_off else _extra(ways, works, name)
            found.append(_made(name, words.item(name), str(item.renew), how, is_off and is_always, extra))
    for name, one in ways.built.sets.items():
        if one.renew is not None and f"un:{name}" in works:
            said = f"{one.count} {kind_words(one)} of {words.item(one.item)}"
            found.append(_made(name, said, one.renew, "taken off on the way", one.renew == ALWAYS, 0.0))
    return tuple(sorted(found, key=lambda one: (not one.is_owed, one.how != "taken off on the way", one.what)))


def _made(what: str, words: str, renew: str, how: How, is_owed: bool, extra: float | None) -> ByTheWay:
    return ByTheWay(what=what, words=words, renew=renew, how=how, is_owed=is_owed, extra=extra)


def _extra(ways: Ways, works: frozenset[str], item: str) -> float | None:
    """The time to take an item off when ``works`` are done already."""
    operations = {
        name: replace(one, time=0.0) if name in works else one for name, one in ways.dead_network.operations.items()
    }
    found = least_path(operations, (f"off:{item}",))
    return found.time if isinstance(found, AccessPath) else None
