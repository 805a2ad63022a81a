"""Fasteners in words: ``4 shell screws M4 × 12, PH2, captive``; what differs between machines is said beside it."""

from __future__ import annotations

from benchleaf.fastener_sets import HAND, FastenerSet
from benchleaf.pages.applies_words import Found
from benchleaf.pages.book import MachineBook
from benchleaf.pages.sentences import Piece, Sentence, plural, say
from benchleaf.values.quantity import from_base

KINDS = {"screw": "screw", "nut": "nut", "clip": "clip", "pin": "pin", "latch": "latch"}


def size_words(one: FastenerSet) -> str:
    """``M4 × 12``: thread and length in mm, as a screw is asked for; what is not recorded is left out."""
    if one.thread is None:
        return ""
    length = one.length.quantity if one.length is not None else None
    if length is None or length.nominal is None:
        return one.thread
    return f"{one.thread} × {from_base(length.nominal, 'mm'):g}"


def kind_words(one: FastenerSet) -> str:
    """``shell screw``: what the record calls it, with the kind of fastener behind it where the name does not say."""
    name = one.label or one.fastener.replace("-", " ")
    kind = KINDS[one.kind]
    if kind in name.split() or name.endswith((kind, "bolt", "hook", "lever")):
        return name
    return f"{name} {kind}" if name else kind


def look_words(one: FastenerSet) -> str:
    """``M4 × 12, PH2, captive``."""
    drive = one.drive if one.drive not in (None, "none") else ""
    return ", ".join(part for part in (size_words(one), drive, "captive" if one.captive else "") if part)


def count_pieces(forms: tuple[Found[FastenerSet], ...], part: int | None = None, exact: int | None = None) -> Sentence:
    """``4 shell screws (M4 × 12, PH2, captive)``; for machines that differ, each count with its machines."""
    first = forms[0].value
    counts = {one.value.count: one.applies for one in sorted(forms, key=lambda one: one.value.count)}
    look = f" ({look_words(first)})" if look_words(first) else None
    if len(counts) == 1 or part is not None or exact is not None:
        total = first.count
        number = f"{part} of {total}" if part is not None else str(exact if exact is not None else total)
        return say(Piece(f"{number} {plural(kind_words(first), 1 if number == '1' else 2)}", strong=True), look)
    told: list[Piece] = []
    for n, (count, applies) in enumerate(counts.items()):
        told += [Piece(" or ")] if n else []
        told += [Piece(str(count), strong=True), Piece(f" ({applies.words})" if applies else "")]
    return say(tuple(told), " ", Piece(plural(kind_words(first), 2), strong=True), look)


def set_pieces(mbook: MachineBook, name: str, part: int | None = None, exact: int | None = None) -> Sentence:
    """The fasteners of a set with their count; a set that no machine has goes by its name."""
    forms = mbook.sets(name)
    return count_pieces(forms, part, exact) if forms else say(Piece(name, strong=True))


def tool_words(one: FastenerSet) -> str | None:
    """``PH2``, ``plastic-lever``, ``by hand``; ``None`` = not recorded."""
    return "by hand" if one.tool == HAND else one.tool
