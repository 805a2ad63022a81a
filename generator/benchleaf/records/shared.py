"""The files every machine shares: the shop, safety messages, tools, supplies, the glossary, articles."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from benchleaf import nodes, refs
from benchleaf.frozen import dataclass
from benchleaf.records.actions import VERBS
from benchleaf.records.entry import an_id
from benchleaf.records.reading import (
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
from benchleaf.records.types import a_number, a_text, a_word, id_of, quantity, some_prose, yes_no
from benchleaf.suggest import closest
from benchleaf.text import Text
from benchleaf.values.quantity import Dimension, Quantity
from benchleaf.values.units import BY_SPELLING


@dataclass(frozen=True, slots=True, kw_only=True)
class Emergency(Row):
    """What anyone must find in the first second."""

    stop: Text | None = key(a_text, "where the stop or the supply switch is")
    extinguisher: Text | None = key(a_text, "where the extinguisher is and of what kind")
    first_aid: Text | None = key(a_text, "where first aid is")
    number: Text | None = key(a_text, "the number to call")


def _spellings(*units: str) -> dict[str, str]:
    """Every way of writing one of the units, the plain way first."""
    named = {unit: unit for unit in units}
    return named | {spelling: unit.name for spelling, unit in BY_SPELLING.items() if unit.name in named}


@dataclass(frozen=True, slots=True, kw_only=True)
class Units(Row):
    """The units the shop reads."""

    torque: str | None = key(
        one_of(_spellings("N·m", "cN·m", "in·lbf", "kgf·cm"), "a unit of torque shown here"),
        "torque",
        left_out="as recorded",
    )
    length: str | None = key(
        one_of(_spellings("mm", "in"), "a unit of length shown here"), "length", left_out="as recorded"
    )


def _times(node: nodes.Node, desk: Desk) -> Mapping[str, Quantity] | Misfit:
    if not isinstance(node, nodes.Mapping):
        return wants(desk, "a table of verb to time", node)
    made: dict[str, Quantity] = {}
    for name, given in node.entries:
        if name.text not in VERBS:
            near = closest(name.text, tuple(VERBS))
            desk.misfit(
                "unknown-verb",
                f"'{shorten(name.text)}' is not a verb of a step",
                name.place,
                f"did you mean '{near[0]}'?" if near else "",
            )
            continue
        read = _time.read(given, desk)
        if not isinstance(read, Misfit):
            made[Text(name.text, name.place)] = read
    return made


_time = quantity(Dimension.TIME)
verb_times: Reader[Any] = Reader(
    "a table of verb to time", _times, lambda: {"type": "object"}, "{unplug: 15 s}", "[[]]"
)


def _percent(node: nodes.Scalar, desk: Desk) -> float | Misfit:
    return a_number.read(nodes.Scalar(node.text.removesuffix("%").strip(), node.place), desk)


a_percentage = scalar("a percentage such as `10 %`", _percent, "10 %", bad="much")
_groups = listing(listing(a_text, "a list of words", single=False), "a list of word groups", single=False, bad="belt")


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopRecord(Row):
    """The workshop: what it is called, what it owns, how it wants things shown."""

    record: Text | None = key(a_word, "the kind of record: `shop`", required=True)
    name: Text | None = key(a_text, "its name")
    address: Text | None = key(a_text, "the address of the site, for QR codes")
    emergency: Emergency | None = key(
        table(Emergency, "the emergency facts", good="{number: 112}"), "where to turn in an emergency"
    )
    language: Text | None = key(a_word, "the language of the pages", left_out="en")
    units: Units | None = key(
        table(Units, "the units", good="{torque: N·m}"), "units shown first", left_out="as recorded"
    )
    same_within: float | None = key(a_percentage, "values without tolerance agree within this", left_out="10 %")
    publish_names: bool | None = key(yes_no, "whether `by` is published", left_out="no")
    standing_safety: tuple[refs.SafetyRef, ...] = key(
        listing(id_of(refs.SafetyRef)), "safety messages on every procedure", default=()
    )
    synonyms: tuple[tuple[Text, ...], ...] = key(_groups, "groups of words that mean the same", default=())
    pass_mark: float | None = key(a_percentage, "the pass mark of a trainee")
    times: Mapping[str, Quantity] = key(verb_times, "time for each verb", default=dict, left_out="common practice")
    tools_at_hand: tuple[Text, ...] | None = key(listing(id_of()), "the tools the shop owns")
    one_person_lifts: Quantity | None = key(
        quantity(Dimension.MASS), "the mass one person lifts", left_out="15 kg (common practice)"
    )
    decimal_comma: bool | None = key(yes_no, "`2,5` is read as 2.5", left_out="no: refused")


SIGNALS = ("DANGER", "WARNING", "CAUTION", "NOTICE")


@dataclass(frozen=True, slots=True, kw_only=True)
class SafetyMessage(Row):
    """A safety message of the shop's library."""

    id: Text = Text("")
    signal: str = key(
        one_of({s: s for s in SIGNALS}, "a signal word"),
        "DANGER, WARNING, CAUTION for injury; NOTICE for damage only",
        required=True,
    )
    hazard: Text = key(some_prose, "the hazard", required=True)
    consequence: Text | None = key(some_prose, "what happens")
    avoid: Text | None = key(some_prose, "how to avoid it")
    where: Text | None = key(some_prose, "where it is")
    symbol: Text | None = key(a_word, "ISO 7010 number")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock(Row):
    """What tools and supplies share."""

    id: Text = Text("")
    name: Text = key(a_text, "what it is called", required=True)
    does: tuple[Text, ...] | None = key(
        listing(a_text), "the drives or verbs it serves; `isolate block` serves one way of isolating, `isolate` any"
    )
    range: Text | None = key(a_text, "its range")
    wait: Quantity | None = key(_time, "time before the next step")
    part_number: Text | None = key(a_word, "part number")
    sds: Text | None = key(a_text, "safety data sheet")
    disposal: Text | None = key(a_text, "how it is disposed of")
    supplier: Text | None = key(a_text, "who sells it")
    alternatives: tuple[Text, ...] | None = key(listing(a_text, none=True), "what serves as well")


@dataclass(frozen=True, slots=True, kw_only=True)
class ArticleRecord(Row):
    """The front matter of a free article."""

    record: Text | None = key(a_word, "the kind of record: `article`", left_out="article")
    title: Text = key(a_text, "its title", required=True)
    prose: Text = Text("")


safety_row = table(SafetyMessage, "a safety message", good="{signal: CAUTION, hazard: Hot surface}")
stock_row = table(Stock, "a tool or supply", short="name", good="{name: Grease}")
safety_table = ids_to(safety_row, an_id, "a table of safety messages")
stock_table = ids_to(stock_row, an_id, "a table of tools or supplies")


def _words(node: nodes.Node, desk: Desk) -> Mapping[str, Text] | Misfit:
    if not isinstance(node, nodes.Mapping):
        return wants(desk, "a table of word to text", node)
    made: dict[str, Text] = {}
    for name, said in node.entries:
        read = some_prose.read(said, desk)
        if not isinstance(read, Misfit):
            made[Text(name.text, name.place)] = read
    return made


glossary_table: Reader[Mapping[str, Text]] = Reader(
    "a table of word to text", _words, lambda: {"type": "object"}, "{spade: a flat terminal}", "[[]]"
)
