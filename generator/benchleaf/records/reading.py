"""How a record's table is declared and read: one dataclass a table, one ``key()`` a field, one reader a type.

From the same declaration come the reading, the findings, the JSON Schema, the manual's key tables and the tests
that break every field. A reader never raises: it leaves its findings on the desk and gives ``MISFIT``.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Hashable, Iterator, Mapping
from dataclasses import field
from functools import cache
from typing import Any, Generic, TypeVar, cast

from benchleaf import nodes
from benchleaf.diagnostics import Finding, Place, Severity
from benchleaf.frozen import dataclass
from benchleaf.records.guesses import meant
from benchleaf.suggest import closest
from benchleaf.text import NOWHERE, Text

T = TypeVar("T")


class Misfit:
    """What a reader gives when the value cannot be read; its finding is on the desk already."""

    def __repr__(self) -> str:
        return "MISFIT"


MISFIT = Misfit()


@dataclass
class Desk:
    """Where readers leave their findings, with what they must know of the shop while reading."""

    decimal_comma: bool = False
    findings: list[Finding] = field(default_factory=list)

    def misfit(self, code: str, message: str, place: Place, help: str = "") -> Misfit:
        self.findings.append(Finding(code, message, place, help))
        return MISFIT

    def doubt(self, code: str, message: str, place: Place, help: str = "") -> None:
        self.findings.append(Finding(code, message, place, help, Severity.WARNING))


@dataclass(frozen=True)
class Reader(Generic[T]):
    """A type of the record language.

    ``words`` completes "…wants"; ``good`` and ``bad`` are sample spellings the tests and the manual use (``bad`` empty:
    any text fits); ``prose`` marks free text; ``spaced`` marks text in which a comment would be a slip.
    """

    words: str
    read: Callable[[nodes.Node, Desk], T | Misfit]
    schema: Callable[[], dict[str, Any]]
    good: str
    bad: str = "[[]]"
    prose: bool = False


WHERE: Reader[Any] = Reader(
    "a list of `{applies: […], key: value}`",
    lambda node, desk: MISFIT,  # read with the table it stands in
    lambda: {"type": "array", "items": {"type": "object"}},
    "[{applies: [mk2]}]",
)


@dataclass(frozen=True)
class Key:
    """One key of a table: its reader, what it means, and what is meant when it is left out."""

    reader: Reader[Any]
    doc: str
    name: str
    required: bool
    left_out: str


def key(
    reader: Reader[Any] | Callable[[], Reader[Any]],
    doc: str,
    *,
    name: str = "",
    required: bool = False,
    default: Any = None,
    left_out: str = "not recorded",
) -> Any:
    """Declare a field of a table. ``reader`` may be a function, for tables that contain one another."""
    meta = {"key": (reader, doc, name, required, left_out)}
    if default is dict:
        return field(default_factory=dict, metadata=meta)
    if required:
        return field(metadata=meta)
    return field(default=default, metadata=meta)


_SURE: frozenset[str] = frozenset()  # one for all rows: each empty set made anew takes 216 bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What every table row knows beside its keys: where it stands, where each key stands, what was said unknown."""

    place: Place = NOWHERE
    said: Mapping[str, Place] = field(default_factory=dict, repr=False, compare=False, hash=False)
    unsure: frozenset[str] = _SURE

    def place_of(self, name: str) -> Place:
        """The place of the value of key ``name``; of the row itself when the key was left out."""
        return self.said.get(name, self.place)


R = TypeVar("R", bound=Row)


@dataclass(frozen=True, slots=True)
class Where:
    """``where:`` – for these configurations, these keys replace the entry's own."""

    applies: Any
    changes: Mapping[str, Any]
    place: Place
    said: Mapping[str, Place]


@cache
def keys_of(table: Hashable) -> Mapping[str, tuple[str, Key]]:
    """The keys of a table in the order declared: key name → (field name, key)."""
    found: dict[str, tuple[str, Key]] = {}
    for part in dataclasses.fields(cast(type[Row], table)):
        if "key" not in part.metadata:
            continue
        reader, doc, name, required, left_out = part.metadata["key"]
        if not isinstance(reader, Reader):
            reader = reader()
        spelled = name or part.name.rstrip("_").replace("_", "-")
        found[spelled] = (part.name, Key(reader, doc, spelled, required, left_out))
    return found


@cache
def _required(table: Hashable) -> Mapping[str, str]:
    """The keys no row of a table goes without: key name → field name."""
    return {name: part for name, (part, one) in keys_of(table).items() if one.required}


def kind_of(node: nodes.Node) -> str:
    """What the author wrote, in a word, for messages."""
    if isinstance(node, nodes.Sequence):
        return "a list" if node.items else "an empty list"
    if isinstance(node, nodes.Mapping):
        return "a table of keys"
    return f"'{shorten(node.text)}'" if node.text else "nothing"


def shorten(text: str, most: int = 40) -> str:
    flat = " ".join(text.split())
    return flat if len(flat) <= most else flat[: most - 1] + "…"


def wants(desk: Desk, words: str, node: nodes.Node) -> Misfit:
    """The finding for a value of the wrong shape."""
    if isinstance(node, nodes.Scalar) and node.text == "" and node.style == "plain":
        help = f"write {words}, or leave the key out: left out means not recorded"
    else:
        help = f"write {words}"
    return desk.misfit("wrong-type", f"expected {words}, found {kind_of(node)}", node.place, help)


def scalar(words: str, convert: Callable[[nodes.Scalar, Desk], T | Misfit], good: str, **more: Any) -> Reader[T]:
    """A reader for a single value; a list or table there is a finding."""
    schema = more.pop("schema", {"type": ["string", "number", "boolean"]})

    def read(node: nodes.Node, desk: Desk) -> T | Misfit:
        if not isinstance(node, nodes.Scalar) or (node.text == "" and node.style == "plain"):
            return wants(desk, words, node)
        return convert(node, desk)

    return Reader(words, read, lambda: dict(schema), good, **more)


def listing(
    inner: Reader[T], words: str = "", *, single: bool = True, none: bool = False, bad: str = ""
) -> Reader[tuple[T, ...]]:
    """A list of ``inner``; ``single`` lets one value stand for a list of one, ``none`` means looked: there is none."""
    said = words or f"a list of values, each {inner.words}"

    def read(node: nodes.Node, desk: Desk) -> tuple[T, ...] | Misfit:
        if none and isinstance(node, nodes.Scalar) and node.text == "none":
            return ()
        if isinstance(node, nodes.Sequence):
            made = [inner.read(item, desk) for item in node.items]
            return tuple(one for one in made if not isinstance(one, Misfit))
        if not single or (isinstance(node, nodes.Scalar) and node.text == ""):
            return wants(desk, said, node)
        one = inner.read(node, desk)
        return one if isinstance(one, Misfit) else (one,)

    def schema() -> dict[str, Any]:
        many: dict[str, Any] = {"type": "array", "items": inner.schema()}
        others = [inner.schema()] if single else []
        others += [{"const": "none"}] if none else []
        return {"anyOf": [many, *others]} if others else many

    return Reader(said, read, schema, f"[{inner.good}]", bad or inner.bad, inner.prose)


def table(row: type[R], words: str, *, short: str = "", good: str = "", bad: str = "[[]]") -> Reader[R]:
    """A reader for a mapping declared by the dataclass ``row``; ``short`` names the key a plain scalar stands for."""

    def read(node: nodes.Node, desk: Desk) -> R | Misfit:
        if not isinstance(node, nodes.Mapping):
            if short and (isinstance(node, nodes.Sequence) or node.text):
                where, one = keys_of(cast(Hashable, row))[short]
                value = one.reader.read(node, desk)
                if isinstance(value, Misfit):
                    return MISFIT
                return row(**{where: value}, place=node.place, said={short: node.place})
            return wants(desk, f"{words} such as `{good}`" if good else words, node)
        return read_row(row, words, node, desk)

    def schema() -> dict[str, Any]:
        whole = {"$ref": f"#/$defs/{row.__name__}"}
        if not short:
            return whole
        return {"anyOf": [keys_of(cast(Hashable, row))[short][1].reader.schema(), whole]}

    return Reader(words, read, schema, good, bad)


def read_row(row: type[R], words: str, node: nodes.Mapping, desk: Desk, place: Place | None = None) -> R | Misfit:
    """Read every key of ``node`` into ``row``; all misfits are reported, the row is made from what fits."""
    known = keys_of(cast(Hashable, row))
    given, said, unsure = _read_keys(row, known, words, node, desk)
    start = place or node.place
    required = _required(cast(Hashable, row))
    for name in required:
        if name not in said:
            desk.misfit("missing-key", f"{_the(words)} has no '{name}'", start, f"add `{name}:` – {known[name][1].doc}")
    if any(part not in given for part in required.values()):
        return MISFIT
    return row(**given, place=start, said=said, unsure=frozenset(unsure) if unsure else _SURE)


def _the(words: str) -> str:
    return "the" + words[words.index(" ") :] if words.startswith(("a ", "an ")) else words


def _read_keys(
    row: type[Any], known: Mapping[str, tuple[str, Key]], words: str, node: nodes.Mapping, desk: Desk
) -> tuple[dict[str, Any], dict[str, Place], list[str]]:
    given: dict[str, Any] = {}
    said: dict[str, Place] = {}
    unsure: list[str] = []
    for name, value in node.entries:
        if name.text not in known:
            unknown_key(desk, name, known, words)
            continue
        where, one = known[name.text]
        said[name.text] = value.place
        if one.reader is WHERE:
            given[where] = _read_where(row, known, words, value, desk)
            continue
        if isinstance(value, nodes.Scalar) and value.text == "unknown" and not one.reader.prose and not one.required:
            unsure.append(name.text)
            continue
        if isinstance(value, nodes.Scalar) and value.comment_after is not None and one.reader.prose:
            desk.misfit(
                "comment-in-text",
                f"the text of '{name.text}' ends at ` #`: what follows is taken for a comment and lost",
                value.comment_after,
                f"put the text on the lines below `{name.text}: |`, or the comment on a line of its own",
            )
        read = one.reader.read(value, desk)
        if not isinstance(read, Misfit):
            given[where] = read
    return given, said, unsure


def unknown_key(desk: Desk, name: nodes.Scalar, known: Mapping[str, Any], words: str) -> None:
    near = closest(name.text, tuple(known))
    every = f"its keys are {', '.join(known)}"
    other = meant(name.text, known)
    help = f"did you mean '{near[0]}'?" if near else f"{other}; {every}" if other else every
    if name.text[:1].isdigit():
        help = "between brackets a comma ends the value: write a point in a number, and quotes around text with commas"
    elif " " in name.text and not near and not other:
        help = "between brackets a comma ends the value: put quotes around text with commas"
    desk.misfit("unknown-key", f"'{shorten(name.text)}' is not a key of {words}", name.place, help)


def _read_where(
    row: type[Any], known: Mapping[str, tuple[str, Key]], words: str, node: nodes.Node, desk: Desk
) -> tuple[Where, ...]:
    if not isinstance(node, nodes.Sequence):
        wants(desk, "a list of `{applies: […], key: value}`", node)
        return ()
    made = []
    for item in node.items:
        if not isinstance(item, nodes.Mapping):
            wants(desk, "a table with `applies` and the keys that differ there", item)
            continue
        given, said, _ = _read_keys(row, known, words, item, desk)
        applies = given.pop("applies", None)
        if "applies" not in said:
            desk.misfit(
                "missing-key",
                "this `where` does not say for which machines",
                item.place,
                "add `applies: […]`",
            )
        if "where" in said:
            desk.misfit("unknown-key", "`where` inside `where`", said["where"], "write one `where` entry a case")
        if applies is not None:
            made.append(Where(applies, given, item.place, said))
    return tuple(made)


def ids_to(inner: Reader[T], names: Reader[Text], words: str, *, take_id: bool = True) -> Reader[Mapping[str, T]]:
    """A table of the author's own names, each with a row; the row is told its id and stands at its name."""

    def read(node: nodes.Node, desk: Desk) -> Mapping[str, T] | Misfit:
        if not isinstance(node, nodes.Mapping):
            return wants(desk, words, node)
        return dict(_read_named(inner, names, node.entries, desk, take_id))

    def schema() -> dict[str, Any]:
        pattern = names.schema().get("pattern", ".*")
        return {
            "type": "object",
            "patternProperties": {pattern: inner.schema()},
            "additionalProperties": False,
        }

    return Reader(words, read, schema, "", "[[]]")


def _read_named(
    inner: Reader[T],
    names: Reader[Text],
    entries: tuple[tuple[nodes.Scalar, nodes.Node], ...],
    desk: Desk,
    take: bool,
) -> Iterator[tuple[str, T]]:
    for name, value in entries:
        spelled = names.read(name, desk)
        made = inner.read(value, desk)
        if isinstance(spelled, Misfit) or isinstance(made, Misfit):
            continue
        if take:
            made = dataclasses.replace(cast(Any, made), id=spelled, place=name.place)
        yield spelled, made


def either(
    first: Reader[Any], second: Reader[Any], choose_second: Callable[[nodes.Node], bool], words: str = ""
) -> Reader[Any]:
    """One of two types, told apart by the look of the node (a table or a scalar, say), never by trying."""
    said = words or f"{first.words}, or {second.words}"

    def read(node: nodes.Node, desk: Desk) -> Any:
        return (second if choose_second(node) else first).read(node, desk)

    return Reader(said, read, lambda: {"anyOf": [first.schema(), second.schema()]}, first.good, first.bad, first.prose)


def one_of(choices: Mapping[str, T], words: str) -> Reader[T]:
    """A closed list of words, each standing for a value."""

    def convert(node: nodes.Scalar, desk: Desk) -> T | Misfit:
        if node.text in choices:
            return choices[node.text]
        near = closest(node.text, tuple(choices))
        few = list(choices)[:12]
        help = f"did you mean '{near[0]}'?" if near else f"write one of {', '.join(few)}"
        return desk.misfit("unknown-word", f"'{shorten(node.text)}' is not {words}", node.place, help)

    sample = next(iter(choices))
    return scalar(words, convert, sample, bad="zzz-no-such-word", schema={"enum": list(choices)})
