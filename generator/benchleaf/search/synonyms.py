"""Other words for the same thing: how a shop writes them down, one rule a line.

``psu = power supply`` finds either by the other. ``noise > squeal, rattle`` finds the words on the right by the one
on the left, but not the other way round: who types ``rattle`` does not want every noise.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from benchleaf.frozen import dataclass
from benchleaf.search.words import STOP_WORDS, terms_of

LONGEST = 4  # words of a phrase


@dataclass(frozen=True, slots=True)
class SynonymRule:
    """Who asks for the words ``asked`` also gets pages with all the words of any one phrase in ``finds``."""

    asked: tuple[str, ...]
    finds: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class SynonymError:
    """A rule that cannot be read: which (from 0), and what to do about it."""

    number: int
    message: str


def read_synonyms(lines: Sequence[str]) -> tuple[tuple[SynonymRule, ...], tuple[SynonymError, ...]]:
    """The rules of ``lines``, merged by what is asked and sorted, and what is wrong with the others."""
    finds: dict[tuple[str, ...], set[tuple[str, ...]]] = {}
    errors: list[SynonymError] = []
    for number, line in enumerate(lines):
        problem = _read_line(line, finds)
        if problem:
            errors.append(SynonymError(number, problem))
    rules = tuple(SynonymRule(asked, tuple(sorted(found))) for asked, found in sorted(finds.items()))
    return rules, tuple(errors)


def rules_of(groups: Iterable[Sequence[str]]) -> tuple[SynonymRule, ...]:
    """The rules of groups of phrases that find one another; a phrase that cannot be searched is left out."""
    finds: dict[tuple[str, ...], set[tuple[str, ...]]] = {}
    for group in groups:
        phrases = [_phrase(text) for text in group if is_searchable(text)]
        for asked in phrases:
            finds.setdefault(asked, set()).update(other for other in phrases if other != asked)
    return tuple(SynonymRule(asked, tuple(sorted(found))) for asked, found in sorted(finds.items()) if found)


def is_searchable(text: str) -> bool:
    """Whether a phrase can be asked for and found: one to four words, not counting ``the``, ``of`` and such."""
    return 1 <= len(_phrase(text)) <= LONGEST


def are_the_same(one: str, other: str) -> bool:
    """Whether two phrases are the same words to the search: ``Cut-out`` and ``cut out``."""
    return _phrase(one) == _phrase(other)


def _read_line(line: str, finds: dict[tuple[str, ...], set[tuple[str, ...]]]) -> str:
    """Puts the pairs of one line into ``finds``; returns the problem, or nothing."""
    if ("=" in line) == (">" in line):
        return f"'{line}': write 'psu = power supply' (either finds the other) or 'noise > squeal, rattle' (one way)"
    if "=" in line:
        phrases = [_phrase(part) for part in line.split("=")]
        pairs = [(one, other) for one in phrases for other in phrases if one != other]
        if not pairs:
            return f"'{line}': the two sides are the same words; leave the rule out"
    else:
        left, right = line.split(">", 1)
        phrases = [_phrase(left), *(_phrase(part) for part in right.split(","))]
        pairs = [(phrases[0], other) for other in phrases[1:]]
    if any(not 1 <= len(phrase) <= LONGEST for phrase in phrases):
        return f"'{line}': each side needs one to four words that can be searched (not only 'the', 'of' and such)"
    for asked, found in pairs:
        finds.setdefault(asked, set()).add(found)
    return ""


def _phrase(text: str) -> tuple[str, ...]:
    return tuple(term for term in terms_of(text.replace("-", " ")) if term not in STOP_WORDS)


def join_rules(rules: Iterable[SynonymRule]) -> dict[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """Rules by what is asked, in order, the finds of equal ones together."""
    joined: dict[tuple[str, ...], set[tuple[str, ...]]] = {}
    for rule in rules:
        joined.setdefault(rule.asked, set()).update(rule.finds)
    return {asked: tuple(sorted(joined[asked])) for asked in sorted(joined)}
