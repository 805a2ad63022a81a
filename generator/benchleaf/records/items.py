"""Items: what each thing is, where it sits, what it is behind, what holds it, what it keeps."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

from benchleaf import nodes, refs
from benchleaf.frozen import dataclass
from benchleaf.records.entry import Entry, an_id, or_none
from benchleaf.records.fasteners import HeldBy, fastener_sets
from benchleaf.records.observed import Value, value
from benchleaf.records.reading import (
    Desk,
    Reader,
    Row,
    ids_to,
    key,
    listing,
    table,
)
from benchleaf.records.types import (
    Choices,
    Motion,
    a_count,
    a_motion,
    a_text,
    a_word,
    an_item,
    contact_ref,
    id_of,
    numbers,
    quantity,
    some_choices,
    some_prose,
)
from benchleaf.text import Text
from benchleaf.values.quantity import Dimension, Quantity

ANY_TIME: Literal["any time"] = "any time"
NEVER: Literal["never"] = "never"
_time = quantity(Dimension.TIME)


@dataclass(frozen=True, slots=True, kw_only=True)
class Position(Row):
    """A place an item is drawn to without coming off."""

    id: Text = Text("")
    motion: Motion | None = key(a_motion, "how it gets there")
    needs: tuple[Text, ...] | None = key(
        listing(an_id, none=True), "the sets of the item released before this move", left_out="all"
    )
    behind: Choices | None = key(some_choices, "what is out of the way before this move", left_out="that of the item")


def _rests(node: nodes.Node, desk: Desk) -> Any:
    if isinstance(node, nodes.Scalar) and node.text in (ANY_TIME, NEVER):
        return node.text
    return _time.read(node, desk)


rest_time: Reader[Any] = Reader(
    "`any time`, a time, or `never`", _rests, lambda: {"type": "string"}, "30 min", "sometimes"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Item(Entry):
    """Physical thing of any kind."""

    name: Text = key(a_text, "what it is called", required=True)
    part_number: Text | None = key(a_word, "part number")
    in_: refs.ItemRef | None = key(
        an_item, "the item it sits in and moves with", name="in", left_out="the frame, which never moves"
    )
    behind: Choices | None = key(some_choices, "what is out of the way before it comes off", left_out="that of `in`")
    reach: Choices | None = key(
        some_choices,
        "what is out of the way before its fasteners, connectors, joints and test points can be touched",
        left_out="its `behind`",
    )
    supports: tuple[refs.ItemRef, ...] | None = key(listing(an_item, none=True), "what would fall or tip without it")
    held_by: Mapping[str, HeldBy] | None = key(fastener_sets, "its fastener sets", left_out="held by something unknown")
    comes_off: tuple[Motion, ...] | None = key(
        listing(a_motion),
        "the motions that take it off, in order",
        left_out="one motion, direction not recorded",
    )
    positions: Mapping[str, Position] = key(
        ids_to(table(Position, "a position", good="{motion: pull front 140 mm}"), an_id, "a table of positions"),
        "where it can be drawn to",
        default=dict,
        left_out="none",
    )
    settings: Text | None = key(a_text, "settings kept in it: back up before removal, restore after")
    paired_with: tuple[refs.ItemRef, ...] | None = key(listing(an_item, none=True), "items its settings belong with")
    mass: Value | None = key(value(Dimension.MASS), "its mass")
    persons: int | None = key(a_count, "persons needed to handle it", left_out="1")
    handling: tuple[refs.SafetyRef, ...] | None = key(
        listing(id_of(refs.SafetyRef), none=True), "safety messages at every step that touches it"
    )
    hazards: tuple[refs.SafetyRef, ...] | None = key(
        listing(id_of(refs.SafetyRef), none=True), "safety messages at every step that exposes it"
    )
    rests: Quantity | str | None = key(
        rest_time, "how long it may stay open or off", left_out="not recorded: do not stop"
    )
    renew: Text | None = key(a_text, "`always` = mandatory replacement; or wear life such as `2000 h`", left_out="none")
    values: Mapping[str, Value] = key(
        ids_to(value(), an_id, "a table of values", take_id=False),
        "recorded values of it",
        default=dict,
        left_out="none",
    )
    metal_earth: refs.ContactRef | str | None = key(
        or_none(contact_ref, "none"), "exposed metal: the contact of its protective conductor"
    )
    cut_out: refs.ItemRef | str | None = key(
        or_none(an_item, "none"), "heater: its independent over-temperature cut-out"
    )
    takes: Quantity | None = key(_time, "time to take it off, fasteners not counted", left_out="the shop's `times`")
    box: tuple[float, ...] | None = key(
        numbers(6, "six numbers `[x, y, z, width, depth, height]` in mm", "[0, 0, 0, 100, 80, 40]"),
        "where it is and how big",
    )
    holds: Text | None = key(a_text, "a vessel: the fluid in it")
    circuit: refs.CircuitRef | None = key(id_of(refs.CircuitRef), "a vessel: its fluid circuit")
    supplier: Text | None = key(a_text, "who sells it")
    alternatives: tuple[Text, ...] | None = key(listing(a_text, none=True), "part numbers that serve as well")
    note: Text | None = key(some_prose, "anything worth knowing")
