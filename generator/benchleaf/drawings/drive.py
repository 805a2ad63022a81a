"""The face of a screw head: which bit fits, drawn so that look-alikes (cross and cross with ribs) can be
told apart.
"""

from __future__ import annotations

import math
import re

from benchleaf.drawings import svg
from benchleaf.drawings.drawing import Drawing, Table, cell
from benchleaf.drawings.lettering import shorten, width_of
from benchleaf.drawings.svg import Markup
from benchleaf.frozen import dataclass

WORDS = {
    "PH": "cross recess",
    "PZ": "cross recess with ribs",
    "hex": "hexagon socket",
    "TX": "six-lobe socket",
    "slot": "slot",
    "SQ": "square socket",
    "outer hex": "outer hexagon",
    "none": "no drive",
}

# Recess sizes in mm, used where a head is drawn to size. Cross recess: wing span about that of pan heads
# (ISO 4757, from memory). Six-lobe: outer diameter A (ISO 10664, from memory). Hexagon and square: the
# number in the name.
_CROSS = {"00": 1.2, "0": 1.8, "1": 3.0, "2": 4.6, "3": 6.8, "4": 9.0}
_LOBES = {
    "5": 1.5, "6": 1.75, "7": 2.1, "8": 2.4, "9": 2.6, "10": 2.8, "15": 3.35, "20": 3.95, "25": 4.5, "27": 5.1,
    "30": 5.6, "40": 6.75, "45": 7.9, "50": 8.95,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Drive:
    """``form`` is a key of ``WORDS`` or empty when not known; ``size`` as written, ``2.5`` or ``10``;
    ``written``.
    """

    form: str
    size: str
    written: str

    @property
    def words(self) -> str:
        """``hexagon socket, hex 2.5``; ``drive not recorded``."""
        if not self.written:
            return "drive not recorded"
        return f"{WORDS[self.form]}, {self.written}" if self.form not in ("", "none") else self.written


_FORMS = (
    (re.compile(r"(?:PH|ph)\s*(\d+)?"), "PH"),
    (re.compile(r"(?:PZ|pz)\s*(\d+)?"), "PZ"),
    (re.compile(r"(?:TXH?|tx|T)\s*(\d+)"), "TX"),
    (re.compile(r"(?:outer hex|hex head|spanner)\s*(\d+(?:\.\d+)?)?"), "outer hex"),
    (re.compile(r"hex\s*(\d+(?:\.\d+)?)?"), "hex"),
    (re.compile(r"(?:SQ|square)\s*(\d+(?:\.\d+)?)?"), "SQ"),
    (re.compile(r"(?:slot|SL)\s*(\d+(?:\.\d+)?)?"), "slot"),
    (re.compile(r"(none)"), "none"),
)


def read_drive(written: str) -> Drive:
    """The drive written ``PH1``, ``hex 2.5``, ``TX10``, ``slot``; an unknown one keeps its words and has no
    form.
    """
    plain = written.strip()
    for pattern, form in _FORMS:
        match = pattern.fullmatch(plain)
        if match:
            return Drive(form, "" if form == "none" else match.group(1) or "", plain)
    return Drive("", "", plain)


def recess(drive: Drive, reach: float, *, to_size: bool = False) -> Markup:
    """The recess with its middle at 0, 0 inside a head of radius ``reach``; its true size when
    ``to_size``.
    """
    size = _true_radius(drive) if to_size else None
    r = min(size if size is not None else reach * 0.58, reach * 0.92)
    width = r * 0.14
    if drive.form in ("PH", "PZ"):
        parts = [_cross(r)]
        if drive.form == "PZ":
            a = r * 0.66
            parts.append(svg.path(f"M{_xy(-a, -a)}L{_xy(a, a)}M{_xy(-a, a)}L{_xy(a, -a)}", stroke_width=width))
        return svg.group(*parts)
    if drive.form == "hex":
        return svg.polygon(_corners(6, r / math.cos(math.pi / 6)), fill=svg.INK, stroke="none")
    if drive.form == "SQ":
        return svg.polygon(_corners(4, r * math.sqrt(2), turned=45), fill=svg.INK, stroke="none")
    if drive.form == "TX":
        return svg.path(_lobes(r), fill=svg.INK, stroke="none")
    if drive.form == "slot":
        return svg.line(-reach, 0, reach, 0, stroke_width=reach * 0.28)
    if drive.form in ("outer hex", "none"):
        return Markup("")
    return svg.text(0, reach * 0.4, "?", size=reach * 1.1, anchor="middle")


def drive_face(written: str) -> Drawing:
    """A small drawing of a head's face with the drive's name under it."""
    drive = read_drive(written)
    title = f"Drive: {drive.words}"
    dashed = None if drive.form else "3 3"
    if drive.form == "outer hex":
        head = svg.polygon(_corners(6, 17), stroke_width=2)
    else:
        head = svg.circle(0, 0, 16, stroke_width=2, stroke_dasharray=dashed)
    width = min(max(48.0, width_of(drive.written, 13) * 1.08 + 4), 150.0)
    label = shorten(drive.written or "?", (width - 2) / 1.05, 13)
    name = svg.text(width / 2, 52, label, size=13, anchor="middle", font_weight="bold")
    art = svg.moved(width / 2, 19, head, recess(drive, 16))
    table = Table(caption=title, headers=("Drive", "Form"), rows=((cell(drive.written), drive.words),))
    words = f"Face of a screw head: {drive.words}."
    picture = svg.document(width, 58, title, words, art, name, kind="drive")
    return Drawing(svg=picture, title=title, description=words, table=table)


def _true_radius(drive: Drive) -> float | None:
    if drive.form in ("PH", "PZ"):
        span = _CROSS.get(drive.size)
    elif drive.form == "TX":
        span = _LOBES.get(drive.size)
    else:
        span = float(drive.size) if drive.size and drive.form in ("hex", "SQ", "outer hex") else None
    return span / 2 if span is not None else None


def _cross(r: float) -> Markup:
    w = r * 0.3
    points = [
        (-w, -r),
        (w, -r),
        (w, -w),
        (r, -w),
        (r, w),
        (w, w),
        (w, r),
        (-w, r),
        (-w, w),
        (-r, w),
        (-r, -w),
        (-w, -w),
    ]
    return svg.polygon(points, fill=svg.INK, stroke="none")


def _corners(count: int, radius: float, turned: float = 0.0) -> list[tuple[float, float]]:
    angles = [math.radians(turned + n * 360 / count) for n in range(count)]
    return [(radius * math.sin(a), -radius * math.cos(a)) for a in angles]


def _lobes(r: float) -> str:
    """Six round lobes and six hollows between them."""
    tips, hollows = _corners(6, r), _corners(6, r * 0.7, turned=30)
    d = f"M{_xy(*hollows[-1])}"
    for tip, hollow in zip(tips, hollows, strict=True):
        d += f"Q{_xy(tip[0] * 1.28, tip[1] * 1.28)} {_xy(*hollow)}"
    return d + "Z"


def _xy(x: float, y: float) -> str:
    return f"{svg.number(x)} {svg.number(y)}"
