"""The order of tests: problems by chance of three sizes and four kinds, one of them with covers and power."""

from __future__ import annotations

import os
from random import Random
from statistics import median
from time import perf_counter

from benchleaf.isolation.problem import (
    ANY,
    Cover,
    PowerMinutes,
    Problem,
    Remedy,
    Test,
    Trial,
    hands_on,
    stated,
)
from benchleaf.isolation.test_order import best_order, next_best, posterior

COVERS = {
    "front": Cover(4, 3),
    "tray": Cover(6, 5, "front"),
    "rear": Cover(3, 2),
    "base": Cover(10, 8),
}
KINDS = ("dense", "few causes a test", "covers and power", "half by likelihood")
SEEDS = 5


def problem(size: int, kind: str, seed: int) -> Problem:
    """``size`` causes and as many tests."""
    random = Random(f"{size} {kind} {seed}")
    causes = [f"c{i:02}" for i in range(size)]
    covered = kind == "covers and power"

    def behind() -> tuple[str, ...]:
        return random.choice(((), ("front",), ("tray",), ("rear",), ("base",))) if covered else ()

    tests = {}
    for i in range(size):
        minutes = round(random.uniform(1, 15), 1)
        needs = ANY
        if covered:
            inside = stated("open", random.choice(("dead", "powered")), behind())
            needs = random.choice((inside, inside, stated("closed", "powered"), stated("either", "dead", behind())))
        if kind == "half by likelihood" and i % 2:
            often = {c: {"bad": random.choice((0.1, 0.5, 0.9, 1.0))} for c in causes if random.random() < 0.6}
            tests[f"t{i:02}"] = Test(minutes, often, "good", needs)
        elif kind == "dense":
            tests[f"t{i:02}"] = Test(minutes, {c: {random.choice("ab"): 1.0} for c in causes}, None, needs)
        else:
            found = random.sample(causes, random.choice((1, 1, 2, 2, 3, 4, 5)))
            tests[f"t{i:02}"] = Test(minutes, {c: {"bad": 1.0} for c in found}, "good", needs)
    return Problem(
        causes={c: random.random() ** 2 + 0.02 for c in causes},
        tests=tests,
        remedies={
            f"r-{c}": Remedy(round(random.uniform(2, 60), 1), (c,), hands_on(behind()) if covered else ANY)
            for c in causes
        },
        covers=COVERS if covered else {},
        power=PowerMinutes(0.5, 2, 0.5) if covered else PowerMinutes(),
        trial=Trial(2, stated("closed", "powered")) if covered else None,
    )


def run() -> list[str]:
    """The lines to print."""
    cores = os.cpu_count()
    lines = []
    for size in (10, 20, 40):
        for kind in KINDS:
            spent, exact, gaps = [], 0, []
            for seed in range(SEEDS):
                made = problem(size, kind, seed)
                start = perf_counter()
                found = best_order(made)
                spent.append(perf_counter() - start)
                exact += found.exact
                gaps.append(found.expected / found.bound - 1 if found.bound else 0.0)
            lines.append(
                f"isolation: {size} causes, {size} tests, {kind}: median {1000 * median(spent):.0f} ms, most "
                f"{1000 * max(spent):.0f} ms; {exact} of {SEEDS} exact, at most {100 * max(gaps):.0f} % above the "
                f"bound; {cores} cores"
            )
    made = problem(10, "covers and power", 1)
    test, outcome = next((t, "bad") for t in sorted(made.tests))
    start = perf_counter()
    posterior(made, [(test, outcome)])
    next_best(made, [(test, "good")], [sorted(made.tests)[1]])
    lines.append(
        f"isolation: one answer and one test that cannot be done, 10 causes and tests: "
        f"{1000 * (perf_counter() - start):.1f} ms, {cores} cores"
    )
    return lines
