"""Repairs one after another when no test is left that tells anything: likelihood over cost, covers counted.

When nothing has to be closed again and the covers lie one within the other, a cover is opened once and
every repair behind it is then free of it. The order that costs least then comes from the innermost covers
outward: a group of repairs with the cover that opens them is worth its likelihood over its minutes, and
joins what stands before it when it is worth more (Ottosen and Jensen, "The Cost of Troubleshooting Cost
Clusters with Inside Information", 2010; the same rule as Horn, "Single-Machine Job Sequencing with Treelike
Precedence Ordering and Linear Delay Penalties", SIAM J. Appl. Math. 23, 1972). When every repair leads back
to the same condition, it is plain likelihood over cost.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from benchleaf.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Job:
    """Something that takes minutes and cures with a weight, only after ``after`` (another job, or none).
    Opening a cover is a job that cures nothing."""

    minutes: float
    weight: float
    after: str | None = None


def by_likelihood_over_cost(jobs: Mapping[str, Job]) -> tuple[str, ...]:
    """The order of jobs that stand alone: greatest weight over minutes first, then by id. Optimal when the
    minutes of each are always the same and what one cures no other does."""
    return tuple(sorted(jobs, key=lambda name: (-ratio(jobs[name].weight, jobs[name].minutes), name)))


def from_the_inside_out(jobs: Mapping[str, Job]) -> tuple[str, ...]:
    """The order of all jobs with the least sum of weight times finishing time, each after the one it waits
    for (which must be among them; no rings)."""
    children: dict[str | None, list[str]] = {}
    for name in sorted(jobs):
        children.setdefault(jobs[name].after, []).append(name)
    order: list[str] = []
    for group in _merged([group for name in children.get(None, []) for group in _groups(name, jobs, children)]):
        order.extend(group.names)
    return tuple(order)


def expected_minutes(jobs: Mapping[str, Job], order: Sequence[str]) -> float:
    """The sum over jobs of weight times the minutes until it is finished."""
    total, clock = 0.0, 0.0
    for name in order:
        clock += jobs[name].minutes
        total += jobs[name].weight * clock
    return total


def ratio(weight: float, minutes: float) -> float:
    """Weight over minutes; what takes no time comes first."""
    return weight / minutes if minutes > 0 else float("inf")


@dataclass(frozen=True, slots=True)
class _Group:
    names: tuple[str, ...]
    minutes: float
    weight: float

    @property
    def key(self) -> tuple[float, str]:
        return (-ratio(self.weight, self.minutes), self.names[0])


def _groups(name: str, jobs: Mapping[str, Job], children: Mapping[str | None, list[str]]) -> list[_Group]:
    """The job and all that waits for it, as groups to be done without a break, best first."""
    behind = _merged([group for child in children.get(name, []) for group in _groups(child, jobs, children)])
    own = _Group((name,), jobs[name].minutes, jobs[name].weight)
    while behind and ratio(behind[0].weight, behind[0].minutes) >= ratio(own.weight, own.minutes):
        first = behind.pop(0)
        own = _Group(own.names + first.names, own.minutes + first.minutes, own.weight + first.weight)
    return [own, *behind]


def _merged(groups: list[_Group]) -> list[_Group]:
    return sorted(groups, key=lambda group: group.key)
