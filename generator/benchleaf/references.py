"""Every reference a record makes, found by walking its values, wherever they stand."""

from __future__ import annotations

import dataclasses
from collections.abc import Hashable, Iterator, Mapping
from functools import cache
from typing import Any, cast

from benchleaf import refs
from benchleaf.records.reading import Where
from benchleaf.records.types import Applies
from benchleaf.text import Text

REFERENCE_CLASSES = (
    refs.IdRef, refs.ItemRef, refs.SetRef, refs.PlacedRef, refs.ConnectorRef, refs.ContactRef, refs.EndRef,
)  # fmt: skip


@cache
def _parts(kind: Hashable) -> tuple[str, ...]:
    return tuple(one.name for one in dataclasses.fields(kind)) if dataclasses.is_dataclass(kind) else ()


def references(value: Any) -> Iterator[Text | Applies]:
    """The references and applicabilities in ``value`` and all it holds, in the order written."""
    if value is None or isinstance(value, bool | int | float):
        return
    if isinstance(value, str):
        if isinstance(value, REFERENCE_CLASSES):
            yield value
        return
    if isinstance(value, Applies):
        yield value
        return
    if isinstance(value, tuple | list):
        for one in value:
            yield from references(one)
        return
    if isinstance(value, Where):
        yield from references(value.applies)
        yield from references(value.changes)
        return
    if isinstance(value, Mapping):
        for one in value.values():
            yield from references(one)
        return
    for name in _parts(cast(Hashable, type(value))):
        if name not in ("place", "said"):
            yield from references(getattr(value, name))
