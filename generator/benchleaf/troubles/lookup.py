"""Finding a code or symptom by what somebody types, reads out or says on the telephone.

A code is the same with or without capitals, spaces, dashes, leading zeros and ``0x``, and with the letter O for a zero.
What is written exactly so is found first; only when nothing is, what would be the same to a tired reader. A symptom is
found by its id, its title, or the words in which customers say it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from benchleaf.model import Machine
from benchleaf.records.codes import CodeRecord, SymptomRecord
from benchleaf.scope import plain_code

Trouble = CodeRecord | SymptomRecord
_DIGITS = re.compile(r"[0-9]+")
_WORDS = re.compile(r"[^\W_]+(?:'[^\W_]+)?")
_DASHES = str.maketrans(dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212", "-"))
LITTLE = frozenset({"a", "an", "the", "it", "it's", "its", "is", "and", "i", "on", "of", "to", "when", "you", "in"})
"""Words that say nothing about a trouble."""
FEWEST = 0.5
"""The least share of a saying's telling words that have to be heard."""


def same_code(code: str) -> str:
    """A code as a tired reader takes it: ``0x07``, ``E-O7`` and ``e 7`` without what does not tell codes apart."""
    plain = plain_code(code.translate(_DASHES)).replace("_", "").replace(".", "")
    if plain.startswith("0X") and len(plain) > 2:
        plain = plain[2:]
    plain = plain.replace("O", "0")
    return _DIGITS.sub(lambda run: run.group().lstrip("0") or "0", plain)


def codes_like(codes: Iterable[str], typed: str) -> tuple[str, ...]:
    """The codes meant by ``typed``, as recorded: those spelled so, else those that are the same to a tired reader.

    More than one when two recorded codes differ by no more than that.
    """
    known = tuple(dict.fromkeys(codes))
    wanted = typed.removeprefix("code ").translate(_DASHES)
    exact = tuple(code for code in known if code == wanted)
    plain = exact or tuple(code for code in known if plain_code(code) == plain_code(wanted))
    return plain or tuple(code for code in known if same_code(code) == same_code(wanted))


def troubles_like(machine: Machine, typed: str) -> tuple[Trouble, ...]:
    """The codes and symptoms of a machine meant by ``typed``, the surest first; empty when there is none."""
    codes = [machine.codes[one] for one in codes_like(machine.codes, typed)]
    if codes:
        return tuple(codes)
    if typed in machine.symptoms:
        return (machine.symptoms[typed],)
    shown = [code for code in machine.codes.values() if code.shown and _said(code.shown) == _said(typed)]
    return tuple(shown) or symptoms_heard(machine.symptoms, typed)


def symptoms_heard(symptoms: Mapping[str, SymptomRecord], said: str) -> tuple[SymptomRecord, ...]:
    """The symptoms whose id, title or sayings share their telling words with ``said``, most in common first."""
    heard = set(_said(said))
    found = []
    for symptom in symptoms.values():
        sayings = (symptom.id.replace("-", " "), symptom.title or "", *symptom.heard_as)
        share = max(_share(set(_said(one)), heard) for one in sayings)
        if share >= FEWEST:
            found.append((-share, str(symptom.id), symptom))
    return tuple(one for _, _, one in sorted(found, key=lambda row: row[:2]))


def _said(words: str) -> tuple[str, ...]:
    folded = words.casefold().replace("\u2019", "'")
    return tuple(word for word in _WORDS.findall(folded) if word not in LITTLE)


def _share(saying: set[str], heard: set[str]) -> float:
    """How much of a saying was heard, and of what was heard how much is in the saying: the smaller counts."""
    both = len(saying & heard)
    return min(both / len(saying), both / len(heard)) if saying and heard else 0.0
