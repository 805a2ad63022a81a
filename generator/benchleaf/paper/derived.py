"""A derived procedure on paper: what the program worked out and nobody has done, said so on every sheet.

Machines on which its steps differ get a procedure of their own, one after the other in one document.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cached_property
from typing import Any

from benchleaf.access.derived import DerivedProcedure, by_configuration, procedure_of
from benchleaf.access.paths import Access, Goal
from benchleaf.applicability import variants_of
from benchleaf.built import FRAME
from benchleaf.frozen import dataclass
from benchleaf.pages.book import MachineBook
from benchleaf.pages.item_access import derived_path, on_some
from benchleaf.pages.readable import readable, sentence_of
from benchleaf.pages.shown import StepView
from benchleaf.pages.step_view import ENERGY_VERBS, Scene, view_of
from benchleaf.paper import procedure as procedure_sheet
from benchleaf.paper.pack import pack_of
from benchleaf.paper.sheet import Paper, Sheet
from benchleaf.paper.sheet_kinds import Pictures
from benchleaf.paper.subject import NotFor, Subject
from benchleaf.physical.reassembly import Reassembly
from benchleaf.physical.replay import Replay

KIND = "Derived procedure"
GOALS: tuple[Goal, ...] = ("reach", "remove", "replace")
BROKEN = "Do not work from it. Replayed there and back, it breaks a rule or its ledger does not close."


@dataclass(frozen=True, kw_only=True)
class DerivedSubject(Subject):
    """A derived procedure on machines where its steps are the same. ``many`` is what was derived for each of them."""

    item: str
    goal: Goal
    home: MachineBook
    many: tuple[DerivedProcedure, ...]

    @property
    def code(self) -> str:
        return f"{self.full.machine.id}/{self.goal}-{self.item}"

    @property
    def page(self) -> str:
        return derived_path(self.home, self.item, self.goal)

    @property
    def has_words(self) -> bool:
        return False

    @property
    def remarks(self) -> tuple[str, ...]:
        said = dict.fromkeys(problem.message for one in self.many for problem in one.problems)
        rules = [f"Of it the rules say: {sentence_of(readable(self.full, words))}." for words in said]
        return (*([] if all(one.is_clean for one in self.many) else [BROKEN]), *rules)

    def view(self, scene: Scene) -> StepView:
        made = view_of(scene, ())
        is_energy = all(action.verb in ENERGY_VERBS for action in scene.actions)
        # What is recorded of an energy the actions tell in full; the text stays where it says what nobody recorded.
        return replace(made, text="") if is_energy and "not recorded" not in made.text else made

    @cached_property
    def replays(self) -> tuple[Replay, ...]:
        return tuple(one.replay for one in self.many)

    @cached_property
    def reassemblies(self) -> tuple[Reassembly, ...]:
        return tuple(one.back for one in self.many)


def goal_and_item(mbook: MachineBook, name: str) -> tuple[Goal, str] | None:
    """``replace-A1`` → ``("replace", "A1")``; ``None`` when it names no goal and item of the machine."""
    for goal in GOALS:
        item = name.removeprefix(f"{goal}-")
        if item != name and item in mbook.record.items and item != FRAME:
            return goal, item
    return None


def subjects_of(mbook: MachineBook, goal: Goal, item: str, variant: str | None = None) -> Iterator[DerivedSubject]:
    """The derived procedure for each kind of machine there is a way on. Raises ``NotFor`` for an unknown variant, and
    with the reason where there is a way on none."""
    if variant is not None and variant not in variants_of(mbook.record):
        raise NotFor(f"{mbook.record.name} has no variant '{variant}'. It has: {', '.join(variants_of(mbook.record))}.")
    derived, machine = mbook.book.derived, mbook.machine
    reasons: dict[str, None] = {}
    found = False
    for on, first in by_configuration(derived, machine, item, goal):
        kept = tuple(one for one in on if variant is None or one.variant == variant)
        if isinstance(first, Access):
            reasons |= {readable(mbook, first.out_of_reach): None} if kept else {}
            continue
        if not kept:
            continue
        found = True
        group = mbook.only(kept)
        made = (procedure_of(derived, machine, one, item, goal) for one in kept)
        applies = on_some(mbook, item, kept)
        yield DerivedSubject(
            full=group,
            mbook=group,
            procedure=first.record,
            words=applies.words if applies is not None else "every variant and serial",
            item=item,
            goal=goal,
            home=mbook,
            many=tuple(one for one in made if isinstance(one, DerivedProcedure)),
        )
    if not found:
        words = "; ".join(reasons) or "no machine asked for has it"
        raise NotFor(f"There is no way to {goal} {mbook.item_words(item)} by what is recorded: {words}.")


def sheet(
    mbook: MachineBook, goal: Goal, item: str, pictures: Pictures, paper: Paper = "a4", *, variant: str | None = None
) -> Sheet:
    """The derived procedure as one document, a part for each kind of machine on which its steps differ."""
    subjects = tuple(subjects_of(mbook, goal, item, variant))
    sheets = [_derived(procedure_sheet.sheet(one, pictures, paper)) for one in subjects]
    if len(sheets) == 1:
        return sheets[0]
    whole = pack_of(subjects[0], sheets)
    return _derived(whole, applies="see each part")


def _derived(one: Sheet, **more: str) -> Sheet:
    block: dict[str, Any] = dict(one.data["block"])
    title = f"{KIND}: {block['title']} – {block['machine']}"
    block |= {"kind": KIND, "full-title": title, "verified": "Derived, unverified", "issue": "No issue: worked out"}
    block |= {"verified-short": f"Derived, unverified · {block['code']}", **more}
    return replace(one, title=title, data={**one.data, "block": block})
