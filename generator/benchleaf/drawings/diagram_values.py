"""An interconnection diagram as values: boxes, cables between their ends, bypassed signals; and the
finished diagram.
"""

from __future__ import annotations

from benchleaf.drawings.drawing import Table
from benchleaf.frozen import dataclass

PARKED = "parked"
ADDED, REMOVED, REROUTED = "added", "removed", "re-routed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A board or part: reference designation, name, its connectors in order, and whether a conversion added
    it or took it out.
    """

    id: str
    name: str = ""
    connectors: tuple[str, ...] = ()
    added: bool = False
    removed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """A cable with two or more ends: connectors (``A1-J3``), boxes or their contacts (``M1``, ``F1:1``),
    ``parked``.

    ``label``: what it carries, in words. ``kind``: ``round``, ``flat``, ``harness``, or empty for not
    recorded. ``change``: empty, ``added``, ``removed`` or ``re-routed`` by a conversion. ``opened``: ends
    that the procedure opens. ``nets``: ids of the nets in it, for following one on the page. ``mark``: number and
    mark of its label, as ``3 B triangle``.
    """

    cable: str
    ends: tuple[str, ...]
    label: str = ""
    kind: str = ""
    change: str = ""
    opened: tuple[str, ...] = ()
    nets: tuple[str, ...] = ()
    mark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Net:
    """Contacts joined by copper, for following: its id in :attr:`Link.nets`, its name, the cables it runs through and
    its contacts as pages print them."""

    id: str
    name: str
    cables: tuple[str, ...]
    contacts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bypass:
    """A signal that no longer comes from its own source: between which ends it ran, what stands in for it,
    and what that asserts."""

    signal: str
    start: str
    end: str
    by: str = ""
    asserts: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One group of the drawn picture: its id in the DOT, a class, the words of its tooltip, data
    attributes.
    """

    id: str
    kind: str
    words: str
    data: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagram:
    """All that is needed to draw the diagram and to say it in words."""

    dot: str
    title: str
    description: str
    table: Table
    parts: tuple[Part, ...]
    legend: tuple[str, ...]
    nets: tuple[Net, ...] = ()
