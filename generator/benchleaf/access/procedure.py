"""A path written as a procedure, in the words and verbs an author would use: isolate, prove dead, open, take off.

Nobody has done it. It is a record like any other, so it is replayed under the same rules, printed the same way, and can
be copied by an author as the beginning of one that was done.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import field

from benchleaf import nodes, refs
from benchleaf.access.energy_words import isolate_words, prove_words
from benchleaf.access.paths import Access
from benchleaf.access.step_titles import persons_of, step_title
from benchleaf.access.ways import Ways
from benchleaf.access.words import Words, listed
from benchleaf.built import FRAME
from benchleaf.diagnostics import Place
from benchleaf.frozen import dataclass
from benchleaf.physical.operations import Named, missing_of, named, subject_of
from benchleaf.physical.rules.fasteners import mixed_up
from benchleaf.records.actions import Action, read_object
from benchleaf.records.reading import Desk, Misfit
from benchleaf.records.teardown import Goal, Step, TeardownRecord, Verified
from benchleaf.text import NOWHERE, Text

PREFIX = "derived"
UNVERIFIED = (
    "Worked out from what is recorded of the machine. Nobody has done it in this order: look before every step, and "
    "stop where the machine is not as it says."
)
TOGETHER = {
    "un": "item", "off": "item", "to": "item", "open": "end", "joint": "line", "clamp": "clamp", "cover": "cover",
    "drain": "drain", "tie": "tie",
}  # fmt: skip
"""Operations of one group, one after the other at one thing, make one step; clamps, covers and ties at any."""


def record_of(ways: Ways, access: Access) -> TeardownRecord:
    """The procedure of a path. Raises ValueError when there is no way."""
    if not access.is_reached:
        raise ValueError(f"{access.title}: {access.out_of_reach}")
    machine = ways.built.machine
    steps = tuple(_Writer(ways, access).steps())
    goal_text = f"{access.goal} {access.item}"
    goal = Goal(access.goal, Text(goal_text), refs.ItemRef(access.item))
    return TeardownRecord(
        record=Text("teardown"),
        id=Text(f"{PREFIX}-{access.goal}-{access.item.lower()}"),
        title=Text(access.title),
        machine=Text(machine.id),
        goal=goal,
        verified=Verified(state="unverified"),
        text=Text(UNVERIFIED),
        steps=steps,
        place=machine.record.items[access.item].place,
    )


@dataclass
class _Draft:
    """A step while its operations are collected."""

    key: tuple[str, str]
    operations: list[Named] = field(default_factory=list)
    actions: list[Action] = field(default_factory=list)
    said: list[str] = field(default_factory=list)


class _Writer:
    """Walks a path once and writes its steps; what changes on the way is kept to write each action rightly."""

    def __init__(self, ways: Ways, access: Access) -> None:
        self.ways, self.access = ways, access
        self.ground, self.built = ways.ground, ways.built
        self.words = Words(ways)
        self.gaps = {one.id: one.gaps for one in access.works}
        self.where: dict[str, str] = {}
        self.done: set[str] = set()
        self.proved: set[str] = set()
        self.isolated: set[str] = set()
        self.labelled: set[str] = set()
        self.marked: set[str] = set()
        self.draft: _Draft | None = None
        drawn = [one.what for one in map(named, access.order) if one.kind == "to"]
        self.many = {item for item in drawn if drawn.count(item) > 1}
        self.been: set[tuple[str, str]] = set()

    def steps(self) -> Iterator[Step]:
        yield from self._saved()
        for operation in self.access.order:
            one = named(operation)
            if one.kind in ("isolated", "proved"):
                yield from self._flush()
                yield from self._isolate(one.what)
                if one.kind == "proved":
                    yield self._prove(one.what)
            elif one.is_work:
                key = (TOGETHER[one.kind], self._thing(one))
                if self.draft is None or self.draft.key != key:
                    yield from self._flush()
                    self.draft = _Draft(key)
                self._add(self.draft, operation, one)
            self.done.add(operation)
        yield from self._flush()
        if self.access.goal == "replace":
            yield self._new_part()

    def _thing(self, one: Named) -> str:
        """What the operations of a step have in common."""
        if one.kind in ("clamp", "cover", "drain", "tie"):
            return ""
        name = f"{one.what}@{one.at}"
        return name if one.kind == "joint" else subject_of(self.ground, f"{one.kind}:{name}")

    # ---- before and after

    def _saved(self) -> Iterator[Step]:
        """Settings are backed up while the machine still runs."""
        off = [one.what for one in map(named, self.access.order) if one.kind == "off"]
        for item in off:
            if self.built.items[item].settings is not None:
                what = f"It keeps: {self.built.items[item].settings}."
                actions = (self._action("back up", item, item),)
                yield Step(title=Text(f"Back up the settings of {self.words.item(item)}"), do=actions, text=Text(what))

    def _isolate(self, energy: str) -> Iterator[Step]:
        """At the first isolation every electrical energy goes that can be got at from outside."""
        if energy in self.isolated:
            return
        outside = self.ways.done(())
        now = [
            name
            for name in self.access.isolate
            if name not in self.isolated and (name == energy or f"isolated:{name}" in outside)
        ]
        self.isolated.update(now)
        said = [isolate_words(self.words, name) for name in now]
        actions = tuple(self._action("isolate", name, "") for name in now)
        title = f"Isolate {listed([self._energy(name) for name in now])}"
        yield Step(title=Text(title), do=actions, text=_lines(said))

    def _prove(self, energy: str) -> Step:
        one = self.built.energy[energy]
        self.proved.add(energy)
        actions = [self._action("prove dead", energy, "")]
        stores = bool(one.stored) if one.stored is not None else one.kind in ("electrical", "pneumatic", "spring")
        if stores:
            actions.insert(0, self._action("discharge", energy, ""))
        end = "dead" if one.kind == "electrical" else "gone"
        what = self._energy(energy)
        title = f"Discharge {what} and prove it {end}" if stores else f"Prove {what} {end}"
        return Step(title=Text(title), do=tuple(actions), text=_lines(prove_words(self.words, energy)))

    def _energy(self, name: str) -> str:
        energy = self.built.energy[name]
        return f"the {_small(str(energy.name))}" if energy.name is not None else name

    def _new_part(self) -> Step:
        item = self.access.item
        said = []
        over = sorted(self.built.inside(item) - {item})
        if over:
            names = listed([self.words.item(one) for one in over])
            sit = "sits" if len(over) == 1 else "sit"
            said.append(f"In it {sit} {names}: whether a new part brings its own is not recorded.")
        for crossing in self.ground.crossings(item):
            mine = [end for end in crossing.inner if crossing.kind == "cable" and end.item == item]
            if any(not end.opens for end in mine):
                said.append(f"{crossing.id} is fixed to it: whether a new part brings its own is not recorded.")
            left = [end.at for end in mine if end.opens and f"open:{crossing.id}@{end.at}" not in self.done]
            said += [f"{crossing.id} came off with it, still at {at}: it goes over to the new part." for at in left]
        part = self.built.items[item].part_number
        said.append(f"Part number {part}." if part is not None else "The part number is not recorded.")
        actions = (self._action("renew", item, item),)
        title = f"Take a new part to hand for {self.words.item(item)}"
        return Step(title=Text(title), do=actions, text=_lines(said))

    # ---- operations

    def _add(self, draft: _Draft, operation: str, one: Named) -> None:
        draft.actions += [*self._moved_again(operation, draft), *self._marks(one), *self._actions(one)]
        draft.operations.append(one)
        draft.said += [gap for gap in self._said(operation, one) if gap not in draft.said]

    def _said(self, operation: str, one: Named) -> Iterator[str]:
        if one.kind == "off":
            held_up = [str(ref.item) for ref in self.built.items[one.what].supports or ()]
            left = [name for name in held_up if name in self.built.items and self.where.get(name) != "off"]
            if left:
                names = listed([self.words.item(name) for name in left])
                yield f"Hold {names}: without {self.words.item(one.what)} it would fall or tip."
        if one.kind == "un" and self.built.sets[one.what].release == "remove":
            out = [self.built.sets[name.what] for name in map(named, sorted(self.done)) if name.kind == "un"]
            for other in out:
                if other.release == "remove" and mixed_up(self.built.sets[one.what], other):
                    yield f"Keep them apart from those of {self.words.item(other.item)}: they look alike."
        for gap in self.gaps.get(operation, ()):
            yield f"{gap[0].upper()}{gap[1:]}."

    def _actions(self, one: Named) -> Iterator[Action]:
        what, at = one.what, one.at
        if one.kind == "un":
            if missing_of(self.ground, what) < self.built.sets[what].count:
                yield self._action(self.built.sets[what].release, what, what.partition(".")[0])
        elif one.kind == "off":
            if self.ground.slides(what) and what not in self.where:
                yield self._action("slide", what, what)
            self.where[what] = "off"
            yield self._action("lift off", what, what)
        elif one.kind == "to" and what not in self.many:
            self.where[what] = at
            yield self._action("move", f"{what} to {at}", what)
        elif one.kind == "open" and at in self.built.connectors:
            self.labelled.add(what)
            yield self._action("disconnect", f"{what} at {at}", "")
        elif one.kind == "open":
            if what not in self.labelled:
                self.labelled.add(what)
                yield self._action("label", what, "")
            yield self._action("lift lead", f"{what} at {at}", "")
        elif one.kind == "to":
            pass  # it goes to several places in turn: to each when something asks for it
        elif one.kind == "joint":
            yield self._action("open", f"{what} at {at}", "")
            if self.ground.is_wet(what):
                yield self._action("cap", f"{what} at {at}", "")
        else:
            yield self._action("cut" if one.kind == "tie" else one.kind, what, "")

    def _marks(self, one: Named) -> Iterator[Action]:
        """What an operation puts out of adjustment is marked first, once its item may be touched."""
        if one.kind not in ("un", "off"):
            return
        for name, adjuster in self.built.adjusters.items():
            on = str(adjuster.on_item.item) if adjuster.on_item is not None else ""
            by = adjuster.disturbed_by
            item = one.what.partition(".")[0]
            hit = one.kind == "off" and item == on if by is None else one.what in by or item in by
            live = set(self.ground.liveness.at.get(on, ()))
            if hit and name not in self.marked and live <= self.proved:
                self.marked.add(name)
                yield self._action("mark", name, "")

    def _moved_again(self, operation: str, draft: _Draft) -> Iterator[Action]:
        """An item drawn to several positions in turn is moved to each where that is asked for, and back again."""
        for clause in self.ways.operation(operation).clauses if self.many else ():
            met = [one for one in clause if one in self.done]
            if not met or any(self._holds(one) for one in met):
                continue
            one = named(met[0])
            if one.kind != "to":
                yield from self._moved_again(met[0], draft)
                continue
            self.where[one.what] = one.at
            if (one.what, one.at) in self.been:
                draft.said.append(f"{one.what} is drawn to {one.at} once more; the time for it is not in the total.")
            self.been.add((one.what, one.at))
            yield self._action("move", f"{one.what} to {one.at}", one.what)

    def _holds(self, operation: str) -> bool:
        """Whether an operation that was done has not been undone by drawing its item elsewhere."""
        one = named(operation)
        if operation not in self.done or one.is_work:
            return operation in self.done and (one.kind != "to" or self.where.get(one.what) in (one.at, "off"))
        clauses = self.ways.operation(operation).clauses
        return all(any(self._holds(other) for other in clause) for clause in clauses)

    # ---- writing

    def _flush(self) -> Iterator[Step]:
        draft, self.draft = self.draft, None
        if draft is None or not draft.actions:
            return
        yield Step(
            title=Text(step_title(self.words, draft.key[1], draft.operations)),
            do=tuple(draft.actions),
            text=_lines(draft.said),
            persons=persons_of(self.ground, draft.operations),
        )

    def _action(self, verb: str, text: str, item: str) -> Action:
        """An action read as if an author had written it; it stands where its item is recorded."""
        place = self._place(item)
        made = read_object(verb, nodes.Scalar(text, place), Desk())
        if isinstance(made, Misfit):
            raise ValueError(f"'{verb}: {text}' is not in the language")
        return made

    def _place(self, item: str) -> Place:
        name = item if item in self.built.items and item != FRAME else self.access.item
        found = self.built.machine.record.items[name].place
        return Place(found.file, found.line, found.column) if found is not None else NOWHERE


def _lines(said: Iterable[str]) -> Text | None:
    """One line as prose, several as a list."""
    lines = tuple(said)
    return Text("\n".join(f"- {one}" for one in lines) if len(lines) > 1 else lines[0]) if lines else None


def _small(name: str) -> str:
    return name[:1].lower() + name[1:] if name[1:2].islower() else name
