"""What is done before a test, a remedy or a trial run, in words and in an order hands can follow.

The search lists preparations; here each cover gets its sentence, what is opened comes in the order of the way there,
and the proof stands as early as can be: as soon as the places for it are open, before anything else is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from benchleaf.access.energy_words import isolate_words, prove_words
from benchleaf.fastener_sets import DRIVEN
from benchleaf.frozen import dataclass
from benchleaf.isolation.states import Preparation, Step
from benchleaf.physical.instructions import kind_words, torque_words
from benchleaf.physical.operations import named, subject_of
from benchleaf.troubles.openings import Opening, Openings
from benchleaf.troubles.problem_of import Case

Kind = Literal["isolate", "close", "open", "prove dead", "energise"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Doing:
    """One preparation: what, how long (minutes), and the lines that say how. ``operation`` is that of the access path
    where it is one."""

    kind: Kind
    words: str
    minutes: float
    how: tuple[str, ...] = ()
    operation: str = ""


def doings(
    openings: Openings, steps: Sequence[Preparation], way: Opening, energies: Sequence[str]
) -> tuple[Doing, ...]:
    """Preparations as they are done. ``way``: that of the test or remedy they are for; ``energies``: what is isolated
    and proved dead each time."""
    place = {one: at for at, one in enumerate(way.works)}
    first: list[Doing] = []
    opened: list[tuple[int, Doing]] = []
    last: list[Doing] = []
    proof: Doing | None = None
    for step in steps:
        if step.step is Step.OPEN:
            words = openings.words.of(step.cover)
            doing = Doing(kind="open", words=words, minutes=step.minutes, operation=step.cover)
            opened.append((place.get(step.cover, len(place)), doing))
        elif step.step is Step.CLOSE:
            first.append(_close(openings, step))
        elif step.step is Step.PROVE:
            proof = _proof(openings, step.minutes, energies)
        elif step.step is Step.ISOLATE:
            first.append(_isolate(openings, step.minutes, energies))
        else:
            last.append(Doing(kind="energise", words="Energise: undo what isolates, in reverse", minutes=step.minutes))
    opened.sort(key=lambda one: one[0])
    to_prove_at = frozenset(openings.to((), dead=True).works) if proof else frozenset[str]()
    before = [doing for _, doing in opened if doing.operation in to_prove_at]
    after = [doing for _, doing in opened if doing.operation not in to_prove_at]
    return (*_closing(openings, first, way), *before, *((proof,) if proof else ()), *after, *last)


def _closing(openings: Openings, first: list[Doing], way: Opening) -> Iterator[Doing]:
    """Isolating first, then closing: what is opened last is closed first."""
    yield from (one for one in first if one.kind == "isolate")
    closing = {one.operation: one for one in first if one.kind == "close"}
    if closing:
        order = opening_order(openings, frozenset(closing) | frozenset(way.works))
        yield from (closing[one] for one in reversed(order) if one in closing)


def opening_order(openings: Openings, works: frozenset[str]) -> tuple[str, ...]:
    """An order in which all of these can be opened, what belongs to one item side by side where it can be."""

    def find() -> tuple[str, ...]:
        ways, operations = openings.ways, openings.ways.dead_network.operations
        left, chosen, at = sorted(works), list[str](), ""
        while left:
            done = ways.done(chosen)
            ready = [one for one in left if all(not done.isdisjoint(clause) for clause in operations[one].clauses)]
            here = [one for one in ready if subject_of(ways.ground, one) == at]
            following = (here or ready or left)[0]
            at = subject_of(ways.ground, following)
            left.remove(following)
            chosen.append(following)
        return tuple(chosen)

    return openings.ways.ground.remember("opening order", " ".join(sorted(works)), find)


def _close(openings: Openings, step: Preparation) -> Doing:
    one = named(step.cover)
    fasteners = openings.built.sets[one.what] if one.kind == "un" else None
    how = (f"Torque: {torque_words(fasteners)}",) if fasteners is not None and fasteners.kind in DRIVEN else ()
    words = back_words(openings, step.cover)
    return Doing(kind="close", words=words, minutes=step.minutes, how=how, operation=step.cover)


def _isolate(openings: Openings, minutes: float, energies: Sequence[str]) -> Doing:
    how = tuple(isolate_words(openings.words, name) for name in energies)
    words = "Isolate" if how else "Isolate: no energy is recorded, everything counts as live"
    return Doing(kind="isolate", words=words, minutes=minutes, how=how)


def _proof(openings: Openings, minutes: float, energies: Sequence[str]) -> Doing:
    how = tuple(line for name in energies for line in prove_words(openings.words, name))
    if not how:
        how = ("Where it is proved dead is not recorded: it counts as live. Measure.",)
    return Doing(kind="prove dead", words="Prove dead", minutes=minutes, how=how)


def back_words(openings: Openings, operation: str) -> str:
    """The way back of an operation as an instruction."""
    one, built = named(operation), openings.built
    if one.kind == "un":
        fasteners = built.sets[one.what]
        verb = "Tighten" if fasteners.release == "loosen" else "Fit and tighten"
        count = f"{fasteners.count} " if fasteners.count != 1 else ""
        return f"{verb} the {count}{kind_words(fasteners)} of {openings.words.item(fasteners.item)}"
    if one.kind == "off":
        return f"Fit {openings.words.item(one.what)}"
    if one.kind == "to":
        return f"Move {openings.words.item(one.what)} back to where it sits"
    if one.kind == "open":
        verb = "Plug" if one.at in built.connectors else "Land"
        return f"{verb} {one.what} at {one.at}, as its label says"
    if one.kind == "joint":
        return f"Close {one.what} at {openings.words.item(one.at)}"
    if one.kind == "tie":
        return f"Fit a new tie {one.what}"
    if one.kind == "drain":
        return f"Fill the {one.what} circuit"
    return f"Take the clamp off {one.what}" if one.kind == "clamp" else f"Uncover {openings.words.item(one.what)}"


def doings_of_power(openings: Openings, case: Case) -> tuple[Doing, ...]:
    """How the machine is isolated and proved dead, for a page that says it once."""
    if case.problem is None:
        return ()
    minutes = case.problem.power
    return (
        _isolate(openings, minutes.isolate, case.energies),
        _proof(openings, minutes.prove, case.energies),
    )
