"""Which machine have I got? The fewest questions, answered from outside, that tell every kind apart.

A question divides the cases by its answers. The fewest that separate all pairs which can be separated at all are looked
for exactly while they are few, else greedily. Pairs that no question separates are handed back: the page says so.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations

from benchleaf.applicability import ONLY_VARIANT, variants_of
from benchleaf.frozen import dataclass
from benchleaf.records.machine import MachineRecord

EXACT = 14
"""Up to so many questions every choice of them is tried."""


@dataclass(frozen=True, slots=True)
class Question:
    """A question and the answer each case gives. Cases it says nothing about are left out: it cannot separate them."""

    words: str
    answers: Mapping[str, str]

    def separates(self, one: str, other: str) -> bool:
        mine, theirs = self.answers.get(one), self.answers.get(other)
        return mine is not None and theirs is not None and mine != theirs


@dataclass(frozen=True, slots=True)
class Chosen:
    """The questions to ask, in the order given; ``alike`` are the pairs of cases they leave together."""

    questions: tuple[Question, ...]
    alike: tuple[tuple[str, str], ...]


def fewest_questions(cases: Sequence[str], questions: Sequence[Question]) -> Chosen:
    """The fewest of ``questions`` that separate all pairs of cases the whole of them can; first ones win a tie."""
    pairs = list(combinations(cases, 2))
    splits = [frozenset(pair for pair in pairs if question.separates(*pair)) for question in questions]
    wanted = frozenset().union(*splits)
    picked = _exact(splits, wanted) if len(questions) <= EXACT else _greedy(splits, wanted)
    return Chosen(tuple(questions[n] for n in picked), tuple(pair for pair in pairs if pair not in wanted))


def _exact(splits: list[frozenset[tuple[str, str]]], wanted: frozenset[tuple[str, str]]) -> tuple[int, ...]:
    for size in range(len(splits) + 1):
        for some in combinations(range(len(splits)), size):
            if frozenset().union(*(splits[n] for n in some)) >= wanted:
                return some
    return tuple(range(len(splits)))


def _greedy(splits: list[frozenset[tuple[str, str]]], wanted: frozenset[tuple[str, str]]) -> tuple[int, ...]:
    picked: list[int] = []
    left = set(wanted)
    while left:
        best = max(range(len(splits)), key=lambda n: (len(splits[n] & left), -n))
        picked.append(best)
        left -= splits[best]
    return tuple(sorted(picked))


def variant_questions(record: MachineRecord) -> Chosen:
    """What to ask to tell the maker's variants apart: their own ``tell``, each answered yes or no."""
    variants = variants_of(record)
    if variants == (ONLY_VARIANT,):
        return Chosen((), ())
    said: dict[str, dict[str, str]] = {}
    for name, one in record.variants.items():
        if one.tell is not None:
            said.setdefault(str(one.tell), {})[str(name)] = "yes"
    questions = [Question(words, {name: yes.get(name, "no") for name in variants}) for words, yes in said.items()]
    return fewest_questions(variants, questions)


def unanswerable(record: MachineRecord) -> tuple[str, ...]:
    """Modifications that nobody recorded a question for: only looking inside, or a listed serial, can tell."""
    return tuple(str(name) for name, one in record.modifications.items() if one.tell is None)
