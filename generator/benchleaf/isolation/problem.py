"""What the search for a fault starts from: causes with weights, tests with answers, remedies, and what they
cost.

Plain values, filled by whoever knows the records. Minutes everywhere. One fault at a time; a remedy cures
the causes it is for; a test answers by its table of likelihoods. What a test or a remedy needs around it
(covers open or closed, power on, or dead and proved) stands beside it, because opening, closing, isolating
and proving are paid for.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field
from enum import Enum
from math import fsum
from types import MappingProxyType

from benchleaf.frozen import dataclass

WHOLE = 1e-9  # how far shares may miss 1 by rounding


class Power(Enum):
    """What a test needs: the machine dead and proved dead, powered, or either."""

    DEAD = "dead"
    ON = "on"
    EITHER = "either"


class Supply(Enum):
    """How the machine stands: energised, isolated, or isolated and proved dead."""

    ON = "energised"
    ISOLATED = "isolated"
    PROVED = "proved dead"


class Mode(Enum):
    """REPAIR: minutes to a running machine, remedies being actions too. IDENTIFY: minutes to knowing the
    remedy."""

    REPAIR = "repair"
    IDENTIFY = "identify"


@dataclass(frozen=True, slots=True)
class Needs:
    """The condition something is done in: ``open`` covers (with all they stand behind), whether every other
    cover is closed, and power. Default: everything closed, dead and proved, which is what counts when
    nothing is stated."""

    open: frozenset[str] = frozenset()
    others_closed: bool = True
    power: Power = Power.DEAD


ANY = Needs(others_closed=False, power=Power.EITHER)


def stated(covers: str | None, state: str | None, behind: Iterable[str] = ()) -> Needs:
    """The needs of a test or trial run as a record states them: ``covers`` open, closed or either,
    ``state`` dead or powered, ``behind`` the covers its place is behind. Unstated is closed, and dead and
    proved. Open or either together with powered is a recorded powered test.

    Raises ValueError for another word.
    """
    if covers not in {None, "open", "closed", "either"}:
        raise ValueError(f"covers are open, closed or either, not {covers!r}")
    if state not in {None, "dead", "powered"}:
        raise ValueError(f"the state is dead or powered, not {state!r}")
    return Needs(
        open=frozenset(behind),
        others_closed=covers in {None, "closed"},
        power=Power.ON if state == "powered" else Power.DEAD,
    )


def hands_on(behind: Iterable[str] = ()) -> Needs:
    """The needs of a repair: what it is behind open, whatever else is open left so, dead and proved."""
    return Needs(open=frozenset(behind), others_closed=False)


@dataclass(frozen=True, slots=True)
class Cover:
    """Something in the way: minutes to open it and to close it again, and the cover it is itself
    ``within``. Any operation of an access path can be one."""

    open_minutes: float
    close_minutes: float = 0.0
    within: str | None = None


@dataclass(frozen=True, slots=True)
class PowerMinutes:
    """What it takes to isolate, to prove dead and to energise, each time."""

    isolate: float = 0.0
    prove: float = 0.0
    energise: float = 0.0


@dataclass(frozen=True, slots=True)
class Test:
    """``shares``: for each cause, how often it gives each outcome. What is missing to 1 goes to the outcome
    ``rest``; a cause that is not named gives ``rest`` always."""

    minutes: float
    shares: Mapping[str, Mapping[str, float]]
    rest: str | None = None
    needs: Needs = ANY

    __test__ = False  # so that pytest does not take it for one

    @property
    def outcomes(self) -> tuple[str, ...]:
        """Every outcome named, also one that no recorded cause gives; as sorted text."""
        named = {outcome for row in self.shares.values() for outcome in row}
        return tuple(sorted(named if self.rest is None else named | {self.rest}))

    def row(self, cause: str) -> dict[str, float]:
        """Outcome → share for a cause, without zeros. Raises ValueError when shares do not add up to 1."""
        row = {outcome: share for outcome, share in self.shares.get(cause, {}).items() if share > 0}
        missing = 1.0 - fsum(row.values())
        if self.rest is not None and missing > WHOLE:
            row[self.rest] = row.get(self.rest, 0.0) + missing
            missing = 0.0
        if abs(missing) > WHOLE or any(share < 0 for share in self.shares.get(cause, {}).values()):
            raise ValueError(f"the shares of {cause} are {1.0 - missing:g} together, not 1, and no outcome is the rest")
        return row


@dataclass(frozen=True, slots=True)
class Remedy:
    """``minutes`` hands-on, without access; ``fixes`` the causes it is for."""

    minutes: float
    fixes: tuple[str, ...]
    needs: Needs = ANY


@dataclass(frozen=True, slots=True)
class Trial:
    """Running the machine after a repair to see whether it is cured; a perfect check."""

    minutes: float = 0.0
    needs: Needs = Needs(power=Power.ON)


@dataclass(frozen=True, slots=True)
class Start:
    """How the machine stands when the search begins. Not recorded counts as energised."""

    open: frozenset[str] = frozenset()
    supply: Supply = Supply.ON


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """Everything the order of tests depends on.

    ``causes``: id → weight above zero; weights are divided by their sum. ``trial`` None: a trial run is
    free and needs nothing. A cause without a remedy ends in a stated dead end. Raises ValueError for what
    makes no sense: no weight, minutes below zero, an id that is not there, shares that do not add up.
    """

    causes: Mapping[str, float]
    tests: Mapping[str, Test] = field(default_factory=lambda: MappingProxyType({}))
    remedies: Mapping[str, Remedy] = field(default_factory=lambda: MappingProxyType({}))
    covers: Mapping[str, Cover] = field(default_factory=lambda: MappingProxyType({}))
    power: PowerMinutes = PowerMinutes()
    trial: Trial | None = None
    mode: Mode = Mode.REPAIR
    start: Start = Start()

    def __post_init__(self) -> None:
        for cause, weight in self.causes.items():
            if not 0 < weight < float("inf"):
                raise ValueError(f"the weight of {cause} is {weight}; it has to be above zero")
        both = sorted(set(self.tests) & set(self.remedies))
        if both:
            raise ValueError(f"{both[0]} is a test and a remedy; answers could not be told apart")
        for test in sorted(self.tests):
            for cause in self.causes:
                try:
                    self.tests[test].row(cause)
                except ValueError as wrong:
                    raise ValueError(f"test {test}: {wrong}") from None
        for name, remedy in self.remedies.items():
            for cause in remedy.fixes:
                if cause not in self.causes:
                    raise ValueError(f"remedy {name} is for {cause}, which is not a cause")
        self._check_minutes()
        self._check_covers()

    def _check_minutes(self) -> None:
        minutes = {f"test {name}": test.minutes for name, test in self.tests.items()}
        minutes |= {f"remedy {name}": remedy.minutes for name, remedy in self.remedies.items()}
        minutes |= {f"opening {name}": cover.open_minutes for name, cover in self.covers.items()}
        minutes |= {f"closing {name}": cover.close_minutes for name, cover in self.covers.items()}
        minutes |= {
            "isolating": self.power.isolate,
            "proving dead": self.power.prove,
            "energising": self.power.energise,
            "the trial run": self.trial.minutes if self.trial else 0.0,
        }
        for what, taken in minutes.items():
            if not 0 <= taken < float("inf"):
                raise ValueError(f"{what} takes {taken} minutes; it has to be zero or more")

    def _check_covers(self) -> None:
        needs = [*(test.needs for test in self.tests.values()), *(r.needs for r in self.remedies.values())]
        asked = {cover for need in needs for cover in need.open} | set(self.start.open)
        asked |= {cover.within for cover in self.covers.values() if cover.within is not None}
        if self.trial:
            asked |= self.trial.needs.open
        unknown = sorted(asked - set(self.covers))
        if unknown:
            raise ValueError(f"{unknown[0]} has to be opened and is not a cover")
        for name in self.covers:
            seen: list[str] = []
            above: str | None = name
            while above is not None:
                if above in seen:
                    raise ValueError(f"the covers are within each other: {' in '.join([*seen, above])}")
                seen.append(above)
                above = self.covers[above].within
