"""Names of the record in sentences of the program: ``board-tray.tray-screw`` becomes ``tray screws of Control tray``.

Other packages speak of things by the names an author can search for. On a page the reader gets the words.
"""

from __future__ import annotations

import re

from benchleaf.pages.book import MachineBook
from benchleaf.pages.fastener_words import kind_words
from benchleaf.pages.sentences import plural

_ID = r"[a-z0-9]+(?:-[a-z0-9]+)*"
_NAME = re.compile(rf"(?<![\w.-])(?:(?:{_ID}|[A-Z]{{1,4}}[0-9]{{1,5}}[a-z]?)\.{_ID}|[a-z0-9]+(?:-[a-z0-9]+)+)(?![\w-])")
"""Only names no sentence holds by chance, with a hyphen or a dot: ``guard`` and ``mains`` read well as they are."""


def readable(mbook: MachineBook, text: str) -> str:
    """The sentence with every name of a set, item, line, tie, energy or adjuster in words; the rest untouched."""
    names = names_of(mbook)
    return _NAME.sub(lambda found: names.get(found[0], found[0]), text)


def names_of(mbook: MachineBook) -> dict[str, str]:
    """Name → words, for everything of the machine that has words of its own."""

    def made() -> dict[str, str]:
        record = mbook.record
        found: dict[str, str] = {}
        for tables in (record.lines, record.ties, record.energy, record.adjusters, record.checks):
            for id, one in tables.items():
                name = getattr(one, "name", None) or getattr(one, "title", None)
                if name:
                    found[str(id)] = str(name)
        for id, procedure in mbook.machine.procedures.items():
            found.setdefault(str(id), str(procedure.title))
        for name in record.items:
            if name == name.lower():
                found[str(name)] = mbook.item_name(name)
            for set_name in mbook.sets_of(name):
                form = mbook.sets(set_name)[0].value
                found[set_name] = f"{plural(kind_words(form), form.count)} of {mbook.item_name(name)}"
        return found

    return mbook.remember(("names",), made)


def sentence_of(text: str) -> str:
    """With a capital at its beginning, unless it begins with a name in capitals already."""
    return f"{text[:1].upper()}{text[1:]}"
