"""Three plain words that stand on every print and on the procedure's page: equal words, the same records.

They are hashed from the facts a print follows from: the machine's record and wiring, the procedure and those it
requires, on every configuration, with the safety messages, tools and supplies of the shop, and the words of what a
step leads on to. Where a fact stands in a file, how a page is set and on which paper it is printed do not count.

Two dates stand beside them, both from the records: that of the issue, and the newest date any of these facts carries.
Where the words differ the newer records are the ones with the later date; a build has no clock of its own.
"""

from __future__ import annotations

import dataclasses
import hashlib
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache
from importlib import resources
from typing import TYPE_CHECKING, Any

from benchleaf.diagnostics import Place
from benchleaf.model import Machine
from benchleaf.records.teardown import TeardownRecord

if TYPE_CHECKING:
    from benchleaf.pages.book import MachineBook

WORDS_FILE = "currency_words.txt"
HOW_MANY = 3
MEANING = "A print and a page with the same three words were made from the same records."
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
_NOT_FACTS = ("place", "said")
"""Fields of a record that say where something stands, not what it is; a place anywhere else does not count either."""


@lru_cache(maxsize=1)
def word_list() -> tuple[str, ...]:
    """The words to choose from, each once: 2,048 or more, so three of them tell 8 thousand million states apart."""
    return tuple((resources.files("benchleaf") / WORDS_FILE).read_text(encoding="utf-8").split())


@dataclass(frozen=True, slots=True, kw_only=True)
class Currency:
    """The three words of a procedure with its two dates, both year-month-day: of its issue, and the newest recorded in
    any fact it follows from. ``None``: not recorded."""

    words: str
    issued: str | None
    newest: str | None
    of_machine: bool = False

    @property
    def dates(self) -> str:
        """``Issue of 2026-03-02, records up to 2026-03-18``. A machine's record has no issue of its own: there the
        first date is that of the latest issue of its procedures."""
        what = "Latest issue" if self.of_machine else "Issue"
        issued = f"{what} of {self.issued}" if self.issued else "Date of the issue not recorded"
        return f"{issued}, {f'records up to {self.newest}' if self.newest else 'no date in the records'}"


def currency_of(mbook: MachineBook, procedure: TeardownRecord) -> Currency:
    """What the print and the page of a procedure show alike, on every machine and paper."""
    issue = procedure.issue
    return Currency(
        words=" ".join(currency_words(mbook, procedure)),
        issued=str(issue.date) if issue is not None and issue.date else None,
        newest=newest_date(mbook, procedure),
    )


def currency_of_machine(mbook: MachineBook) -> Currency:
    """What the sheets about a whole machine and its page show alike: a change in any of its procedures changes it."""
    procedures = tuple(mbook.machine.procedures.values())

    def words() -> tuple[str, ...]:
        made = hashlib.sha256(machine_digest(mbook))
        for one in procedures:
            made.update(digest(mbook, one))
        return words_of(made.digest())

    issues = (str(one.issue.date) for one in procedures if one.issue is not None and one.issue.date)
    return Currency(
        words=" ".join(mbook.remember(("currency words of the machine",), words)),
        issued=max((one for one in issues if _DATE.fullmatch(one)), default=None),
        newest=max(("", *(newest_date(mbook, one) or "" for one in procedures), _newest_shared(mbook))) or None,
        of_machine=True,
    )


def newest_date(mbook: MachineBook, procedure: TeardownRecord) -> str | None:
    """The newest date, year-month-day, in the facts the words are made of."""

    return max(_newest_shared(mbook), *_dates(required_by(mbook.machine, procedure)), "") or None


def _newest_shared(mbook: MachineBook) -> str:
    """The newest date in the facts all procedures of a machine share; empty when there is none."""

    def newest() -> str:
        library = mbook.book.library
        facts = [mbook.record, mbook.machine.wiring, library.shop, library.safety, library.tools, library.supplies]
        return max(_dates(facts), default="")

    return mbook.remember(("newest date",), newest)


def currency_words(mbook: MachineBook, procedure: TeardownRecord) -> tuple[str, ...]:
    """The three words of a procedure on all its machines."""
    return mbook.remember_lately(("currency words", procedure.id), lambda: words_of(digest(mbook, procedure)))


def words_of(data: bytes) -> tuple[str, ...]:
    """Three words for a digest of 16 bytes or more: the number it is, in digits of the list."""
    words, number = word_list(), int.from_bytes(data[:16], "big")
    made = []
    for _ in range(HOW_MANY):
        number, digit = divmod(number, len(words))
        made.append(words[digit])
    return tuple(made)


def digest(mbook: MachineBook, procedure: TeardownRecord) -> bytes:
    """SHA-256 over all linked facts, in a form that does not depend on the order of files or sets."""
    library = mbook.book.library
    made = hashlib.sha256(machine_digest(mbook))
    for one in required_by(mbook.machine, procedure):
        made.update("".join(_facts(one)).encode())
        made.update("".join(_facts(_leads_to(mbook, one))).encode())
    pictures = {str(p.file) for one in required_by(mbook.machine, procedure) for s in one.steps for p in s.photos}
    folder = f"{mbook.machine.folder}/photos/" if mbook.machine.folder else "photos/"
    for name in sorted(pictures):
        asset = library.assets.get(folder + name)
        made.update("".join(_facts([name, asset.size if asset is not None else None])).encode())
    return made.digest()


def machine_digest(mbook: MachineBook) -> bytes:
    """SHA-256 over the facts all procedures of a machine share."""
    library = mbook.book.library

    def made() -> bytes:
        facts = [mbook.record, mbook.machine.wiring, library.shop, library.safety, library.tools, library.supplies]
        return hashlib.sha256("".join(_facts(facts)).encode()).digest()

    return mbook.book.derived.remember(("currency", mbook.machine.id), made)


def _leads_to(mbook: MachineBook, procedure: TeardownRecord) -> list[tuple[str, str]]:
    """The words a step shows of the code or procedure it leads on to."""
    from benchleaf.pages.step_view import target_ref

    found = (target_ref(mbook, step.else_) for step in procedure.steps)
    return [(one.code, one.means) for one in found if one is not None]


def required_by(machine: Machine, procedure: TeardownRecord) -> tuple[TeardownRecord, ...]:
    """The procedure and all it requires, each once, a ring walked once."""
    found: dict[str, TeardownRecord] = {}

    def walk(one: TeardownRecord) -> None:
        if str(one.id) in found:
            return
        found[str(one.id)] = one
        for name in one.conditions:
            if str(name) in machine.procedures:
                walk(machine.procedures[str(name)])

    walk(procedure)
    return tuple(found.values())


def _facts(value: Any) -> Iterator[str]:
    """A value as text that is the same for the same facts: fields by name, tables by key, sets in order."""
    if isinstance(value, Place):
        return
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        yield f"({type(value).__name__}"
        for field in dataclasses.fields(value):
            if field.name not in _NOT_FACTS:
                yield f" {field.name}="
                yield from _facts(getattr(value, field.name))
        yield ")"
    elif isinstance(value, Mapping):
        yield "{"
        for key in sorted(value, key=str):
            yield f"{str(key)!r}:"
            yield from _facts(value[key])
        yield "}"
    elif isinstance(value, (frozenset, set)):
        yield from _facts(sorted("".join(_facts(one)) for one in value))
    elif isinstance(value, (tuple, list)):
        yield "["
        for one in value:
            yield from _facts(one)
            yield ","
        yield "]"
    elif isinstance(value, Enum):
        yield f"{type(value).__name__}.{value.name}"
    elif isinstance(value, str):
        yield repr(str(value))
    else:
        yield repr(value)


def _dates(value: Any) -> Iterator[str]:
    """Every date of a record: the words under a key ``date`` that are year-month-day."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        for field in dataclasses.fields(value):
            one = getattr(value, field.name)
            if field.name == "date" and one is not None and _DATE.fullmatch(str(one)):
                yield str(one)
            elif field.name not in _NOT_FACTS:
                yield from _dates(one)
    elif isinstance(value, Mapping):
        for one in value.values():
            yield from _dates(one)
    elif isinstance(value, (tuple, list, frozenset, set)):
        for one in value:
            yield from _dates(one)
