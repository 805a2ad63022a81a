"""A step as the reader sees it, the same on the procedure's page, on its own page and at the bench.

What is true of a step is collected here once: its messages, what to do, its torques, tools, people, time, parts.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from benchleaf.frozen import dataclass
from benchleaf.pages.action_words import told_actions
from benchleaf.pages.book import MachineBook
from benchleaf.pages.pictures import step_pictures
from benchleaf.pages.plugs_shown import swap_lines
from benchleaf.pages.replayed import AfterStep, after_step, has_changed, strictest
from benchleaf.pages.safety_shown import gather, shown
from benchleaf.pages.sentences import Told
from benchleaf.pages.shown import CodeRef, Line, Need, StepView
from benchleaf.pages.step_amounts import handled, step_persons, step_time
from benchleaf.pages.support import asked_by, tool_lines
from benchleaf.pages.time_words import time_words
from benchleaf.pages.torque_shown import callouts
from benchleaf.pages.uses import SET_VERBS, touched
from benchleaf.records.actions import Action
from benchleaf.records.teardown import Step, SupplyUse, Target, TeardownRecord

ENERGY_VERBS = ("isolate", "discharge", "prove dead")


@dataclass(frozen=True, slots=True)
class Scene:
    """One step of one procedure on the machines it is for."""

    mbook: MachineBook
    procedure: TeardownRecord
    number: int
    step: Step

    @property
    def narrow(self) -> MachineBook:
        return self.mbook.narrowed(self.procedure.applies, self.step.applies)

    @property
    def actions(self) -> tuple[Action, ...]:
        return self.step.do or ()

    @property
    def is_unchecked(self) -> bool:
        """Prose that may have changed anything."""
        return self.step.do is None and self.step.changes is None


def scenes(mbook: MachineBook, procedure: TeardownRecord) -> Iterator[Scene]:
    for number, step in enumerate(procedure.steps, 1):
        yield Scene(mbook, procedure, number, step)


def step_view(scene: Scene) -> StepView:
    """The step with all that stands on its card."""
    return scene.mbook.remember_lately(("step view", scene.procedure.id, scene.number), lambda: _step_view(scene))


def _step_view(scene: Scene) -> StepView:
    after = after_step(scene.mbook, scene.procedure, scene.number)
    view = view_of(scene, after, path=scene.mbook.at.step(scene.procedure.id, scene.number))
    return replace(view, swaps=swap_lines(scene.mbook, scene.procedure, scene.number))


def view_of(scene: Scene, after: tuple[AfterStep, ...], *, path: str | None = None, before: str = "") -> StepView:
    """A step of any procedure; ``path`` is its own page, ``before`` what its anchor begins with."""
    step, narrow = scene.step, scene.narrow
    messages = gather(narrow, scene.procedure, step)
    return StepView(
        number=scene.number,
        title=str(step.title),
        anchor=f"{before}step-{scene.number}",
        path=path,
        safety=shown(narrow, messages.gathered),
        exposes=messages.not_recorded,
        actions=tuple(told for action in scene.actions for told in told_actions(narrow, action)),
        text=str(step.text or ""),
        pictures=step_pictures(scene.mbook, step.photos),
        torques=(
            *callouts(narrow, sets_of_step(scene, TIGHTENS)),
            *callouts(narrow, sets_of_step(scene, TAKES_OUT), later=True),
        ),
        needs=tuple(step_needs(scene)),
        expect=str(step.expect) if step.expect else None,
        otherwise=target_ref(scene.mbook, step.else_),
        stop=strictest(narrow, after) if has_changed(after) else None,
        applies=scene.mbook.applies(step.applies),
        energy=any(action.verb in ENERGY_VERBS for action in scene.actions),
        unchecked=scene.is_unchecked,
        powered=str(step.powered) if step.powered else None,
    )


TIGHTENS, TAKES_OUT = ("tighten",), ("loosen", "remove")


def sets_of_step(scene: Scene, verbs: tuple[str, ...] = SET_VERBS) -> tuple[str, ...]:
    """The fastener sets a step turns, in the order met."""
    found = {name: None for a in scene.actions if a.verb in verbs for name in touched(scene.narrow, a).sets}
    return tuple(found)


def step_needs(scene: Scene) -> Iterator[Need]:
    """What the step asks for: tools, people, time, supplies. Nothing is a line too."""
    mbook, step = scene.mbook, scene.step
    book = mbook.book
    if scene.is_unchecked:
        yield Need(label="Tools", lines=None)
    else:
        yield Need(label="Tools", lines=tool_lines(book, asked_by(scene.narrow, step)) or (Line(words="hands only"),))
    persons, why = step_persons(scene)
    yield Need(label="People", lines=(Line(words=str(persons), note=why),))
    time = step_time(scene)
    yield Need(
        label="Time",
        lines=None if time is None else (Line(words=time_words(time), note=None if step.takes else "computed"),),
    )
    if step.supplies is not None:
        yield Need(label="Supplies", lines=tuple(supply_line(mbook, use) for use in step.supplies))
    unweighed = [name for name in handled(scene) if all(form.value.mass is None for form in scene.narrow.items(name))]
    if unweighed:
        words = ", ".join(mbook.item_words(name) for name in unweighed)
        yield Need(label="Mass", lines=(Line(words=f"{words}: not recorded"),))


def supply_line(mbook: MachineBook, use: SupplyUse) -> Line:
    """A supply with its amount, data sheet and disposal."""
    stock = mbook.book.library.supplies.get(str(use.id))
    if stock is None:
        return Line(words=str(use.id))
    notes = [
        f"data sheet: {stock.sds}" if stock.sds else "data sheet: not recorded",
        f"disposal: {stock.disposal}" if stock.disposal else "disposal: not recorded",
    ]
    amount = f", {use.amount}" if use.amount else ""
    return Line(words=f"{stock.name}{amount}", path=f"supplies.html#supply-{use.id}", note="; ".join(notes))


def target_ref(mbook: MachineBook, target: Target | None) -> CodeRef | None:
    """Where an ``else`` leads: a code or a procedure with its page."""
    if target is None:
        return None
    if target.code is not None:
        code = code_of(mbook, str(target.code))
        if code is None:
            return CodeRef(code=str(target.code))
        record = mbook.machine.codes[code]
        return CodeRef(code=code, means=str(record.means or ""), path=mbook.at.code(code))
    name = str(target.procedure)
    procedure = mbook.machine.procedures.get(name)
    if procedure is None:
        return CodeRef(code=name)
    return CodeRef(code=name, means=str(procedure.title), path=mbook.at.procedure(name))


def code_of(mbook: MachineBook, written: str) -> str | None:
    """The code a reference means, however it spells it."""
    from benchleaf.scope import plain_code

    return next((code for code in mbook.machine.codes if plain_code(code) == plain_code(written)), None)


def told_text(told: tuple[Told | str, ...]) -> str:
    return " ".join(one if isinstance(one, str) else one.text for one in told)
