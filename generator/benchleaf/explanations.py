"""The manual page of every code a finding can carry: of reading, of the language, of names, of paper, of checks."""

from __future__ import annotations

from collections.abc import Mapping

from benchleaf.checks import CHECKS
from benchleaf.reading_codes import READING_CODES

LANGUAGE_CODES: Mapping[str, str] = {
    "bad-applies": "What stands under `applies` is not a variant, a modification, a serial or a range of serials.\n\n"
    "Terms are joined by 'or': `[mk2, not lift, 0500..0899]`. A range may be open at one end: `0900..`.",
    "bad-count": "A count is a whole number without a unit.",
    "bad-id": "A name is not spelled as its kind of name is.\n\n"
    "An id has lower-case letters and digits, words joined by hyphens: `rear-guard`. A designation has capitals, then\n"
    "digits: `A1`. A connector is its host, a hyphen and its own name: `A1-J3`. A contact has a dot: `A1-J3.7`.",
    "bad-isolator": "Under `isolate` stands what one does and to which item: `unplug XP1`, `open Q1`, `close V1`,\n"
    "`block Y1`, in the order it is done.",
    "bad-motion": "A motion is how it moves, which way seen from the front, and how far: `slide back 12 mm`.",
    "bad-number": "A number is digits, with a point before the decimals.",
    "bad-object": "A verb cannot act on what stands behind it. Each verb wants its own kind of object:\n"
    "`remove: 2 x tray.screws`, `move: tray to service`, `lift lead: W3 at F1.1`, `cap: hose at P1`.",
    "bad-quantity": "A quantity is a number with a unit, and if need be a tolerance: `0.6 ± 0.1 N·m`, `0.5..0.7 N·m`,\n"
    "`below 0.5 ohm`. The units are a closed list, so that nothing is guessed.",
    "bad-share": "A share says how often a cause gives an outcome: a number from 0 to 1.",
    "comment-in-text": "A `#` after a space ends the text there; the rest of the line is a comment and is lost.\n\n"
    "Put the text on the lines below `text: |`, two spaces in.",
    "empty-choice": "An inner list in a choice list means 'any one of these'. An empty one can never be met.",
    "missing-key": "A key that this record cannot do without is not there.",
    "missing-record": "The first line of a record says its kind: `record: machine`.",
    "several-lines": "This text is a title or a name and stands on one line.",
    "two-values": "An entry says either what was seen (`value`) or what was decided (`adjudicated`), not both.",
    "unknown-key": "This record has no such key. What it is for may have another name: see the list in the message.",
    "unknown-record": "There is no such kind of record.",
    "unknown-verb": "A step does its work with a closed list of verbs, each of which the replay understands.",
    "unknown-word": "Only the words listed are understood here.",
    "wrong-dimension": "The quantity is of another kind than asked for: a length where a torque is wanted, say.",
    "wrong-type": "A list, a table of keys or a single value stands where one of the others is wanted.",
}

NAME_CODES: Mapping[str, str] = {
    "id-twice": "Two things carry the same name, so a reference to it could mean either.",
    **{
        f"unknown-{kind}": f"A record names {words} that is declared nowhere: a slip of the pen, or something not yet\n"
        "recorded. Everything that is named is declared once."
        for kind, words in {
            "adjuster": "an adjuster", "cable": "a cable or line", "check": "a check", "circuit": "a fluid circuit",
            "code": "an error code", "connector": "a connector", "contact": "a contact", "energy": "an energy",
            "fastener": "a fastener", "item": "an item", "line": "a line", "machine": "a machine",
            "name": "a variant or modification", "position": "a position", "procedure": "a procedure",
            "safety": "a safety message", "set": "a fastener set", "signal": "a signal", "source": "a source",
            "supply": "a supply", "tie": "a tie", "value": "a value",
        }.items()
    },
}  # fmt: skip

PAPER_CODES: Mapping[str, str] = {
    "no-glyph": "A text holds a character that no font shipped with the program has, so a print would have a hole\n"
    "there.\n\n"
    "Nothing is printed with a hole in it. Write it in letters the fonts have (Latin, Greek, Cyrillic, signs\n"
    "of units), or leave it out.",
    "not-printed": "A sheet cannot be set as a PDF, mostly because a picture on it is broken.\n\n"
    "Only `build --paper`, `print` and `pack` find out. Export the picture again as PNG, JPEG, WebP or SVG, or leave\n"
    "it out; the sheet is then made without it.",
}


def explanations() -> dict[str, str]:
    """Code → manual page, by code. A check's page stands under each of its codes."""
    pages = {**READING_CODES, **LANGUAGE_CODES, **NAME_CODES, **PAPER_CODES}
    for check in CHECKS:
        pages |= {code: check.pages.get(code, check.manual) for code in check.codes if code not in pages}
    return dict(sorted(pages.items()))
