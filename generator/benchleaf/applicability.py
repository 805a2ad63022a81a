"""For which machines something is: variants, modifications and serials, and what follows when one is not known.

An answer is ``True``, ``False``, or ``None`` = not known until a question is answered or a serial is given.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import combinations

from benchleaf.frozen import dataclass
from benchleaf.records.machine import MachineRecord
from benchleaf.records.types import Applies, Term

ONLY_VARIANT = "standard"
"""The variant of a machine whose record names none."""
MOST_MODIFICATIONS = 6
"""Up to so many modifications every combination is a configuration; beyond, none, each alone, all, and the listed."""

_GROUPS = re.compile(r"[0-9]+|[A-Za-z]+")
SerialKey = tuple[tuple[int, int, str], ...]


def serial_key(serial: str) -> SerialKey:
    """A serial as it is compared: group by group, digits as numbers, letters as text; digits come first."""
    return tuple((0, int(group), "") if group.isdigit() else (1, 0, group.upper()) for group in _GROUPS.findall(serial))


@dataclass(frozen=True, slots=True)
class Configuration:
    """One machine as built: its variant, the modifications on it, and its serial where one is meant."""

    variant: str
    modifications: frozenset[str] = frozenset()
    serial: str | None = None

    @property
    def sort_key(self) -> tuple[str, tuple[str, ...], SerialKey]:
        return (self.variant, tuple(sorted(self.modifications)), serial_key(self.serial or ""))

    @property
    def label(self) -> str:
        """In words: ``mk2 with roll, serial 0512``."""
        said = [] if self.variant == ONLY_VARIANT else [self.variant]
        if self.modifications:
            said.append("with " + " and ".join(sorted(self.modifications)))
        words = " ".join(said) or "as built by the maker"
        return f"{words}, serial {self.serial}" if self.serial else words


def term_holds(term: Term, configuration: Configuration, record: MachineRecord) -> bool | None:
    """Whether one term holds in a configuration; a serial not given leaves a range or serial open."""
    if term.is_range:
        if configuration.serial is None:
            return None
        mine = serial_key(configuration.serial)
        above = not term.low or serial_key(term.low) <= mine
        return above and (not term.high or mine <= serial_key(term.high))
    known = term.name in record.modifications or term.name in record.variants or term.name == ONLY_VARIANT
    if known:
        holds: bool | None = term.name == configuration.variant or term.name in configuration.modifications
    elif configuration.serial is None:
        holds = None
    else:
        holds = serial_key(configuration.serial) == serial_key(term.name)
    return holds if holds is None or not term.negated else not holds


def holds(applies: Applies | None, configuration: Configuration, record: MachineRecord) -> bool | None:
    """Whether an applicability holds: its terms joined by "or"; left out = yes."""
    if applies is None:
        return True
    answers = [term_holds(term, configuration, record) for term in applies.terms]
    if True in answers:
        return True
    return None if None in answers else False


def variants_of(record: MachineRecord) -> tuple[str, ...]:
    return tuple(record.variants) or (ONLY_VARIANT,)


def variants_of_serial(record: MachineRecord, serial: str) -> tuple[str, ...]:
    """The variants a serial can be: those recorded for it, else any."""
    return recorded_variants(record, serial) or variants_of(record)


def recorded_variants(record: MachineRecord, serial: str) -> tuple[str, ...]:
    """The variants whose recorded serials hold this one; a single serial beats a range."""
    mine = serial_key(serial)
    single, ranged = [], []
    for name, variant in record.variants.items():
        for term in variant.serials.terms if variant.serials else ():
            if term.is_range and term_holds(term, Configuration(name, serial=serial), record):
                ranged.append(name)
            elif not term.is_range and serial_key(term.name) == mine:
                single.append(name)
    return tuple(dict.fromkeys(single or ranged))


def is_no_serial(term: Term, record: MachineRecord) -> bool:
    """Whether a range or serial lies outside everything recorded, where every variant has its serials recorded."""
    if not record.variants or any(one.serials is None for one in record.variants.values()):
        return False
    own = [t for one in record.variants.values() if one.serials for t in one.serials.terms]
    edges = [edge for t in (term, *own) for edge in (t.low, t.high, t.name if not t.is_range else None) if edge]
    inside = [edge for edge in edges if term_holds(term, Configuration("", serial=edge), record)]
    return not any(recorded_variants(record, edge) for edge in inside)


def modifications_of_serial(record: MachineRecord, serial: str) -> frozenset[str]:
    """The modifications recorded for that very serial. Others may be fitted: only the machine can tell."""
    mine = serial_key(serial)
    return frozenset(
        name for name, made in record.modifications.items() if any(serial_key(one) == mine for one in made.serials)
    )


def configurations(record: MachineRecord, mentioned: Iterable[Applies] = ()) -> tuple[Configuration, ...]:
    """Every configuration a computation has to look at, in a fixed order.

    Variants × combinations of modifications; where an applicability ``mentioned`` names serials, one serial for each
    way its terms can come out; and each serial listed with a modification or found with a deviation.
    """
    made = {Configuration(v, frozenset(m)) for v in variants_of(record) for m in _combinations(record)}
    serials = _serials_mentioned(record, mentioned)
    if serials:
        terms = [term for one in mentioned for term in one.terms]
        split: dict[tuple[object, ...], Configuration] = {}
        for base in sorted(made, key=lambda c: c.sort_key):
            for serial in serials:
                if base.variant not in variants_of_serial(record, serial):
                    continue
                built = Configuration(base.variant, base.modifications, serial)
                answers = tuple(term_holds(term, built, record) for term in terms)
                split.setdefault((base.variant, base.modifications, answers), built)
        covered = {(one.variant, one.modifications) for one in split.values()}
        made = {one for one in made if (one.variant, one.modifications) not in covered} | set(split.values())
    made |= set(_listed(record))
    return tuple(sorted(made, key=lambda c: c.sort_key))


def _combinations(record: MachineRecord) -> Iterator[tuple[str, ...]]:
    names = sorted(record.modifications)
    if len(names) <= MOST_MODIFICATIONS:
        for size in range(len(names) + 1):
            yield from combinations(names, size)
        return
    yield ()
    yield from ((name,) for name in names)
    yield tuple(names)


def _serials_mentioned(record: MachineRecord, mentioned: Iterable[Applies]) -> list[str]:
    known = set(record.modifications) | set(record.variants) | {ONLY_VARIANT}
    found: set[str] = set()
    for one in mentioned:
        for term in one.terms:
            if term.is_range:
                found |= {edge for edge in (term.low, term.high) if edge}
                found |= {beyond for edge in (term.low, term.high) if edge for beyond in _neighbours(edge)}
            elif term.name not in known:
                found |= {term.name, *_neighbours(term.name)}
    return sorted(found, key=serial_key)


def _neighbours(serial: str) -> tuple[str, ...]:
    """The serials just below and above, by the last group of digits; none where there are no digits."""
    found = list(re.finditer(r"[0-9]+", serial))
    if not found:
        return ()
    last = found[-1]
    number, width = int(last.group()), len(last.group())
    near = [number - 1, number + 1] if number else [number + 1]
    return tuple(f"{serial[: last.start()]}{one:0{width}d}{serial[last.end() :]}" for one in near)


def _listed(record: MachineRecord) -> Iterator[Configuration]:
    serials = [str(serial) for made in record.modifications.values() for serial in made.serials]
    serials += [str(one.serial) for one in record.as_found]
    for serial in sorted(set(serials), key=serial_key):
        for variant in variants_of_serial(record, serial):
            yield Configuration(variant, modifications_of_serial(record, serial), serial)
