"""Screws, nuts, clips, pins, latches: each kind once, and the sets that hold an item."""

from __future__ import annotations

from typing import Any

from benchleaf import nodes, refs
from benchleaf.frozen import dataclass
from benchleaf.records.entry import Entry, an_id, or_none
from benchleaf.records.observed import Value, value
from benchleaf.records.reading import (
    Desk,
    Misfit,
    Reader,
    ids_to,
    key,
    listing,
    one_of,
    table,
    wants,
)
from benchleaf.records.types import (
    Choices,
    a_count,
    a_number,
    a_text,
    a_word,
    id_of,
    numbers,
    quantity,
    some_choices,
    yes_no,
)
from benchleaf.text import Text
from benchleaf.values.quantity import Dimension, Quantity

_time = quantity(Dimension.TIME)
SCREW_KINDS = ("screw", "nut", "clip", "pin", "latch")
MATERIALS = ("steel", "brass", "aluminium", "plastic", "unknown")
SAMPLE_SEQUENCE = "[1, 3, 2, 4]"


def _sequence(node: nodes.Node, desk: Desk) -> tuple[int, ...] | str | Misfit:
    if isinstance(node, nodes.Scalar) and node.text == "cross":
        return "cross"
    return (
        _counts.read(node, desk)
        if isinstance(node, nodes.Sequence)
        else wants(desk, "a list of numbers, or `cross`", node)
    )


_counts = listing(a_count, "a list of whole numbers", single=False)
tightening_order: Reader[Any] = Reader(
    "a list of numbers, or `cross`",
    _sequence,
    lambda: {"anyOf": [{"const": "cross"}, {"type": "array"}]},
    SAMPLE_SEQUENCE,
    "zigzag",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FastenerKeys(Entry):
    """The keys of a fastener, which a fastener set may override."""

    kind: str | None = key(one_of({k: k for k in SCREW_KINDS}, "a kind of fastener"), "what it is", left_out="screw")
    thread: Text | None = key(a_word, "thread size, such as M3")
    length: Value | None = key(value(Dimension.LENGTH), "length under the head (of a countersunk screw, over all)")
    head: Text | None = key(a_text, "head form, such as hex, cap, pan, countersunk")
    drive: Text | None = key(a_word, "driver bit: `hex 2.5`, `PH1`, `TX10`, or none")
    class_: Text | None = key(a_word, "property class, such as 8.8, A2-70", name="class")
    into: str | None = key(
        one_of({m: m for m in MATERIALS}, "a material"),
        "the material it screws into",
        left_out="plastic (not recorded)",
    )
    engaged: Value | None = key(value(Dimension.LENGTH), "length of thread engaged")
    captive: bool | None = key(yes_no, "stays in its item and is never removed", left_out="no")
    release: str | None = key(
        one_of({"remove": "remove", "loosen": "loosen"}, "`remove` or `loosen`"),
        "what lets its item go",
        left_out="remove; loosen when captive",
    )
    torque: Value | None = key(value(Dimension.TORQUE), "tightening torque")
    friction: float | None = key(a_number, "friction of thread and head")
    strips_at: Value | None = key(value(Dimension.TORQUE), "torque at which the thread was seen to strip")
    must_hold: Value | None = key(value(Dimension.FORCE), "clamping force it must keep")
    sequence: tuple[int, ...] | str | None = key(tightening_order, "order of tightening")
    at: tuple[tuple[float, ...], ...] | None = key(
        listing(numbers(3, "three numbers `[x, y, z]` in mm", "[10, 20, 0]"), single=False),
        "where each one is, in mm (on a set)",
    )
    renew: Text | None = key(a_text, "`always`, or after how long", left_out="none")
    takes: Quantity | None = key(_time, "time for each one", left_out="the shop's `times`")
    tool: Text | None = key(a_text, "the tool, for a clip, pin or latch", left_out="hand")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener(FastenerKeys):
    """A kind of screw, nut, clip, pin or latch, declared once."""

    name: Text | None = key(a_text, "what it is called at the bench")
    part_number: Text | None = key(a_word, "part number")


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldBy(FastenerKeys):
    """A fastener set: fasteners of one kind at one place. ``{tray-screw: 2}`` = two of fastener ``tray-screw``."""

    count: int = key(a_count, "how many", required=True)
    fastener: refs.FastenerRef | None = key(
        id_of(refs.FastenerRef), "the fastener", left_out="the fastener of the set's name"
    )
    reach: Choices | None = key(
        some_choices, "what is out of the way before it can be touched", left_out="that of its item"
    )


_held_row = table(HeldBy, "a fastener set", short="count", good="{count: 4}", bad="many")
fastener_sets = or_none(ids_to(_held_row, an_id, "a table such as `{cover-screw: 4}`"), {})
