"""The actions of a step as paper shows them: what to do, and a box for every reading somebody has to take."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from benchleaf.frozen import dataclass
from benchleaf.pages.action_words import told_actions
from benchleaf.pages.sentences import Sentence, Told, plain
from benchleaf.pages.step_view import Scene
from benchleaf.paper.origins import Footnotes, Piece

READ = ("measure", "prove dead")
_UNIT = re.compile(r"[0-9.]\s*([^0-9.\s±(][^0-9(±]*)$")


@dataclass(frozen=True, slots=True, kw_only=True)
class ActionData:
    """One thing to do. ``boxes`` are ``{label, unit}``; ``facts`` are small lines below."""

    said: list[Piece]
    parts: list[list[Piece]]
    boxes: tuple[dict[str, Any], ...] = ()
    facts: tuple[list[Piece], ...] = ()
    only: str | None = None


def actions_of(scene: Scene, notes: Footnotes) -> Iterator[ActionData]:
    """What a step says to do, in order; a reading gets its box with the unit of what is expected."""
    for action in scene.actions:
        for told in told_actions(scene.narrow, action):
            yield _action(action.verb, told, notes)


def _action(verb: str, told: Told, notes: Footnotes) -> ActionData:
    said, parts = notes.told(told)
    if verb == "prove dead" and parts:
        boxes = tuple({"label": part, "unit": unit_in(s)} for part, s in zip(parts, told.parts, strict=True))
        return ActionData(said=said, parts=[], boxes=boxes)
    if verb == "discharge":
        boxes = tuple({"label": f"Measured after discharging: {_place(one)}", "unit": "V"} for one in told.parts)
        return ActionData(said=said, parts=parts, boxes=boxes)
    if verb == "measure":
        return ActionData(said=said, parts=parts, boxes=({"label": "Reading", "unit": unit_in(told.sentence)},))
    return ActionData(said=said, parts=parts)


def _place(part: Sentence) -> str:
    """Where a store is measured: its sentence up to how it is discharged."""
    return plain(part).partition(". ")[0].removeprefix("In ")


def unit_in(sentence: Sentence) -> str:
    """The unit of the last value of a sentence; empty when it has none."""
    texts = [piece.value.text for piece in sentence if piece.value is not None and piece.value.text]
    found = _UNIT.search(texts[-1]) if texts else None
    return found.group(1).strip() if found else ""
