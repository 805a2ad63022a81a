"""teardown/*.yaml: what was done, step by step, in an order that is replayed on the machine."""

from __future__ import annotations

import re
from typing import Any, Literal

from benchleaf import nodes, refs
from benchleaf.frozen import dataclass
from benchleaf.records.actions import Action, some_actions
from benchleaf.records.entry import an_id, or_none
from benchleaf.records.reading import MISFIT, Desk, Misfit, Row, key, listing, one_of, scalar, table
from benchleaf.records.types import (
    Applies,
    a_count,
    a_text,
    a_word,
    an_item,
    for_machines,
    id_of,
    numbers,
    quantity,
    set_ref,
    some_prose,
)
from benchleaf.text import Text
from benchleaf.values.quantity import Dimension, Quantity

GoalKind = Literal["reach", "remove", "replace", "text"]


@dataclass(frozen=True, slots=True)
class Goal:
    """What must be so at the last step: an item reached, removed or replaced, or words that are not checked."""

    kind: GoalKind
    text: Text
    item: refs.ItemRef | None = None


_GOAL = re.compile(r"(reach|remove|replace) (\S+)")


def _goal(node: nodes.Scalar, desk: Desk) -> Goal | Misfit:
    said = Text(node.text, node.place)
    found = _GOAL.fullmatch(node.text)
    if found is None:
        return Goal("text", said)
    start = found.start(2)
    name = an_item.read(nodes.Scalar(found[2], node.place.part(start, len(found[2]))), desk)
    kind: Any = found[1]
    return MISFIT if isinstance(name, Misfit) else Goal(kind, said, name)


a_goal = scalar("`reach ITEM`, `remove ITEM`, `replace ITEM`, or words", _goal, "reach A1", prose=True)


@dataclass(frozen=True, slots=True)
class Target:
    """Where a reference leads: a procedure by id, or a code by its text."""

    text: Text
    procedure: refs.ProcedureRef | None = None
    code: refs.CodeRef | None = None


def _target(node: nodes.Scalar, desk: Desk) -> Target | Misfit:
    said = Text(node.text, node.place)
    if node.text.startswith("code "):
        return Target(said, code=refs.CodeRef(node.text[5:].strip(), node.place.part(5, len(node.text) - 5)))
    read = procedure_ref.read(node, desk)
    return MISFIT if isinstance(read, Misfit) else Target(said, procedure=read)


procedure_ref = id_of(refs.ProcedureRef, "a procedure's id", "pump-out")
a_target = scalar("a procedure's id, or `code E12`", _target, "pump-out", bad='"../x y"')


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyUse(Row):
    """Something used up: which, and how much."""

    id: refs.SupplyRef = key(id_of(refs.SupplyRef), "the supply", required=True)
    amount: Text | None = key(a_text, "how much")


supplies_used = or_none(listing(table(SupplyUse, "a supply", short="id", good="{id: grease}"), single=False))


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureMark(Row):
    """A mark on a picture: where (0..1 from the top left), and what it shows."""

    at: tuple[float, ...] = key(
        numbers(2, "two numbers `[x, y]` from 0 to 1", "[0.5, 0.5]"),
        "where, 0..1 from the top left",
        required=True,
    )
    is_: refs.SetRef | None = key(set_ref, "the item or set", name="is", required=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo(Row):
    """A picture and what it shows in words."""

    file: Text = key(a_word, "file name below photos/", required=True)
    shows: Text | None = key(a_text, "what it shows, in words")
    marks: tuple[PictureMark, ...] = key(
        listing(table(PictureMark, "a mark", good="{at: [0.5, 0.5], is: A1}"), single=False),
        "marks on it",
        default=(),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Issue(Row):
    """The issue of the document."""

    number: Text | None = key(a_word, "its number", required=True)
    date: Text | None = key(a_word, "its date: year-month-day")
    reason: Text | None = key(a_text, "why it was changed")


VERIFIED = ("unverified", "at the table", "at the machine", "withdrawn")


@dataclass(frozen=True, slots=True, kw_only=True)
class Verified(Row):
    """How far the procedure was proved."""

    state: str = key(one_of({s: s for s in VERIFIED}, "a state of proof"), "how far it was proved", required=True)
    date: Text | None = key(a_word, "when")
    serial: Text | None = key(a_word, "on which serial")


COVERS = ("open", "closed", "either")


@dataclass(frozen=True, slots=True, kw_only=True)
class Step(Row):
    """The smallest instruction."""

    title: Text = key(a_text, "what is done; starts with a verb", required=True)
    do: tuple[Action, ...] | None = key(
        some_actions, "the actions, `verb: object`", left_out="prose only: nothing is checked"
    )
    text: Text | None = key(some_prose, "what the hands should know")
    photos: tuple[Photo, ...] = key(
        listing(table(Photo, "a picture", short="file", good="{file: a.svg}"), single=False),
        "pictures",
        default=(),
    )
    safety: tuple[refs.SafetyRef, ...] = key(
        listing(id_of(refs.SafetyRef)), "safety messages, added to what items bring", default=()
    )
    takes: Quantity | None = key(
        quantity(Dimension.TIME), "time of the whole step", left_out="computed from its actions"
    )
    persons: int | None = key(a_count, "persons needed", left_out="what its items need")
    powered: Text | None = key(some_prose, "a declared powered test: why")
    covers: str | None = key(
        one_of({c: c for c in COVERS}, "`open`, `closed` or `either`"),
        "covers during the step",
        left_out="closed",
    )
    changes: Literal["none"] | None = key(
        or_none(a_text, "none"),
        "`none`: this prose step changes nothing",
        left_out="it may have changed anything",
    )
    expect: Text | None = key(some_prose, "what must be seen")
    else_: Target | None = key(a_target, "where to go when it is not", name="else")
    on_return: tuple[Action, ...] | None = key(
        some_actions,
        "the actions on the way back, replacing the derived ones; `[]` = nothing to do",
        left_out="derived",
    )
    applies: Applies | None = key(for_machines, "the machines it is for", left_out="all the procedure is for")
    supplies: tuple[SupplyUse, ...] | None = key(supplies_used, "what is used up")


_step = table(Step, "a step", good="{title: Look at it}")


@dataclass(frozen=True, slots=True, kw_only=True)
class TeardownRecord(Row):
    """A procedure: the record of taking something apart, testing or setting it."""

    record: Text | None = key(a_word, "the kind of record: `teardown`", required=True)
    id: Text = key(an_id, "its id", required=True)
    title: Text = key(a_text, "its title", required=True)
    machine: Text = key(an_id, "the machine", required=True)
    goal: Goal | None = key(a_goal, "what must be so at the last step", left_out="not checked")
    conditions: tuple[refs.ProcedureRef, ...] = key(
        listing(procedure_ref, none=True), "procedures replayed first", default=(), left_out="none"
    )
    supplies: tuple[SupplyUse, ...] | None = key(supplies_used, "what is used up")
    issue: Issue | None = key(
        table(Issue, "an issue", short="number", good="{number: 1}"), "the issue of this document"
    )
    verified: Verified | None = key(
        table(Verified, "a state of proof", short="state", good="{state: unverified}", bad="final"),
        "how far it was proved",
        left_out="unverified",
    )
    applies: Applies | None = key(for_machines, "the machines it is for", left_out="all")
    text: Text | None = key(some_prose, "what it is for and when it is needed")
    steps: tuple[Step, ...] = key(listing(_step, single=False), "the steps, in order", required=True)
