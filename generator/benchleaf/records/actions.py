"""The verbs of a step and the grammar of their objects: ``remove: 2 x control-tray.tray-screw`` → an action.

One row a verb. What a verb needs and does is the physical package's table; here is only how it is written.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from enum import Enum
from typing import Any

from benchleaf import nodes, refs
from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass
from benchleaf.records.reading import Desk, Misfit, Reader, Row, key, read_row, shorten, wants
from benchleaf.records.types import contact_ref, quantity, some_prose, two_of, value_ref
from benchleaf.suggest import closest
from benchleaf.text import NOWHERE, Text
from benchleaf.values.quantity import Quantity


class Kind(Enum):
    """What a verb acts on."""

    SET = "a fastener set or an item"
    ITEM = "an item"
    MOVE = "an item and where it goes, such as `control-tray to service`"
    OPENING = "an item, or `line at item`"
    CONNECTOR = "a connector, or `W5 at A1-J5`"
    HOST = "an item whose connectors are all opened"
    LEAD = "`cable at contact`"
    TIE = "a tie"
    LINE = "a line"
    JOINT = "`line at item`"
    CIRCUIT = "a fluid circuit"
    ENERGY = "an energy"
    CABLE = "a cable"
    ADJUSTER = "an adjuster"
    MEASURE = "a value such as `F1.cold`, or `{between: […], expect: …}`"
    STAND = "`on left`, `on right`, `on back` or `on feet`"
    ANY = "an item, a fastener set, or words"


VERBS: Mapping[str, Kind] = {
    "loosen": Kind.SET, "remove": Kind.SET, "start": Kind.SET, "tighten": Kind.SET,
    "slide": Kind.ITEM, "lift off": Kind.ITEM, "install": Kind.ITEM, "move": Kind.MOVE,
    "open": Kind.OPENING, "close": Kind.OPENING,
    "unplug": Kind.CONNECTOR, "plug": Kind.CONNECTOR, "disconnect": Kind.CONNECTOR, "disconnect all": Kind.HOST,
    "lift lead": Kind.LEAD, "land lead": Kind.LEAD, "cut": Kind.TIE, "tie": Kind.TIE,
    "clamp": Kind.LINE, "unclamp": Kind.LINE, "cap": Kind.JOINT, "uncap": Kind.JOINT,
    "drain": Kind.CIRCUIT, "fill": Kind.CIRCUIT,
    "isolate": Kind.ENERGY, "discharge": Kind.ENERGY, "prove dead": Kind.ENERGY, "energise": Kind.ENERGY,
    "cover": Kind.ITEM, "uncover": Kind.ITEM, "label": Kind.CABLE, "photograph": Kind.CONNECTOR, "mark": Kind.ADJUSTER,
    "measure": Kind.MEASURE, "stand": Kind.STAND, "adjust": Kind.ADJUSTER,
    "back up": Kind.ITEM, "restore": Kind.ITEM, "inspect": Kind.ANY, "clean": Kind.ANY, "renew": Kind.SET,
}  # fmt: skip
_SPELT: Mapping[str, str] = {verb: verb for verb in VERBS}  # one string a verb, not one an action


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure(Row):
    """A measurement: a recorded value, or between two contacts with what, expecting what, else where to go."""

    value: refs.ValueRef | None = key(value_ref, "the recorded value to measure")
    between: tuple[refs.ContactRef, refs.ContactRef] | None = key(two_of(contact_ref), "the two contacts")
    with_: Text | None = key(some_prose, "the instrument and its range", name="with")
    expect: Quantity | None = key(quantity(), "what must be read")
    else_: Text | None = key(some_prose, "the procedure or code to go to when it is not", name="else")


_NONE = Text("")


@dataclass(frozen=True, slots=True, kw_only=True)
class Action:
    """One verb on one object.

    ``target`` is the thing named first, ``to`` what follows ``to`` or ``at``, ``cable`` the cable of ``W5 at A1-J5``;
    ``exact`` is a count to be checked (``4 x``), ``part`` a partial count (``2 of``); ``text`` is the object as typed.
    """

    verb: str
    text: Text
    target: Text = _NONE
    to: Text = _NONE
    cable: Text = _NONE
    exact: int | None = None
    part: int | None = None
    measure: Measure | None = None
    place: Place = NOWHERE


_COUNTED = re.compile(r"(?P<n>[0-9]{1,4})(?P<how> x| of) (?P<rest>.+)")
_ITEM = re.compile(rf"(?:{refs.DESIGNATION.pattern})|(?:{refs.ID.pattern})")
_SET = re.compile(rf"(?:{_ITEM.pattern})(?:\.(?:{refs.ID.pattern}))?")
_SIDES = ("left", "right", "back", "front", "feet")


def _named(kind: Callable[[str, Place], Text], pattern: re.Pattern[str]) -> Callable[[str, Place], Text | None]:
    return lambda text, place: kind(text, place) if pattern.fullmatch(text) else None


_item = _named(refs.ItemRef, _ITEM)
_connector = _named(refs.ConnectorRef, refs.CONNECTOR)
_SIMPLE: Mapping[Kind, Callable[[str, Place], Text | None]] = {
    Kind.SET: _named(refs.SetRef, _SET), Kind.ITEM: _item, Kind.HOST: _item, Kind.CONNECTOR: _connector,
    Kind.TIE: _named(refs.TieRef, _ITEM), Kind.LINE: _named(refs.LineRef, _ITEM),
    Kind.CIRCUIT: _named(refs.CircuitRef, refs.ID),
    Kind.ENERGY: _named(refs.EnergyRef, refs.ID), Kind.CABLE: _named(refs.CableRef, _ITEM),
    Kind.ADJUSTER: _named(refs.AdjusterRef, refs.ID),
    Kind.OPENING: _item, Kind.MEASURE: _named(refs.ValueRef, _SET), Kind.ANY: _named(refs.SetRef, _SET),
}  # fmt: skip
_PAIRED: Mapping[Kind, tuple[str, Callable[[str, Place], Text | None], Callable[[str, Place], Text | None]]] = {
    Kind.MOVE: (" to ", _item, _named(Text, refs.ID)),
    Kind.OPENING: (" at ", _named(refs.LineRef, _ITEM), _item),
    Kind.JOINT: (" at ", _named(refs.LineRef, _ITEM), _item),
    Kind.LEAD: (" at ", _named(refs.CableRef, _ITEM), lambda text, place: _contact_or_item(text, place)),
    Kind.CONNECTOR: (" at ", _named(refs.CableRef, _ITEM), _connector),
}  # fmt: skip


def _contact_or_item(text: str, place: Place) -> Text | None:
    read = contact_ref.read(nodes.Scalar(text, place), Desk())
    return _item(text, place) if isinstance(read, Misfit) else read


def read_object(verb: str, node: nodes.Scalar, desk: Desk) -> Action | Misfit:
    """The object of a verb, read by its kind's grammar; a misfit says what the verb wants."""
    kind = VERBS[verb]
    said = Text(node.text, node.place)
    words, shift = node.text, 0
    exact = part = None
    counted = _COUNTED.fullmatch(words) if kind is Kind.SET else None
    if counted:
        exact, part = (int(counted["n"]), None) if counted["how"] == " x" else (None, int(counted["n"]))
        words, shift = counted["rest"], counted.start("rest")

    def action(target: Text, to: Text = _NONE, cable: Text = _NONE, measure: Measure | None = None) -> Action:
        return Action(
            verb=verb, text=said, target=target, to=to, cable=cable, exact=exact, part=part, measure=measure,
            place=node.place,
        )  # fmt: skip

    if kind is Kind.STAND:
        side = words.removeprefix("on ")
        if words.startswith("on ") and side in _SIDES:
            return action(Text(side, node.place))
        return _object_misfit(verb, kind, node, desk)

    def place(start: int, length: int) -> Place:
        at = node.place
        is_all = shift + start == 0 and at.end_column == at.column + length
        return at if is_all or node.style != "plain" else at.part(shift + start, length)  # one name: one place

    if kind in _PAIRED:
        joiner, first, second = _PAIRED[kind]
        one, found, two = words.partition(joiner)
        if found:
            left = first(one, place(0, len(one)))
            right = second(two, place(len(one) + len(joiner), len(two)))
            if left is None or right is None:
                return _object_misfit(verb, kind, node, desk)
            if kind is Kind.CONNECTOR:
                return action(right, cable=left)
            return action(left, right)
    simple = _SIMPLE.get(kind)
    target = simple(words, place(0, len(words))) if simple else None
    if target is None:
        if kind is Kind.ANY:
            return action(_NONE)
        return _object_misfit(verb, kind, node, desk)
    if kind is Kind.MEASURE:
        row = Measure(value=refs.ValueRef(target, target.place), place=node.place)
        return action(target, measure=row)
    if target.place is node.place:
        said = target  # most objects are one name: it is kept once
    return action(target)


def _object_misfit(verb: str, kind: Kind, node: nodes.Scalar, desk: Desk) -> Misfit:
    message = f"'{verb}' cannot act on '{shorten(node.text)}'"
    return desk.misfit("bad-object", message, node.place, f"'{verb}' wants {kind.value}")


def _read_action(verb: str, node: nodes.Node, desk: Desk) -> list[Action]:
    if isinstance(node, nodes.Sequence):
        return [one for item in node.items for one in _read_action(verb, item, desk)]
    if isinstance(node, nodes.Mapping):
        if VERBS[verb] is not Kind.MEASURE:
            wants(desk, VERBS[verb].value, node)
            return []
        row = read_row(Measure, "a measurement", node, desk)
        if isinstance(row, Misfit):
            return []
        if row.value is None and row.between is None:
            desk.misfit(
                "missing-key",
                "this measurement does not say where",
                node.place,
                "add `between: [F1.1, F1.2]`, or name a value: `measure: F1.cold`",
            )
            return []
        return [
            Action(
                verb=verb,
                text=Text("", node.place),
                target=row.value or Text(""),
                measure=row,
                place=node.place,
            )
        ]
    if node.text == "":
        wants(desk, VERBS[verb].value, node)
        return []
    made = read_object(verb, node, desk)
    return [] if isinstance(made, Misfit) else [made]


def _read_do(node: nodes.Node, desk: Desk) -> tuple[Action, ...] | Misfit:
    if isinstance(node, nodes.Mapping):
        items: tuple[nodes.Node, ...] = (node,)
    elif isinstance(node, nodes.Sequence):
        items = node.items
    else:
        return wants(desk, "a list of `verb: object`", node)
    done: list[Action] = []
    for item in items:
        if not isinstance(item, nodes.Mapping):
            wants(desk, "`verb: object`", item)
            continue
        for verb, target in item.entries:
            if verb.text not in VERBS:
                near = closest(verb.text, tuple(VERBS))
                help = f"did you mean '{near[0]}'?" if near else f"the verbs are {', '.join(VERBS)}"
                desk.misfit("unknown-verb", f"'{shorten(verb.text)}' is not a verb of a step", verb.place, help)
                continue
            done.extend(_read_action(_SPELT[verb.text], target, desk))
    return tuple(done)


def _schema() -> dict[str, Any]:
    """Each verb with its objects; ``measure`` may be a table of its own."""
    plain = {"type": ["string", "array"]}
    measure = {"anyOf": [{"type": "string"}, {"$ref": "#/$defs/Measure"}, {"type": "array"}]}
    verbs = {
        verb: {**(measure if kind is Kind.MEASURE else plain), "description": f"acts on {kind.value}"}
        for verb, kind in VERBS.items()
    }
    step = {"type": "object", "properties": verbs, "additionalProperties": False}
    return {"anyOf": [step, {"type": "array", "items": step}]}


some_actions: Reader[tuple[Action, ...]] = Reader(
    "a list of `verb: object`", _read_do, _schema, "[loosen: top-cover]", "[juggle: it]"
)
