"""What is recorded of one fastener as far as its torque goes, with the friction and the origins that follow
from it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from benchleaf.frozen import dataclass
from benchleaf.values.origin import CommonPractice, Computed, Given, Input, Origin, Published
from benchleaf.values.quantity import Quantity, show
from benchleaf.values.threads import Bearing, PropertyClass, Thread, find_class

LIMIT_LABEL = "limit, not a torque to tighten to"

# Friction nobody recorded: VDI 2230 friction classes B to C for plain or plated steel; stainless on
# stainless and unknown surfaces run drier. From memory.
_FRICTION_STEEL = (0.08, 0.24)
_FRICTION_UNKNOWN = (0.08, 0.35)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener:
    """What is recorded of one fastener, as far as its torque goes; empty and ``None`` mean not recorded.

    ``origins`` tells where each was recorded, by its key in the record (``thread``, ``class``, ``into``,
    ``engaged``, ``friction``, ``strips-at``, ``must-hold``, ``torque``, ``head``); a key it lacks shows as a
    gap.
    """

    thread: str = ""
    property_class: str = ""
    head: str = ""
    into: str = ""
    engaged: Quantity | None = None
    friction: float | None = None
    strips_at: Quantity | None = None
    must_hold: Quantity | None = None
    origins: Mapping[str, Origin] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One upper limit, ``torque`` in N·m; ``kind`` is ``screw``, ``thread`` or ``recorded``."""

    kind: str
    torque: float
    quantity: Quantity
    words: str
    arithmetic: tuple[str, ...]
    origin: Origin

    @property
    def label(self) -> str:
        """What the number is, to stand beside it wherever it is shown."""
        return LIMIT_LABEL if self.kind != "recorded" else "limit recorded for this place"

    def text(self, unit: str) -> str:
        """The number in a torque unit (printed spelling), rounded down: ``0.998 N·m``."""
        return show(self.quantity, unit).removeprefix("below ")


def friction_span(fastener: Fastener) -> tuple[float, float, str]:
    """Lowest and highest plausible friction and the words for it; one number twice where it is recorded."""
    if fastener.friction is not None:
        return fastener.friction, fastener.friction, f"friction {fastener.friction:g}"
    found = find_class(fastener.property_class)
    low, high = _FRICTION_STEEL if found is not None and not found.stainless else _FRICTION_UNKNOWN
    return low, high, f"friction not recorded: {low:g} to {high:g} is plausible"


def input_of(fastener: Fastener, key: str, name: str, value: str) -> Input:
    """A formula's input that is recorded under ``key``; without its origin the chain has a gap there."""
    return Input(name, value, fastener.origins.get(key))


def thread_input(fastener: Fastener, thread: Thread) -> Input:
    """Diameter and pitch, from the table by the recorded thread."""
    return Input("d, P", f"{thread.d:g} mm, {thread.pitch:g} mm", table_origin(fastener, "thread", "ISO 261, ISO 724"))


def class_origin(fastener: Fastener, strength: PropertyClass) -> Origin | None:
    """Where a stress of this class is from: the standard, by the recorded class."""
    return table_origin(fastener, "class", strength.source)


def table_origin(fastener: Fastener, key: str, source: str) -> Origin | None:
    """A figure out of a table that was entered with a recorded word: both count."""
    entry = fastener.origins.get(key)
    if entry is None:
        return None
    return Computed("table value", f"row of the recorded {key}", (Input(key, "", entry),), source)


def friction_input(fastener: Fastener, friction: float) -> Input:
    """The friction, as recorded or the assumed end of its span."""
    if fastener.friction is not None:
        return input_of(fastener, "friction", "µ", f"{friction:g}")
    text = "not recorded: end of the plausible span (VDI 2230 friction classes, from memory)"
    return Input("µ", f"{friction:g}", CommonPractice(f"{friction:g}", text))


def head_input(fastener: Fastener, under_head: Bearing, diameter: float) -> Input:
    """The friction diameter under the head, by the recorded form or as the end of the usual span."""
    value = f"{diameter:.4g} mm"
    by_form = table_origin(fastener, "head", under_head.source) if fastener.head else None
    return Input("DKm", value, by_form or Published(f"{value} ({under_head.words})", under_head.source))


def given(**values: str) -> dict[str, Origin]:
    """Origins of what was typed on the command line, by record key (``strips_at`` becomes ``strips-at``)."""
    return {key.replace("_", "-"): Given(value) for key, value in values.items()}
