"""What to take along for a code or symptom: the union over all its remedies, with how likely each is wanted.

Spares (the part itself, what is renewed with it), supplies, tools and meters. How likely: the chance that the order of
tests comes to a remedy that wants it, by the weights as counted. What nobody recorded is named, so that the list never
looks complete when it is not.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import fsum
from typing import Literal

from benchleaf.access.paths import targets_of
from benchleaf.access.ways import ways_of
from benchleaf.applicability import holds
from benchleaf.derived import Derived
from benchleaf.fastener_sets import HAND
from benchleaf.frozen import dataclass
from benchleaf.isolation.policy import Leaf, Node, TestNode
from benchleaf.physical.instructions import kind_words
from benchleaf.physical.operations import named
from benchleaf.records.teardown import Step, TeardownRecord
from benchleaf.troubles.openings import Openings
from benchleaf.troubles.problem_of import Case, order_of
from benchleaf.troubles.remedies import RemedyPlan, own_works

Kind = Literal["spare", "supply", "tool"]
KINDS: tuple[Kind, ...] = ("spare", "supply", "tool")
ALWAYS = "always"


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One thing to take along. ``id`` of an item, fastener set, tie, supply or tool; ``part_number`` ``None`` = not
    recorded.

    ``amounts`` as recorded, one for each remedy that says one; ``wanted_for``: the remedies (and tests, for a meter),
    by id; ``chance``: how likely one of them is come to, 0 to 1.
    """

    kind: Kind
    id: str
    words: str
    part_number: str | None
    amounts: tuple[str, ...]
    wanted_for: tuple[str, ...]
    chance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PartsList:
    """The parts, spares first, the likeliest first within a kind. ``gaps``: what nobody recorded."""

    parts: tuple[Part, ...]
    gaps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Want:
    kind: Kind
    id: str
    amount: str = ""


def parts_list(openings: Openings, case: Case, root: Node | None) -> PartsList:
    """What to take along for a case; ``root``: its order of tests, for how likely each is come to."""
    found: dict[tuple[Kind, str], list[tuple[str, str]]] = {}  # → (wanted for, amount)
    gaps: list[str] = []
    for plan in case.remedies.values():
        for want in _wants(openings, plan):
            found.setdefault((want.kind, want.id), []).append((plan.id, want.amount))
        gaps += _gaps(openings, plan)
    for id, test in case.tests.items():
        for reading in test.readings:
            if reading.meter:
                found.setdefault(("tool", reading.meter), []).append((id, ""))
    parts = []
    for (kind, id), wanted in found.items():
        wanted_for = tuple(dict.fromkeys(one for one, _ in wanted))
        words, number = _called(openings, kind, id)
        amounts = tuple(dict.fromkeys(amount for _, amount in wanted if amount))
        chance = chance_of(root, frozenset(wanted_for))
        parts.append(
            Part(
                kind=kind, id=id, words=words, part_number=number, amounts=amounts, wanted_for=wanted_for, chance=chance
            )
        )  # fmt: skip
    parts.sort(key=lambda one: (KINDS.index(one.kind), -one.chance, one.id))
    gaps += [f"the part number of {one.words}" for one in parts if one.kind == "spare" and one.part_number is None]
    gaps += [f"what cures '{id}': {why}" for id, why in case.without_remedy.items()]
    return PartsList(parts=tuple(parts), gaps=tuple(dict.fromkeys(gaps)))


def parts_lists(derived: Derived, case: Case) -> tuple[tuple[tuple[str, ...], PartsList], ...]:
    """What to take along for a case, by the machines it holds on: part numbers may differ where nothing else does."""
    machine, policy = derived.library.machines[case.machine], order_of(derived, case)
    made: dict[PartsList, list[str]] = {}
    for configuration in case.configurations:
        openings = Openings(ways_of(derived, machine, configuration))
        found = parts_list(openings, case, policy.root if policy is not None else None)
        made.setdefault(found, []).append(configuration.label)
    return tuple((tuple(on), found) for found, on in made.items())


def chance_of(node: Node | None, names: frozenset[str]) -> float:
    """How likely an order of tests comes to one of these tests or remedies."""
    if node is None or isinstance(node, Leaf):
        return 0.0
    if (node.test if isinstance(node, TestNode) else node.remedy) in names:
        return 1.0
    if isinstance(node, TestNode):
        return fsum(answer.probability * chance_of(answer.then, names) for answer in node.answers)
    return (1.0 - node.cured) * chance_of(node.if_not_fixed, names)


def _wants(openings: Openings, plan: RemedyPlan) -> Iterator[_Want]:
    procedure = _procedure(openings, plan)
    steps = tuple(_steps(openings, procedure)) if procedure is not None else ()
    works = list(plan.way.works)
    goal = procedure.goal.kind if procedure is not None and procedure.goal is not None else "replace"
    if plan.item is not None and goal in ("replace", "remove"):
        way = openings.to(targets_of(openings.ways, plan.item, "remove"), dead=True)
        works += own_works(openings, plan.item, way.works)
        if goal == "replace":
            yield _Want("spare", plan.item)
    yield from (_Want("spare", one) for one in _renewed(openings, works))
    for step in steps:
        for action in step.do or ():
            if action.verb == "renew" and action.target:
                yield _Want("spare", str(action.target))
            if action.measure is not None and action.measure.with_ is not None:
                yield _Want("tool", str(action.measure.with_))
    for use in [
        *((procedure.supplies or ()) if procedure is not None else ()),
        *(u for s in steps for u in s.supplies or ()),
    ]:
        yield _Want("supply", str(use.id), str(use.amount or ""))
    for one in dict.fromkeys(works):
        tool = openings.ways.operation(one).tool
        if tool and tool != HAND and not tool.startswith("driver for "):
            yield _Want("tool", tool)


def _renewed(openings: Openings, works: list[str]) -> Iterator[str]:
    """What must be new whenever it comes off, of all that comes off: items with what is in them, sets, cut ties."""
    built = openings.built
    for operation in dict.fromkeys(works):
        one = named(operation)
        if one.kind == "off":
            yield from (item for item in sorted(built.inside(one.what)) if built.items[item].renew == ALWAYS)
        elif (one.kind == "un" and built.sets[one.what].renew == ALWAYS) or (
            one.kind == "tie" and built.ties[one.what].opens != "by hand"
        ):
            yield one.what


def _gaps(openings: Openings, plan: RemedyPlan) -> Iterator[str]:
    procedure = _procedure(openings, plan)
    if procedure is None:
        yield f"the supplies of '{plan.title}': no author wrote it"
    elif procedure.supplies is None and not any(step.supplies for step in procedure.steps):
        yield f"the supplies of '{plan.title}'"


def _procedure(openings: Openings, plan: RemedyPlan) -> TeardownRecord | None:
    return openings.built.machine.procedures.get(plan.procedure) if plan.procedure is not None else None


def _steps(openings: Openings, procedure: TeardownRecord) -> Iterator[Step]:
    built = openings.built
    for step in procedure.steps:
        if holds(step.applies, built.configuration, built.machine.record) is not False:
            yield step


def _called(openings: Openings, kind: Kind, id: str) -> tuple[str, str | None]:
    """What a part is called, and its part number."""
    built, library = openings.built, openings.ways.ground.library
    if kind == "tool":
        return openings.words.tool(id), None
    if kind == "supply":
        stock = library.supplies.get(id)
        return (str(stock.name), _text(stock.part_number)) if stock is not None else (id, None)
    if id in built.items:
        return openings.words.item(id), _text(built.items[id].part_number)
    if id in built.sets:
        one = built.sets[id]
        return f"{one.count} {kind_words(one)} of {openings.words.item(one.item)}", one.part_number
    tie = built.ties.get(id)
    return (str(tie.name or f"tie {id}"), None) if tie is not None else (id, None)


def _text(said: object) -> str | None:
    return str(said) if said is not None else None
