"""What every entry under an id shares: its id, the machines that have it, where its keys differ."""

from __future__ import annotations

from typing import Any

from benchleaf import nodes
from benchleaf.frozen import dataclass
from benchleaf.records.reading import (
    WHERE,
    Desk,
    Reader,
    Row,
    Where,
    key,
)
from benchleaf.records.types import (
    Applies,
    for_machines,
    id_of,
)
from benchleaf.text import Text

an_id: Reader[Text] = id_of()


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry(Row):
    """Anything with an id: which machines have it, and where its keys differ."""

    id: Text = Text("")
    applies: Applies | None = key(for_machines, "the machines that have it", left_out="all, or those of its host")
    where: tuple[Where, ...] = key(WHERE, "for these machines, these keys replace its own", default=(), left_out="none")


def or_none(reader: Reader[Any], empty: Any = ()) -> Reader[Any]:
    """``reader``, or the word ``none``: looked, there is none (read as ``empty``)."""

    def read(node: nodes.Node, desk: Desk) -> Any:
        return empty if isinstance(node, nodes.Scalar) and node.text == "none" else reader.read(node, desk)

    return Reader(
        f"{reader.words}, or `none`",
        read,
        lambda: {"anyOf": [{"const": "none"}, reader.schema()]},
        reader.good,
        reader.bad,
    )
