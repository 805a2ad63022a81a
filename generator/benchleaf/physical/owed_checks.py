"""The return-to-service list: the checks owed because something was disturbed, and what was disturbed without a check.

Opening a machine with a mains source always owes the electrical safety test; a source nobody recorded counts as mains.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.built import FRAME, Built
from benchleaf.frozen import dataclass
from benchleaf.physical.ground import Ground
from benchleaf.physical.state import State
from benchleaf.records.lines import ReturnCheck
from benchleaf.values.quantity import Dimension, Quantity

ELECTRICAL_SAFETY = "electrical-safety"
LOW_AC, LOW_DC = 50.0, 120.0
"""Volts up to which a source is not mains here: extra-low voltage band I of IEC 61140 (from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Owed:
    """A check that is owed. ``check`` is ``None`` when the machine's record has none: it is owed all the same."""

    id: str
    title: str
    because: tuple[str, ...]
    check: ReturnCheck | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OwedChecks:
    """What is owed before the machine goes back to work; ``uncovered`` was disturbed and no check covers it."""

    owed: tuple[Owed, ...]
    uncovered: tuple[str, ...] = ()
    unchecked_steps: int = 0

    @property
    def words(self) -> tuple[str, ...]:
        """The list as lines to print; never empty for lack of facts."""
        lines = [f"{one.title} ({', '.join(one.because)})" for one in self.owed]
        lines += [f"no recorded check covers {name}" for name in self.uncovered]
        if self.unchecked_steps:
            many = f"{self.unchecked_steps} unchecked step{'s' * (self.unchecked_steps > 1)}"
            lines.append(f"{many} may have disturbed more than is listed")
        return tuple(lines) or ("nothing recorded was disturbed",)


def owed_checks(ground: Ground, end: State) -> OwedChecks:
    """The checks owed after everything that led to a state, there and back."""
    built = ground.built
    disturbed = _disturbed(ground, end)
    owed: list[Owed] = []
    covered: set[str] = set()
    for name, check in sorted(built.checks.items()):
        covers = {str(one) for one in check.covers}
        hit = tuple(sorted(covers & disturbed))
        covered |= covers
        if hit or (end.unchecked and covers):
            because = hit or ("an unchecked step may have disturbed it",)
            owed.append(Owed(id=name, title=str(check.title), because=because, check=check))
    safety = _electrical_safety(built, end, {one.id for one in owed})
    if safety is not None:
        owed.insert(0, safety)
    owed += list(_pairs(built, end, owed))
    left = tuple(name for name in sorted(disturbed - covered) if _needs_a_check(ground, name))
    return OwedChecks(owed=tuple(owed), uncovered=left, unchecked_steps=len(end.unchecked))


def _disturbed(ground: Ground, end: State) -> set[str]:
    """Items, lines, energies, adjusters and circuits that the work touched; an energy by being isolated."""
    found = {name.partition(".")[0] for name in end.disturbed}
    found |= set(end.unset) | set(end.renewed)
    return {name.partition(".")[0] for name in found}


def _needs_a_check(ground: Ground, name: str) -> bool:
    """Whether a check is asked for: items but the frame, lines, adjusters. A cable is covered with its items."""
    built = ground.built
    return (name in built.items and name != FRAME) or name in built.lines or name in built.adjusters


def _electrical_safety(built: Built, end: State, listed: set[str]) -> Owed | None:
    opened = any(name in built.items or name in built.sets for name in end.disturbed)
    why = mains_words(built)
    if not why or not (opened or end.unchecked) or ELECTRICAL_SAFETY in listed:
        return None
    check = built.checks.get(ELECTRICAL_SAFETY)
    title = str(check.title) if check is not None else "Electrical safety test, not recorded how"
    return Owed(id=ELECTRICAL_SAFETY, title=title, because=(why,), check=check)


def mains_words(built: Built) -> str:
    """Why a machine counts as having a mains source; empty when every source is recorded and is below it."""
    roots = [one for one in built.sources.values() if one.from_ is None]
    if not roots:
        return "opened; no source is recorded, which counts as mains"
    for one in roots:
        if one.nominal is None:
            return f"opened; the voltage of {one.id} is not recorded, which counts as mains"
        if is_mains(one.nominal):
            return f"opened; {one.id} is {one.nominal.tidy}"
    return ""


def is_mains(nominal: Quantity) -> bool:
    """Whether a voltage counts as mains: above extra-low voltage; of a kind nobody recorded, as AC."""
    if nominal.dimension is not Dimension.VOLTAGE:
        return True
    volts = max(abs(one) for one in (nominal.low, nominal.high, nominal.nominal) if one is not None)
    return volts > (LOW_DC if nominal.kind == "DC" else LOW_AC)


def _pairs(built: Built, end: State, owed: list[Owed]) -> Iterator[Owed]:
    """A renewed item whose settings belong with another: a check that covers both, or none is recorded."""
    for item in sorted(end.renewed & set(built.items)):
        for other in built.items[item].paired_with or ():
            pair = {item, str(other)}
            if not any(one.check is not None and pair <= {str(c) for c in one.check.covers} for one in owed):
                title = f"Settings of {other} for the new {item}, not recorded how"
                yield Owed(id=f"{item}-with-{other}", title=title, because=(f"{item} is new and paired with {other}",))
