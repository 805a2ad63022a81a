"""The scripts the finder reads, where they lie and what they call themselves."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.access.ways import ways_of
from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.page import Asset
from benchleaf.records.codes import CodeRecord
from benchleaf.troubles.finder_table import finder_table, script
from benchleaf.troubles.lookup import Trouble
from benchleaf.troubles.openings import Openings
from benchleaf.troubles.problem_of import Case, cases_of
from benchleaf.troubles.supply_table import supply_tables


def finder_assets(book: Book) -> Iterator[Asset]:
    """The scripts the finder reads: one for each code and symptom, and one a machine of what its functions hang on."""
    for mbook in book.machines():
        machine = mbook.machine
        tables = [table for _, _, table in supply_tables(book.derived, machine)]
        yield Asset(
            path=supplies_path(mbook), data=script("benchleafSupplies.bring", supplies_name(mbook), tables),
            inputs=(machine.file,),
        )  # fmt: skip
        troubles: list[Trouble] = [*machine.codes.values(), *machine.symptoms.values()]
        for trouble in troubles:
            cases = [
                finder_table(openings_of(mbook, case), case) if case.problem is not None else None
                for case in cases_of(book.derived, machine, trouble)
            ]
            data = script("benchleafFinder", finder_name(mbook, trouble), cases)
            yield Asset(path=shard_of(mbook, trouble), data=data, inputs=(trouble.place.file, machine.file))


def finder_name(mbook: MachineBook, trouble: Trouble) -> str:
    """The name a trouble's script gives itself: ``fp420/code/08``."""
    return shard_of(mbook, trouble).removeprefix("machine/").removesuffix(".finder.js")


def shard_of(mbook: MachineBook, trouble: Trouble) -> str:
    """Where the script of a trouble lies: beside its page."""
    at = mbook.at
    page = at.code(str(trouble.code)) if isinstance(trouble, CodeRecord) else at.symptom(str(trouble.id))
    return page.removesuffix(".html") + ".finder.js"


def supplies_path(mbook: MachineBook) -> str:
    """Where the script of what a machine's functions hang on lies."""
    return mbook.at.list("supplies").removesuffix(".html") + ".finder.js"


def supplies_name(mbook: MachineBook) -> str:
    """The name that script gives itself: ``fp420/supplies``."""
    return supplies_path(mbook).removeprefix("machine/").removesuffix(".finder.js")


def openings_of(mbook: MachineBook, case: Case) -> Openings:
    """What has to be opened for the tests and remedies of a case."""
    return Openings(ways_of(mbook.book.derived, mbook.machine, case.configurations[0]))
