"""codes/*.md and symptoms/*.md: what the trouble looks like, its causes, and the tests that tell them apart."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from benchleaf import nodes, refs
from benchleaf.frozen import dataclass
from benchleaf.records.actions import Action, some_actions
from benchleaf.records.entry import an_id
from benchleaf.records.reading import (
    MISFIT,
    Desk,
    Misfit,
    Reader,
    Row,
    ids_to,
    key,
    listing,
    one_of,
    scalar,
    shorten,
    table,
    wants,
)
from benchleaf.records.teardown import procedure_ref
from benchleaf.records.types import (
    Applies,
    a_number,
    a_text,
    a_word,
    an_item,
    for_machines,
    id_of,
    quantity,
    some_prose,
)
from benchleaf.text import Text
from benchleaf.values.quantity import Dimension, Misread, Quantity, read_quantity


@dataclass(frozen=True, slots=True)
class Remedy:
    """What cures a cause: a procedure by id, or ``replace ITEM`` (derived when no author wrote one)."""

    text: Text
    procedure: refs.ProcedureRef | None = None
    replace: refs.ItemRef | None = None


def _remedy(node: nodes.Scalar, desk: Desk) -> Remedy | Misfit:
    said = Text(node.text, node.place)
    if node.text.startswith("replace "):
        rest = node.text[8:]
        name = an_item.read(nodes.Scalar(rest, node.place.part(8, len(rest))), desk)
        return MISFIT if isinstance(name, Misfit) else Remedy(said, replace=name)
    read = procedure_ref.read(node, desk)
    return MISFIT if isinstance(read, Misfit) else Remedy(said, procedure=read)


a_remedy = scalar("a procedure's id, or `replace ITEM`", _remedy, "pump-out", bad='"../x y"')


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause(Row):
    """A failure mode with its weight and its remedy."""

    id: Text = Text("")
    likely: float | None = key(
        a_number, "its weight among the causes; divided by their sum", left_out="1 (not recorded)"
    )
    mode: Text | None = key(a_text, "failure mode: the way it failed")
    why: Text | None = key(a_text, "failure cause: why it failed")
    remedy: Remedy | None = key(a_remedy, "what cures it")
    takes: Quantity | None = key(
        quantity(Dimension.TIME), "hands-on time without access", left_out="computed from the procedure"
    )
    applies: Applies | None = key(for_machines, "the machines it is for", left_out="all")


REST = "rest"


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """One outcome of a test: the share of each cause that gives it; ``rest`` takes what is left of every cause."""

    shares: Mapping[str, float]
    rest: bool = False
    when: Quantity | None = None
    names: tuple[Text, ...] = ()
    place: Any = None


def _shares(node: nodes.Node, desk: Desk) -> Outcome | Misfit:
    if isinstance(node, nodes.Scalar) and node.text == REST:
        return Outcome(shares={}, rest=True, place=node.place)
    if isinstance(node, nodes.Sequence):
        names = [an_id.read(one, desk) for one in node.items]
        good = tuple(one for one in names if not isinstance(one, Misfit))
        return Outcome(shares=dict.fromkeys(good, 1.0), names=good, place=node.place)
    if isinstance(node, nodes.Mapping) and node.get("when") is None and node.get("causes") is None:
        made: dict[str, float] = {}
        found: list[Text] = []
        for name, share in node.entries:
            cause, amount = an_id.read(name, desk), a_number.read(share, desk)
            if isinstance(cause, Misfit) or isinstance(amount, Misfit):
                continue
            if not 0 <= amount <= 1:
                desk.misfit(
                    "bad-share",
                    f"a share of {amount:g} is not between 0 and 1",
                    share.place,
                    "write a share such as `0.8`",
                )
                continue
            made[cause] = amount
            found.append(cause)
        return Outcome(shares=made, names=tuple(found), place=node.place)
    return wants(desk, "`[causes]`, `{cause: share}`, or `rest`", node)


def _outcome(node: nodes.Node, desk: Desk) -> Outcome | Misfit:
    if not isinstance(node, nodes.Mapping) or (node.get("when") is None and node.get("causes") is None):
        return _shares(node, desk)
    for name, _ in node.entries:
        if name.text not in ("when", "causes"):
            desk.misfit(
                "unknown-key",
                f"'{shorten(name.text)}' is not a key of an outcome",
                name.place,
                "its keys are when, causes",
            )
    causes, when = node.get("causes"), node.get("when")
    if causes is None:
        return desk.misfit("missing-key", "this outcome does not say its causes", node.place, "add `causes: […]`")
    made = _shares(causes, desk)
    if isinstance(made, Misfit) or when is None:
        return made
    if not isinstance(when, nodes.Scalar):
        return wants(desk, "a reading such as `above 10 ohm`", when)
    read = read_quantity(when.text, decimal_comma=desk.decimal_comma)
    if isinstance(read, Misread):
        return desk.misfit("bad-quantity", read.message, when.place, read.help)
    return Outcome(shares=made.shares, rest=made.rest, when=read, names=made.names, place=node.place)


an_outcome: Reader[Outcome] = Reader(
    "`[causes]`, `{cause: share}`, or `rest`",
    _outcome,
    lambda: {"anyOf": [{"const": REST}, {"type": "array"}, {"type": "object"}]},
    "rest",
    "perhaps",
)
_TEST_VERB = re.compile(r"[a-z]+(?: [a-z]+)?")


def _test_do(node: nodes.Node, desk: Desk) -> tuple[Action, ...] | Text | Misfit:
    if isinstance(node, nodes.Scalar):
        return some_prose.read(node, desk)
    return some_actions.read(node, desk)


test_do: Reader[Any] = Reader(
    "a `verb: object`, or words",
    _test_do,
    lambda: {"anyOf": [{"type": "string"}, some_actions.schema()]},
    "Press the feed button",
    "[juggle: it]",
    prose=True,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultTest(Row):
    """A test that tells causes apart."""

    id: Text = Text("")
    do: tuple[Action, ...] | Text | None = key(test_do, "what is done: a step's `do`, or words", required=True)
    at: refs.ItemRef | None = key(an_item, "the item reached first; its access is priced")
    takes: Quantity | None = key(quantity(Dimension.TIME), "its time, access not counted")
    state: str | None = key(
        one_of({s: s for s in ("dead", "powered")}, "`dead` or `powered`"),
        "whether power is on",
        left_out="dead for resistance; else not recorded",
    )
    covers: str | None = key(
        one_of({c: c for c in ("open", "closed", "either")}, "`open`, `closed` or `either`"),
        "covers during the test",
        left_out="closed",
    )
    outcomes: Mapping[str, Outcome] = key(
        ids_to(an_outcome, an_id, "a table of outcomes", take_id=False),
        "what can be seen, and which causes give it",
        default=dict,
    )
    applies: Applies | None = key(for_machines, "the machines it is for", left_out="all")


@dataclass(frozen=True, slots=True, kw_only=True)
class Exercise(Row):
    """A bench exercise for trainees: plant the trouble, then restore."""

    do: tuple[Action, ...] | Text | None = key(test_do, "how the trouble is planted", required=True)
    restore: tuple[Action, ...] | Text | None = key(test_do, "how it is taken away again", required=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class TroubleKeys(Row):
    """What codes and symptoms share."""

    machine: Text | None = key(an_id, "the machine", left_out="that of its folder")
    applies: Applies | None = key(for_machines, "the machines it is for", left_out="all")
    no_fault_found: tuple[refs.CheckRef, ...] | Text | None = key(
        listing(id_of(refs.CheckRef), none=True), "checks to do when every cause is cleared"
    )
    exercise: Exercise | None = key(
        table(Exercise, "an exercise", good="{do: Pull the plug, restore: Push it in}"),
        "a bench exercise",
        left_out="none",
    )
    causes: Mapping[str, Cause] = key(
        ids_to(table(Cause, "a cause", good="{likely: 2}"), an_id, "a table of causes"),
        "the causes",
        default=dict,
    )
    tests: Mapping[str, FaultTest] = key(
        ids_to(table(FaultTest, "a test", good="{do: Look}"), an_id, "a table of tests"),
        "tests that tell them apart",
        default=dict,
    )
    prose: Text = Text("")


@dataclass(frozen=True, slots=True, kw_only=True)
class CodeRecord(TroubleKeys):
    """An error code: the machine's own number for a trouble."""

    record: Text | None = key(a_word, "the kind of record: `code`", left_out="code")
    code: Text = key(a_word, "the code as the machine shows it", required=True)
    shown: Text | None = key(a_text, "how it is shown")
    means: Text | None = key(a_text, "what it means")
    signals: tuple[refs.SignalRef, ...] | None = key(
        listing(id_of(refs.SignalRef), none=True), "the signals it depends on"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SymptomRecord(TroubleKeys):
    """A symptom: trouble as seen, in the words of whoever saw it."""

    record: Text | None = key(a_word, "the kind of record: `symptom`", required=True)
    id: Text = key(an_id, "its id", required=True)
    title: Text | None = key(a_text, "the symptom in a few words", left_out="the first of `heard-as`")
    heard_as: tuple[Text, ...] = key(listing(a_text, "a list of phrases"), "how customers say it", default=())
    see: tuple[refs.CodeRef, ...] = key(
        listing(scalar("a code", lambda n, d: refs.CodeRef(n.text.removeprefix("code "), n.place), "E12")),
        "the codes to see",
        default=(),
    )
