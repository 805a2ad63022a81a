"""How an energy is isolated and proved gone, in words: what is recorded, and what nobody recorded said aloud."""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.access.words import Words
from benchleaf.records.energy import Energy, Proof

NOT_RECORDED = "not recorded"
BACK = "Then try the tester on a source known to be live again."


def isolate_words(words: Words, name: str) -> str:
    """``Mains: unplug XP1. Lay the plug on the bench in sight.``"""
    energy = words.built.energy[name]
    said = str(energy.name) if energy.name is not None else name
    if not energy.isolate:
        return f"{said}: what isolates it is {NOT_RECORDED}; it counts as energised."
    devices = ", then ".join(f"{one.verb} {words.item(str(one.device.item))}" for one in energy.isolate)
    lock = f" {str(energy.lock).rstrip('.')}." if energy.lock is not None else f" How it is kept so is {NOT_RECORDED}."
    return f"{said}: {devices}.{lock}"


def prove_words(words: Words, name: str) -> Iterator[str]:
    """What to discharge, then where to measure, the limit, and with what; a line each."""
    energy = words.built.energy[name]
    yield from _stores(energy)
    if not energy.prove_dead:
        yield f"Where it is proved gone is {NOT_RECORDED}: it counts as still there."
        return
    if energy.kind == "electrical":
        yield "Try the tester on a source known to be live."
    for proof in energy.prove_dead:
        yield _proof(words, proof)
    if energy.kind == "electrical":
        yield BACK


def _stores(energy: Energy) -> Iterator[str]:
    if energy.stored is None and energy.kind in ("electrical", "pneumatic", "spring"):
        yield f"Whether it stores anything is {NOT_RECORDED}: it counts as charged. Discharge it, then measure."
    for store in energy.stored or ():
        how = str(store.discharge) if store.discharge is not None else f"how to discharge it is {NOT_RECORDED}"
        measure = "" if "measure" in how else " Then measure."
        yield f"Stored in {store.in_}: {how.rstrip('.')}.{measure}"


def _proof(words: Words, proof: Proof) -> str:
    limit = proof.expect.tidy if proof.expect is not None else f"limit {NOT_RECORDED}"
    meter = words.tool(str(proof.meter)) if proof.meter is not None else f"meter {NOT_RECORDED}"
    if proof.between is not None:
        one, other = (contact.shown for contact in proof.between)
        return f"Measure {one} to {other}: {limit} ({meter})."
    at = words.item(str(proof.at.item)) if proof.at is not None else f"a place {NOT_RECORDED}"
    return f"Measure at {at}: {limit} ({meter})."

