"""Derived procedures: how to reach, take off and replace any item, though nobody wrote it down. Derived, unverified.

A page an item and goal. Machines on which the steps differ have a part of the page each, there and back: a reader who
said which machine it is sees one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from benchleaf.access.derived import DerivedProcedure, authors_procedure, by_configuration, procedure_of
from benchleaf.access.paths import Access, Goal
from benchleaf.access.procedure import UNVERIFIED
from benchleaf.applicability import Configuration
from benchleaf.built import FRAME
from benchleaf.frozen import dataclass
from benchleaf.pages.book import MachineBook
from benchleaf.pages.documents import derived_document
from benchleaf.pages.item_access import GOALS, goals_of, on_some, time_value
from benchleaf.pages.links import procedure_line
from benchleaf.pages.page import Page
from benchleaf.pages.readable import readable, sentence_of
from benchleaf.pages.replayed import after_steps
from benchleaf.pages.requirements import all_gathered, needs_of
from benchleaf.pages.safety_shown import shown
from benchleaf.pages.shown import Applies, Line, Need, RecordNote, SafetyMessage, ShownValue, StepView, Verification
from benchleaf.pages.step_view import ENERGY_VERBS, Scene, view_of
from benchleaf.pages.way_back import WayBack, way_back_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """The procedure on machines where its steps are the same. ``barred`` says why there is none: all else is empty."""

    anchor: str
    title: str
    applies: Applies | None
    barred: str = ""
    count: str = ""
    opening: ShownValue | None = None
    problems: tuple[str, ...] = ()
    broken: bool = False
    needs: tuple[Need, ...] = ()
    summary: tuple[SafetyMessage, ...] = ()
    steps: tuple[StepView, ...] = ()
    back: WayBack = WayBack(groups=(), endings=(), owed=())


def machine_pages(mbook: MachineBook) -> Iterator[Page]:
    for name in mbook.record.items:
        if name != FRAME:
            for goal in goals_of(mbook, str(name)):
                yield page(mbook, str(name), goal)


def page(mbook: MachineBook, name: str, goal: Goal) -> Page:
    item = mbook.record.items[name]
    title = f"{goal.capitalize()} {mbook.item_words(name)}"
    goals = goals_of(mbook, name)
    serves_both = goal == "replace" and "remove" not in goals
    context = {
        "crumbs": mbook.crumbs((mbook.item_words(name), mbook.at.item(name)), (GOALS[goal], None)),
        "choice": mbook.choice,
        "record": RecordNote(file=item.place.file, line=max(item.place.line, 1), verification=Verification()),
        "applies": mbook.applies(item.applies),
        "lead": UNVERIFIED,
        "item": Line(words=mbook.item_words(name), path=f"{mbook.at.item(name)}#access"),
        "others": tuple(Line(words=GOALS[one], path=mbook.at.derived(name, one)) for one in goals if one != goal),
        "serves_both": serves_both,
        "written": tuple(_written(mbook, name, goal)),
        "parts": tuple(parts(mbook, name, goal)),
    }
    path = mbook.at.derived(name, goal)
    return Page(
        path=path,
        template="pages/derived.html",
        title=title,
        kind="derived",
        context=context,
        inputs=(mbook.machine.file,),
        documents=(derived_document(mbook, name, goal, path, serves_both=serves_both),),
    )


def _written(mbook: MachineBook, name: str, goal: Goal) -> Iterator[Line]:
    """What authors wrote with the same goal: it goes before anything derived."""
    found: dict[str, set[Configuration]] = {}
    for configuration in mbook.configurations:
        one = authors_procedure(mbook.machine, configuration, name, goal)
        if one is not None:
            found.setdefault(str(one.id), set()).add(configuration)
    for id, on in found.items():
        yield replace(procedure_line(mbook, mbook.machine.procedures[id]), applies=on_some(mbook, name, on))


def parts(mbook: MachineBook, name: str, goal: Goal) -> Iterator[Part]:
    """The parts of the page, in the order of configurations."""
    derived, machine = mbook.book.derived, mbook.machine
    groups = by_configuration(derived, machine, name, goal)
    for number, (on, first) in enumerate(groups, 1):
        applies = on_some(mbook, name, on)
        anchor = f"way-{number}"
        title = f"For {applies.words}" if applies is not None else "There and back"
        if isinstance(first, Access):
            barred = readable(mbook, first.out_of_reach)
            yield Part(anchor=anchor, title=title, applies=applies, barred=barred)
            continue
        made = (procedure_of(derived, machine, one, name, goal) for one in on)
        many = tuple(one for one in made if isinstance(one, DerivedProcedure))
        yield _part(mbook.only(on), many, anchor, title, applies)


def _part(
    group: MachineBook, many: tuple[DerivedProcedure, ...], anchor: str, title: str, applies: Applies | None
) -> Part:
    record = many[0].record
    acts = tuple(Scene(group, record, number, step) for number, step in enumerate(record.steps, 1))
    after = after_steps(one.replay for one in many)
    before = f"{anchor}-"
    back = _anchored(way_back_of(group, tuple(one.back for one in many)), before)
    problems = dict.fromkeys(problem.message for one in many for problem in one.problems)
    there, home = len(acts), max((len(steps) for _, steps in back.groups), default=0)
    return Part(
        anchor=anchor,
        title=title,
        applies=applies,
        count=f"{there} step{'s' * (there != 1)} there, {home} on the way back",
        opening=time_value(max(one.access.work_time for one in many)),
        problems=tuple(sentence_of(readable(group, one)) for one in problems),
        broken=not all(one.is_clean for one in many),
        needs=needs_of(group, record, acts),
        summary=shown(group, all_gathered(acts)),
        steps=tuple(_view(scene, view_of(scene, after.get(scene.number, ()), before=before)) for scene in acts),
        back=back,
    )


def _view(scene: Scene, view: StepView) -> StepView:
    """What is recorded of an energy the actions tell in full; the text stays where it says what nobody recorded."""
    is_energy = all(action.verb in ENERGY_VERBS for action in scene.actions)
    return replace(view, text="") if is_energy and "not recorded" not in view.text else view


def _anchored(back: WayBack, before: str) -> WayBack:
    """Anchors of a way back that stands beside others on the page, each used once."""
    several = len(back.groups) > 1
    groups = []
    for number, (applies, steps) in enumerate(back.groups, 1):
        own = f"{before}order-{number}-" if several else before
        groups.append((applies, tuple(_at(step, before, own) for step in steps)))
    return replace(back, groups=tuple(groups))


def _at(step: StepView, before: str, own: str) -> StepView:
    came = step.came_from
    if came is not None and came.path is not None and came.path.startswith("#"):
        came = replace(came, path=f"#{before}{came.path[1:]}")
    return replace(step, anchor=f"{own}{step.anchor}", came_from=came)
