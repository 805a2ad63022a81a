"""Writes ``vectors.json``: texts and what the tokeniser makes of them, which the page's tokeniser must make too.

Run it (``python -m tests.search.vectors``) after a wanted change, and read the difference before committing it.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from benchleaf.search.words import are_forms, bases, family_prefix, normalise, tokenise

FILE = Path(__file__).with_name("vectors.json")

TEXTS = (
    "E-0417",
    "e0417 E 0417 E_0417 E–0417 E‑0417",
    "J1-12 J11-2 J1:12 J112",
    "A1-J3:7, A1-J3.7; (A1-J3)",
    "K1-X1/4 and b600/A1",
    "0.6 N·m 0,6 Nm 0.5–0.7 N·m",
    "M3×8 M3 × 8 mm M3x8mm M3 x 8 M2.5 × 5",
    "2 x 4 screws, 24-contact plug",
    "150 µF ±20 % 4.7 kΩ 25 mm² −40 °C",
    "Top-cover's hinge isn't loose; technicians' notes",
    "heat-shrink e-stop re-use",
    "Größe Ångström façade œuvre Straße İstanbul ΣΑΣ",
    "ﬁlter ㎏ Ⅻ ½ ２０ ①",
    "кабель 電源 コネクタ ٣٤",
    "and/or on/off",
    "a,b 1,5 E1,E2 12:30 end.Start",
    "…—!? '' -- × x",
    "",
    " ",
    "\xad soft\xadhyphen",
    "emoji 🔧 𝟏𝟐 tool",
    "don’t DON'T o’clock",
    "30-2207-11 30.2207.11 30 2207 11 30220711",
    "X",
    "xx x 3",
    "3 x",
    "3 ×",
    "M10 x",
    "été",
    '<script>alert(1)</script> & "quotes" \\ back',
    "snake_case_name __dunder__",
    "AL-1102: Conveyor motor overload",
    "v1.2.3-rc4",
    "10–12 mm",
    "pre–set J1–12",
)
WORDS = """
remove removes removed removing removal removals fit fits fitting fitted tap tape taping tapping label
labelled labeling fill filling filled assembly assemblies replace replacement replacing adjust adjustment
inspection inspected lubrication lubricate lubricated install installation installing isolation isolate
isolated element elements washer washers wash bus gas glass switches boxes fuses hose hoses shelves carry
carried carries drying dried terminal signal manual pe is used ring bring thing motor's leds analysis status
feed feeding
"""
PAIRS = """
remove/removal remove/removing tap/tape fit/fitting washer/wash label/labelled fill/file switch/switches
fuse/fuses lubricate/lubrication heater/heat element/elements carry/carried ring/rings hose/hoses
isolate/isolation gas/gases bring/bred leak/leaking stop/stopped dry/dries
"""


def vectors() -> dict[str, list[Any]]:
    """What the Python side makes of the texts, words and pairs."""
    texts = [(text, normalise(text)) for text in TEXTS]
    pairs = [pair.split("/") for pair in PAIRS.split()]
    return {
        "tokens": [[raw, [[t.term, t.kind, text[t.start : t.end]] for t in tokenise(text)]] for raw, text in texts],
        "bases": [[word, sorted(bases(word)), family_prefix(word)] for word in WORDS.split()],
        "forms": [[one, other, are_forms(one, other)] for one, other in pairs],
    }


def read_vectors() -> dict[str, list[Any]]:
    """The committed vectors."""
    loaded: dict[str, list[Any]] = json.loads(FILE.read_text(encoding="utf-8"))
    return loaded


def main() -> None:
    """Writes the file, one vector a line."""
    parts = [
        f' "{name}": [\n' + ",\n".join("  " + json.dumps(row) for row in rows) + "\n ]"
        for name, rows in vectors().items()
    ]
    FILE.write_text("{\n" + ",\n".join(parts) + "\n}\n", encoding="utf-8")


if __name__ == "__main__":
    main()
