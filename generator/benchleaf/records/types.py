"""The types of the record language, one reader each: ids, references, counts, quantities, motions, applicability."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any, TypeVar

from benchleaf import nodes, refs
from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass
from benchleaf.records.reading import MISFIT, Desk, Misfit, Reader, listing, one_of, scalar, shorten, wants
from benchleaf.text import Text
from benchleaf.values.quantity import Dimension, Misread, Quantity, dimension_words, read_quantity

R = TypeVar("R", bound=Text)
_GROUP_NAME = re.compile(r"\?P<\w+>")  # editors read patterns as JavaScript does: without names


def _plain(node: nodes.Scalar, desk: Desk) -> Text:
    return Text(node.text, node.place)


def _one_line(node: nodes.Scalar, desk: Desk) -> Text | Misfit:
    if "\n" in node.text.rstrip("\n"):
        return desk.misfit("several-lines", "this text has several lines", node.place, "write it on one line")
    return Text(node.text.strip(), node.place)


a_text = scalar(
    "a text",
    _one_line,
    "a few words",
    bad="[[]]",
    prose=True,
    schema={"type": ["string", "number", "boolean"]},
)
some_prose = scalar(
    "a text", _plain, "a few words", bad="[[]]", prose=True, schema={"type": ["string", "number", "boolean"]}
)
a_word = scalar("a word", _one_line, "word", bad="[[]]")


def matching(
    kind: Callable[[str, Place], R],
    pattern: re.Pattern[str],
    words: str,
    good: str,
    help: str = "",
    code: str = "bad-id",
) -> Reader[R]:
    """A reader for text of a fixed spelling that becomes a reference of class ``kind``."""

    def convert(node: nodes.Scalar, desk: Desk) -> R | Misfit:
        if pattern.fullmatch(node.text) is None:
            return desk.misfit(
                code,
                f"'{shorten(node.text)}' is not spelled as {words}",
                node.place,
                _spelling(node.text, pattern, help),
            )
        return kind(node.text, node.place)

    return scalar(
        words,
        convert,
        good,
        bad='"../x y"',
        schema={"type": ["string", "number"], "pattern": f"^(?:{_GROUP_NAME.sub('?:', pattern.pattern)})$"},
    )


def _spelling(written: str, pattern: re.Pattern[str], help: str) -> str:
    """How to spell a name, with the nearest good spelling where there is one."""
    rule = help or "lower-case letters and digits, words joined by hyphens"
    if refs.CONNECTOR.fullmatch(written) and pattern.fullmatch(refs.host_of(written)):
        return f"a connector is not meant here: name what it sits on, `{refs.host_of(written)}`"
    near = re.sub(r"[^a-z0-9]+", "-", written.lower()).strip("-")
    return f"write `{near}`: {rule}" if near and pattern.fullmatch(near) else rule


def id_of(kind: Callable[[str, Place], R] = Text, words: str = "an id", good: str = "rear-guard") -> Reader[R]:  # type: ignore[assignment]
    return matching(kind, refs.ID, words, good)


_ITEM_HELP = "an id such as `rear-guard`, or a designation such as `A1`: capitals, then digits"
_ITEM_ID = re.compile(rf"(?:{refs.DESIGNATION.pattern})|(?:{refs.ID.pattern})")
_BARE_CONNECTOR = _GROUP_NAME.sub("?:", refs.CONNECTOR.pattern)
item_id = matching(Text, _ITEM_ID, "the name of an item", "rear-guard", _ITEM_HELP)
an_item = matching(refs.ItemRef, refs.ITEM, "an item", "rear-guard", _ITEM_HELP)
set_ref = matching(
    refs.SetRef, re.compile(rf"{_ITEM_ID.pattern}|(?:{_ITEM_ID.pattern})\.(?:{refs.ID.pattern})"),
    "a fastener set or an item",
    "rear-guard", "an item such as `rear-guard`, or a set of it such as `rear-guard.cover-screw`",
)  # fmt: skip
value_ref = matching(
    refs.ValueRef, re.compile(rf"(?:{_ITEM_ID.pattern})\.(?:{refs.ID.pattern})"), "a value of an item", "F1.cold",
    "the item, a dot, the value's name: `F1.cold`",
)  # fmt: skip
connector_ref = matching(
    refs.ConnectorRef,
    refs.CONNECTOR,
    "a connector",
    "A1-J3",
    "the host, a hyphen, capitals and digits: `A1-J3`",
)
contact_ref = matching(
    refs.ContactRef, re.compile(rf"(?:{_BARE_CONNECTOR}|{_ITEM_ID.pattern})\.{refs.CONTACT_NAME.pattern}"),
    "a contact", "A1-J3.1", "the connector or item, a dot, the contact: `A1-J3.7` or `F1.1`",
)  # fmt: skip
contact_name = matching(
    Text, refs.CONTACT_NAME, "the name of a contact", "1", "a short name such as `1`, `A7`, `L`, `PE`, `+`"
)
any_cable = matching(refs.CableRef, _ITEM_ID, "a cable", "W4", "a designation such as `W4`")
cable_or_line = matching(
    refs.CableOrLineRef, _ITEM_ID, "a cable or a line", "W4", "a cable such as `W4`, or a line by its id"
)
something_covered = matching(refs.CoveredRef, _ITEM_ID, "an item, a line or an energy", "A1", _ITEM_HELP)


def _end(node: nodes.Scalar, desk: Desk) -> refs.EndRef | Misfit:
    contact = contact_ref.read(node, Desk())
    if (
        node.text == "parked"
        or refs.is_connector(node.text)
        or not isinstance(contact, Misfit)
        or _ITEM_ID.fullmatch(node.text)
    ):
        return refs.EndRef(node.text, node.place)
    return desk.misfit(
        "bad-id", f"'{shorten(node.text)}' is not spelled as the end of a cable", node.place,
        "a connector `A1-J3`, an item, a contact `M2.1`, or `parked`",
    )  # fmt: skip


end_ref = scalar("the end of a cable", _end, "A1-J3", bad='"../x y"')

_TERM = re.compile(
    r"(?P<low>[A-Za-z0-9-]*)\.\.(?P<high>[A-Za-z0-9-]*)|not (?P<not>[A-Za-z0-9-]+)|(?P<one>[A-Za-z0-9-]+)"
)


@dataclass(frozen=True, slots=True)
class Term:
    """One term of an applicability: a name or serial, its negation, or a range of serials (either end may be open)."""

    text: Text
    name: str = ""
    negated: bool = False
    low: str | None = None
    high: str | None = None

    @property
    def is_range(self) -> bool:
        return self.low is not None


@dataclass(frozen=True, slots=True)
class Applies:
    """Which machines something is for: its terms joined by "or"."""

    terms: tuple[Term, ...]
    place: Place


def _term(node: nodes.Scalar, desk: Desk) -> Term | Misfit:
    found = _TERM.fullmatch(node.text.strip())
    if found is None or node.text.strip() == "..":
        return desk.misfit(
            "bad-applies", f"'{shorten(node.text)}' does not say which machines", node.place,
            "a variant, a modification, `not lift`, a serial, or a range `0500..0899`, `0900..`",
        )  # fmt: skip
    said = Text(node.text.strip(), node.place)
    if found["low"] is not None:
        return Term(said, low=found["low"], high=found["high"])
    return Term(said, found["not"] or found["one"], negated=found["not"] is not None)


_terms = listing(
    scalar("a variant, modification, serial or range", _term, "mk1", bad='"a b c"'),
    "a list such as `[mk1, 0500..]`",
)


def _applies(node: nodes.Node, desk: Desk) -> Applies | Misfit:
    terms = _terms.read(node, desk)
    if isinstance(terms, Misfit):
        return MISFIT
    if not terms and isinstance(node, nodes.Sequence) and not node.items:
        return desk.misfit(
            "bad-applies", "an empty list is for no machine at all", node.place, "leave it out to mean all"
        )
    return Applies(terms, node.place)


for_machines = Reader("a list such as `[mk1, not lift, 0500..0899]`", _applies, _terms.schema, "[mk1]", '["a b c"]')

_PLACED = re.compile(rf"(?:{_ITEM_ID.pattern})(?:@(?:{refs.ID.pattern}))?")
Option = tuple[refs.PlacedRef, ...]
Choices = tuple[tuple[Option, ...], ...]


def _option(node: nodes.Node, desk: Desk) -> Option | Misfit:
    if not isinstance(node, nodes.Scalar):
        return wants(desk, "an item, `item@position`, or two joined by `+`", node)
    made: list[refs.PlacedRef] = []
    start = 0
    for part in node.text.split("+"):
        bare = part.strip()
        shift = start + len(part) - len(part.lstrip())
        start += len(part) + 1
        place = (
            node.place if node.style != "plain" or len(node.text) == len(bare) else node.place.part(shift, len(bare))
        )
        if _PLACED.fullmatch(bare) is None:
            return desk.misfit(
                "bad-id",
                f"'{shorten(bare)}' is not spelled as an item",
                place,
                "write `item` or `item@position`",
            )
        made.append(refs.PlacedRef(bare, place))
    return tuple(made)


def _choices(node: nodes.Node, desk: Desk) -> Choices | Misfit:
    if isinstance(node, nodes.Scalar) and node.text == "none":
        return ()
    if isinstance(node, nodes.Scalar) and node.text:
        one = _option(node, desk)
        return MISFIT if isinstance(one, Misfit) else ((one,),)
    if not isinstance(node, nodes.Sequence):
        return wants(desk, "a list such as `[a, b@out, [c, d + e]]`", node)
    clauses: list[tuple[Option, ...]] = []
    for item in node.items:
        if isinstance(item, nodes.Sequence) and not item.items:
            desk.misfit(
                "empty-choice",
                "an empty inner list can never be met",
                item.place,
                "name at least one item in it",
            )
            continue
        inner = item.items if isinstance(item, nodes.Sequence) else (item,)
        options = [_option(one, desk) for one in inner]
        clauses.append(tuple(one for one in options if not isinstance(one, Misfit)))
    return tuple(clause for clause in clauses if clause)


def _choices_schema() -> dict[str, Any]:
    one: dict[str, Any] = {"type": "string"}
    return {"anyOf": [one, {"type": "array", "items": {"anyOf": [one, {"type": "array", "items": one}]}}]}


some_choices: Reader[Choices] = Reader(
    "a list of items such as `[a, b@out, [c, d + e]]`",
    _choices,
    _choices_schema,
    "[rear-guard]",
    '["../x y"]',
)

yes_no = one_of({"yes": True, "no": False}, "`yes` or `no`")
MOST_COUNT = 100_000


def _count(node: nodes.Scalar, desk: Desk) -> int | Misfit:
    if not re.fullmatch(r"[0-9]{1,6}", node.text) or int(node.text) > MOST_COUNT:
        return desk.misfit(
            "bad-count",
            f"'{shorten(node.text)}' is not a count",
            node.place,
            "write a whole number such as `4`",
        )
    return int(node.text)


def _number(node: nodes.Scalar, desk: Desk) -> float | Misfit:
    written = node.text.replace(",", ".") if desk.decimal_comma else node.text
    if not re.fullmatch(r"-?[0-9]{1,9}(?:\.[0-9]{1,9})?", written):
        return desk.misfit(
            "bad-number",
            f"'{shorten(node.text)}' is not a number",
            node.place,
            "write a number such as `0.5`",
        )
    return float(written)


a_count = scalar("a whole number", _count, "4", bad="-3", schema={"type": ["integer", "string"]})
a_number = scalar("a number", _number, "0.5", bad="many", schema={"type": ["number", "string"]})
a_point = listing(a_number, "three numbers `[x, y, z]` in mm", single=False)


def numbers(how_many: int, words: str, good: str) -> Reader[tuple[float, ...]]:
    """A list of exactly ``how_many`` numbers."""
    inner = listing(a_number, words, single=False)

    def read(node: nodes.Node, desk: Desk) -> tuple[float, ...] | Misfit:
        if isinstance(node, nodes.Sequence) and len(node.items) != how_many:
            return desk.misfit(
                "wrong-type",
                f"expected {words}, found {len(node.items)} values",
                node.place,
                f"write {words}",
            )
        return inner.read(node, desk)

    schema = {"type": "array", "items": {"type": "number"}, "minItems": how_many, "maxItems": how_many}
    return Reader(words, read, lambda: dict(schema), good, "[many]")


def two_of(inner: Reader[R]) -> Reader[tuple[R, R]]:
    """A list of exactly two of ``inner``, such as the two contacts a value is measured between."""
    words = f"a list of two, each {inner.words}"

    def read(node: nodes.Node, desk: Desk) -> tuple[R, R] | Misfit:
        if not isinstance(node, nodes.Sequence) or len(node.items) != 2:
            return wants(desk, words, node)
        one, two = (inner.read(item, desk) for item in node.items)
        return MISFIT if isinstance(one, Misfit) or isinstance(two, Misfit) else (one, two)

    schema = {"type": "array", "items": inner.schema(), "minItems": 2, "maxItems": 2}
    return Reader(words, read, lambda: dict(schema), f"[{inner.good}, {inner.good}]", "[[]]")


def quantity(*expected: Dimension) -> Reader[Quantity]:
    """A single quantity with its unit; ``expected`` are the dimensions that make sense here."""
    words = " or ".join(dimension_words(one) for one in expected) if expected else "a quantity such as `12 mm`"

    def convert(node: nodes.Scalar, desk: Desk) -> Quantity | Misfit:
        found = read_quantity(node.text, expected=expected or None, decimal_comma=desk.decimal_comma)
        if isinstance(found, Misread):
            on_line = node.style == "plain" and 0 <= found.start < found.end <= len(node.text)
            place = node.place.part(found.start, found.end - found.start) if on_line else node.place
            return desk.misfit(
                "wrong-dimension" if found.wrong_dimension else "bad-quantity",
                found.message,
                place,
                found.help,
            )
        return found

    good = _SAMPLES.get(expected[0], "12 mm") if expected else "12 mm"
    return scalar(words, convert, good, bad="12 furlongs")


_SAMPLES = {
    Dimension.TORQUE: "0.6 N·m", Dimension.LENGTH: "12 mm", Dimension.TIME: "20 min", Dimension.MASS: "3 kg",
    Dimension.RESISTANCE: "10 ohm", Dimension.CAPACITANCE: "150 uF", Dimension.VOLTAGE: "24 V DC",
    Dimension.CURRENT: "2 A", Dimension.TEMPERATURE: "60 °C", Dimension.PRESSURE: "20 kPa", Dimension.FORCE: "40 N",
    Dimension.AREA: "0.25 mm2",
}  # fmt: skip

DIRECTIONS = ("up", "down", "left", "right", "front", "back")
MOTIONS = ("slide", "pull", "lift", "tilt", "turn", "unhook")
_MOTION = re.compile(rf"(?P<how>{'|'.join(MOTIONS)})(?: (?P<way>{'|'.join(DIRECTIONS)}))?(?: (?P<far>[0-9].*))?")


@dataclass(frozen=True, slots=True)
class Motion:
    """How something moves: the kind, the direction seen by the user in front of the machine, and how far."""

    text: Text
    how: str
    way: str
    distance: Quantity | None


def _motion(node: nodes.Scalar, desk: Desk) -> Motion | Misfit:
    found = _MOTION.fullmatch(node.text.strip())
    if found is None:
        return desk.misfit(
            "bad-motion", f"'{shorten(node.text)}' is not a motion", node.place,
            f"write a motion ({', '.join(MOTIONS)}), a direction ({', '.join(DIRECTIONS)}) and a distance, "
            "such as `slide back 12 mm`",
        )  # fmt: skip
    distance: Quantity | None = None
    if found["far"]:
        start = found.start("far")
        far = read_quantity(
            found["far"], expected=(Dimension.LENGTH, Dimension.ANGLE), decimal_comma=desk.decimal_comma
        )
        if isinstance(far, Misread):
            return desk.misfit("bad-motion", far.message, node.place.part(start, len(found["far"])), far.help)
        distance = far
    return Motion(Text(node.text, node.place), found["how"], found["way"] or "", distance)


a_motion = scalar("a motion such as `slide back 12 mm`", _motion, "lift up", bad="fling sideways")
