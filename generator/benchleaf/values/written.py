"""Every quantity a record holds, wherever it stands: what it is in words, what was written, and where.

Checks and the test that follows every number to its line both walk records this way, so that no table of the language
has to be named here.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Any, cast

from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass
from benchleaf.records.energy import Bleed, Store
from benchleaf.records.observed import Value
from benchleaf.records.reading import Row, Where, keys_of
from benchleaf.records.types import Applies
from benchleaf.records.wiring import Join
from benchleaf.references import TEXTS, all_of
from benchleaf.text import NOWHERE, Text
from benchleaf.values.observations import Observation
from benchleaf.values.origin import Origin
from benchleaf.values.quantity import Quantity
from benchleaf.values.recorded import observations_of, origin_in

_PLAIN = (str, int, float, Applies, Place)
"""What holds no quantity."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """One quantity of a record. ``words`` says which: ``torque of tray-screw``, ``cold of F1``.

    ``value`` holds its observations; a quantity that is written plainly has none, and stands at ``place``. ``between``
    are the two contacts it lies between, ``applies`` the machines it is for, where the record says so.
    """

    words: str
    place: Place
    value: Value | None = None
    plain: Quantity | None = None
    between: tuple[str, ...] = ()
    applies: Applies | None = None

    @property
    def observations(self) -> tuple[Observation, ...]:
        """What was seen, each with its place; a plain quantity is one observation of unrecorded origin."""
        if self.value is not None:
            return observations_of(self.value)
        return (Observation(quantity=self.plain, place=self.place),)

    @property
    def origins(self) -> tuple[Origin | None, ...]:
        """The end of the chain of each quantity written here; ``None`` is a gap."""
        return tuple(origin_in(one) for one in self.observations if one.quantity is not None)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Way:
    """Where the walk is: the owner's name so far, the key, and the row that knows where the key stands."""

    owner: tuple[str, ...] = ()
    key: str = ""
    place: Place = NOWHERE
    between: tuple[str, ...] = ()
    applies: Applies | None = None

    @property
    def words(self) -> str:
        name = ".".join(self.owner)
        return f"{self.key} of {name}" if name and self.key else name or self.key or "value"


def written_in(record: Any, name: str = "") -> Iterator[Written]:
    """Every quantity in a record or a part of one; ``name`` is the name of the part, ``F1``, where it has one."""
    if holds_quantity(record):
        yield from _walk(record, _Way(owner=(name,) if name else ()))


def holds_quantity(found: Any) -> bool:
    """Whether there is a quantity anywhere in a part of a record: most steps have none, and need no slow walk."""
    how, fields_of = _holder(type(found))  # type: ignore[arg-type]  # a class is hashable
    if how == "no":
        return False
    if how == "yes":
        return True
    if how == "row" and fields_of is not None:
        found = fields_of(found)
    elif how == "table":
        found = found.values()
    return any(map(holds_quantity, [one for one in found if one.__class__ not in TEXTS and one != ()]))


@cache
def _holder(kind: Hashable) -> tuple[str, Callable[[Any], tuple[Any, ...]] | None]:
    made = cast(type, kind)
    if issubclass(made, Value | Quantity):
        return "yes", None
    if issubclass(made, str | int | float | frozenset | Applies | Place) or made is type(None):
        return "no", None
    if issubclass(made, tuple | list):
        return "parts", None
    if issubclass(made, Mapping):
        return "table", None
    names = _parts(kind) if is_dataclass(made) else ()
    return ("row", all_of(*names)) if names else ("no", None)


def _walk(found: Any, way: _Way) -> Iterator[Written]:
    if isinstance(found, Value):
        between = tuple(str(one) for one in found.between or ()) or way.between
        yield Written(words=way.words, place=found.place, value=found, between=between, applies=way.applies)
    elif isinstance(found, Quantity):
        yield Written(words=way.words, place=way.place, plain=found, applies=way.applies)
    elif isinstance(found, Where):
        yield from _walk_keys(found.changes, found.said, replace(way, applies=found.applies, place=found.place))
    elif isinstance(found, Row):
        yield from _walk_row(found, way)
    elif isinstance(found, Mapping):
        for name, one in found.items():
            yield from _walk(one, _named(way, name, one))
    elif isinstance(found, tuple | list):
        for number, one in enumerate(found):
            if isinstance(one, _PLAIN):
                continue
            yield from _walk(one, _numbered(way, number, one))
    elif is_dataclass(found):
        own = getattr(found, "place", None)
        place = own if isinstance(own, Place) else way.place
        for part in _parts(cast(Hashable, type(found))):
            held = getattr(found, part)
            if held and not isinstance(held, _PLAIN):
                yield from _walk(held, replace(way, place=place))


def _walk_row(row: Row, way: _Way) -> Iterator[Written]:
    between = getattr(row, "between", None) if isinstance(row, Bleed | Join | Store) else None
    inner = replace(
        way,
        place=row.place,
        between=tuple(str(one) for one in between or ()),
        applies=getattr(row, "applies", None) or way.applies,
    )
    for name, (part, _) in keys_of(cast(Hashable, type(row))).items():
        found = getattr(row, part)
        if found and not isinstance(found, _PLAIN):
            yield from _walk(found, replace(inner, key=name, place=row.place_of(name)))


def _walk_keys(changes: Mapping[str, Any], said: Mapping[str, Place], way: _Way) -> Iterator[Written]:
    for part, one in changes.items():
        name = part.rstrip("_").replace("_", "-")
        yield from _walk(one, replace(way, key=name, place=said.get(name, way.place)))


def _named(way: _Way, name: str, one: Any) -> _Way:
    """A value under a name of the author's is called by that name; a row there gives its name to what it holds."""
    if isinstance(one, Value | Quantity):
        place = name.place if isinstance(name, Text) else way.place
        return replace(way, key=f"{way.key} of {name}" if isinstance(one, Quantity) else str(name), place=place)
    return replace(way, owner=(*way.owner, str(name)), key="")


def _numbered(way: _Way, number: int, one: Any) -> _Way:
    if isinstance(one, Store) and one.in_ is not None:
        return replace(way, owner=(f"what {one.in_} stores",))
    if isinstance(one, Row) and way.key == "steps":
        return replace(way, owner=(*way.owner, f"step {number + 1}"), key="")
    return way


@cache
def _parts(kind: Hashable) -> tuple[str, ...]:
    return tuple(one.name for one in fields(cast(Any, kind)) if one.name not in ("place", "said"))
