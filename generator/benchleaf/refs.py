"""Names that point at something: items, sets, positions, connectors, contacts. Each is the text the author typed.

A reference compares and hashes as its text and keeps its place; its parts are properties. What it points at is found
by the link stage.
"""

from __future__ import annotations

import re

from benchleaf.text import Text

ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
DESIGNATION = re.compile(r"[A-Z]{1,4}[0-9]{1,5}[a-z]?")
CONNECTOR = re.compile(rf"(?P<host>(?:{ID.pattern})|(?:{DESIGNATION.pattern}))-(?P<own>[A-Z]{{1,3}}[0-9]{{1,4}})")
ITEM = re.compile(rf"(?:(?P<machine>{ID.pattern})/)?(?P<own>(?:{DESIGNATION.pattern})|(?:{ID.pattern}))")
CONTACT_NAME = re.compile(r"[A-Za-z0-9+~#_/-]{1,24}")


class IdRef(Text):
    """An id of some table of the library (safety message, fastener, energy, line, tie, check, procedure …)."""

    __slots__ = ()


class FastenerRef(IdRef):
    """An id under ``fasteners``."""

    __slots__ = ()


class SafetyRef(IdRef):
    """An id of safety.yaml."""

    __slots__ = ()


class EnergyRef(IdRef):
    """An id under ``energy``."""

    __slots__ = ()


class LineRef(IdRef):
    """An id under ``lines``."""

    __slots__ = ()


class TieRef(IdRef):
    """An id under ``ties``."""

    __slots__ = ()


class AdjusterRef(IdRef):
    """An id under ``adjusters``."""

    __slots__ = ()


class CheckRef(IdRef):
    """An id under ``checks``."""

    __slots__ = ()


class SupplyRef(IdRef):
    """An id of supplies.yaml."""

    __slots__ = ()


class SourceRef(IdRef):
    """An id under ``sources`` of the wiring."""

    __slots__ = ()


class SignalRef(IdRef):
    """An id under ``signals`` of the wiring."""

    __slots__ = ()


class ProcedureRef(IdRef):
    """The id of a teardown record of the same machine."""

    __slots__ = ()


class CodeRef(IdRef):
    """The text of an error code of the same machine."""

    __slots__ = ()


class CircuitRef(IdRef):
    """The id of a fluid circuit: named by lines and vessels, declared by being named."""

    __slots__ = ()


class CableRef(IdRef):
    """A cable under ``cables``."""

    __slots__ = ()


class CableOrLineRef(IdRef):
    """A cable under ``cables`` or a line under ``lines``."""

    __slots__ = ()


class CoveredRef(IdRef):
    """What a check covers: an item, a line or an energy."""

    __slots__ = ()


class ItemRef(Text):
    """An item, ``rear-guard`` or ``A1``; ``b600/A1`` is that of another machine."""

    __slots__ = ()

    @property
    def machine(self) -> str:
        return self.rpartition("/")[0]

    @property
    def item(self) -> str:
        return self.rpartition("/")[2]


class SetRef(Text):
    """A fastener set ``control-tray.screws``, or an item alone, which stands for all its sets."""

    __slots__ = ()

    @property
    def item(self) -> str:
        return self.partition(".")[0].rpartition("/")[2]

    @property
    def machine(self) -> str:
        return self.partition(".")[0].rpartition("/")[0]

    @property
    def own(self) -> str:
        """The set's own name; empty when all sets of the item are meant."""
        return self.partition(".")[2]


class ValueRef(SetRef):
    """A value of an item, ``F1.cold``."""

    __slots__ = ()


class PlacedRef(Text):
    """An item as a choice list names it: ``top-cover`` (off), ``control-tray@service`` (drawn there, or off)."""

    __slots__ = ()

    @property
    def item(self) -> str:
        return self.partition("@")[0]

    @property
    def position(self) -> str:
        return self.partition("@")[2]


class ConnectorRef(Text):
    """A connector, ``A1-J3``: what stands before the last ``-J3`` is its host."""

    __slots__ = ()

    @property
    def host(self) -> str:
        return self.rpartition("-")[0]

    @property
    def own(self) -> str:
        return self.rpartition("-")[2]


class ContactRef(Text):
    """A contact, ``A1-J3.7`` of a connector or ``F1.1`` of an item."""

    __slots__ = ()

    @property
    def owner(self) -> str:
        """The connector or item it is a contact of."""
        return self.partition(".")[0]

    @property
    def contact(self) -> str:
        return self.partition(".")[2]

    @property
    def shown(self) -> str:
        """As pages print it, after IEC 61666: ``A1-J3:7``."""
        return f"{self.owner}:{self.contact}"


class EndRef(Text):
    """Where a cable ends: a connector, an item, a contact, or ``parked``."""

    __slots__ = ()

    @property
    def is_parked(self) -> bool:
        return self == "parked"


def is_connector(text: str) -> bool:
    """Whether the text is spelled as a connector, with a host before it."""
    return CONNECTOR.fullmatch(text) is not None


def host_of(connector: str) -> str:
    """The item or cable a connector belongs to."""
    return connector.rpartition("-")[0]
