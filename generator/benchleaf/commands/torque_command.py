"""``benchleaf torque``: what a screw may bear, or every torque of a machine or procedure on one sheet."""

from __future__ import annotations

import json
import sys
from typing import Any

import click

from benchleaf.commands.options import json_option
from benchleaf.commands.quantity_option import quantity_option
from benchleaf.values.limits import TorqueLimits, torque_limits
from benchleaf.values.origin import tell
from benchleaf.values.quantity import Dimension, Quantity
from benchleaf.values.threads import CLASSES, HEADS, THREADS, find_class, find_head, find_thread
from benchleaf.values.torque import LIMIT_LABEL, Fastener, TorqueJudgement, given, judge_torque

MATERIALS = ("steel", "brass", "aluminium", "plastic", "unknown")


@click.command("torque", short_help="What a screw may bear.")
@click.argument("thread")
@click.option("--class", "property_class", default="", help="Property class: 4.8, 8.8, A2-70.")
@click.option("--head", default="", help=f"Head form: {', '.join(HEADS)}.")
@click.option("--friction", type=click.FloatRange(0.01, 1.0), help="Friction of thread and head: 0.12.")
@click.option("--into", type=click.Choice(MATERIALS), help="What it screws into.")
@quantity_option("--engaged", Dimension.LENGTH, "Length of thread engaged: 6mm.")
@quantity_option("--strips-at", Dimension.TORQUE, "Torque it was seen to strip at.")
@quantity_option("--must-hold", Dimension.FORCE, "Force it must keep: 800N.")
@quantity_option("--torque", Dimension.TORQUE, "A torque to compare with the limits.")
@json_option
def command(
    thread: str,
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
    """Compute the limits of a screw's torque: what the screw bears, where the thread strips.

    THREAD is an ISO metric coarse thread, M1.6 to M12. A limit is not a torque to tighten to. What is not given is not
    assumed away: friction becomes a band, a material not given counts as plastic.

    Leaves with 0, with 1 when --torque is over a limit or too low to hold, with 2 when something cannot be read.
    """
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
