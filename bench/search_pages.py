"""A large invented manual and queries for it, from a seed: what the search is measured on.

Words come from pyspellchecker's English list (frequency order) and, for misspellings, from codespell's list of real ones; both
are imported when the benchmark runs and are no part of the program. The tables of other words below were written for
the measurement, before and apart from the search's own list of synonyms (same author, so not wholly independent).
"""

from __future__ import annotations

import gzip
import json
import random
import re
from collections.abc import Callable, Iterable, Sequence
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
    "drive belt": "drivebelt", "door seal": "doorseal", "spray arm": "sprayarm", "feed roller": "feedroller", "oil pan": "oilpan",
    "pump housing": "pumphousing", "gear box": "gearbox", "fan blade": "fanblade", "limit switch": "limitswitch",
    "heat exchanger": "heatexchanger", "lock nut": "locknut", "pressure gauge": "pressuregauge", "crankshaft": "crank shaft",
    "flywheel": "fly wheel", "faceplate": "face plate", "camshaft": "cam shaft", "handwheel": "hand wheel",
    "backplate": "back plate", "thermocouple": "thermo couple", "baseplate": "base plate",
}  # fmt: skip
HEADS = (
    "motor pump valve bearing sensor switch bracket cover hinge gasket piston manifold nozzle conveyor spindle clutch brake "
    "coupling filter fan heater thermostat solenoid regulator actuator cylinder chain sprocket pulley roller tray drawer latch "
    "handle panel chassis duct damper impeller diaphragm strainer magnet encoder resonator carriage plunger bushing lever "
    "turntable hopper chute blade anvil mandrel chuck vise agitator condenser evaporator compressor burner igniter"
).split()
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
STEPS = ("Isolate mains and prove dead", "Open the {i}", "Unplug {w}", "Loosen {n} screws {s}", "Lift off the {i}",
         "Fit the {i}", "Tighten to {t} N·m", "Compare with the photograph", "Close the {i}", "Run the return-to-service check")  # fmt: skip
SIZES = [
    f"M{d} × {length}"
    for d in ("2.5", "3", "4", "5", "6", "8", "10", "12")
    for length in (6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 55)
]


@dataclass(frozen=True)
class Query:
    """One query with the pages that answer it."""

    sort: str
    text: str
    relevant: frozenset[str]


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


@cache
def misspellings() -> dict[str, list[str]]:
    """Right word -> how it is really misspelt, from codespell's list (entries with one correction, letters only)."""
    import codespell_lib

    found: dict[str, list[str]] = {}
    lines = (Path(codespell_lib.__file__).parent / "data" / "dictionary.txt").read_text(encoding="utf-8").splitlines()
    for line in lines:
        wrong, _, right = line.partition("->")
        if wrong.isalpha() and right.isalpha() and wrong.isascii() and right.isascii() and len(right) > 4:
            found.setdefault(right.lower(), []).append(wrong.lower())
    return found


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
                headings.append(step.format(i=name, w=rng.choice(connectors), n=rng.randrange(2, 9), s=rng.choice(SIZES),
                                            t=rng.choice(("0.5", "1.2", "2.4", "6"))))  # fmt: skip
                lines.append(rng.choice(WORK).format(a=next(draw), b=next(draw), c=next(draw)))
            lines.append(
                f"Contact {rng.choice(connectors)}:{rng.randrange(1, 9)} has {rng.choice(('24 V', '5 V', '0 V'))}."
            )
            lines.append(" ".join(next(draw) for _ in range(8)).capitalize() + ".")
            documents.append(Document(url=url, title=f"{verb} the {name}", kind="procedure", machine=machine,
                                      headings=tuple(headings), lines=tuple(lines)))  # fmt: skip
        for at, name in enumerate(names[:6]):
            url = f"{folder}/i{at:03d}.html"
            items[url] = name
            documents.append(Document(url=url, title=name.capitalize(), kind="item", machine=machine, part_numbers=(parts[name],),
                                      lines=(f"Held by {rng.randrange(2, 9)} screws {rng.choice(SIZES)} mm.",)))  # fmt: skip
        letters = "".join(rng.sample("BCDEFHKLPRTU", 2))
        for at in range(8):
            code = f"{letters}-{number % 90 + 10}{at + 1:02d}"
            documents.append(Document(url=f"{folder}/c{at:03d}.html", title=f"{code} {rng.choice(names)} {rng.choice(words[:3000])}",
                                      kind="code", machine=machine, codes=(code,), headings=("Causes", "Tests in order"),
                                      lines=(f"Often the {rng.choice(names)}. See also {letters}-{number % 90 + 10}{rng.randrange(1, 9):02d}.",)))  # fmt: skip
        for at, connector in enumerate(connectors[:5]):
            contacts = tuple(f"{connector}:{n}" for n in range(1, 13))
            documents.append(Document(url=f"{folder}/j{at:03d}.html", title=f"Connector {connector}", kind="connector", machine=machine,
                                      designations=(connector,), contacts=contacts, headings=("Contacts", "Ring-out table"),
                                      lines=(f"{connector}:1 is 24 V DC, {connector}:2 is 0 V.",)))  # fmt: skip
        for at, trouble in enumerate(rng.sample(list(TROUBLES), 6)):
            url = f"{folder}/s{at:03d}.html"
            name = rng.choice(names)
            items[url], troubles[url] = name, trouble
            documents.append(Document(url=url, title=f"{name.capitalize()} {trouble}", kind="symptom", machine=machine,
                                      heard_as=TROUBLES[trouble][0], headings=("Causes", "Tests in order"),
                                      lines=(f"Often the {rng.choice(names)}.",)))  # fmt: skip
    return Manual(tuple(documents), items, troubles)


def _summed(weights: Iterable[float]) -> list[float]:
    total, found = 0.0, []
    for weight in weights:
        total += weight
        found.append(total)
    return found


def queries(made: Manual, half: str, each: int) -> list[Query]:
    """``each`` queries of each of the fifteen classes.

    ``half`` is ``tune`` or ``kept``: other draws, and of the tables of other words (where there are several) every second one.
    """
    rng = random.Random(f"queries {half}")
    turn = half == "kept"
    documents = made.documents
    by_title: dict[str, set[str]] = {}
    for page in documents:
        by_title.setdefault(page.title.lower(), set()).add(page.url)
    procedures = [page for page in documents if page.kind == "procedure"]
    items = [page for page in documents if page.kind == "item"]
    codes = [page for page in documents if page.kind == "code"]
    connectors = [page for page in documents if page.kind == "connector"]
    symptoms = [page for page in documents if page.kind == "symptom"]
    texts = {page.url: text_of(page) for page in documents}
    on_pages: dict[str, set[str]] = {}
    for url, text in texts.items():
        for word in set(re.findall("[a-z]+", text.lower())):
            on_pages.setdefault(word, set()).add(url)

    def declared(field: str, test: Callable[[str], bool]) -> frozenset[str]:
        return frozenset(page.url for page in documents if any(test(value) for value in getattr(page, field)))

    def titled(page: Document) -> frozenset[str]:
        return frozenset(by_title[page.title.lower()])

    def exact_code() -> tuple[str, frozenset[str]]:
        code = rng.choice(codes).codes[0]
        return code, declared("codes", code.__eq__)

    def code_variant() -> tuple[str, frozenset[str]]:
        code = rng.choice(codes).codes[0]
        how: list[Callable[[str], str]] = [lambda c: c.replace("-", ""), str.lower, lambda c: c.lower().replace("-", " "),
                                           lambda c: c.replace("-", "_"), lambda c: c.lower().replace("-", "")]  # fmt: skip
        return rng.choice(how)(code), declared("codes", code.__eq__)

    def part_joined() -> tuple[str, frozenset[str]]:
        part = rng.choice(items).part_numbers[0]
        return rng.choice((part.replace("-", ""), part.replace("-", " "))), declared("part_numbers", part.__eq__)

    def part_partial() -> tuple[str, frozenset[str]]:
        part = rng.choice(items).part_numbers[0]
        first, middle, last = part.split("-")
        typed = rng.choice((f"{first}-{middle}", f"{middle}-{last}", f"{first}{middle}", middle + last))
        return typed, declared("part_numbers", lambda value: typed.replace("-", "") in value.replace("-", ""))

    def contact() -> tuple[str, frozenset[str]]:
        one = rng.choice(rng.choice(connectors).contacts)
        return rng.choice((one, one.lower(), one.replace(":", "."), one.replace("-", ""))), declared(
            "contacts", one.__eq__
        )

    def size() -> tuple[str, frozenset[str]]:
        one = rng.choice(SIZES)
        short = one.replace(" × ", "x")
        typed = rng.choice((short, one, short.lower(), one.replace("×", "x"), short + " screw"))
        return typed, frozenset(url for url, text in texts.items() if re.search(re.escape(one) + r"\b", text))

    def title() -> tuple[str, frozenset[str]]:
        page = rng.choice(procedures)
        return page.title.lower(), titled(page)

    def prefix() -> tuple[str, frozenset[str]]:
        page = rng.choice(procedures)
        words = page.title.lower().replace(" the ", " ").split()
        typed = " ".join(words[:-1]) + " " + words[-1][: rng.randrange(2, 5)]
        return typed, frozenset(
            url for name, urls in by_title.items() if name.replace(" the ", " ").startswith(typed) for url in urls
        )

    def inflected() -> tuple[str, frozenset[str]]:
        page = rng.choice(procedures)
        verb, _, rest = page.title.partition(" the ")
        return f"{rng.choice(VERBS[verb][0])} {rest}" + rng.choice(("", "s")), titled(page)

    def typo_several() -> tuple[str, frozenset[str]]:
        page = rng.choice(
            [page for page in rng.sample(procedures, 50) if sum(len(w) > 4 for w in page.title.split()) > 1]
        )
        words = page.title.lower().replace(" the ", " ").split()
        wrong = rng.sample([at for at, word in enumerate(words) if len(word) > 4], 2)
        return " ".join(misspell(word, rng) if at in wrong else word for at, word in enumerate(words)), titled(page)

    def typo_one() -> tuple[str, frozenset[str]]:
        right, wrong = rng.choice(known)
        return wrong, frozenset(on_pages[right])

    # every second real misspelling for either half
    pairs = [
        (right, wrong)
        for right in sorted(misspellings())
        if right in on_pages
        for wrong in sorted(misspellings()[right])
    ]
    known = [(right, wrong) for right, wrong in pairs[turn::2] if wrong not in on_pages]
    short_pages = [page for page in procedures if made.items[page.url].split(" ", 1)[1] in SHORT]

    def abbreviation() -> tuple[str, frozenset[str]]:
        page = rng.choice(short_pages)
        full = made.items[page.url].split(" ", 1)[1]
        return page.title.lower().replace(" the ", " ").replace(full, rng.choice(_of_half(SHORT[full], turn))), titled(
            page
        )

    def lay_symptom() -> tuple[str, frozenset[str]]:
        page = rng.choice(symptoms)
        recorded, others = TROUBLES[made.troubles[page.url]]
        words = rng.choice((*recorded, *_of_half(others, turn), *_of_half(others, turn)))
        name = made.items[page.url]
        return rng.choice((f"{name} {words}", f"{words} {name}")), titled(page)

    def synonym() -> tuple[str, frozenset[str]]:
        page = rng.choice(procedures)
        verb, _, rest = page.title.partition(" the ")
        return f"{rng.choice(_of_half(VERBS[verb][1], turn))} {rest}", titled(page)

    compound_pages = [page for page in procedures if made.items[page.url].split(" ", 1)[1] in COMPOUNDS]

    def compound() -> tuple[str, frozenset[str]]:
        page = rng.choice(compound_pages)
        full = made.items[page.url].split(" ", 1)[1]
        return page.title.lower().replace(" the ", " ").replace(full, COMPOUNDS[full]), titled(page)

    classes: dict[str, Callable[[], tuple[str, frozenset[str]]]] = {
        "exact code": exact_code, "code variants": code_variant, "part number joined": part_joined,
        "part number in part": part_partial, "contact": contact, "fastener size": size, "title": title, "prefix": prefix,
        "inflected": inflected, "typos, several words": typo_several, "real typo, one word": typo_one,
        "abbreviation": abbreviation, "symptom, lay words": lay_symptom, "verb synonym": synonym, "compound": compound,
    }  # fmt: skip
    return [Query(sort, *ask()) for sort, ask in classes.items() for _ in range(each)]


def _of_half(words: Sequence[str], turn: bool) -> Sequence[str]:
    return words[turn::2] or words


def misspell(word: str, rng: random.Random) -> str:
    """The word with one slip of the hand: two letters changed over, one left out, doubled or hit beside."""
    at = rng.randrange(1, len(word) - 1)
    kind = rng.randrange(4)
    if kind == 0:
        return word[:at] + word[at + 1] + word[at] + word[at + 2 :]
    if kind == 1:
        return word[:at] + word[at + 1 :]
    if kind == 2:
        return word[:at] + word[at] + word[at:]
    return word[:at] + rng.choice("abcdefghijklmnopqrstuvwxyz") + word[at + 1 :]


def text_of(page: Document) -> str:
    """All a page says, as a reader of the page sees it."""
    return "\n".join((page.title, *page.codes, *page.part_numbers, *page.designations, *page.contacts, *page.heard_as,
                      *page.headings, *page.lines))  # fmt: skip


def markdown(page: Document) -> str:
    """The page for another generator: the same words under the same headings."""
    about: Sequence[tuple[str, tuple[str, ...]]] = (
        ("Codes", page.codes), ("Part number", page.part_numbers), ("Designation", page.designations), ("Contacts", page.contacts),
        ("Heard as", page.heard_as))  # fmt: skip
    parts = [f"# {page.title}", page.machine]
    parts += [f"{name}: {', '.join(values)}" for name, values in about if values]
    rest = list(page.lines)
    for heading in page.headings:
        parts.append(f"## {heading}")
        if rest:
            parts.append(rest.pop(0))
    return "\n\n".join(parts + rest) + "\n"


__all__ = ["Manual", "Query", "english", "manual", "markdown", "misspellings", "queries", "text_of"]
