"""A step that does not start with a verb, a sentence too long to be held in the head, a word this trade uses otherwise.

After the countable rules of ASD-STE100 (from memory): a step sentence has at most 20 words, a descriptive sentence 25.
A number with its unit, a hyphenated word and a designation count as one word; words in brackets count as a sentence
of their own. A value in prose has no origin and no tolerance that anything can check: it belongs in a record's key.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from benchleaf.checks.workshop_verbs import VERBS
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place, Severity
from benchleaf.text import Text

CODES = ("step-without-verb", "sentence-too-long", "other-word", "value-in-prose", "says-safe")
BY_MACHINE = True
STEP_WORDS, OTHER_WORDS = 20, 25

OTHER_WAY = {
    "device": "machine", "gadget": "machine", "flavour": "variant", "upgrade": "modification",
    "component": "item or part",
    "components": "items or parts", "hardware": "fasteners", "zip tie": "tie", "cord": "cable", "how-to": "procedure",
    "recipe": "procedure", "debugging": "fault isolation", "prerequisites": "required conditions", "risk": "hazard",
    "checkpoint": "hold point", "hack": "modification", "compatibility": "applicability",
    "ticket": "symptom or error code",
}  # fmt: skip
"""The vocabulary's words that are unmistakable in prose, with what this shop's language says instead."""

_OTHER = re.compile(rf"\b({'|'.join(sorted(OTHER_WAY, key=len, reverse=True))})\b", re.IGNORECASE)
_SAFE = re.compile(r"\b(?:is|are|now|perfectly|completely|quite|be) safe\b|\bsafe to\b", re.IGNORECASE)
_UNITS = (
    r"N·m|Nm|N\.m|cN·m|in·lbf|kgf·cm|mm²|mm2|mm|cm|µF|uF|mF|F|ohm|kohm|Mohm|Ω|kΩ|MΩ|V(?: [AD]C)?|mV|kV|mA|A|W|kW"
    r"|°C|K|kPa|bar|Pa|psi|N|kg|min|s|h"
)
_VALUE = re.compile(rf"(?<![\w.-])\d+(?:[.,]\d+)?(?:\s*(?:±|\.\.|to|–)\s*\d+(?:[.,]\d+)?)?\s?(?:{_UNITS})(?![\w·²])")
_BRACKETS = re.compile(r"\(([^()]*)\)")
_SENTENCE_END = re.compile(r"(?<=[.!?:;])\s+(?=[A-Z\"'])|\n\s*\n|\n\s*[-*]\s+")
_WORD = re.compile(r"[^\W_](?:[\w’'./:·°²-]*[\w°²])?")
_LETTERS = re.compile(r"[a-z]+")
_DIGIT = re.compile(r"\d")
_NOTED = frozenset({"safe", *(_LETTERS.findall(word)[0] for word in OTHER_WAY)})


def run(derived: Derived) -> Iterator[Finding]:
    for _, procedure in derived.library.procedures():
        yield from _prose(procedure.title, step=False)
        for step in procedure.steps:
            yield from _starts_with_verb(step.title)
            for text in (step.title, step.text, step.expect, step.powered):
                if text is not None:
                    yield from _prose(text, step=True)
        if procedure.text is not None:
            yield from _prose(procedure.text, step=False)
    for message in derived.library.safety.values():
        for text in (message.hazard, message.consequence, message.avoid):
            if text is not None:
                yield from _prose(text, step=False, values=False)
    for machine in derived.library.machines.values():
        for trouble in (*machine.codes.values(), *machine.symptoms.values()):
            yield from _prose(trouble.prose, step=False)


def _starts_with_verb(title: Text) -> Iterator[Finding]:
    first = re.match(r"[A-Za-z]+", title)
    if first is None or first.group().lower() not in VERBS:
        shown = first.group() if first else title[:12]
        message = f"this step starts with '{shown}', not with what to do"
        help = "begin with a verb: take, loosen, measure …"
        yield Finding("step-without-verb", message, title.place, help, Severity.WARNING)


def sentences(text: str) -> Iterator[tuple[int, str]]:
    """The sentences of a text with where each starts; what stands in brackets comes as one of its own."""
    bare = _BRACKETS.sub(lambda found: " " * len(found.group()), text)
    for found in _BRACKETS.finditer(text):
        yield found.start(1), found.group(1)
    start = 0
    for end in [*_SENTENCE_END.finditer(bare), None]:
        stop = end.start() if end else len(bare)
        if bare[start:stop].strip():
            yield start, bare[start:stop]
        start = end.end() if end else stop


def count_words(sentence: str) -> int:
    """The words of a sentence; a number with its unit counts once."""
    return len(_WORD.findall(_VALUE.sub("n", sentence)))


def _is_plain(text: str) -> bool:
    """Whether nothing is to be said of a text, at a glance: few words, no value, none of the words looked for."""
    if not text.isascii():
        return False
    words = _LETTERS.findall(text.lower())
    if not _NOTED.isdisjoint(words):
        return False
    if _DIGIT.search(text) is None:
        return len(words) <= STEP_WORDS
    return len(_WORD.findall(text)) <= STEP_WORDS and _VALUE.search(text) is None


def _prose(text: Text, *, step: bool, values: bool = True) -> Iterator[Finding]:
    if _is_plain(text):
        return
    for start, sentence in sentences(text):
        first = re.match(r"\W*([A-Za-z]+)", sentence)
        orders = step and first is not None and first.group(1).lower() in VERBS
        most = STEP_WORDS if orders else OTHER_WORDS
        words = count_words(sentence)
        if words > most:
            kind = "step sentence" if orders else "sentence"
            message = f"this {kind} has {words} words, more than {most}"
            yield Finding("sentence-too-long", message, _at(text, start), "make two of it", Severity.WARNING)
    for found in _OTHER.finditer(text):
        help = f"say {OTHER_WAY[found.group().lower()]}"
        yield Finding(
            "other-word",
            f"'{found.group()}' is called otherwise here",
            _at(text, found.start()),
            help,
            Severity.WARNING,
        )
    for found in _SAFE.finditer(text):
        help = "say what was isolated and what was measured; nothing here says that anything is safe"
        message = f"this text says '{found.group()}'"
        yield Finding("says-safe", message, _at(text, found.start()), help, Severity.WARNING)
    for found in _VALUE.finditer(text) if values else ():
        help = "put it in a key (`values`, `torque`, `expect`, `takes` …), where it has an origin and is checked"
        yield Finding(
            "value-in-prose",
            f"the value '{found.group()}' stands in prose",
            _at(text, found.start()),
            help,
            Severity.WARNING,
        )


def _at(text: Text, start: int) -> Place:
    """The place of a character of a text: exact on one line, the line alone in a block, which starts one down."""
    line = text.count("\n", 0, start)
    if line == 0 and "\n" not in text:
        return text.place.part(start, 1)
    return Place(text.place.file, text.place.line + line + 1, 1)
