"""Every kind of page in one table, and the pages of a manual in parts that can be made one without the other."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial

from benchleaf.frozen import dataclass
from benchleaf.pages.book import Book, MachineBook
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
from benchleaf.records.teardown import TeardownRecord


@dataclass(frozen=True, slots=True)
class PageKind:
    """A kind of page: its name, which is its module and its template, and what makes its pages.

    Pages of the whole manual, of one machine, of one procedure: a kind has one of the three, or more.
    """

    name: str
    manual: Callable[[Book], Iterator[Page]] | None = None
    machine: Callable[[MachineBook], Iterator[Page]] | None = None
    procedure: Callable[[MachineBook, TeardownRecord], Iterator[Page]] | None = None

    def pages(self, book: Book) -> Iterator[Page]:
        """Every page of this kind."""
        if self.manual is not None:
            yield from self.manual(book)
        for mbook in book.machines():
            if self.machine is not None:
                yield from self.machine(mbook)
            if self.procedure is not None:
                for procedure in mbook.machine.procedures.values():
                    yield from self.procedure(mbook, procedure)


_MODULES = (
    home, find, finder, machine, procedure, step, bench, ledger, order, item, derived, disassembly, code, codes,
    symptom, symptoms, energy, control_sheet, wiring, interconnection, live, net, bypass, connector, cable, swaps,
    plugs, safety, spares, fasteners, torque, tools, supplies, glossary, checks, next_opening, articles, records,
)  # fmt: skip
MOST_PARTS = 16  # of the procedures of one machine: each works out the machine anew
_MAKERS = ("pages", "machine_pages", "procedure_pages")
PAGE_KINDS: tuple[PageKind, ...] = tuple(
    PageKind(one.__name__.rpartition(".")[2], *(getattr(one, maker, None) for maker in _MAKERS)) for one in _MODULES
)


def manual_pages(book: Book) -> Iterator[Page]:
    """The pages that are of no one machine."""
    for kind in PAGE_KINDS:
        if kind.manual is not None:
            yield from kind.manual(book)


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    """The pages of a machine without those of its procedures."""
    for kind in PAGE_KINDS:
        if kind.machine is not None:
            yield from kind.machine(mbook)


def procedure_pages(mbook: MachineBook, procedure: TeardownRecord) -> Iterator[Page]:
    """The pages of one procedure, one after the other, so that what they share is worked out once."""
    for kind in PAGE_KINDS:
        if kind.procedure is not None:
            yield from kind.procedure(mbook, procedure)


def page_parts(book: Book, least: int = 50) -> list[Callable[[], Iterator[Page]]]:
    """Every page of the manual in parts, each of which is made from the records alone and forgets them with its end.

    A machine, some of its procedures (``least`` and more), the manual as a whole: the parts that take longest come
    first, so that several processes are done at about the same time.
    """
    machines = sorted(book.library.machines.values(), key=lambda one: (-len(one.record.items), str(one.id)))
    parts: list[Callable[[], Iterator[Page]]] = [partial(_of_machine, book, str(one.id)) for one in machines]
    parts.append(partial(_of_manual, book))
    for one in book.library.machines.values():
        names = tuple(one.procedures)
        size = max(least, 1 + len(names) // MOST_PARTS)
        starts = range(0, len(names), size)
        parts += [partial(_of_procedures, book, str(one.id), names[start : start + size]) for start in starts]
    return parts


def _of_manual(book: Book) -> Iterator[Page]:
    yield from manual_pages(book.anew())


def _of_machine(book: Book, machine: str) -> Iterator[Page]:
    yield from machine_pages(book.anew().machine(machine))


def _of_procedures(book: Book, machine: str, names: Sequence[str]) -> Iterator[Page]:
    mbook = book.anew().machine(machine)
    for name in names:
        yield from procedure_pages(mbook, mbook.machine.procedures[name])
