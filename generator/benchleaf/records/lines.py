"""Lines and their joints, ties, adjusters, checks owed, deviations as found."""

from __future__ import annotations

from benchleaf import refs
from benchleaf.frozen import dataclass
from benchleaf.records.entry import Entry
from benchleaf.records.observed import Value, value
from benchleaf.records.reading import (
    Row,
    key,
    listing,
    one_of,
    table,
)
from benchleaf.records.types import (
    Choices,
    a_count,
    a_text,
    a_word,
    an_item,
    cable_or_line,
    id_of,
    set_ref,
    some_choices,
    some_prose,
    something_covered,
    yes_no,
)
from benchleaf.text import Text
from benchleaf.values.quantity import Dimension

JOINTS = ("push", "clip", "nut")


@dataclass(frozen=True, slots=True, kw_only=True)
class LineEnd(Row):
    """Where a line is joined to an item."""

    at: refs.ItemRef = key(an_item, "the item", required=True)
    joint: str | None = key(one_of({j: j for j in JOINTS}, "a kind of joint"), "how it is joined")
    drips_on: tuple[refs.ItemRef, ...] | None = key(listing(an_item, none=True), "what lies under the joint")
    reach: Choices | None = key(
        some_choices, "what is out of the way before it can be touched", left_out="that of its item"
    )


LINES = ("hose", "pipe")


@dataclass(frozen=True, slots=True, kw_only=True)
class Line(Entry):
    """A hose or pipe with its two joints."""

    name: Text | None = key(a_text, "what it is called")
    kind: str | None = key(one_of({k: k for k in LINES}, "a kind of line"), "what it is")
    holds: Text | None = key(a_text, "the fluid in it")
    wet: bool | None = key(yes_no, "whether it is wet", left_out="yes")
    circuit: refs.CircuitRef | None = key(id_of(refs.CircuitRef), "its fluid circuit", left_out="its own")
    ends: tuple[LineEnd, ...] = key(
        listing(table(LineEnd, "the end of a line", short="at", good="{at: A1}"), single=False),
        "its two joints",
        default=(),
    )
    clamp: bool | None = key(yes_no, "soft enough to clamp", left_out="no (not recorded)")
    slack: Value | None = key(
        value(Dimension.LENGTH), "how far its two sides may move apart", left_out="0 (not recorded)"
    )
    part_number: Text | None = key(a_word, "part number")


@dataclass(frozen=True, slots=True, kw_only=True)
class Tie(Entry):
    """What ties cables or lines to an item."""

    fixed_to: refs.ItemRef = key(an_item, "the item it is fixed to", required=True)
    holds: tuple[refs.CableOrLineRef, ...] | None = key(
        listing(cable_or_line), "the cables and lines it holds", left_out="every cable and line at its item"
    )
    opens: str | None = key(
        one_of({"cut": "cut", "by hand": "by hand"}, "`cut` or `by hand`"), "how it is opened", left_out="cut"
    )
    reach: Choices | None = key(
        some_choices, "what is out of the way before it can be touched", left_out="that of the item it is fixed to"
    )
    name: Text | None = key(a_text, "what it is called")


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjuster(Entry):
    """Something set to a value, that a disassembly may disturb."""

    name: Text | None = key(a_text, "what it is called")
    on_item: refs.ItemRef | None = key(an_item, "the item it is on", required=True)
    disturbed_by: tuple[refs.SetRef, ...] | None = key(
        listing(set_ref), "the sets and items whose release disturbs it", left_out="its item coming off"
    )
    set_by: refs.ProcedureRef | None = key(id_of(refs.ProcedureRef), "the procedure that sets it")
    note: Text | None = key(some_prose, "anything worth knowing")


@dataclass(frozen=True, slots=True, kw_only=True)
class ReturnCheck(Entry):
    """A check owed before the machine goes back to work."""

    title: Text = key(a_text, "what is checked", required=True)
    covers: tuple[refs.CoveredRef, ...] = key(
        listing(something_covered), "the items, lines and energies it covers", default=()
    )
    do: refs.ProcedureRef | None = key(id_of(refs.ProcedureRef), "the procedure that does it")
    text: Text | None = key(some_prose, "how it is done")
    expect: Text | None = key(a_text, "what must be found")


@dataclass(frozen=True, slots=True, kw_only=True)
class AsFound(Row):
    """A deviation of one serial: it starts that serial's state and is not rebuilt."""

    serial: Text = key(a_word, "the serial", required=True)
    set: refs.SetRef = key(set_ref, "the fastener set", required=True)
    missing: int | None = key(a_count, "how many are missing")
    note: Text | None = key(a_text, "what was seen")
    date: Text | None = key(a_text, "when")
