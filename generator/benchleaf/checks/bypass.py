"""A protection that a conversion took away, and nobody put something in its place or accepted it in writing.

A signal that no longer comes from its own sensor or guard protects nobody. Say what protects instead
(`compensated-by`), or let whoever answers for the machine acknowledge the loss with date and reason (`acknowledged`). A
signal whose `protects` is not recorded counts as a protection. Where the wiring takes a signal away and no substitution
is written down, write one.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.checks.on_machines import on_machines
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Severity
from benchleaf.wiring.bypass import BypassRow, bypass_register
from benchleaf.wiring.configurations import unmodified
from benchleaf.wiring.contacts import shown
from benchleaf.wiring.wiring import Wiring

CODES = ("protection-lost", "signal-lost", "substitution-not-wired")
BY_MACHINE = True


def run(derived: Derived) -> Iterator[Finding]:
    def look(wiring: Wiring) -> Iterator[Finding]:
        for row in bypass_register(wiring, unmodified(derived, wiring.built)):
            yield from _of_row(wiring, row)

    yield from on_machines(derived, look)


def _of_row(wiring: Wiring, row: BypassRow) -> Iterator[Finding]:
    if not row.recorded:
        lost = f"; it protects: {row.protects}" if row.is_protection else ""
        message = f"signal '{row.signal}' no longer comes from {row.source_item or 'its source'}{lost}"
        help = "write under `substitutions` what supplies it now, or mend the wiring"
        severity = Severity.ERROR if row.is_protection else Severity.WARNING
        yield Finding("signal-lost", message, row.place, help, severity)
        return
    if row.is_open:
        message = f"signal '{row.signal}' is supplied by {shown(row.by)}: what it protects is lost ({row.protects})"
        help = "add `compensated-by:` with what protects instead, or `acknowledged:` with by, date and reason"
        yield Finding("protection-lost", message, row.place, help)
    net = wiring.net_of.get(row.by)
    apart = [reader for reader in row.readers if net is None or reader not in net.contacts]
    if row.by and apart:
        where = f"no recorded copper leads from there to {shown(apart[0])}"
        message = f"'{row.signal}' is said to be supplied by {shown(row.by)}, but {where}"
        help = "mend the contact, or record the wire in between"
        yield Finding("substitution-not-wired", message, row.place, help, Severity.WARNING)
