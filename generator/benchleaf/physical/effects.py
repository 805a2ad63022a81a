"""What verbs do to a state: one small function a verb, each the same whether the rules agreed or not."""

from __future__ import annotations

from collections.abc import Mapping

from benchleaf.physical.acts import Act
from benchleaf.physical.ground import Ground
from benchleaf.physical.state import (
    CAPPED,
    DISCHARGED,
    FEET,
    ISOLATED,
    OFF,
    OPEN,
    PROVED,
    SLID,
    Counts,
    State,
    with_entry,
    without_entry,
)
from benchleaf.records.actions import Action

ALWAYS = "always"


def nothing(ground: Ground, state: State, act: Act) -> State:
    return state


# ---- fasteners


def _counted(ground: Ground, state: State, name: str, counts: Counts) -> Mapping[str, Counts]:
    """The counts with one set changed; a set that is back as it was assembled is not kept."""
    whole = counts == ground.all_tight[name]
    return without_entry(state.counts, name) if whole else with_entry(state.counts, name, counts)


def _at_most(act: Act, there: int) -> int:
    return there if act.count is None else min(act.count, there)


def loosen(ground: Ground, state: State, act: Act) -> State:
    old = ground.counts(state, act.what)
    n = _at_most(act, old.tight)
    return _released(ground, state, act.what, Counts(old.tight - n, old.loose + n, old.out, old.missing))


def remove(ground: Ground, state: State, act: Act) -> State:
    old = ground.counts(state, act.what)
    if ground.built.sets[act.what].captive:
        return loosen(ground, state, act)
    n = _at_most(act, old.tight + old.loose)
    loose = min(n, old.loose)
    made = Counts(old.tight - (n - loose), old.loose - loose, old.out + n, old.missing)
    return _released(ground, state, act.what, made)


def _released(ground: Ground, state: State, name: str, counts: Counts) -> State:
    one = ground.built.sets[name]
    due = state.due
    if counts.out and one.renew == ALWAYS and name not in state.renewed:
        due = due | {name}
    return state.having(
        counts=_counted(ground, state, name, counts),
        due=due,
        disturbed=state.disturbed | {name, one.item},
        unset=state.unset | _unset_by(ground, name),
    )


def start(ground: Ground, state: State, act: Act) -> State:
    old = ground.counts(state, act.what)
    n = _at_most(act, old.out)
    made = Counts(old.tight, old.loose + n, old.out - n, old.missing)
    return state.having(counts=_counted(ground, state, act.what, made))


def tighten(ground: Ground, state: State, act: Act) -> State:
    old = ground.counts(state, act.what)
    n = _at_most(act, old.loose)
    made = Counts(old.tight + n, old.loose - n, old.out, old.missing)
    return state.having(counts=_counted(ground, state, act.what, made))


def _unset_by(ground: Ground, name: str) -> frozenset[str]:
    """The adjusters that the release of a set, or the coming off of an item, disturbs."""

    def found() -> frozenset[str]:
        upset = set()
        for adjuster, one in ground.built.adjusters.items():
            if one.disturbed_by is None:
                if one.on_item is not None and one.on_item.item == name:
                    upset.add(adjuster)
            elif name in one.disturbed_by or name.partition(".")[0] in one.disturbed_by:
                upset.add(adjuster)
        return frozenset(upset)

    return ground.remember("unset", name, found)


# ---- items


def _put(state: State, item: str, where: str) -> Mapping[str, str]:
    return with_entry(state.items, item, where) if where else without_entry(state.items, item)


def slide(ground: Ground, state: State, act: Act) -> State:
    where = "" if state.items.get(act.what) == SLID else SLID
    return state.having(items=_put(state, act.what, where), disturbed=state.disturbed | {act.what})


def lift_off(ground: Ground, state: State, act: Act) -> State:
    item = ground.built.items[act.what]
    due = state.due | {act.what} if item.renew == ALWAYS and act.what not in state.renewed else state.due
    return state.having(
        items=_put(state, act.what, OFF),
        due=due,
        disturbed=state.disturbed | {act.what},
        unset=state.unset | _unset_by(ground, act.what),
    )


def install(ground: Ground, state: State, act: Act) -> State:
    return state.having(items=_put(state, act.what, SLID if ground.slides(act.what) else ""))


def move(ground: Ground, state: State, act: Act) -> State:
    where = "" if act.at == "seated" else act.at
    return state.having(items=_put(state, act.what, where), disturbed=state.disturbed | {act.what})


# ---- joints and lids


def open_(ground: Ground, state: State, act: Act) -> State:
    if not act.at:
        return state.having(opened=state.opened | {act.what}, disturbed=state.disturbed | {act.what})
    joints = with_entry(state.joints, (act.what, act.at), OPEN)
    return state.having(joints=joints, disturbed=state.disturbed | {act.what, act.at})


def close(ground: Ground, state: State, act: Act) -> State:
    if not act.at:
        return state.having(opened=state.opened - {act.what})
    return state.having(joints=without_entry(state.joints, (act.what, act.at)))


def cap(ground: Ground, state: State, act: Act) -> State:
    return state.having(joints=with_entry(state.joints, (act.what, act.at), CAPPED))


def uncap(ground: Ground, state: State, act: Act) -> State:
    return state.having(joints=with_entry(state.joints, (act.what, act.at), OPEN))


def clamp(ground: Ground, state: State, act: Act) -> State:
    return state.having(clamped=state.clamped | {act.what}, disturbed=state.disturbed | {act.what})


def unclamp(ground: Ground, state: State, act: Act) -> State:
    return state.having(clamped=state.clamped - {act.what})


def drain(ground: Ground, state: State, act: Act) -> State:
    lines = ground.lines_of(act.what)
    return state.having(drained=state.drained | {act.what}, disturbed=state.disturbed | {act.what, *lines})


def fill(ground: Ground, state: State, act: Act) -> State:
    return state.having(drained=state.drained - {act.what})


def cover(ground: Ground, state: State, act: Act) -> State:
    return state.having(covered=state.covered | {act.what})


def uncover(ground: Ground, state: State, act: Act) -> State:
    return state.having(covered=state.covered - {act.what})


def stand(ground: Ground, state: State, act: Act) -> State:
    return state.having(stand=act.what or FEET)


# ---- cables


def _cable_items(ground: Ground, cable: str) -> frozenset[str]:
    def found() -> frozenset[str]:
        items = (ground.built.item_of_end(end) for end in ground.built.cables[cable].ends)
        return frozenset(item for item in items if item is not None)

    return ground.remember("cable items", cable, found)


def unplug(ground: Ground, state: State, act: Act) -> State:
    unmated = state.unmated | {(act.at, act.what)}
    return state.having(unmated=unmated, disturbed=state.disturbed | {act.at} | _cable_items(ground, act.at))


def plug(ground: Ground, state: State, act: Act) -> State:
    unmated = state.unmated - {(act.at, act.what)}
    made = state.having(unmated=unmated)
    return _without_label(made, act.at)


def lift_lead(ground: Ground, state: State, act: Act) -> State:
    lifted = state.lifted | {(act.what, act.at)}
    return state.having(lifted=lifted, disturbed=state.disturbed | {act.what} | _cable_items(ground, act.what))


def land_lead(ground: Ground, state: State, act: Act) -> State:
    return _without_label(state.having(lifted=state.lifted - {(act.what, act.at)}), act.what)


def _without_label(state: State, cable: str) -> State:
    """The label comes off with the last end that is joined again."""
    if cable not in state.labelled:
        return state
    still = any(one == cable for one, _ in state.unmated) or any(one == cable for one, _ in state.lifted)
    return state if still else state.having(labelled=state.labelled - {cable})


def cut(ground: Ground, state: State, act: Act) -> State:
    return state.having(ties=state.ties | {act.what})


def tie(ground: Ground, state: State, act: Act) -> State:
    return state.having(ties=state.ties - {act.what})


def label(ground: Ground, state: State, act: Act) -> State:
    return state if act.what in state.labelled else state.having(labelled=state.labelled | {act.what})


def unlabel(ground: Ground, state: State, act: Act) -> State:
    return state.having(labelled=state.labelled - {act.what})


def photograph(ground: Ground, state: State, act: Act) -> State:
    if act.what in state.photographed:
        return state
    return state.having(photographed=state.photographed | {act.what})


def mark(ground: Ground, state: State, act: Act) -> State:
    return state.having(marked=state.marked | {act.what})


def adjust(ground: Ground, state: State, act: Act) -> State:
    return state.having(unset=state.unset - {act.what}, disturbed=state.disturbed | {act.what})


# ---- energies


def isolate(ground: Ground, state: State, act: Act) -> State:
    if state.is_isolated(act.what):
        return state
    return state.having(energies=with_entry(state.energies, act.what, ISOLATED), disturbed=state.disturbed | {act.what})


def discharge(ground: Ground, state: State, act: Act) -> State:
    if state.energy(act.what) in (DISCHARGED, PROVED):
        return state
    return state.having(energies=with_entry(state.energies, act.what, DISCHARGED))


def prove_dead(ground: Ground, state: State, act: Act) -> State:
    return state.having(energies=with_entry(state.energies, act.what, PROVED))


def energise(ground: Ground, state: State, act: Act) -> State:
    """Operating the devices back undoes every isolation that stands on one of them."""
    back = shared_devices(ground, act.what)
    return state.having(energies={name: how for name, how in state.energies.items() if name not in back})


def shared_devices(ground: Ground, energy: str) -> frozenset[str]:
    """The energy, and others isolated by a device it shares."""

    def found() -> frozenset[str]:
        mine = {(one.verb, one.device) for one in ground.built.energy[energy].isolate or ()}
        return frozenset(
            name
            for name, other in ground.built.energy.items()
            if name == energy or mine & {(one.verb, one.device) for one in other.isolate or ()}
        )

    return ground.remember("shared", energy, found)


# ---- what is kept, what is new


def back_up(ground: Ground, state: State, act: Act) -> State:
    return state.having(saved=state.saved | {act.what})


def restore(ground: Ground, state: State, act: Act) -> State:
    return state.having(unrestored=state.unrestored - {act.what})


def renew(ground: Ground, state: State, act: Act) -> State:
    """A new part is at hand: the old one is owed no more. A set that lacked some since before has them now."""
    what = act.what
    disturbed = state.disturbed | {what}
    unrestored = state.unrestored
    counts = state.counts
    if what in ground.built.items:
        if ground.built.items[what].settings is not None:
            unrestored = unrestored | {what}
    elif what in ground.built.sets:
        old = ground.counts(state, what)
        if old.missing:
            n = old.missing if act.count is None else min(act.count, old.missing)
            made = Counts(old.tight, old.loose, old.out + n, old.missing - n)
            counts = _counted(ground, state, what, made)
    return state.having(
        renewed=state.renewed | {what},
        due=state.due - {what},
        disturbed=disturbed,
        unrestored=unrestored,
        counts=counts,
    )


def attempted(ground: Ground, state: State, action: Action) -> State:
    """After an action that could not be told apart into acts: what it names counts as disturbed."""
    built = ground.built
    cable = action.target if action.target in built.cables else action.cable
    named = {str(action.target), action.target.partition(".")[0], action.to.partition(".")[0], str(cable)} - {""}
    if action.target in built.connectors:
        named |= {host for host in (built.host_item(action.target),) if host is not None}
        for one in built.cables_at.get(action.target, ()):
            named |= _cable_items(ground, one)
    if cable in built.cables:
        named |= _cable_items(ground, str(cable))
    upset = frozenset(adjuster for name in sorted(named) for adjuster in _unset_by(ground, name))
    item = frozenset({action.target.partition(".")[0]} & built.items.keys())
    loosened = state.loosened
    if action.verb in ("loosen", "remove"):
        loosened |= item
    elif action.verb == "tighten":
        loosened -= item
    return state.having(disturbed=state.disturbed | named, unset=state.unset | upset, loosened=loosened)


def unchecked(state: State) -> State:
    """After a step that says nothing checkable: no energy counts as isolated any more."""
    return state.having(energies=dict.fromkeys(sorted(state.energies), "not recorded"))
