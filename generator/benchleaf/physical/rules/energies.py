"""Energies: isolated in order, released, proved dead before a hand comes near; closed up before they come back.

Nothing here says that anything is safe: a rule is silent when what is recorded was done in its order, no more.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.diagnostics import Severity
from benchleaf.physical.acts import Problem
from benchleaf.physical.effects import shared_devices
from benchleaf.physical.look import NOTHING, Look, Said, unmet_words, way_out
from benchleaf.physical.state import CAPPED, NOT_RECORDED, PROVED, SLID
from benchleaf.records.energy import Energy

STORES_BY_NATURE = ("pneumatic", "spring")
"""Kinds that are stored energy: released before they are proved gone, unless `stored: none`."""


def touched_item(look: Look) -> str | None:
    """The item, or connector on a cable, that a hand is on during an act; ``None`` for none."""
    act, built = look.act, look.ground.built
    verb = act.verb
    if verb in ("loosen", "remove", "start", "tighten"):
        return built.sets[act.what].item
    if verb in ("unplug", "plug"):
        return built.host_item(act.what) or act.what
    if verb in ("lift lead", "land lead"):
        return look.ground.item_of(act.at) if "." in act.at else act.at
    if verb in ("cut", "tie"):
        return str(built.ties[act.what].fixed_to.item)
    if verb in ("mark", "adjust"):
        on = built.adjusters[act.what].on_item
        return str(on.item) if on is not None else None
    if verb in ("open", "close", "cap", "uncap") and act.at:
        return act.at
    return act.what.partition(".")[0] or None


def touched(look: Look) -> Said:
    """Rule 2: no hand on what can be live, hot, loaded or under pressure before that is proved gone."""
    item = touched_item(look)
    if item is None:
        return NOTHING
    live = look.ground.liveness
    energies = live.at.get(item) or live.of_connector.get(item, ())
    if not energies or (look.is_powered and look.act.verb == "adjust"):
        return NOTHING
    return _touched(look, item, energies)


def _touched(look: Look, item: str, energies: tuple[str, ...]) -> Iterator[Problem]:
    left = [name for name in energies if look.state.energies.get(name) != PROVED]
    if left:
        yield _not_proved(look, item, left)
        return
    for name in look.ground.still_reached(look.state).get(item, ()):
        message = f"{item} is touched while {name} still reaches it, with all that isolates it operated"
        yield look.problem("still-live", message, _mend_isolation(look, name))


def _mend_isolation(look: Look, name: str) -> str:
    devices = look.ground.built.energy[name].isolate or ()
    named = ", ".join(f"{one.verb} {one.device}" for one in devices)
    return f"add a device that opens every live pole to `isolate` of {name} ({named}), or mend the wiring"


def _not_proved(look: Look, item: str, left: list[str]) -> Problem:
    how = " and ".join(f"{name} is {_state_words(look, name)}" for name in left)
    message = f"{item} is touched while {how}"
    return look.problem("still-live", message, _way_to_prove(look, left[0]))


def _way_to_prove(look: Look, name: str) -> str:
    energy = look.ground.built.energy.get(name)
    if energy is None:
        return f"record under `energy` how the source {name} is isolated and proved dead"
    steps = ["isolate", *(["discharge"] if _needs_discharge(energy) else []), "prove dead"]
    state = look.state.energy(name)
    if state in ("isolated", "discharged"):
        steps = steps[1:] if state == "isolated" else ["prove dead"]
    way = ", ".join(f"`{verb}: {name}`" for verb in steps)
    return f"first {way}"


def _state_words(look: Look, name: str) -> str:
    if name not in look.ground.built.energy:
        return "a source that no recorded energy isolates"
    state = look.state.energy(name)
    if state == NOT_RECORDED:
        title = look.state.unchecked[-1].title if look.state.unchecked else ""
        return f"no longer known to be isolated after the unchecked step '{title}'"
    return f"{state}, but not proved dead" if state else "energised"


def exposed(look: Look) -> Said:
    """Rule 2: what stands in front of an energy is taken away only when that energy is isolated."""
    behind = look.ground.exposes.get(look.act.what)
    return _exposed(look, behind) if behind else NOTHING


def _exposed(look: Look, behind: tuple[tuple[str, str], ...]) -> Iterator[Problem]:
    act = look.act
    if act.verb == "open" and act.at:
        return
    if act.verb == "move" and act.at == "seated":
        return
    if act.verb in ("slide", "lift off") and look.state.items.get(act.what) == SLID:
        return  # it was said when the item slid, or it slides home
    bare: dict[str, list[str]] = {}
    for energy, item in behind:
        if not look.state.is_isolated(energy):
            bare.setdefault(energy, []).append(item)
    reached = look.ground.still_reached(look.state)
    for name in sorted({name for _, item in behind for name in reached.get(item, ())}):
        items = sorted({item for _, item in behind if name in reached.get(item, ())})
        shown = ", ".join(items[:3]) + (" and more" if len(items) > 3 else "")
        message = f"taking {act.what} away exposes {shown}: {name} still reaches it, with all that isolates it operated"
        yield look.problem("exposes-live", message, _mend_isolation(look, name))
    for energy, items in sorted(bare.items()):
        shown = ", ".join(items[:3]) + (" and more" if len(items) > 3 else "")
        message = f"taking {act.what} away exposes {shown} while {energy} is {_state_words(look, energy)}"
        yield look.problem("exposes-live", message, f"first `isolate: {energy}`" if energy in look.ground.built.energy
                           else f"record under `energy` how the source {energy} is isolated")  # fmt: skip


# ---- rule 10: the order of isolation


def isolated_once(look: Look) -> Iterator[Problem]:
    if look.state.is_isolated(look.act.what):
        yield look.problem("done-twice", f"{look.act.what} is {look.state.energy(look.act.what)} already",
                           "take the line out")  # fmt: skip


def can_isolate(look: Look) -> Iterator[Problem]:
    """There is a recorded device, and it can be reached."""
    name = look.act.what
    devices = look.ground.built.energy[name].isolate
    if not devices:
        said = "nobody recorded what isolates" if devices is None else "nothing isolates"
        help = f"name the devices under `isolate` of {name}, such as `[unplug XP1]`"
        yield look.problem("isolation-not-recorded", f"{said} {name}: it stays energised", help)
    yield from _devices_reached(look)


def _devices_reached(look: Look) -> Iterator[Problem]:
    for device in look.ground.built.energy[look.act.what].isolate or ():
        unmet = look.ground.unmet(look.state, look.ground.reach_of(device.device.item))
        if unmet:
            message = f"{device.device} cannot be reached to {device.verb} it: {unmet_words(unmet)}"
            yield look.problem("out-of-reach", message, f"record `reach: []` of {device.device} if it is outside")


def _needs_discharge(energy: Energy) -> bool:
    """Whether stored energy is to be released before the proof: recorded as stored, or not recorded (counts as so)."""
    if energy.stored is not None:
        return bool(energy.stored)
    return energy.kind == "electrical" or energy.kind in STORES_BY_NATURE


def discharge_order(look: Look) -> Iterator[Problem]:
    name = look.act.what
    if not look.state.is_isolated(name):
        message = f"{name} is discharged while it is {_state_words(look, name)}"
        yield look.problem("isolation-order", message, f"first `isolate: {name}`")


def store_reached(look: Look) -> Iterator[Problem]:
    for store in look.ground.built.energy[look.act.what].stored or ():
        for point in store.between or ((store.in_,) if store.in_ is not None else ()):
            yield from _point_reached(look, str(point))


def _point_reached(look: Look, point: str) -> Iterator[Problem]:
    owner = look.ground.owner(point) if "." in point else point.rpartition("/")[2]
    unmet = look.ground.unmet(look.state, look.ground.reach_of(owner))
    if unmet:
        message = f"{point} cannot be reached: {unmet_words(unmet)}"
        yield look.problem("out-of-reach", message, f"first {way_out(unmet)}, or mend `reach` of {owner}")


def proof_order(look: Look) -> Iterator[Problem]:
    name = look.act.what
    energy = look.ground.built.energy[name]
    state = look.state.energy(name)
    if not look.state.is_isolated(name):
        message = f"{name} is proved dead while it is {_state_words(look, name)}"
        yield look.problem("isolation-order", message, f"first `isolate: {name}`")
    elif state == "isolated" and _needs_discharge(energy):
        help = f"first `discharge: {name}`"
        if energy.stored is None:
            message = f"whether {name} stores anything is not recorded: it counts as charged, and was not discharged"
            help += f", or record `stored: none` of {name}"
            severity = Severity.WARNING if energy.kind == "electrical" else Severity.ERROR
            yield look.problem("not-discharged", message, help, severity=severity)
        else:
            where = ", ".join(str(store.in_) for store in energy.stored)
            message = f"{name} is proved dead before what is stored in {where} is discharged"
            yield look.problem("not-discharged", message, help)


def proof_reached(look: Look) -> Iterator[Problem]:
    name = look.act.what
    proofs = look.ground.built.energy[name].prove_dead
    if not proofs:
        help = f"record the points and limits under `prove-dead` of {name}"
        yield look.problem("proof-not-recorded", f"nobody recorded where {name} is proved dead", help)
    told: set[str] = set()
    for proof in proofs or ():
        points = [str(contact) for contact in proof.between or ()] + ([str(proof.at.item)] if proof.at else [])
        for point in points:
            for problem in _point_reached(look, point):
                if problem.message not in told:
                    told.add(problem.message)
                    yield problem


# ---- rule 11: closed up before energy comes back


def energised_once(look: Look) -> Iterator[Problem]:
    if not look.state.energy(look.act.what) and len(shared_devices(look.ground, look.act.what)) == 1:
        yield look.problem("done-twice", f"{look.act.what} is energised already", "take the line out")


def closed_first(look: Look) -> Iterator[Problem]:
    """No energising with a guard off or a wet joint open, save a declared powered test."""
    step, state, ground = look.step, look.state, look.ground
    if step is not None and step.powered is not None and step.covers in ("open", "either"):
        return
    help = "close it first; for a powered test, say why under `powered:` and `covers: open`"
    for item in sorted(state.items):
        if item in ground.guards:
            where = state.items[item]
            how = where if where in ("off", SLID) else f"at {where}"
            yield look.problem("energised-open", f"{look.act.what} is energised while {item} is {how}", help)
    for name in sorted(state.counts):
        counts = state.counts[name]
        item = ground.built.sets[name].item
        if item in ground.guards and item not in state.items and (counts.loose or counts.out):
            message = f"{look.act.what} is energised while {name} is not tight ({counts})"
            yield look.problem("energised-open", message, help)
    for line, item in sorted(state.joints):
        if ground.is_wet(line):
            how = "capped, not joined" if state.joints[line, item] == CAPPED else "open"
            message = f"{look.act.what} is energised while {line} at {item} is {how}"
            yield look.problem("energised-open", message, help)
