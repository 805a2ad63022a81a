"""The swap table: which ends can be mistaken for each other, and what happens then, worst first.

A plug and another place make a pair when the plug goes in (same family, contact count and coding), its cable reaches,
and both are open at the same time: in a procedure by the order of its steps, on the machine at any time. A plug that is
not keyed also makes a pair with its own place, turned round. What is not recorded never takes a pair away.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property

from benchleaf.applicability import holds
from benchleaf.built import Built, connector_order
from benchleaf.connectors.carried import Contacts
from benchleaf.connectors.ends import PARKED, Place, Plug, places_of, plugs_of, same_family
from benchleaf.connectors.meeting import Meeting
from benchleaf.connectors.openings import Openings, StepRef, openings_of
from benchleaf.connectors.together import OpenTogether, Together
from benchleaf.connectors.ways import Way, Ways
from benchleaf.frozen import dataclass
from benchleaf.records.teardown import TeardownRecord

MOST_NAMES = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """Two ends that can be mistaken for each other, or one that can be turned round (then ``two`` is ``one``).

    ``one`` and ``two`` are connectors, or ``W9 parked``; ``cables`` those that belong there. ``steps`` open them;
    ``certain`` is false where only an unchecked step may have opened one. ``removed_by`` says how another order of the
    steps takes the pair away; empty where none is known to.
    """

    one: str
    two: str
    cables: tuple[str, ...]
    ways: tuple[Way, ...]
    steps: tuple[StepRef, ...] = ()
    certain: bool = True
    removed_by: str = ""

    @property
    def worst(self) -> Meeting:
        return self.ways[0].worst

    @property
    def is_turned(self) -> bool:
        return self.one == self.two

    @property
    def name(self) -> str:
        """``A1-J6 and A1-J7``; ``A1-J5 turned round``."""
        return f"{self.one} turned round" if self.is_turned else f"{self.one} and {self.two}"

    @property
    def warning(self) -> str:
        """The pair in one sentence, as a step says it."""
        worst = self.ways[0]
        where = f"{worst.words}: {worst.worst.consequence.value}"
        if self.is_turned:
            leads = f"{worst.worst.consequence.value} ({worst.worst.words})"
            return f"{self.cables[0]} goes into {self.one} turned round as well: {leads}."
        if len({way.mine for way in self.ways}) == 1:
            return f"The plug of {worst.mine} goes into {worst.place} as well. {where} ({worst.worst.words})."
        return f"{self.one} and {self.two} take each other's plugs. {where} ({worst.worst.words})."


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapTable:
    """All pairs of a machine (``procedure`` empty) or of a procedure, worst first, and what must be said beside."""

    procedure: str
    configuration: str
    pairs: tuple[Pair, ...]
    remarks: tuple[str, ...]

    @property
    def certain(self) -> tuple[Pair, ...]:
        """The pairs that the steps themselves open at the same time."""
        return tuple(pair for pair in self.pairs if pair.certain)

    @property
    def perhaps(self) -> tuple[Pair, ...]:
        """The pairs that are open at the same time only if an unchecked step opened them."""
        return tuple(pair for pair in self.pairs if not pair.certain)

    def pairs_of(self, end: str) -> tuple[Pair, ...]:
        """The pairs that a connector belongs to, worst first."""
        return tuple(pair for pair in self.pairs if end in (pair.one, pair.two))


class SwapBook:
    """Every wrong way of a machine as built, asked for by procedure. Make it once a machine as built."""

    def __init__(self, built: Built, contacts: Contacts | None = None) -> None:
        self.built = built
        self.places = places_of(built)
        self.plugs = plugs_of(built)
        self._ways = Ways(built, contacts if contacts is not None else Contacts(built))

    def of_machine(self) -> SwapTable:
        """Every pair of ends, whatever is open."""
        found = _Found()
        for plug in self.plugs:
            for place in self._near(plug):
                found.add(plug, place, self._ways.of(plug, place), Together((), True))
        return self._table("", found.pairs(self._cable_of), None)

    def of_procedure(self, procedure: TeardownRecord) -> SwapTable:
        """The pairs of ends open at the same time while a procedure is worked through, its conditions first."""
        opened = openings_of(self.built, procedure)
        look = OpenTogether(opened)
        found = _Found()
        for plug in self.plugs:
            if look.may_be_open(plug):
                for place in self._near(plug):
                    together = look.together(plug, place)
                    if together is not None:
                        found.add(plug, place, self._ways.of(plug, place), together)
        table = self._table(str(procedure.id), found.pairs(self._cable_of, look.other_order), opened)
        if holds(procedure.applies, self.built.configuration, self.built.machine.record) is False:
            return replace(table, remarks=(f"{procedure.id} is not for this machine.", *table.remarks))
        return table

    @cached_property
    def _by_family(self) -> Mapping[str | None, tuple[Place, ...]]:
        found: dict[str | None, list[Place]] = {}
        for place in self.places.values():
            family = place.half.family
            found.setdefault(family if family is None else same_family(family), []).append(place)
        return {family: tuple(many) for family, many in found.items()}

    def _near(self, plug: Plug) -> Iterable[Place]:
        """The places a plug may go into by its family; those without one are among them."""
        if plug.half.family is None:
            return self.places.values()
        return (*self._by_family.get(same_family(plug.half.family), ()), *self._by_family.get(None, ()))

    def _cable_of(self, end: str) -> str:
        return self.places[end].cable if end in self.places else end.removesuffix(f" {PARKED}")

    def _table(self, procedure: str, pairs: Iterable[Pair], opened: Openings | None) -> SwapTable:
        pairs = tuple(sorted(pairs, key=lambda one: (one.worst.sort_key[:2], not one.certain, one.one, one.two)))
        label = self.built.configuration.label
        remarks = tuple(self._remarks(pairs, opened))
        return SwapTable(procedure=procedure, configuration=label, pairs=pairs, remarks=remarks)

    def _remarks(self, pairs: Sequence[Pair], opened: Openings | None) -> Iterator[str]:
        if not self.built.connectors:
            yield "No connector is recorded: any plug counts as fitting any place."
        elif not pairs:
            where = "on this machine" if opened is None else "open at the same time in this procedure"
            yield f"No two ends that go into each other's place are recorded {where}."
        for _, step in opened.unchecked if opened is not None else ():
            yield (
                f"Step {step.number} of {step.procedure} ({step.title}) does not say what it opens: "
                "from there on any end counts as open."
            )
        blank = [name for name, place in self.places.items() if _is_blank(place)]
        if blank:
            yield f"Family, contacts or keying not recorded, which counts as fitting: {_some(blank)}."
        unseen = [n for n, place in self.places.items() if not place.cable and self.built.connectors[n].cable is None]
        if unseen:
            yield f"Nobody recorded what is plugged in at {_some(unseen)}: whatever it is, it may go elsewhere too."


def _some(names: Sequence[str]) -> str:
    more = f" and {len(names) - MOST_NAMES} more" if len(names) > MOST_NAMES else ""
    return f"{', '.join(names[:MOST_NAMES])}{more}"


def _is_blank(place: Place) -> bool:
    half = place.half
    return half.family is None or half.contacts is None or half.keyed is None


class _Found:
    """Collects ways under the two ends they belong to."""

    def __init__(self) -> None:
        self.ways: dict[tuple[str, str], list[Way]] = {}
        self.when: dict[tuple[str, str], Together] = {}
        self._order: dict[str, tuple[str, str, int, str]] = {}

    def add(self, plug: Plug, place: Place, ways: tuple[Way, ...], together: Together) -> None:
        if not ways:
            return
        mine, its = ways[0].mine, place.connector
        ends = (mine, its) if self._rank(mine) <= self._rank(its) else (its, mine)
        self.ways.setdefault(ends, []).extend(ways)
        self.when.setdefault(ends, together)

    def _rank(self, end: str) -> tuple[str, str, int, str]:
        if end not in self._order:
            self._order[end] = connector_order(end)
        return self._order[end]

    def pairs(
        self, cable_of: Callable[[str], str], other_order: Callable[[Together], str] = lambda _: ""
    ) -> Iterator[Pair]:
        for ends, ways in self.ways.items():
            when = self.when[ends]
            yield Pair(
                one=ends[0],
                two=ends[1],
                cables=tuple(dict.fromkeys(name for end in ends if (name := cable_of(end)))),
                ways=tuple(sorted(ways, key=lambda w: (w.worst.sort_key, w.turned, w.cable, w.home, w.place))),
                steps=when.steps,
                certain=when.certain,
                removed_by=other_order(when),
            )
