"""From what a step says to single acts: ``disconnect: A1-J3`` is a label, a photograph and a plug pulled.

An act is one verb on one thing. What an action names that is not on this machine, or not as it says, is a problem here,
before any rule looks at it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from benchleaf.diagnostics import Place, Severity
from benchleaf.frozen import dataclass
from benchleaf.physical.ground import LIFTABLE, Ground
from benchleaf.physical.state import State
from benchleaf.records.actions import VERBS, Action, Kind
from benchleaf.text import NOWHERE, Text


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """One verb on one thing.

    ``what`` is a set, item, connector, cable, line, circuit, tie, energy, adjuster or side; ``at`` the position, the
    item of a joint, the contact of a lead, or the cable of a connector. ``count`` is how many fasteners at most
    (``None`` = all), ``exact`` a count the author stated. ``part_of`` names the verb it was written as; ``written`` is
    the author's action, ``None`` for an act that no author wrote.
    """

    verb: str
    what: str
    at: str = ""
    count: int | None = None
    exact: int | None = None
    part_of: str = ""
    written: Action | None = None
    place: Place = NOWHERE

    @property
    def action(self) -> Action:
        """The author's action, or one that says what this act does."""
        if self.written is not None:
            return self.written
        said = Text(self.what)
        return Action(verb=self.verb, text=said, target=said, to=Text(self.at))

    @property
    def words(self) -> str:
        """As an author would write it."""
        joiner = {"move": " to ", "lift lead": " at ", "land lead": " at ", "open": " at ", "close": " at "}
        said = f"{self.what}{joiner.get(self.verb, ' at ')}{self.at}" if self.at and self.verb in _PAIRED else self.what
        many = f"{self.count} of " if self.count is not None else ""
        return f"{self.verb}: {many}{said}"


_PAIRED = {"move", "lift lead", "land lead", "open", "close", "cap", "uncap"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """Something a rule has to say about an act: a finding that does not know yet on which machines it holds."""

    code: str
    message: str
    place: Place
    help: str = ""
    severity: Severity = Severity.ERROR
    related: tuple[tuple[Place, str], ...] = ()


Expanded = tuple[tuple[Act, ...], tuple[Problem, ...]]


def act(verb: str, what: str, at: str = "", *, count: int | None = None, place: Place = NOWHERE) -> Act:
    """An act that no author wrote: a derived one. ``place`` is that of the step it is derived from."""
    return Act(verb=verb, what=what, at=at, count=count, place=place)


def expand(ground: Ground, state: State, action: Action) -> Expanded:
    """The acts of an action in this state, and what it names wrongly for this machine."""
    kind = VERBS.get(action.verb)
    missing = _missing(ground, action, kind)
    if missing is not None:
        return (), (missing,)
    base = Act(verb=action.verb, what=action.target, at=action.to, written=action, place=action.place)
    if kind is Kind.SET:
        return _sets(ground, state, base)
    if kind is Kind.CONNECTOR:
        return _connector(ground, base)
    if kind is Kind.HOST:
        return _all_of(ground, state, base)
    if kind is Kind.LEAD:
        return _lead(ground, base)
    return (base,), ()


def _missing(ground: Ground, action: Action, kind: Kind | None) -> Problem | None:
    """What the action names is not on this machine."""
    built = ground.built
    name, to = str(action.target), str(action.to)
    there = True
    if kind in (Kind.SET, Kind.ANY):
        item, dot, own = name.partition(".")
        there = not name or (item in built.items and (not dot or name in built.sets or own in built.items[item].values))
        there = there or (kind is Kind.ANY and not own)
    elif kind in (Kind.ITEM, Kind.MOVE, Kind.HOST):
        there = name in built.items
    elif kind in (Kind.OPENING, Kind.JOINT):
        there = name in built.lines if to else name in built.items
    elif kind is Kind.CONNECTOR:
        there = name in built.connectors
    elif kind in (Kind.LEAD, Kind.CABLE):
        there = name in built.cables
    elif kind is Kind.TIE:
        there = name in built.ties
    elif kind is Kind.LINE:
        there = name in built.lines
    elif kind is Kind.CIRCUIT:
        vessels = {str(one.circuit) for one in built.items.values() if one.circuit is not None}
        there = name in vessels or bool(ground.lines_of(name))
    elif kind is Kind.ENERGY:
        there = name in built.energy
    elif kind is Kind.ADJUSTER:
        there = name in built.adjusters
    elif kind is Kind.MEASURE:
        there = not name or name.partition(".")[0] in built.items
    if not there:
        return _not_there(action, name)
    if kind is Kind.MOVE and to != "seated" and to not in built.items[name].positions:
        known = ", ".join(built.items[name].positions) or "none"
        message = f"{name} has no position '{to}'"
        return Problem(code="not-there", message=message, place=to_place(action), help=f"its positions are: {known}")
    if kind in (Kind.OPENING, Kind.JOINT) and to and all(end.at.item != to for end in built.lines[name].ends):
        ends = " and ".join(str(end.at.item) for end in built.lines[name].ends)
        message = f"{name} has no joint at {to}"
        return Problem(code="not-there", message=message, place=to_place(action), help=f"it ends at {ends}")
    return None


def to_place(action: Action) -> Place:
    return action.to.place if action.to and action.to.place != NOWHERE else action.place


def _not_there(action: Action, name: str) -> Problem:
    help = "give the step `applies:` for the machines that have it"
    return Problem(code="not-there", message=f"{name} is not on this machine", place=action.place, help=help)


def _sets(ground: Ground, state: State, base: Act) -> Expanded:
    action = base.action
    if action.target in ground.built.sets:
        if action.part is None and action.exact is None:
            return (base,), ()
        return (replace(base, count=action.part, exact=action.exact),), ()
    item = base.what
    if action.verb == "renew":
        return (base,), ()
    sets = ground.built.sets_of(item)
    if not sets:
        if ground.built.held_unknown(item):
            message = f"nobody recorded what holds {item}: it counts as held by something unknown"
            help = f"add `held-by:` to {item}, or `held-by: none` when it only rests"
            return (), (Problem(code="held-by-unknown", message=message, place=base.place, help=help,
                                severity=Severity.WARNING),)  # fmt: skip
        message, help = f"nothing is recorded that holds {item}", f"name its sets under `held-by` of {item}"
        return (), (Problem(code="not-there", message=message, place=base.place, help=help),)
    acts = tuple(
        Act(verb=base.verb, what=one.name, at=base.at, part_of=action.verb, written=action, place=base.place)
        for one in sets
    )
    left = tuple(one for one in acts if _to_do(ground, state, one))
    problems: tuple[Problem, ...] = ()
    if action.exact is not None:
        total = sum(_to_do(ground, state, one) for one in acts)
        recorded = sum(one.count for one in sets)
        missing = sum(ground.counts(state, one.name).missing for one in sets)
        if action.exact != total and not (action.exact == recorded and total + missing == recorded):
            problems = (count_problem(base, action.exact, total, ", ".join(one.name for one in sets)),)
    return left or acts, problems


def _to_do(ground: Ground, state: State, one: Act) -> int:
    """How many fasteners of a set the verb still has to act on."""
    counts = ground.counts(state, one.what)
    return {"loosen": counts.tight, "remove": counts.tight + counts.loose, "start": counts.out}.get(
        one.verb, counts.loose
    )


def to_do(ground: Ground, state: State, one: Act) -> int:
    """How many fasteners of its set an act still has to act on, before any partial count."""
    return _to_do(ground, state, one)


def count_problem(one: Act, stated: int, found: int, sets: str) -> Problem:
    """A stated count that is not the recorded one."""
    are = "is" if found == 1 else "are"
    message = f"the step says {stated}, but there {are} {found} to {one.verb} ({sets})"
    help = "count on the machine, then mend the step or `held-by`"
    return Problem(code="count-differs", message=message, place=one.place, help=help)


def _connector(ground: Ground, base: Act) -> Expanded:
    action = base.action
    there = ground.built.cables_at.get(base.what, ())
    if action.cable and action.cable not in there:
        found = f"{' and '.join(there)} is" if there else "no cable is"
        message = f"{action.cable} is not the cable at {base.what}: {found}"
        return (), (Problem(code="wrong-cable", message=message, place=base.place, help="mend the step or `ends`"),)
    if not there:
        if base.verb == "photograph":
            return (base,), ()
        message = f"no cable is plugged in at {base.what} on this machine"
        help = "give the step `applies:` for the machines that have one, or mend `ends`"
        return (), (Problem(code="not-there", message=message, place=base.place, help=help),)
    return tuple(_opened(base, str(action.cable) or there[0])), ()


def _opened(base: Act, cable: str) -> Iterator[Act]:
    if base.verb in ("disconnect", "disconnect all"):
        yield replace(base, verb="label", what=cable, part_of="disconnect")
        yield replace(base, verb="photograph", at=cable, part_of="disconnect")
        yield replace(base, verb="unplug", at=cable, part_of="disconnect")
    else:
        yield replace(base, at=cable)


def _all_of(ground: Ground, state: State, base: Act) -> Expanded:
    built = ground.built
    left = [
        (name, built.cables_at[name][0])
        for name in built.connectors_of.get(base.what, ())
        if name in built.cables_at and (built.cables_at[name][0], name) not in state.unmated
    ]
    if not left:
        message = f"no cable is plugged in at {base.what} any more"
        return (), (Problem(code="done-twice", message=message, place=base.place, help="take the line out"),)
    return tuple(one for name, cable in left for one in _opened(replace(base, what=name), cable)), ()


def _lead(ground: Ground, base: Act) -> Expanded:
    joint = ground.joint_of_lead(base.what, base.at)
    place = to_place(base.action)
    if joint is None:
        ends = ", ".join(
            lead
            for end in ground.built.cables[base.what].ends
            if not end.at.is_parked and end.at not in ground.built.connectors
            for lead in ground.leads(base.what, str(end.at))
        )
        message = f"{base.what} has no lead at {base.at}"
        return (), (Problem(code="not-there", message=message, place=place, help=f"its leads are: {ends or 'none'}"),)
    if joint not in LIFTABLE:
        message = f"the lead of {base.what} at {base.at} is soldered and cannot be lifted"
        help = "open the other end, or record `joint: screw` or `spade` when it is one"
        return (), (Problem(code="lead-soldered", message=message, place=place, help=help),)
    leads = next(
        ground.leads(base.what, str(end.at))
        for end in ground.built.cables[base.what].ends
        if end.at == base.at or base.at in ground.leads(base.what, str(end.at))
    )
    named = (base.at,) if base.at in leads else leads
    return tuple(replace(base, at=lead) for lead in named), ()
