"""A screw as it lies on the bench, drawn to its true size on paper, so that it can be laid on its own
picture.

Thread diameter and length are exact; the head follows the usual proportions of its form unless its size is
given. What is not recorded is drawn dashed and the drawing says that it is not to size.
"""

from __future__ import annotations

from typing import Literal, TypeAlias

from benchleaf.drawings import svg
from benchleaf.drawings.drawing import NOT_RECORDED, Drawing, Table, cell
from benchleaf.drawings.drive import Drive, read_drive, recess
from benchleaf.drawings.lettering import width_of, wrap
from benchleaf.drawings.svg import Markup
from benchleaf.frozen import dataclass

Head: TypeAlias = Literal["hex", "cap", "pan", "button", "countersunk", "flange", ""]

# Head diameter and height as multiples of the thread diameter: usual proportions, common practice, no source.
_PROPORTIONS: dict[str, tuple[float, float]] = {
    "cap": (1.75, 1.0),
    "pan": (1.9, 0.78),
    "button": (1.9, 0.55),
    "countersunk": (1.9, 0.55),
    "hex": (2.0, 0.68),
    "flange": (2.3, 0.95),
    "": (1.8, 0.75),
}
MARGIN = 2.0  # mm round the drawing
LETTERS = 2.9  # mm, size of the lettering
THICK, THIN = 0.35, 0.18  # mm, line widths
DASH = "0.9 0.7"


@dataclass(frozen=True, slots=True, kw_only=True)
class Screw:
    """Lengths in mm; ``None`` and empty text are "not recorded". ``length`` is what a catalogue calls it:
    under the head, but the whole length of a countersunk screw. ``thread`` is the words (``M3``)."""

    name: str
    thread: str = ""
    diameter: float | None = None
    length: float | None = None
    head: Head = ""
    drive: str = ""
    head_diameter: float | None = None
    head_height: float | None = None

    @property
    def to_size(self) -> bool:
        return self.diameter is not None and self.length is not None


@dataclass(frozen=True, slots=True)
class _Sizes:
    """All lengths in mm the picture needs."""

    d: float
    length: float
    head: float
    height: float

    @classmethod
    def of(cls, screw: Screw) -> _Sizes:
        d = screw.diameter or 4.0
        wide, high = _PROPORTIONS[screw.head]
        return cls(
            d=d,
            length=screw.length or 12.0,
            head=screw.head_diameter or round(wide * d, 2),
            height=screw.head_height or round(high * d, 2),
        )


def screw_words(screw: Screw) -> str:
    """``M3 × 8, pan head, PH1``, saying what is not recorded."""
    size = screw.thread or f"thread {NOT_RECORDED}"
    size += f" × {svg.number(screw.length)}" if screw.length is not None else f", length {NOT_RECORDED}"
    head = f"{screw.head} head" if screw.head else f"head {NOT_RECORDED}"
    return f"{size}, {head}, {screw.drive or f'drive {NOT_RECORDED}'}"


def screw_view(screw: Screw, *, dimensioned: bool = True) -> Drawing:
    """Side view and face of the head, one unit one millimetre; with thread and length lettered unless told
    not to.

    The bare form (``dimensioned=False``) is the outline for a screw mat.
    """
    sizes, drive = _Sizes.of(screw), read_drive(screw.drive)
    sunk = screw.head == "countersunk"
    across = max(sizes.head, sizes.d)
    middle = MARGIN + across / 2
    under = MARGIN + (0.0 if sunk else sizes.height)
    face = under + sizes.length + 3.0 + across / 2
    parts = [
        svg.moved(under, middle, _shank(screw, sizes, sunk), _head(screw, sizes, sunk)),
        svg.moved(face, middle, _face(screw, sizes, drive)),
    ]
    width, height = face + across / 2 + MARGIN, across + 2 * MARGIN
    size_words = "Drawn to size: 1 mm is 1 mm on paper." if screw.to_size else "Not drawn to size."
    if dimensioned:
        parts.append(_dimension(screw, sizes, under, height))
        height += 3.0
        width = max(width, under + sizes.length + 1.2 + width_of(_length_words(screw), LETTERS) + MARGIN, 30.0)
        said = [] if screw.to_size else [size_words.lower().rstrip(".")]
        for line in (*said, *wrap(screw_words(screw), max(width - 2 * MARGIN, 44.0), LETTERS)):
            height += LETTERS * 1.3
            parts.append(svg.text(MARGIN, height, line, size=LETTERS, font_weight="bold" if line in said else None))
            width = max(width, width_of(line, LETTERS) + 2 * MARGIN)
        height += 2.0
    title = f"{screw.name}: {screw_words(screw)}"
    words = f"Screw seen from the side and on its head. {screw_words(screw)}. {size_words}"
    picture = svg.document(width, height, title, words, *parts, kind="screw", unit="mm")
    return Drawing(svg=picture, title=title, description=words, table=_table(screw, title, size_words))


def _table(screw: Screw, title: str, size_words: str) -> Table:
    length = f"{svg.number(screw.length)} mm" if screw.length is not None else NOT_RECORDED
    rows = (
        ("Thread", cell(screw.thread)),
        ("Length", length),
        ("Head", cell(screw.head)),
        ("Drive", read_drive(screw.drive).words if screw.drive else NOT_RECORDED),
        ("Size", size_words),
    )
    return Table(caption=title, headers=("Fact", "Value"), rows=rows)


def _shank(screw: Screw, sizes: _Sizes, sunk: bool) -> Markup:
    """Thread from the bearing face to the tip: outline thick, root thin (ISO 6410-1), dashed when not
    recorded.
    """
    n = svg.number
    r, root = sizes.d / 2, sizes.d * 0.41
    start = sizes.height if sunk else 0.0
    end = sizes.length
    bevel = min(r - root, end - start)
    dash = None if screw.to_size else DASH
    outline = [(start, -r), (end - bevel, -r), (end, -root), (end, root), (end - bevel, r), (start, r)]
    roots = svg.path(
        f"M{n(start)} {n(-root)}H{n(end)}M{n(start)} {n(root)}H{n(end)}",
        stroke_width=THIN,
        stroke_dasharray=dash,
    )
    return svg.group(svg.polygon(outline, stroke_width=THICK, stroke_dasharray=dash, class_="shank"), roots)


def _head(screw: Screw, sizes: _Sizes, sunk: bool) -> Markup:
    r, k, d = sizes.head / 2, sizes.height, sizes.d / 2
    n = svg.number
    shapes = {
        "cap": f"M0 {n(-r)}H{n(-k + 0.3)}L{n(-k)} {n(-r + 0.3)}V{n(r - 0.3)}L{n(-k + 0.3)} {n(r)}H0Z",
        "pan": f"M0 {n(-r)}H{n(-k * 0.45)}Q{n(-k)} {n(-r)} {n(-k)} {n(-r * 0.45)}V{n(r * 0.45)}"
        f"Q{n(-k)} {n(r)} {n(-k * 0.45)} {n(r)}H0Z",
        "button": f"M0 {n(-r)}Q{n(-k)} {n(-r * 0.8)} {n(-k)} {n(-r * 0.35)}V{n(r * 0.35)}"
        f"Q{n(-k)} {n(r * 0.8)} 0 {n(r)}Z",
        "countersunk": f"M0 {n(-r)}V{n(r)}L{n(k)} {n(d)}V{n(-d)}Z",
        "hex": f"M0 {n(-r)}H{n(-k)}V{n(r)}H0ZM0 {n(-r / 2)}H{n(-k)}M0 {n(r / 2)}H{n(-k)}",
        "flange": f"M0 {n(-r)}H{n(-k * 0.25)}V{n(-r * 0.78)}H{n(-k)}V{n(r * 0.78)}H{n(-k * 0.25)}V{n(r)}H0Z",
        "": f"M0 {n(-r)}H{n(-k)}V{n(r)}H0Z",
    }
    dash = None if screw.head and screw.to_size else DASH
    return svg.path(shapes[screw.head], stroke_width=THICK, stroke_dasharray=dash, class_="head")


def _face(screw: Screw, sizes: _Sizes, drive: Drive) -> Markup:
    r = sizes.head / 2
    dash = None if screw.head and screw.to_size else DASH
    if screw.head == "hex":
        from_flats = [
            (r * x, r * y) for x, y in ((1, 0), (0.5, 0.866), (-0.5, 0.866), (-1, 0), (-0.5, -0.866), (0.5, -0.866))
        ]
        outline = svg.polygon(from_flats, stroke_width=THICK, stroke_dasharray=dash)
    else:
        outline = svg.circle(0, 0, r, stroke_width=THICK, stroke_dasharray=dash)
    return svg.group(outline, recess(drive, r, to_size=True))


def _dimension(screw: Screw, sizes: _Sizes, under: float, y: float) -> Markup:
    """A dimension line for the length, lettered in its gap or to its right."""
    end = under + sizes.length
    line = svg.group(
        svg.line(under, y, end, y, stroke_width=THIN),
        svg.line(under, y - 1, under, y + 1, stroke_width=THIN),
        svg.line(end, y - 1, end, y + 1, stroke_width=THIN),
    )
    return svg.group(line, svg.text(end + 1.2, y + LETTERS * 0.36, _length_words(screw), size=LETTERS))


def _length_words(screw: Screw) -> str:
    return f"{svg.number(screw.length)} mm" if screw.length is not None else "?"
