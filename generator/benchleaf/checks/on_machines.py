"""Findings about the wiring of a machine in each of its configurations, each said once with where it holds."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place
from benchleaf.wiring.configurations import wiring_of
from benchleaf.wiring.wiring import Wiring


def on_machines(derived: Derived, look: Callable[[Wiring], Iterator[Finding]]) -> Iterator[Finding]:
    """What ``look`` finds on every machine with recorded wiring; the message says where it does not hold on all."""
    for machine in derived.library.machines.values():
        if not machine.has_wiring:
            continue
        every = derived.all_built(machine)
        found: dict[tuple[str, str, Place], tuple[Finding, list[str]]] = {}
        for built in every:
            for one in look(wiring_of(derived, built)):
                key = (one.code, one.message, one.place)
                found.setdefault(key, (one, []))[1].append(built.configuration.label)
        for one, labels in found.values():
            where = f", on {'; '.join(labels)}" if len(labels) < len(every) else ""
            yield replace(one, message=f"{one.message}{where}")
