"""What a step tells the hands to do, one sentence an action: ``Loosen the 4 shell screws (M4 × 12, PH2) of Top shell``.

The record says ``loosen: top-shell.shell-screw``; everything else in the sentence is looked up. One entry a verb.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypeAlias

from benchleaf.built import connector_order
from benchleaf.pages.book import MachineBook
from benchleaf.pages.fastener_words import set_pieces
from benchleaf.pages.sentences import Piece, Sentence, Told, joined, say
from benchleaf.pages.stored_shown import bleed_sentences
from benchleaf.pages.values_shown import plain_value, shown_value
from benchleaf.records.actions import VERBS, Action, Kind
from benchleaf.records.energy import Energy
from benchleaf.records.observed import Value
from benchleaf.records.types import Motion
from benchleaf.refs import ContactRef

Lines: TypeAlias = Iterator[Sentence | Told]

DIRECTIONS = {
    "up": "up", "down": "down", "left": "to the left", "right": "to the right",
    "front": "to the front, towards you", "back": "to the back, away from you",
}  # fmt: skip


def told_actions(mbook: MachineBook, action: Action) -> tuple[Told, ...]:
    """An action as what there is to do, on the machines that ``mbook`` holds."""
    kind = VERBS.get(action.verb)
    writer = _WRITERS.get(kind) if kind is not None else None
    if writer is None:
        return (Told(say(_verb(action), str(action.text))),)
    return tuple(one if isinstance(one, Told) else Told(one) for one in writer(mbook, action))


def _verb(action: Action, words: str = "") -> str:
    said = words or VERB_WORDS.get(action.verb, action.verb)
    return f"{said[0].upper()}{said[1:]} "


VERB_WORDS = {
    "lift off": "take off", "install": "fit", "start": "start by hand, without tightening:", "unplug": "unplug",
    "lift lead": "lift the lead of", "land lead": "land the lead of", "tie": "fit a new", "label": "label both ends of",
    "photograph": "photograph", "prove dead": "prove dead:", "back up": "back up the settings of",
    "restore": "restore the settings of", "renew": "fit new:",
}  # fmt: skip


def motion_pieces(mbook: MachineBook, motion: Motion | None, said: str = "") -> Sentence:
    """``slide to the back, away from you, 12 mm``; the verb is left out where it is ``said`` already."""
    if motion is None:
        return say("direction not recorded")
    words = " ".join(
        part for part in ("" if motion.how == said else motion.how, DIRECTIONS.get(motion.way, "")) if part
    )
    if motion.distance is None:
        return say(words or "direction not recorded")
    value = plain_value(motion.distance, motion.text.place, mbook.book.style)
    return say(words, "; " if "," in words else " " if words else None, Piece("", value=value))


def _motions(mbook: MachineBook, item: str, which: slice, said: str = "") -> Sentence:
    found = mbook.record.items.get(item)
    if found is None or found.comes_off is None:
        return say(": direction not recorded")
    motions = found.comes_off[which]
    return say(": ", joined([motion_pieces(mbook, one, said) for one in motions], ", then ")) if motions else ()


def _of_set(mbook: MachineBook, action: Action) -> Lines:
    item, _, own = str(action.target).partition(".")
    names = (str(action.target),) if own else mbook.sets_of(item)
    if not names:
        yield say(_verb(action), "what holds ", mbook.item_piece(item), ": not recorded")
        return
    for name in names:
        counted = set_pieces(mbook, name, action.part, action.exact if len(names) == 1 else None)
        alone = item in mbook.record.items and action.verb == "start"
        yield say(
            _verb(action), counted, " at " if alone else " of ", mbook.item_piece(item), _order(mbook, name, action)
        )


def _order(mbook: MachineBook, name: str, action: Action) -> str:
    forms = mbook.sets(name)
    sequence = forms[0].value.sequence if forms else None
    if action.verb not in ("tighten", "loosen", "remove") or sequence is None:
        return ""
    said = "crosswise" if sequence == "cross" else "in the order " + " ".join(str(one) for one in sequence)
    return f", {said}" if action.verb == "tighten" else ""


def _of_item(mbook: MachineBook, action: Action) -> Lines:
    item = str(action.target)
    motions: Sentence = ()
    if action.verb == "slide":
        motions = _motions(mbook, item, slice(0, -1), "slide")
    elif action.verb == "lift off":
        motions = _motions(mbook, item, slice(-1, None))
    yield say(_verb(action), mbook.item_piece(item), motions)


def _of_move(mbook: MachineBook, action: Action) -> Lines:
    item, to = str(action.target), str(action.to)
    found = mbook.record.items.get(item)
    position = found.positions.get(to) if found is not None else None
    if to == "seated" or position is None:
        yield say("Move ", mbook.item_piece(item), f" back to where it sits{'' if to == 'seated' else f' ({to})'}")
        return
    motion = say(": ", motion_pieces(mbook, position.motion)) if position.motion else say(": direction not recorded")
    yield say("Move ", mbook.item_piece(item), f" to its {to} position", motion)


def line_words(mbook: MachineBook, name: str) -> str:
    line = mbook.record.lines.get(name)
    return str(line.name) if line is not None and line.name else name


def _of_opening(mbook: MachineBook, action: Action) -> Lines:
    if not action.to:
        yield from _of_item(mbook, action)
        return
    line = mbook.record.lines.get(str(action.target))
    ends = line.ends if line is not None else ()
    joint = next((end.joint for end in ends if end.at.item == action.to), None)
    holds = f" (holds {line.holds})" if line is not None and line.holds else ""
    words = f"{joint} joint of " if joint else "joint of "
    yield say(
        _verb(action), "the ", words, _line(mbook, str(action.target)), holds, " at ", mbook.item_piece(str(action.to))
    )


def _line(mbook: MachineBook, name: str) -> Piece:
    return Piece(line_words(mbook, name), strong=True)


def _of_joint(mbook: MachineBook, action: Action) -> Lines:
    place = say(
        "both openings of the joint of ", _line(mbook, str(action.target)), " at ", mbook.item_piece(str(action.to))
    )
    yield say("Cap " if action.verb == "cap" else "Take the caps off ", place)


def connector_piece(mbook: MachineBook, name: str) -> Piece:
    path = mbook.at.connector(name) if name in mbook.machine.wiring.connectors else None
    return Piece(name, path=path, strong=True)


def cable_pieces(mbook: MachineBook, name: str) -> Sentence:
    cable = mbook.machine.wiring.cables.get(name)
    path = mbook.at.cable(name) if cable is not None else None
    return say(Piece(name, path=path, strong=True), f" {cable.name}" if cable is not None and cable.name else None)


def _plugged(mbook: MachineBook, connector: str) -> list[str]:
    return sorted({cable for built in mbook.builts for cable in built.cables_at.get(connector, ())})


def _of_connector(mbook: MachineBook, action: Action) -> Lines:
    name = str(action.target)
    cables = [str(action.cable)] if action.cable else _plugged(mbook, name)
    words = [cable_pieces(mbook, one) for one in cables]
    tail = say(" (", joined(words, " or "), ")") if words else ()
    verb = "Label, photograph and unplug " if action.verb == "disconnect" else _verb(action)
    yield say(verb, connector_piece(mbook, name), tail)


def _of_host(mbook: MachineBook, action: Action) -> Lines:
    host = str(action.target)
    names = sorted({n for built in mbook.builts for n in built.connectors_of.get(host, ())}, key=connector_order)
    plugged = [(name, _plugged(mbook, name)) for name in names]
    parts = [
        say(connector_piece(mbook, name), " (", joined([cable_pieces(mbook, one) for one in cables], " or "), ")")
        for name, cables in plugged
        if cables
    ]
    yield Told(say("Label, photograph and unplug every cable of ", mbook.item_piece(host)), tuple(parts))


def contact_piece(mbook: MachineBook, contact: str) -> Piece:
    shown = ContactRef(contact).shown
    return Piece(shown, path=mbook.owner_path(contact.partition(".")[0]), strong=True)


def _of_lead(mbook: MachineBook, action: Action) -> Lines:
    at = str(action.to)
    place = contact_piece(mbook, at) if "." in at else mbook.item_piece(at)
    yield say(_verb(action), cable_pieces(mbook, str(action.target)), " at ", place)


def _of_tie(mbook: MachineBook, action: Action) -> Lines:
    tie = mbook.record.ties.get(str(action.target))
    words = str(tie.name) if tie is not None and tie.name else str(action.target)
    holds = [cable_pieces(mbook, str(one)) for one in tie.holds or ()] if tie is not None else []
    tail = say(", which holds ", joined(holds)) if holds else say(": what it holds is not recorded")
    by_hand = tie is not None and tie.opens == "by hand"
    verb = "Open by hand " if action.verb == "cut" and by_hand else _verb(action)
    yield say(verb, Piece(words, strong=True), tail)


def _of_line(mbook: MachineBook, action: Action) -> Lines:
    yield say("Clamp " if action.verb == "clamp" else "Take the clamps off ", _line(mbook, str(action.target)))


def _of_circuit(mbook: MachineBook, action: Action) -> Lines:
    circuit = str(action.target)
    vessels = [say(mbook.item_piece(n)) for n, item in mbook.record.items.items() if item.circuit == circuit]
    yield say(
        _verb(action), "the ", Piece(circuit, strong=True), " circuit", say(": ", joined(vessels)) if vessels else ()
    )


def energy_words(energy: Energy | None, name: str) -> str:
    return str(energy.name) if energy is not None and energy.name else name


def _of_energy(mbook: MachineBook, action: Action) -> Lines:
    name = str(action.target)
    energy = mbook.record.energy.get(name)
    title = Piece(
        energy_words(energy, name), strong=True, path=f"{mbook.at.list('energy')}#energy-{name}" if energy else None
    )
    if action.verb == "isolate":
        yield say("Isolate ", title, _devices(mbook, energy))
        if energy is not None and energy.lock:
            yield say("Keep it isolated: ", str(energy.lock))
    elif action.verb == "discharge":
        yield Told(say("Discharge ", title), tuple(_stores(mbook, name, energy)))
    elif action.verb == "prove dead":
        yield from _proofs(mbook, energy, title)
    else:
        yield say("Energise ", title)


def _devices(mbook: MachineBook, energy: Energy | None) -> Sentence:
    if energy is None or energy.isolate is None:
        return say(": how is not recorded. It counts as energised")
    if not energy.isolate:
        return say(": nothing isolates it. It stays energised")
    devices = [say(f"{one.verb} ", mbook.item_piece(one.device.item)) for one in energy.isolate]
    return say(": ", joined(devices, ", then "))


def _stores(mbook: MachineBook, name: str, energy: Energy | None) -> Iterator[Sentence]:
    if energy is None or energy.stored is None:
        yield say("What stays stored is not recorded: discharge wherever charge can be, and measure")
        return
    for one in energy.stored:
        pair = joined([say(contact_piece(mbook, c)) for c in one.between], " and ") if one.between else ()
        place = say(" between ", pair) if pair else say(": where it can be touched is not recorded")
        item = say("In ", mbook.item_piece(one.in_.item)) if one.in_ is not None else say("In an item not recorded")
        how = str(one.discharge).rstrip(". ") if one.discharge else "How to discharge it is not recorded"
        measured = "" if "then measure" in how.lower() else ". Then measure"
        yield say(item, place, f". {how}", measured, bleed_sentences(mbook, name, one))


def _proofs(mbook: MachineBook, energy: Energy | None, title: Piece) -> Lines:
    if energy is None or not energy.prove_dead:
        yield say("Prove ", title, " dead: where to measure is not recorded. It counts as energised")
        return
    if energy.kind == "electrical":
        yield say("Try the tester on a source you know, first and again after the last reading")
    yield Told(say("Prove ", title, " dead, at each of these"), tuple(_readings(mbook, energy)))


def _readings(mbook: MachineBook, energy: Energy) -> Iterator[Sentence]:
    tools = mbook.book.library.tools
    for proof in energy.prove_dead or ():
        where: Sentence = ()
        if proof.between is not None:
            where = joined([say(contact_piece(mbook, one)) for one in proof.between], " to ")
        elif proof.at is not None:
            where = say(mbook.item_piece(proof.at.item))
        value = plain_value(proof.expect, proof.place_of("expect"), mbook.book.style)
        limit: Sentence = say(Piece("", value=value)) if value else say("limit not recorded")
        meter = str(tools[proof.meter].name if proof.meter in tools else proof.meter) if proof.meter else ""
        yield say(where, ": ", limit, f", with {meter}" if meter else ", meter not recorded")


def _of_cable(mbook: MachineBook, action: Action) -> Lines:
    yield say(_verb(action), cable_pieces(mbook, str(action.target)))


def _of_adjuster(mbook: MachineBook, action: Action) -> Lines:
    adjuster = mbook.record.adjusters.get(str(action.target))
    words = str(adjuster.name) if adjuster is not None and adjuster.name else str(action.target)
    on = adjuster.on_item.item if adjuster is not None and adjuster.on_item is not None else None
    procedure = adjuster.set_by if adjuster is not None and action.verb == "adjust" else None
    how: Sentence = ()
    if procedure is not None and procedure in mbook.machine.procedures:
        title = str(mbook.machine.procedures[procedure].title)
        how = say(": ", Piece(title, path=mbook.at.procedure(procedure)))
    verb = "Mark where it stands: " if action.verb == "mark" else "Set "
    yield say(verb, Piece(words, strong=True), say(" on ", mbook.item_piece(on)) if on else None, how)


def _of_measure(mbook: MachineBook, action: Action) -> Lines:
    row, style = action.measure, mbook.book.style
    item, _, own = str(action.target).partition(".")
    found = recorded_value(mbook, item, own) if own else None
    between = (
        row.between if row is not None and row.between is not None else found.between if found is not None else None
    )
    what: Sentence = say(f"{own.replace('-', ' ')} of ", mbook.item_piece(item)) if own else ()
    pair = joined([say(contact_piece(mbook, one)) for one in between], " and ") if between else ()
    place = say(" between " if what else "between ", pair) if pair else ()
    expect: Sentence = ()
    if row is not None and row.expect is not None:
        expect = say(". Expect ", Piece("", value=plain_value(row.expect, row.place_of("expect"), style)))
    elif own:
        value = shown_value(found, style)
        expect = say(". Expect ", Piece("", value=value)) if value else say(". What to expect is not recorded")
    tools = mbook.book.library.tools
    meter = (
        f" with {tools[row.with_].name if row.with_ in tools else row.with_}" if row is not None and row.with_ else ""
    )
    yield say("Measure ", what, place, meter, expect)


def recorded_value(mbook: MachineBook, item: str, own: str) -> Value | None:
    """A value of an item by its name: one of its ``values``, or what a join of it says (``cold``, ``resistance``)."""
    entry = mbook.record.items.get(item)
    if entry is not None and own in entry.values:
        return entry.values[own]
    for join in mbook.machine.wiring.joins.get(item, ()):
        found = getattr(join, own.replace("-", "_"), None)
        if isinstance(found, Value):
            return found
    return None


def _of_stand(mbook: MachineBook, action: Action) -> Lines:
    side = str(action.target)
    yield say("Stand the machine ", Piece(f"on its {side}" if side != "feet" else "on its feet", strong=True))


def _of_any(mbook: MachineBook, action: Action) -> Lines:
    if not action.target:
        yield say(_verb(action), str(action.text))
        return
    item, _, own = str(action.target).partition(".")
    if own and mbook.sets(str(action.target)):
        yield say(_verb(action), set_pieces(mbook, str(action.target)), " of ", mbook.item_piece(item))
    else:
        yield say(_verb(action), mbook.item_piece(item))


def _of_renewed(mbook: MachineBook, action: Action) -> Lines:
    if action.verb != "renew":
        yield from _of_set(mbook, action)
        return
    item, _, own = str(action.target).partition(".")
    if own:
        yield say(
            _verb(action),
            set_pieces(mbook, str(action.target), action.part, action.exact),
            " of ",
            mbook.item_piece(item),
        )
        return
    yield say(_verb(action), mbook.item_piece(item), f", {part_number_words(mbook, item)}")


def part_number_words(mbook: MachineBook, item: str) -> str:
    """``part number FP-3001``; where machines differ, each with its own."""
    found = {one.value.part_number: one.applies for one in mbook.items(item)}
    if len(found) == 1 or not found:
        number = next(iter(found), None)
        return f"part number {number}" if number else "part number not recorded"
    return "part number " + " or ".join(
        f"{number or 'not recorded'}{f' ({applies.words})' if applies else ''}" for number, applies in found.items()
    )


_WRITERS: dict[Kind, Callable[[MachineBook, Action], Lines]] = {
    Kind.SET: _of_renewed, Kind.ITEM: _of_item, Kind.MOVE: _of_move, Kind.OPENING: _of_opening, Kind.JOINT: _of_joint,
    Kind.CONNECTOR: _of_connector, Kind.HOST: _of_host, Kind.LEAD: _of_lead, Kind.TIE: _of_tie, Kind.LINE: _of_line,
    Kind.CIRCUIT: _of_circuit, Kind.ENERGY: _of_energy, Kind.CABLE: _of_cable, Kind.ADJUSTER: _of_adjuster,
    Kind.MEASURE: _of_measure, Kind.STAND: _of_stand, Kind.ANY: _of_any,
}  # fmt: skip
