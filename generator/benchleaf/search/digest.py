"""What one document weighs for each of its terms: made from that document alone, so that it can be cached with it.

Weights are BM25F (Robertson, Zaragoza & Taylor 2004: term counts of the fields are weighted and evened out by field
length before they are saturated), with fixed reference lengths instead of the average over the manual: an edit of one
page then changes that page's weights only. A weight is kept as a **level**: how the term belongs to the page
(``BODY``, ``TITLE``, ``ABOUT``, ``SHORT``, ``ABOUT_TITLE``), times eight, plus the weight in eighths.
"""

from __future__ import annotations

from collections.abc import Iterable

from benchleaf.frozen import dataclass
from benchleaf.search.codes import canonical, short_forms
from benchleaf.search.documents import Document
from benchleaf.search.words import STOP_WORDS, fold, normalise, terms_of

BODY, TITLE, ABOUT, SHORT, ABOUT_TITLE = range(5)
STEPS = 8
_SATURATION = 1.5  # the weighted count at which half the weight is reached

# field -> (weight of one mention, how much length counts, reference length in terms)
_FIELDS: dict[str, tuple[float, float, float]] = {
    "title": (6.0, 0.4, 5.0),
    "heard_as": (6.0, 0.3, 10.0),
    "headings": (2.0, 0.4, 40.0),
    "lines": (1.0, 0.5, 160.0),
    "machine": (1.0, 0.0, 1.0),
}
_ABOUT: dict[str, tuple[float, float, float]] = {
    "codes": (10.0, 0.6, 1.0),
    "part_numbers": (8.0, 0.6, 1.0),
    "designations": (6.0, 0.6, 1.0),
    "contacts": (8.0, 0.3, 10.0),
}


@dataclass(frozen=True, slots=True)
class Digest:
    """Level by term, and how many terms the title has (at least 1)."""

    levels: dict[str, int]
    title_length: int


def digest(document: Document) -> Digest:
    """The terms of a document with their levels."""
    weights: dict[str, float] = {}
    title = _kept(document.title)
    _add(weights, title, *_FIELDS["title"])
    for field, texts in (
        ("heard_as", document.heard_as),
        ("headings", document.headings),
        ("lines", document.lines),
        ("machine", (document.machine,)),
    ):
        _add(weights, [term for text in texts for term in _kept(text)], *_FIELDS[field])
    about: dict[str, float] = {}
    short: dict[str, float] = {}
    for field, codes in (
        ("codes", document.codes),
        ("part_numbers", document.part_numbers),
        ("designations", document.designations),
        ("contacts", document.contacts),
    ):
        folded = [plain for code in codes if canonical(plain := fold(normalise(code)))]
        _add(about, [canonical(plain) for plain in folded], *_ABOUT[field])
        weight, spread, reference = _ABOUT[field]
        _add(short, (form for plain in folded for form in short_forms(plain, field)), weight, spread, reference * 3)
    in_title = set(title)
    levels = {term: _level(TITLE if term in in_title else BODY, weight) for term, weight in weights.items()}
    for term, weight in short.items():
        if term not in levels or term not in in_title:
            levels[term] = _level(SHORT, weight)
    for term, weight in about.items():
        levels[term] = _level(ABOUT_TITLE if term in in_title else ABOUT, weight + weights.get(term, 0.0))
    return Digest(levels, max(1, len(title)))


def _kept(text: str) -> list[str]:
    return [term for term in terms_of(text) if term not in STOP_WORDS]


def _add(weights: dict[str, float], terms: Iterable[str], weight: float, spread: float, reference: float) -> None:
    """Adds one field: each mention counts ``weight``, less in a long field."""
    terms = list(terms)
    if not terms:
        return
    each = weight / (1.0 - spread + spread * len(terms) / reference)
    for term in terms:
        weights[term] = weights.get(term, 0.0) + each


def _level(belonging: int, weight: float) -> int:
    return belonging * STEPS + min(STEPS - 1, int(STEPS * weight / (weight + _SATURATION)))
