"""The shortest way to an item as its page tells it: what is opened in which order, in what time, and what it lays open.

Machines that have the same way stand together. Beside it stands what authors wrote for the same item: both times, and
what a record opens that its goal does not need.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace

from benchleaf.access.comparison import Comparison, comparisons
from benchleaf.access.opened_by_the_way import opened_by_the_way
from benchleaf.access.paths import Access, Goal, Work, access_path
from benchleaf.access.ways import all_ways
from benchleaf.access.words import duration, listed
from benchleaf.applicability import Configuration
from benchleaf.built import FRAME
from benchleaf.frozen import dataclass
from benchleaf.pages.book import MachineBook
from benchleaf.pages.readable import readable, sentence_of
from benchleaf.pages.shown import Applies, Block, Cell, Fact, Line, Links, Note, Row, Section, ShownValue, Table
from benchleaf.pages.values_shown import reckoned_value

GOALS: dict[Goal, str] = {"reach": "Reach it", "remove": "Take it off", "replace": "Replace it"}
DERIVED = "derived, unverified"
BY_FACTS = "the shortest way by what is recorded, with the shop's times for what nobody timed; isolation not counted"
BY_WORK = "what is opened, each piece at its recorded time or else the shop's; isolation not counted"


@dataclass(frozen=True, slots=True, kw_only=True)
class Grouped:
    """One way and the machines it is the same on."""

    access: Access
    on: frozenset[Configuration]


def time_value(seconds: float, how: str = BY_WORK) -> ShownValue:
    """A time worked out, with the rule it follows."""
    return reckoned_value(duration(seconds), f"{seconds:g}", how)


def ways_to(mbook: MachineBook, name: str, goal: Goal) -> tuple[Grouped, ...]:
    """The ways to an item, each different one once."""

    def found() -> tuple[Grouped, ...]:
        groups: dict[Access, set[Configuration]] = {}
        for configuration, ways in all_ways(mbook.book.derived, mbook.machine).items():
            if name in ways.built.items:
                one = replace(access_path(ways, name, goal), configuration="")
                groups.setdefault(one, set()).add(configuration)
        return tuple(Grouped(access=one, on=frozenset(on)) for one, on in groups.items())

    return mbook.remember(("ways to", name, goal), found)


def on_some(mbook: MachineBook, name: str, on: Collection[Configuration]) -> Applies | None:
    """For which machines a part of an item's page is, in words; ``None`` = for all that have the item."""
    having = {built.configuration for built in mbook.builts if name in built.items}
    return None if having <= set(on) else mbook.words_for(on)


def goals_of(mbook: MachineBook, name: str) -> tuple[Goal, ...]:
    """The goals that have a derived procedure of their own.

    Where taking an item off opens nothing else than replacing it does, one page serves for both.
    """
    off, new = ways_to(mbook, name, "remove"), ways_to(mbook, name, "replace")
    same = [(one.on, one.access.works, one.access.out_of_reach) for one in off]
    is_same = same == [(one.on, one.access.works, one.access.out_of_reach) for one in new]
    return ("reach", "replace") if is_same else ("reach", "remove", "replace")


def derived_path(mbook: MachineBook, name: str, goal: Goal) -> str:
    """The page of the derived procedure that serves for a goal."""
    return mbook.at.derived(name, goal if goal in goals_of(mbook, name) else "replace")


def access_sections(mbook: MachineBook, name: str) -> tuple[Section, ...]:
    """The part of an item's page about the way to it; the frame, which never moves, has none."""
    if name == FRAME:
        return ()
    heads = ("For", "Opening takes", "Tools in order", "Ends opened")
    table = Table(caption="Shortest ways", heads=heads, rows=tuple(_rows(mbook, name)), nothing="", quiet=True)
    sections = [Section(title="The way to it", anchor="access", blocks=(table,))]
    for n, one in enumerate(ways_to(mbook, name, "remove"), 1):
        title = "Before it is off, in order" if one.access.is_reached else "No way"
        sections.append(
            Section(
                title=title,
                anchor=f"access-{n}",
                blocks=path_blocks(mbook, one.access),
                applies=on_some(mbook, name, one.on),
                level=3,
            )
        )
    sections.append(Section(title="While you are in there", blocks=(_by_the_way(mbook, name),), level=3))
    written = _written(mbook, name)
    if written.rows:
        sections.append(Section(title="Against what was written", blocks=(_WHY_WRITTEN, written), level=3))
    return tuple(sections)


_WHY_WRITTEN = Note(
    words="A longer way is no fault: its author may have had a reason that is not recorded. Times are of opening alone."
)


def _rows(mbook: MachineBook, name: str) -> Iterator[Row]:
    own = goals_of(mbook, name)
    for goal in own:
        words = GOALS[goal] if "remove" in own or goal == "reach" else "Take it off, or replace it"
        for one in ways_to(mbook, name, goal):
            access, applies = one.access, on_some(mbook, name, one.on)
            called = Line(words=words, path=mbook.at.derived(name, goal), note=DERIVED)
            if not access.is_reached:
                yield Row(cells=(called, "no way", "–", "–"), applies=applies)
                continue
            times: Cell = time_value(access.time, BY_FACTS)
            if access.work_time > access.time:
                proof = f"with what is opened to prove {listed(_energies(mbook, access.prove))} dead:"
                times = (times, proof, time_value(access.work_time))
            tools = ", then ".join(access.tools) or "none"
            yield Row(cells=(called, times, tools, ", ".join(access.ends_opened) or "none"), applies=applies)


def _energies(mbook: MachineBook, names: Iterable[str]) -> tuple[str, ...]:
    energies = mbook.record.energy
    return tuple(str(energies[name].name or name) if name in energies else name for name in names)


def path_blocks(mbook: MachineBook, access: Access) -> tuple[Block, ...]:
    """A path: what is isolated first, what is opened in which order, what is not recorded of it."""
    if not access.is_reached:
        return (Note(words=f"There is no way: {readable(mbook, access.out_of_reach)}.", grave=True),)
    blocks: list[Block] = [Note(words=_isolation(mbook, access))]
    has_gaps = any(one.gaps for one in access.works)
    heads = ("Operation", "Tool", "Time", *(("Not recorded",) if has_gaps else ()))
    rows = tuple(Row(cells=_cells(mbook, one, has_gaps)) for one in access.works)
    nothing = "Nothing recorded has to be opened for it."
    blocks.append(Table(caption="Operations", heads=heads, rows=rows, nothing=nothing, quiet=True, name="operations"))
    told = {gap for one in access.works for gap in one.gaps}
    others = (gap for gap in access.gaps if gap not in told)
    blocks += [Note(words=f"{sentence_of(readable(mbook, gap))}.", grave=True) for gap in others]
    blocks.append(Note(words=_bound(access)))
    return tuple(blocks)


def _cells(mbook: MachineBook, one: Work, has_gaps: bool) -> tuple[Cell, ...]:
    time: Cell = time_value(one.time)
    if one.for_proof:
        time = (time, "only for the proof")
    gaps = tuple(Fact(sentence_of(readable(mbook, gap))) for gap in one.gaps) or "–"
    return (one.words, one.tool, time, *((gaps,) if has_gaps else ()))


def _isolation(mbook: MachineBook, access: Access) -> str:
    if not access.isolate:
        return "No recorded energy is touched or laid open on the way. What is not recorded counts as live: measure."
    first = f"First isolate {listed(_energies(mbook, access.isolate))}"
    if not access.prove:
        return f"{first}. The time for it is not counted."
    proved = listed(_energies(mbook, access.prove))
    return f"{first}, and prove {proved} dead before a hand comes near. The time for it is not counted."


def _bound(access: Access) -> str:
    if access.is_least:
        return "No way by what is recorded takes less time; of the quickest none needs fewer operations."
    return f"Whether a quicker way is recorded was not searched to the end: {access.why_not_least}."


def _by_the_way(mbook: MachineBook, name: str) -> Links:
    """Wear items and mandatory replacements that the way to take it off lays open."""
    lines: dict[Line, set[Configuration]] = {}
    for configuration, ways in all_ways(mbook.book.derived, mbook.machine).items():
        if name not in ways.built.items:
            continue
        for one in opened_by_the_way(ways, access_path(ways, name, "remove")):
            life = "goes back new whenever it was taken off" if one.renew == "always" else f"wear life {one.renew}"
            more = f", {duration(one.extra)} more to take it off" if one.extra else ""
            line = Line(
                words=sentence_of(one.words.removeprefix("the ")),
                path=mbook.at.item(one.what.partition(".")[0]),
                note=f"{life}; {one.how}{more}",
            )
            lines.setdefault(line, set()).add(configuration)
    made = tuple(replace(line, applies=on_some(mbook, name, on)) for line, on in lines.items())
    return Links(lines=made, nothing="No item or fastener with a recorded wear life is laid open on the way.")


def _written(mbook: MachineBook, name: str) -> Table:
    """Every procedure an author wrote for the item, against the shortest way."""
    groups: dict[Comparison, set[Configuration]] = {}
    for configuration, ways in all_ways(mbook.book.derived, mbook.machine).items():
        for one in comparisons(mbook.book.derived, mbook.machine, ways, name):
            groups.setdefault(replace(one, configuration=""), set()).add(configuration)
    rows = tuple(
        Row(
            cells=(
                Line(words=one.title, path=mbook.at.procedure(one.procedure)),
                time_value(one.written_time),
                time_value(one.least_time),
                _stack(one.superfluous) or ("nothing" if one.is_longer else "nothing: no way is shorter"),
                _stack(one.instead) or "–",
            ),
            applies=on_some(mbook, name, on),
        )
        for one, on in groups.items()
    )
    heads = ("Procedure", "It opens for", "The shortest way", "It opens, not needed for it", "Opened instead")
    return Table(caption="Both times", heads=heads, rows=rows, nothing="", quiet=True)


def _stack(words: Iterable[str]) -> tuple[Cell, ...]:
    return tuple(Fact(one) for one in words)
