"""What a rule sees: the machine, its state before the act, the act, the step it stands in."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from benchleaf.diagnostics import Place, Severity
from benchleaf.frozen import dataclass
from benchleaf.physical.acts import Act, Problem
from benchleaf.physical.ground import Front, Ground, Need
from benchleaf.physical.state import State
from benchleaf.records.teardown import Step


@dataclass(frozen=True, slots=True)
class Look:
    """``step`` is ``None`` for an act that belongs to no written step."""

    ground: Ground
    state: State
    act: Act
    step: Step | None = None

    @property
    def is_powered(self) -> bool:
        """Whether the step declares a powered test."""
        return self.step is not None and self.step.powered is not None

    def problem(
        self,
        code: str,
        message: str,
        help: str,
        *,
        severity: Severity = Severity.ERROR,
        related: tuple[tuple[Place, str], ...] = (),
    ) -> Problem:
        return Problem(code=code, message=message, place=self.act.place, help=help, severity=severity, related=related)


Said = Iterable[Problem]
Rule = Callable[[Look], Said]
NOTHING: tuple[Problem, ...] = ()
"""What a rule says that has no complaint, which is nearly always: quicker than an iterator that ends at once."""


def unmet_words(need: Need) -> str:
    """Clauses that do not hold, in words: ``top-cover is on; control-tray is not at service``."""
    return "; ".join(" and ".join(_options(clause)) if len(clause) == 1 else _either(clause) for clause in need)


def _options(clause: tuple[tuple[Front, ...], ...]) -> list[str]:
    return [_still(item, position) for option in clause for item, position, _ in option]


def _either(clause: tuple[tuple[Front, ...], ...]) -> str:
    ways = [" and ".join(f"{item}{f' at {position}' if position else ''}" for item, position, _ in o) for o in clause]
    return f"neither {' nor '.join(ways)} is out of the way"


def _still(item: str, position: str) -> str:
    return f"{item} is not at {position}" if position else f"{item} is still on"


def way_out(need: Need) -> str:
    """What to do about clauses that do not hold."""
    first = [option[0] for clause in need for option in clause[:1] if option]
    steps = [f"`move: {item} to {position}`" if position else f"`lift off: {item}`" for item, position, _ in first]
    return " and ".join(steps)
