"""Cables and ties: reached, opened once, labelled and photographed before they are unplugged."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.physical.acts import Problem
from benchleaf.physical.look import Look, unmet_words, way_out


def _reached(look: Look, name: str, owner: str) -> Iterator[Problem]:
    unmet = look.ground.unmet(look.state, look.ground.reach_of(owner))
    if unmet:
        message = f"{name} cannot be reached: {unmet_words(unmet)}"
        yield look.problem("out-of-reach", message, f"first {way_out(unmet)}, or mend `reach` of {owner}")


def reached(look: Look) -> Iterator[Problem]:
    """Rule 1 for a connector or a lead."""
    act = look.act
    if act.verb in ("unplug", "plug"):
        return _reached(look, act.what, act.what)
    return _reached(look, act.at, look.ground.owner(act.at))


def label_reached(look: Look) -> Iterator[Problem]:
    """A label needs one end within reach."""
    if look.act.part_of:
        return
    ends = [str(end.at) for end in look.ground.built.cables[look.act.what].ends if not end.at.is_parked]
    unmet = [look.ground.unmet(look.state, look.ground.reach_of(look.ground.owner(end))) for end in ends]
    if unmet and all(unmet):
        message = f"no end of {look.act.what} can be reached: {unmet_words(unmet[0])}"
        yield look.problem("out-of-reach", message, f"first {way_out(unmet[0])}")


def photograph_reached(look: Look) -> Iterator[Problem]:
    if not look.act.part_of:
        yield from _reached(look, look.act.what, look.act.what)


# ---- rule 5


def unplugged_once(look: Look) -> Iterator[Problem]:
    if (look.act.at, look.act.what) in look.state.unmated:
        yield look.problem("done-twice", f"{look.act.at} is unplugged at {look.act.what} already", "take the line out")


def plugged_once(look: Look) -> Iterator[Problem]:
    if (look.act.at, look.act.what) not in look.state.unmated:
        yield look.problem("done-twice", f"{look.act.at} is plugged in at {look.act.what} already", "take the line out")


def lifted_once(look: Look) -> Iterator[Problem]:
    if (look.act.what, look.act.at) in look.state.lifted:
        message = f"the lead of {look.act.what} at {look.act.at} is lifted already"
        yield look.problem("done-twice", message, "take the line out")


def landed_once(look: Look) -> Iterator[Problem]:
    if (look.act.what, look.act.at) not in look.state.lifted:
        message = f"the lead of {look.act.what} at {look.act.at} is landed already"
        yield look.problem("done-twice", message, "take the line out")


def tie_reached(look: Look) -> Iterator[Problem]:
    unmet = look.ground.unmet(look.state, look.ground.reach_of_tie(look.act.what))
    if unmet:
        message = f"{look.act.what} cannot be reached: {unmet_words(unmet)}"
        yield look.problem("out-of-reach", message, f"first {way_out(unmet)}, or mend `reach` of {look.act.what}")


def cut_once(look: Look) -> Iterator[Problem]:
    if look.act.what in look.state.ties:
        yield look.problem("done-twice", f"{look.act.what} is open already", "take the line out")


def tied_once(look: Look) -> Iterator[Problem]:
    if look.act.what not in look.state.ties:
        yield look.problem("done-twice", f"{look.act.what} is tied already", "take the line out")


# ---- rule 8


def labelled(look: Look) -> Iterator[Problem]:
    """An end is labelled and photographed before it is unplugged, unless no other connector is like it."""
    connector, cable = look.act.what, look.act.at
    lacks = [] if cable in look.state.labelled else ["labelled"]
    lacks += [] if connector in look.state.photographed else ["photographed"]
    if not lacks:
        return
    others = look.ground.alike(connector)
    if others:
        known = look.ground.built.connectors[connector].family is not None
        like = f"{', '.join(others[:3])}{' and more' if len(others) > 3 else ''} may be like it"
        message = f"{cable} is unplugged at {connector} before it is {' and '.join(lacks)}: {like}"
        help = f"write `disconnect: {connector}`: label, photograph, unplug"
        if not known:
            help += f"; or record the `family` of {connector}"
        yield look.problem("not-labelled", message, help)
