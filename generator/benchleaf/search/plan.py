"""What a query asks for: a slot for each word of it, and for each slot the words of the index that would do.

A word does by itself, in its other forms, as the beginning of a word (the last one typed), by a synonym, joined to
its neighbour, taken apart, or, when nothing at all is known of it, by what it may be a misspelling of. A code does as
it is, in its other ways of writing, or as a beginning; it is never corrected.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import field

from benchleaf.frozen import dataclass
from benchleaf.search.codes import has_digit, join_runs, runs_of
from benchleaf.search.reader import Entry, Index
from benchleaf.search.spelling import LONGEST, WHOLE, distance, guesses, letters_needed
from benchleaf.search.words import Token, are_forms, asked, bases, content, family_prefix, normalise

ANY, LONG_ONLY, PART = range(3)
"""How a term was come by: as it is; without the dashes that were typed (short forms do not count); as a beginning."""

FORM, SYNONYM, JOINED, SPLIT = 0.9, 0.7, 0.95, 0.8
COMPLETED, COMPLETED_KNOWN, CODE_COMPLETED, CODE_SPLIT = 0.7, 0.5, 0.7, 0.8
_COMPLETIONS = 24
_SIZE = re.compile(r"m[0-9]+(-[0-9]+)?")
_LENGTH = re.compile(r"([0-9]+(?:-[0-9]+)?)(mm)?")


@dataclass(frozen=True, slots=True)
class Member:
    """One term of the index that would do, and how well."""

    entry: Entry
    weight: float
    mode: int


@dataclass(frozen=True, slots=True)
class Alternative:
    """Words that must all be on the page (each in any one of its terms), and how well they do for the slot."""

    weight: float
    families: tuple[tuple[Member, ...], ...]
    reading: int = 0  # from 1: the first, second … of several readings of a misspelt word that is the whole query


@dataclass(slots=True)
class Slot:
    """One word of the query as typed, and what would do for it; the first ``own`` of them are the word itself."""

    typed: str
    alternatives: list[Alternative] = field(default_factory=list)
    own: int = 0


@dataclass(slots=True)
class Plan:
    """The slots, and what was made of words nobody knows."""

    slots: list[Slot]
    read_as: list[tuple[str, tuple[str, ...]]] = field(default_factory=list)
    unknown: list[str] = field(default_factory=list)


def plan(index: Index, query: str) -> Plan:
    """The plan for any text at all."""
    text = normalise(query[:200])
    tokens = content(asked(query))
    made = Plan([Slot(text[token.start : token.end]) for token in tokens])
    is_open = bool(tokens) and tokens[-1].end == len(text)  # still being typed
    for at, token in enumerate(tokens):
        is_last = is_open and at == len(tokens) - 1
        slot = made.slots[at]
        slot.alternatives += (
            _code(index, token.term, is_last) if token.kind == "code" else _word(index, token.term, is_last)
        )
        slot.own = len(slot.alternatives)
    _add_windows(index, tokens, made.slots, is_open)
    _add_synonyms(index, tokens, made.slots)
    for token, slot in zip(tokens, made.slots, strict=True):
        own = slot.alternatives[: slot.own]
        if token.kind == "word" and (not slot.alternatives or _is_doubtful(index, token.term, own)):
            guessed = _guessed(index, token.term, slot.typed, made)
            slot.alternatives += guessed
            own = own if not guessed else []
        if token.kind == "word" and len(tokens) == 1:
            slot.alternatives += _nearest(token.term, own)
        if not slot.alternatives:
            made.unknown.append(slot.typed)
    return made


def family(index: Index, word: str) -> tuple[Member, ...]:
    """A word and its other forms, as far as the index has them."""
    entry = index.entry(word)
    own = (Member(entry, 1.0, ANY),) if entry else ()
    if has_digit(word):
        return own
    return own + tuple(
        Member(other, FORM, ANY)
        for other in index.beginning(family_prefix(word))
        if other.term != word and are_forms(word, other.term)
    )


def _completions(index: Index, start: str, known: Sequence[Member]) -> tuple[Member, ...]:
    """What ``start`` may be the beginning of: the commonest words, and not those already known."""
    if len(start) < 2:
        return ()
    have = {member.entry.term for member in known} | {start}
    found = [entry for entry in index.beginning(start) if entry.term not in have]
    found.sort(key=lambda entry: (-entry.pages, entry.term))
    return tuple(Member(entry, 1.0, PART) for entry in found[:_COMPLETIONS])


def _word(index: Index, word: str, is_last: bool) -> list[Alternative]:
    own = family(index, word)
    made = [Alternative(1.0, (own,))] if own else []
    if is_last:
        more = _completions(index, word, own)
        if more:
            made.append(Alternative(COMPLETED_KNOWN if own else COMPLETED, (more,)))
    return made


def _is_doubtful(index: Index, word: str, own: Sequence[Alternative]) -> bool:
    """Whether a word is known by forms alone that share no word with it: ``packags`` and ``packaging``, say."""
    terms = [member.entry.term for one in own for members in one.families for member in members]
    if not terms or not all(term != word and are_forms(word, term) for term in terms):
        return False
    shared = [(term, base) for term in terms for base in sorted(bases(word) & bases(term))]
    return not any(base == term or (base != word and index.entry(base) is not None) for term, base in shared)


def _nearest(word: str, alternatives: Sequence[Alternative]) -> list[Alternative]:
    """Of a word that stands nowhere as typed, the form nearest to it, or the word that one letter more would make."""
    entries = [member.entry for one in alternatives for members in one.families for member in members]
    if len(word) < 4 or any(entry.term == word for entry in entries):
        return []
    near = [
        (distance(entry.term, word), -entry.pages, entry.term, entry)
        for entry in entries
        if are_forms(word, entry.term) or len(entry.term) == len(word) + 1
    ]
    return [Alternative(1.0, ((Member(min(near, key=lambda one: one[:3])[3], 1.0, ANY),),), reading=1)] if near else []


def _code(index: Index, code: str, is_last: bool) -> list[Alternative]:
    made: list[Alternative] = []
    own = family(index, code)
    if own:
        made.append(Alternative(1.0, (own,)))
    if "-" in code:
        joined = index.entry(code.replace("-", ""))
        if joined:
            made.append(Alternative(JOINED, ((Member(joined, 1.0, LONG_ONLY),),)))
    if is_last or not made:
        more = _completions(index, code, own)
        if more:
            made.append(Alternative(CODE_COMPLETED, (more,)))
    runs = runs_of(code)
    if not made and len(runs) > 1:
        parts = tuple(family(index, run) for run in runs)
        if all(parts):
            made.append(Alternative(CODE_SPLIT, parts))
    return made


def _add_windows(index: Index, tokens: Sequence[Token], slots: Sequence[Slot], is_open: bool) -> None:
    """Neighbours that are one code (``E 0417``), one size (``M10 40mm``) or one word (``thermo couple``)."""
    for start in range(len(tokens)):
        for stop in range(start + 2, min(start + 4, len(tokens)) + 1):
            window = tokens[start:stop]
            if window[-1].start - window[-2].end > 3:
                break
            terms = [token.term for token in window]
            if any(has_digit(term) for term in terms):
                candidates = [join_runs([run for term in terms for run in runs_of(term)])]
                length = _LENGTH.fullmatch(terms[-1])
                if len(terms) == 2 and _SIZE.fullmatch(terms[0]) and length:
                    candidates.append(f"{terms[0]}x{length.group(1)}")
            elif len(terms) == 2:
                candidates = ["".join(terms)]
            else:
                continue
            for candidate in candidates:
                own = family(index, candidate)
                made = [Alternative(1.0 if has_digit(candidate) else JOINED, (own,))] if own else []
                if is_open and stop == len(tokens) and not own:
                    more = _completions(index, candidate, own)
                    made += [Alternative(CODE_COMPLETED, (more,))] if more else []
                for slot in slots[start:stop]:
                    slot.alternatives += made


def _add_synonyms(index: Index, tokens: Sequence[Token], slots: Sequence[Slot]) -> None:
    """Other words for a word or for a few together; a longer match stands before those within it."""
    keys = _keys(index)
    taken = [False] * len(tokens)
    for length in (4, 3, 2, 1):
        for start in range(len(tokens) - length + 1):
            if any(taken[start : start + length]):
                continue
            window = [token.term for token in tokens[start : start + length]]
            matches = sorted(
                {
                    key
                    for base in bases(window[0])
                    for key in keys.get(base, ())
                    if len(key) == length and all(map(are_forms, key, window))
                }
            )
            for key in matches:
                for phrase in index.root["synonyms"][" ".join(key)]:
                    families = tuple(family(index, word) for word in phrase.split(" "))
                    if all(families):
                        for slot in slots[start : start + length]:
                            slot.alternatives.append(Alternative(SYNONYM, families))
                for at in range(start, start + length):
                    taken[at] = True


def _keys(index: Index) -> dict[str, list[tuple[str, ...]]]:
    """What the synonym rules ask for, by the base forms of its first word."""
    if index.synonym_keys is None:
        keys: dict[str, list[tuple[str, ...]]] = {}
        for text in index.root["synonyms"]:
            key = tuple(text.split(" "))
            for base in sorted(bases(key[0])):
                keys.setdefault(base, []).append(key)
        index.synonym_keys = keys
    return index.synonym_keys


def _guessed(index: Index, word: str, typed: str, made: Plan) -> list[Alternative]:
    """What an unknown word may be: misspelt, or two run together."""
    if not 4 <= len(word) <= LONGEST:
        return []
    found, joint = guesses(word, index.spelling(letters_needed(word)))
    alternatives: list[Alternative] = []
    read_as: list[str] = []
    is_single = len(made.slots) == 1
    for rank, guess in enumerate(found):
        own = family(index, guess.word)
        weight = 0.95 - 0.4 * guess.cost / (2 * WHOLE)
        # beside other words any form will do; alone, the pages with the word itself come first
        alternatives.append(Alternative(weight, (own[:1] if is_single else own,), rank + 1 if is_single else 0))
        read_as.append(guess.word)
    if joint and (not found or found[0].cost > WHOLE // 2):
        alternatives.append(Alternative(SPLIT, (family(index, joint[0]), family(index, joint[1])), is_single))
        read_as.insert(0, " ".join(joint))
    if read_as:
        made.read_as.append((typed, tuple(read_as)))
    return alternatives
