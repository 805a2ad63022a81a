"""What the parse stage hands on: the author's text as nodes that know where they stand. No meaning yet."""

from __future__ import annotations

from typing import TypeAlias

from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Scalar:
    """Characters as typed (``012`` stays ``012``). ``style`` is ``plain``, ``quoted`` or ``block``.

    ``place`` covers the quotes of a quoted one, and only the ``|`` or ``>`` of a block. ``comment_after``
    is where a comment follows unquoted characters on the same line: harmless after a value, an error after
    prose.
    """

    text: str
    place: Place
    style: str = "plain"
    comment_after: Place | None = None


@dataclass(frozen=True, slots=True)
class Sequence:
    """A list; ``flow`` is true for one written between brackets."""

    items: tuple[Node, ...]
    place: Place
    flow: bool = False


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys and values in the order typed. A key is always a scalar; the parser has refused double keys."""

    entries: tuple[tuple[Scalar, Node], ...]
    place: Place
    flow: bool = False

    def get(self, key: str) -> Node | None:
        return next((value for name, value in self.entries if name.text == key), None)


Node: TypeAlias = Scalar | Sequence | Mapping
