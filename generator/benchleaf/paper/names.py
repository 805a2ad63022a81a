"""Ids in a derived sentence as a technician knows them: ``left-cover.left-screw`` → ``left screws of Left cover``.

Only sentences the program made are changed, and never what an author typed inside them (it stands in quotes).
"""

from __future__ import annotations

import re

from benchleaf.pages.book import MachineBook
from benchleaf.pages.fastener_words import kind_words, look_words
from benchleaf.pages.sentences import plural

_ID = re.compile(r"'[^']*'|(?<![\w/.-])[A-Za-z][A-Za-z0-9-]*(?:\.[A-Za-z0-9+-]+)*(?![\w/]|\s*×)")

_BRACKETED = re.compile(r" \(([A-Za-z][A-Za-z0-9-]*(?:\.[A-Za-z0-9-]+)?)\)")


def named(mbook: MachineBook, words: str) -> str:
    """The sentence with every id of a fastener set, an item or an energy replaced; what is no id stays."""
    return _ID.sub(lambda found: _name(mbook, found.group()), words)


def in_words(mbook: MachineBook, words: str) -> str:
    """An instruction without ids in brackets: ``Put the left cover (left-cover) in its place`` → without them, and
    ``the 4 pan screws (left-cover.left-screw)`` → ``the 4 pan screws of Left cover``; designations stay."""

    def replaced(found: re.Match[str]) -> str:
        id = found.group(1)
        item, dot, _ = id.partition(".")
        if dot and mbook.sets(id):
            return f" of {mbook.item_words(item)}"
        return "" if id == id.lower() and id in mbook.record.items else found.group()

    return _BRACKETED.sub(replaced, words)


def _name(mbook: MachineBook, id: str) -> str:
    item, dot, _ = id.partition(".")
    if dot:
        forms = mbook.sets(id)
        return f"{plural(kind_words(forms[0].value), 2)} of {mbook.item_name(item)}" if forms else id
    if id in mbook.record.items and id != "frame":
        return mbook.item_words(id)
    energy = mbook.record.energy.get(id)
    return str(energy.name) if energy is not None and energy.name else id


def set_words(mbook: MachineBook, name: str, count: int) -> str:
    """``4 left screws (M3 × 8, PH1) of Left cover``."""
    forms = mbook.sets(name)
    if not forms:
        return f"{count} of {name}"
    one = forms[0].value
    look = f" ({look_words(one)})" if look_words(one) else ""
    return f"{count} {plural(kind_words(one), count)}{look} of {mbook.item_name(one.item)}"
