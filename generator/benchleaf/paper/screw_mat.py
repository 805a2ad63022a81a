"""The screw mat: a tray for every fastener set that comes out, with each screw drawn to size to lay the real one on."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from benchleaf.drawings.screw import Screw, screw_view
from benchleaf.fastener_sets import FastenerSet
from benchleaf.pages.fastener_words import kind_words, look_words
from benchleaf.pages.kinds.fasteners import screw_of
from benchleaf.pages.sentences import plural
from benchleaf.paper.bench_parts import Part, bench_sheet, note, unchecked_note
from benchleaf.paper.merged import merged
from benchleaf.paper.names import named
from benchleaf.paper.sheet import Paper, Sheet
from benchleaf.paper.subject import Subject
from benchleaf.physical.replay import Replay
from benchleaf.physical.rules.fasteners import mixed_up
from benchleaf.values.torque_of_set import is_driven

ROOM = 16.0
"""Millimetres left free in a tray for the screws themselves."""
NOTHING = "No step takes a fastener out."
LEAD = "Lay each set on its tray as it comes out. Screws are drawn to size: 1 mm is 1 mm when printed at 100 %."
_WIDTH = re.compile(r'<svg[^>]* width="([0-9.]+)mm"')
Key = tuple[Any, ...]


def sheet(subject: Subject, paper: Paper = "a4") -> Sheet:
    """The trays of a procedure and its required conditions, in the order of coming out."""
    files: dict[str, bytes] = {}
    lists = [(replay.ground.built.configuration, list(_trays(replay))) for replay in subject.replays]
    trays = []
    for number, (key, on) in enumerate(merged(lists), 1):
        trays.append(_tray(subject, number, key, files) | _only(subject.only(on)))
    parts: list[Part] = [{"k": "trays", "of": trays}] if trays else [note(NOTHING, grave=True)]
    unchecked = max((len(one.end.unchecked) for one in subject.replays), default=0)
    if unchecked:
        parts.insert(0, unchecked_note(unchecked, "may take out more than is shown."))
    nothing = "" if trays or unchecked else NOTHING
    return bench_sheet(subject, "screw-mat", "Screw mat", parts, paper, lead=LEAD, files=files, nothing=nothing)


def _only(words: str | None) -> dict[str, str]:
    return {"only": words} if words else {}


def _trays(replay: Replay) -> Iterator[Key]:
    """Per set that comes out: the set, the most that are out, the step, the sets it can be mistaken for."""
    built = replay.ground.built
    found: dict[str, tuple[str, int, str, int]] = {}
    for step in replay.steps:
        for done in step.done:
            name = done.act.what
            if done.act.verb == "remove" and name not in found:
                counts = done.after.counts.get(name)
                found[name] = (name, counts.out if counts is not None else 0, step.of.procedure, step.of.number)
            elif done.act.verb == "remove":
                counts = done.after.counts.get(name)
                most = max(found[name][1], counts.out if counts is not None else 0)
                found[name] = (name, most, *found[name][2:])
    for name, most, procedure, number in found.values():
        one = built.sets[name]
        alike = tuple(other for other in found if other != name and mixed_up(one, built.sets[other]))
        yield (one, most, procedure, number, alike)


def _tray(subject: Subject, number: int, key: Key, files: dict[str, bytes]) -> dict[str, Any]:
    one, most, procedure, step, alike = key
    where = f"step {step}" + ("" if procedure == subject.procedure.id else f" of {procedure}")
    data: dict[str, Any] = {
        "tray": str(number),
        "count": str(most),
        "what": plural(kind_words(one), most),
        "step": f"from {subject.full.item_name(one.item)}, {where}",
        "said": said(one),
        "warnings": [f"Keep apart: looks like the {named(subject.full, other)}" for other in alike],
        "room": ROOM,
    }
    if not is_driven(one):
        return data
    drawing = screw_view(screw_of(one), dimensioned=False)
    found = _WIDTH.search(drawing.svg)
    if found is not None:
        name = f"screw-{number}.svg"
        files[name] = drawing.svg.encode()
        data |= {"drawing": name, "alt": drawing.title, "width": float(found.group(1))}
    return data


def said(one: FastenerSet) -> str:
    """``M3 × 8, PH1, pan head``; what is not recorded is said, and that the drawing is then not to size."""
    parts = [look_words(one) or "size not recorded"]
    if is_driven(one):
        parts.append(f"{one.head} head" if one.head else "head not recorded")
        if not _to_size(screw_of(one)):
            parts.append("NOT DRAWN TO SIZE: thread or length not recorded")
    return ", ".join(parts)


def _to_size(screw: Screw) -> bool:
    return screw.to_size
