"""Safety signs: own drawings to the geometry of ISO 3864-1, each with its ISO 7010 number and title in text.

A warning is a yellow triangle with a black border, a mandatory action a blue disc, a prohibition a white
disc with a red ring and bar. A number without a pictogram of our own gets the general sign of its kind: the
text still says which it is, and nothing is ever shown as milder than it is.
"""

from __future__ import annotations

from benchleaf.drawings import svg
from benchleaf.drawings.action_pictograms import MANDATORY, PROHIBITIONS
from benchleaf.drawings.drawing import Drawing, Table
from benchleaf.drawings.lettering import wrap
from benchleaf.drawings.outline import rounded
from benchleaf.drawings.pictogram import Pen
from benchleaf.drawings.svg import Markup
from benchleaf.drawings.warning_pictograms import WARNINGS

# Nearest screen values to the safety colours of ISO 3864-4 (from memory: RAL 1003, 5005, 3001; black, white).
YELLOW, BLUE, RED, BLACK, WHITE = "#fcbf0a", "#005387", "#9b2423", "#161616", "#ffffff"

# ISO 7010 reference number and title.
TITLES: dict[str, str] = {
    "W001": "General warning sign",
    "W004": "Laser beam",
    "W006": "Magnetic field",
    "W012": "Electricity",
    "W017": "Hot surface",
    "W018": "Automatic start-up",
    "W019": "Crushing",
    "W021": "Flammable material",
    "W022": "Sharp element",
    "W023": "Corrosive substance",
    "W024": "Crushing of hands",
    "W025": "Counterrotating rollers",
    "W026": "Battery charging",
    "W027": "Optical radiation",
    "W029": "Pressurized cylinder",
    "W030": "Hand crushing between press brake tool",
    "W031": "Hand crushing between press brake and material",
    "W041": "Asphyxiating atmosphere",
    "W042": "Arc flash",
    "W079": "Hot content",
    "W080": "Hot steam",
    "W088": "Moving blades",
    "W089": "Moving gears",
    "M001": "General mandatory action sign",
    "M002": "Refer to instruction manual/booklet",
    "M004": "Wear eye protection",
    "M005": "Connect an earth terminal to the ground",
    "M006": "Disconnect mains plug from electrical outlet",
    "M008": "Wear safety footwear",
    "M009": "Wear protective gloves",
    "M013": "Wear a face shield",
    "M016": "Wear a mask",
    "M017": "Wear respiratory protection",
    "M021": "Disconnect before carrying out maintenance or repair",
    "M027": "Check guard",
    "M056": "Ventilate before and during entering",
    "M068": "Lock moving mechanical parts",
    "P001": "General prohibition sign",
    "P002": "No smoking",
    "P003": "No open flame; Fire, open ignition source and smoking prohibited",
    "P010": "Do not touch",
    "P015": "No reaching in",
    "P024": "Do not walk or stand here",
    "P031": "Do not alter the state of the switch",
    "P069": "Not to be serviced by users",
    "P075": "Do not stare at light source",
    "P080": "No access for unauthorized persons",
}
_KINDS = {"W": "warning", "M": "mandatory action", "P": "prohibition"}
CAPTION_WIDTH = 132.0


def own_pictogram(number: str) -> bool:
    """Whether there is a pictogram of our own for ``number``; otherwise the general sign of its kind is
    drawn.
    """
    return number in WARNINGS or number in MANDATORY or number in PROHIBITIONS


def sign_title(number: str) -> str:
    """``Electricity``; for a number that is not in the table, words that say so."""
    return TITLES.get(number, "title not recorded here: see ISO 7010")


def safety_sign(number: str, *, captioned: bool = True) -> Drawing:
    """The sign for an ISO 7010 ``number`` as ``W012``; anything unknown gets the general warning sign.

    ``captioned`` letters number and title under the sign; without it the page has to say both in text (they
    are also the drawing's title).
    """
    kind = _KINDS.get(number[:1], "warning")
    title = f"{number} {sign_title(number)}"
    shown = "" if own_pictogram(number) else f" The general {kind} sign is drawn."
    words = f"Safety sign, {kind}: {sign_title(number)} (ISO 7010-{number}).{shown}"
    table = Table(caption=title, headers=("Number", "Kind", "Title"), rows=((number, kind, sign_title(number)),))
    if not captioned:
        picture = svg.document(100, 100, title, words, _face(number), kind="sign")
        return Drawing(svg=picture, title=title, description=words, table=table)
    lines = wrap(sign_title(number), CAPTION_WIDTH - 4, 11)
    middle = CAPTION_WIDTH / 2
    caption = [svg.text(middle, 116, number, size=12, anchor="middle", font_weight="bold")]
    caption += [svg.text(middle, 131 + 14 * n, line, size=11, anchor="middle") for n, line in enumerate(lines)]
    picture = svg.document(
        CAPTION_WIDTH,
        124 + 14 * len(lines),
        title,
        words,
        svg.moved(middle - 50, 0, _face(number)),
        *caption,
        kind="sign",
    )
    return Drawing(svg=picture, title=title, description=words, table=table)


def alert_symbol() -> Drawing:
    """The safety alert symbol of a signal-word panel (ANSI Z535.4: an exclamation mark in a triangle), in
    page ink.

    It is for DANGER, WARNING and CAUTION; NOTICE carries none.
    """
    triangle = rounded([(20, 3), (38.5, 35), (1.5, 35)], 3)
    mark = "M18 13.5Q20 11 22 13.5L21.2 25Q20 26.2 18.8 25ZM22.1 30A2.1 2.1 0 1 1 17.9 30A2.1 2.1 0 1 1 22.1 30Z"
    title = "Safety alert symbol"
    words = "Safety alert symbol: a triangle with an exclamation mark."
    art = svg.path(triangle + mark, fill=svg.INK, stroke="none", fill_rule="evenodd")
    table = Table(caption=title, headers=("Symbol", "Meaning"), rows=((title, "risk of injury"),))
    picture = svg.document(40, 38, title, words, art, kind="alert")
    return Drawing(svg=picture, title=title, description=words, table=table)


def _face(number: str) -> Markup:
    """The sign itself on 100 by 100."""
    kind = number[:1]
    if kind == "M":
        return _disc(MANDATORY.get(number, MANDATORY["M001"])(Pen(WHITE, BLUE)))
    if kind == "P":
        return _ring_and_bar(PROHIBITIONS.get(number, PROHIBITIONS["P001"])(Pen(BLACK, WHITE)))
    return _triangle(WARNINGS.get(number, WARNINGS["W001"])(Pen(BLACK, YELLOW)))


def _triangle(pictogram: Markup) -> Markup:
    """ISO 3864-1: equilateral, yellow (at least half the area), black border; a light edge for dark pages."""
    outer = rounded([(50, 5), (99, 90), (1, 90)], 9)
    inner = rounded([(50, 18), (88, 84), (12, 84)], 4)
    return svg.group(
        svg.path(outer, fill=BLACK, stroke=WHITE, stroke_width=1.6),
        svg.path(inner, fill=YELLOW, stroke="none"),
        svg.moved(6.2, 6.6, pictogram, scale=0.876),  # clear of the border all round
    )


def _disc(pictogram: Markup) -> Markup:
    """ISO 3864-1: blue disc, white pictogram."""
    return svg.group(svg.circle(50, 50, 48, fill=BLUE, stroke=WHITE, stroke_width=1.6), pictogram)


def _ring_and_bar(pictogram: Markup) -> Markup:
    """ISO 3864-1: white disc, red ring of a tenth and bar of 0.08 of the diameter, upper left to lower
    right.
    """
    return svg.group(
        svg.circle(50, 50, 48.4, fill=WHITE, stroke=WHITE, stroke_width=1.6),
        pictogram,
        svg.line(20, 20, 80, 80, stroke=RED, stroke_width=7.7),
        svg.circle(50, 50, 43.2, stroke=RED, stroke_width=9.6),
    )
