"""What is wrong with this machine? Tick what is seen, what is dead and what works; without script the same as lists.

What is seen leads to the order of tests of a code or symptom; what is dead leads, over the wiring, to what all of it
hangs on and to the place to measure next.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.frozen import dataclass
from benchleaf.pages.book import MachineBook
from benchleaf.pages.finder_files import supplies_name, supplies_path
from benchleaf.pages.links import symptom_title
from benchleaf.pages.page import Page
from benchleaf.pages.record_notes import note_of
from benchleaf.pages.shown import Applies, Line, Row, Table
from benchleaf.pages.uses import Trouble
from benchleaf.records.codes import CodeRecord
from benchleaf.troubles.causes import causes_of
from benchleaf.troubles.supply_table import supply_tables
from benchleaf.troubles.tree import plain

NAME = "finder"
"""The page's name in the folder of its machine."""

NO_FUNCTION = "What uses power here is not recorded: what is dead and what works tells nothing, and clears nothing."


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick:
    """Something that can be seen: a code or symptom. ``key`` stands in the address (``code:08``); ``causes``: id and
    words of everything that can be behind it."""

    key: str
    kind: str
    words: str
    note: str
    path: str
    applies: Applies | None
    causes: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Functions:
    """What can be dead on one group of machines, and what each hangs on. ``number``: of the group's table."""

    number: int
    on: str
    applies: Applies | None
    table: Table


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    yield page(mbook)


def page(mbook: MachineBook) -> Page:
    name = str(mbook.record.name)
    title = f"What is wrong with it? {name}"
    context = {
        "crumbs": mbook.crumbs((title, None)),
        "choice": mbook.choice,
        "record": note_of(mbook.record.place),
        "machine": name,
        "codes": tuple(tick(mbook, one) for one in mbook.machine.codes.values()),
        "symptoms": tuple(tick(mbook, one) for one in mbook.machine.symptoms.values()),
        "functions": tuple(functions(mbook)),
        "name": supplies_name(mbook),
        "shard": supplies_path(mbook),
    }
    return Page(
        path=mbook.at.list(NAME), template="pages/finder.html", title=title, kind="finder", context=context,
        inputs=(mbook.machine.file,),
    )  # fmt: skip


def entry_line(mbook: MachineBook) -> Line:
    """The way to this page, from the first page and the lists."""
    return Line(words=f"Tick what is seen: {mbook.record.name}", path=mbook.at.list(NAME))


def tick(mbook: MachineBook, trouble: Trouble) -> Tick:
    causes = tuple(
        (id, str(cause.mode or plain(id))) for id, cause in causes_of(trouble, mbook.machine).items()
    )
    applies = mbook.applies(trouble.applies)
    if isinstance(trouble, CodeRecord):
        means = str(trouble.means) if trouble.means is not None else "what it means is not recorded"
        return Tick(
            key=f"code:{trouble.code}", kind="code", words=str(trouble.shown or trouble.code), note=means,
            path=mbook.at.code(trouble.code), applies=applies, causes=causes,
        )  # fmt: skip
    title = symptom_title(trouble)
    heard = "; ".join(f"“{one}”" for one in trouble.heard_as if str(one) != title)
    return Tick(
        key=f"symptom:{trouble.id}", kind="symptom", words=title, note=heard, path=mbook.at.symptom(trouble.id),
        applies=applies, causes=causes,
    )  # fmt: skip


def functions(mbook: MachineBook) -> Iterator[Functions]:
    """Everything that uses power, by the machines on which it hangs on the same."""
    for number, (labels, on, table) in enumerate(supply_tables(mbook.book.derived, mbook.machine)):
        rows = tuple(
            Row(cells=(_function(mbook, item, words), tuple(Line(words=table["links"][n][1]) for n in links) or None))
            for item, words, links in table["functions"]
        )
        yield Functions(
            number=number, on="; ".join(labels), applies=mbook.words_for(on),
            table=Table(
                caption="What each function hangs on", heads=("Function", "Hangs on, from where power enters"),
                rows=rows, nothing=NO_FUNCTION,
            ),
        )  # fmt: skip


def _function(mbook: MachineBook, item: str, words: str) -> Line:
    return Line(words=words, path=mbook.at.item(item) if item in mbook.record.items else None)
