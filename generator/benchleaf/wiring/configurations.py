"""The wiring of a machine in each of its configurations, worked out once, and what they have in common."""

from __future__ import annotations

from benchleaf.applicability import Configuration
from benchleaf.built import Built, build
from benchleaf.derived import Derived
from benchleaf.wiring.wiring import Wiring


def wiring_of(derived: Derived, built: Built) -> Wiring:
    """The wiring of a machine as built, remembered."""
    key = ("wiring", built.machine.id, built.configuration)
    return derived.remember(key, lambda: Wiring.of(built))


def unmodified(derived: Derived, built: Built) -> Wiring:
    """The wiring of the same variant as the maker built it: no modification, no serial."""
    plain = Configuration(built.configuration.variant)
    if plain == built.configuration:
        return wiring_of(derived, built)
    key = ("wiring", built.machine.id, plain)
    return derived.remember(key, lambda: Wiring.of(build(built.machine, plain)))
