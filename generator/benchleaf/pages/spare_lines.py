"""Which parts a procedure uses up: what it renews, what must be renewed whenever it comes off, what it cuts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from benchleaf.frozen import dataclass
from benchleaf.pages.fastener_words import kind_words, look_words
from benchleaf.pages.sentences import plural
from benchleaf.pages.shown import Applies
from benchleaf.pages.step_view import Scene
from benchleaf.pages.uses import touched
from benchleaf.records.actions import Action

ALWAYS = "always"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spare:
    """A part to have at hand. ``item`` is what it is, or what it is on; ``why`` names the step and the reason."""

    words: str
    count: int
    item: str
    part_number: str | None
    why: str
    applies: Applies | None = None
    fastener: str = ""


def spares_of(acts: Iterable[Scene]) -> tuple[Spare, ...]:
    """Every part the steps use up, the same part once, with the greatest reason first met."""
    made: dict[tuple[str, str, str | None], Spare] = {}
    for scene in acts:
        for one in _of_scene(scene):
            key = (one.item, one.words, one.part_number)
            if key not in made:
                made[key] = one
            elif "renewed at step" in one.why and "renewed" not in made[key].why:
                made[key] = replace(one, why=one.why)
    return tuple(made.values())


def _of_scene(scene: Scene) -> Iterator[Spare]:
    applies = scene.mbook.narrowed(scene.procedure.applies).words_for(set(scene.narrow.configurations))
    for action in (*scene.actions, *(scene.step.on_return or ())):
        for one in _of_action(scene, action):
            yield one if one.applies is not None else replace(one, applies=applies)


def _of_action(scene: Scene, action: Action) -> Iterator[Spare]:
    mbook = scene.narrow
    item, _, own = str(action.target).partition(".")
    if action.verb == "renew" and own:
        yield from _fasteners(scene, str(action.target), f"renewed at step {scene.number}")
    elif action.verb == "renew":
        yield from _item(scene, item, f"renewed at step {scene.number}")
    elif action.verb == "lift off":
        if any(form.value.renew == ALWAYS for form in mbook.items(item)):
            yield from _item(scene, item, f"mandatory: comes off at step {scene.number}")
    elif action.verb in ("remove", "loosen"):
        for name in touched(mbook, action).sets:
            if any(form.value.renew == ALWAYS for form in mbook.sets(name)):
                yield from _fasteners(scene, name, f"mandatory: taken out at step {scene.number}", ALWAYS)
    elif action.verb == "cut":
        tie = mbook.record.ties.get(str(action.target))
        words = str(tie.name) if tie is not None and tie.name else str(action.target)
        if tie is None or tie.opens != "by hand":
            on = tie.fixed_to.item if tie is not None else ""
            yield Spare(
                words=f"tie in place of: {words}", count=1, item=on, part_number=None, why=f"cut at step {scene.number}"
            )


def _item(scene: Scene, item: str, why: str) -> Iterator[Spare]:
    for form in scene.narrow.items(item):
        yield Spare(
            words=scene.mbook.item_words(item),
            count=1,
            item=item,
            part_number=form.value.part_number,
            why=why,
            applies=form.applies,
        )


def _fasteners(scene: Scene, name: str, why: str, only: str | None = None) -> Iterator[Spare]:
    for form in scene.narrow.sets(name):
        one = form.value
        if only is None or one.renew == only:
            look = look_words(one)
            size = f" {look}" if look else ""
            words = f"{plural(kind_words(one), one.count)}{size}, on {scene.mbook.item_name(one.item)}"
            yield Spare(
                words=words,
                count=one.count,
                item=one.item,
                part_number=one.part_number,
                why=why,
                applies=form.applies,
                fastener=one.fastener,
            )
