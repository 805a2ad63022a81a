"""``benchleaf access``: the shortest way to an item, its time and tools, and the procedure that follows from it."""

from __future__ import annotations

import io
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from benchleaf.access.comparison import Comparison, comparisons, makes_dead
from benchleaf.access.derived import DerivedProcedure, as_author, procedure_of
from benchleaf.access.opened_by_the_way import ByTheWay, opened_by_the_way
from benchleaf.access.paths import Access, Goal, Work, access_path
from benchleaf.access.ways import Ways, ways_of
from benchleaf.access.words import duration, listed
from benchleaf.applicability import Configuration, variants_of
from benchleaf.commands.options import content_option, json_option
from benchleaf.commands.procedure_ref import refuse
from benchleaf.derived import Derived
from benchleaf.model import Machine
from benchleaf.pipeline import load
from benchleaf.suggest import closest

GOALS = ("reach", "remove", "replace")


@click.command("access", short_help="The shortest way to an item.")
@click.argument("machine")
@click.argument("item")
@click.option("--goal", type=click.Choice(GOALS), default="remove", show_default=True, help="What the way is for.")
@click.option("--variant", metavar="V", help="On this variant; left out: on all.")
@click.option("--with", "modifications", metavar="M", multiple=True, help="With this modification; may be repeated.")
@click.option("--procedure", "as_procedure", is_flag=True, help="Print the derived procedure, there and back.")
@click.option("--record", "as_record", is_flag=True, help="Print it as a teardown record to start from.")
@content_option
@json_option
def command(
    machine: str,
    item: str,
    goal: Goal,
    variant: str | None,
    modifications: tuple[str, ...],
    as_procedure: bool,
    as_record: bool,
    content: Path,
    as_json: bool,
) -> None:
    """Find the shortest way to ITEM of MACHINE: what is opened in which order, with which tools, in what time.

    The time is by what is recorded, isolation not counted. What is not recorded is listed, and what it counts as.
    Without --variant and --with: on every machine there is, those with the same way together.

    Leaves with 0, with 1 when there is no way, with 2 when the machine or the item is not known.
    """
    derived = load(content).derived
    one = _machine(derived, machine)
    found = [w for w in _chosen(derived, one, variant, modifications) if item in w.built.items]
    if not found:
        _no_item(one, item, [variant or "", *modifications])
    groups = _grouped(found, item, goal)
    if as_record:
        _print_record(derived, one, groups[0][0], item, goal)
    elif as_json:
        rows = [row_of(derived, one, ways, access, labels) for ways, access, labels in groups]
        click.echo(json.dumps(rows, indent=2, ensure_ascii=False))
    else:
        pages = [_page(derived, one, ways, access, labels, as_procedure) for ways, access, labels in groups]
        click.echo("\n\n".join("\n".join(page) for page in pages))
    sys.exit(0 if all(access.is_reached for _, access, _ in groups) else 1)


def _machine(derived: Derived, name: str) -> Machine:
    machines = derived.library.machines
    if name not in machines:
        near = closest(name, tuple(machines))
        refuse(f"There is no machine '{name}'." + (f" Did you mean '{near[0]}'?" if near else ""))
    return machines[name]


def _chosen(derived: Derived, machine: Machine, variant: str | None, modifications: tuple[str, ...]) -> list[Ways]:
    """The machines meant: every configuration, or those of exactly this variant and these modifications."""
    for name, known, kind in (
        *(((variant, variants_of(machine.record), "variant"),) if variant is not None else ()),
        *((one, tuple(machine.record.modifications), "modification") for one in modifications),
    ):
        if name not in known:
            refuse(f"{machine.id} has no {kind} '{name}'; it has: {', '.join(known) or 'none'}.")
    if variant is None and not modifications:
        return [ways_of(derived, machine, one) for one in derived.configurations(machine)]
    variants = (variant,) if variant is not None else variants_of(machine.record)
    made = [Configuration(one, frozenset(modifications)) for one in variants]
    return [ways_of(derived, machine, one) for one in made]


def _no_item(machine: Machine, item: str, on: list[str]) -> None:
    if item in machine.record.items:
        refuse(f"{machine.id} has no {item} on the machine meant ({', '.join(one for one in on if one)}).")
    near = closest(item, tuple(machine.record.items))
    refuse(f"{machine.id} has no item '{item}'." + (f" Did you mean '{near[0]}'?" if near else ""))


def _grouped(found: list[Ways], item: str, goal: Goal) -> list[tuple[Ways, Access, list[str]]]:
    """The ways, those that are the same together, with the machines they are on."""
    groups: dict[tuple[object, ...], tuple[Ways, Access, list[str]]] = {}
    for ways in found:
        access = access_path(ways, item, goal)
        key = (access.works, access.priced, access.gaps, access.isolate, access.prove, access.out_of_reach)
        groups.setdefault(key, (ways, access, []))[2].append(access.configuration)
    return list(groups.values())


# ---- as JSON


def row_of(derived: Derived, machine: Machine, ways: Ways, access: Access, on: list[str]) -> dict[str, Any]:
    """An access path as plain values: times in seconds, operations in order."""
    return {
        "machine": access.machine,
        "on": on,
        "item": access.item,
        "goal": access.goal,
        "title": access.title,
        "reached": access.is_reached,
        "out_of_reach": access.out_of_reach,
        "time": access.time,
        "bound": access.bound,
        "exact": access.is_least,
        "not_proved": access.why_not_least,
        "time_with_proof": access.work_time,
        "operations": [_work_row(one) for one in access.works],
        "priced": [one.id for one in access.priced],
        "tools": list(access.tools),
        "tool_changes": access.tool_changes,
        "ends_opened": list(access.ends_opened),
        "isolate": list(access.isolate),
        "prove_dead": list(access.prove),
        "not_recorded": list(access.gaps),
        "by_the_way": [
            {"what": one.what, "renew": one.renew, "how": one.how, "owed": one.is_owed, "extra": one.extra}
            for one in opened_by_the_way(ways, access)
        ],
        "written": [_written_row(one) for one in comparisons(derived, machine, ways, access.item)],
    }


def _work_row(one: Work) -> dict[str, Any]:
    return {
        "id": one.id, "words": one.words, "time": one.time, "tool": one.tool, "for_proof": one.for_proof,
        "not_recorded": list(one.gaps),
    }  # fmt: skip


def _written_row(one: Comparison) -> dict[str, Any]:
    return {
        "procedure": one.procedure, "goal": one.goal, "time": one.written_time, "least": one.least_time,
        "superfluous": list(one.superfluous), "instead": list(one.instead),
    }  # fmt: skip


# ---- as text


def _page(
    derived: Derived, machine: Machine, ways: Ways, access: Access, on: list[str], as_procedure: bool
) -> list[str]:
    lines = [f"{access.title}: {access.machine}, {'; '.join(on)}"]
    if not access.is_reached:
        return [*lines, f"  There is no way: {access.out_of_reach}."]
    lines += [*_times(access), *_isolation(derived, machine, ways, access), *_works(access)]
    lines.append(f"  Tools: {', then '.join(access.tools) or 'none'}; {_many(access.tool_changes, 'change')}.")
    lines.append(f"  Ends opened: {', '.join(access.ends_opened) or 'none'}.")
    lines += [f"  Not recorded: {gap}." for gap in access.gaps]
    lines += [f"  While you are in there: {_by_the_way(one)}." for one in opened_by_the_way(ways, access)]
    for one in comparisons(derived, machine, ways, access.item):
        lines += _written(one)
    if as_procedure:
        made = procedure_of(derived, machine, ways.built.configuration, access.item, access.goal)
        if isinstance(made, DerivedProcedure):
            lines += _procedure(made)
    return lines


def _times(access: Access) -> Iterator[str]:
    how = "no way takes less" if access.is_least else access.why_not_least
    yield f"  {duration(access.time)} by what is recorded; {how}."
    if access.work_time != access.time:
        said = listed(access.prove)
        yield f"  {duration(access.work_time)} with what is opened to prove {said} dead first."


def _isolation(derived: Derived, machine: Machine, ways: Ways, access: Access) -> Iterator[str]:
    if not access.isolate:
        yield "  No recorded energy is touched or laid open. What is not recorded counts as live: measure."
        return
    prove = f", prove {listed(access.prove)} dead before a hand comes near" if access.prove else ""
    written = makes_dead(derived, machine, ways, access.prove)
    yield f"  First isolate {listed(access.isolate)}{prove}. The time for it is not counted."
    if written:
        yield f"  The shop's own way to make it dead: {', '.join(str(one.id) for one in written)}."


def _works(access: Access) -> Iterator[str]:
    wide = max((len(one.tool) for one in access.works), default=0)
    for number, one in enumerate(access.works, 1):
        proof = " (for the proof)" if one.for_proof else ""
        yield f"  {number:>3}. {one.tool:<{wide}}  {one.words}: {duration(one.time)}{proof}"


def _by_the_way(one: ByTheWay) -> str:
    life = "new whenever taken off" if one.renew == "always" else f"wear life {one.renew}"
    extra = f", {duration(one.extra)} more to take off" if one.extra else ""
    return f"{one.words}, {life}, {one.how}{extra}"


def _written(one: Comparison) -> Iterator[str]:
    least = "the shortest there is" if not one.is_longer else f"the shortest way takes {duration(one.least_time)}"
    yield f"  Written: {one.procedure} ({one.goal}) opens for {duration(one.written_time)}; {least}."
    yield from (f"       not needed for it: {said}" for said in one.superfluous)
    yield from (f"       instead of it: {said}" for said in one.instead)


def _procedure(made: DerivedProcedure) -> Iterator[str]:
    yield "  Derived and unverified:"
    for number, step in enumerate(made.record.steps, 1):
        yield f"  {number:>3}. {step.title}" + (f" ({step.persons} persons)" if step.persons else "")
        yield from (f"         {one.verb}: {one.text}" for one in step.do or ())
        yield from (f"         {line}" for line in (step.text or "").splitlines())
    yield "  The way back:"
    for number, back in enumerate(made.back.steps, 1):
        yield f"  {number:>3}. {back.title}"
        yield from (f"         {one.words}" for one in back.instructions)
    yield f"  {made.back.words}"
    yield from (f"  Owed before it goes back to work: {words}" for words in made.owed.words)
    yield from (f"  {one.severity.value}[{one.code}] {one.message}" for one in made.problems)


def _many(number: int, word: str) -> str:
    return f"{number} tool {word}{'' if number == 1 else 's'}"


def _print_record(derived: Derived, machine: Machine, ways: Ways, item: str, goal: Goal) -> None:
    from ruamel.yaml import YAML
    from ruamel.yaml.scalarstring import LiteralScalarString

    made = procedure_of(derived, machine, ways.built.configuration, item, goal)
    if not isinstance(made, DerivedProcedure):
        refuse(f"There is no way: {made.out_of_reach}.")
    written = dict(as_author(made.record))
    for step in written["steps"]:  # type: ignore[attr-defined]
        if "text" in step:
            step["text"] = LiteralScalarString(step["text"])
    yaml = YAML()
    yaml.width = 120
    text = io.StringIO()
    yaml.dump(written, text)
    click.echo(f"# Derived for {machine.id} {ways.built.configuration.label}, unverified.\n{text.getvalue()}", nl=False)
