"""A recorded test on one machine as built: in what state it is done, what is opened for it, how long it takes, and
what its outcomes say of the causes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import fsum

from benchleaf.frozen import dataclass
from benchleaf.isolation.problem import WHOLE, Needs, Power, Test, stated
from benchleaf.physical.times import seconds
from benchleaf.records.actions import Action
from benchleaf.records.codes import FaultTest
from benchleaf.records.items import Item
from benchleaf.troubles.causes import JoinedTest
from benchleaf.troubles.openings import MINUTE, Opening, Openings
from benchleaf.troubles.powered_readings import measured, readings_with_power
from benchleaf.troubles.readings import Reading, readings_of
from benchleaf.troubles.remedies import COMPUTED, RECORDED

WORDS = 120.0
"""Seconds for a test in words that nobody timed: common practice, no source."""
MEASURING = 120.0
"""Seconds for one measurement that nobody timed: common practice, no source."""
COMMON_PRACTICE = "common practice"


@dataclass(frozen=True, slots=True, kw_only=True)
class TestPlan:
    """A test on one machine. ``way`` leads to it; ``covers`` and ``state`` are as recorded, ``None`` = not recorded.

    ``readings``: what is measured, probe by probe. ``foreign``: causes of which nobody recorded what they answer here;
    it tells nothing about them. ``why_not``: why it cannot be done on this machine.
    """

    id: str
    joined: JoinedTest
    minutes: float
    counted: str
    way: Opening = Opening()
    needs: Needs = Needs()
    state: str | None = None
    covers: str | None = None
    foreign: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    why_not: str = ""
    readings: tuple[Reading, ...] = ()

    __test__ = False  # so that pytest does not take it for one


def plan_of_test(openings: Openings, joined: JoinedTest, causes: Mapping[str, float]) -> TestPlan:
    """How a test is done here. ``causes``: the weights of all causes that can be meant."""
    test = joined.test
    state = state_of(test, openings.built.items)
    powered = state == "powered"
    opening = openings.to([f"reach:{one}" for one in places_of(openings, test)], dead=not powered)
    minutes, counted = _minutes(openings, test)
    why_not = opening.why_not or wrong_shares(test, [cause for cause in causes if cause in joined.knows])
    needs = stated(test.covers, state, opening.works)
    if powered and test.covers == "open":  # what is not in the way is closed before power comes back
        needs = replace(needs, others_closed=True)
    if powered and opening.works:
        minutes += openings.power(openings.electrical)[0].prove
    return TestPlan(
        id=joined.id,
        joined=joined,
        minutes=minutes,
        counted=counted,
        way=opening,
        needs=needs,
        state=state,
        covers=test.covers,
        foreign=tuple(cause for cause in causes if cause not in joined.knows),
        notes=tuple(_notes(test, state, opening, needs)),
        why_not=why_not,
        readings=readings_of(openings, openings.graph, test),
    )


def state_of(test: FaultTest, items: Mapping[str, Item]) -> str | None:
    """``dead`` or ``powered`` as recorded, ``dead`` for a reading of resistance; ``None`` = not recorded."""
    if test.state is not None or not measured(test) or any(readings_with_power(test, items)):
        return test.state
    return "dead"


def places_of(openings: Openings, test: FaultTest) -> tuple[str, ...]:
    """The items that have to be reached for a test: the one named, else those of the contacts measured and of the
    ends opened."""
    built = openings.built
    if test.at is not None:
        return (test.at.item,) if test.at.item in built.items else ()
    actions = test.do if isinstance(test.do, tuple) else ()
    found = (item for action in actions for item in _items(openings, action))
    return tuple(dict.fromkeys(item for item in found if item in built.items))


def _items(openings: Openings, action: Action) -> Iterator[str]:
    built, target = openings.built, str(action.target)
    if action.measure is not None and action.measure.between is not None:
        yield from (built.item_of_contact(str(one)) or "" for one in action.measure.between)
    elif target in built.connectors:
        yield built.host_item(target) or ""
    else:
        yield target.partition(".")[0]


def wrong_shares(test: FaultTest, causes: list[str]) -> str:
    """Why the outcomes of a test do not add up for these causes; empty when they do."""
    rests = [name for name, outcome in test.outcomes.items() if outcome.rest]
    if len(rests) > 1:
        return "more than one of its outcomes takes what is left"
    for cause in causes:
        total = fsum(outcome.shares.get(cause, 0.0) for outcome in test.outcomes.values())
        if total > 1 + WHOLE or (total < 1 - WHOLE and not rests):
            return f"the shares of {cause} over its outcomes are {total:g}, not 1"
    return "" if test.outcomes else "no outcome is recorded"


def outcomes_of(plan: TestPlan, causes: Mapping[str, float]) -> Test:
    """The test as the search takes it. A cause its author did not know of answers as all the others together would: so
    the answer says nothing about it."""
    test = plan.joined.test
    rest = next((name for name, outcome in test.outcomes.items() if outcome.rest), None)
    rows: dict[str, dict[str, float]] = {}
    for cause in causes:
        if cause in plan.joined.knows:
            row = {str(name): outcome.shares.get(cause, 0.0) for name, outcome in test.outcomes.items()}
            rows[cause] = row
    known = fsum(causes[cause] for cause in rows)
    mixed = {str(name): 0.0 for name in test.outcomes}
    for cause, row in rows.items():
        left = max(0.0, 1.0 - fsum(row.values()))
        for name, share in row.items():
            mixed[name] += (share + (left if name == rest else 0.0)) * causes[cause] / known
    if not known:  # no cause it knows of can occur here: it tells nothing
        mixed[next(iter(mixed))] = 1.0
    shares = {cause: rows.get(cause, mixed) for cause in causes}
    return Test(plan.minutes, shares, str(rest) if rest is not None else None, plan.needs)


def _minutes(openings: Openings, test: FaultTest) -> tuple[float, str]:
    recorded = seconds(test.takes) if test.takes is not None else None
    if recorded is not None:
        return recorded / MINUTE, RECORDED
    if not isinstance(test.do, tuple):
        return WORDS / MINUTE, COMMON_PRACTICE
    times = openings.ways.times
    total = fsum(MEASURING if action.measure is not None else times.of(action.verb) for action in test.do)
    return total / MINUTE, COMPUTED


def _notes(test: FaultTest, state: str | None, opening: Opening, needs: Needs) -> Iterator[str]:
    if state is None:
        yield "whether power is on is not recorded: it counts as dead and proved"
    elif test.state is None:
        yield "a resistance is measured on a dead machine only: power is taken as off"
    if test.covers is None:
        yield "whether covers are open or closed is not recorded: what is not in the way counts as closed"
    if test.takes is None:
        yield "its time is not recorded: common practice is counted"
    if needs.power is Power.ON and opening.works:
        yield (
            "what has to be touched for it is touched while the machine is proved dead, and proving is counted in its "
            "time; from then on no hand goes in until it is isolated again"
        )
