"""machine.yaml: what the machine is made of, what holds it, what can hurt, and how serials differ."""

from __future__ import annotations

from collections.abc import Mapping

from benchleaf.frozen import dataclass
from benchleaf.records.energy import Energy
from benchleaf.records.entry import an_id
from benchleaf.records.fasteners import Fastener
from benchleaf.records.items import Item
from benchleaf.records.lines import Adjuster, AsFound, Line, ReturnCheck, Tie
from benchleaf.records.reading import (
    Row,
    ids_to,
    key,
    listing,
    table,
)
from benchleaf.records.types import (
    Applies,
    a_text,
    a_word,
    for_machines,
    item_id,
    some_prose,
)
from benchleaf.text import Text


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant(Row):
    """A difference of the maker's."""

    id: Text = Text("")
    is_: Text | None = key(a_text, "what is different", name="is")
    serials: Applies | None = key(for_machines, "its serials; a single serial beats a range")
    tell: Text | None = key(a_text, "a question answered from outside, to tell it from the others")


@dataclass(frozen=True, slots=True, kw_only=True)
class Modification(Row):
    """A change fitted later by anyone; it never follows from a serial range."""

    id: Text = Text("")
    is_: Text | None = key(a_text, "what was changed", name="is")
    serials: tuple[Text, ...] = key(listing(a_word, "a list of single serials"), "serials known to have it", default=())
    tell: Text | None = key(a_text, "a question answered from outside")
    by: Text | None = key(a_text, "who fitted it")


_items = ids_to(table(Item, "an item", short="name", good="{name: Rear guard}"), item_id, "a table of items")


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineRecord(Row):
    """The machine as a model."""

    record: Text | None = key(a_word, "the kind of record: `machine`", required=True)
    id: Text = key(an_id, "its id", required=True)
    name: Text = key(a_text, "its name", required=True)
    note: Text | None = key(some_prose, "what it is and does")
    variants: Mapping[str, Variant] = key(
        ids_to(
            table(Variant, "a variant", short="is", good="{is: single-speed feed}"),
            an_id,
            "a table of variants",
        ),
        "the maker's differences",
        default=dict,
        left_out="one variant",
    )
    modifications: Mapping[str, Modification] = key(
        ids_to(
            table(Modification, "a modification", short="is", good="{is: a board added}"),
            an_id,
            "a table of modifications",
        ),
        "changes fitted later",
        default=dict,
        left_out="none recorded",
    )
    items: Mapping[str, Item] = key(_items, "everything named anywhere", default=dict, left_out="none recorded")
    fasteners: Mapping[str, Fastener] = key(
        ids_to(table(Fastener, "a fastener", short="name", good="{thread: M3}"), an_id, "a table of fasteners"),
        "kinds of screw, nut, clip, pin, latch",
        default=dict,
    )
    energy: Mapping[str, Energy] = key(
        ids_to(table(Energy, "an energy", good="{kind: electrical}"), an_id, "a table of energies"),
        "what can hurt while it is there",
        default=dict,
    )
    lines: Mapping[str, Line] = key(
        ids_to(table(Line, "a line", good="{kind: hose}"), item_id, "a table of lines"),
        "hoses and pipes",
        default=dict,
    )
    ties: Mapping[str, Tie] = key(
        ids_to(table(Tie, "a tie", good="{fixed-to: A1}"), item_id, "a table of ties"),
        "what ties cables and lines",
        default=dict,
    )
    adjusters: Mapping[str, Adjuster] = key(
        ids_to(table(Adjuster, "an adjuster", good="{on-item: A1}"), an_id, "a table of adjusters"),
        "what is set to a value",
        default=dict,
    )
    checks: Mapping[str, ReturnCheck] = key(
        ids_to(
            table(ReturnCheck, "a check", short="title", good="{title: Earth continuity}"),
            an_id,
            "a table of checks",
        ),
        "checks owed after work",
        default=dict,
    )
    as_found: tuple[AsFound, ...] = key(
        listing(table(AsFound, "a deviation", good="{serial: 0221, set: A1.screw}"), single=False),
        "deviations of single serials",
        default=(),
    )
