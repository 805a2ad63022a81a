"""What every page is written from: the library, where its pages lie, and what is asked of a machine again and again.

A ``Book`` is made once a build. It reads nothing and writes nothing; what it works out it remembers.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from copy import copy
from functools import cached_property
from typing import Any

from benchleaf.applicability import Configuration, holds
from benchleaf.built import Built
from benchleaf.derived import Derived
from benchleaf.fastener_sets import FastenerSet
from benchleaf.memory import Memory
from benchleaf.model import Library, Machine
from benchleaf.pages.addresses import Addresses, MachineAddresses
from benchleaf.pages.applies_words import Found, choice_of, described, forms, shown_applies
from benchleaf.pages.art import Drawer, no_drawer
from benchleaf.pages.papers import NO_PAPERS, PaperLink, Papers
from benchleaf.pages.sentences import Piece
from benchleaf.pages.shown import Applies, MachineChoice
from benchleaf.pages.values_shown import ValueStyle
from benchleaf.physical.times import Times
from benchleaf.records import types
from benchleaf.records.items import Item

Crumbs = tuple[tuple[str, str | None], ...]


class MachineBook(Memory):
    """One machine in every configuration, with its pages."""

    def __init__(self, book: Book, machine: Machine, builts: tuple[Built, ...] | None = None) -> None:
        super().__init__()
        self.book = book
        self.machine = machine
        self.record = machine.record
        self._builts = builts
        self.at: MachineAddresses = book.at.machine(machine.id)
        self.choice: MachineChoice | None = choice_of(machine.record)

    @cached_property
    def builts(self) -> tuple[Built, ...]:
        return self._builts if self._builts is not None else self.book.derived.all_built(self.machine)

    @cached_property
    def configurations(self) -> tuple[Configuration, ...]:
        return tuple(one.configuration for one in self.builts)

    def narrowed(self, *applies: types.Applies | None) -> MachineBook:
        """The same machine in the configurations for which all of these hold or may hold."""
        chosen = tuple(
            one
            for one in self.builts
            if all(holds(each, one.configuration, self.record) is not False for each in applies)
        )
        return self._narrow(chosen)

    def only(self, on: Collection[Configuration]) -> MachineBook:
        """The same machine in these configurations alone."""
        return self._narrow(tuple(one for one in self.builts if one.configuration in on))

    def _narrow(self, chosen: tuple[Built, ...]) -> MachineBook:
        if len(chosen) == len(self.builts):
            return self
        key = ("narrowed", tuple(one.configuration for one in chosen))
        return self.remember(key, lambda: MachineBook(self.book, self.machine, chosen))

    def applies(self, applies: types.Applies | None) -> Applies | None:
        return shown_applies(applies, self.record)

    def forms(self, table: Callable[[Built], Mapping[str, Any]], name: str) -> tuple[Found[Any], ...]:
        """What an entry is in the configurations that have it: each different form once, and who has it."""

        def found() -> tuple[Found[Any], ...]:
            made: list[tuple[Configuration, Any]] = [
                (one.configuration, _Same(table(one)[name])) for one in self.builts if name in table(one)
            ]
            return tuple(
                Found(one.value.value, one.applies, one.on) for one in forms(made, self.configurations, self.record)
            )

        return self.remember(("forms", table, name), found)

    def words_for(self, on: Collection[Configuration]) -> Applies | None:
        """These configurations in words; ``None`` = all."""
        return described(on, self.configurations, self.record)

    def items(self, name: str) -> tuple[Found[Item], ...]:
        return self.forms(_items, name)

    def sets(self, name: str) -> tuple[Found[FastenerSet], ...]:
        """A fastener set in its forms; the place it stands in does not make two of them."""
        return self.forms(_sets, name)

    def sets_of(self, item: str) -> tuple[str, ...]:
        """The names of all sets that hold an item on some machine."""
        names = {one.name for built in self.builts for one in built.sets_of(item)}
        return tuple(sorted(names))

    def item_name(self, name: str) -> str:
        """``Main board``; what is not recorded goes by its id."""
        item = self.record.items.get(name)
        return str(item.name) if item is not None else name

    def item_words(self, name: str) -> str:
        """``A1 Main board``; an item without a designation goes by its name alone."""
        item = self.record.items.get(name)
        if item is None:
            return name
        return str(item.name) if name == name.lower() else f"{name} {item.name}"

    def item_piece(self, name: str) -> Piece:
        """The item's name as a link to its page."""
        return Piece(self.item_words(name), path=self.at.item(name) if name in self.record.items else None, strong=True)

    def owner_path(self, owner: str) -> str | None:
        """The page of an item, a connector or a cable, by its name."""
        if owner in self.record.items:
            return self.at.item(owner)
        if owner in self.machine.wiring.connectors:
            return self.at.connector(owner)
        return self.at.cable(owner) if owner in self.machine.wiring.cables else None

    def papers(self, procedure: str = "") -> tuple[PaperLink, ...]:
        """The PDFs made of a procedure, or of the whole machine; none where none were asked for."""
        return self.book.papers.get((str(self.machine.id), procedure), ())

    def crumbs(self, *more: tuple[str, str | None]) -> Crumbs:
        """The way to a page of this machine."""
        shop = self.book.name
        return ((shop, Addresses.home), (str(self.record.name), self.at.home if more else None), *more)


class _Same:
    """An entry that compares as its facts: where it stands and what else was said do not count."""

    __slots__ = ("value",)

    def __init__(self, value: Any) -> None:
        self.value = value

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and bool(self.value == other.value)

    def __hash__(self) -> int:
        return hash(str(getattr(self.value, "place", "")))


def _items(built: Built) -> Mapping[str, Item]:
    return built.items


def _sets(built: Built) -> Mapping[str, FastenerSet]:
    return built.sets


class Book:
    """The whole manual before it is written."""

    def __init__(self, derived: Derived, draw: Drawer = no_drawer, papers: Papers = NO_PAPERS) -> None:
        self.derived = derived
        self.draw = draw
        self.papers = papers
        self.library: Library = derived.library
        self.shop = derived.library.shop
        self.at = Addresses(derived.library)
        self.style = ValueStyle.of_shop(self.shop)
        self.times = Times.of_shop(self.shop)
        self._machines: dict[str, MachineBook] = {}

    @property
    def name(self) -> str:
        """What the manual is called."""
        return str(self.shop.name or "Workshop manual")

    def machine(self, name: str) -> MachineBook:
        if name not in self._machines:
            self._machines[name] = MachineBook(self, self.library.machines[name])
        return self._machines[name]

    def machines(self) -> Iterator[MachineBook]:
        for name in self.library.machines:
            yield self.machine(name)

    def anew(self) -> Book:
        """The same book with nothing remembered: what was worked out for some pages goes when they are written."""
        fresh = copy(self)
        fresh.derived = Derived(self.library)
        fresh._machines = {}
        return fresh

    def crumbs(self, *more: tuple[str, str | None]) -> Crumbs:
        return ((self.name, Addresses.home), *more)
