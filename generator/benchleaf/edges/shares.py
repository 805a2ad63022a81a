"""A big library is checked by as many processes as there are cores, each with a share of the machines.

Only where a process can be forked, so that nothing has to be read twice or sent over, and only where there is enough
to do; elsewhere, and when a process is lost, the same checks run here. What is found is the same either way.
"""

from __future__ import annotations

import os
import pickle
import sys
from collections.abc import Iterable, Sequence
from typing import NoReturn

from benchleaf.checks import CHECKS, run_checks
from benchleaf.checks.check import Check
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding
from benchleaf.model import Library

WORTH_SHARING = 300  # procedures; below that, starting a process costs as much as it saves
MOST_SHARES = 8
_WHOLE = b"\nall said"


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

    def __init__(self, derived: Derived, checks: Sequence[Check]) -> None:
        self.derived, self.checks = derived, checks
        self.receive, send = os.pipe()
        sys.stdout.flush()
        sys.stderr.flush()
        self.process = os.fork()
        if not self.process:
            _run(derived, checks, send)
        os.close(send)

    def findings(self) -> Iterable[Finding]:
        with os.fdopen(self.receive, "rb") as sent:
            written = sent.read()
        os.waitpid(self.process, 0)
        if not written.endswith(_WHOLE):
            return run_checks(self.derived, self.checks)
        found: Iterable[Finding] = pickle.loads(written.removesuffix(_WHOLE))
        return found


def _run(derived: Derived, checks: Sequence[Check], send: int) -> NoReturn:
    """In the forked process: says what it found and ends, without touching anything of the one it was forked from.

    Not by ``multiprocessing``: importing that takes a fifth of the start of ``check``.
    """
    try:
        written = pickle.dumps(list(run_checks(derived, checks)))
        with os.fdopen(send, "wb") as receiver:
            receiver.write(written)
            receiver.write(_WHOLE)
    finally:  # also when a check of ours fails: the parent runs it again and says so
        os._exit(0)
