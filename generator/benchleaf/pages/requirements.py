"""What must be so, and be at hand, before step 1: rolled up from the steps, so that no author has to keep a list.

``none`` is printed where somebody looked and there is none; what no step says is *not recorded*. Steps for some
machines only carry their applicability into the list.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchleaf.applicability import Configuration
from benchleaf.pages.book import MachineBook
from benchleaf.pages.safety_shown import Gathered, gather, shown, together
from benchleaf.pages.shown import Applies, Line, Need, SafetyMessage
from benchleaf.pages.spare_lines import Spare, spares_of
from benchleaf.pages.step_amounts import handled, step_persons, step_time
from benchleaf.pages.step_view import Scene, scenes, supply_line
from benchleaf.pages.support import asked_by, tool_lines, worn_for
from benchleaf.pages.time_words import time_words
from benchleaf.records.teardown import TeardownRecord


def preliminary(mbook: MachineBook, procedure: TeardownRecord) -> tuple[Need, ...]:
    """The preliminary requirements of a procedure, each with *none* or *not recorded* said aloud."""
    return needs_of(mbook, procedure, tuple(scenes(mbook, procedure)))


def needs_of(mbook: MachineBook, procedure: TeardownRecord, acts: tuple[Scene, ...]) -> tuple[Need, ...]:
    """The same for steps that are at hand already."""
    return (
        Need(label="Required conditions", lines=tuple(_conditions(mbook, procedure))),
        Need(label="People", lines=_people(acts)),
        Need(label="Time", lines=_time(acts)),
        Need(label="Support equipment", lines=_tools(mbook, acts)),
        Need(label="Protective equipment", lines=_worn(mbook, procedure, acts)),
        Need(label="Supplies", lines=_supplies(mbook, procedure, acts)),
        Need(label="Spares", lines=_spares(mbook, acts)),
    )


def _conditions(mbook: MachineBook, procedure: TeardownRecord) -> Iterator[Line]:
    for name in procedure.conditions:
        found = mbook.machine.procedures.get(str(name))
        if found is not None:
            yield Line(words=str(found.title), path=mbook.at.procedure(str(name)), note="done first")


def unchecked_words(acts: Iterable[Scene]) -> str | None:
    """Which steps are prose that nobody checked; ``None`` when there are none."""
    numbers = [str(scene.number) for scene in acts if scene.is_unchecked]
    if not numbers:
        return None
    return f"step {numbers[0]}" if len(numbers) == 1 else f"steps {', '.join(numbers)}"


def _people(acts: tuple[Scene, ...]) -> tuple[Line, ...]:
    most, note = 1, None
    for scene in acts:
        persons, why = step_persons(scene)
        if persons > most:
            most, note = persons, f"at step {scene.number}{f', {why}' if why else ''}"
    unweighed = {name for scene in acts for name in handled(scene) if _no_mass(scene, name)}
    lines = [Line(words=str(most), note=note)]
    if unweighed:
        names = ", ".join(acts[0].mbook.item_words(name) for name in sorted(unweighed))
        lines.append(Line(words="Mass not recorded", note=f"of {names}: lift with care, and weigh"))
    return tuple(lines)


def _no_mass(scene: Scene, name: str) -> bool:
    return any(form.value.mass is None for form in scene.narrow.items(name))


def _time(acts: tuple[Scene, ...]) -> tuple[Line, ...] | None:
    times = [(scene, step_time(scene)) for scene in acts]
    known = [(scene, time) for scene, time in times if time is not None]
    if not known:
        return None
    totals = {
        one: sum(time for scene, time in known if one in scene.narrow.configurations)
        for one in acts[0].mbook.narrowed(acts[0].procedure.applies).configurations
    }
    least, most = min(totals.values()), max(totals.values())
    words = time_words(most) if time_words(least) == time_words(most) else f"{time_words(least)} to {time_words(most)}"
    missing = [str(scene.number) for scene, time in times if time is None]
    note = "hands-on, computed from the steps"
    if least != most:
        note += ", by machine"
    if acts[0].procedure.conditions:
        note += "; the required conditions come on top"
    lines = [Line(words=words, note=note)]
    if missing:
        lines.append(Line(words=f"Step {', '.join(missing)}: not recorded", note="comes on top"))
    return tuple(lines)


def _tools(mbook: MachineBook, acts: tuple[Scene, ...]) -> tuple[Line, ...] | None:
    asked = [(scene, one) for scene in acts for one in asked_by(scene.narrow, scene.step)]
    lines: dict[tuple[str, str | None], dict[str, None]] = {}
    on: dict[tuple[str, str | None], set[Configuration]] = {}
    for scene, one in asked:
        for line in tool_lines(mbook.book, (one,)):
            key = (line.words, line.path)
            lines.setdefault(key, {}).update({line.note: None} if line.note else {})
            on.setdefault(key, set()).update(scene.narrow.configurations)
    return _with_unchecked(acts, [
        Line(words=words, path=path, note="; ".join(why) or None, applies=_for(acts, on[words, path]))
        for (words, path), why in lines.items()
    ])  # fmt: skip


def _with_unchecked(acts: tuple[Scene, ...], lines: list[Line]) -> tuple[Line, ...] | None:
    """*None* only when every step was written so that it can be known."""
    unchecked = unchecked_words(acts)
    if unchecked is None:
        return tuple(lines)
    if not lines:
        return None
    return (*lines, Line(words=f"For {unchecked}: not recorded", note="prose that nothing was checked in"))


def _for(acts: tuple[Scene, ...], on: Iterable[Configuration]) -> Applies | None:
    return acts[0].mbook.narrowed(acts[0].procedure.applies).words_for(set(on)) if acts else None


def _worn(mbook: MachineBook, procedure: TeardownRecord, acts: tuple[Scene, ...]) -> tuple[Line, ...] | None:
    ids = [one.id for one in all_gathered(acts)]
    lines = list(worn_for(mbook.book, ids)) or [Line(words="none named", note="by the safety messages of its steps")]
    return _with_unchecked(acts, lines)


def all_gathered(acts: Iterable[Scene]) -> tuple[Gathered, ...]:
    return together(one for scene in acts for one in gather(scene.narrow, scene.procedure, scene.step).gathered)


def safety_summary(mbook: MachineBook, procedure: TeardownRecord) -> tuple[SafetyMessage, ...]:
    """The hazards met in the whole procedure, each once, with all that brings it."""
    return shown(mbook.narrowed(procedure.applies), all_gathered(scenes(mbook, procedure)))


def _supplies(mbook: MachineBook, procedure: TeardownRecord, acts: tuple[Scene, ...]) -> tuple[Line, ...] | None:
    given = [procedure.supplies, *(scene.step.supplies for scene in acts)]
    if all(one is None for one in given):
        return None
    lines = dict.fromkeys(supply_line(mbook, use) for some in given for use in some or ())
    return tuple(lines)


def _spares(mbook: MachineBook, acts: tuple[Scene, ...]) -> tuple[Line, ...] | None:
    return _with_unchecked(acts, [spare_line(mbook, one) for one in spares_of(acts)])


def spare_line(mbook: MachineBook, one: Spare) -> Line:
    """``2 × Damper seal, FP-4111``, and why it is needed."""
    number = f", {one.part_number}" if one.part_number else ", part number not recorded"
    path = mbook.at.item(one.item) if one.item in mbook.record.items else None
    return Line(words=f"{one.count} × {one.words}{number}", path=path, note=one.why, applies=one.applies)
