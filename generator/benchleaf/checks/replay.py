"""A procedure cannot be done as it is recorded, would hurt someone, or leaves something over.

Every procedure is replayed on a model of the machine: for each variant, modification and serial it applies to, its
conditions first, then the way back that is derived from it. What cannot be done is an error at its line.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding
from benchleaf.physical.findings import procedure_findings

_PAGES = """
== not-there
A step names something that this machine does not have.

It may be there on other variants or with a modification: give the step `applies:`. A position, a joint, a lead or a
cable that is not where the step says counts too.

== wrong-cable
A step says which cable is at a connector, and the wiring says another.

`W5 at A1-J5` is checked against `ends`, so that a label never goes on the wrong cable.

== lead-soldered
A soldered lead cannot be lifted.

Only screw and spade ends can; solder is what counts where nothing is recorded. Open the other end of the cable, or
record `joint: screw` or `spade`.

== condition-ring
A procedure is, round some corners, its own condition.

Conditions are replayed first. Take one of them out of the ring.

== out-of-reach
A step acts on something that cannot be touched yet.

`reach` says what must be out of the way before fasteners, connectors, joints and test points can be touched; left
out, it is `behind`. Either a cover is still on, or the fact is wrong.

== blocked
An item cannot move: something it is `behind` is still on, on the way out or on the way back.

== count-differs
The step states a count, and the machine has another.

`4 x` is checked against what is still there to act on. Count again at the machine: one of the two is wrong. A screw
that was missing when a serial came in is recorded under `as-found`.

== captive-removed
A captive fastener stays in its item, so it is loosened, never removed.

== done-twice
A step does what is done already: takes off what is off, opens what is open, tightens what is tight.

== not-started
A fastener that is out is started by hand before it is tightened.

`start:` comes first, for all that share an alignment, then `tighten:`.

== fastener-into-nothing
A fastener is started or tightened while its item is off, not slid home, or drawn out.

== renewed-in-place
A part is renewed while the old one is still in its place.

`lift off:` or `remove:` comes first: what is fitted new has to go where the old one was.

== screws-alike
Two sets of fasteners that look alike and differ in length are out at the same time.

The longer one in the wrong hole can reach what lies behind. Head, drive or thread not recorded may be the same;
length not recorded may be different. Keep them in separate trays and say so in the step.

== still-held
An item comes off, slides or moves while something still holds it.

A set is released when it is removed, or loosened where loosening is enough (`release: loosen`, captive ones).

== held-by-unknown
Nobody recorded what holds an item, so it counts as held by something unknown.

Record `held-by`, or `held-by: none` when it only rests in its place.

== nothing-to-slide
A step slides an item whose recorded way off is one motion.

Write the motions in order: `comes-off: [slide back 12 mm, lift up]`.

== not-slid
An item is lifted before it has slid out of what catches it.

`comes-off` says the motions in order; all but the last are `slide`.

== would-fall
Something rests on an item that is taken away, and would fall or tip.

Take that off first, or say in the step's `safety:` how it is held.

== cable-across
An item moves while a cable or line still joins it to what stays.

Its ends are on both sides of the move and both are mated. Unplug one end, open one joint, or record the slack: how
far the two sides may part with both ends mated. Slack not recorded counts as none.

== tie-holds
A tie on one side still holds a cable or line that is mated on the other.

A tie takes the slack away, however much there is. Cut it first.

== not-labelled
A cable end is unplugged before it is labelled and photographed, and another connector is like it.

`disconnect:` does all three. An end needs neither when no other connector of the machine has its family, number of
contacts and keying; what is not recorded may be the same.

== wet-line-opened
A wet line is opened that is neither drained nor clamped on both sides of the joint.

== joint-left-open
A wet joint is left open at the end of its step.

An open joint has two openings, and both drip. `cap:` closes both.

== cap-left-on
A joint is closed with the caps still on it.

They come off just before mating.

== cannot-clamp
A line is clamped that nobody recorded as soft enough.

A hard line cracks under the clamp. Drain it instead, or record `clamp: yes`.

== board-under-joint
A wet joint is opened above an electrical part that is not covered.

What lies beneath is said by `drips-on`, else by the boxes of the items.

== under-not-recorded
What lies under a wet joint is not recorded, so it counts as an electrical part.

Record `drips-on` of the joint, or `drips-on: none`.

== filled-open
A circuit is filled while one of its joints is open or one of its lines is clamped.

== laid-wet
The machine is laid on its side while a wet circuit is not drained.

== still-live
A hand touches what may be live, hot, loaded or under pressure.

Every energy at an item is isolated, released where it stores, and proved dead before any verb but label,
photograph, inspect, cover and prove dead touches it. Electrical energy is at everything the wiring joins to its
source. A step that says nothing checkable ends every proof.

== exposes-live
A cover comes off in front of an energy that is not isolated.

What is `behind` the cover, or reached past it, counts; a declared device isolates, in the order recorded.

== isolation-order
An energy is discharged or proved dead before it is isolated.

The order is `isolate`, `discharge` where something is stored, `prove dead`.

== isolation-not-recorded
Nobody recorded which device isolates an energy, or none does: it stays energised.

== not-discharged
An energy is proved dead before what it stores is released.

Whether something is stored counts as yes until `stored: none` is recorded.

== proof-not-recorded
Nobody recorded where an energy is proved dead: the two points, and the limit to be read there.

== energised-open
An energy comes back while a guard is off or not fastened, or a wet joint is open.

A powered test with covers open is declared: `powered:` says why, `covers: open` says so.

== energy-not-recorded
A machine has procedures that open it, and no energy is recorded.

Everything in it counts as energised. Record what can hurt under `energy`; `energy: {}` says that there is none.

== measured-live
A resistance or continuity is measured on what is not proved dead.

The meter reads nonsense at best. Without an `expect` a measurement counts as one of resistance.

== powered-undeclared
A voltage or current is measured in a step that does not declare a powered test.

== no-power
A powered test in a step at which every electrical energy is isolated: there is nothing to read.

== no-tool
No tool of the shop fits the fasteners of a step.

The drive of the fastener, or its `tool`, is looked for under `does` of tools.yaml.

== too-heavy
A step has fewer persons than the mass or the record of an item asks for.

== settings-not-saved
An item leaves with the settings kept in it, and nobody saved them.

`back up:` in an earlier step, or in a condition. A new one gets them back with `restore:`.

== goal-not-met
At the last step the goal is not reached: the item cannot be touched, is still on, or is the old one.

== unchecked-steps
Some steps are prose only, so nothing in them is checked.

What such a step could have changed is not recorded afterwards: sources count as energised, the ledger stays open,
the derived way back stops there. Write `do:`, or `changes: none` where a step changes nothing.

== ledger-open
After the derived way back something is still out, open, lifted, clamped, labelled or switched off.
"""
PAGES: Mapping[str, str] = {
    code: text.strip() for code, _, text in (page.partition("\n") for page in _PAGES.strip()[3:].split("\n\n== "))
}
"""Code → its manual page; the first sentence is its line in the list of codes."""
CODES = tuple(PAGES)
BY_MACHINE = True


def run(derived: Derived) -> Iterator[Finding]:
    for machine in derived.library.machines.values():
        yield from procedure_findings(derived, machine)
