"""Every kind of page in one table, in the order they are written."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from benchleaf.frozen import dataclass
from benchleaf.pages.book import Book
from benchleaf.pages.kinds import (
    articles,
    bench,
    bypass,
    cable,
    checks,
    code,
    codes,
    connector,
    control_sheet,
    derived,
    disassembly,
    energy,
    fasteners,
    find,
    finder,
    glossary,
    home,
    interconnection,
    item,
    ledger,
    live,
    machine,
    net,
    next_opening,
    order,
    plugs,
    procedure,
    records,
    safety,
    spares,
    step,
    supplies,
    swaps,
    symptom,
    symptoms,
    tools,
    torque,
    wiring,
)
from benchleaf.pages.page import Page


@dataclass(frozen=True, slots=True)
class PageKind:
    """A kind of page: its name, which is its module and its template, and what makes its pages."""

    name: str
    pages: Callable[[Book], Iterator[Page]]


_MODULES = (
    home, find, finder, machine, procedure, step, bench, ledger, order, item, derived, disassembly, code, codes,
    symptom, symptoms, energy, control_sheet, wiring, interconnection, live, net, bypass, connector, cable, swaps,
    plugs, safety, spares, fasteners, torque, tools, supplies, glossary, checks, next_opening, articles, records,
)  # fmt: skip
PAGE_KINDS: tuple[PageKind, ...] = tuple(PageKind(one.__name__.rpartition(".")[2], one.pages) for one in _MODULES)


def all_pages(book: Book) -> Iterator[Page]:
    """Every page of the manual, one by one, so that a large one never stands in memory as a whole."""
    for kind in PAGE_KINDS:
        yield from kind.pages(book)
