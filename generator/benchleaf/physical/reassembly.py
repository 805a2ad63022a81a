"""The way back, derived from the record of taking apart: what is still open at its end, undone in reverse order.

Nobody writes it, so it cannot disagree with the teardown. What an author knows better stands under ``on-return``. What
is derived is replayed like a written procedure: a way back that cannot be gone is a finding, never a page.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.frozen import dataclass
from benchleaf.physical.acts import Problem
from benchleaf.physical.back_steps import BackStep
from benchleaf.physical.ledger import Ledger, ledger
from benchleaf.physical.replay import Replay
from benchleaf.physical.state import State, StepRef
from benchleaf.physical.way_back import WayBack

__all__ = ["BackStep", "Reassembly", "reassembly"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reassembly:
    """The way back of a replay. ``stopped_at`` is the unchecked step at which nothing further can be derived."""

    replay: Replay
    steps: tuple[BackStep, ...]
    ledger: Ledger
    stopped_at: StepRef | None = None

    @property
    def end(self) -> State:
        return self.steps[-1].after if self.steps else self.replay.end

    def all_problems(self) -> Iterator[tuple[BackStep, Problem]]:
        for step in self.steps:
            for problem in step.problems:
                yield step, problem

    @property
    def words(self) -> str:
        """What stands above the derived steps."""
        if self.stopped_at is not None:
            return (
                f"The way back stops at step {self.stopped_at.number} of {self.stopped_at.procedure}, "
                f"'{self.stopped_at.title}': what it did is not recorded. It needs `on-return`."
            )
        return f"Ledger {self.ledger.words}."


def reassembly(replay: Replay) -> Reassembly:
    """Derive the way back from the end of a replay, and replay it."""
    back = WayBack(replay)
    stopped = back.derive()
    ground = replay.ground
    declared = frozenset(back.declared)
    return Reassembly(
        replay=replay,
        steps=tuple(back.steps),
        ledger=ledger(ground, back.state, declared),
        stopped_at=stopped,
    )
