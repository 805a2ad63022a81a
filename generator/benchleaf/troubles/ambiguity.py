"""Which causes of a trouble no recorded test tells apart, and which no test names."""

from __future__ import annotations

from benchleaf.frozen import dataclass
from benchleaf.isolation.table import Table, bits
from benchleaf.troubles.problem_of import Case


@dataclass(frozen=True, slots=True)
class Group:
    """Causes for which every test answers alike; ``remedy`` that cures them all, ``None`` = there is none."""

    causes: tuple[str, ...]
    remedy: str | None


def groups_alike(case: Case) -> tuple[Group, ...]:
    """The groups of at least two causes that no recorded test tells apart (IEEE 1522), in the order of the record."""
    if case.problem is None:
        return ()
    table = Table(case.problem)
    groups: list[int] = []
    for j in range(len(table.causes)):
        for g, group in enumerate(groups):
            pair = (group & -group) | 1 << j
            if not any(table.tells_apart(t, pair) for t in range(len(table.tests))):
                groups[g] |= 1 << j
                break
        else:
            groups.append(1 << j)
    order = {id: at for at, id in enumerate(case.causes)}
    found = []
    for group in groups:
        if group & (group - 1):
            shared = next(iter(bits(table.one_remedy(group))), None)
            causes = tuple(sorted(table.names(group), key=lambda id: order[id]))
            found.append(Group(causes, table.remedies[shared] if shared is not None else None))
    return tuple(sorted(found, key=lambda group: order[group.causes[0]]))


def named_causes(case: Case) -> frozenset[str]:
    """The causes that an outcome of a test names; the others are only ever what is left over."""
    outcomes = (outcome for plan in case.tests.values() for outcome in plan.joined.test.outcomes.values())
    return frozenset(id for outcome in outcomes for id, share in outcome.shares.items() if share > 0)
