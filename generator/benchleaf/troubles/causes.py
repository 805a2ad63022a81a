"""The causes and tests of a trouble, those of the codes a symptom sends to joined in.

The same id is the same cause. Of a cause recorded twice the symptom's own entry counts, else that of the code named
first in ``see``. Two tests of the same name from two codes stay two tests, told apart by the code.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from benchleaf.applicability import Configuration, holds
from benchleaf.frozen import dataclass
from benchleaf.model import Machine
from benchleaf.records.codes import Cause, CodeRecord, FaultTest
from benchleaf.scope import plain_code
from benchleaf.troubles.lookup import Trouble


@dataclass(frozen=True, slots=True, kw_only=True)
class JoinedTest:
    """A test with the trouble it is recorded at, and the causes its author knew of: of others it tells nothing.

    ``id`` tells it from every other test of the trouble asked about.
    """

    id: str
    test: FaultTest
    of: Trouble
    knows: frozenset[str]


def codes_seen(trouble: Trouble, machine: Machine) -> tuple[CodeRecord, ...]:
    """The codes a symptom sends to, in the order of ``see``; none for a code."""
    if isinstance(trouble, CodeRecord):
        return ()
    codes = {plain_code(code): one for code, one in machine.codes.items()}
    wanted = dict.fromkeys(plain_code(one) for one in trouble.see)
    return tuple(codes[one] for one in wanted if one in codes)


def causes_of(trouble: Trouble, machine: Machine) -> dict[str, Cause]:
    """The causes of a code or symptom, its own first, then those of the codes seen; the first entry of an id counts."""
    joined = {str(id): cause for id, cause in trouble.causes.items()}
    for code in codes_seen(trouble, machine):
        for id, cause in code.causes.items():
            joined.setdefault(str(id), cause)
    return joined


def causes_here(trouble: Trouble, machine: Machine, configuration: Configuration) -> dict[str, Cause]:
    """The causes that can occur in a configuration; an applicability that is open counts as yes."""
    return {
        id: cause
        for id, cause in causes_of(trouble, machine).items()
        if holds(cause.applies, configuration, machine.record) is not False
        and _code_here(id, trouble, machine, configuration)
    }


def tests_of(trouble: Trouble, machine: Machine) -> Mapping[str, JoinedTest]:
    """The tests of a code or symptom by id, its own first, then those of the codes seen."""
    found = tuple(_tests(trouble, machine))
    many = Counter(str(test.id) for test, _, _ in found)
    made: dict[str, JoinedTest] = {}
    for test, of, knows in found:
        id = str(test.id)
        if many[id] > 1 and isinstance(of, CodeRecord) and of is not trouble:
            id = f"{id}-{plain_code(of.code).lower()}"
        made[id] = JoinedTest(id=id, test=test, of=of, knows=knows)
    return made


def tests_here(trouble: Trouble, machine: Machine, configuration: Configuration) -> dict[str, JoinedTest]:
    """The tests there are in a configuration; an applicability that is open counts as yes."""
    return {
        id: one
        for id, one in tests_of(trouble, machine).items()
        if holds(one.test.applies, configuration, machine.record) is not False
        and holds(one.of.applies, configuration, machine.record) is not False
    }


def _tests(trouble: Trouble, machine: Machine) -> Iterator[tuple[FaultTest, Trouble, frozenset[str]]]:
    for test in trouble.tests.values():
        yield test, trouble, frozenset(causes_of(trouble, machine))
    for code in codes_seen(trouble, machine):
        for test in code.tests.values():
            yield test, code, frozenset(str(id) for id in code.causes)


def _code_here(id: str, trouble: Trouble, machine: Machine, configuration: Configuration) -> bool:
    """A cause joined in from codes occurs where one of these codes does."""
    if id in trouble.causes:
        return True
    return any(
        id in code.causes and holds(code.applies, configuration, machine.record) is not False
        for code in codes_seen(trouble, machine)
    )
