"""What has been worked out from a library so far, each thing once: machines as built, and what later stages derive.

The values are pure functions of the library; this only remembers them, so that ten checks share one result.
"""

from __future__ import annotations

from benchleaf.applicability import Configuration
from benchleaf.built import Built, applicabilities, build, configurations_of
from benchleaf.memory import Memory
from benchleaf.model import Library, Machine
from benchleaf.records.types import Applies
from benchleaf.references import references
from benchleaf.text import Text


class Derived(Memory):
    """A library with a memory for what is derived from it."""

    def __init__(self, library: Library) -> None:
        super().__init__()
        self.library = library

    def references(self, machine: Machine) -> tuple[Text | Applies, ...]:
        """Every reference and applicability in the records of the machine, record by record."""
        return self.remember(
            ("references", machine.id), lambda: tuple(one for record in machine.records() for one in references(record))
        )

    def configurations(self, machine: Machine) -> tuple[Configuration, ...]:
        """Every configuration of the machine that has to be looked at, in a fixed order."""
        return self.remember(
            ("configurations", machine.id), lambda: configurations_of(machine, self.applicabilities(machine))
        )

    def applicabilities(self, machine: Machine) -> tuple[Applies, ...]:
        """Every applicability that a record of the machine states, wherever it stands."""
        return self.remember(
            ("applicabilities", machine.id), lambda: tuple(applicabilities(machine, self.references(machine)))
        )

    def built(self, machine: Machine, configuration: Configuration) -> Built:
        """The machine in one configuration."""
        return self.remember(("built", machine.id, configuration), lambda: build(machine, configuration))

    def all_built(self, machine: Machine) -> tuple[Built, ...]:
        """The machine in every configuration."""
        return tuple(self.built(machine, one) for one in self.configurations(machine))
