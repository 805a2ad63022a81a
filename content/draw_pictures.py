"""Draws the pictures the demo records name, as line drawings marked as such: ``python content/draw_pictures.py``.

One function a picture; what a record marks at ``at: [x, y]`` lies at that place (960 x, 640 y). The machines are
invented, so there is nothing to photograph.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from benchleaf.drawings import svg
from benchleaf.drawings.sketch import (
    BOARD,
    DEEP,
    GREY,
    INK,
    METAL,
    PALE,
    PAPER,
    WARM,
    arrow,
    block,
    cable,
    clamp,
    connector,
    connector_width,
    dots,
    hose,
    label,
    leader,
    lines,
    number,
    panel,
    picture,
    ribbon,
    screw,
    shape,
    sheet,
    tie,
    towards_you,
)
from benchleaf.drawings.svg import Markup


def top_shell() -> str:
    corners = [(96, 544), (864, 544), (96, 106), (864, 106)]
    return picture(
        "Top shell from above, four captive screws, and the arrow back before the arrow up",
        panel(56, 66, 848, 518, round_=26),
        panel(200, 290, 560, 270, PAPER, round_=14),
        label(480, 528, "film lid", anchor="middle"),
        lines((380, 100), (0, 40), (18, 0), 12),
        *(screw(x, y, 20) for x, y in corners),
        arrow(420, 470, 420, 190, 14),
        number(374, 330, 1),
        label(450, 240, "back 12 mm, first"),
        towards_you(610, 380, 30),
        number(560, 380, 2),
        label(590, 330, "then up"),
        label(480, 622, "front", anchor="middle"),
    )


def tray_tie() -> str:
    return picture(
        "The tie that holds the supply cable to the frame beside the tray",
        panel(780, 30, 60, 560, DEEP, round_=4),
        dots((810, 80), (0, 110), 5, 8),
        panel(90, 120, 560, 400),
        panel(130, 160, 480, 320, BOARD),
        _chips(),
        screw(160, 190, 13, "PH1"),
        screw(580, 190, 13, "PH1"),
        screw(160, 450, 13, "PH1"),
        screw(580, 450, 13, "PH1"),
        svg.moved(556, 300, connector(0, 0, 4)),
        cable("M622 318C700 318 742 300 742 220V40", 22),
        tie(762, 180, 96),
        leader(560, 66, 742, 176, "cut this tie", anchor="end"),
        label(300, 512, "control tray"),
        label(862, 320, "frame", size=20),
        leader(520, 572, 694, 314, "supply cable W3"),
    )


def _chips() -> Markup:
    chips = [(210, 230, 90, 60), (340, 350, 120, 70), (220, 370, 60, 60)]
    return svg.group(*(panel(x, y, w, h, DEEP, round_=3) for x, y, w, h in chips))


# Receptacles on the front edge of the main board: name, contacts, rows, flat.
_FRONT_EDGE = (
    ("J1", 4, 1, False),
    ("J2", 16, 1, True),
    ("J3", 2, 1, False),
    ("J4", 4, 1, False),
    ("J5", 10, 1, True),
    ("J6", 3, 1, False),
    ("J7", 3, 1, False),
    ("J8", 3, 1, False),
    ("J9", 2, 1, False),
    ("J10", 8, 2, False),
)


def tray_connectors() -> str:
    parts = [
        shape([(130, 210), (830, 210), (920, 450), (40, 450)], BOARD),
        panel(40, 450, 880, 22, GREY, round_=2),
        shape([(260, 270), (400, 270), (396, 340), (244, 340)], DEEP),
        shape([(560, 250), (650, 250), (664, 310), (562, 310)], DEEP),
        dots((700, 260), (26, 0), 4, 7),
    ]
    x, middles = 58.0, {}
    for name, contacts, rows, flat in _FRONT_EDGE:
        pitch = 7.4 if flat else 12.0
        wide = connector_width(contacts, rows=rows, pitch=pitch)
        high = 20.0 if flat else 34.0 + (rows - 1) * pitch
        parts.append(connector(x, 466 - high, contacts, rows=rows, pitch=pitch, flat=flat))
        parts.append(label(x + wide / 2, 400, name, anchor="middle", size=20))
        middles[name] = x + wide / 2
        x += wide + 28
    left, right = middles["J6"] - 26, middles["J8"] + 26
    bracket = f"M{svg.number(left)} 484v16H{svg.number(right)}v-16"
    return picture(
        "Front edge of the main board with J1 to J10; J6, J7 and J8 are alike",
        *parts,
        svg.path(bracket, stroke_width=3),
        label((left + right) / 2, 530, "J6, J7, J8 alike: go by the labels", anchor="middle"),
        label(480, 196, "main board A1, on the tray", anchor="middle"),
    )


def tray_out() -> str:
    return picture(
        "Tray drawn back to the second click with the long cables still mated",
        panel(110, 352, 740, 246, GREY, round_=10),
        panel(210, 320, 540, 220, PAPER, round_=4),
        svg.rect(196, 70, 20, 470, fill=METAL, stroke_width=2.4),
        svg.rect(744, 70, 20, 470, fill=METAL, stroke_width=2.4),
        dots((206, 330), (0, -180), 2, 7),
        dots((754, 330), (0, -180), 2, 7),
        panel(222, 90, 516, 320),
        panel(262, 120, 436, 250, BOARD),
        panel(330, 160, 110, 70, DEEP, round_=3),
        svg.moved(300, 336, connector(0, 0, 4)),
        svg.moved(400, 336, connector(0, 0, 4)),
        svg.moved(500, 336, connector(0, 0, 3)),
        svg.moved(590, 336, connector(0, 0, 2)),
        cable("M332 372C332 450 280 430 280 560", 12),
        cable("M432 372C432 470 400 440 400 560", 10),
        cable("M526 372C526 470 560 440 560 560", 10),
        cable("M610 372C610 450 668 430 668 560", 10),
        arrow(850, 330, 850, 130, 12),
        label(854, 106, "back 140 mm", anchor="middle"),
        leader(30, 232, 206, 150, "second click"),
        label(480, 586, "long cables stay mated", anchor="middle"),
        label(480, 58, "back of the machine", anchor="middle"),
    )


def waste_elbow() -> str:
    return picture(
        "Waste elbow with a clamp on each line and the sheet over the board below",
        hose("M480 24V196", 26),
        hose("M532 250H610C700 250 760 300 772 420", 26),
        shape([(452, 178), (508, 178), (508, 222), (552, 222), (552, 278), (452, 278)], METAL, round_=16),
        clamp(480, 96),
        clamp(650, 254, turned=98),
        block(690, 420, 190, 130, 60, PAPER),
        label(785, 500, "waste tank", anchor="middle", size=20),
        svg.rect(310, 520, 340, 14, fill=BOARD, stroke_width=2.4),
        svg.rect(380, 500, 60, 20, fill=DEEP, stroke_width=2),
        svg.rect(520, 496, 50, 24, fill=DEEP, stroke_width=2),
        sheet(296, 484, 368, 26),
        leader(40, 240, 462, 232, "waste elbow"),
        leader(70, 590, 340, 528, "ink bay board A4"),
        leader(40, 130, 448, 96, "clamp, upper line"),
        leader(690, 160, 656, 240, "clamp, lower line"),
        leader(40, 440, 316, 494, "sheet"),
        label(510, 50, "from the pump"),
    )


def head_joint() -> str:
    return picture(
        "Print head in the carriage: lever, ink joint above, covered board behind",
        svg.rect(60, 470, 700, 26, rx=13, fill=METAL, stroke_width=2.4),
        shape([(250, 250), (320, 250), (320, 430), (610, 430), (610, 180), (660, 180), (660, 500), (250, 500)], GREY),
        panel(352, 120, 218, 300, PAPER),
        lines((372, 396), (0, 16), (12, 0), 15),
        label(461, 300, "print head", anchor="middle"),
        hose("M461 76C461 10 700 40 930 24", 22),
        shape([(430, 72), (492, 72), (502, 120), (420, 120)], METAL, round_=4),
        lines((440, 82), (0, 30), (14, 0), 4),
        shape([(236, 170), (352, 214), (352, 240), (226, 196)], WARM, round_=8),
        svg.circle(346, 227, 9, fill=METAL, stroke_width=2.4),
        ribbon("M570 270C640 270 640 300 706 300", 26),
        svg.rect(706, 190, 16, 290, fill=BOARD, stroke_width=2.4),
        svg.rect(722, 290, 26, 60, fill=DEEP, stroke_width=2),
        shape([(694, 176), (740, 176), (764, 300), (752, 430), (770, 452), (688, 448), (700, 320)], WARM, round_=12),
        leader(40, 130, 262, 190, "lever"),
        leader(180, 60, 428, 96, "ink joint"),
        leader(930, 556, 736, 430, "carriage board A2, covered", anchor="end"),
        label(70, 540, "front rail", size=20),
    )


def plugs() -> str:
    return picture(
        "Back of the printer: mains cable, and with the roll feed its plug-in supply and its USB cable",
        panel(110, 60, 740, 240, round_=14),
        panel(180, 100, 600, 160, PAPER),
        *(screw(x, y, 10, "PH1") for x in (200, 480, 760) for y in (118, 242)),
        shape([(812, 200), (842, 200), (842, 262), (812, 262)], DEEP),
        panel(150, 186, 26, 70, DEEP, round_=3),
        cable("M160 222C60 260 60 380 150 430", 16),
        _mains_plug(192, 470),
        block(420, 270, 150, 70, 30, PAPER),
        label(495, 314, "roll feed", anchor="middle", size=20),
        cable("M450 340C450 400 470 400 478 430", 10),
        panel(430, 430, 96, 104, METAL),
        svg.group(
            *(svg.rect(x, 534, 10, 34, fill=METAL, stroke_width=2.2) for x in (450, 496)),
        ),
        cable("M545 340C545 400 720 360 744 430", 8),
        panel(716, 430, 56, 66, DEEP),
        svg.rect(724, 496, 40, 42, fill=METAL, stroke_width=2.4),
        svg.rect(733, 508, 8, 12, fill=INK, stroke="none"),
        svg.rect(747, 508, 8, 12, fill=INK, stroke="none"),
        label(192, 600, "mains plug XP1", anchor="middle"),
        label(478, 600, "plug-in supply XP3", anchor="middle"),
        label(744, 576, "USB plug XP5", anchor="middle"),
        label(480, 46, "back of the printer", anchor="middle"),
    )


def _mains_plug(x: float, y: float) -> Markup:
    body = shape(
        [(x - 46, y - 44), (x + 30, y - 44), (x + 46, y - 20), (x + 46, y + 44), (x - 46, y + 44)], DEEP, round_=12
    )
    pins = svg.group(
        *(svg.rect(x + dx, y + 44, 12, 44, rx=4, fill=METAL, stroke_width=2.2) for dx in (-32, 20)),
        svg.rect(x - 6, y + 44, 12, 30, rx=4, fill=METAL, stroke_width=2.2),
    )
    return svg.group(pins, body)


def left_cover() -> str:
    return picture(
        "Left side of the printer with the four screws of the cover",
        panel(56, 70, 848, 524, GREY, round_=18),
        panel(80, 94, 800, 462),
        *(screw(x, y, 17, "PH1") for x in (115, 845) for y in (128, 522)),
        lines((340, 220), (150, 0), (0, 26), 9, 6),
        lines((520, 220), (150, 0), (0, 26), 9, 6),
        leader(190, 200, 132, 134, "four screws M3"),
        label(160, 530, "back of the machine"),
        label(800, 530, "front", anchor="end"),
        label(480, 150, "left cover", anchor="middle"),
    )


def supply_eyes() -> str:
    return picture(
        "Power supply with the two test eyes at its upper edge and the discharge probe across them",
        panel(190, 180, 620, 370, METAL),
        panel(220, 210, 560, 310, BOARD),
        panel(270, 300, 150, 130, DEEP, round_=4),
        lines((290, 310), (0, 110), (16, 0), 8),
        svg.circle(520, 400, 64, fill=PAPER, stroke_width=2.4),
        svg.path("M460 380A64 64 0 0 1 494 342", stroke_width=8),
        label(520, 408, "100 µF", anchor="middle", size=20),
        panel(640, 330, 90, 130, DEEP, round_=4),
        svg.circle(540, 236, 17, fill=METAL, stroke_width=5),
        svg.circle(540, 236, 6, fill=PAPER, stroke_width=2),
        svg.circle(650, 236, 17, fill=METAL, stroke_width=5),
        svg.circle(650, 236, 6, fill=PAPER, stroke_width=2),
        label(504, 280, "+", anchor="end", size=30),
        label(688, 280, "–", size=30),
        svg.path("M575 130L541 228M615 130L649 228", stroke_width=9, stroke_linecap="round"),
        panel(556, 24, 78, 112, WARM, round_=16),
        svg.circle(595, 62, 15, fill=PAPER, stroke_width=3),
        leader(655, 60, 608, 60, "discharge probe: lamp out,"),
        label(655, 90, "then measure"),
        leader(240, 140, 526, 226, "test eyes"),
        svg.moved(226, 466, connector(0, 0, 4)),
        svg.moved(690, 470, connector(0, 0, 4)),
        label(500, 596, "power supply PS1", anchor="middle"),
    )


def feed_motor() -> str:
    def slot(x: float) -> Markup:
        return svg.rect(x - 37, 336, 74, 32, rx=16, fill=PAPER, stroke_width=2.4)

    return picture(
        "Feed motor in its two slots with a scratched line along the flange",
        panel(120, 90, 760, 470, GREY),
        panel(320, 206, 408, 296, METAL),
        slot(384),
        slot(664),
        svg.circle(524, 352, 92, fill=PALE, stroke_width=2.4),
        cable("M476 352V60M572 352V60", 10, DEEP),
        svg.circle(524, 352, 52, fill=PAPER, stroke_width=2.4),
        svg.group(
            *(
                svg.line(524, 306, 524, 318, stroke_width=5, transform=f"rotate({turn} 524 352)")
                for turn in range(0, 360, 30)
            )
        ),
        svg.circle(524, 352, 12, fill=METAL, stroke_width=2.4),
        screw(384, 352, 22, "hex 3"),
        screw(664, 352, 22, "hex 3"),
        svg.line(270, 502, 780, 502, stroke_width=5, stroke_dasharray="16 5 9 4"),
        leader(150, 600, 290, 502, "scratched line: the motor goes back to it"),
        leader(150, 160, 372, 334, "slot and screw"),
        leader(640, 150, 580, 190, "feed belt"),
    )


def hood() -> str:
    # Tightening order: 3, 4, 1, 6, 2, 5 of the screws counted along the front and then along the back.
    places = {1: (96, 576), 2: (480, 576), 3: (864, 576), 4: (96, 64), 5: (480, 64), 6: (864, 64)}
    order = (3, 4, 1, 6, 2, 5)
    parts = []
    for turn, place in enumerate(order, start=1):
        x, y = places[place]
        parts.append(screw(x, y, 20, "hex 5"))
        parts.append(number(x + 48, y, turn) if x < 800 else number(x - 48, y, turn))
    return picture(
        "Hood from above with its six rim screws in their tightening order and the earth strap",
        panel(10, 220, 940, 200, GREY, round_=2),
        lines((24, 230), (0, 180), (24, 0), 2),
        lines((912, 230), (0, 180), (24, 0), 2),
        panel(56, 30, 848, 580, round_=16),
        panel(130, 112, 700, 416, PAPER, round_=30),
        *parts,
        cable("M760 112C800 150 800 190 846 206", 8, WARM),
        cable("M846 206C900 220 900 160 930 150", 8, WARM),
        svg.circle(756, 108, 12, fill=METAL, stroke_width=2.4),
        svg.circle(930, 150, 12, fill=METAL, stroke_width=2.4),
        leader(560, 220, 776, 128, "earth strap", anchor="middle"),
        arrow(330, 320, 630, 320, 9),
        label(480, 372, "belt runs this way", anchor="middle"),
        label(480, 482, "numbers: order of tightening", anchor="middle"),
    )


def plug_locked() -> str:
    return picture(
        "Mains plug in the lock-off hood and the main switch beside it",
        panel(530, 60, 330, 420),
        svg.circle(691, 256, 110, fill=PAPER, stroke_width=3),
        svg.rect(672, 160, 38, 192, rx=14, fill=DEEP, stroke_width=2.4),
        label(691, 120, "0", anchor="middle", size=30),
        label(828, 268, "I", anchor="middle", size=30),
        label(691, 440, "main switch Q1: off", anchor="middle"),
        cable("M40 384H150", 24),
        _big_plug(),
        svg.rect(150, 280, 300, 208, rx=18, fill="none", stroke_width=5),
        svg.line(150, 384, 450, 384, stroke_width=1.6, stroke_dasharray="10 8"),
        svg.path("M388 506V478A22 22 0 0 1 432 478V506", stroke_width=9),
        panel(370, 502, 80, 66, WARM),
        svg.circle(410, 530, 8, fill=INK, stroke="none"),
        leader(490, 560, 446, 548, "padlock: you keep the key"),
        leader(120, 220, 220, 280, "lock-off hood round the plug"),
    )


def _big_plug() -> Markup:
    return svg.group(
        shape([(170, 340), (210, 316), (330, 316), (330, 452), (210, 452), (170, 428)], DEEP, round_=12),
        *(svg.rect(330, y, 84, 18, rx=8, fill=METAL, stroke_width=2.2) for y in (334, 375, 416)),
    )


def bay() -> str:
    def terminal(x: float) -> Markup:
        return svg.group(
            svg.rect(x, 400, 34, 96, fill=PALE, stroke_width=2.2),
            screw(x + 17, 424, 11, "slot"),
            screw(x + 17, 474, 11, "slot"),
        )

    return picture(
        "Control bay: terminal strip, belt drive with its two bus terminals, fan capacitor",
        panel(30, 40, 900, 560, GREY),
        svg.rect(90, 440, 300, 16, fill=METAL, stroke_width=2),
        *(terminal(120 + 34 * n) for n in range(7)),
        *(cable(f"M{137 + 34 * n} 400V{310 - 12 * (n % 3)}", 7, PAPER) for n in range(7)),
        panel(430, 130, 290, 320, BOARD),
        screw(450, 150, 11),
        screw(700, 150, 11),
        screw(450, 430, 11),
        screw(700, 430, 11),
        panel(490, 300, 90, 110, DEEP, round_=4),
        svg.circle(640, 360, 44, fill=PAPER, stroke_width=2.4),
        screw(520, 190, 17, "slot"),
        screw(620, 190, 17, "slot"),
        label(520, 240, "+", anchor="middle", size=30),
        label(620, 240, "–", anchor="middle", size=30),
        panel(770, 290, 92, 200, METAL, round_=20),
        svg.rect(790, 262, 12, 28, fill=METAL, stroke_width=2.2),
        svg.rect(830, 262, 12, 28, fill=METAL, stroke_width=2.2),
        label(816, 470, "C1", anchor="middle", size=20),
        label(239, 540, "terminal strip XT1", anchor="middle"),
        leader(330, 100, 512, 176, "bus terminals: measure here"),
        label(576, 492, "belt drive board A2", anchor="middle"),
        label(816, 540, "fan capacitor", anchor="middle"),
    )


def bank() -> str:
    tubes = [
        svg.group(svg.rect(190, y, 620, 34, rx=17, fill=PAPER, stroke_width=2.4), _coil(206, y + 17, 588))
        for y in (244, 303, 362)
    ]
    return picture(
        "Front heater bank with its two ceramic terminals and the earth screw",
        panel(90, 210, 790, 222, METAL, round_=8),
        *tubes,
        *(screw(x, y, 12, "hex 4") for x in (108, 862) for y in (228, 414)),
        *(svg.group(panel(116, y, 64, 48, PAPER, round_=10), screw(144, y + 24, 13, "slot")) for y in (258, 336)),
        cable("M116 282C60 282 60 200 30 150", 10, PAPER),
        cable("M116 360C50 360 50 440 30 490", 10, PAPER),
        screw(842, 320, 16, "slot"),
        svg.path("M894 320h24M918 300v40M926 306v28M934 312v16", stroke_width=4),
        cable("M842 336C842 420 890 470 930 520", 9, WARM),
        leader(220, 150, 150, 264, "ceramic terminals"),
        leader(640, 560, 836, 332, "earth screw"),
        label(330, 490, "hold the bank by its frame, not by the tubes", anchor="middle", size=20),
    )


def _coil(x: float, y: float, width: float) -> Markup:
    turns = int(width // 14)
    return svg.path(f"M{svg.number(x)} {svg.number(y)}" + "q3.5 -14 7 0t7 0" * turns, stroke=DEEP, stroke_width=2.4)


PICTURES: dict[str, Callable[[], str]] = {
    "fp420/photos/top-shell.svg": top_shell,
    "fp420/photos/tray-tie.svg": tray_tie,
    "fp420/photos/tray-connectors.svg": tray_connectors,
    "fp420/photos/tray-out.svg": tray_out,
    "fp420/photos/waste-elbow.svg": waste_elbow,
    "fp420/photos/head-joint.svg": head_joint,
    "fp420/photos/plugs.svg": plugs,
    "fp420/photos/left-cover.svg": left_cover,
    "fp420/photos/supply-eyes.svg": supply_eyes,
    "fp420/photos/feed-motor.svg": feed_motor,
    "bc300/photos/hood.svg": hood,
    "bc300/photos/plug-locked.svg": plug_locked,
    "bc300/photos/bay.svg": bay,
    "bc300/photos/bank.svg": bank,
}


def main() -> None:
    """Write every picture below this folder."""
    folder = Path(__file__).parent
    for name, draw in PICTURES.items():
        file = folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(draw(), encoding="utf-8", newline="\n")
        print(f"wrote {name}")


if __name__ == "__main__":
    main()
