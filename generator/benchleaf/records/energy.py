"""Energies: how each is isolated, what stays stored, how it is proved gone."""

from __future__ import annotations

from benchleaf import nodes, refs
from benchleaf.frozen import dataclass
from benchleaf.records.entry import Entry, or_none
from benchleaf.records.observed import Value, value
from benchleaf.records.reading import (
    Desk,
    Misfit,
    Row,
    key,
    listing,
    one_of,
    scalar,
    shorten,
    table,
)
from benchleaf.records.types import (
    a_text,
    an_item,
    contact_ref,
    quantity,
    some_prose,
    two_of,
)
from benchleaf.text import Text
from benchleaf.values.quantity import Dimension, Quantity

ISOLATING_VERBS = ("unplug", "open", "close", "block")


@dataclass(frozen=True, slots=True)
class Isolator:
    """One device to operate, in its order: how, which, and the poles it opens where named."""

    verb: str
    device: refs.ItemRef
    poles: tuple[str, ...] = ()


def _isolator(node: nodes.Scalar, desk: Desk) -> Isolator | Misfit:
    verb, _, device = node.text.partition(" ")
    name, _, pole = device.strip().partition(".")
    found = an_item.read(nodes.Scalar(name, node.place.part(len(verb) + 1, len(name))), Desk())
    if verb not in ISOLATING_VERBS or isinstance(found, Misfit):
        return desk.misfit(
            "bad-isolator", f"'{shorten(node.text)}' does not say what to operate", node.place,
            "write `unplug XP1`, `open Q1`, `close V1` or `block Y1`",
        )  # fmt: skip
    return Isolator(verb, found, tuple(part.strip() for part in pole.split("+")) if pole else ())


isolator = scalar("a device and what to do with it, such as `unplug XP1`", _isolator, "unplug XP1", bad="pray")


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof(Row):
    """Where to prove an energy dead, what must be read, and with what."""

    between: tuple[refs.ContactRef, refs.ContactRef] | None = key(two_of(contact_ref), "electrical: the two contacts")
    at: refs.ItemRef | None = key(an_item, "thermal, pneumatic: the item")
    expect: Quantity | None = key(
        quantity(Dimension.VOLTAGE, Dimension.TEMPERATURE, Dimension.PRESSURE, Dimension.LENGTH),
        "the limit that must be read",
    )
    meter: Text | None = key(a_text, "the meter and its range")


@dataclass(frozen=True, slots=True, kw_only=True)
class Bleed(Row):
    """The path a stored charge leaves by."""

    resistance: Value | None = key(value(Dimension.RESISTANCE), "its resistance")
    between: tuple[refs.ContactRef, refs.ContactRef] | None = key(
        two_of(contact_ref), "the two contacts it lies between"
    )


STORES = ("capacitor", "battery", "supercapacitor", "other")


@dataclass(frozen=True, slots=True, kw_only=True)
class Store(Row):
    """Charge that stays when the source is gone."""

    in_: refs.ItemRef | None = key(an_item, "the item it is in", name="in", required=True)
    between: tuple[refs.ContactRef, refs.ContactRef] | None = key(
        two_of(contact_ref), "the two contacts it can be measured at"
    )
    kind: str | None = key(one_of({k: k for k in STORES}, "a kind of store"), "what holds it", left_out="capacitor")
    capacitance: Value | None = key(value(Dimension.CAPACITANCE), "its capacitance")
    voltage: Value | None = key(value(Dimension.VOLTAGE), "the voltage it is charged to")
    bleed: Bleed | str | None = key(
        or_none(table(Bleed, "a bleed path", good="{resistance: 220 kohm}"), "none"),
        "the path it leaves by",
        left_out="time unknown",
    )
    discharge: Text | None = key(a_text, "how to discharge it")


ENERGIES = ("electrical", "thermal", "pneumatic", "spring", "gravity")


@dataclass(frozen=True, slots=True, kw_only=True)
class Energy(Entry):
    """One kind of energy at one place: how it is isolated, what stays, how it is proved gone."""

    kind: str = key(
        one_of({k: k for k in ENERGIES}, "a kind of energy (a fluid is a line)"), "what it is", required=True
    )
    at: tuple[refs.ItemRef, ...] | None = key(
        listing(an_item), "the items it is at", left_out="electrical: what the wiring reaches"
    )
    isolate: tuple[Isolator, ...] | None = key(listing(isolator, none=True), "the devices that isolate it, in order")
    lock: Text | None = key(a_text, "how the isolation is locked or kept")
    limit: Quantity | None = key(
        quantity(Dimension.VOLTAGE, Dimension.TEMPERATURE, Dimension.PRESSURE, Dimension.FORCE),
        "the value that counts as gone",
        left_out="electrical 60 V DC, 25 V AC (common practice)",
    )
    prove_dead: tuple[Proof, ...] | None = key(
        listing(table(Proof, "a way to prove it", good="{between: [PS1-J1.L, PS1-J1.N], expect: below 5 V AC}")),
        "where and how it is proved dead",
    )
    stored: tuple[Store, ...] | None = key(
        listing(table(Store, "a store", good="{in: PS1}"), none=True), "what stays stored"
    )
    name: Text | None = key(a_text, "what it is called")
    note: Text | None = key(some_prose, "anything worth knowing")
