"""What each verb does to the machine, and what undoes it: one row a verb.

The rules a verb must obey stand in its row too, so that adding a verb is adding a row. Effects never ask whether
something was allowed: a rule has spoken by then, and the replay goes on as if it had been done.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Literal

from benchleaf.frozen import dataclass
from benchleaf.physical import effects as e
from benchleaf.physical.acts import Act
from benchleaf.physical.ground import Ground
from benchleaf.physical.look import Rule
from benchleaf.physical.rules import cables as c
from benchleaf.physical.rules import energies as n
from benchleaf.physical.rules import fasteners as f
from benchleaf.physical.rules import fluids as w
from benchleaf.physical.rules import measurements as t
from benchleaf.physical.rules import moves as m
from benchleaf.physical.rules import work as k
from benchleaf.physical.state import State

Effect = Callable[[Ground, State, Act], State]
Touch = Literal["", "item"]


@dataclass(frozen=True, slots=True)
class Verb:
    """A verb: the rules it must obey, what it does, the verb that undoes it (empty: nothing does)."""

    name: str
    conditions: tuple[Rule, ...]
    effect: Effect
    inverse: str = ""


VERBS: Mapping[str, Verb] = {
    row.name: row
    for row in (
        Verb("loosen", (f.reached, f.loosened, n.touched, k.tool), e.loosen, "tighten"),
        Verb("remove", (f.reached, f.captive, f.removed, f.alike, n.touched, k.tool), e.remove, "start"),
        Verb("start", (f.reached, f.into_nothing, f.started, n.touched, k.tool), e.start, "remove"),
        Verb("tighten", (f.reached, f.into_nothing, f.tightened, n.touched, k.tool), e.tighten, "loosen"),
        Verb("slide", (m.slid_once, m.blocked, m.held, m.parted, n.touched, n.exposed), e.slide, "slide"),
        Verb(
            "lift off",
            (m.off_once, m.blocked, m.held, m.not_slid, m.parted, m.supports, k.saved, k.persons, n.touched, n.exposed),
            e.lift_off,
            "install",
        ),
        Verb("install", (m.on_once, m.blocked, m.parted, k.persons, n.touched), e.install, "lift off"),
        Verb("move", (m.moved_once, m.blocked, m.held, m.parted, k.persons, n.touched, n.exposed), e.move, "move"),
        Verb("open", (w.reached, w.opened_once, w.drained, w.under, n.touched, n.exposed), e.open_, "close"),
        Verb("close", (w.reached, w.closed_once, w.cap_on, n.touched), e.close, "open"),
        Verb("unplug", (c.reached, c.unplugged_once, c.labelled, n.touched), e.unplug, "plug"),
        Verb("plug", (c.reached, c.plugged_once, n.touched), e.plug, "unplug"),
        Verb("lift lead", (c.reached, c.lifted_once, n.touched), e.lift_lead, "land lead"),
        Verb("land lead", (c.reached, c.landed_once, n.touched), e.land_lead, "lift lead"),
        Verb("cut", (c.tie_reached, c.cut_once, n.touched), e.cut, "tie"),
        Verb("tie", (c.tie_reached, c.tied_once, n.touched), e.tie, "cut"),
        Verb("clamp", (w.line_reached, w.clamped_once, w.soft), e.clamp, "unclamp"),
        Verb("unclamp", (w.line_reached, w.unclamped_once), e.unclamp, "clamp"),
        Verb("cap", (w.reached, w.capped_once, n.touched), e.cap, "uncap"),
        Verb("uncap", (w.reached, w.uncapped_once, n.touched), e.uncap, "cap"),
        Verb("drain", (w.drained_once,), e.drain, "fill"),
        Verb("fill", (w.filled_once, w.fill_closed), e.fill, "drain"),
        Verb("isolate", (n.isolated_once, n.can_isolate), e.isolate, "energise"),
        Verb("discharge", (n.discharge_order, n.store_reached), e.discharge),
        Verb("prove dead", (n.proof_order, n.proof_reached), e.prove_dead),
        Verb("energise", (n.energised_once, n.closed_first), e.energise, "isolate"),
        Verb("cover", (w.covered_once, w.item_reached), e.cover, "uncover"),
        Verb("uncover", (w.uncovered_once, w.item_reached, n.touched), e.uncover, "cover"),
        Verb("label", (c.label_reached,), e.label),
        Verb("photograph", (c.photograph_reached,), e.photograph),
        Verb("mark", (k.adjuster_reached, n.touched), e.mark),
        Verb("measure", (t.measure_reached, t.dead_first, t.powered_first), e.nothing),
        Verb("stand", (w.stand_dry,), e.stand, "stand"),
        Verb("adjust", (k.adjuster_reached, n.touched), e.adjust),
        Verb("inspect", (), e.nothing),
        Verb("clean", (k.item_reached, n.touched), e.nothing),
        Verb("renew", (k.taken_out, n.touched), e.renew),
        Verb("back up", (), e.back_up, "restore"),
        Verb("restore", (), e.restore),
        Verb("take label off", (), e.unlabel),
    )
}
"""``take label off`` is written by no author: a derived reassembly ends so with a label that was never needed."""
