"""The checks of a linked library, one module each, in one explicit table.

A module has ``CODES`` (the codes of its findings), ``run(derived)`` (yields findings; never prints, sorts or exits)
and a docstring, which is its manual page in ``benchleaf explain``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchleaf.checks import (
    applies,
    back_feed,
    bypass,
    cables,
    counts,
    dangers,
    deadlock,
    disputes,
    earth,
    fault_measurements,
    fuses,
    heaters,
    isolation,
    isolators,
    names,
    pictures,
    replay,
    roles,
    safety_messages,
    stored_charge,
    synonyms,
    torque,
    troubles,
    unrecorded_wiring,
    unused,
    values,
    wire_ends,
    wording,
)
from benchleaf.checks.check import Check, check_of
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding

_MODULES = (
    names, applies, counts, cables, deadlock, pictures, troubles, isolation, fault_measurements, safety_messages,
    unused, wording, synonyms, torque, disputes, stored_charge, dangers, values, replay,
    wire_ends, unrecorded_wiring, roles, earth, fuses, heaters, isolators, back_feed, bypass,
)  # fmt: skip
CHECKS: tuple[Check, ...] = tuple(check_of(module) for module in _MODULES)


def run_checks(derived: Derived, checks: Iterable[Check] = CHECKS) -> Iterator[Finding]:
    """The findings of every check, in the order of the table."""
    for check in checks:
        yield from check.run(derived)
