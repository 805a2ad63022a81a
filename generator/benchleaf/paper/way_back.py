"""The ledger, the derived way back, and the checks owed, joined over the machines printed for."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from benchleaf.applicability import Configuration
from benchleaf.frozen import dataclass
from benchleaf.paper.merged import by_value, merged
from benchleaf.paper.names import in_words, named
from benchleaf.paper.subject import Subject
from benchleaf.physical.instructions import Instruction
from benchleaf.physical.ledger import ledger
from benchleaf.physical.owed_checks import Owed, owed_checks
from benchleaf.physical.reassembly import BackStep

Key = tuple[Any, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BackData:
    """A step of the way back as data, with the step it comes from, whose safety messages it carries.

    ``energises``: it puts energy back, and carries the messages of every step that made the machine dead.
    """

    procedure: str | None
    number: int | None
    data: dict[str, Any]
    energises: bool = False


def ledger_rows(subject: Subject) -> dict[str, Any]:
    """What is open after the last step: ``ledger`` rows of words, machines, tick; ``ledger-lead`` above them."""
    pairs: list[tuple[Configuration, str]] = []
    unchecked = 0
    for replay in subject.replays:
        found = ledger(replay.ground, replay.end)
        unchecked = max(unchecked, found.unchecked)
        on = replay.ground.built.configuration
        pairs += [(on, named(subject.mbook, entry.words)) for entry in found.open]
        pairs += [(on, entry.words) for entry in found.as_found]
    rows = [[words, subject.only(on) or "all", {"tick": True}] for words, on in by_value(pairs)]
    lead = "Everything below was taken off, opened, lifted, cut, drained or switched off, and must be put back."
    if not rows:
        lead = "Nothing that was recorded is open."
    if unchecked:
        many = f"{unchecked} unchecked step{'s' * (unchecked > 1)}"
        lead += f" Open: {many}; what they changed is not recorded and not listed."
    return {"ledger": rows, "ledger-lead": lead}


def back_steps(subject: Subject) -> list[BackData]:
    """The steps of the way back in order; one that is only for some machines says for which."""
    found = subject.reassemblies
    lists = [(one.replay.ground.built.configuration, [_key(step) for step in one.steps]) for one in found]
    return [_data(subject, number, key, on) for number, (key, on) in enumerate(merged(lists), 1)]


def _key(step: BackStep) -> Key:
    of = (step.of.procedure, step.of.number) if step.of is not None else (None, None)
    energises = any(one.act.verb == "energise" for one in step.instructions)
    said = tuple(_said(one) for one in step.instructions)
    return (step.title, *of, step.why, step.persons, step.notes, said, energises)


def _said(one: Instruction) -> tuple[str, tuple[str, ...]]:
    facts = [f"torque: {one.torque}"] if one.torque else []
    facts += [f"tool: {one.tool}"] if one.tool and one.tool != "hand" else []
    facts += [one.direction] if one.direction else []
    return one.words, (*facts, *one.notes)


def _data(subject: Subject, number: int, key: Key, on: frozenset[Configuration]) -> BackData:
    title, procedure, of, why, persons, notes, instructions, energises = key
    because = f"puts back step {of}" if of else str(why)
    if procedure is not None and procedure != subject.procedure.id:
        because += f" of {procedure}"
    said = [because, *([f"{persons} people"] if persons and persons > 1 else [])]
    data: dict[str, Any] = {
        "number": f"R{number}", "title": title, "why": " · ".join(said), "text": [], "pictures": [], "torques": [],
        "needs": " · ".join(notes), "holds": [], "stop": [],
        "actions": [
            {
                "said": in_words(subject.mbook, words),
                "parts": [],
                "boxes": [],
                "facts": [" · ".join(facts)] if facts else [],
            }
            for words, facts in instructions
        ],
    }  # fmt: skip
    only = subject.only(on)
    return BackData(procedure=procedure, number=of, data=data | ({"only": only} if only else {}), energises=energises)


def back_end(subject: Subject) -> dict[str, Any]:
    """Where the way back ends on each machine: the ledger closed, or the step nothing can be derived beyond."""
    said = by_value((one.replay.ground.built.configuration, one.words) for one in subject.reassemblies)
    lines: list[dict[str, Any]] = [
        {"words": words} | ({"only": only} if (only := subject.only(on)) else {}) for words, on in said
    ]
    excepted = by_value(
        (one.replay.ground.built.configuration, entry.words)
        for one in subject.reassemblies
        for entry in one.ledger.exceptions
    )
    lines += [
        {"words": f"Declared exception: {words}"} | ({"only": only} if (only := subject.only(on)) else {})
        for words, on in excepted
    ]
    lead = "Derived from the steps above, backward, and replayed. Tick each line; a torque is for this way back."
    return {"back-end": lines, "back-lead": lead}


def owed_rows(subject: Subject) -> dict[str, Any]:
    """The return-to-service list: check, why, what to expect, room for the finding and a signature."""
    found = [(one.replay.ground, one.end) for one in subject.reassemblies]
    lists = [(ground.built.configuration, owed_checks(ground, end)) for ground, end in found]
    pairs = by_value((on, _owed_key(one)) for on, owed in lists for one in owed.owed)
    joined: dict[tuple[str, str, str], tuple[dict[str, None], set[Configuration]]] = {}
    for (title, how, expect, because), on in pairs:
        why, where = joined.setdefault((title, how, expect), ({}, set()))
        why.update(dict.fromkeys(because))
        where |= on
    rows = []
    for (title, how, expect), (why, where) in joined.items():
        only = subject.only(frozenset(where))
        words = [[{"t": title, "s": True}], [{"t": how}]] + ([[{"t": f"for {only}"}]] if only else [])
        rows.append([{"lines": words}, named(subject.mbook, ", ".join(why)), expect, {"box": True}, {"box": True}])
    notes = by_value((on, ", ".join(owed.uncovered)) for on, owed in lists if owed.uncovered)
    said = [f"No recorded check covers: {named(subject.mbook, words)}{_for(subject, on)}" for words, on in notes]
    said += _unchecked(owed.unchecked_steps for _, owed in lists)
    if not rows and not said:
        said = ["Nothing recorded was disturbed."]
    return {"owed": rows, "owed-notes": said}


def _owed_key(one: Owed) -> tuple[str, str, str, tuple[str, ...]]:
    check = one.check
    how = "How is not recorded."
    expect = "not recorded"
    if check is not None:
        how = str(check.text) if check.text else f"Procedure {check.do}" if check.do else how
        expect = str(check.expect) if check.expect else expect
    return one.title, how, expect, one.because


def _unchecked(counts: Iterable[int]) -> list[str]:
    most = max(counts, default=0)
    return [f"{most} unchecked step{'s' * (most > 1)} may have disturbed more than is listed."] if most else []


def _for(subject: Subject, on: frozenset[Configuration]) -> str:
    only = subject.only(on)
    return f" (for {only})" if only else ""
