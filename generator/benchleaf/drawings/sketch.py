"""A small kit for honest line drawings that stand in for photographs: boards, cables, hoses, screws,
arrows, labels.

Pictures are 960 by 640 with paper of their own, so that they look the same in a light and a dark page and
in print. Every picture is marked as a drawing.
"""

from __future__ import annotations

from collections.abc import Iterable

from benchleaf.drawings import svg
from benchleaf.drawings.drive import read_drive, recess
from benchleaf.drawings.lettering import width_of
from benchleaf.drawings.outline import Point, rounded
from benchleaf.drawings.svg import Markup

WIDTH, HEIGHT = 960.0, 640.0
INK, PAPER = "#1d2428", "#ffffff"
PALE, GREY, DEEP, METAL, BOARD, WARM = "#f0f2f3", "#d8dde0", "#a9b2b8", "#e4e8ea", "#d3e2d8", "#f4d9a6"
HONEST = "Drawing, not a photograph"
LETTERS = 22.0


def picture(title: str, *parts: str) -> str:
    """The whole picture; ``title`` says what it shows."""
    note_wide = width_of(HONEST, 16) + 20
    note = svg.group(
        svg.rect(WIDTH - note_wide - 10, HEIGHT - 36, note_wide, 26, rx=4, fill=PAPER, stroke_width=1),
        svg.text(WIDTH - note_wide / 2 - 10, HEIGHT - 17, HONEST, size=16, anchor="middle"),
    )
    ground = svg.rect(0, 0, WIDTH, HEIGHT, fill=PAPER, stroke="none")
    art = svg.group(ground, *parts, note, color=INK, fill=INK)
    return svg.document(WIDTH, HEIGHT, title, f"{HONEST}: {title}.", art, kind="picture")


def shape(points: Iterable[Point], fill: str = PALE, *, round_: float = 6, width: float = 2.4) -> Markup:
    """A filled outline with rounded corners."""
    return svg.path(rounded(list(points), round_), fill=fill, stroke_width=width)


def panel(x: float, y: float, width: float, height: float, fill: str = PALE, *, round_: float = 6) -> Markup:
    """A flat sheet seen square on."""
    return svg.rect(x, y, width, height, rx=round_, fill=fill, stroke_width=2.4)


def block(x: float, y: float, width: float, height: float, depth: float, fill: str = PALE) -> Markup:
    """A solid box seen a little from above and from the right; ``x``, ``y`` is the front's upper left
    corner.
    """
    dx, dy = depth * 0.55, -depth * 0.4
    top = [(x, y), (x + dx, y + dy), (x + width + dx, y + dy), (x + width, y)]
    side = [(x + width, y), (x + width + dx, y + dy), (x + width + dx, y + height + dy), (x + width, y + height)]
    return svg.group(
        svg.polygon(top, fill=PAPER, stroke_width=2.4),
        svg.polygon(side, fill=GREY, stroke_width=2.4),
        svg.rect(x, y, width, height, fill=fill, stroke_width=2.4),
    )


def screw(x: float, y: float, radius: float = 15, drive: str = "PH2") -> Markup:
    """A screw's head seen square on."""
    head = svg.circle(0, 0, radius, fill=METAL, stroke_width=2.2)
    return svg.moved(x, y, head, recess(read_drive(drive), radius))


def cable(points: str, width: float = 10, fill: str = GREY) -> Markup:
    """A round cable along path data; two strokes make its outline."""
    return svg.group(
        svg.path(points, stroke=INK, stroke_width=width + 4, stroke_linecap="round", stroke_linejoin="round"),
        svg.path(points, stroke=fill, stroke_width=width, stroke_linecap="round", stroke_linejoin="round"),
    )


def hose(points: str, width: float = 18) -> Markup:
    """A clear hose with its bore."""
    return svg.group(cable(points, width, PAPER), svg.path(points, stroke=DEEP, stroke_width=width * 0.4))


def ribbon(points: str, width: float = 36) -> Markup:
    """A flat cable along path data: a broad band with a line down each side and one in the middle."""
    return svg.group(
        svg.path(points, stroke=INK, stroke_width=width + 4, stroke_linejoin="round"),
        svg.path(points, stroke=PALE, stroke_width=width, stroke_linejoin="round"),
        svg.path(points, stroke=DEEP, stroke_width=width * 0.5, stroke_linejoin="round"),
        svg.path(points, stroke=PALE, stroke_width=width * 0.5 - 3, stroke_linejoin="round"),
    )


def connector(x: float, y: float, contacts: int, *, rows: int = 1, pitch: float = 13, flat: bool = False) -> Markup:
    """A receptacle on a board seen from the mating side, upper left corner at ``x``, ``y``."""
    columns = -(-contacts // rows)
    width, height = columns * pitch + 12, (20.0 if flat else 34.0) + (rows - 1) * pitch
    pins = [
        svg.rect(
            x + 6 + (n % columns + 0.5) * pitch - 2.5,
            y + height / 2 - 4 + (n // columns - (rows - 1) / 2) * pitch,
            5,
            8,
            fill=INK,
            stroke="none",
        )
        for n in range(contacts)
    ]
    return svg.group(svg.rect(x, y, width, height, rx=3, fill=PAPER, stroke_width=2.4), *pins)


def connector_width(contacts: int, *, rows: int = 1, pitch: float = 13) -> float:
    """How wide :func:`connector` draws it."""
    return -(-contacts // rows) * pitch + 12


def tie(x: float, y: float, width: float = 40) -> Markup:
    """A cable tie round something that runs up and down, with its lock and tail."""
    return svg.group(
        svg.rect(x - width / 2, y - 6, width, 12, rx=3, fill=INK, stroke="none"),
        svg.rect(x + width / 2 - 4, y - 10, 16, 20, rx=3, fill=PAPER, stroke_width=2.4),
        svg.path(f"M{svg.number(x + width / 2 + 12)} {svg.number(y)}l26 -14", stroke_width=5),
    )


def clamp(x: float, y: float, *, turned: float = 0) -> Markup:
    """A hose clamp closed across a hose that runs up and down before it is ``turned``."""
    bars = svg.group(
        svg.rect(-36, -12, 72, 9, rx=4, fill=WARM, stroke_width=2.2),
        svg.rect(-36, 3, 72, 9, rx=4, fill=WARM, stroke_width=2.2),
        svg.rect(26, -18, 12, 36, rx=3, fill=METAL, stroke_width=2.2),
        svg.rect(-38, -18, 12, 36, rx=3, fill=METAL, stroke_width=2.2),
    )
    return svg.group(bars, transform=f"translate({svg.number(x)} {svg.number(y)}) rotate({svg.number(turned)})")


def sheet(x: float, y: float, width: float, drop: float) -> Markup:
    """A cloth laid over something: flat on top, hanging in folds at both ends."""
    n = svg.number
    fold = width / 8
    edge = "".join(f"q{n(-fold / 2)} {n(12 if i % 2 else -12)} {n(-fold)} 0" for i in range(8))
    outline = f"M{n(x)} {n(y)}H{n(x + width)}l12 {n(drop)}l-12 0{edge}l-12 0Z"
    folds = f"M{n(x + 14)} {n(y + 6)}v{n(drop * 0.5)}M{n(x + width - 14)} {n(y + 6)}v{n(drop * 0.5)}"
    return svg.group(
        svg.path(outline, fill=WARM, stroke_width=2.2, stroke_linejoin="round"), svg.path(folds, stroke_width=1.2)
    )


def arrow(x1: float, y1: float, x2: float, y2: float, width: float = 8) -> Markup:
    """A broad arrow: a movement."""
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    bx, by = x2 - ux * width * 2.6, y2 - uy * width * 2.6
    half = width * 1.7
    head = [(x2, y2), (bx - uy * half, by + ux * half), (bx + uy * half, by - ux * half)]
    shaft = svg.line(x1, y1, bx, by, stroke_width=width)
    return svg.group(shaft, svg.polygon(head, fill=INK, stroke="none"))


def towards_you(x: float, y: float, radius: float = 24) -> Markup:
    """An arrow seen from its tip: movement out of the picture."""
    return svg.group(
        svg.circle(x, y, radius, fill=PAPER, stroke_width=5), svg.circle(x, y, radius * 0.3, fill=INK, stroke="none")
    )


def number(x: float, y: float, n: int) -> Markup:
    """A number in a ring, for an order."""
    return svg.group(
        svg.circle(x, y, 20, fill=PAPER, stroke_width=2.4),
        svg.text(x, y + 8.5, str(n), size=24, anchor="middle", font_weight="bold"),
    )


def label(x: float, y: float, words: str, *, anchor: str = "start", size: float = LETTERS) -> Markup:
    """Words with a rim of paper, so that no line runs through them."""
    return svg.text(
        x,
        y,
        words,
        size=size,
        anchor=anchor,
        stroke=PAPER,
        stroke_width=7,
        stroke_linejoin="round",
        paint_order="stroke",
    )


def leader(x: float, y: float, to_x: float, to_y: float, words: str, *, anchor: str = "start") -> Markup:
    """Words at ``x``, ``y`` with a line that ends in a dot on what they name.

    The line leaves the words at the end that is nearer, or from above or below when they stand over what they name.
    """
    wide = width_of(words, LETTERS) * 0.9
    left = {"start": x, "middle": x - wide / 2, "end": x - wide}[anchor]
    if to_x > left + wide + 10:
        start = (left + wide + 4, y - LETTERS * 0.34)
    elif to_x < left - 10:
        start = (left - 8, y - LETTERS * 0.34)
    else:
        start = (to_x * 0.3 + (left + wide / 2) * 0.7, y + 10 if to_y > y else y - LETTERS)
    dot = svg.circle(to_x, to_y, 5, fill=INK, stroke="none")
    return svg.group(svg.line(*start, to_x, to_y, stroke_width=1.6), dot, label(x, y, words, anchor=anchor))


def dots(start: Point, step: Point, count: int, radius: float = 4) -> Markup:
    """A row of small solid dots."""
    return svg.group(
        *(
            svg.circle(start[0] + step[0] * n, start[1] + step[1] * n, radius, fill=INK, stroke="none")
            for n in range(count)
        )
    )


def lines(start: Point, along: Point, step: Point, count: int, width: float = 2) -> Markup:
    """A row of equal strokes: slots, ribs, hatching."""
    d = "".join(
        f"M{svg.number(start[0] + step[0] * n)} {svg.number(start[1] + step[1] * n)}"
        f"l{svg.number(along[0])} {svg.number(along[1])}"
        for n in range(count)
    )
    return svg.path(d, stroke_width=width, stroke_linecap="round")
