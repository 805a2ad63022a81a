"""What a step of a derived procedure is called, and how many hands it takes."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from benchleaf.access.words import Words, listed
from benchleaf.physical.ground import Ground
from benchleaf.physical.operations import Named
from benchleaf.physical.rules.work import ONE_PERSON_LIFTS


def step_title(words: Words, at: str, operations: Sequence[Named]) -> str:
    """The title of a step that does ``operations`` at one thing, named by its weightiest."""
    kinds = {one.kind for one in operations}
    last = operations[-1]
    if "off" in kinds:
        return f"Take {words.item(at)} off"
    if "to" in kinds:
        return f"Move {words.item(last.what)} to {last.at}"
    if kinds == {"un"}:
        return _release(words, at, operations)
    if kinds == {"open"}:
        cables = listed(list(dict.fromkeys(one.what for one in operations)))
        return f"Open {cables} at {words.item(at)}"
    if kinds == {"joint"}:
        return f"Open {last.what} at {words.item(last.at)}"
    if kinds == {"drain"}:
        return f"Drain the {listed([one.what for one in operations])} circuit"
    verb = {"clamp": "Clamp", "cover": "Cover", "tie": "Open the tie"}[last.kind]
    return f"{verb} {listed([words.item(one.what) for one in operations])}"


def _release(words: Words, at: str, operations: Sequence[Named]) -> str:
    """``Remove the screws of the top shell``; mixed kinds are fasteners, mixed verbs a release."""
    sets = [words.built.sets[one.what] for one in operations]
    verbs, kinds = {one.release for one in sets}, {one.kind for one in sets}
    verb = verbs.pop().capitalize() if len(verbs) == 1 else "Release"
    name = kinds.pop() if len(kinds) == 1 else "fastener"
    if sum(one.count for one in sets) != 1:
        name += "es" if name.endswith("ch") else "s"
    return f"{verb} the {name} of {words.item(at)}"


def persons_of(ground: Ground, operations: Sequence[Named]) -> int | None:
    """As many persons as the rule for masses wants; ``None`` for one."""
    lifts = ground.library.shop.one_person_lifts
    one_lifts = (lifts.middle if lifts is not None else None) or ONE_PERSON_LIFTS
    wanted = 1
    for one in operations:
        if one.kind in ("off", "to"):
            item = ground.built.items[one.what]
            mass = item.mass.greatest() if item.mass is not None else None
            wanted = max(wanted, item.persons or 1, ceil(mass / one_lifts) if mass is not None else 1)
    return wanted if wanted > 1 else None
