"""Two records of one value cannot both be right, and nobody has decided.

Both are kept and both are shown, with what to do meanwhile (`{interim: …}`). Values are in conflict when their bands do
not meet; one without tolerance is taken as ± the shop's `same-within`. Measure again, or decide: an entry with
`adjudicated:` and its `reason:`. A decision is open again as soon as a later observation contradicts it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from benchleaf.built import Built
from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Place, Severity
from benchleaf.records.observed import Value
from benchleaf.values.observations import NO_INTERIM, Observation, Standing, Status, origin_words
from benchleaf.values.quantity import conflicts
from benchleaf.values.recorded import counting, same_within, standing
from benchleaf.values.written import Written, written_in

CODES = ("value-disputed", "interim-missing")
BY_MACHINE = True


def run(derived: Derived) -> Iterator[Finding]:
    shop = derived.library.shop
    within = same_within(shop)
    for machine in derived.library.machines.values():
        for one in (one for record in machine.records() for one in written_in(record)):
            found = standing(one.value, within) if one.value is not None else None
            if found is not None and found.status is Status.DISPUTED:
                yield from _disputed(one, found, bool(shop.publish_names))
        for built in derived.all_built(machine):
            yield from _twice(built, within)


def _disputed(one: Written, found: Standing, names: bool) -> Iterator[Finding]:
    first, *others = found.shown
    sides = " and ".join(f"{side.quantity} ({origin_words(side, publish_names=names)})" for side in found.shown)
    meanwhile = "no interim rule is recorded" if found.interim == NO_INTERIM else f"until then: {found.interim}"
    yield Finding(
        "value-disputed",
        f"the {one.words} is disputed: {sides}",
        first.place or one.place,
        f"measure again, or decide with `adjudicated:` and a `reason:`\n{meanwhile}",
        Severity.WARNING,
        tuple((side.place, _as_seen(side)) for side in others if side.place is not None),
    )
    if found.interim == NO_INTERIM:
        message = f"the {one.words} is disputed, and nothing says what to do meanwhile"
        help = "add an entry `{interim: …}`, such as which of the two to use until it is decided"
        yield Finding("interim-missing", message, first.place or one.place, help, Severity.WARNING)


def _as_seen(one: Observation) -> str:
    return f"the other: {one.quantity}" if not one.adjudicated else f"decided: {one.quantity}"


def _twice(built: Built, within: float) -> Iterator[Finding]:
    """A value measured between two contacts, and what the one join between them is recorded to have, cannot both be."""
    joined = _by_contacts(built.joins)
    measured = {name: item.values for name, item in built.items.items() if item.values}
    for key, values in sorted(_by_contacts({**measured, **built.energy}).items()):
        (join, *more) = joined.get(key) or (None,)
        if join is None or more:  # joins side by side read less than each of them
            continue
        for one in values:
            if _conflict(one.value, join.value, within):
                yield Finding(
                    "value-disputed",
                    f"between {' and '.join(key[:2])}, the {one.words} is {_said(one)}, but the {join.words} is "
                    f"{_said(join)}",
                    _place(one),
                    "measure again, and mend the one that is wrong; a fact is best written once",
                    Severity.WARNING,
                    ((_place(join), "the other"),),
                )


def _by_contacts(parts: Mapping[str, object]) -> dict[tuple[str, str, str], list[Written]]:
    """The values between two contacts: (contact, contact, dimension) → values."""
    found: dict[tuple[str, str, str], list[Written]] = {}
    for name, part in parts.items():
        for one in written_in(part, name):
            if len(one.between) == 2 and one.value is not None and one.value.quantity is not None:
                first, second = sorted(one.between)
                found.setdefault((first, second, one.value.quantity.dimension.name), []).append(one)
    return found


def _conflict(one: Value | None, other: Value | None, within: float) -> bool:
    """Whether every counting entry of one contradicts every counting entry of the other."""
    pairs = [(a.quantity, b.quantity) for a in counting(one) for b in counting(other)]
    return bool(pairs) and all(a is not None and b is not None and conflicts(a, b, within) for a, b in pairs)


def _said(one: Written) -> str:
    return " or ".join(str(seen.quantity) for seen in counting(one.value))


def _place(one: Written) -> Place:
    return next((seen.place for seen in counting(one.value) if seen.place is not None), one.place)
