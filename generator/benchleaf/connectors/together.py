"""When two ends are open at the same time in a procedure, and whether another order of its steps would part them."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from benchleaf.connectors.ends import PARKED, Place, Plug
from benchleaf.connectors.openings import Openings, Span, StepRef
from benchleaf.frozen import dataclass

ONE_AT_A_TIME = frozenset({"label", "photograph", "unplug", "plug", "inspect", "clean", "measure", "mark"})
"""Verbs that need no second end to be open: ends opened for these alone can be dealt with one after the other."""


@dataclass(frozen=True, slots=True)
class Together:
    """Two ends open at the same time. ``steps`` open them; not ``certain``: only an unchecked step may have."""

    steps: tuple[StepRef, ...]
    certain: bool
    spans: tuple[tuple[Span, Span], ...] = ()


@dataclass(frozen=True)
class OpenTogether:
    """Answers for one procedure on one machine. A parked plug, and a place nothing is plugged into, are always open."""

    opened: Openings

    @cached_property
    def _spans(self) -> Mapping[tuple[str, str], tuple[Span, ...]]:
        found: dict[tuple[str, str], tuple[Span, ...]] = {}
        for span in self.opened.spans:
            key = (span.cable, span.connector)
            found[key] = (*found.get(key, ()), span)
        return found

    def may_be_open(self, plug: Plug) -> bool:
        """Whether the plug is open at some time, as far as the steps say."""
        return plug.at == PARKED or bool(self.opened.unchecked) or (plug.cable, plug.at) in self._spans

    def together(self, plug: Plug, place: Place) -> Together | None:
        """When a plug and a place are open at the same time; ``None`` when they never are."""
        mine = self._spans.get((plug.cable, plug.at), ())
        its = self._spans.get((place.cable, place.connector), ())
        if plug.at == place.connector:
            if mine:
                return Together(_steps(*mine), True)
        elif plug.at == PARKED or not place.cable:
            if mine or its:
                return Together(_steps(*mine, *its), True)
        else:
            met = tuple((a, b) for a in mine for b in its if a.meets(b))
            if met:
                return Together(_steps(*(span for both in met for span in both)), True, met)
        if self.opened.unchecked:
            return Together(tuple(step for _, step in self.opened.unchecked), False)
        return None

    def other_order(self, together: Together) -> str:
        """How another order of the steps would part two ends; empty where none is known to.

        It is known where both are plugged again, and nothing done while both are open needs them open together.
        """
        if not together.certain or not together.spans or not all(self._parts(*both) for both in together.spans):
            return ""
        first, second = together.spans[0]
        if second.opened.turn < first.opened.turn:
            first, second = second, first
        return (
            f"Plug {first.cable} in at {first.connector} again before {second.cable} is opened at {second.connector}: "
            "then only one of the two is open at a time."
        )

    def _parts(self, one: Span, other: Span) -> bool:
        if one.closed is None or other.closed is None:
            return False
        start = max(one.opened.turn, other.opened.turn)
        end = min(one.closed.turn, other.closed.turn)
        if any(start < turn <= end for turn, _ in self.opened.unchecked):
            return False
        return all(event.verb in ONE_AT_A_TIME for event in self.opened.events[start : end + 1])


def _steps(*spans: Span) -> tuple[StepRef, ...]:
    """The steps that open ends, in order, each once."""
    return tuple(dict.fromkeys(span.opened.step for span in sorted(spans, key=lambda one: one.opened.turn)))
