"""The shot list: pictures to take before connectors are opened, the worst risk of a swap first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from benchleaf.built import Built
from benchleaf.connectors.ends import places_of
from benchleaf.connectors.labels import CableLabel
from benchleaf.connectors.meeting import Consequence, Meeting
from benchleaf.connectors.openings import Openings, Span, StepRef
from benchleaf.connectors.swaps import Pair, SwapTable
from benchleaf.frozen import dataclass
from benchleaf.wiring.contacts import shown


@dataclass(frozen=True, slots=True, kw_only=True)
class Shot:
    """One picture, before ``step`` opens the connector or lifts the lead.

    ``worst`` is the worst a swap there does, ``None`` for no swap known; ``must_show`` are sentences for whoever holds
    the camera.
    """

    connector: str
    cable: str
    step: StepRef
    worst: Meeting | None
    alike: tuple[str, ...]
    must_show: tuple[str, ...]

    @property
    def risk(self) -> str:
        """The risk in words; no swap known is not the same as none."""
        return self.worst.consequence.value if self.worst is not None else "no swap known"


def shots_of(
    built: Built, opened: Openings, table: SwapTable, labels: Mapping[str, CableLabel] | None = None
) -> tuple[Shot, ...]:
    """A picture for each connector a procedure opens, worst swap first, of the same risk in order of opening."""
    places = places_of(built)
    shots: dict[str, tuple[int, Shot]] = {}
    for span in opened.spans:
        if span.opened.verb == "lift lead":
            shots.setdefault(shown(span.connector), (span.opened.turn, _lead(span, opened.leads, labels or {})))
            continue
        if span.connector in shots or span.connector not in places:
            continue
        pairs = table.pairs_of(span.connector)
        alike = tuple(dict.fromkeys(end for p in pairs for end in (p.one, p.two) if end != span.connector))
        label = labels.get(span.cable) if labels is not None else None
        shot = Shot(
            connector=span.connector,
            cable=span.cable,
            step=span.opened.step,
            worst=min((pair.worst for pair in pairs), key=lambda one: one.sort_key) if pairs else None,
            alike=alike,
            must_show=_must_show(built, span.connector, span.cable, alike, pairs, label),
        )
        shots[span.connector] = (span.opened.turn, shot)
    none = (99, 0.0)
    ranked = sorted(shots.values(), key=lambda one: (_rank(one[1].worst) or none, one[0]))
    return tuple(shot for _, shot in ranked)


def _lead(span: Span, leads: Sequence[Span], labels: Mapping[str, CableLabel]) -> Shot:
    """The picture of a terminal before its lead is lifted: any lead lifted beside it goes on it as well."""
    item = span.connector.partition(".")[0]
    beside = [one for one in leads if one.meets(span) and one.connector.partition(".")[0] == item]
    alike = tuple(dict.fromkeys(shown(one.connector) for one in beside if one.connector != span.connector))
    said = [f"{shown(span.connector)} with the lead of {span.cable} still on it, and the lettering beside it"]
    label = labels.get(span.cable)
    said += [f"the label {label.number} {label.mark.words} on {span.cable}"] if label is not None else []
    said += [f"in the same picture: {', '.join(alike)}, which take the same leads"] if alike else []
    worst = Meeting(Consequence.NOT_RECORDED, 0.0, "any lead goes on any terminal") if alike else None
    return Shot(
        connector=shown(span.connector),
        cable=span.cable,
        step=span.opened.step,
        worst=worst,
        alike=alike,
        must_show=tuple(said),
    )


def _rank(worst: Meeting | None) -> tuple[int, float] | None:
    return worst.sort_key[:2] if worst is not None else None


def _must_show(
    built: Built,
    connector: str,
    cable: str,
    alike: tuple[str, ...],
    pairs: tuple[Pair, ...],
    label: CableLabel | None,
) -> tuple[str, ...]:
    said = [f"{connector} with {cable} still plugged in, and the lettering beside it"]
    if label is not None:
        said.append(f"the label {label.number} {label.mark.words} on {cable}")
    if alike:
        said.append(f"in the same picture, or one more that shows which is which: {', '.join(alike)}")
    if any(pair.is_turned for pair in pairs):
        said.append("which side of the plug faces up: it goes in turned round as well")
    if built.connectors[connector].face is None:
        said.append("contact 1, where it can be seen: the arrangement is not recorded")
    return tuple(said)
