"""Other words in `shop.yaml` that the search cannot use: they would be left out, and nobody would know why.

A group of `synonyms` needs two phrases at least that differ to the search, each of one to four words; `the`, `of` and
such do not count as words, and `cut-out` and `cut out` are the same. Every phrase of a group finds the pages of all
others.
"""

from __future__ import annotations

from collections.abc import Iterator

from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Severity

CODES = ("synonym-not-searched",)


def run(derived: Derived) -> Iterator[Finding]:
    groups = derived.library.shop.synonyms
    if not groups:
        return
    # here, since a check without such words need not load the search
    from benchleaf.search.synonyms import LONGEST, are_the_same, is_searchable

    for group in groups:
        for at, phrase in enumerate(group):
            if not is_searchable(phrase):
                message = f"'{phrase}' cannot be searched, so this group leaves it out"
                help = f"write one to {LONGEST} words; 'the', 'of' and such do not count"
            elif any(are_the_same(phrase, other) for other in group[:at]):
                message = f"'{phrase}' is the same as another word of its group to the search"
                help = "leave it out; capitals, hyphens and blanks make no difference"
            elif len(group) == 1:
                message = f"'{phrase}' stands alone in its group and finds nothing more"
                help = "put the other words for it into the same brackets: [psu, power supply]"
            else:
                continue
            yield Finding("synonym-not-searched", message, phrase.place, help, Severity.WARNING)
