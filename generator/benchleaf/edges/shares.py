"""A big library is checked by as many processes as there are cores, each with a share of the machines.

Only where a process can be forked, so that nothing has to be read twice or sent over, and only where there is enough
to do; elsewhere, and when a process is lost, the same checks run here. What is found is the same either way.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Sequence
from typing import Any

from benchleaf.checks import CHECKS, run_checks
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding
from benchleaf.model import Library

WORTH_SHARING = 300  # procedures; below that, starting a process costs as much as it saves
MOST_SHARES = 8


def check_in_shares(derived: Derived, cores: int | None = None, least: int = WORTH_SHARING) -> list[Finding]:
    """The findings of every check, in no fixed order; those of ``run_checks``, some of them twice.

    ``cores`` is how many processes to use at most (default: what this process may use).
    """
    library = derived.library
    procedures = sum(len(machine.procedures) for machine in library.machines.values())
    count = min(usable_cores() if cores is None else cores, MOST_SHARES, len(library.machines))
    if count < 2 or procedures < least or sys.platform != "linux":
        return list(run_checks(derived))
    mine, *others = shares(library, count)
    by_machine = [check for check in CHECKS if check.by_machine]
    helpers = [_Helper(Derived(library.only(share)), by_machine) for share in others]
    found = list(run_checks(derived, [check for check in CHECKS if not check.by_machine]))
    found += run_checks(Derived(library.only(mine)), by_machine)
    for helper in helpers:
        found += helper.findings()
    return found


def shares(library: Library, count: int) -> list[tuple[str, ...]]:
    """The machines in ``count`` shares of about as many steps each: the largest first, each to the smallest share."""
    sizes = {name: 1 + sum(len(p.steps) for p in m.procedures.values()) for name, m in library.machines.items()}
    made: list[list[str]] = [[] for _ in range(count)]
    totals = [0] * count
    for name in sorted(sizes, key=lambda one: (-sizes[one], one)):
        least = totals.index(min(totals))
        made[least].append(name)
        totals[least] += sizes[name]
    return [tuple(sorted(names)) for names in made]


def usable_cores() -> int:
    """How many processes can do anything here at once; 1 where none can be forked."""
    return len(os.sched_getaffinity(0)) if sys.platform == "linux" else 1


class _Helper:
    """A forked process that runs some checks on a share of the machines, and is done here if it is lost."""

    def __init__(self, derived: Derived, checks: Sequence[Any]) -> None:
        from multiprocessing import get_context

        self.derived, self.checks = derived, checks
        fork = get_context("fork")
        self.receive, send = fork.Pipe(duplex=False)
        self.process = fork.Process(target=_run, args=(derived, checks, send), daemon=True)
        self.process.start()
        send.close()

    def findings(self) -> Iterable[Finding]:
        try:
            found: Iterable[Finding] = self.receive.recv()
        except (EOFError, OSError):
            found = run_checks(self.derived, self.checks)
        self.receive.close()
        self.process.join()
        return found


def _run(derived: Derived, checks: Sequence[Any], send: Any) -> None:
    send.send(list(run_checks(derived, checks)))
    send.close()
