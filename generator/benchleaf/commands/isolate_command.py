"""``benchleaf isolate``: which test to do next for a code or symptom, and what each answer leads to."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from benchleaf.access.ways import ways_of
from benchleaf.access.words import duration
from benchleaf.applicability import Configuration, holds, variants_of
from benchleaf.commands.options import content_option, json_option
from benchleaf.commands.procedure_ref import refuse
from benchleaf.derived import Derived
from benchleaf.isolation.quality import Quality
from benchleaf.model import Machine
from benchleaf.pipeline import load
from benchleaf.records.codes import CodeRecord
from benchleaf.suggest import closest
from benchleaf.troubles.ambiguity import named_causes
from benchleaf.troubles.common_path import CommonPath, common_path
from benchleaf.troubles.lookup import Trouble, troubles_like
from benchleaf.troubles.openings import MINUTE, Openings
from benchleaf.troubles.parts_list import Part, PartsList, parts_lists
from benchleaf.troubles.prepared_words import Doing
from benchleaf.troubles.problem_of import Case, case_on, cases_of, quality_of
from benchleaf.troubles.readings import Reading
from benchleaf.troubles.supply_chain import Supplies, split_words, supplies_of
from benchleaf.troubles.tree import Branch, Place, Tree, cause_words, tree_of


@click.command("isolate", short_help="From a code or symptom to the next test.")
@click.argument("machine")
@click.argument("trouble", metavar="CODE|SYMPTOM", nargs=-1)
@click.option("--dead", metavar="ITEM", multiple=True, help="Instead of a code: this does nothing; may be repeated.")
@click.option("--works", metavar="ITEM", multiple=True, help="This still works; may be repeated.")
@click.option("--variant", metavar="V", help="On this variant; left out: on all.")
@click.option("--with", "modifications", metavar="M", multiple=True, help="With this modification; may be repeated.")
@content_option
@json_option
def command(
    machine: str,
    trouble: tuple[str, ...],
    dead: tuple[str, ...],
    works: tuple[str, ...],
    variant: str | None,
    modifications: tuple[str, ...],
    content: Path,
    as_json: bool,
) -> None:
    """Find the order of tests and remedies that costs the fewest minutes, covers and making dead counted.

    CODE|SYMPTOM is a code as it is shown, an id, or what the customer says: E-07, 7, beeps-wont-feed, it beeps.
    Without --variant and --with: on every machine there is, those with the same order together.

    With --dead and --works: what the dead functions share that none of the working ones hangs on, and where to measure.

    Leaves with 0, with 1 when no recorded cause can occur on the machine meant, with 2 when nothing fits the words.
    """
    derived = load(content).derived
    one = _machine(derived, machine)
    if dead or works:
        _shared(derived, one, dead, works, _configurations(derived, one, variant, modifications), as_json)
        return
    if not trouble:
        refuse("Say a code or symptom, or what is dead with --dead.")
    found = _trouble(one, " ".join(trouble))
    cases = _cases(derived, one, found, variant, modifications)
    if as_json:
        rows = [row_of(derived, case) for case in cases]
        click.echo(json.dumps(rows, indent=2, ensure_ascii=False))
    else:
        click.echo("\n\n".join("\n".join(_page(derived, case)) for case in cases))
    sys.exit(0 if all(case.problem is not None for case in cases) else 1)


def _machine(derived: Derived, name: str) -> Machine:
    machines = derived.library.machines
    if name not in machines:
        near = closest(name, tuple(machines))
        refuse(f"There is no machine '{name}'." + (f" Did you mean '{near[0]}'?" if near else ""))
    return machines[name]


def _trouble(machine: Machine, typed: str) -> Trouble:
    found = troubles_like(machine, typed)
    if not found:
        known = [*machine.codes, *machine.symptoms]
        near = closest(typed, tuple(known))
        hint = f"Did you mean '{near[0]}'?" if near else f"It has: {', '.join(known) or 'none'}."
        refuse(f"{machine.id} has no code or symptom '{typed}'. {hint}")
    if len(found) > 1:
        names = [str(one.code if isinstance(one, CodeRecord) else one.id) for one in found]
        refuse(f"'{typed}' may be: {', '.join(names)}. Say which.")
    return found[0]


def _configurations(
    derived: Derived, machine: Machine, variant: str | None, modifications: tuple[str, ...]
) -> tuple[Configuration, ...]:
    """The machines meant: every configuration, or those of exactly this variant and these modifications."""
    for name, known, kind in (
        *(((variant, variants_of(machine.record), "variant"),) if variant is not None else ()),
        *((one, tuple(machine.record.modifications), "modification") for one in modifications),
    ):
        if name not in known:
            refuse(f"{machine.id} has no {kind} '{name}'; it has: {', '.join(known) or 'none'}.")
    if variant is None and not modifications:
        return derived.configurations(machine)
    variants = (variant,) if variant is not None else variants_of(machine.record)
    return tuple(Configuration(one, frozenset(modifications)) for one in variants)


def _cases(
    derived: Derived, machine: Machine, trouble: Trouble, variant: str | None, modifications: tuple[str, ...]
) -> tuple[Case, ...]:
    wanted = _configurations(derived, machine, variant, modifications)
    if variant is None and not modifications:
        return cases_of(derived, machine, trouble)
    meant = [one for one in wanted if holds(trouble.applies, one, machine.record) is not False]
    if not meant:
        refuse(f"It is not for {machine.id} {wanted[0].label}.")
    return tuple(case_on(derived, machine, one, trouble) for one in meant)


# ---- what dead functions share


def _shared(
    derived: Derived,
    machine: Machine,
    dead: tuple[str, ...],
    works: tuple[str, ...],
    configurations: tuple[Configuration, ...],
    as_json: bool,
) -> None:
    groups: dict[tuple[str, ...], list[str]] = {}
    rows: list[dict[str, Any]] = []
    for configuration in configurations:
        supplies = supplies_of(ways_of(derived, machine, configuration))
        missing = [one for one in (*dead, *works) if one not in supplies.functions]
        if missing and missing[0] in machine.record.items and missing[0] not in supplies.built.items:
            continue
        if missing:
            near = closest(missing[0], supplies.functions)
            known = ", ".join(supplies.functions) or "none"
            hint = f"Did you mean '{near[0]}'?" if near else f"What uses power: {known}."
            refuse(f"Nothing is recorded that {missing[0]} does with power. {hint}")
        try:
            found = common_path({one: supplies.chain(one) for one in (*dead, *works)}, dead, works)
        except ValueError as wrong:
            refuse(f"{str(wrong).capitalize()}.")
        lines = tuple(_shared_lines(supplies, found))
        if lines not in groups:
            rows.append(_shared_row(supplies, found))
        groups.setdefault(lines, []).append(configuration.label)
    if as_json:
        made = [{"on": on, **row} for on, row in zip(groups.values(), rows, strict=True)]
        click.echo(json.dumps(made, indent=2, ensure_ascii=False))
        return
    said = f"dead: {', '.join(dead)}; works: {', '.join(works) or 'not said'}"
    pages = ["\n".join((f"{said}: {machine.id}, {'; '.join(on)}", *lines)) for lines, on in groups.items()]
    click.echo("\n\n".join(pages))


def _shared_row(supplies: Supplies, found: CommonPath) -> dict[str, Any]:
    split = found.split
    return {
        "suspects": [{"id": one.id, "words": supplies.words(one.id)} for one in found.suspects],
        "measure_at": split.contact if split else None,
        "before": list(split.before) if split else [],
        "beyond": list(split.beyond) if split else [],
        "not_recorded": list(found.untold),
    }


def _shared_lines(supplies: Supplies, found: CommonPath) -> Iterator[str]:
    for one in found.untold:
        yield f"  What {one} hangs on is not recorded: it says nothing here."
    if not found.fits:
        yield "  Nothing recorded is shared by all that is dead and by nothing that works: there may be two faults."
        return
    yield "  Suspected, from where power enters downward:"
    yield from (f"    {number:>3}. {supplies.words(one.id)}" for number, one in enumerate(found.suspects, 1))
    if found.split is not None:
        yield from (f"  {line}" for line in split_words(supplies, found.split))


def openings_of(derived: Derived, case: Case) -> Openings:
    machine = derived.library.machines[case.machine]
    return Openings(ways_of(derived, machine, case.configurations[0]))


# ---- as JSON


def row_of(derived: Derived, case: Case) -> dict[str, Any]:
    """A case as plain values; minutes as numbers, places by number."""
    quality = quality_of(derived, case)
    row: dict[str, Any] = {
        "machine": case.machine,
        "on": list(case.on),
        "trouble": case.id,
        "name": case.name,
        "codes_first": [str(one.code) for one in case.codes],
        "masked": [one.words for one in case.masked],
        "signals_recorded": case.signals_known,
        "causes": [_cause_row(case, id) for id in case.causes],
        "tests_left_out": case.left_out,
        "notes": list(case.notes),
    }
    if quality is None:
        return {**row, "places": []}
    tree = tree_of(openings_of(derived, case), case, quality.policy.root)
    return {
        **row,
        "expected_minutes": quality.expected,
        "worst_minutes": quality.worst,
        "exact": quality.exact,
        "bound_minutes": quality.policy.bound,
        "method": quality.policy.method,
        "ambiguity_groups": [
            {"causes": list(one.causes), "one_remedy": one.one_remedy, "worth_minutes": one.worth}
            for one in quality.ambiguity_groups
        ],
        "tests_that_tell_nothing": list(quality.useless_tests),
        "tests_not_used": list(quality.unused_tests),
        "causes_no_test_names": [id for id in case.weights if id not in named_causes(case)],
        "one_more_test_saves_at_most": quality.value_of_one_more_test,
        "take_along": [
            {"on": list(on), "parts": [_part_row(one) for one in parts.parts], "not_recorded": list(parts.gaps)}
            for on, parts in parts_lists(derived, case)
        ],
        "places": [_place_row(case, one) for one in tree.places],
    }


def _part_row(part: Part) -> dict[str, Any]:
    return {
        "kind": part.kind, "id": part.id, "words": part.words, "part_number": part.part_number,
        "amounts": list(part.amounts), "wanted_for": list(part.wanted_for), "chance": part.chance,
    }  # fmt: skip


def _cause_row(case: Case, id: str) -> dict[str, Any]:
    remedy = next((plan for plan in case.remedies.values() if id in plan.fixes), None)
    minutes = dict(remedy.minutes)[id] if remedy is not None else None
    return {
        "id": id, "words": cause_words(case, id), "weight": case.weights[id],
        "weight_recorded": id not in case.unweighted, "remedy": remedy.id if remedy else None,
        "why_no_remedy": case.without_remedy.get(id), "hands_on_minutes": minutes,
        "hands_on_from": dict(remedy.counted)[id] if remedy else None,
    }  # fmt: skip


def _place_row(case: Case, place: Place) -> dict[str, Any]:
    return {
        "number": place.number, "kind": place.kind, "key": place.key, "title": place.title,
        "before": [_doing_row(one) for one in place.before], "minutes": place.minutes,
        "after": [_doing_row(one) for one in place.after], "trial_minutes": place.trial,
        "branches": [
            {"outcome": one.outcome, "reading": one.reading, "probability": one.probability, "to": one.to}
            for one in place.branches
        ],
        "causes": [{"id": one.id, "probability": one.probability} for one in place.causes],
        "expected_minutes": place.expected, "worst_minutes": place.worst, "warning": place.warning,
        "readings": [_reading_row(one) for one in (case.tests[place.key].readings if place.kind == "test" else ())],
        "notes": list(place.notes), "checks": None if place.checks is None else list(place.checks),
    }  # fmt: skip


def _reading_row(reading: Reading) -> dict[str, Any]:
    return {
        "what": reading.what, "meter": reading.meter, "setting": reading.setting,
        "probes": [one.words for one in reading.probes], "expected": reading.expected.words,
        "origin": list(reading.expected.origin), "notes": list(reading.notes),
    }  # fmt: skip


def _doing_row(doing: Doing) -> dict[str, Any]:
    return {"kind": doing.kind, "words": doing.words, "minutes": doing.minutes, "how": list(doing.how)}


# ---- as text


def _page(derived: Derived, case: Case) -> Iterator[str]:
    yield f"{case.name}: {case.machine}, {'; '.join(case.on)}"
    if case.codes:
        codes = ", ".join(str(one.code) for one in case.codes)
        yield f"  Look at the display first: {codes} each has an order of its own."
    for mask in case.masked:
        yield f"  {mask.words}"
    if not case.signals_known:
        yield "  Which signals it depends on is not recorded: whether a bypass keeps it from appearing is not known."
    quality = quality_of(derived, case)
    if quality is None:
        yield "  No recorded cause can occur on this machine."
        return
    yield from _sums(quality)
    yield from (f"  Counted: {note}." for note in case.notes)
    yield from (f"  Left out: {id}, {why}." for id, why in case.left_out.items())
    tree = tree_of(openings_of(derived, case), case, quality.policy.root)
    for place in tree.places:
        yield from _place(place, tree, case)
    yield from _quality(case, quality)
    for on, parts in parts_lists(derived, case):
        yield from _parts(on, parts)


def _sums(quality: Quality) -> Iterator[str]:
    how = "no order takes less" if quality.exact else (
        f"made by the rule '{quality.policy.method}'; no order takes less than {_time(quality.policy.bound)}"
    )  # fmt: skip
    yield f"  {_time(quality.expected)} to be expected until it runs, {_time(quality.worst)} at worst; {how}."


def _place(place: Place, tree: Tree, case: Case) -> Iterator[str]:
    yield ""
    if place.kind == "end":
        yield f"  {place.number}. {place.title}."
        if place.checks is None:
            yield "       What to check then is not recorded."
        yield from (f"       Check: {one}" for one in place.checks or ())
        return
    word = {"test": "Test", "remedy": "Remedy"}[place.kind]
    yield f"  {place.number}. {word}: {place.title} ({_time(place.minutes)})"
    if place.warning:
        yield f"       WARNING: {place.warning}"
    for doing in place.before:
        yield f"       first: {doing.words} ({_time(doing.minutes)})"
        yield from (f"              {line}" for line in doing.how)
    for reading in case.tests[place.key].readings if place.kind == "test" else ():
        yield from (f"       {line}" for line in reading.words)
        yield from (f"         expected from: {line}" for line in reading.expected.origin)
    shares = ", ".join(f"{one.words} {one.probability:.0%}" for one in place.causes)
    yield f"       left: {shares}"
    for doing in place.after:
        yield f"       then: {doing.words} ({_time(doing.minutes)})"
        yield from (f"              {line}" for line in doing.how)
    if place.kind == "remedy":
        yield f"       then: try whether it runs ({_time(place.trial)})"
    for branch in place.branches:
        yield f"       {_branch(branch, tree)}"


def _branch(branch: Branch, tree: Tree) -> str:
    reading = f" ({branch.reading})" if branch.reading else ""
    to = tree.at(branch.to)
    leads = f"{branch.to}" if to.kind != "end" else f"{branch.to}, {to.title}"
    return f"{branch.words}{reading}, {branch.probability:.0%} → {leads}"


def _quality(case: Case, quality: Quality) -> Iterator[str]:
    yield ""
    for group in quality.ambiguity_groups:
        names = ", ".join(cause_words(case, one) for one in group.causes)
        what = "one remedy cures them all" if group.one_remedy else (
            f"a test between them would save at most {_time(group.worth)}"
        )  # fmt: skip
        yield f"  No recorded test tells apart: {names}; {what}."
    for name in quality.useless_tests:
        yield f"  The test {name} answers alike for every cause here."
    for name in quality.unused_tests:
        yield f"  The test {name} is not worth its time in this order."
    for name in (id for id in case.weights if case.tests and id not in named_causes(case)):
        yield f"  No test names {cause_words(case, name)}: it is what is left over."
    for name, why in case.without_remedy.items():
        yield f"  Dead end: {cause_words(case, name)}, {why}."
    saved = _time(quality.value_of_one_more_test)
    yield f"  One more test, were it free and told everything, would save at most {saved}."


def _parts(on: tuple[str, ...], parts: PartsList) -> Iterator[str]:
    yield ""
    yield f"  Take along for {'; '.join(on)}:"
    for part in parts.parts:
        number = f", {part.part_number}" if part.part_number else ""
        amounts = f", {' or '.join(part.amounts)}" if part.amounts else ""
        yield f"       {part.kind}: {part.words}{number}{amounts}, wanted in {part.chance:.0%} of cases"
    yield from (f"       Not recorded: {gap}." for gap in parts.gaps)


def _time(minutes: float) -> str:
    return duration(minutes * MINUTE) if minutes > 0 else "no time"
