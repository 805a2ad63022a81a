"""Draws one face: body, latch, contacts, colours and the words round it. Ink only, apart from the wire
colours.

Everything a colour says is also said by a letter code, a shape or a word, so that a black and white print
loses nothing. What was not recorded is drawn dashed and said.
"""

from __future__ import annotations

from benchleaf.drawings import svg
from benchleaf.drawings.colours import Reading, read_colours
from benchleaf.drawings.face_layout import CLOSE_PITCH, GLYPH, MANY, PITCH, Layout, Place, lay_out
from benchleaf.drawings.face_values import NO_LATCH, Contact, Face
from benchleaf.drawings.face_words import footer, heading, side_words
from benchleaf.drawings.lettering import shorten, width_of, wrap
from benchleaf.drawings.marks import SHAPES, mark_glyph
from benchleaf.drawings.outline import Point, rounded
from benchleaf.drawings.svg import Markup
from benchleaf.frozen import dataclass

LEAST_WIDTH = 300.0
LABEL_SIZE = 12.0
CLOSE_LABEL_SIZE = 15.0  # words that stand upright over close columns: there is room, and a phone shrinks the face
UPRIGHT_ROOM = 120.0  # the longest label written upright, in units
LATCH_HEIGHT = 20.0
PAD = 12.0  # between the body's outline and its contacts
DASHED = "5 4"


@dataclass(frozen=True, slots=True, kw_only=True)
class Painted:
    """A drawn face and the room it takes, from 0, 0; ``head`` is where its heading ends."""

    markup: Markup
    width: float
    height: float
    head: float


def paint(face: Face, *, least: float = LEAST_WIDTH) -> Painted:
    """The whole view of one face with heading, side banner and footer, at least ``least`` wide."""
    coloured = any(contact.colour for contact in face.contacts)
    labels = {place: _label_lines(contact) for place, contact in _known(face)}
    level, pitch = _columns(face, labels)
    cell = 2 * GLYPH + (24 if coloured else 8) + _extra(face) + 4
    layout = lay_out(face, pitch=pitch, cell=cell)
    room = _Room.around(face, layout, labels, level)
    parts = [
        _body(face, layout, room),
        _latch(face, layout, room),
        *(_place(face, place, layout, coloured) for place in layout.places),
        *(_outside(face, place, layout, labels, level) for place in layout.places),
    ]
    inner = layout.width + 2 * PAD + 2 * room.side + 8
    width = max(inner, least)
    size = min(max(width / 400, 1.0), 1.5)  # a wide face is shrunk on a phone: its words are larger to begin with
    head, y = _head(face, width / size)
    head, y = svg.moved(0, 0, head, scale=size), y * size
    headed = y
    left = (width - layout.width) / 2
    y += room.above
    picture = svg.moved(left, y, *parts)
    y += layout.height + room.below
    foot, high = _foot(face, layout, width / size, coloured)
    foot, y = svg.moved(0, y, foot, scale=size), y + high * size
    name = svg.group(head, picture, foot, class_="face", data_connector=face.name, data_side=face.side)
    return Painted(markup=name, width=width, height=y, head=headed)


def _known(face: Face) -> list[tuple[str, Contact]]:
    return [(name, face.contact(name)) for row in face.mating_rows() for name in row]


def _extra(face: Face) -> float:
    return {"screw terminal": 30.0, "flat cable": 14.0}.get(face.arrangement, 0.0)


def _label_lines(contact: Contact) -> tuple[str, ...]:
    mark = f"mark {contact.mark}" if contact.mark else ""
    return tuple(line for line in (contact.role, contact.wire, mark) if line)


def _columns(face: Face, labels: dict[str, tuple[str, ...]]) -> tuple[bool, float]:
    """Whether labels lie level (few contacts, short words), and the column distance they then need."""
    widest = max((width_of(line, LABEL_SIZE) for lines in labels.values() for line in lines), default=0.0)
    columns = max((len(row) for row in face.seen_rows()), default=1)
    wanted = max(PITCH, widest + 10)
    if wanted <= 110 and wanted * columns <= 360:
        return True, wanted
    return False, PITCH if columns <= MANY or face.is_round else CLOSE_PITCH


def _upright(layout: Layout) -> float:
    return CLOSE_LABEL_SIZE if layout.pitch == CLOSE_PITCH else LABEL_SIZE


@dataclass(frozen=True, slots=True)
class _Room:
    """Room taken outside the inside of the body: above, below and at each side."""

    above: float
    below: float
    side: float

    @classmethod
    def around(cls, face: Face, layout: Layout, labels: dict[str, tuple[str, ...]], level: bool) -> _Room:
        def outside(edge: str) -> float:
            lines = [labels.get(place.name, ()) for place in layout.places if place.edge == edge]
            if not any(lines):
                return 0.0
            if level:
                return 6 + 15 * max(len(found) for found in lines)
            return 8 + min(UPRIGHT_ROOM, max(width_of(" · ".join(found), _upright(layout)) for found in lines))

        pointer = 14.0 if face.placed else 0.0
        latch = LATCH_HEIGHT if _has_tab(face) else 0.0
        round_lines = [labels.get(place.name, ()) for place in layout.places if place.edge == "round"]
        widest = max((width_of(" · ".join(found), LABEL_SIZE) for found in round_lines), default=0.0)
        around = min(widest, UPRIGHT_ROOM) + 8 if widest else 0.0
        extra = 18.0 if any(place.edge == "round" for place in layout.places) else 0.0
        return cls(
            above=PAD + latch + pointer + max(outside("top"), extra) + 4,
            below=PAD + pointer + max(outside("bottom"), extra),
            side=around,
        )


def _head(face: Face, width: float) -> tuple[Markup, float]:
    """Name and half, label mark, and the banner that names the side seen."""
    letter, _, shape = face.label.partition(" ")
    marked = bool(letter) and shape in SHAPES
    room = width - (84 if marked else 16)
    letters = 16.0 if width >= LEAST_WIDTH else 14.0
    lines = wrap(heading(face), room, letters)
    names = [
        svg.text(
            width / 2, 20 + 19 * n, shorten(line, room, letters), size=letters, anchor="middle", font_weight="bold"
        )
        for n, line in enumerate(lines)
    ]
    mark = mark_glyph(letter, shape, width - 22, 20) if marked else Markup("")
    words = side_words(face)
    size = 14.0 if width_of(words, 14) * 1.08 + 20 <= width else 12.0
    reach = min(width - 4, width_of(words, size) * 1.08 + 24)
    y = 34.0 + 19 * max(len(lines) - 1, 0) + (4 if marked else 0)
    banner = svg.rect((width - reach) / 2, y, reach, 26, rx=13, stroke_width=2)
    said = svg.text(width / 2, y + 18, words, size=size, anchor="middle", font_weight="bold", class_="side-seen")
    return svg.group(*names, mark, banner, said), y + 34.0


def _foot(face: Face, layout: Layout, width: float, coloured: bool) -> tuple[Markup, float]:
    lines = [
        line for sentence in footer(face, layout.places, coloured) for line in wrap(sentence, width - 16, LABEL_SIZE)
    ]
    drawn = [svg.text(8, 18 + n * 16, line, size=LABEL_SIZE) for n, line in enumerate(lines)]
    return svg.group(*drawn), 18.0 + len(lines) * 16


def _body(face: Face, layout: Layout, room: _Room) -> Markup:
    """The housing: one outline on the wire side, two on the mating side (its shroud); dashed when not
    recorded.
    """
    dash = None if face.placed else DASHED
    left, top, right, bottom = -PAD, -PAD, layout.width + PAD, layout.height + PAD
    if face.is_round and face.placed:
        return _round_body(face, layout)
    points = _corners(face, layout, left, top, right, bottom)
    outer = svg.path(rounded(points, 9), stroke_width=2, stroke_dasharray=dash)
    if not layout.places:
        outer = svg.join((outer, svg.text(layout.width / 2, layout.height / 2 + 6, "?", size=18, anchor="middle")))
    if face.side == "wire":
        return outer
    middle = ((left + right) / 2, (top + bottom) / 2)
    inner = [_nearer(point, middle, 4) for point in points]
    return svg.join((outer, svg.path(rounded(inner, 6), stroke_width=1, stroke_dasharray=dash)))


def _corners(face: Face, layout: Layout, left: float, top: float, right: float, bottom: float) -> list[Point]:
    if face.arrangement == "D-shape" and face.placed:
        rows = face.mating_rows()
        slant = (len(rows[0]) - len(rows[-1])) / 2 * layout.pitch
        spread = 10.0 if slant > 0 else 0.0
        low = max(slant - 6, 0.0)
        return [(left - spread, top), (right + spread, top), (right - low, bottom), (left + low, bottom)]
    if face.keyed:
        cut = 8.0
        return [
            (left, top),
            (right, top),
            (right, bottom - cut),
            (right - cut, bottom),
            (left + cut, bottom),
            (left, bottom - cut),
        ]
    return [(left, top), (right, top), (right, bottom), (left, bottom)]


def _nearer(point: Point, middle: Point, by: float) -> Point:
    return (
        point[0] + (by if point[0] < middle[0] else -by),
        point[1] + (by if point[1] < middle[1] else -by),
    )


def _round_body(face: Face, layout: Layout) -> Markup:
    radius = layout.width / 2
    outer = svg.circle(radius, radius, radius + PAD, stroke_width=2)
    inner = svg.circle(radius, radius, radius + PAD - 4, stroke_width=1) if face.side == "mating" else Markup("")
    key = Markup("")
    if face.keyed:
        key = svg.rect(radius - 7, -PAD, 14, 8, fill=svg.INK, stroke="none", class_="key")
    return svg.group(outer, inner, key)


def _has_tab(face: Face) -> bool:
    """Whether a latch is drawn on top: not where there is none, nor where a key is the top of a round housing."""
    return face.latch != NO_LATCH and not (face.is_round and face.placed and bool(face.keyed))


def _latch(face: Face, layout: Layout, room: _Room) -> Markup:
    if not _has_tab(face):
        return Markup("")
    word = "latch" if face.latch else "latch?"
    width = max(54.0, min(layout.width * 0.4, 160.0))
    left, top = (layout.width - width) / 2, -PAD - LATCH_HEIGHT
    tab = svg.rect(
        left, top, width, LATCH_HEIGHT, stroke_width=2, rx=3, stroke_dasharray=None if face.latch else DASHED
    )
    return svg.join((tab, svg.text(layout.width / 2, top + 14, word, size=12, anchor="middle")))


def _place(face: Face, place: Place, layout: Layout, coloured: bool) -> Markup:
    """One contact: ring (square for contact 1) with its name, wire colour and code under it."""
    if place.empty:
        cross = svg.join((svg.line(-4, -4, 4, 4), svg.line(-4, 4, 4, -4)))
        return svg.moved(place.x, place.y, svg.circle(0, 0, 8, stroke_dasharray="2 3"), cross, class_="empty-place")
    contact = face.contact(place.name)
    first = place.name == face.first_contact()
    parts = [_glyph(face, first), _name(place.name, double=face.has_pins is False)]
    y = GLYPH + 4.0
    if face.arrangement == "screw terminal":
        parts.append(_screw(y))
        y += 30
    if face.arrangement == "flat cable":
        parts.append(_blade(face, y))
        y += 14
    if coloured:
        parts.append(_swatch(contact, y, layout.pitch))
    return svg.moved(
        place.x,
        place.y,
        *parts,
        class_="contact contact-first" if first else "contact",
        data_contact=f"{face.name}:{place.name}",
    )


def _glyph(face: Face, first: bool) -> Markup:
    """Pins have a thick outline, sockets a double one, not recorded a thin one; contact 1 is square."""
    width = 3.0 if face.has_pins else 1.4
    radius = GLYPH - (0.8 if face.has_pins else 0)
    shapes = [_ring(first, radius, width)]
    if face.has_pins is False:
        shapes.append(_ring(first, GLYPH - 3.2, 1.0))
    return svg.group(*shapes)


def _ring(square: bool, radius: float, width: float) -> Markup:
    if square:
        return svg.rect(-radius, -radius, 2 * radius, 2 * radius, stroke_width=width)
    return svg.circle(0, 0, radius, stroke_width=width)


def _name(name: str, *, double: bool) -> Markup:
    inside = 2 * GLYPH - (8 if double else 5)
    size = next((s for s in (15.0, 13.0, 11.0, 9.5, 8.5) if width_of(name, s) <= inside + 1), 8.5)
    words = shorten(name, inside + 2, size)
    return svg.text(0, size * 0.36, words, size=size, anchor="middle", font_weight="bold")


def _screw(y: float) -> Markup:
    head = svg.circle(0, y + 12, 10, stroke_width=1.4)
    slot = svg.line(-6, y + 16, 6, y + 8, stroke_width=2)
    return svg.group(head, slot, svg.line(-16, y + 27, 16, y + 27))


def _blade(face: Face, y: float) -> Markup:
    """A flat cable's contact: a solid bar on the side where the bare contacts are."""
    if face.contact_side == "up":
        return svg.rect(-7, -GLYPH - 8, 14, 6, fill=svg.INK, stroke="none", class_="blade-up")
    if face.contact_side == "down":
        return svg.rect(-7, y + 4, 14, 6, fill=svg.INK, stroke="none", class_="blade-down")
    return svg.rect(-7, y + 4, 14, 6, stroke_dasharray="2 2", class_="blade-unknown")


def _swatch(contact: Contact, y: float, pitch: float) -> Markup:
    """The wire colour in paint over its letter code; dashed and empty when not recorded or not understood. Two wires
    at one contact lie side by side.
    """
    if not contact.colour:
        return svg.rect(-13, y, 26, 8, stroke_dasharray="2 2", class_="colour-unknown")
    readings = read_colours(contact.colour)
    code = svg.text(0, y + 18, shorten(contact.colour, pitch - 2, 10.5), size=10.5, anchor="middle")
    width = 26 / len(readings)
    paints = [_paint(reading, -13 + n * width, y, width) for n, reading in enumerate(readings)]
    return svg.group(*paints, code, class_="wire-colour")


def _paint(reading: Reading, x: float, y: float, width: float) -> Markup:
    if not reading.understood:
        return svg.rect(x, y, width, 8, stroke_dasharray="2 2")
    ground, *stripes = (colour.paint for colour in reading.colours)
    bars = [svg.rect(x, y, width, 8, fill=ground, stroke="none")]
    high = 8 / (2 * len(stripes) + 1)
    bars += [
        svg.rect(x, y + high * (2 * n + 1), width, high, fill=paint, stroke="none") for n, paint in enumerate(stripes)
    ]
    return svg.group(*bars, svg.rect(x, y, width, 8))


def _outside(face: Face, place: Place, layout: Layout, labels: dict[str, tuple[str, ...]], level: bool) -> Markup:
    """Role, wire and mark outside the body, and the pointer at contact 1."""
    if place.empty or not place.edge:
        return Markup("")
    lines = labels.get(place.name, ())
    first = place.name == face.first_contact() and face.placed
    if place.edge == "round":
        return _round_label(place, layout, lines, first)
    top = place.edge == "top"
    latch = LATCH_HEIGHT if _has_tab(face) else 0.0
    edge = -PAD - latch if top else layout.height + PAD
    parts = []
    if first:
        tip, base = (edge - 3, edge - 13) if top else (edge + 3, edge + 13)
        parts.append(_pointer((place.x, tip), (place.x, base)))
    at = edge - 20 if top else edge + 20
    if level:
        lift = -15 * (len(lines) - 1) if top else 12
        parts += [
            svg.text(place.x, at + lift + 15 * n, line, size=LABEL_SIZE, anchor="middle")
            for n, line in enumerate(lines)
        ]
    elif lines:
        size = _upright(layout)
        words = shorten(" · ".join(lines), UPRIGHT_ROOM, size)
        turn = f"translate({svg.number(place.x + size / 3)} {svg.number(at)}) rotate(-90)"
        parts.append(svg.text(0, 0, words, size=size, anchor="start" if top else "end", transform=turn))
    return svg.group(*parts)


def _round_label(place: Place, layout: Layout, lines: tuple[str, ...], first: bool) -> Markup:
    middle = layout.width / 2
    dx, dy = place.x - middle, place.y + 12 - middle
    length = (dx * dx + dy * dy) ** 0.5 or 1.0
    ux, uy = dx / length, dy / length
    rim = middle + PAD
    parts = []
    if first:
        tip, base = rim + 3, rim + 13
        parts.append(_pointer((middle + ux * tip, middle + uy * tip), (middle + ux * base, middle + uy * base)))
    words = shorten(" · ".join(lines), UPRIGHT_ROOM, LABEL_SIZE)
    if words:
        out = rim + (18 if first else 7)
        anchor = "middle" if abs(ux) < 0.2 else "start" if ux > 0 else "end"
        y = middle + uy * out + (10 if uy > 0.5 else 0 if uy < -0.5 else 4)
        parts.append(svg.text(middle + ux * out, y, words, size=LABEL_SIZE, anchor=anchor))
    return svg.group(*parts)


def _pointer(tip: Point, base: Point) -> Markup:
    """A solid triangle whose tip shows contact 1."""
    dx, dy = (base[0] - tip[0]) * 0.6, (base[1] - tip[1]) * 0.6
    corners = [tip, (base[0] - dy, base[1] + dx), (base[0] + dy, base[1] - dx)]
    return svg.polygon(corners, fill=svg.INK, stroke="none", class_="pointer-first")
