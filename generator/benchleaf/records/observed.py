"""A value on a record: short (``0.6 N·m``), long, or several observations that may disagree and are all kept."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from benchleaf import nodes, refs
from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass
from benchleaf.records.reading import MISFIT, Desk, Misfit, Reader, Row, key, one_of, read_row, wants
from benchleaf.records.types import a_text, contact_ref, quantity, two_of
from benchleaf.text import Text
from benchleaf.values.quantity import Dimension, Quantity, dimension_words

ORIGINS = ("service note", "measured", "computed", "common practice")
_any_quantity = quantity()


@dataclass(frozen=True, slots=True, kw_only=True)
class Observation(Row):
    """One statement of a value: what, and where it comes from. ``origin`` left out = not recorded."""

    value: Quantity | None = key(_any_quantity, "the quantity seen")
    adjudicated: Quantity | None = key(_any_quantity, "the quantity decided on; `reason` is required beside it")
    interim: Text | None = key(a_text, "what to do while the value is disputed")
    origin: str | None = key(one_of({name: name for name in ORIGINS}, "an origin"), "where the value comes from")
    by: Text | None = key(a_text, "who: a role or initials; not published unless the shop says so")
    serial: Text | None = key(a_text, "on which serial it was seen")
    date: Text | None = key(a_text, "when: year-month-day")
    method: Text | None = key(a_text, "how it was found")
    instrument: Text | None = key(a_text, "with which instrument")
    source: Text | None = key(a_text, "the document it was taken from")
    condition: Text | None = key(a_text, "the condition it holds under, such as dry, at 20 °C")
    reason: Text | None = key(a_text, "why it was decided so; required with `adjudicated`")
    between: tuple[refs.ContactRef, refs.ContactRef] | None = key(
        two_of(contact_ref), "the two contacts it is measured between"
    )

    @property
    def quantity(self) -> Quantity | None:
        return self.adjudicated or self.value


@dataclass(frozen=True, slots=True)
class Value:
    """A recorded value: its observations in the order written. ``place`` is where it stands."""

    observations: tuple[Observation, ...]
    place: Place

    @property
    def deciding(self) -> tuple[Quantity, ...]:
        """The quantities that count: the one adjudicated, else every one observed."""
        decided = [one.adjudicated for one in self.observations if one.adjudicated is not None]
        return tuple(decided[-1:]) or tuple(one.value for one in self.observations if one.value is not None)

    @property
    def quantity(self) -> Quantity | None:
        """The quantity to show first: the one adjudicated, else the first observed."""
        return self.deciding[0] if self.deciding else None

    @property
    def interim(self) -> Text | None:
        return next((one.interim for one in self.observations if one.interim is not None), None)

    @property
    def between(self) -> tuple[refs.ContactRef, refs.ContactRef] | None:
        return next((one.between for one in self.observations if one.between is not None), None)

    def least(self) -> float | None:
        """The lowest number any counting observation allows, in base units; ``None`` when one has no lower end."""
        lows = [one.low for one in self.deciding]
        return None if not lows or None in lows else min(low for low in lows if low is not None)

    def greatest(self) -> float | None:
        """The highest number any counting observation allows, in base units; ``None`` when one has no upper end."""
        highs = [one.high for one in self.deciding]
        return None if not highs or None in highs else max(high for high in highs if high is not None)


def value(*expected: Dimension) -> Reader[Value]:
    """A reader for a quantity of the dimensions expected, short, long, or a list of long ones."""
    short = quantity(*expected)

    def observation(node: nodes.Node, desk: Desk) -> Observation | Misfit:
        if not isinstance(node, nodes.Mapping):
            plain = short.read(node, desk)
            return (
                MISFIT
                if isinstance(plain, Misfit)
                else Observation(value=plain, place=node.place, said={"value": node.place})
            )
        made = read_row(Observation, "a value", node, desk)
        return made if isinstance(made, Misfit) else _sensible(made, expected, desk)

    def measured_between(node: nodes.Mapping, inner: nodes.Node, desk: Desk) -> Value | Misfit:
        """``{value: [observations], between: [contact, contact]}``: the place stands once for all of them."""
        rest = nodes.Mapping(tuple(one for one in node.entries if one[0].text != "value"), node.place)
        beside, seen = read_row(Observation, "a value", rest, desk), read(inner, desk)
        if isinstance(beside, Misfit) or isinstance(seen, Misfit):
            return MISFIT
        for name in beside.said:
            if name != "between":
                desk.misfit(
                    "unknown-key", f"'{name}' beside a list of values", beside.place_of(name), "write it inside"
                )
        return Value(
            tuple(replace(one, between=one.between or beside.between) for one in seen.observations), seen.place
        )

    def read(node: nodes.Node, desk: Desk) -> Value | Misfit:
        inner = node.get("value") if isinstance(node, nodes.Mapping) else None
        if isinstance(node, nodes.Mapping) and isinstance(inner, nodes.Mapping | nodes.Sequence):
            return measured_between(node, inner, desk)
        if isinstance(node, nodes.Sequence):
            if not node.items:
                return wants(desk, short.words, node)
            many = [observation(item, desk) for item in node.items]
            kept = tuple(one for one in many if not isinstance(one, Misfit))
            return Value(kept, node.place) if kept else MISFIT
        one = observation(node, desk)
        return MISFIT if isinstance(one, Misfit) else Value((one,), node.place)

    def schema() -> dict[str, Any]:
        row = {"$ref": "#/$defs/Observation"}
        many = {"type": "array", "items": {"anyOf": [{"type": "string"}, row]}}
        measured = {
            "type": "object",
            "properties": {"value": many, "between": {"type": "array"}},
            "required": ["between"],
        }
        return {"anyOf": [{"type": "string"}, row, many, measured]}

    return Reader(short.words, read, schema, short.good, short.bad)


def _sensible(made: Observation, expected: tuple[Dimension, ...], desk: Desk) -> Observation | Misfit:
    given = made.quantity
    if given is None and made.interim is None:
        if "value" not in made.said and "adjudicated" not in made.said:
            desk.misfit(
                "missing-key",
                "this entry gives no value",
                made.place,
                "add `value: 0.5 N·m`, or `adjudicated:`, or `interim:`",
            )
        return MISFIT
    if given is not None and expected and given.dimension not in expected:
        name = "value" if made.value is not None else "adjudicated"
        words = " or ".join(dimension_words(one) for one in expected)
        desk.misfit("wrong-dimension", f"'{given.written}' is not {words}", made.place_of(name), f"write {words}")
        return MISFIT
    if made.adjudicated is not None and made.reason is None:
        desk.misfit(
            "missing-key",
            "a decided value has no `reason`",
            made.place_of("adjudicated"),
            "add `reason: why it was decided so`",
        )
    if made.adjudicated is not None and made.value is not None:
        desk.misfit("two-values", "`value` and `adjudicated` in one entry", made.place_of("value"), "write two entries")
    return made
