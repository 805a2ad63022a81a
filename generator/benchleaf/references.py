"""Every reference a record makes, found by walking its values, wherever they stand."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Hashable, Mapping
from dataclasses import is_dataclass
from functools import cache
from operator import attrgetter
from typing import Any, cast

from benchleaf import refs
from benchleaf.diagnostics import Place
from benchleaf.records.types import Applies
from benchleaf.text import Text
from benchleaf.values.quantity import Quantity

REFERENCE_CLASSES = (
    refs.IdRef, refs.ItemRef, refs.SetRef, refs.PlacedRef, refs.ConnectorRef, refs.ContactRef, refs.EndRef,
)  # fmt: skip
_NOTHING, _FOUND, _MANY, _TABLE, _ROW = range(5)
_NEVER_LED_THROUGH = (str, bool, int, float, frozenset, type(None), Quantity, Place)
TEXTS = frozenset({str, Text, bool, int, Place, type(None)})
"""What most fields hold: passed by without a call, as every value of every record comes through here."""
_NOT_KEYS = ("place", "said", "unsure", "text")  # a text is what was typed; what it names has fields of its own


@cache
def _kind(kind: Hashable) -> tuple[int, Callable[[Any], tuple[Any, ...]] | None]:
    """How values of a class are walked, and what gives the fields to walk when it is a row."""
    made = cast(type, kind)
    if issubclass(made, (*REFERENCE_CLASSES, Applies)):
        return _FOUND, None
    if issubclass(made, _NEVER_LED_THROUGH):
        return _NOTHING, None
    if issubclass(made, tuple | list):
        return _MANY, None
    if issubclass(made, Mapping):
        return _TABLE, None
    names = [one.name for one in dataclasses.fields(made) if one.name not in _NOT_KEYS] if is_dataclass(made) else []
    return (_ROW, all_of(*names)) if names else (_NOTHING, None)


def all_of(*names: str) -> Callable[[Any], tuple[Any, ...]]:
    """What gives all these fields of a value at once: walking every record is mostly fetching its fields."""
    fetch = attrgetter(*names)
    return fetch if len(names) > 1 else lambda one: (fetch(one),)


def references(value: Any) -> list[Text | Applies]:
    """The references and applicabilities in ``value`` and all it holds, in the order of its fields."""
    found: list[Text | Applies] = []
    _collect(value, found)
    return found


def _collect(value: Any, found: list[Text | Applies]) -> None:
    how, fields = _kind(type(value))  # type: ignore[arg-type]  # a class is hashable
    if how == _FOUND:
        found.append(value)
    elif how == _ROW and fields is not None:
        for inner in fields(value):
            if inner.__class__ not in TEXTS and inner != ():
                _collect(inner, found)
    elif how == _MANY:
        for one in value:
            _collect(one, found)
    elif how == _TABLE:
        for one in value.values():
            _collect(one, found)
