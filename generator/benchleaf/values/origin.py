"""Where a number comes from, down to someone who measured it, a note, a standard or common practice.

A page shows the chain one click away; a chain that ends in nothing is a gap, and a number with a gap is not
shown.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeAlias

from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Recorded:
    """Written in a record: ``value`` as typed, at ``place``; ``how`` is its origin word, ``measured by RV on
    0221``.
    """

    value: str
    place: Place
    how: str = ""


@dataclass(frozen=True, slots=True)
class Given:
    """Typed on the command line by whoever asks."""

    value: str


@dataclass(frozen=True, slots=True)
class Published:
    """Out of a standard or a book: ``source`` names it with its table or clause."""

    value: str
    source: str


@dataclass(frozen=True, slots=True)
class CommonPractice:
    """A fact of the trade nobody has to prove, or a worst case assumed because nothing is recorded."""

    value: str
    text: str


@dataclass(frozen=True, slots=True)
class Input:
    """One number that went into a formula, under the letter the formula uses. ``origin`` of ``None`` is a
    gap.
    """

    name: str
    value: str
    origin: Origin | None


@dataclass(frozen=True, slots=True)
class Computed:
    """Computed by ``formula`` from ``inputs``; ``source`` says who vouches for the formula."""

    value: str
    formula: str
    inputs: tuple[Input, ...]
    source: str = ""


Origin: TypeAlias = Recorded | Given | Published | CommonPractice | Computed


class BrokenChain(ValueError):
    """A number whose origin ends in nothing: a mistake of ours, for the record's author cannot make one."""


def leaves(origin: Origin) -> Iterator[Recorded | Given | Published | CommonPractice]:
    """Everything the number rests on in the end, in the order of the formulas."""
    if isinstance(origin, Computed):
        for one in origin.inputs:
            if one.origin is not None:
                yield from leaves(one.origin)
    else:
        yield origin


def gaps(origin: Origin | None, what: str = "the value") -> tuple[str, ...]:
    """What of the chain leads nowhere, each named; empty when every branch ends in something."""
    match origin:
        case None:
            return (f"{what} has no origin",)
        case Recorded(place=place) if not place.file or place.line < 1:
            return (f"{what} is said to be recorded, but not where",)
        case Given(value=value) if not value.strip():
            return (f"{what} is said to be given, but is empty",)
        case Published(source=text) | CommonPractice(text=text) if not text.strip():
            return (f"{what} names no source",)
        case Computed(inputs=inputs, formula=formula):
            if not formula.strip():
                return (f"{what} is computed by no formula",)
            if not inputs:
                return (f"{what} is computed from nothing",)
            return tuple(gap for one in inputs for gap in gaps(one.origin, f"{one.name} of {what}"))
    return ()


def require_whole(origin: Origin | None, what: str = "the value") -> Origin:
    """The origin itself; raises `BrokenChain` naming every gap."""
    found = gaps(origin, what)
    if origin is None or found:
        raise BrokenChain("; ".join(found))
    return origin


def say(origin: Origin) -> str:
    """One line for a footnote, without the inputs."""
    match origin:
        case Recorded(value=value, place=place, how=how):
            return f"{value}, recorded at {place.file}:{place.line}" + (f" ({how})" if how else "")
        case Given(value=value):
            return f"{value}, as given"
        case Published(value=value, source=source):
            return f"{value}, {source}"
        case CommonPractice(value=value, text=text):
            return f"{value}, {text}"
        case Computed(value=value, formula=formula, source=source):
            return f"{value} = {formula}" + (f" ({source})" if source else "")


def tell(origin: Origin) -> tuple[str, ...]:
    """The whole chain, one line a link, inputs below their formula and two spaces further in."""
    lines = [say(origin)]
    if isinstance(origin, Computed):
        for one in origin.inputs:
            if one.origin is None:
                lines.append(f"  {one.name} = {one.value}, no origin")
                continue
            first, *rest = tell(one.origin)
            lines += [f"  {one.name}: {first}", *(f"  {line}" for line in rest)]
    return tuple(lines)
