"""ISO metric coarse threads M1.6 to M12, property classes and head forms: the data torques are computed from.

Sources: pitches ISO 261/262; diameters ISO 724; stress area and class stresses ISO 898-1:2013 (Table 3) and
ISO 3506-1; bearing diameter of hexagon heads ISO 4014 grade A; clearance holes ISO 273 medium. Rows marked
"from memory" were not looked up.
"""

from __future__ import annotations

import re
from math import pi

from benchleaf.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Thread:
    """An ISO metric coarse thread: nominal diameter ``d`` and pitch ``pitch`` in mm; the rest follows (ISO
    724).
    """

    name: str
    d: float
    pitch: float

    @property
    def d2(self) -> float:
        """Pitch diameter, mm: d − 3/8·√3·P."""
        return self.d - 0.649519 * self.pitch

    @property
    def d3(self) -> float:
        """Root diameter of the screw, mm: d − 17/24·√3·P."""
        return self.d - 1.226869 * self.pitch

    @property
    def minor(self) -> float:
        """Minor diameter of the internal thread (D1), mm: d − 5/8·√3·P."""
        return self.d - 1.082532 * self.pitch

    @property
    def stress_diameter(self) -> float:
        """Diameter of the stress area, mm: (d2 + d3)/2."""
        return self.d - 0.9382 * self.pitch

    @property
    def stress_area(self) -> float:
        """As in mm²: π/4·(d − 0.9382·P)² (ISO 898-1)."""
        return pi / 4 * self.stress_diameter**2


THREADS: dict[str, Thread] = {
    name: Thread(name, d, pitch)
    for name, d, pitch in (
        ("M1.6", 1.6, 0.35),
        ("M2", 2.0, 0.4),
        ("M2.5", 2.5, 0.45),
        ("M3", 3.0, 0.5),
        ("M3.5", 3.5, 0.6),
        ("M4", 4.0, 0.7),
        ("M5", 5.0, 0.8),
        ("M6", 6.0, 1.0),
        ("M8", 8.0, 1.25),
        ("M10", 10.0, 1.5),
        ("M12", 12.0, 1.75),
    )
}


@dataclass(frozen=True, slots=True)
class PropertyClass:
    """Least yield (or 0.2 % proof) stress, least tensile strength and, for steel, proof stress; all MPa."""

    name: str
    yield_min: float
    tensile_min: float
    proof: float | None
    source: str

    @property
    def stainless(self) -> bool:
        return self.name.startswith("A")


_STEEL = "ISO 898-1:2013 Table 3"
_STAINLESS = "ISO 3506-1"

CLASSES: dict[str, PropertyClass] = {
    row.name: row
    for row in (
        PropertyClass("4.6", 240, 400, 225, _STEEL),
        PropertyClass("4.8", 340, 420, 310, _STEEL),
        PropertyClass("5.6", 300, 500, 280, _STEEL),
        PropertyClass("5.8", 420, 520, 380, _STEEL),
        PropertyClass("6.8", 480, 600, 440, _STEEL),
        PropertyClass("8.8", 640, 800, 580, _STEEL),
        PropertyClass("9.8", 720, 900, 650, _STEEL),
        PropertyClass("10.9", 940, 1040, 830, _STEEL),
        PropertyClass("12.9", 1100, 1220, 970, _STEEL),
        PropertyClass("A2-50", 210, 500, None, _STAINLESS),
        PropertyClass("A2-70", 450, 700, None, _STAINLESS),
        PropertyClass("A2-80", 600, 800, None, _STAINLESS),
        PropertyClass("A4-50", 210, 500, None, _STAINLESS),
        PropertyClass("A4-70", 450, 700, None, _STAINLESS),
        PropertyClass("A4-80", 600, 800, None, _STAINLESS),
    )
}

_SIZES = ("M1.6", "M2", "M2.5", "M3", "M3.5", "M4", "M5", "M6", "M8", "M10", "M12")


def _by_size(*values: float | None) -> dict[str, float]:
    return {size: value for size, value in zip(_SIZES, values, strict=True) if value is not None}


# ISO 4014 grade A, dw min. M10 and M12 from memory.
HEX_BEARING_MIN = _by_size(2.27, 3.07, 4.07, 4.57, 5.07, 5.88, 6.88, 8.88, 11.63, 14.63, 16.63)
# ISO 4014, width across flats: no bearing face is wider. From memory.
HEX_ACROSS_FLATS = _by_size(3.2, 4.0, 5.0, 5.5, 6.0, 7.0, 8.0, 10.0, 13.0, 16.0, 18.0)
# ISO 4762, dw min. From memory.
CAP_BEARING_MIN = _by_size(2.72, 3.48, 4.18, 5.07, None, 6.53, 8.03, 9.38, 12.33, 15.33, 17.23)
# ISO 4762, dk max of plain heads. M1.6, M10, M12 from memory.
CAP_HEAD_MAX = _by_size(3.0, 3.8, 4.5, 5.5, 6.0, 7.0, 8.5, 10.0, 13.0, 16.0, 18.0)
# ISO 273, medium series. M10 and M12 from memory.
CLEARANCE_HOLE = _by_size(1.8, 2.4, 2.9, 3.4, 3.9, 4.5, 5.5, 6.6, 9.0, 11.0, 13.5)
# ISO 898-7, least breaking torque in N·m, pure torsion. From memory.
BREAKING_TORQUE: dict[str, dict[str, float]] = {
    "8.8": {"M3": 1.5, "M4": 3.6, "M5": 7.6, "M6": 13.0, "M8": 33.0, "M10": 66.0},
    "10.9": {"M3": 1.9, "M4": 4.4, "M5": 9.3, "M6": 16.0, "M8": 40.0, "M10": 81.0},
}

HEADS = ("hex", "cap", "pan", "button", "countersunk", "flange")
_HEAD_WORDS = {
    "hexagon": "hex",
    "hex head": "hex",
    "cap head": "cap",
    "socket": "cap",
    "socket cap": "cap",
    "cylinder": "cap",
    "pan head": "pan",
    "button head": "button",
    "csk": "countersunk",
    "flat": "countersunk",
    "flat head": "countersunk",
}


@dataclass(frozen=True, slots=True)
class Bearing:
    """Mean friction diameter under the head in mm: the least and the largest it can be, and where that is
    from.

    The least one gives the lower, more careful limit; the largest one gives the least preload for a torque.
    """

    least: float
    largest: float
    words: str
    source: str


def find_thread(text: str) -> Thread | None:
    """The coarse thread written ``M3``, ``m3``, ``M 3`` or ``M3x0.5``; none for a fine or unknown one."""
    match = re.fullmatch(
        r"[Mm] ?([0-9]{1,2}(?:[.,][0-9]{1,2})?)(?: ?[x×*] ?([0-9]{1,2}(?:[.,][0-9]{1,3})?))?", text.strip()
    )
    if match is None:
        return None
    thread = THREADS.get("M" + re.sub(r"\.0*$", "", match.group(1).replace(",", ".")))
    pitch = match.group(2)
    if thread is None or pitch is None:
        return thread
    # `M3x8` is a length in the trade's shorthand, `M3x0.5` a pitch: only the coarse pitch is this thread
    return thread if float(pitch.replace(",", ".")) == thread.pitch else None


def find_class(text: str) -> PropertyClass | None:
    """The property class written ``8.8``, ``A2-70``, ``a2 70``; none when it is not in the table."""
    return CLASSES.get(re.sub(r"^A([24])[ -]?", r"A\1-", text.strip().upper()))


def find_head(text: str) -> str:
    """The head form as named here (``HEADS``); empty when it is not known."""
    plain = text.strip().casefold()
    return plain if plain in HEADS else _HEAD_WORDS.get(plain, "")


def bearing(thread: Thread, head: str) -> Bearing:
    """Friction diameter under a head of form ``head``; any other form, or none, gives the widest span.

    A cone of 90° rubs like a flat face 1/cos 45° as wide, so a countersunk head of 2·d is the largest of all.
    """
    hole = CLEARANCE_HOLE[thread.name]
    memory = " (from memory)" if thread.name in ("M10", "M12") else ""
    hex_least = (HEX_BEARING_MIN[thread.name] + hole) / 2
    if head == "hex":
        return Bearing(
            hex_least,
            (HEX_ACROSS_FLATS[thread.name] + hole) / 2,
            "hexagon head, hole of the medium series",
            f"ISO 4014, ISO 273{memory}",
        )
    if head == "cap" and thread.name in CAP_BEARING_MIN:
        return Bearing(
            (CAP_BEARING_MIN[thread.name] + hole) / 2,
            (CAP_HEAD_MAX[thread.name] + hole) / 2,
            "socket cap head, hole of the medium series",
            "ISO 4762 (from memory), ISO 273",
        )
    largest = (2 * thread.d + hole) / 2 / 0.7071
    said = f"{head} head" if head else "head not recorded"
    return Bearing(
        hex_least,
        largest,
        f"{said}: least and largest of the usual forms",
        f"ISO 4014, ISO 273{memory}; common practice",
    )
