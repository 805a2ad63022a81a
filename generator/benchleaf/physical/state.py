"""The condition of a machine at one moment: what differs from the machine as it stands assembled and switched on.

Only differences are kept, so the state of an assembled machine is ``State()``, a ledger is what a state still holds,
and a change copies a few small tables. What is not mentioned is tight, seated, mated, joined, charged, tied, energised.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from typing import Any

from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass

OFF = "off"
SLID = "slid"
OPEN = "open"
CAPPED = "capped"
ISOLATED = "isolated"
DISCHARGED = "discharged"
PROVED = "proved dead"
NOT_RECORDED = "not recorded"
FEET = "feet"
ORDER_OF_ISOLATION = (ISOLATED, DISCHARGED, PROVED)
"""From energised to proved dead; an energy whose state is not recorded counts as energised."""


@dataclass(frozen=True, slots=True)
class Counts:
    """How many fasteners of a set are tight, loose (turned back, or started), out, and missing from before the work."""

    tight: int = 0
    loose: int = 0
    out: int = 0
    missing: int = 0

    @property
    def there(self) -> int:
        """How many there are on the machine or in the tray."""
        return self.tight + self.loose + self.out

    def __str__(self) -> str:
        named = (("tight", self.tight), ("loose", self.loose), ("out", self.out), ("missing", self.missing))
        return ", ".join(f"{number} {word}" for word, number in named if number)


@dataclass(frozen=True, slots=True)
class StepRef:
    """Which step: its procedure, its number from 1, its title and place."""

    procedure: str
    number: int
    title: str
    place: Place


CableEndKey = tuple[str, str]
JointKey = tuple[str, str]
_NONE: Mapping[Any, Any] = {}


@dataclass(frozen=True, kw_only=True)  # no slots: a changed copy is then a copy of one table, five times as fast
class State:
    """What differs from the assembled machine.

    ``counts`` by fastener set; ``items`` to ``off``, ``slid`` or a position; ``unmated`` (cable, connector) and
    ``lifted`` (cable, contact) ends; ``joints`` (line, item) to ``open`` or ``capped``; ``energies`` to how far they
    are made dead. ``due`` are mandatory replacements not renewed yet, ``disturbed`` everything the work has touched in
    a way a check may have to cover, ``loosened`` items whose fasteners somebody released though none are recorded (or
    not the ones named), ``unsaved`` items that left with settings nobody saved, ``unchecked`` the steps that may have
    changed anything.
    """

    counts: Mapping[str, Counts] = field(default_factory=dict)
    items: Mapping[str, str] = field(default_factory=dict)
    opened: frozenset[str] = frozenset()
    unmated: frozenset[CableEndKey] = frozenset()
    lifted: frozenset[CableEndKey] = frozenset()
    labelled: frozenset[str] = frozenset()
    photographed: frozenset[str] = frozenset()
    joints: Mapping[JointKey, str] = field(default_factory=dict)
    clamped: frozenset[str] = frozenset()
    drained: frozenset[str] = frozenset()
    ties: frozenset[str] = frozenset()
    marked: frozenset[str] = frozenset()
    unset: frozenset[str] = frozenset()
    energies: Mapping[str, str] = field(default_factory=dict)
    covered: frozenset[str] = frozenset()
    saved: frozenset[str] = frozenset()
    unrestored: frozenset[str] = frozenset()
    renewed: frozenset[str] = frozenset()
    due: frozenset[str] = frozenset()
    stand: str = FEET
    disturbed: frozenset[str] = frozenset()
    loosened: frozenset[str] = frozenset()
    unchecked: tuple[StepRef, ...] = ()

    def having(self, **changes: Any) -> State:
        """The state with some parts replaced. Raises AttributeError for a part that is none."""
        made = object.__new__(State)
        parts = made.__dict__
        parts.update(self.__dict__)
        known = len(parts)
        parts.update(changes)
        if len(parts) != known:
            raise AttributeError(f"no such part of a state: {', '.join(changes.keys() - self.__dict__.keys())}")
        return made

    def energy(self, name: str) -> str:
        """How far an energy is made dead; empty = energised."""
        return self.energies.get(name, "")

    def is_proved(self, name: str) -> bool:
        return self.energies.get(name) == PROVED

    def is_isolated(self, name: str) -> bool:
        """Whether an energy is at least isolated."""
        return self.energies.get(name, "") in ORDER_OF_ISOLATION


def with_entry(table: Mapping[Any, Any], name: Any, value: Any) -> dict[Any, Any]:
    """A table with one entry set."""
    made = dict(table)
    made[name] = value
    return made


def without_entry(table: Mapping[Any, Any], name: Any) -> dict[Any, Any]:
    """A table without one entry."""
    made = dict(table)
    made.pop(name, None)
    return made
