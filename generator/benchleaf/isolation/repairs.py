"""The order of repairs in a state in which no test tells anything more, where a rule gives it without a
search.

Two rules, and where each is proved right: likelihood over cost, when every repair with its trial run ends
in one and the same condition; from the innermost covers outward, when nothing ever has to be closed and the
covers lie one within the other.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import fsum

from benchleaf.isolation.clusters import Job, expected_minutes, from_the_inside_out, ratio
from benchleaf.isolation.logs import alike
from benchleaf.isolation.problem import Needs, Power
from benchleaf.isolation.table import Table

EPSILON = 1e-12
_DEAD = Needs(others_closed=False, power=Power.DEAD)


def best_repairs(
    table: Table, condition: int, weights: Mapping[int, float], stuck: float
) -> tuple[float, int] | None:
    """Minutes (times weight) and the repair to begin with, or None when neither rule holds.

    ``weights``: for each remedy (by place) the weight of what it cures; no cause is cured by two of them.
    ``stuck``: the weight of causes without a remedy, which pay for every attempt.
    """
    found = _same_way_back(table, condition, weights, stuck)
    return found if found is not None else _opened_once(table, condition, weights, stuck)


def _same_way_back(
    table: Table, condition: int, weights: Mapping[int, float], stuck: float
) -> tuple[float, int] | None:
    now = table.prices(condition)[1]
    ends = {now[remedy][1] for remedy in weights}
    if len(ends) != 1:
        return None
    (end,) = ends
    later = table.prices(end)[1]
    if any(later[remedy][1] != end for remedy in weights):
        return None
    ordered = sorted(weights, key=lambda remedy: (-alike(ratio(weights[remedy], later[remedy][0])), remedy))
    everybody = fsum(weights[remedy] for remedy in ordered) + stuck
    best: tuple[float, int] | None = None
    for first in ordered:  # only the first is done from another condition than the rest
        total, left = now[first][0] * everybody, everybody - weights[first]
        for remedy in ordered:
            if remedy != first:
                total += later[remedy][0] * left
                left -= weights[remedy]
        if best is None or total < best[0] - EPSILON:
            best = (total, first)
        if end == condition:
            break
    return best


def _opened_once(
    table: Table, condition: int, weights: Mapping[int, float], stuck: float
) -> tuple[float, int] | None:
    problem, conditions = table.problem, table.conditions
    if problem.trial is not None:
        return None
    jobs: dict[str, Job] = {}
    remedies: dict[str, int] = {}
    powers = set()
    for remedy, weight in weights.items():
        needs = problem.remedies[table.remedies[remedy]].needs
        powers.add(needs.power)
        if needs.others_closed:
            return None
        after: str | None = None
        for step in conditions.preparations(condition, needs):
            if step.cover:
                name = f"open {step.cover}"
                if name in jobs and jobs[name].after != after:
                    return None  # two covers beside each other have to be open: not a tree
                jobs[name] = Job(step.minutes, 0.0, after)
                after = name
        jobs[f"repair {table.remedies[remedy]}"] = Job(table.repair_minutes[remedy], weight, after)
        remedies[f"repair {table.remedies[remedy]}"] = remedy
    first = _power_once(table, condition, powers)
    if first is None:
        return None
    order = from_the_inside_out(jobs)
    everybody = fsum(weights.values()) + stuck
    value = expected_minutes(jobs, order) + first * everybody + stuck * fsum(job.minutes for job in jobs.values())
    return value, next(remedies[job] for job in order if job in remedies)


def _power_once(table: Table, condition: int, powers: set[Power]) -> float | None:
    """The minutes that make the machine fit for all repairs once and for all; None when it does not stay
    so."""
    minutes = table.problem.power
    if not (minutes.isolate or minutes.prove or minutes.energise):
        return 0.0
    if powers != {Power.DEAD}:
        return None
    return fsum(step.minutes for step in table.conditions.preparations(condition, _DEAD))
