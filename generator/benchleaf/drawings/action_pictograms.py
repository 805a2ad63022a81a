"""Own pictograms for mandatory action signs (white on blue) and prohibition signs (black under the red bar).

The clear field is the disc round 50, 50: radius 38 on a mandatory sign, 35 inside a prohibition's ring.
"""

from __future__ import annotations

from benchleaf.drawings import svg
from benchleaf.drawings.pictogram import Pen, Pictogram
from benchleaf.drawings.svg import Markup


def must(pen: Pen) -> Markup:
    return svg.group(pen.solid("M43 22Q50 14 57 22L54 61Q50 64.5 46 61Z"), pen.dot(50, 76, 6.6))


def read_manual(pen: Pen) -> Markup:
    person = svg.group(pen.dot(50, 25, 10), pen.solid("M27 62Q28 38 50 38T73 62Z"))
    book = pen.solid("M17 54Q34 48 49 58V82Q34 72 17 77ZM83 54Q66 48 51 58V82Q66 72 83 77Z")
    edge = pen.cut("M17 54Q34 48 50 58.5Q66 48 83 54", 3)
    lines = pen.cut("M23 60Q34 57 43 62M23 67Q34 64 43 69M77 60Q66 57 57 62M77 67Q66 64 57 69", 1.8)
    return svg.group(person, book, edge, pen.cut("M50 58V82", 2), lines)


def eye_protection(pen: Pen) -> Markup:
    head = pen.solid("M26 46Q26 17 50 17T74 46Q74 84 50 84T26 46Z")
    glasses = pen.cut_solid("M28 42H47.5V51Q47 58 38 58T28 50ZM72 42H52.5V51Q53 58 62 58T72 50Z")
    return svg.group(head, glasses, pen.cut("M21 43H79", 4), pen.cut("M43 72Q50 75 57 72", 2.4))


def earth(pen: Pen) -> Markup:
    symbol = pen.stroke("M50 29V50M26 50H74M34 61H66M42 72H58", 5.4)
    return svg.group(symbol, pen.ring(50, 22, 7, 4.6), pen.dot(50, 82, 2.6))


def plug_out(pen: Pen) -> Markup:
    outlet = svg.group(
        svg.rect(15, 33, 22, 34, rx=4, stroke=pen.ink, stroke_width=4), pen.dot(28, 43, 3), pen.dot(28, 57, 3)
    )
    plug = svg.group(pen.solid("M58 35H66Q77 37 77 50T66 65H58Z"), pen.stroke("M58 43H47M58 57H47", 4.4))
    return svg.group(outlet, plug, pen.stroke("M77 50Q84 50 84 58", 4.4), pen.arrow(45, 75, 66, 75, 4))


def gloves(pen: Pen) -> Markup:
    left, right = pen.hand(34, 70, 1.25, -6, thumb=1), pen.hand(66, 70, 1.25, 6, thumb=-1)
    cuffs = pen.cut("M25 69.5L41 68M59 68L75 69.5", 2.6)
    return svg.group(left, right, cuffs)


def mask(pen: Pen) -> Markup:
    head = pen.solid("M26 46Q26 17 50 17T74 46Q74 84 50 84T26 46Z")
    eyes = svg.group(pen.cut_dot(40, 42, 3.2), pen.cut_dot(60, 42, 3.2))
    cover = pen.cut_solid("M33 54Q50 47 67 54V68Q62 80 50 81T33 68Z")
    pleats = pen.stroke("M38 60Q50 55 62 60M38 67Q50 62 62 67M41 74Q50 70 59 74", 2)
    return svg.group(head, eyes, cover, pleats, pen.cut("M33 55L25 48M67 55L75 48", 2.4))


def disconnect_first(pen: Pen) -> Markup:
    outlet = svg.rect(19, 24, 15, 24, rx=3, stroke=pen.ink, stroke_width=3.6)
    plug = svg.group(pen.solid("M55 25H60Q69 27 69 36T60 47H55Z"), pen.stroke("M55 31H46M55 41H46", 3.4))
    cord = pen.stroke("M69 36H79", 3.6)
    spanner = svg.group(
        pen.stroke("M34 78L64 62", 7.5), pen.dot(68, 60, 9), pen.dot(30, 80, 6.4), pen.cut_dot(30, 80, 2.4)
    )
    return svg.group(outlet, plug, cord, spanner, pen.cut("M69.5 59.5L78 55", 6.4))


def ventilate(pen: Pen) -> Markup:
    blade = "M38 50C34 42 35 33 42 31C47 36 45 44 38 50Z"
    turned = [svg.group(pen.solid(blade), transform=f"rotate({turn} 38 50)") for turn in (0, 120, 240)]
    fan = svg.group(*turned, pen.dot(38, 50, 3.4), pen.ring(38, 50, 22, 3))
    hatch = pen.stroke("M84 30V37M84 63V70", 4)
    return svg.group(fan, hatch, pen.arrow(64, 43, 81, 43, 4), pen.arrow(64, 57, 81, 57, 4))


def lock_parts(pen: Pen) -> Markup:
    ground = svg.rect(49, 55, 34, 26, rx=4, fill=pen.ground, stroke=pen.ground, stroke_width=5)
    shackle_edge = pen.cut("M58 57V50A8 8 0 0 1 74 50V57", 9)
    body = svg.group(pen.block(51, 57, 30, 22, 3), pen.stroke("M58 57V50A8 8 0 0 1 74 50V57", 4.6))
    return svg.group(
        pen.gear(41, 41, 25), ground, shackle_edge, body, pen.cut_dot(66, 66, 3), pen.cut("M66 67V73", 2.6)
    )


def nothing(pen: Pen) -> Markup:
    return Markup("")


def smoking(pen: Pen) -> Markup:
    paper = svg.group(pen.block(22, 55, 43, 9, 0), pen.block(67, 55, 4, 9, 0), pen.block(73, 55, 5, 9, 2))
    filter_ = pen.cut("M34 55.5V63.5", 1.6)
    return svg.group(paper, filter_, pen.stroke("M75 50c0 -7 -9 -6 -9 -12s7 -5 7 -10M68 50c0 -4 -6 -4 -6 -9", 2.8))


def open_flame(pen: Pen) -> Markup:
    match = pen.stroke("M32 75L50 57", 6)
    return svg.group(match, pen.flame(54, 60, 0.9))


def touching(pen: Pen) -> Markup:
    plate = pen.block(19, 32, 6, 34, 0)
    finger = pen.stroke("M28 44H52", 8)
    fist = pen.solid("M46 40H64Q72 41 73 50V60Q70 68 60 68H52Q46 66 46 58Z")
    folds = pen.cut("M47 51H59M47 58.5H58", 1.8)
    return _across_the_bar(plate, finger, fist, folds, pen.stroke("M70 55L84 57", 13))


def reaching_in(pen: Pen) -> Markup:
    opening = pen.stroke("M62 22V36M62 64V78", 7)
    arm = svg.group(pen.stroke("M18 50H46", 12), pen.hand(48, 50, 0.85, 90, thumb=-1))
    return _across_the_bar(opening, arm, pen.stroke("M62 36H78M62 64H78", 3.4))


def _across_the_bar(*parts: Markup) -> Markup:
    """Turned so that the prohibition's bar crosses the picture and hides as little of it as it can."""
    return svg.group(*parts, transform="rotate(-40 50 50)")


MANDATORY: dict[str, Pictogram] = {
    "M001": must,
    "M002": read_manual,
    "M004": eye_protection,
    "M005": earth,
    "M006": plug_out,
    "M009": gloves,
    "M016": mask,
    "M021": disconnect_first,
    "M056": ventilate,
    "M068": lock_parts,
}

PROHIBITIONS: dict[str, Pictogram] = {
    "P001": nothing,
    "P002": smoking,
    "P003": open_flame,
    "P010": touching,
    "P015": reaching_in,
}
