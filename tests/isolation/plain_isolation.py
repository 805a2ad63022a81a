"""Solvers that share nothing with ours but the problem, and generated problems to try both on.

``plain_minutes`` is the definition written down: at every step try everything, take the best. ``remember`` keeps what
was worked out before, which changes nothing but the time it takes.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import permutations
from random import Random

from benchleaf.isolation.problem import (
    ANY,
    Cover,
    Mode,
    Needs,
    Power,
    PowerMinutes,
    Problem,
    Remedy,
    Start,
    Supply,
    Test,
    Trial,
)

Condition = tuple[frozenset[str], str]


def paths_to(problem: Problem, covers: Iterable[str]) -> frozenset[str]:
    found = set()
    for cover in covers:
        above: str | None = cover
        while above is not None:
            found.add(above)
            above = problem.covers[above].within
    return frozenset(found)


def bring(problem: Problem, condition: Condition, needs: Needs) -> tuple[Condition, float]:
    """The condition that ``needs`` asks for and the minutes it takes, by the words of the rule."""
    opened, supply = condition
    wanted = paths_to(problem, needs.open)
    then = wanted if needs.others_closed else opened | wanted
    minutes = sum(problem.covers[c].open_minutes for c in sorted(then - opened))
    minutes += sum(problem.covers[c].close_minutes for c in sorted(opened - then))
    if then != opened and supply == "energised":
        minutes, supply = minutes + problem.power.isolate, "isolated"
    if needs.power is Power.DEAD:
        if supply == "energised":
            minutes, supply = minutes + problem.power.isolate, "isolated"
        if supply == "isolated":
            minutes, supply = minutes + problem.power.prove, "proved dead"
    if needs.power is Power.ON and supply != "energised":
        minutes, supply = minutes + problem.power.energise, "energised"
    return (then, supply), minutes


def begin(problem: Problem) -> Condition:
    return paths_to(problem, problem.start.open), problem.start.supply.value


def remedies_for(problem: Problem, cause: str) -> set[str]:
    return {name for name, remedy in problem.remedies.items() if cause in remedy.fixes}


def plain_minutes(problem: Problem, *, remember: bool = True) -> float:
    """The least expected minutes."""
    total = sum(problem.causes.values())
    rows = {(name, cause): test.row(cause) for name, test in problem.tests.items() for cause in problem.causes}
    seen: dict[object, float] = {}

    def repaired(condition: Condition, name: str) -> tuple[Condition, float]:
        remedy = problem.remedies[name]
        condition, minutes = bring(problem, condition, remedy.needs)
        minutes += remedy.minutes
        if problem.trial:
            condition, closing = bring(problem, condition, problem.trial.needs)
            minutes += closing + problem.trial.minutes
        return condition, minutes

    def still(weights: dict[str, float], done: frozenset[str], condition: Condition) -> float:
        """Minutes times weight from here."""
        key = (tuple(sorted(weights.items())), done, condition)
        if remember and key in seen:
            return seen[key]
        whole = sum(weights.values())
        shared = set.intersection(*(remedies_for(problem, cause) for cause in weights))
        if problem.mode is Mode.IDENTIFY and (shared or len(weights) == 1):
            return 0.0
        choices = []
        for name in sorted(set(problem.tests) - done):
            told = [rows[name, cause] for cause in sorted(weights)]
            if all(row == told[0] for row in told):
                continue
            then, minutes = bring(problem, condition, problem.tests[name].needs)
            price = (minutes + problem.tests[name].minutes) * whole
            for outcome in sorted({outcome for row in told for outcome in row}):
                left = {
                    cause: weight * rows[name, cause][outcome]
                    for cause, weight in weights.items()
                    if outcome in rows[name, cause]
                }
                price += still(left, done | {name}, then)
            choices.append(price)
        if problem.mode is Mode.REPAIR:
            for name in sorted(set.union(*(remedies_for(problem, cause) for cause in weights))):
                then, minutes = repaired(condition, name)
                left = {c: w for c, w in weights.items() if c not in problem.remedies[name].fixes}
                choices.append(minutes * whole + (still(left, done, then) if left else 0.0))
        value = min(choices, default=0.0)
        if remember:
            seen[key] = value
        return value

    weights = {cause: weight / total for cause, weight in problem.causes.items()}
    return still(weights, frozenset(), begin(problem))


def minutes_of_row(problem: Problem, order: Iterable[str]) -> float:
    """Expected minutes of remedies one after another, each followed by its trial run."""
    total = sum(problem.causes.values())
    left = dict(problem.causes)
    condition, expected = begin(problem), 0.0
    for name in order:
        if not left:
            break
        condition, minutes = bring(problem, condition, problem.remedies[name].needs)
        minutes += problem.remedies[name].minutes
        if problem.trial:
            condition, closing = bring(problem, condition, problem.trial.needs)
            minutes += closing + problem.trial.minutes
        expected += minutes * sum(left.values()) / total
        left = {cause: weight for cause, weight in left.items() if cause not in problem.remedies[name].fixes}
    return expected


def best_row(problem: Problem) -> float:
    """The best order of remedies, by trying all."""
    return min(minutes_of_row(problem, order) for order in permutations(sorted(problem.remedies)))


COVERS = {
    "front": Cover(6, 4),
    "tray": Cover(10, 7, "front"),
    "rear": Cover(15, 9),
    "hatch": Cover(1, 0.5, "tray"),
}
PLACES = ((), (), ("front",), ("tray",), ("rear",), ("hatch",), ("front", "rear"), ("tray", "rear"))


def generated(
    seed: int,
    causes: int,
    tests: int,
    *,
    mode: Mode = Mode.REPAIR,
    likely: float = 0.0,
    shared: float = 0.0,
    covered: bool = False,
    run: bool = False,
    no_remedy: float = 0.0,
    detect: bool = False,
) -> Problem:
    """A problem by chance. ``likely``: part of the tests that answer by likelihood; ``shared``: part of the remedies
    that cure a second cause; ``covered``: covers and power count; ``run``: a trial run after each repair;
    ``no_remedy``: part of the causes without; ``detect``: tests that find one to four causes each."""
    random = Random(seed)
    names = [f"c{i:02}" for i in range(causes)]

    def behind() -> frozenset[str]:
        return frozenset(random.choice(PLACES) if covered else ())

    def needs() -> Needs:
        if not covered:
            return ANY
        return Needs(behind(), random.random() < 0.4, random.choice(list(Power)))

    made = {}
    for t in range(tests):
        minutes = float(random.randint(0, 12))
        if random.random() < likely:
            shares = {
                c: {"bad": random.choice((0.1, 0.5, 0.9, 1.0))} for c in names if random.random() < 0.7
            }
            made[f"t{t:02}"] = Test(minutes, shares, "good", needs())
        elif detect:
            found = random.sample(names, min(causes, random.choice((1, 1, 2, 3, 4))))
            made[f"t{t:02}"] = Test(minutes, {c: {"bad": 1.0} for c in found}, "good", needs())
        else:
            shares = {c: {random.choice(("a", "b", "b", "c")): 1.0} for c in names}
            made[f"t{t:02}"] = Test(minutes, shares, None, needs())
    remedies = {}
    for cause in names:
        if random.random() >= no_remedy:
            fixes = {cause, random.choice(names)} if random.random() < shared else {cause}
            remedies[f"r-{cause}"] = Remedy(
                float(random.randint(1, 40)), tuple(sorted(fixes)), Needs(behind(), False) if covered else ANY
            )
    return Problem(
        causes={c: random.randint(1, 20) / 4 for c in names},
        tests=made,
        remedies=remedies,
        covers=COVERS if covered else {},
        power=PowerMinutes(0.5, 2, 0.25) if covered else PowerMinutes(),
        trial=Trial(2, random.choice((Needs(power=Power.ON), ANY))) if run else None,
        mode=mode,
        start=Start(frozenset(random.choice(((), ("tray",)))) if covered else frozenset(), random.choice(list(Supply))),
    )
