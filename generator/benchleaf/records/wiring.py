"""wiring.yaml: connectors, cables, joins, sources, signals and what stands in for them."""

from __future__ import annotations

import re
from collections.abc import Container, Mapping
from dataclasses import replace
from typing import Any, cast

from benchleaf import nodes, refs
from benchleaf.frozen import dataclass
from benchleaf.records.entry import Entry, an_id, or_none
from benchleaf.records.observed import Value, value
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
    table,
    wants,
)
from benchleaf.records.types import (
    Applies,
    Choices,
    a_text,
    a_word,
    connector_ref,
    contact_name,
    contact_ref,
    end_ref,
    for_machines,
    id_of,
    item_id,
    matching,
    quantity,
    some_choices,
    two_of,
    yes_no,
)  # fmt: skip
from benchleaf.text import Text
from benchleaf.values.quantity import Dimension, Quantity

NOT_RECORDED = ""


def _contacts(node: nodes.Node, desk: Desk) -> Mapping[str, Text] | Misfit:
    """A count (contacts 1..n, roles not recorded) or name → role, in the order written."""
    if isinstance(node, nodes.Scalar) and node.text.isdigit() and 0 < int(node.text[:6]) <= MOST_CONTACTS:
        return {str(n): Text(NOT_RECORDED, node.place) for n in range(1, int(node.text) + 1)}
    if not isinstance(node, nodes.Mapping):
        return wants(desk, f"a count of contacts (at most {MOST_CONTACTS}), or a table `{{1: 24 V DC, 2: 0 V}}`", node)
    made: dict[str, Text] = {}
    for name, role in node.entries:
        spelled = contact_name.read(name, desk)
        said = a_text.read(role, desk)
        if not isinstance(spelled, Misfit) and not isinstance(said, Misfit):
            made[spelled] = Text(NOT_RECORDED, said.place) if said == "unknown" else said
    return made


MOST_CONTACTS = 500
contact_roles: Reader[Mapping[str, Text]] = Reader(
    "a count of contacts, or a table of contact to role",
    _contacts,
    lambda: {"type": ["integer", "object", "string"]},
    "4",
    "many",
)


def _face(node: nodes.Node, desk: Desk) -> tuple[tuple[Text, ...], ...] | Misfit:
    rows = node.items if isinstance(node, nodes.Sequence) else ()
    if not rows or not all(isinstance(row, nodes.Sequence) for row in rows):
        return wants(desk, "rows of contact names such as `[[1, 2], [3, 4]]`", node)
    made: list[tuple[Text, ...]] = []
    for row in rows:
        assert isinstance(row, nodes.Sequence)
        places = [
            Text("-", one.place) if isinstance(one, nodes.Scalar) and one.text == "-" else contact_name.read(one, desk)
            for one in row.items
        ]
        made.append(tuple(one for one in places if not isinstance(one, Misfit)))
    return tuple(made)


face_rows: Reader[Any] = Reader(
    "rows of contact names such as `[[1, 2], [3, 4]]`", _face, lambda: {"type": "array"}, "[[1, 2]]", "round"
)
HALVES = {name: name for name in ("receptacle", "plug")}
PINS = {name: name for name in ("fixed", "loose")}


@dataclass(frozen=True, slots=True, kw_only=True)
class Connector(Entry):
    """A connector at its host: one half fixed, the other on a cable."""

    family: Text | None = key(a_text, "the family; only the same family fits")
    contacts: Mapping[str, Text] | None = key(contact_roles, "a count, or contact name to role")
    form: str | None = key(one_of(HALVES, "`receptacle` or `plug`"), "which half is fixed", left_out="receptacle")
    pins: str | None = key(one_of(PINS, "`fixed` or `loose`"), "which half has the pins")
    keyed: Text | bool | None = key(
        Reader(
            "`yes`, `no`, or the key's own word",
            lambda n, d: _keyed(n, d),
            lambda: {"type": ["boolean", "string"]},
            "yes",
        ),
        "keyed; a word names its coding",
        left_out="no (not recorded)",
    )
    latch: Text | None = key(a_text, "its latch")
    face: tuple[tuple[Text, ...], ...] | None = key(
        face_rows, "rows of contacts, mating side, latch up, `-` = empty place"
    )
    tail: Value | None = key(value(Dimension.LENGTH), "hangs on a lead of this length")
    reach: Choices | None = key(
        some_choices, "what is out of the way before it can be touched", left_out="that of its host"
    )
    takes: Quantity | None = key(quantity(Dimension.TIME), "time to open it", left_out="the shop's `times`")
    like: refs.ConnectorRef | None = key(connector_ref, "copies every key of that connector but `reach` and `cable`")
    cable: str | None = key(
        one_of({"none": "none"}, "`none`"),
        "`none`: somebody looked, and nothing is plugged in here",
        left_out="the cable that ends here; where none does, what is plugged in is not recorded",
    )
    note: Text | None = key(a_text, "anything worth knowing")


def _keyed(node: nodes.Node, desk: Desk) -> Text | bool | Misfit:
    if isinstance(node, nodes.Scalar) and node.text in ("yes", "no"):
        return node.text == "yes"
    return a_text.read(node, desk)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlugHalf(Row):
    """The cable's half, where it differs from what its own receptacle wants."""

    family: Text | None = key(a_text, "its family", left_out="that of its receptacle")
    contacts: Mapping[str, Text] | None = key(contact_roles, "its contacts", left_out="those of its receptacle")
    keyed: Text | bool | None = key(
        Reader("`yes`, `no`, or the key's own word", _keyed, lambda: {"type": ["boolean", "string"]}, "yes"),
        "its keying",
        left_out="that of its receptacle",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CableEnd(Row):
    """Where a cable ends: a connector (pluggable), an item or contact (fixed lead), or parked."""

    at: refs.EndRef = key(end_ref, "the connector, item or contact, or `parked`", required=True)
    plug: PlugHalf | None = key(
        table(PlugHalf, "the cable's half", good="{contacts: 4}"), "the cable's half, where it differs"
    )
    joint: str | None = key(
        one_of({j: j for j in ("solder", "screw", "spade")}, "a joint"),
        "how a fixed lead is joined",
        left_out="that of the cable",
    )
    takes: Quantity | None = key(quantity(Dimension.TIME), "time to open this end", left_out="the shop's `times`")


WAYS = ("straight", "reversed")


def _map(node: nodes.Node, desk: Desk) -> Any:
    if isinstance(node, nodes.Scalar) and node.text in WAYS:
        return node.text
    if not isinstance(node, nodes.Sequence):
        return wants(desk, "`straight`, `reversed`, or pairs `[[1, 1], [2, 3]]`", node)
    pairs: list[tuple[Text, Text]] = []
    for pair in node.items:
        if not isinstance(pair, nodes.Sequence) or len(pair.items) != 2:
            wants(desk, "a pair of contacts such as `[1, 3]`", pair)
            continue
        one, two = (_pair_end.read(item, desk) for item in pair.items)
        if not isinstance(one, Misfit) and not isinstance(two, Misfit):
            pairs.append((one, two))
    return tuple(pairs)


_pair_end = matching(Text, re.compile(r"[A-Za-z0-9+~#_/.-]{1,60}"), "a contact", "1")
wire_map: Reader[Any] = Reader(
    "`straight`, `reversed`, or pairs `[[1, 1], [2, 3]]`",
    _map,
    lambda: {"type": ["string", "array"]},
    "straight",
    "tangled",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wires(Row):
    """Which contact a cable leads to which, and by what wire."""

    map: tuple[tuple[Text, Text], ...] | str | None = key(
        wire_map, "which contact goes to which", left_out="any contact may reach any"
    )
    gauge: tuple[Quantity, ...] | None = key(
        listing(quantity(Dimension.AREA)), "cross-section: one for all, or one a wire in map order"
    )
    colours: tuple[Text, ...] | None = key(
        listing(a_word), "IEC 60757 colour codes: one for all, or one a wire in map order"
    )
    rated: tuple[Quantity, ...] | None = key(
        listing(quantity(Dimension.CURRENT)), "rated current: one for all, or one a wire in map order"
    )


CABLES = ("round", "flat", "harness")


@dataclass(frozen=True, slots=True, kw_only=True)
class Cable(Entry):
    """A cable, flat cable or harness with its ends."""

    name: Text | None = key(a_text, "what it is called")
    kind: str | None = key(one_of({k: k for k in CABLES}, "a kind of cable"), "what it is")
    ends: tuple[CableEnd, ...] = key(
        listing(table(CableEnd, "the end of a cable", short="at", good="{at: A1-J3}"), single=False),
        "two or more ends",
        default=(),
    )
    wires: Wires | None = key(
        table(Wires, "the wires", short="map", good="{map: straight}"),
        "its wires",
        left_out="any contact may reach any",
    )
    length: Value | None = key(value(Dimension.LENGTH), "its length", left_out="long enough to reach any place")
    slack: Value | None = key(
        value(Dimension.LENGTH),
        "how far its two sides may move apart with both ends mated",
        left_out="0 (not recorded)",
    )
    joint: str | None = key(
        one_of({j: j for j in ("solder", "screw", "spade")}, "a joint"),
        "how its fixed leads are joined",
        left_out="solder",
    )
    part_number: Text | None = key(a_word, "part number")
    note: Text | None = key(a_text, "anything worth knowing")


JOINS = ("copper", "fuse", "switch", "relay", "load", "driver")


@dataclass(frozen=True, slots=True, kw_only=True)
class Join(Row):
    """How contacts of one item are joined inside it. ``between`` holds full names once read."""

    kind: str | None = key(one_of({k: k for k in JOINS}, "a kind of join"), "what joins them", left_out="copper")
    between: tuple[refs.ContactRef, ...] = key(
        listing(_pair_end, single=False),
        "the contacts joined; the item's own name may be left out",
        default=(),
    )
    rating: Quantity | None = key(quantity(Dimension.CURRENT), "fuse: its rated current")
    cold: Value | None = key(value(Dimension.RESISTANCE), "fuse: its cold resistance")
    rest: str | None = key(
        one_of({r: r for r in ("open", "closed")}, "`open` or `closed`"),
        "switch, relay: its state when not operated",
    )
    coil: tuple[refs.ContactRef, refs.ContactRef] | None = key(two_of(_pair_end), "relay: the contacts of its coil")
    resistance: Value | None = key(value(Dimension.RESISTANCE), "load: its resistance")
    draws: Value | None = key(value(Dimension.CURRENT), "load: the current it draws")
    label: Text | None = key(a_text, "driver: what it is")
    applies: Applies | None = key(for_machines, "the machines that have it", left_out="all")


def _join(node: nodes.Node, desk: Desk) -> Join | Misfit:
    if isinstance(node, nodes.Sequence):
        ends = _between.read(node, desk)
        return MISFIT if isinstance(ends, Misfit) else Join(kind="copper", between=ends, place=node.place)  # type: ignore[arg-type]
    return _join_row.read(node, desk)


_between = listing(_pair_end, "two contacts such as `[J1.1, J3.1]`", single=False)
_join_row = table(Join, "a join", good="{kind: fuse, between: [1, 2]}")
a_join: Reader[Join] = Reader(
    "a join such as `[J1.1, J3.1]` or `{kind: fuse, between: [1, 2]}`",
    _join,
    lambda: {"anyOf": [{"type": "array"}, _join_row.schema()]},
    "[J1.1, J3.1]",
    "glued",
)


def full_contact(item: str, written: Text, connectors: Container[str], items: Container[str]) -> refs.ContactRef:
    """``J1.1`` under item A1 means ``A1-J1.1``, ``1`` means ``A1.1``; a full name, or that of another item, stays."""
    owner, dot, contact = written.partition(".")
    if not dot:
        return refs.ContactRef(f"{item}.{written}", written.place)
    if f"{item}-{owner}" in connectors or not (owner in items or refs.is_connector(owner)):
        return refs.ContactRef(f"{item}-{owner}.{contact}", written.place)
    return refs.ContactRef(written, written.place)


def with_full_contacts(wiring: WiringRecord, items: Container[str]) -> WiringRecord:
    """The wiring with every contact of ``joins`` under its full name."""

    def full(item: str, one: Join) -> Join:
        between = tuple(full_contact(item, end, wiring.connectors, items) for end in one.between)
        coil = one.coil and tuple(full_contact(item, end, wiring.connectors, items) for end in one.coil)
        return replace(one, between=between, coil=cast(Any, coil))

    return replace(wiring, joins={item: tuple(full(item, one) for one in many) for item, many in wiring.joins.items()})


_join_table = ids_to(
    listing(a_join, "a list of joins, or `none` where nothing is joined inside", single=False, none=True),
    item_id,
    "a table of item to joins",
    take_id=False,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Source(Entry):
    """Where power enters or is made."""

    at: tuple[refs.ContactRef, ...] = key(listing(contact_ref), "its live contacts", required=True)
    return_: tuple[refs.ContactRef, ...] | None = key(
        listing(contact_ref, none=True), "its return contacts", name="return"
    )
    earth: tuple[refs.ContactRef, ...] | None = key(listing(contact_ref, none=True), "its earth contacts")
    nominal: Quantity | None = key(quantity(Dimension.VOLTAGE), "its voltage")
    plug: str | None = key(
        one_of({p: p for p in ("polarised", "reversible")}, "`polarised` or `reversible`"),
        "whether the plug can be turned",
        left_out="reversible: every non-earth contact is live",
    )
    from_: tuple[refs.SourceRef, ...] | None = key(
        listing(id_of(refs.SourceRef)),
        "a conversion: the sources it is made from",
        name="from",
        left_out="it is a source of its own",
    )
    needs: str | None = key(
        one_of({"all": "all", "any": "any"}, "`all`"),
        "a conversion that lives only while all its inputs live",
        left_out="any",
    )
    one_way: bool | None = key(yes_no, "does not conduct backward", left_out="no")
    name: Text | None = key(a_text, "what it is called")
    note: Text | None = key(a_text, "anything worth knowing")


@dataclass(frozen=True, slots=True, kw_only=True)
class Signal(Entry):
    """What one contact tells another."""

    from_: refs.ContactRef | None = key(contact_ref, "the contact it comes from", name="from", required=True)
    to: tuple[refs.ContactRef, ...] | None = key(listing(contact_ref), "the contact that reads it", required=True)
    protects: Text | str | None = key(or_none(a_text, "none"), "what it protects", left_out="counts as a protection")
    name: Text | None = key(a_text, "what it is called")


@dataclass(frozen=True, slots=True, kw_only=True)
class Acknowledged(Row):
    """Who accepted a lost protection, when and why."""

    by: Text | None = key(a_text, "who: a role or initials", required=True)
    date: Text | None = key(a_text, "when", required=True)
    reason: Text | None = key(a_text, "why", required=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Substitution(Row):
    """A signal supplied by something else than its sensor or guard."""

    signal: refs.SignalRef = key(id_of(refs.SignalRef), "the signal", required=True)
    by: refs.ContactRef | None = key(contact_ref, "the contact that supplies it now", required=True)
    asserts: Text | None = key(a_text, "the value it always says")
    applies: Applies | None = key(for_machines, "the machines it is on", left_out="all")
    compensated_by: Text | str | None = key(or_none(a_text, "none"), "what protects instead, or `none`")
    restore: refs.ProcedureRef | None = key(id_of(refs.ProcedureRef), "the procedure that restores the signal")
    acknowledged: Acknowledged | None = key(
        table(Acknowledged, "an acknowledgement", good="{by: RV, date: 2026-01-01, reason: agreed}"),
        "who accepted the lost protection",
    )


_connectors = matching(Text, refs.CONNECTOR, "a connector", "A1-J3", "the host, a hyphen, capitals and digits: `A1-J3`")


@dataclass(frozen=True, slots=True, kw_only=True)
class WiringRecord(Row):
    """The wiring of one machine."""

    record: Text | None = key(a_word, "the kind of record: `wiring`", required=True)
    machine: Text | None = key(an_id, "the machine", required=True)
    connectors: Mapping[str, Connector] = key(
        ids_to(table(Connector, "a connector", good="{contacts: 4}"), _connectors, "a table of connectors"),
        "the connectors",
        default=dict,
    )
    cables: Mapping[str, Cable] = key(
        ids_to(table(Cable, "a cable", good="{ends: [A1-J3, M1]}"), item_id, "a table of cables"),
        "the cables",
        default=dict,
    )
    joins: Mapping[str, tuple[Join, ...]] = key(_join_table, "what joins contacts inside an item", default=dict)
    sources: Mapping[str, Source] = key(
        ids_to(table(Source, "a source", good="{at: [XP1.L]}"), an_id, "a table of sources"),
        "where power enters or is made",
        default=dict,
    )
    signals: Mapping[str, Signal] = key(
        ids_to(table(Signal, "a signal", good="{from: S1.1, to: A1-J3.2}"), an_id, "a table of signals"),
        "what contacts tell each other",
        default=dict,
    )
    substitutions: tuple[Substitution, ...] = key(
        listing(table(Substitution, "a substitution", good="{signal: lid, by: A9-J2.3}"), single=False),
        "signals supplied by something else",
        default=(),
    )
