"""For which machines something is, as pages say it: in words for the reader and in terms for the page's script.

The words name what a reader can see on the machine (``mk2, heated platen``), not only the record's id.
"""

from __future__ import annotations

from collections.abc import Collection, Hashable, Iterable, Sequence
from itertools import combinations
from typing import Generic, TypeVar

from benchleaf.applicability import ONLY_VARIANT, Configuration
from benchleaf.frozen import dataclass
from benchleaf.pages.shown import Applies, MachineChoice, ModificationChoice, Term, VariantChoice
from benchleaf.records import types
from benchleaf.records.machine import MachineRecord

T = TypeVar("T", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Found(Generic[T]):
    """One of the forms something has, and the machines that have it so: in words (``None`` = all), and one by one."""

    value: T
    applies: Applies | None
    on: frozenset[Configuration] = frozenset()


def shown_applies(applies: types.Applies | None, record: MachineRecord) -> Applies | None:
    """A recorded applicability; ``None`` when it is for every machine."""
    if applies is None or any(term.name == ONLY_VARIANT and not term.negated for term in applies.terms):
        return None
    made = [_shown_term(term, record) for term in applies.terms]
    words = ", or ".join(words for words, _ in made)
    return Applies(words, tuple(term for _, terms in made for term in terms))


def _shown_term(term: types.Term, record: MachineRecord) -> tuple[str, tuple[Term, ...]]:
    if term.is_range:
        return _range_words(term.low or "", term.high or ""), (
            Term("serials", first=term.low or "", last=term.high or ""),
        )
    if term.name in record.variants:
        if not term.negated:
            return variant_words(record, term.name), (Term("variant", term.name),)
        others = tuple(Term("variant", name) for name in record.variants if name != term.name)
        return f"every variant but {term.name}", others or (Term("modification", ""),)
    if term.name in record.modifications:
        kind = "without" if term.negated else "modification"
        return f"machines {'without' if term.negated else 'with'} {term.name}", (Term(kind, term.name),)  # type: ignore[arg-type]
    if term.negated:  # no page can fold this away: a term about nothing known is never answered
        return f"every serial but {term.name}", (Term("modification", ""),)
    return f"serial {term.name}", (Term("serials", first=term.name, last=term.name),)


def _range_words(low: str, high: str) -> str:
    if low and high:
        return f"serials {low} to {high}"
    return f"serials from {low}" if low else f"serials up to {high}"


def variant_words(record: MachineRecord, name: str) -> str:
    """``mk2, heated platen``."""
    what = record.variants[name].is_
    return f"{name}, {what}" if what else name


def choice_of(record: MachineRecord) -> MachineChoice | None:
    """What the reader can say once about the machine; ``None`` when there is nothing to tell apart."""
    if len(record.variants) < 2 and not record.modifications:
        return None
    variants = tuple(
        VariantChoice(
            id=str(name),
            words=variant_words(record, name),
            tell=one.tell,
            serials=tuple(_serials(one.serials)) if one.serials else (),
        )
        for name, one in record.variants.items()
    )
    modifications = tuple(
        ModificationChoice(
            id=str(name),
            words=str(one.is_ or name),
            tell=one.tell,
            serials=tuple(str(serial) for serial in one.serials),
        )
        for name, one in record.modifications.items()
    )
    return MachineChoice(id=str(record.id), name=str(record.name), variants=variants, modifications=modifications)


def _serials(applies: types.Applies) -> Iterable[tuple[str, str]]:
    for term in applies.terms:
        yield (term.low or "", term.high or "") if term.is_range else (term.name, term.name)


def described(some: Collection[Configuration], every: Sequence[Configuration], record: MachineRecord) -> Applies | None:
    """The machines in ``some`` out of ``every`` one, in the shortest words there are; ``None`` = all.

    What no list of terms can say (a variant with a modification together) is said in words and left to the reader:
    the page never folds it away. A single serial that stands out is named beside those it stands out of.
    """
    chosen = frozenset(some)
    if len(chosen) == len(every):
        return None
    named = _named(chosen, every, record)
    if named is not None:
        return named
    single = [one for one in every if one.serial is not None and one not in chosen][:MOST_APART]
    for size in range(1, len(single) + 1):
        for apart in combinations(single, size):
            around = chosen.union(apart)
            words = " and ".join(f"serial {one.serial}" for one in apart)
            if len(around) == len(every):
                return Applies(f"every machine but {words}", ())
            whole = _named(around, every, record)
            if whole is not None:
                return Applies(f"{whole.words}, but not {words}", whole.terms)
    labels = [one.label for one in every if one in chosen]
    if len(labels) > MOST_LABELS:
        labels = [*labels[:MOST_LABELS], f"{len(labels) - MOST_LABELS} more"]
    return Applies("; ".join(labels), ())


def _named(chosen: frozenset[Configuration], every: Sequence[Configuration], record: MachineRecord) -> Applies | None:
    """A set of machines by its variants, by a modification, or by both; ``None`` when it is none of these."""
    variants = [str(name) for name in record.variants]
    for size in range(1, len(variants)):
        for names in combinations(variants, size):
            if chosen == {one for one in every if one.variant in names}:
                words = ", or ".join(variant_words(record, name) for name in names)
                return Applies(words, tuple(Term("variant", name) for name in names))
    modifications = sorted(str(name) for name in record.modifications)
    for name in modifications:
        if chosen == {one for one in every if name in one.modifications}:
            return Applies(f"machines with {name}", (Term("modification", name),))
        if chosen == {one for one in every if name not in one.modifications}:
            return Applies(f"machines without {name}", (Term("without", name),))
    for size in range(1, len(variants) + 1):
        for names in combinations(variants, size):
            of_these = [one for one in every if one.variant in names]
            for name in modifications:
                for there, word in ((True, "with"), (False, "without")):
                    if chosen == {one for one in of_these if (name in one.modifications) is there}:
                        return Applies(f"{' or '.join(names)} {word} {name}", ())
    return None


MOST_LABELS = 4
MOST_APART = 6


def forms(
    values: Iterable[tuple[Configuration, T]], every: Sequence[Configuration], record: MachineRecord
) -> tuple[Found[T], ...]:
    """The different values something has, each with the machines that have it so, in the order met."""
    by_value: dict[T, list[Configuration]] = {}
    for configuration, value in values:
        by_value.setdefault(value, []).append(configuration)
    return tuple(Found(value, described(on, every, record), frozenset(on)) for value, on in by_value.items())
