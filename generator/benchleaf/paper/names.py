"""Ids in a derived sentence as a technician knows them: ``left-cover.left-screw`` → ``left screw of Left cover``."""

from __future__ import annotations

import re

from benchleaf.pages.book import MachineBook
from benchleaf.pages.fastener_words import kind_words
from benchleaf.pages.sentences import plural

_ID = re.compile(r"(?<![\w/.-])[A-Za-z][A-Za-z0-9-]*(?:\.[A-Za-z0-9+-]+)*(?![\w/])")


def named(mbook: MachineBook, words: str) -> str:
    """The sentence with every id of a fastener set or an item replaced; what is no id stays."""
    return _ID.sub(lambda found: _name(mbook, found.group()), words)


def _name(mbook: MachineBook, id: str) -> str:
    item, dot, _ = id.partition(".")
    if dot:
        forms = mbook.sets(id)
        return f"{plural(kind_words(forms[0].value), 2)} of {mbook.item_name(item)}" if forms else id
    if id in mbook.record.items and id != "frame":
        return mbook.item_words(id)
    energy = mbook.record.energy.get(id)
    return str(energy.name) if energy is not None and energy.name else id
