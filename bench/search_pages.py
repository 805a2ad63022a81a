"""A large invented manual from a seed: what the search is measured on.

Words come from pyspellchecker's English list (frequency order), imported when the benchmark runs and no part of the
program. The tables of other words were written for the measurement, apart from the search's own list of synonyms
(by the same author, so not wholly independent).
"""

from __future__ import annotations

import gzip
import json
import random
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from benchleaf.search import Document

# verb -> how it is inflected in a query, other words for it
VERBS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "Replace": (("replacing", "replaced", "replacement"), ("change", "swap", "exchange", "renew")),
    "Remove": (("removing", "removed", "removal"), ("take out", "take off", "dismount", "detach")),
    "Install": (("installing", "installed", "installation"), ("fit", "mount", "put in")),
    "Check": (("checking", "checked"), ("inspect", "test", "examine")),
    "Clean": (("cleaning", "cleaned"), ("wipe", "wash")),
    "Adjust": (("adjusting", "adjusted", "adjustment"), ("set", "align", "tune")),
    "Lubricate": (("lubricating", "lubricated", "lubrication"), ("grease", "oil")),
    "Drain": (("draining", "drained"), ("empty", "pump out")),
    "Calibrate": (("calibrating", "calibrated", "calibration"), ("recalibrate", "zero")),
    "Disconnect": (("disconnecting", "disconnected"), ("unplug",)),
    "Tighten": (("tightening", "tightened"), ("torque",)),
    "Descale": (("descaling", "descaled"), ("decalcify",)),
    "Repair": (("repairing", "repaired"), ("fix", "mend")),
    "Measure": (("measuring", "measured"), ("meter",)),
}
# things that are written in full on the pages and short in a query
SHORT: dict[str, tuple[str, ...]] = {
    "power supply": ("psu",),
    "circuit board": ("pcb",),
    "emergency stop": ("e-stop", "estop"),
    "temperature sensor": ("temp sensor", "ntc"),
    "circuit breaker": ("mcb",),
    "programmable logic controller": ("plc",),
    "variable frequency drive": ("vfd",),
    "residual current device": ("rcd",),
    "human machine interface": ("hmi",),
    "protective conductor": ("pe",),
    "transformer": ("xfmr", "trafo"),
    "potentiometer": ("pot",),
    "capacitor": ("cap",),
    "relay": ("rly",),
    "display": ("lcd",),
}
# two words on the pages, run together in a query, and the other way round
COMPOUNDS: dict[str, str] = {
    "drive belt": "drivebelt",
    "door seal": "doorseal",
    "spray arm": "sprayarm",
    "feed roller": "feedroller",
    "oil pan": "oilpan",
    "pump housing": "pumphousing",
    "gear box": "gearbox",
    "fan blade": "fanblade",
    "limit switch": "limitswitch",
    "heat exchanger": "heatexchanger",
    "lock nut": "locknut",
    "pressure gauge": "pressuregauge",
    "crankshaft": "crank shaft",
    "flywheel": "fly wheel",
    "faceplate": "face plate",
    "camshaft": "cam shaft",
    "handwheel": "hand wheel",
    "backplate": "back plate",
    "thermocouple": "thermo couple",
    "baseplate": "base plate",
}
HEADS = """
motor pump valve bearing sensor switch bracket cover hinge gasket piston manifold nozzle conveyor spindle
clutch brake coupling filter fan heater thermostat solenoid regulator actuator cylinder chain sprocket pulley
roller tray drawer latch handle panel chassis duct damper impeller diaphragm strainer magnet encoder resonator
carriage plunger bushing lever turntable hopper chute blade anvil mandrel chuck vise agitator condenser
evaporator compressor burner igniter
""".split()  # noqa: SIM905
# what is wrong -> (the words recorded with the symptom, the words someone else uses)
TROUBLES: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "does not start": (("nothing happens", "no reaction"), ("won't turn on", "dead", "will not start")),
    "squeals": (("high pitched", "whistles"), ("screeching", "squeaking")),
    "rattles": (("something loose inside",), ("clanking", "knocking")),
    "leaks": (("drips on the floor",), ("dripping", "puddle under")),
    "overheats": (("smells hot", "far too warm"), ("gets too hot", "over temperature")),
    "jams": (("will not move", "stuck"), ("blocked", "seized")),
    "vibrates": (("whole table moves",), ("shaking", "wobbles")),
    "smokes": (("fumes",), ("smoke coming out",)),
    "stays cold": (("lukewarm at best",), ("not heating", "won't heat")),
    "runs slowly": (("takes all day",), ("sluggish", "slow")),
    "trips the breaker": (("lights go out",), ("blows fuse",)),
    "shows a dark screen": (("cannot read anything",), ("blank display", "black screen")),
    "stops by itself": (("quits half way",), ("shuts down", "switches itself off")),
    "smells burnt": (("like a hair dryer",), ("stinks", "burning smell")),
}
NAMES = ("Harrow", "Lintel", "Spindrift", "Cobnut", "Tarn", "Quillon", "Fennick", "Ostler", "Plover", "Wrackline")
WORK = (
    "Keep the {a} {b} clear of the {c} while it is open.",
    "The {a} is seated when the {b} touches the {c}.",
    "Look at the {a} for {b} and {c}; note what you see.",
    "If the {a} is {b}, go on with the {c}.",
    "Put the {a} in the tray beside the {b} {c}.",
    "Wipe {a} off the {b} before the {c} goes back.",
    "Turn the {a} until the {b} is {c}.",
    "The {b} {a} belongs to the {c} side.",
)
STEPS = (
    "Isolate mains and prove dead",
    "Open the {i}",
    "Unplug {w}",
    "Loosen {n} screws {s}",
    "Lift off the {i}",
    "Fit the {i}",
    "Tighten to {t} N·m",
    "Compare with the photograph",
    "Close the {i}",
    "Run the return-to-service check",
)
SIZES = [
    f"M{d} × {length}"
    for d in ("2.5", "3", "4", "5", "6", "8", "10", "12")
    for length in (6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 55)
]


@dataclass(frozen=True)
class Manual:
    """The documents, and for each what the queries are made of."""

    documents: tuple[Document, ...]
    items: dict[str, str]  # url -> name of the item its title is about
    troubles: dict[str, str]  # url of a symptom -> its trouble


@cache
def english() -> list[str]:
    """English words of four letters and more, the most frequent first."""
    import spellchecker

    packed = Path(spellchecker.__file__).parent / "resources" / "en.json.gz"
    counts: dict[str, int] = json.loads(gzip.decompress(packed.read_bytes()))
    words = [word for word in counts if len(word) > 3 and word.isascii() and word.isalpha()]
    return sorted(words, key=lambda word: (-counts[word], word))


def manual(procedures: int, seed: int) -> Manual:
    """A manual of so many procedures, and a quarter as many pages of other kinds."""
    rng = random.Random(seed)
    words = english()[300:45_300]  # without the very commonest: they are no words of a workshop
    # Zipf: the word of rank r comes with weight 1 / (r + 30); every word also has a chance of its own
    weights = [1 / (rank + 30) for rank in range(len(words))]
    draw = iter(rng.choices(words, cum_weights=_summed(weights), k=procedures * 45))
    modifiers = words[2000:6000]
    documents: list[Document] = []
    items: dict[str, str] = {}
    troubles: dict[str, str] = {}
    machines = max(2, procedures // 100)
    special = [*SHORT, *COMPOUNDS]
    for number in range(machines):
        machine = f"{NAMES[number % len(NAMES)]} {chr(65 + number % 26)}{100 + number} {rng.choice(modifiers)}"
        folder = f"m{number:03d}"
        names = [f"{rng.choice(modifiers)} {rng.choice(special if at % 3 == 0 else HEADS)}" for at in range(25)]
        parts = {name: f"{number + 10}-{rng.randrange(1000, 9999)}-{rng.randrange(10, 99)}" for name in names}
        connectors = [f"A{a}-J{j}" for a in range(1, 4) for j in rng.sample(range(1, 30), 2)]
        count = procedures // machines + (number < procedures % machines)
        pairs = rng.sample([(verb, name) for verb in VERBS for name in names], count)
        for at, (verb, name) in enumerate(pairs):
            url = f"{folder}/p{at:03d}.html"
            items[url] = name
            headings, lines = [], []
            for step in STEPS:
                headings.append(
                    step.format(
                        i=name,
                        w=rng.choice(connectors),
                        n=rng.randrange(2, 9),
                        s=rng.choice(SIZES),
                        t=rng.choice(("0.5", "1.2", "2.4", "6")),
                    )
                )
                lines.append(rng.choice(WORK).format(a=next(draw), b=next(draw), c=next(draw)))
            lines.append(
                f"Contact {rng.choice(connectors)}:{rng.randrange(1, 9)} has {rng.choice(('24 V', '5 V', '0 V'))}."
            )
            lines.append(" ".join(next(draw) for _ in range(8)).capitalize() + ".")
            documents.append(
                Document(
                    url=url,
                    title=f"{verb} the {name}",
                    kind="procedure",
                    machine=machine,
                    headings=tuple(headings),
                    lines=tuple(lines),
                )
            )
        for at, name in enumerate(names[:6]):
            url = f"{folder}/i{at:03d}.html"
            items[url] = name
            documents.append(
                Document(
                    url=url,
                    title=name.capitalize(),
                    kind="item",
                    machine=machine,
                    part_numbers=(parts[name],),
                    lines=(f"Held by {rng.randrange(2, 9)} screws {rng.choice(SIZES)} mm.",),
                )
            )
        letters = "".join(rng.sample("BCDEFHKLPRTU", 2))
        for at in range(8):
            code = f"{letters}-{number % 90 + 10}{at + 1:02d}"
            documents.append(
                Document(
                    url=f"{folder}/c{at:03d}.html",
                    title=f"{code} {rng.choice(names)} {rng.choice(words[:3000])}",
                    kind="code",
                    machine=machine,
                    codes=(code,),
                    headings=("Causes", "Tests in order"),
                    lines=(f"Often the {rng.choice(names)}. See also {code[:-2]}{rng.randrange(1, 9):02d}.",),
                )
            )
        for at, connector in enumerate(connectors[:5]):
            contacts = tuple(f"{connector}:{n}" for n in range(1, 13))
            documents.append(
                Document(
                    url=f"{folder}/j{at:03d}.html",
                    title=f"Connector {connector}",
                    kind="connector",
                    machine=machine,
                    designations=(connector,),
                    contacts=contacts,
                    headings=("Contacts", "Ring-out table"),
                    lines=(f"{connector}:1 is 24 V DC, {connector}:2 is 0 V.",),
                )
            )
        for at, trouble in enumerate(rng.sample(list(TROUBLES), 6)):
            url = f"{folder}/s{at:03d}.html"
            name = rng.choice(names)
            items[url], troubles[url] = name, trouble
            documents.append(
                Document(
                    url=url,
                    title=f"{name.capitalize()} {trouble}",
                    kind="symptom",
                    machine=machine,
                    heard_as=TROUBLES[trouble][0],
                    headings=("Causes", "Tests in order"),
                    lines=(f"Often the {rng.choice(names)}.",),
                )
            )
    return Manual(tuple(documents), items, troubles)


def _summed(weights: Iterable[float]) -> list[float]:
    total, found = 0.0, []
    for weight in weights:
        total += weight
        found.append(total)
    return found


def text_of(page: Document) -> str:
    """All a page says, as a reader of the page sees it."""
    return "\n".join(
        (
            page.title,
            *page.codes,
            *page.part_numbers,
            *page.designations,
            *page.contacts,
            *page.heard_as,
            *page.headings,
            *page.lines,
        )
    )


def markdown(page: Document) -> str:
    """The page for another generator: the same words under the same headings."""
    about: Sequence[tuple[str, tuple[str, ...]]] = (
        ("Codes", page.codes),
        ("Part number", page.part_numbers),
        ("Designation", page.designations),
        ("Contacts", page.contacts),
        ("Heard as", page.heard_as),
    )
    parts = [f"# {page.title}", page.machine]
    parts += [f"{name}: {', '.join(values)}" for name, values in about if values]
    rest = list(page.lines)
    for heading in page.headings:
        parts.append(f"## {heading}")
        if rest:
            parts.append(rest.pop(0))
    return "\n\n".join(parts + rest) + "\n"
