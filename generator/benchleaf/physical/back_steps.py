"""One step of the way back, with its title made from what it does."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import field, replace
from functools import cached_property

from benchleaf.frozen import dataclass
from benchleaf.physical.acts import Act, Problem
from benchleaf.physical.ground import Ground
from benchleaf.physical.instructions import Instruction, instruction
from benchleaf.physical.replay import Done
from benchleaf.physical.state import State, StepRef
from benchleaf.records.teardown import TeardownRecord


@dataclass(frozen=True, slots=True)
class Said:
    """What an act on the way back needs in words beside itself: how many fasteners (``None``: all), and a note."""

    count: int | None = None
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class BackStep:
    """One step of the way back. ``of`` is the step it comes from (``None``: none alone), ``why`` how it was derived.

    Its words are made when they are asked for: a check of many records reads hardly any.
    """

    ground: Ground = field(repr=False)
    why: str
    of: StepRef | None
    procedure: TeardownRecord | None
    done: tuple[Done, ...]
    said: tuple[Said, ...]
    before: State
    after: State
    persons: int | None = None
    notes: tuple[str, ...] = ()

    @cached_property
    def instructions(self) -> tuple[Instruction, ...]:
        """The acts in words, one each."""
        states = (self.before, *(one.after for one in self.done))
        rows = zip(states, self.done, self.said, strict=False)
        return tuple(_instruction(self.ground, before, one.act, said) for before, one, said in rows)

    @cached_property
    def title(self) -> str:
        return title_of(self.ground, self.done, self.instructions)

    @property
    def problems(self) -> tuple[Problem, ...]:
        return tuple(problem for one in self.done for problem in one.problems)


def _instruction(ground: Ground, before: State, act: Act, said: Said) -> Instruction:
    made = instruction(ground, before, act, said.count)
    return replace(made, notes=(*made.notes, said.note)) if said.note else made


_TITLE = ("install", "close", "fill", "move", "slide", "plug", "land lead", "tighten", "energise", "tie", "restore")


def title_of(ground: Ground, done: Sequence[Done], said: Sequence[Instruction]) -> str:
    """A step's title from its main act: what is fitted, joined, plugged, tightened."""
    for verb in _TITLE:
        of = list(dict.fromkeys(_thing(ground, one.act) for one in done if one.act.verb == verb))
        if of and verb == "energise":
            return said[0].words.partition(":")[0]
        if of:
            return f"{_VERB[verb]} {_listed(of)}{' back' if verb == 'move' else ''}"
    return said[0].words


_VERB = {
    "install": "Fit", "close": "Join", "fill": "Fill", "move": "Move", "slide": "Slide home", "plug": "Plug in",
    "land lead": "Land", "tighten": "Fasten", "energise": "Switch on", "tie": "Tie", "restore": "Restore",
}  # fmt: skip


def _thing(ground: Ground, one: Act) -> str:
    name = ground.built.sets[one.what].item if one.what in ground.built.sets else one.what
    item = ground.built.items.get(name)
    if item is not None:
        called = str(item.name)
        return f"the {called[:1].lower() + called[1:] if called[1:2].islower() else called}"
    if one.verb == "plug":
        return f"{one.at} at {one.what}"
    return f"{one.what} at {one.at}" if one.at and one.verb == "close" else one.what


def _listed(names: list[str]) -> str:
    if len(names) > 3:
        return f"{', '.join(names[:2])} and {len(names) - 2} more"
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
