"""Own pictograms for warning signs: black, inside the triangle (its clear field is about 50, 64, radius
22).
"""

from __future__ import annotations

from benchleaf.drawings import svg
from benchleaf.drawings.pictogram import Pen, Pictogram
from benchleaf.drawings.svg import Markup


def general(pen: Pen) -> Markup:
    return svg.group(pen.solid("M45.5 37Q50 31 54.5 37L52.6 65Q50 67.5 47.4 65Z"), pen.dot(50, 76, 4.6))


def laser(pen: Pen) -> Markup:
    rays = "M34 60V56M34 80V84M27 63L24.5 60.5M27 77L24.5 79.5M41 63L43.5 60.5M41 77L43.5 79.5M24 70H21"
    return svg.group(pen.dot(34, 70, 5), pen.stroke(rays, 2.6), pen.stroke("M40 70H79", 3.4))


def magnet(pen: Pen) -> Markup:
    bow = svg.path("M39 60V69A11 11 0 0 0 61 69V60", stroke=pen.ink, stroke_width=8)
    poles = svg.group(pen.block(35, 51, 8, 6, 0), pen.block(57, 51, 8, 6, 0))
    field = pen.stroke("M44 45Q50 37 56 45M46.5 51Q50 46 53.5 51", 2.2)
    return svg.group(bow, poles, field, pen.stroke("M29 62Q24 70 29 78M71 62Q76 70 71 78", 2.2))


def electricity(pen: Pen) -> Markup:
    return pen.solid("M55 31L38 60H48L43 74L39.5 72.5L42 86L52.5 77L48.8 75.8L60 53H50.5Z")


def hot_surface(pen: Pen) -> Markup:
    waves = "".join(f"M{x} {y}c-5 5 5 8 0 13s5 8 0 12" for x, y in ((38, 50), (50, 45), (62, 50)))
    return svg.group(pen.stroke(waves, 3.6), pen.stroke("M26 81H74", 4.4))


def automatic_start(pen: Pen) -> Markup:
    turn = pen.stroke("M37.4 76.5A17 17 0 1 1 62.6 76.5", 3.2)
    return svg.group(pen.gear(50, 65, 11), turn, pen.solid("M57 75.5L67.5 70.5L66 82Z"))


def crushing(pen: Pen) -> Markup:
    person = svg.group(pen.dot(50, 50, 5.2), pen.stroke("M50 61V70", 10), pen.stroke("M46.5 70V82M53.5 70V82", 4.6))
    walls = svg.group(pen.block(35, 57, 4.5, 27, 0), pen.block(60.5, 57, 4.5, 27, 0))
    return svg.group(person, walls, pen.arrow(21, 76, 33, 76, 3.4), pen.arrow(79, 76, 67, 76, 3.4))


def flammable(pen: Pen) -> Markup:
    return svg.group(pen.flame(50, 76, 0.95), pen.stroke("M32 82H68", 4))


def sharp_element(pen: Pen) -> Markup:
    blade = pen.solid("M52 74L57 41L68 52L70 62Z")
    drop = pen.solid("M49 76q5 7 0 9.4q-5 -2.4 0 -9.4z")
    return svg.group(pen.hand(26, 76, 0.72, 90, thumb=-1), pen.cut("M50.5 75L56 39", 3), blade, drop)


def corrosive(pen: Pen) -> Markup:
    tube = svg.group(pen.stroke("M41 47L56 56", 9), pen.cut("M43.5 46.5L55 53", 2.4))
    drops = svg.group(pen.dot(59, 64, 2.2), pen.dot(60, 71, 2.6))
    plate = svg.group(pen.block(34, 78, 42, 6, 0), pen.cut_dot(56, 77, 3.6), pen.cut_dot(61, 78, 4))
    fumes = pen.stroke("M49 75q-3 -3 0 -6M69 75q3 -3 0 -6", 1.8)
    return svg.group(tube, drops, plate, fumes, pen.solid("M24 84q2 -8 6 -8t6 2v3h-4v3z"))


def crushing_of_hands(pen: Pen) -> Markup:
    press = svg.group(pen.arrow(50, 36, 50, 51, 4), pen.block(36, 53, 29, 8, 0))
    hand = pen.solid("M22 69Q32 64 40 66L60 68.5Q65 69.5 65 72T60 75.5L38 76.5H22Z")
    return svg.group(press, hand, pen.cut("M42 71.5H60", 1.4), pen.stroke("M30 82H76", 4.4))


def rollers(pen: Pen) -> Markup:
    wheels = svg.group(pen.ring(38.5, 61, 9.5, 3.2), pen.ring(61.5, 61, 9.5, 3.2))
    turns = pen.stroke("M33.5 60A5 5 0 0 1 42 58M66.5 60A5 5 0 0 0 58 58", 2)
    tips = pen.solid("M44.6 63L39.4 59.6L44.6 56.6ZM55.4 63L60.6 59.6L55.4 56.6Z")
    return svg.group(wheels, turns, tips, pen.hand(50, 86, 0.5))


def asphyxiating(pen: Pen) -> Markup:
    cloud = pen.stroke("M40 66a7 7 0 0 1 0 -13a10 10 0 0 1 19 -2a7.6 7.6 0 0 1 2 15z", 3)
    person = svg.group(pen.dot(27.5, 80, 4.6), pen.stroke("M38 80H56", 8), pen.stroke("M56 82H75M56 78L70 76", 4))
    return svg.group(cloud, person, pen.stroke("M40 80L34 72", 3.4))


def arc_flash(pen: Pen) -> Markup:
    burst = pen.solid(
        "M50 44L53.5 55L61 48L59.5 58L70 56L63 64L74 69L62.5 71L68 81L57 75L54 86L50 76L46 86L43 75L32 81L37.5 71"
        "L26 69L37 64L30 56L40.5 58L39 48L46.5 55Z"
    )
    return svg.group(burst, pen.cut_solid("M53 54L43.5 68H49.5L46.5 79L57 64.5H50.8Z"))


def hot_content(pen: Pen) -> Markup:
    pot = svg.group(pen.solid("M33 60H67L64 84H36Z"), pen.stroke("M30 60H70", 3.6))
    heat = pen.cut("M42 66c-3 3 3 5 0 8s2 4 0 6M50 66c-3 3 3 5 0 8s2 4 0 6M58 66c-3 3 3 5 0 8s2 4 0 6", 2.4)
    return svg.group(pot, heat, pen.stroke("M45 54c-3 -3 3 -6 0 -9M55 54c-3 -3 3 -6 0 -9", 2.8))


def hot_steam(pen: Pen) -> Markup:
    nozzle = svg.group(pen.block(20, 66, 14, 14, 0), pen.solid("M34 69L41 71V75L34 77Z"))
    jet = pen.stroke("M47 73c3 -5 6 4 9 0s6 4 9 0s6 4 9 0", 3)
    fan = [svg.group(jet, transform=f"rotate({turn} 36 73)") for turn in (-24, 0, 13)]
    return svg.group(nozzle, *fan)


WARNINGS: dict[str, Pictogram] = {
    "W001": general,
    "W004": laser,
    "W006": magnet,
    "W012": electricity,
    "W017": hot_surface,
    "W018": automatic_start,
    "W019": crushing,
    "W021": flammable,
    "W022": sharp_element,
    "W023": corrosive,
    "W024": crushing_of_hands,
    "W025": rollers,
    "W041": asphyxiating,
    "W042": arc_flash,
    "W079": hot_content,
    "W080": hot_steam,
}
