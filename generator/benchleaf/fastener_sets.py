"""Fastener sets: what a set is once its own keys and those of its fastener are put together.

Unknown is never mild: material not recorded counts as plastic, thread not recorded as the same as any other.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from typing import Any

from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass
from benchleaf.records.fasteners import Fastener, HeldBy
from benchleaf.records.observed import Value
from benchleaf.records.types import Choices
from benchleaf.values.quantity import Quantity

HAND = "hand"
DRIVEN = ("screw", "nut")


@dataclass(frozen=True, slots=True, kw_only=True)
class FastenerSet:
    """Fasteners of one kind at one place. ``name`` is ``item.own``; ``release`` is the verb that lets its item go.

    ``tool`` is a driver bit, a tool, ``hand``, or ``None`` = not recorded.
    """

    name: str
    item: str
    own: str
    count: int
    place: Place
    fastener: str
    fastener_place: Place
    kind: str = "screw"
    label: str = ""
    thread: str | None = None
    length: Value | None = None
    head: str | None = None
    drive: str | None = None
    class_: str | None = None
    into: str | None = None
    engaged: Value | None = None
    captive: bool = False
    release: str = "remove"
    torque: Value | None = None
    friction: float | None = None
    strips_at: Value | None = None
    must_hold: Value | None = None
    sequence: tuple[int, ...] | str | None = None
    at: tuple[tuple[float, ...], ...] | None = None
    renew: str | None = None
    takes: Quantity | None = None
    tool: str | None = None
    reach: Choices | None = None
    part_number: str | None = None
    said: Mapping[str, Place] = field(default_factory=dict, repr=False, compare=False, hash=False)
    """Key of the record → where it is said: on the set itself, else on its fastener."""

    @property
    def look(self) -> tuple[str | None, str | None, str | None]:
        """What can be told apart by eye beside the length: head, drive, thread (not recorded = may be the same)."""
        return (self.head, self.drive, self.thread)


_PLAIN = (
    "kind", "thread", "length", "head", "drive", "class_", "into", "engaged", "captive", "release", "torque",
    "friction", "strips_at", "must_hold", "sequence", "at", "renew", "takes", "tool",
)  # fmt: skip


def make_set(item: str, own: str, held: HeldBy, fastener: Fastener | None) -> FastenerSet:
    """A set from what the item says of it and, where that is left out, what its fastener says."""
    said: dict[str, Any] = {}
    places: dict[str, Place] = {}
    for part in _PLAIN:
        for row in (held, fastener):
            value = getattr(row, part, None)
            if row is not None and value is not None:
                name = part.rstrip("_").replace("_", "-")
                said[part], places[name] = value, row.place_of(name)
                break
    kind = said.get("kind", "screw")
    captive = bool(said.get("captive", False))
    said["release"] = said.get("release", "loosen" if captive else "remove")
    if "tool" not in said:
        said["tool"] = _tool(kind, said.get("drive"))
    return FastenerSet(
        name=f"{item}.{own}",
        item=item,
        own=own,
        count=held.count,
        place=held.place,
        fastener=str(held.fastener or own),
        fastener_place=fastener.place if fastener is not None else held.place,
        label=str(fastener.name or "") if fastener is not None else "",
        reach=held.reach,
        part_number=fastener.part_number if fastener is not None else None,
        said=places,
        **said,
    )


def _tool(kind: str, drive: str | None) -> str | None:
    if kind in DRIVEN:
        return HAND if drive == "none" else drive
    return HAND
