"""A test order written out: what to do first, and for every answer what to do next, down to a remedy.

Values for pages and printing; the search itself is elsewhere. Minutes and probabilities hold at the place
where they stand: a probability is that of the answer given all before it.
"""

from __future__ import annotations

from enum import Enum
from typing import TypeAlias

from benchleaf.frozen import dataclass
from benchleaf.isolation.states import Preparation

Shares: TypeAlias = tuple[tuple[str, float], ...]  # (cause, probability), most likely first


class Ending(Enum):
    """Why a branch ends without a repair."""

    ONE_REMEDY = "what is left has one remedy"
    NOT_TOLD_APART = "no recorded test tells these apart"
    NO_REMEDY = "no remedy is recorded"
    NO_CAUSE_FITS = "these answers fit no recorded cause"


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One outcome of a test, how likely it is here, and what to do then."""

    outcome: str
    probability: float
    then: Node


@dataclass(frozen=True, slots=True, kw_only=True)
class TestNode:
    """Do ``test``, after ``preparations``. ``minutes`` are those of the test alone, ``expected`` all that
    are still to be spent from here. ``live_behind``: covers open while the machine is powered for it (a
    recorded powered test, never without its warning)."""

    test: str
    preparations: tuple[Preparation, ...]
    minutes: float
    causes: Shares
    answers: tuple[Answer, ...]
    expected: float
    worst: float
    live_behind: tuple[str, ...] = ()

    __test__ = False  # so that pytest does not take it for one


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairNode:
    """Apply ``remedy``, then run the machine. ``cured`` is how likely that was it. ``if_not_fixed`` None:
    every recorded cause has then been dealt with."""

    remedy: str
    preparations: tuple[Preparation, ...]
    minutes: float
    trial_preparations: tuple[Preparation, ...]
    trial_minutes: float
    causes: Shares
    cured: float
    if_not_fixed: Node | None
    expected: float
    worst: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """Nothing more to choose: the causes left and the remedies that cure them all."""

    causes: Shares
    remedies: tuple[str, ...]
    ending: Ending
    expected: float = 0.0
    worst: float = 0.0


Node: TypeAlias = TestNode | RepairNode | Leaf


@dataclass(frozen=True, slots=True, kw_only=True)
class Policy:
    """The order found. ``expected`` and ``worst`` in minutes; no order has fewer expected minutes than
    ``bound``.

    ``exact``: it is the best there is; otherwise ``method`` names the rule it was made by. ``states``
    looked at.
    """

    root: Node
    expected: float
    worst: float
    exact: bool
    bound: float
    method: str
    states: int
