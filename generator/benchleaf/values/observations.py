"""Several people saw a value: do they agree, who decided, and what holds until someone does. All of them are
kept.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from itertools import combinations

from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass
from benchleaf.values.origin import Recorded
from benchleaf.values.quantity import Dimension, Quantity, conflicts

NO_INTERIM = "no interim rule is recorded: ask before relying on either value"
SAME_WITHIN = 0.10
"""Default band of a value without tolerance, as a share (records.md: the shop's ``same-within``)."""


class Status(Enum):
    """The four states a value can be in."""

    AGREED = "agreed"
    DISPUTED = "disputed"
    SINGLE = "single observation"
    NOT_RECORDED = "not recorded"


@dataclass(frozen=True, slots=True, kw_only=True)
class Observation:
    """One entry under a value. Empty = not recorded. With ``adjudicated`` the quantity is a decision, not a
    sight; an entry that only carries ``interim`` has no quantity.
    """

    quantity: Quantity | None = None
    origin: str = ""
    """``service note``, ``measured``, ``computed``, ``common practice``."""
    by: str = ""
    serial: str = ""
    date: str = ""
    """Year-month-day, so that text order is time order."""
    method: str = ""
    instrument: str = ""
    source: str = ""
    condition: str = ""
    adjudicated: bool = False
    reason: str = ""
    interim: str = ""
    place: Place | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where a value stands. ``shown`` is what a page prints: one entry, or every side of a dispute."""

    status: Status
    shown: tuple[Observation, ...]
    decided: Observation | None = None
    """The adjudicating entry, when it settles the matter."""
    disputes: tuple[tuple[Observation, Observation], ...] = ()
    """Every pair that cannot both be right."""
    interim: str = ""
    """What to do meanwhile; filled for every disputed value."""
    set_aside: tuple[Observation, ...] = ()
    """Computed torques: kept, shown as limits, never counted as somebody's observation."""
    everyone: tuple[Observation, ...] = ()
    """All entries as written, so that nothing a technician saw is lost."""

    @property
    def quantity(self) -> Quantity | None:
        """The one quantity to act on; ``None`` when it is disputed or not recorded."""
        return self.shown[0].quantity if len(self.shown) == 1 else None

    @property
    def text(self) -> str:
        """``0.6 N·m``, ``0.5 N·m or 0.9 N·m (disputed: …)``, ``not recorded``."""
        values = " or ".join(str(one.quantity) for one in self.shown)
        if self.status is Status.DISPUTED:
            return f"{values} (disputed: {self.interim})"
        return values or self.status.value


def standing_of(observations: Sequence[Observation], same_within: float = SAME_WITHIN) -> Standing:
    """Status of a value from everything written about it.

    In conflict are two quantities whose bands do not meet. An adjudicated entry with a reason settles it,
    until a later observation contradicts the decision; of several decisions the last dated counts. Agreed
    values show the first with the narrowest band.
    """
    everyone = tuple(observations)
    interim = next((one.interim for one in everyone if one.interim), "")
    aside = tuple(one for one in everyone if _is_computed_torque(one))
    seen = [one for one in everyone if one.quantity is not None and not one.adjudicated and one not in aside]
    decisions = [one for one in everyone if one.quantity is not None and one.adjudicated and one.reason]
    if decisions:
        decided = max(enumerate(decisions), key=lambda pair: (pair[1].date, pair[0]))[1]
        against = [one for one in seen if _is_later(one, decided) and _conflict(one, decided, same_within)]
        if not against:
            return Standing(status=Status.AGREED, shown=(decided,), decided=decided, set_aside=aside, everyone=everyone)
        seen = [decided, *against]
    disputes = tuple(pair for pair in combinations(seen, 2) if _conflict(*pair, same_within))
    if disputes:
        return Standing(
            status=Status.DISPUTED,
            shown=tuple(seen),
            disputes=disputes,
            interim=interim or NO_INTERIM,
            set_aside=aside,
            everyone=everyone,
        )
    if not seen:
        return Standing(status=Status.NOT_RECORDED, shown=(), set_aside=aside, everyone=everyone)
    return Standing(
        status=Status.SINGLE if len(seen) == 1 else Status.AGREED,
        shown=(min(seen, key=lambda one: _width(one, same_within)),),
        set_aside=aside,
        everyone=everyone,
    )


def careful_span(standing: Standing, same_within: float = 0.0) -> tuple[float, float] | None:
    """Lowest and highest value anybody's shown entry allows, base unit: what a limit has to reckon with."""
    bands = [one.quantity.band(same_within) for one in standing.shown if one.quantity is not None]
    return (min(low for low, _ in bands), max(high for _, high in bands)) if bands else None


def origin_words(one: Observation, *, publish_names: bool = False) -> str:
    """Where an entry comes from, for a footnote. ``by`` only when the shop publishes names."""
    if one.adjudicated:
        parts = ["decided", one.reason]
    else:
        parts = [one.origin or "origin not recorded", one.source, one.method, one.instrument]
    parts += [f"serial {one.serial}" if one.serial else "", one.condition, one.date]
    parts += [f"by {one.by}" if publish_names and one.by else ""]
    return ", ".join(part for part in parts if part)


def origin_of(one: Observation, *, publish_names: bool = False) -> Recorded | None:
    """The entry as the end of an origin chain; ``None`` (a gap) when it is not said where it stands."""
    if one.place is None or one.quantity is None:
        return None
    return Recorded(one.quantity.tidy, one.place, origin_words(one, publish_names=publish_names))


def _is_computed_torque(one: Observation) -> bool:
    torque = one.quantity is not None and one.quantity.dimension is Dimension.TORQUE
    return torque and one.origin == "computed" and not one.adjudicated


def _is_later(one: Observation, decided: Observation) -> bool:
    return bool(one.date and decided.date and one.date > decided.date)


def _conflict(one: Observation, other: Observation, same_within: float) -> bool:
    return (
        one.quantity is not None and other.quantity is not None and conflicts(one.quantity, other.quantity, same_within)
    )


def _width(one: Observation, same_within: float) -> float:
    assert one.quantity is not None
    low, high = one.quantity.band(same_within)
    return high - low
