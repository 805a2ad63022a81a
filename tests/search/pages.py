"""A small manual for three invented machines, as plain rows: what the hand-written queries are asked of.

``PAGES`` holds dicts with the fields of a search document, so that it can be read before the search exists. Many pages
differ in one word only (the same work on another machine or item); that is what makes a query hard.
"""

from __future__ import annotations

from typing import Any

Row = dict[str, Any]

# machine -> (name, variants)
MACHINES: dict[str, tuple[str, tuple[str, ...]]] = {
    "lc30": ("Plover LC30 label cutter", ("mk1", "mk2")),
    "wd20": ("Wrackline WD20 parts washer", ("low", "high")),
    "b600": ("Ostler B600 tunnel oven", ()),
}

# machine, item id, name, designation, part number, fastener, place, trouble in the words of who has it
ITEMS: tuple[tuple[str, str, str, str, str, str, str, str], ...] = (
    ("lc30", "control-board", "control board", "A1", "30-4410-02", "M3x6", "on the control tray", ""),
    (
        "lc30",
        "display-board",
        "display board",
        "A2",
        "30-4412-01",
        "M2.5x5",
        "behind the front panel",
        "screen stays black",
    ),
    (
        "lc30",
        "feed-motor",
        "feed motor",
        "M1",
        "30-2207-11",
        "M4x12",
        "left of the feed roller",
        "the paper does not move",
    ),
    (
        "lc30",
        "cutter-motor",
        "cutter motor",
        "M2",
        "30-2209-10",
        "M4x16",
        "below the knife assembly",
        "the knife hums and stays where it is",
    ),
    ("lc30", "power-supply", "power supply", "PS1", "30-9001-00", "M4x8", "at the rear", "completely dead"),
    (
        "lc30",
        "lid-switch",
        "lid switch",
        "S1",
        "30-5108-00",
        "M3x10",
        "under the lid hinge",
        "says the lid is open when it is shut",
    ),
    (
        "lc30",
        "label-sensor",
        "label sensor",
        "B1",
        "30-5110-03",
        "M2x6",
        "over the label path",
        "cuts in the wrong place",
    ),
    (
        "lc30",
        "feed-roller",
        "feed roller",
        "",
        "30-3301-05",
        "M5x20",
        "between the side plates",
        "labels slip and come out crooked",
    ),
    (
        "lc30",
        "knife",
        "knife assembly",
        "",
        "30-3350-01",
        "M5x16",
        "behind the knife guard",
        "ragged edges on the label",
    ),
    (
        "lc30",
        "drive-belt",
        "drive belt",
        "",
        "30-3360-00",
        "M4x12",
        "right of the feed motor",
        "squealing at start",
    ),
    (
        "lc30",
        "fan",
        "cooling fan",
        "M3",
        "30-2240-00",
        "M3x25",
        "on the rear wall",
        "gets very hot, whirring sound",
    ),
    ("wd20", "control-board", "control board", "A1", "20-7701-04", "M3x8", "in the electrical box", ""),
    (
        "wd20",
        "circulation-pump",
        "circulation pump",
        "P1",
        "20-6100-02",
        "M6x20",
        "below the tank",
        "no water comes out of the arms",
    ),
    (
        "wd20",
        "drain-pump",
        "drain pump",
        "P2",
        "20-6105-01",
        "M5x16",
        "at the sump",
        "water stays in the bottom",
    ),
    ("wd20", "tank-heater", "tank heater", "E1", "20-6400-00", "M8x20", "in the tank", "the wash stays cold"),
    (
        "wd20",
        "level-sensor",
        "level sensor",
        "B1",
        "20-5202-00",
        "M4x10",
        "on the tank wall",
        "fills and fills without stopping",
    ),
    (
        "wd20",
        "temperature-sensor",
        "temperature sensor",
        "B2",
        "20-5204-00",
        "M6x12",
        "in the tank wall",
        "far too hot or never warm",
    ),
    (
        "wd20",
        "fill-valve",
        "fill valve",
        "Y1",
        "20-6601-01",
        "M4x12",
        "behind the rear panel",
        "keeps dripping after it is switched off",
    ),
    (
        "wd20",
        "door-switch",
        "door switch",
        "S1",
        "20-5108-00",
        "M3x16",
        "in the door frame",
        "will not go with the door shut",
    ),
    (
        "wd20",
        "door-seal",
        "door seal",
        "",
        "20-8100-01",
        "M4x8",
        "around the door",
        "puddle in front of the machine",
    ),
    (
        "wd20",
        "spray-arm",
        "spray arm",
        "",
        "20-8200-00",
        "M10x25",
        "under the basket",
        "parts come out dirty",
    ),
    ("wd20", "filter-screen", "filter screen", "", "20-8210-00", "M5x10", "over the sump", ""),
    (
        "b600",
        "conveyor-motor",
        "conveyor motor",
        "M1",
        "60-2101-00",
        "M8x25",
        "at the outfeed",
        "the chain stands still",
    ),
    (
        "b600",
        "circulating-fan",
        "circulating fan",
        "M2",
        "60-2150-02",
        "M6x16",
        "on the roof",
        "brown on one side only",
    ),
    (
        "b600",
        "heating-element",
        "heating element",
        "E1",
        "60-4001-00",
        "M5x12",
        "above the chain",
        "takes for ever to warm up",
    ),
    (
        "b600",
        "contactor",
        "contactor",
        "K1",
        "60-7001-00",
        "M4x10",
        "in the side cabinet",
        "clicks again and again",
    ),
    (
        "b600",
        "thermocouple",
        "thermocouple",
        "B1",
        "60-5001-00",
        "M6x10",
        "in the chamber roof",
        "shows a silly temperature",
    ),
    (
        "b600",
        "conveyor-chain",
        "conveyor chain",
        "",
        "60-3001-00",
        "M8x30",
        "through the chamber",
        "jerks and jumps, clanking",
    ),
    (
        "b600",
        "chain-tensioner",
        "chain tensioner",
        "",
        "60-3010-01",
        "M10x40",
        "at the infeed",
        "chain hangs slack",
    ),
    (
        "b600",
        "bearing-block",
        "bearing block",
        "",
        "60-3020-00",
        "M12x35",
        "at the drive shaft",
        "grinding noise from the end",
    ),
    ("b600", "rear-guard", "rear guard", "", "60-8001-00", "M6x12", "at the rear", ""),
    (
        "b600",
        "exhaust-flap",
        "exhaust flap",
        "Y2",
        "60-6601-00",
        "M5x12",
        "in the exhaust duct",
        "smoke comes out at the front",
    ),
    ("b600", "emergency-stop", "emergency stop", "S2", "60-5120-00", "M22x1.5", "on the operator panel", ""),
)

# machine, code, what the machine says, item id
CODES: tuple[tuple[str, str, str, str], ...] = (
    ("lc30", "E-0417", "Label sensor sees nothing", "label-sensor"),
    ("lc30", "E-0418", "Label sensor sees too much light", "label-sensor"),
    ("lc30", "E-0471", "Knife not at its rest position", "cutter-motor"),
    ("lc30", "E-0120", "Lid open", "lid-switch"),
    ("lc30", "E-0210", "Feed motor draws too much current", "feed-motor"),
    ("lc30", "E-0905", "Supply voltage low", "power-supply"),
    ("wd20", "F07", "Water does not reach temperature", "tank-heater"),
    ("wd20", "F70", "Temperature sensor open circuit", "temperature-sensor"),
    ("wd20", "F11", "Fill time exceeded", "fill-valve"),
    ("wd20", "F12", "Drain time exceeded", "drain-pump"),
    ("wd20", "F21", "Door not closed", "door-switch"),
    ("wd20", "F33", "Water level implausible", "level-sensor"),
    ("b600", "AL-1102", "Conveyor motor overload", "conveyor-motor"),
    ("b600", "AL-1120", "Fan speed too low", "circulating-fan"),
    ("b600", "AL-2004", "Chamber over temperature", "thermocouple"),
    ("b600", "AL-2040", "Thermocouple broken", "thermocouple"),
    ("b600", "AL-3001", "Contactor did not drop out", "contactor"),
    ("b600", "AL-3010", "Emergency stop pressed", "emergency-stop"),
)

# machine, symptom title, heard as, item id
SYMPTOMS: tuple[tuple[str, str, tuple[str, ...], str], ...] = (
    (
        "lc30",
        "Does not start",
        ("dead", "nothing happens when I press the button", "no lights"),
        "power-supply",
    ),
    (
        "lc30",
        "Labels are cut in the wrong place",
        ("cuts through the print", "labels too short"),
        "label-sensor",
    ),
    ("lc30", "Squeals while feeding", ("screeching", "high pitched noise"), "drive-belt"),
    ("lc30", "Display stays dark", ("black screen", "cannot read anything"), "display-board"),
    ("lc30", "Labels jam at the knife", ("paper stuck", "bunches up like a concertina"), "knife"),
    ("wd20", "Water stays in the machine", ("does not empty", "sump full"), "drain-pump"),
    ("wd20", "Leaks at the door", ("puddle on the floor", "wet shoes"), "door-seal"),
    ("wd20", "Wash water stays cold", ("does not heat", "lukewarm"), "tank-heater"),
    ("wd20", "Parts come out dirty", ("not clean", "greasy after washing"), "spray-arm"),
    ("wd20", "Breaker trips when the heater comes on", ("blows the fuse", "power cuts out"), "tank-heater"),
    ("b600", "Product unevenly browned", ("burnt on the left", "pale on one side"), "circulating-fan"),
    ("b600", "Chain jerks", ("jumps", "stutters"), "chain-tensioner"),
    ("b600", "Grinding noise at the drive end", ("sounds like gravel", "rumbling"), "bearing-block"),
    ("b600", "Smoke at the infeed", ("smells burnt", "fumes in the room"), "exhaust-flap"),
    ("b600", "Oven slow to reach temperature", ("takes an hour to get hot",), "heating-element"),
)

# machine, connector, contacts, family, goes to
CONNECTORS: tuple[tuple[str, str, int, str, str], ...] = (
    ("lc30", "A1-J1", 12, "wire-to-board 2.5 mm", "PS1"),
    ("lc30", "A1-J3", 4, "wire-to-board 2.5 mm", "M1"),
    ("lc30", "A1-J4", 4, "wire-to-board 2.5 mm", "M2"),
    ("lc30", "A1-J11", 6, "flat cable 1.0 mm", "A2"),
    ("lc30", "A2-J1", 12, "flat cable 1.0 mm", "A1"),
    ("wd20", "A1-J1", 8, "blade 6.3 mm", "E1"),
    ("wd20", "A1-J2", 4, "wire-to-board 3.96 mm", "P1"),
    ("wd20", "A1-J7", 10, "wire-to-board 2.5 mm", "B1"),
    ("b600", "K1-X1", 6, "screw terminal", "M1"),
    ("b600", "A3-J12", 14, "circular", "B1"),
)


def _row(**fields: Any) -> Row:
    blank: Row = {
        "variants": (),
        "codes": (),
        "part_numbers": (),
        "designations": (),
        "contacts": (),
        "headings": (),
        "lines": (),
        "heard_as": (),
    }
    fields["machine"] = MACHINES[fields["machine"]][0] if fields["machine"] else ""
    return blank | fields


def _article(name: str) -> str:
    return f"the {name}"


def _pages() -> tuple[Row, ...]:
    rows: list[Row] = []
    names = {(m, i): (name, ref) for m, i, name, ref, *_ in ITEMS}
    for machine, item, name, ref, part, screw, place, _ in ITEMS:
        thing, label = _article(name), f" {ref}" if ref else ""
        rows.append(
            _row(
                url=f"{machine}/{item}.html",
                title=name.capitalize() + (f" ({ref})" if ref else ""),
                kind="item",
                machine=machine,
                part_numbers=(part,),
                designations=(ref,) if ref else (),
                headings=("Where it sits", "Held by", "Procedures"),
                lines=(
                    f"It sits {place}.",
                    f"Held by 4 screws {screw.replace('x', ' × ')} mm.",
                    f"Part number {part}.",
                ),
            )
        )
        rows.append(
            _row(
                url=f"{machine}/replace-{item}.html",
                title=f"Replace {thing}{label}",
                kind="procedure",
                machine=machine,
                designations=(ref,) if ref else (),
                headings=(
                    "Unplug the mains plug and lock it",
                    "Prove dead",
                    f"Remove the four screws of {thing}",
                    f"Lift off {thing}",
                    "Fit the new part",
                    "Electrical safety test",
                ),
                lines=(
                    "Isolate mains, then measure between each pole and earth.",
                    f"{name.capitalize()} sits {place}. Keep the screws {screw} in the screw mat.",
                    "Label and photograph each connector before it is unplugged.",
                    f"Order the new {name} under {part}.",
                    "Tighten crosswise to 1.2 N·m.",
                ),
            )
        )
        rows.append(
            _row(
                url=f"{machine}/check-{item}.html",
                title=f"Check {thing}{label}",
                kind="procedure",
                machine=machine,
                designations=(ref,) if ref else (),
                headings=("Covers off, power off", "Look for damage", "Measure"),
                lines=(
                    f"Inspect {thing} for cracks, discolouration and loose fasteners.",
                    "Resistance is measured with power off and proved dead.",
                    "Compare with the photograph.",
                ),
            )
        )
    for machine, code, says, item in CODES:
        name, ref = names[machine, item]
        rows.append(
            _row(
                url=f"{machine}/code-{code.lower()}.html",
                title=f"{code} {says}",
                kind="code",
                machine=machine,
                codes=(code,),
                designations=(ref,) if ref else (),
                headings=("Causes", "Tests in order", "Remedies"),
                lines=(
                    f"The machine stops and shows {code}.",
                    f"Most often {_article(name)} or its cable.",
                    f"Replace {_article(name)} when the test says so.",
                ),
            )
        )
    for number, (machine, title, heard, item) in enumerate(SYMPTOMS):
        name, ref = names[machine, item]
        trouble = next(row[7] for row in ITEMS if row[:2] == (machine, item))
        rows.append(
            _row(
                url=f"{machine}/symptom-{number:02d}.html",
                title=title,
                kind="symptom",
                machine=machine,
                designations=(ref,) if ref else (),
                heard_as=heard + ((trouble,) if trouble else ()),
                headings=("Causes", "Tests in order"),
                lines=(f"Often {_article(name)}.", "First look whether everything is plugged."),
            )
        )
    for machine, connector, count, family, target in CONNECTORS:
        rows.append(
            _row(
                url=f"{machine}/connector-{connector.lower()}.html",
                title=f"Connector {connector}",
                kind="connector",
                machine=machine,
                designations=(connector,),
                contacts=tuple(f"{connector}:{n}" for n in range(1, count + 1)),
                headings=("Contacts", "Ring-out table", "Face, mating side"),
                lines=(
                    f"{family.capitalize()}, {count} contacts, goes to {target}.",
                    f"{connector}:1 is 24 V DC, {connector}:2 is 0 V.",
                ),
            )
        )
    for machine, (name, variants) in MACHINES.items():
        rows.append(
            _row(
                url=f"{machine}/index.html",
                title=name,
                kind="machine",
                machine=machine,
                variants=variants,
                headings=("Items", "Procedures", "Error codes"),
                lines=("Which variant is it? Look at the type plate.",),
            )
        )
        rows.append(
            _row(
                url=f"{machine}/torque-card.html",
                title="Torque card",
                kind="sheet",
                machine=machine,
                headings=("All torques on one sheet",),
                lines=tuple(f"{row[2]}: {row[5]}, 1.2 N·m" for row in ITEMS if row[0] == machine),
            )
        )
        rows.append(
            _row(
                url=f"{machine}/still-live.html",
                title="Still-live map",
                kind="sheet",
                machine=machine,
                headings=("What stays energised when the main switch is open",),
                lines=("Both sides of the main switch, the supply terminals and the filter stay live.",),
            )
        )
    rows += [
        _row(
            url="lc30/adjust-belt.html",
            title="Set the belt tension",
            kind="procedure",
            machine="lc30",
            headings=("Press in the middle of the belt",),
            lines=("Deflection 4 mm at 5 N. Turn the eccentric.",),
        ),
        _row(
            url="lc30/clean-sensor.html",
            title="Clean the label path",
            kind="procedure",
            machine="lc30",
            headings=("Wipe the lens with isopropanol",),
            lines=("Adhesive residue is the usual reason.",),
        ),
        _row(
            url="lc30/backup.html",
            title="Back up the settings",
            kind="procedure",
            machine="lc30",
            headings=("Save the parameters to a memory stick",),
            lines=("Do this before A1 leaves the machine.",),
        ),
        _row(
            url="wd20/drain.html",
            title="Drain the tank",
            kind="procedure",
            machine="wd20",
            headings=("Open the drain cock", "Let it cool below 40 °C"),
            lines=("Lye is caustic: wear goggles.",),
        ),
        _row(
            url="wd20/descale.html",
            title="Descale the tank heater",
            kind="procedure",
            machine="wd20",
            headings=("Fill with citric acid",),
            lines=("Lime on the heating rod slows heating down.",),
        ),
        _row(
            url="wd20/vent.html",
            title="Vent the circulation pump",
            kind="procedure",
            machine="wd20",
            headings=("Open the bleed screw a half turn",),
            lines=("Air in the housing makes it run dry.",),
        ),
        _row(
            url="b600/grease.html",
            title="Lubricate the chain and the bearings",
            kind="procedure",
            machine="b600",
            headings=("Grease nipples left and right",),
            lines=("Two strokes of high-temperature grease.",),
        ),
        _row(
            url="b600/tension.html",
            title="Adjust the chain tension",
            kind="procedure",
            machine="b600",
            headings=("Loosen the lock nut", "Turn the spindle"),
            lines=("Sag 15 mm between sprockets.",),
        ),
        _row(
            url="b600/earth-test.html",
            title="Protective conductor test",
            kind="procedure",
            machine="b600",
            headings=("Probe every metal cover",),
            lines=("Below 0.3 ohm at 10 A.",),
        ),
        _row(
            url="shop/glossary.html",
            title="Glossary",
            kind="article",
            machine="",
            headings=("Words we use",),
            lines=("Crimp, ferrule, heat-shrink sleeve, cable tie, strain relief.",),
        ),
        _row(
            url="shop/esd.html",
            title="Working at the antistatic bench",
            kind="article",
            machine="",
            headings=("Wrist strap on, mat earthed",),
            lines=("Boards are carried in shielding bags.",),
        ),
        _row(
            url="shop/crimping.html",
            title="Crimping a contact",
            kind="article",
            machine="",
            headings=("Strip, crimp, pull test",),
            lines=("Pull test 20 N for 0.25 mm² wire.",),
        ),
    ]
    return tuple(sorted(rows, key=lambda row: row["url"]))


PAGES: tuple[Row, ...] = _pages()
