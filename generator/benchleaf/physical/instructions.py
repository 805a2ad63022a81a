"""An act as an instruction for two hands: which tool, how many, which way, how tight; what nobody recorded is said so.

The words are for paper and screen alike. Nothing is invented: a torque nobody recorded is "not recorded".
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from benchleaf.fastener_sets import DRIVEN, FastenerSet
from benchleaf.frozen import dataclass
from benchleaf.physical.acts import Act
from benchleaf.physical.effects import shared_devices
from benchleaf.physical.ground import Ground
from benchleaf.physical.rules.fasteners import mixed_up
from benchleaf.physical.state import SLID, State
from benchleaf.records.observed import Value
from benchleaf.records.types import Motion
from benchleaf.values.observations import Observation, Status, standing_of
from benchleaf.wiring.contacts import shown

NOT_RECORDED = "not recorded"
CUTTERS = "side cutters"
OPPOSITE: Mapping[str, str] = {
    "up": "down", "down": "up", "left": "right", "right": "left", "front": "back", "back": "front", "": "",
}  # fmt: skip
BACK_AGAIN: Mapping[str, str] = {
    "slide": "slide", "pull": "push", "lift": "lower", "tilt": "tilt", "turn": "turn", "unhook": "hook",
}  # fmt: skip
BY_HAND = frozenset(
    {
        "plug", "unplug", "install", "lift off", "slide", "move", "uncover", "take label off", "close", "tie", "uncap",
        "unclamp", "energise", "restore", "back up", "stand", "renew",
    }
)  # fmt: skip
"""Verbs that take no tool unless the shop lists one for them (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Instruction:
    """One act in words. ``count`` is of fasteners; ``torque`` is words, ``torque_value`` what they come from."""

    act: Act
    words: str
    tool: str = ""
    count: int | None = None
    direction: str = ""
    torque: str = ""
    torque_value: Value | None = None
    notes: tuple[str, ...] = ()


def instruction(ground: Ground, before: State, act: Act, how_many: int | None = None) -> Instruction:
    """The instruction for an act done in the state ``before``; ``how_many`` fasteners it acts on."""
    if act.what in ground.built.sets and act.verb in ("loosen", "remove", "start", "tighten", "renew"):
        return _of_set(ground, before, act, how_many)
    if act.verb in ("install", "lift off", "slide", "move"):
        return _of_item(ground, before, act)
    return Instruction(
        act=act, words=_words(ground, before, act), tool=_tool_of_verb(ground, act), notes=_notes(ground, before, act)
    )


# ---- fasteners


def _of_set(ground: Ground, before: State, act: Act, how_many: int | None) -> Instruction:
    one = ground.built.sets[act.what]
    count = how_many if how_many is not None else act.count if act.count is not None else one.count
    kind = kind_words(one)
    tool = one.tool if one.tool is not None else NOT_RECORDED
    notes: list[str] = []
    torque, value = "", None
    if act.verb == "tighten":
        words = f"Tighten the {count} {kind}" if count > 1 else f"Tighten the {kind}"
        if one.kind in DRIVEN:
            torque, value = torque_words(one), one.torque
            notes += _sequence(one)
        else:
            words = f"Close the {count} {kind}" if count > 1 else f"Close the {kind}"
    elif act.verb == "start":
        words = f"Start {count} {kind} by hand, none tight yet" if count > 1 else f"Start the {kind} by hand"
        notes += [f"{other} look alike: check the length" for other in _alike(ground, before, one)]
    elif act.verb == "renew":
        words = f"Take {count} new {kind} to hand"
    else:
        words = f"{act.verb.capitalize()} the {count} {kind}" if count > 1 else f"{act.verb.capitalize()} the {kind}"
    return Instruction(
        act=act, words=f"{words} ({one.name})", tool=tool, count=count, torque=torque, torque_value=value,
        notes=tuple(notes),
    )  # fmt: skip


def kind_words(one: FastenerSet) -> str:
    """A fastener as it is called at the bench: ``M3 × 6 mm pan screws``."""
    length = one.length.quantity if one.length is not None else None
    size = f"{one.thread} × {length.tidy}" if one.thread and length else one.thread or (length.tidy if length else "")
    named = one.label or one.kind
    if one.count != 1 and not named.endswith("s"):
        named = f"{named}{'es' if named.endswith(('ch', 'sh', 'x')) else 's'}"
    return " ".join(word for word in (size, one.head or "", named) if word)


def torque_words(one: FastenerSet) -> str:
    """The recorded torque, every side of a dispute with what holds meanwhile, or ``not recorded``."""
    seen = [
        Observation(
            quantity=entry.quantity,
            adjudicated=entry.adjudicated is not None,
            reason=entry.reason or "",
            interim=entry.interim or "",
            origin=entry.origin or "",
            date=entry.date or "",
        )
        for entry in (one.torque.observations if one.torque is not None else ())
    ]
    standing = standing_of(seen)
    return NOT_RECORDED if standing.status is Status.NOT_RECORDED else standing.text


def _sequence(one: FastenerSet) -> list[str]:
    if one.sequence == "cross":
        return ["crosswise, a little more each round"]
    if one.sequence:
        return [f"in the order {', '.join(map(str, one.sequence))}"]
    return ["order not recorded"] if one.count > 2 else []


def _alike(ground: Ground, before: State, one: FastenerSet) -> list[str]:
    return [
        name
        for name in sorted(before.counts)
        if before.counts[name].out and name != one.name and mixed_up(one, ground.built.sets[name])
    ]


# ---- items


def _of_item(ground: Ground, before: State, act: Act) -> Instruction:
    item = ground.built.items[act.what]
    new = "new " if act.what in before.renewed and act.verb == "install" else ""
    name = f"the {new}{_lower(str(item.name))} ({act.what})"
    motions = item.comes_off or ()
    persons = f", {item.persons} persons" if (item.persons or 1) > 1 else ""
    notes: tuple[str, ...] = ()
    if act.verb == "install":
        direction = back_again(motions[-1]) if motions else NOT_RECORDED
        words = f"Put {name} in its place{persons}"
    elif act.verb == "lift off":
        direction = str(motions[-1].text) if motions else NOT_RECORDED
        words = f"Take {name} off{persons}"
    elif act.verb == "slide":
        home = before.items.get(act.what) == SLID
        way = [back_again(one) for one in reversed(motions[:-1])] if home else [str(one.text) for one in motions[:-1]]
        direction = ", then ".join(way) or NOT_RECORDED
        words = f"Slide {name} home" if home else f"Slide {name}"
    else:
        here = before.items.get(act.what, "")
        position = item.positions.get(here if act.at == "seated" else act.at)
        motion = position.motion if position is not None else None
        direction = NOT_RECORDED if motion is None else back_again(motion) if act.at == "seated" else str(motion.text)
        words = f"Move {name} back to its seat" if act.at == "seated" else f"Move {name} to its {act.at} position"
    if item.mass is not None and item.mass.quantity is not None and act.verb in ("install", "lift off"):
        notes = (f"mass {item.mass.quantity.tidy}",)
    return Instruction(act=act, words=words, tool="hand", direction=direction, notes=notes)


def back_again(motion: Motion) -> str:
    """A motion the other way: ``slide back 12 mm`` → ``slide front 12 mm``, ``lift up`` → ``lower down``."""
    how = BACK_AGAIN[motion.how]
    if motion.how == "lift" and motion.way == "down":
        how = "lift"
    far = f" {motion.distance.tidy}" if motion.distance is not None else ""
    return f"{how} {OPPOSITE[motion.way]}{far}".replace("  ", " ").strip()


def _lower(name: str) -> str:
    return name[:1].lower() + name[1:] if name[1:2].islower() else name


# ---- everything else


def _words(ground: Ground, before: State, act: Act) -> str:
    form = FORMS.get(act.verb)
    return form(ground, act) if form is not None else act.words


def _named(ground: Ground, act: Act) -> str:
    return called(ground, act.what)


def called(ground: Ground, what: str) -> str:
    """A thing by its name with its id, ``the fan cable (W13)``; by its id where nobody named it."""
    built = ground.built
    tables = (built.items, built.cables, built.lines, built.ties, built.adjusters)
    name = next((table[what].name for table in tables if what in table), None)
    return f"the {_lower(str(name))} ({what})" if name else what


def _typed(ground: Ground, act: Act) -> str:
    return str(act.action.text) or act.what


def _tied(ground: Ground, act: Act) -> str:
    by_hand = ground.built.ties[act.what].opens == "by hand"
    return f"Close {_named(ground, act)}" if by_hand else f"Put a new tie in the place of {_named(ground, act)}"


Form = Callable[[Ground, Act], str]
FORMS: Mapping[str, Form] = {
    "plug": lambda g, a: f"Plug {called(g, a.at)} in at {a.what}",
    "unplug": lambda g, a: f"Unplug {called(g, a.at)} at {a.what}",
    "land lead": lambda g, a: f"Land the lead of {_named(g, a)} at {shown(a.at)}",
    "lift lead": lambda g, a: f"Lift the lead of {_named(g, a)} off {shown(a.at)}",
    "tie": _tied,
    "cut": lambda g, a: f"Open {_named(g, a)}",
    "uncap": lambda g, a: f"Take the two caps off {_named(g, a)} at {a.at}",
    "cap": lambda g, a: f"Cap both openings of {_named(g, a)} at {a.at}",
    "close": lambda g, a: f"Join {_named(g, a)} to {called(g, a.at)}" if a.at else f"Close {_named(g, a)}",
    "open": lambda g, a: f"Open {_named(g, a)} at {called(g, a.at)}" if a.at else f"Open {_named(g, a)}",
    "unclamp": lambda g, a: f"Take the clamp off {_named(g, a)}",
    "clamp": lambda g, a: f"Clamp {_named(g, a)}",
    "fill": lambda g, a: f"Fill the {a.what} circuit and bleed it, then look at every joint",
    "drain": lambda g, a: f"Drain the {a.what} circuit",
    "uncover": lambda g, a: f"Take the sheet off {_named(g, a)}",
    "cover": lambda g, a: f"Cover {_named(g, a)}",
    "stand": lambda g, a: "Stand the machine on its feet" if a.what == "feet" else f"Lay the machine on its {a.what}",
    "energise": lambda g, a: f"Switch {_energies(g, a.what)} on again: {_devices_back(g, a.what)}",
    "isolate": lambda g, a: f"Isolate {a.what}: {_devices(g, a.what)}",
    "discharge": lambda g, a: f"Discharge {a.what}, then measure",
    "prove dead": lambda g, a: f"Prove {a.what} dead",
    "restore": lambda g, a: f"Restore the settings of {_named(g, a)}, or calibrate it",
    "back up": lambda g, a: f"Back up the settings of {_named(g, a)}",
    "renew": lambda g, a: f"Take a new part to hand for {_named(g, a)}; the old one is not used again",
    "adjust": lambda g, a: f"Set {_named(g, a)}{_set_by(g, a.what)}",
    "mark": lambda g, a: f"Mark {_named(g, a)}",
    "take label off": lambda g, a: f"Take the labels off {_named(g, a)}",
    "label": lambda g, a: f"Label {_named(g, a)} at both ends",
    "photograph": lambda g, a: f"Photograph {a.what}",
    "measure": lambda g, a: f"Measure {_typed(g, a)}",
    "inspect": lambda g, a: f"Inspect {_typed(g, a)}",
    "clean": lambda g, a: f"Clean {_typed(g, a)}",
}


def _energies(ground: Ground, energy: str) -> str:
    """The energy, and every other that comes back with its devices."""
    return " and ".join(sorted(shared_devices(ground, energy)))


def _devices(ground: Ground, energy: str) -> str:
    devices = ground.built.energy[energy].isolate or ()
    return ", ".join(f"{one.verb} {one.device}" for one in devices) or NOT_RECORDED


def _devices_back(ground: Ground, energy: str) -> str:
    back = {"unplug": "plug in", "open": "close", "close": "open", "block": "unblock"}
    devices = ground.built.energy[energy].isolate or ()
    return ", ".join(f"{back[one.verb]} {one.device}" for one in reversed(devices)) or NOT_RECORDED


def _set_by(ground: Ground, adjuster: str) -> str:
    by = ground.built.adjusters[adjuster].set_by
    return f" by the procedure {by}" if by is not None else ": how is not recorded"


def _notes(ground: Ground, before: State, act: Act) -> tuple[str, ...]:
    if act.verb == "plug":
        label = f"read the label of {act.at}" if act.at in before.labelled else ""
        picture = f"compare with the photograph of {act.what}" if act.what in before.photographed else ""
        alike = ground.alike(act.what)
        like = f"{', '.join(alike[:3])} may be like it" if alike else ""
        return tuple(one for one in (label, picture, like) if one)
    if act.verb == "land lead" and act.what in before.labelled:
        return (f"read the label of {act.what}",)
    if act.verb == "adjust" and act.what in before.marked:
        return ("begin from the mark",)
    return ()


def _tool_of_verb(ground: Ground, act: Act) -> str:
    """The first tool of the shop that serves a verb, else ``hand`` or ``not recorded``."""
    if act.verb == "adjust":
        return NOT_RECORDED if ground.built.adjusters[act.what].set_by is None else "as its procedure says"
    for stock in ground.library.tools.values():
        if act.verb in (stock.does or ()):
            return str(stock.name)
    if act.verb == "cut":
        return CUTTERS
    return "hand" if act.verb in BY_HAND else NOT_RECORDED
