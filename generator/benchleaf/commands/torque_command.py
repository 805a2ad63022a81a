"""``benchleaf torque``: what a screw may bear, or every torque of a machine or procedure on one sheet."""

from __future__ import annotations

import json
import re
import sys
from pathlib import Path
from typing import Any

import click

from benchleaf.commands.options import content_option, json_option
from benchleaf.commands.quantity_option import quantity_option
from benchleaf.pipeline import load
from benchleaf.suggest import closest
from benchleaf.values.limits import TorqueLimits, torque_limits
from benchleaf.values.origin import tell
from benchleaf.values.quantity import Dimension, Quantity
from benchleaf.values.threads import CLASSES, HEADS, THREADS, find_class, find_head, find_thread
from benchleaf.values.torque import LIMIT_LABEL, Fastener, TorqueJudgement, given, judge_torque
from benchleaf.values.torque_card import CardRow, machine_card, procedure_card

MATERIALS = ("steel", "brass", "aluminium", "plastic", "unknown")


@click.command("torque", short_help="What a screw may bear; torque cards.")
@click.argument("thing", metavar="THREAD|REF")
@click.option("--class", "property_class", default="", help="Property class: 4.8, 8.8, A2-70.")
@click.option("--head", default="", help=f"Head form: {', '.join(HEADS)}.")
@click.option("--friction", type=click.FloatRange(0.01, 1.0), help="Friction of thread and head: 0.12.")
@click.option("--into", type=click.Choice(MATERIALS), help="What it screws into.")
@quantity_option("--engaged", Dimension.LENGTH, "Length of thread engaged: 6mm.")
@quantity_option("--strips-at", Dimension.TORQUE, "Torque it was seen to strip at.")
@quantity_option("--must-hold", Dimension.FORCE, "Force it must keep: 800N.")
@quantity_option("--torque", Dimension.TORQUE, "A torque to compare with the limits.")
@content_option
@json_option
def command(
    thing: str,
    content: Path,
    property_class: str,
    head: str,
    friction: float | None,
    into: str | None,
    engaged: Quantity | None,
    strips_at: Quantity | None,
    must_hold: Quantity | None,
    torque: Quantity | None,
    as_json: bool,
) -> None:
    """Compute the limits of a screw's torque, or print a torque card.

    THREAD is an ISO metric coarse thread, M1.6 to M12. A limit is not a torque to tighten to. What is not given is not
    assumed away: friction becomes a band, a material not given counts as plastic.

    REF is a machine, `fp420`, or a procedure of it, `fp420/replace-pump`: every recorded torque on one sheet.

    Leaves with 0, with 1 when --torque is over a limit or too low to hold, with 2 when something cannot be read.
    """
    if find_thread(thing) is None and re.fullmatch(r"[a-z0-9]+(?:-[a-z0-9]+)*(?:/[a-z0-9-]+)?", thing):
        _print_card(content, thing, as_json)
        return
    thread = thing
    if find_thread(thread) is None:
        _refuse(f"'{thread}' is not an ISO metric coarse thread: {', '.join(THREADS)}")
    if property_class and find_class(property_class) is None:
        _refuse(f"class '{property_class}' is not in the table: {', '.join(CLASSES)}")
    if head and not find_head(head):
        _refuse(f"head '{head}' is not known: {', '.join(HEADS)}")
    typed = {
        "thread": thread, "class": property_class, "head": head, "into": into,
        "friction": friction, "engaged": engaged, "strips_at": strips_at, "must_hold": must_hold, "torque": torque,
    }  # fmt: skip
    fastener = Fastener(
        thread=thread,
        property_class=property_class,
        head=find_head(head),
        into=into or "",
        engaged=engaged,
        friction=friction,
        strips_at=strips_at,
        must_hold=must_hold,
        origins=given(**{key: str(value) for key, value in typed.items() if value not in (None, "")}),
    )
    limits = torque_limits(fastener)
    judged = judge_torque(fastener, torque) if torque is not None else ()
    if as_json:
        click.echo(json.dumps(as_data(limits, judged), indent=2, ensure_ascii=False))
    else:
        click.echo("\n".join(as_lines(limits, judged, torque)))
    sys.exit(1 if judged else 0)


def _print_card(content: Path, ref: str, as_json: bool) -> None:
    derived = load(content).derived
    name, _, procedure = ref.partition("/")
    machine = derived.library.machines.get(name)
    if machine is None or (procedure and procedure not in machine.procedures):
        known = derived.library.machines if machine is None else [f"{name}/{one}" for one in machine.procedures]
        near = closest(ref, tuple(map(str, known)))
        _refuse(f"There is no '{ref}' in {content.as_posix()}." + (f" Did you mean '{near[0]}'?" if near else ""))
        return
    builts, shop = derived.all_built(machine), derived.library.shop
    if procedure:
        rows = procedure_card(machine, builts, shop, machine.procedures[procedure])
        title = f"Torque card: {machine.procedures[procedure].title} ({machine.name})"
    else:
        rows, title = machine_card(machine, builts, shop), f"Torque card: {machine.name}"
    if as_json:
        click.echo(json.dumps([card_data(row) for row in rows], indent=2, ensure_ascii=False))
    else:
        lines = [line for row in rows for line in card_lines(row)] or ["No screw or nut is turned here."]
        click.echo("\n".join([title, "", *lines]).rstrip())


def card_lines(row: CardRow) -> list[str]:
    """One row for a terminal."""
    one = row.callout
    only = f"  (only on {'; '.join(row.only_on)})" if row.only_on else ""
    five = (("tolerance", one.tolerance), ("friction", one.friction), ("sequence", one.sequence))
    told = "; ".join(f"{name} {words or 'not recorded'}" for name, words in five)
    lines = [f"{row.item_name}: {row.what}, {row.tool}{only}", f"    {one.text}  [{one.status.value}]", f"    {told}"]
    lines += [f"    ! {warning}" for warning in one.warnings]
    lines += [f"    from {words}" for words in one.origin_words]
    if one.limit is not None:
        lines.append(f"    {one.limit.label}: {one.limit.text(one.unit or 'N·m')} ({one.limit.words})")
    lines += [f"    {words}" for words in one.not_computed]
    if row.steps:
        lines.append("    turned in " + ", ".join(f"{name} step {number}" for name, number in row.steps))
    return [*lines, ""]


def card_data(row: CardRow) -> dict[str, Any]:
    """One row as plain data; ``None`` is not recorded."""
    one = row.callout
    return {
        "set": one.set, "item": row.item_name, "fastener": row.fastener, "count": row.count, "tool": row.tool,
        "only_on": list(row.only_on), "steps": [f"{name}:{number}" for name, number in row.steps],
        "status": one.status.value, "value": one.value, "tolerance": one.tolerance, "unit": one.unit,
        "friction": one.friction, "sequence": one.sequence, "recorded": one.recorded or None,
        "warnings": list(one.warnings), "from": list(one.origin_words),
        "limit": None if one.limit is None else {
            "torque": one.limit.torque, "label": one.limit.label, "words": one.limit.words,
            "origin": list(tell(one.limit.origin)),
        },
        "not_computed": list(one.not_computed), "place": str(row.place),
    }  # fmt: skip


def _refuse(message: str) -> None:
    click.echo(message, err=True)
    sys.exit(2)


def as_lines(limits: TorqueLimits, judged: tuple[TorqueJudgement, ...], torque: Quantity | None) -> list[str]:
    """The limits for a terminal, the lowest first, each with its sum and where its numbers come from."""
    lines: list[str] = []
    for limit in sorted(limits.limits, key=lambda one: one.torque):
        lines += [f"{limit.text('N·m')}  {limit.label}: {limit.words}"]
        lines += [f"    {line}" for line in limit.arithmetic]
        lines += ["    where it comes from:", *(f"      {line}" for line in tell(limit.origin))]
    if not limits.limits:
        lines.append("No limit of the joint can be computed.")
    if limits.screw_alone is not None and limits.screw_alone not in limits.limits:
        lines.append(f"{limits.screw_alone.text('N·m')}  by itself: {limits.screw_alone.words}")
        lines += [f"    {line}" for line in limits.screw_alone.arithmetic]
    lines += [f"not computed: {one}" for one in limits.not_computed]
    lines.append(limits.friction_words)
    lines += [f"cross-check: {one}" for one in limits.cross_checks]
    for one in judged:
        lines += ["", f"{one.code}: {one.message}", *(f"    {line}" for line in one.arithmetic), f"    {one.help}"]
    if torque is not None and not judged:
        lines += ["", f"Nothing given here speaks against {torque.tidy}."]
    return lines


def as_data(limits: TorqueLimits, judged: tuple[TorqueJudgement, ...]) -> dict[str, Any]:
    """The same as plain data. ``torque`` is in N·m, ``preload`` in N at the highest and lowest friction."""
    return {
        "label": LIMIT_LABEL,
        "limits": [
            {
                "kind": one.kind,
                "torque": one.torque,
                "label": one.label,
                "words": one.words,
                "arithmetic": list(one.arithmetic),
                "origin": list(tell(one.origin)),
            }
            for one in sorted(limits.limits, key=lambda one: one.torque)
        ],
        "screw_alone": limits.screw_alone.torque if limits.screw_alone is not None else None,
        "preload": list(limits.preload) if limits.preload is not None else None,
        "friction": list(limits.friction),
        "friction_words": limits.friction_words,
        "not_computed": list(limits.not_computed),
        "cross_checks": list(limits.cross_checks),
        "judged": [{"code": one.code, "message": one.message, "arithmetic": list(one.arithmetic)} for one in judged],
    }
