"""Every kind of sheet in one table, in the order of a pack. Adding one: a module with ``sheet``, a line here."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from benchleaf.frozen import dataclass
from benchleaf.paper import (
    energy_control,
    job_sheet,
    labels,
    procedure,
    ring_out_sheet,
    screw_mat,
    shot_list,
    state_paper,
)
from benchleaf.paper.sheet import Paper, Sheet
from benchleaf.paper.subject import Subject

Pictures = Callable[[str], bytes | None]


@dataclass(frozen=True, slots=True)
class SheetKind:
    """A kind of sheet: its name, what it is for in a few words, and what makes it."""

    name: str
    words: str
    make: Callable[[Subject, Pictures, Paper], Sheet]


SHEET_KINDS: tuple[SheetKind, ...] = (
    SheetKind("procedure", "the procedure with everything that belongs to it", procedure.sheet),
    SheetKind(
        "energy-control",
        "every energy isolated, locked, measured and signed for",
        lambda s, _, p: energy_control.sheet(s, p),
    ),
    SheetKind(
        "job-sheet", "as found and as left, readings, parts fitted, checks owed", lambda s, _, p: job_sheet.sheet(s, p)
    ),
    SheetKind("shot-list", "pictures to take before connectors are opened", lambda s, _, p: shot_list.sheet(s, p)),
    SheetKind("labels", "labels for both ends of every cable that is opened", lambda s, _, p: labels.sheet(s, p)),
    SheetKind("screw-mat", "a tray for every set of screws, drawn to size", lambda s, _, p: screw_mat.sheet(s, p)),
    SheetKind("state-sheet", "how the machine stands after each step", lambda s, _, p: state_paper.sheet(s, p)),
    SheetKind(
        "ring-out", "what must conduct in the cables that are opened", lambda s, _, p: ring_out_sheet.sheet(s, p)
    ),
)
BY_NAME: Mapping[str, SheetKind] = {one.name: one for one in SHEET_KINDS}


MACHINE_KINDS: tuple[SheetKind, ...] = (
    SheetKind("energy-control", "every energy of the machine", lambda s, _, p: energy_control.sheet(s, p)),
    SheetKind("labels", "labels for both ends of every cable with a plug", lambda s, _, p: labels.sheet(s, p)),
    SheetKind("ring-out", "what must conduct in every cable with a plug", lambda s, _, p: ring_out_sheet.sheet(s, p)),
)
"""The sheets that make sense for a machine without a procedure."""


def kinds_for(subject: Subject) -> tuple[SheetKind, ...]:
    """The kinds of sheet a subject has."""
    return MACHINE_KINDS if subject.is_machine else SHEET_KINDS


def sheets_of(subject: Subject, pictures: Pictures, paper: Paper = "a4") -> Iterator[Sheet]:
    """Every sheet of a procedure or of a machine."""
    for kind in kinds_for(subject):
        yield kind.make(subject, pictures, paper)
